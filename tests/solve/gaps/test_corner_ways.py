"""Corners of guards beside the stair, in whole lines: told, judged, minded where strands are placed, alike mirrored."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F
from math import hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stairguard.model.job import Hand, Job
from tests.solve.jobs import BASE
from tests.solve.lines import down, land, solved, up


def deck(turn: float, hand: Hand, width="3/2", out="15/4", **more) -> Job:
    post = replace(BASE.post, mount="side", drop=F(7), offset=F(out), width=F(width), hand=hand, **more)
    return replace(BASE, surfaces=(land(96), land(72, turn=turn)), post=post)


def round_corners(job: Job):
    return [opening for opening in solved(job).openings if opening.where.kind == "round corner"]


def test_a_narrow_post_outside_a_corner_leaves_more_than_the_edges():
    """Between 4.3558 and 4.3645 by a path search in space, where the edges leave 3.9764; a wide post leaves no more."""
    (opening,) = round_corners(deck(90, "right"))
    assert opening.sphere == pytest.approx(4.360, abs=5e-3)
    assert opening.passes is False
    assert 0 < opening.out < 3.75
    assert {touch.part for touch in opening.touches} == {"landing", "strand", "post"}
    assert round_corners(deck(90, "right", width="7/2")) == []
    assert round_corners(deck(90, "left")) == []


def test_where_it_can_strands_stand_lower_for_a_corner():
    """The lowest strand is placed by the corner where that asks for less than the edges do."""
    straight, turned = (solved(deck(turn, "right", width="1", out="3")) for turn in (0, 90))
    lowest = [layout.fields[0].heights[-1] for layout in (straight, turned)]
    assert lowest[1] < lowest[0]
    (opening,) = round_corners(deck(90, "right", width="1", out="3"))
    assert opening.passes
    assert 3.8 < opening.sphere < 4
    edge = next(
        o for o in solved(deck(90, "right", width="1", out="3")).openings if o.where.kind == "under lowest strand"
    )
    assert edge.sphere == pytest.approx(hypot(float(lowest[1]), 3) - 1 / 16, abs=1e-12)
    assert edge.sphere < opening.sphere


@settings(max_examples=4, deadline=None)
@given(st.sampled_from([30, 45, 60, 90]), st.sampled_from(["1", "5/2", "15/4"]), st.sampled_from(["1", "3/2", "7/2"]))
def test_the_other_hand_and_the_other_turn_are_its_mirror_image(turn, out, width):
    for one, other in ((deck(turn, "right", width, out), deck(-turn, "left", width, out)),
                       (deck(-turn, "right", width, out), deck(turn, "left", width, out))):  # fmt: skip
        first, second = solved(one), solved(other)
        assert [p.station for p in first.posts] == [p.station for p in second.posts]
        assert [o.where for o in first.openings] == [o.where for o in second.openings]
        for a, b in zip(first.openings, second.openings, strict=True):
            assert (a.sphere, a.sphere_as_marked, a.passes) == pytest.approx((b.sphere, b.sphere_as_marked, b.passes))


@pytest.mark.parametrize("hand", ["left", "right"])
def test_a_stair_that_turns_off_a_deck_has_its_corner_solved(hand):
    """In the corner between deck and stair the guard's post stands beside the first tread; no fault, all told."""
    turn = 90 if hand == "left" else -90
    post = replace(BASE.post, mount="side", drop=F(7), offset=F(15, 4), hand=hand)
    layout = solved(replace(BASE, surfaces=(land(96), down(5, turn=turn), land(60)), post=post))
    assert all(o.sphere > 0 for o in layout.openings)
    for opening in layout.openings:
        if opening.where.kind == "round corner":
            assert opening.out > 0


def test_two_posts_outside_a_corner_are_solved_in_space():
    """What is under the strands between them is the way round the corner: no opening there is told in one plane."""
    job = deck(90, "right", corner="two", corner_offset=F(4))
    kinds = {o.where.kind for o in solved(job).openings}
    assert "under lowest strand at corner" not in kinds


@pytest.mark.parametrize(("offset", "sphere"), [("8", 6.05), ("6", 5.2)])
def test_strands_across_an_inside_corner_are_solved_in_space_at_no_offset_too(offset, sphere):
    """They stand over open air, hypot(4, offset / sqrt 2) - d/2 less what the corner takes, worked out by hand."""
    strand = replace(BASE.strand, diameter=F(3, 16))
    job = replace(deck(90, "left", out="0", corner="two", corner_offset=F(offset)), strand=strand)
    (opening,) = round_corners(job)
    assert opening.sphere == pytest.approx(sphere, abs=0.1)
    assert opening.passes is False


def test_strands_across_an_outside_corner_pass_over_the_deck():
    """What is past them is deck: the way there is under them, as high as along the edges, and no corner is told."""
    assert round_corners(deck(90, "right", out="1", corner="two", corner_offset=F(8))) == []


def test_a_flight_between_landings_that_turn_has_all_its_openings():
    post = replace(BASE.post, mount="side", drop=F(7), offset=F(2), hand="left")
    layout = solved(replace(BASE, surfaces=(land(60), land(40, turn=90), up(5), land(60, turn=90)), post=post))
    assert {o.surface for o in layout.openings} == {0, 1, 2, 3}


def test_where_no_parts_hold_a_sphere_its_bound_is_told():
    """A strand low beside open risers: the way is narrowest at the back of a tread, which holds nothing."""
    post = replace(BASE.post, mount="side", drop=F(9), offset=F("3/4"))
    steps = up(5, open_risers=True)
    layout = solved(replace(BASE, rules="none", surfaces=(land(48), steps, land(48)), post=post))
    bounded = [opening for opening in layout.openings if opening.error]
    assert bounded
    assert all(opening.error < 0.3 for opening in bounded)
