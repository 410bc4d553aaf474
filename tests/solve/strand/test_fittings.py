"""Each strand's way at its joint against its runs: what passes, what ends, and where."""

import csv
import io
from dataclasses import replace
from math import acos, cos, degrees, hypot, radians, sin

import numpy as np
import pytest

from stairguard.api.layout import report
from stairguard.reports.data.csv_lists import holes_csv
from tests.reports.guards import checked as check_job
from tests.solve.jobs import BASE
from tests.solve.lines import JOBS, land, solved
from tests.solve.twoposts import TWO, two_posts

ALL = JOBS | {f"two posts, {name}": job for name, job in TWO.items()}


def ends_at(layout, label, number, index):
    """What ends a strand over a surface at a post: None where none of its runs does."""
    for run in layout.runs:
        if run.strand == number and label in (run.posts[0], run.posts[-1]):
            last = label == run.posts[-1]
            if (run.surfaces[-1] if last else run.surfaces[0]) == index:
                return "tensioner" if run.tensioner == label else "terminal"
    return None


def passes(layout, label, number):
    return any(run.strand == number and label in run.posts[1:-1] for run in layout.runs)


def kind_of(layout, joint):
    slopes = [layout.line.surfaces[i].slope for i in joint.between]
    if joint.turn_deg:
        return "compound" if any(slopes) else "one plane"
    return "straight" if slopes[0] == slopes[1] else "one plane"


@pytest.mark.parametrize("name", ALL)
def test_fittings_are_what_the_runs_need(name):
    layout = solved(ALL[name])
    for joint in layout.joints:
        kind, labels = kind_of(layout, joint), [joint.post, joint.second_post or joint.post]
        for strand in joint.strands:
            if strand.whole:
                assert all(passes(layout, label, strand.number) for label in labels)
                assert strand.fitting == kind
                continue
            (index,) = strand.surfaces
            own = labels[joint.between.index(index)]
            other = labels[1 - joint.between.index(index)]
            ended = ends_at(layout, own, strand.number, index)
            if joint.second_post and passes(layout, own, strand.number):
                ended = ends_at(layout, other, strand.number, index)
                assert (strand.passed, joint.own_post(strand), joint.end_post(strand)) == (kind, own, other)
            else:
                assert (strand.passed, joint.end_post(strand)) == (None, own)
            assert strand.fitting == ended


@pytest.mark.parametrize("name", ALL)
def test_what_pulls_at_the_one_post_is_both_sides_of_the_strand_together(name):
    """Two forces of one, away from the post along the strand, added in space."""
    layout = solved(ALL[name])
    for joint in layout.joints:
        pitches = [layout.line.surfaces[i].slope for i in joint.between]
        turn = radians(joint.turn_deg)
        after = np.array([cos(turn), sin(turn), pitches[1]], dtype=float)
        before = np.array([-1, 0, -pitches[0]], dtype=float)
        both = after / np.linalg.norm(after) + before / np.linalg.norm(before)
        for strand in joint.strands:
            passes_one_post = strand.whole and joint.second_post is None
            expected = float(np.linalg.norm(both)) if passes_one_post else 0.0
            assert strand.pull == pytest.approx(expected, abs=1e-7)


def test_a_strand_broken_at_one_of_two_posts_passes_the_other():
    layout = solved(TWO["broken at one post"])
    joint = next(j for j in layout.joints if j.second_post)
    assert {bool(strand.passed) for strand in joint.strands} == {True, False}
    assert not any(strand.whole for strand in joint.strands)
    numbers = sorted(strand.number for strand in joint.strands)
    assert numbers == sorted(2 * list(range(1, len(numbers) // 2 + 1)))


def test_a_strand_broken_at_both_posts_has_a_piece_of_its_own_between():
    layout = solved(TWO["broken at both posts"])
    (joint,) = layout.joints
    between = [run for run in layout.runs if run.posts == (joint.post, joint.second_post)]
    assert len(between) == len(layout.fields[0].heights)
    assert {strand.fitting for strand in joint.strands} <= {"terminal", "tensioner"}


@pytest.mark.parametrize("turn", [45.0, -90.0])
def test_a_strand_that_ends_at_the_second_post_is_drilled_along_the_chord(turn):
    # level, posts as far from the corner: an isosceles triangle, so half the turn at either post
    short = replace(BASE.strand, angle_changes=1)
    layout = solved(two_posts(replace(BASE, strand=short, surfaces=(land(90), land(90, turn)))))
    (joint,) = layout.joints
    half = pytest.approx(abs(turn) / 2)
    passed = [strand for strand in joint.strands if strand.passed]
    assert passed
    for strand in joint.strands:
        assert (strand.bend_deg, strand.end_skew_deg) == ((half, half) if strand.passed else (0.0, None))
    posts = {post.label: post for post in layout.posts}
    for label, inner in ((joint.post, 1), (joint.second_post, 0)):
        for hole in posts[label].holes:
            assert hole.faces[inner].skew_deg == half
            assert hole.faces[1 - inner].skew_deg == 0
    checked = check_job(layout.job)
    page = " ".join(report(checked).split())
    told = f"{abs(turn) / 2:.1f}°"
    own, other = joint.own_post(passed[0]), joint.end_post(passed[0])
    assert f"bend {told} at {own}, then slope 0.0° and {told} askew in plan" in page
    assert f"In plan, drilled {told} from square to the face to {other}." in page
    assert f"In plan, drilled {told} from square to the face to {own}." in page
    rows = [row for row in csv.DictReader(io.StringIO(holes_csv(checked))) if row["post"] == joint.second_post]
    assert all(float(row["before_askew_deg"]) == half and float(row["after_askew_deg"]) == 0 for row in rows)


@pytest.mark.parametrize("name", TWO)
def test_the_way_between_two_posts_is_measured_in_space(name):
    """Lines of both legs from the corner, where a strand's lie at one height: the chord joins points on them."""
    layout = solved(TWO[name])
    posts = {post.label: post for post in layout.posts}
    for joint in layout.joints:
        assert (joint.chord is None) == (joint.second_post is None)
        if joint.chord is None:
            continue
        slopes = [float(layout.line.surfaces[i].slope) for i in joint.between]
        turn = radians(joint.turn_deg)
        back = float(joint.station - posts[joint.post].station)
        legs = [np.array([1, 0, slopes[0]]), np.array([cos(turn), sin(turn), slopes[1]])]
        chord = back * (legs[0] + legs[1])
        level = hypot(*chord[:2])
        assert joint.chord.level == pytest.approx(level, rel=1e-12)
        assert joint.chord.length == pytest.approx(float(np.linalg.norm(chord)), rel=1e-12)
        assert float(joint.chord.slope) == pytest.approx(chord[2] / level, abs=1e-12)
        assert joint.chord.skew_deg == pytest.approx(abs(joint.turn_deg) / 2)
        bends = [degrees(acos(leg @ chord / np.linalg.norm(leg) / np.linalg.norm(chord))) for leg in legs]
        assert joint.chord.bends_deg == pytest.approx(bends, abs=1e-5)
        for strand in joint.strands:
            assert all(skew in (0, None) for skew in strand.skews_deg)
