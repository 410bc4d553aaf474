"""Whether each strand passes each post, held against the runs strung through the posts; and why one does not."""

from dataclasses import replace
from fractions import Fraction as F

import pytest

from stairguard.model.guard.passages import Bend, RailsApart
from tests.solve.jobs import BASE
from tests.solve.lines import JOBS, land, ramp, solved
from tests.solve.twoposts import TWO, two_posts

ALL = JOBS | {f"two posts, {name}": job for name, job in TWO.items()}


@pytest.mark.parametrize("name", ALL)
def test_a_strand_passes_a_post_that_a_run_goes_through(name):
    layout = solved(ALL[name])
    coming = {(run.strand, run.posts[-1]) for run in layout.runs}
    leaving = {(run.strand, run.posts[0]) for run in layout.runs}
    through = {(run.strand, label) for run in layout.runs for label in run.posts[1:-1]}
    for post in layout.posts:
        for hole in post.holes:
            key, passage = (hole.strand, post.label), hole.passage
            assert not passage.passes or (passage.side == "both" and key in through)
            assert passage.passes or passage.side == "after" or key in coming
            assert passage.passes or passage.side == "before" or key in leaving
            assert passage.broken == (passage.ended in ("angle changes", "longest run"))


@pytest.mark.parametrize("name", ALL)
def test_a_hole_has_both_faces_unless_its_strand_ends_on_one(name):
    layout = solved(ALL[name])
    for post in layout.posts:
        for hole in post.holes:
            inside = post.joint is not None and "inner face" in hole.bears and hole.passage.side != "both"
            assert (hole.only_face is not None) == inside
            if inside:
                assert hole.faces[hole.passage.side == "before"] is None


def why(job, surface=0):
    """Why strands of a surface end at the joint after it, from the rail down, each reason once."""
    layout = solved(job)
    (joint,) = (joint for joint in layout.joints if joint.between[0] == surface)
    ended = sorted((s for s in joint.strands if not s.whole), key=lambda strand: strand.number)
    return list(dict.fromkeys(strand.ended for strand in ended))


LEVEL = replace(BASE, rules="none", surfaces=(land(90), land(90, 90.0)))


def test_strands_end_where_the_job_asks_or_where_they_bend_too_much():
    assert why(replace(LEVEL, strand=replace(BASE.strand, largest_bend=90.0))) == []
    assert why(replace(LEVEL, strand=replace(BASE.strand, at_joints="break"))) == ["asked"]
    assert why(replace(LEVEL, strand=replace(BASE.strand, largest_bend=89.0))) == [Bend(90.0, 89.0)]


def test_a_strand_that_could_pass_ends_by_what_one_run_may_be():
    # one of a corner's two posts bends it once
    short = replace(BASE.strand, angle_changes=1)
    assert why(two_posts(replace(LEVEL, strand=short))) == ["angle changes"]


def test_a_strand_below_all_of_the_other_side_ends_there():
    found = [why(job, joint.between[0]) for job in JOBS.values() for joint in solved(job).joints if joint.through]
    assert ["none beyond"] in found


def test_rails_too_far_apart_are_told_by_how_much():
    # the ramp's rail stands 12 higher over one surface: strand 1 of the other would run into it
    high = replace(ramp(120, 10), rail_height=BASE.rail.height + F(12))
    job = replace(BASE, rules="none", surfaces=(ramp(120, 10), high))
    assert why(job) == [RailsApart(12.0, in_the_way=True)]
