"""What a layout gives reason to say, from jobs that give that reason and jobs that do not."""

import re
from dataclasses import replace
from fractions import Fraction as F

import pytest

from stairguard.model.cautions import (
    AcrossNosing,
    CornerPulled,
    Crossed,
    FootAtCorner,
    FootOverhangs,
    HoleOverEdge,
    JogLeft,
    LastRiseAssumed,
    LowNeighbour,
    MustBear,
    OptionUnmet,
)
from stairguard.model.job import Landing, MeasuredFlight
from stairguard.reports.words.caution_words import caution_texts
from stairguard.rules.findings.checks import check
from stairguard.rules.pack.reader import read_rules
from stairguard.solve.lay_out import lay_out
from tests.solve.jobs import BASE
from tests.solve.lines import land, up


def cautions(job):
    return check(lay_out(job, read_rules(job.rules, job.unit))).cautions


def told(job, kind):
    return [one for one in cautions(job) if isinstance(one, kind)]


FLIGHT = BASE.surfaces[1]
HALF_RUN = FLIGHT.run / 2
CROSSED = (
    Landing(length=F(48), turn=0.0),
    FLIGHT,
    Landing(length=HALF_RUN, turn=0.0, level_piece=False),
    Landing(length=HALF_RUN, turn=90.0, level_piece=False),
    FLIGHT,
    Landing(length=F(48), turn=0.0),
)


def test_a_landing_crossed_without_level_piece():
    # the lower rail is 35 over the top nosing and climbs from there
    assert Crossed(2, F(35)) in told(replace(BASE, surfaces=CROSSED), Crossed)
    assert not told(BASE, Crossed)


def survey(**changed):
    nosings = ((F(0), F(0)), (F(10), F(-7)), (F(20), F(-14)), (F(30), F(-21)))
    flight = MeasuredFlight(nosings=nosings, nosing=F(1), tread=F(1), open_risers=False, down=True, turn=0.0, **changed)
    return replace(BASE, surfaces=(Landing(length=F(48), turn=0.0), flight, Landing(length=F(48), turn=0.0)))


def test_a_lowest_rise_that_was_not_measured():
    assert told(survey(), LastRiseAssumed) == [LastRiseAssumed(1)]
    assert not told(survey(last_rise=F(7)), LastRiseAssumed)


def test_a_foot_that_overhangs_its_tread():
    # a post forced on to the top nosing itself: half its width, 3/4, is over the edge
    forced = replace(BASE, surfaces=(BASE.surfaces[0], FLIGHT, Landing(length=F(48), turn=0.0, start_post=F(0))))
    (one,) = told(forced, FootOverhangs)
    assert one.by == F(3, 4)
    assert not told(BASE, FootOverhangs)
    side = replace(forced, post=replace(forced.post, mount="side", drop=F(8)))
    assert not told(side, FootOverhangs)


def test_posts_at_corners_of_landings_and_steps_count_their_length_from_the_tread_below():
    once, twice = (land(90), up(6, 90.0)), (land(90), up(6, 90.0), land(90), up(6, 90.0))
    assert len(told(replace(BASE, surfaces=once), FootAtCorner)) == 1
    assert told(replace(BASE, surfaces=twice), FootAtCorner) == [FootAtCorner("P3"), FootAtCorner("P7")]


def test_a_foot_moved_by_what_it_overhangs_stands_clear():
    """A post of 40 mm in inches is over by 0.787401...: on 0.6.0 told as 0.7874, which leaves it over."""

    def forced(at):
        surfaces = BASE.surfaces[0], FLIGHT, Landing(length=F(48), turn=0.0, start_post=at)
        return replace(BASE, surfaces=surfaces, post=replace(BASE.post, width=F(40) / F(127, 5)))

    (one,) = told(forced(F(0)), FootOverhangs)
    (text,) = (text for text in caution_texts([one], "in") if "overhangs" in text)
    assert not told(forced(F(re.search(r"by ([\d.]+) in, level", text)[1])), FootOverhangs)


def test_a_post_too_askew_for_its_holes_is_turned_or_made_two():
    def corner(**post):
        surfaces = Landing(length=F(60), turn=0.0), Landing(length=F(60), turn=84.0)
        return replace(BASE, surfaces=surfaces, post=replace(BASE.post, **post))

    assert len(told(corner(), HoleOverEdge)) == 1
    for post in ({"corner_square": "rails"}, {"corner": "two", "corner_offset": F(3)}):
        assert not told(corner(**post), HoleOverEdge)


def test_a_corner_post_at_the_edge_of_its_landing():
    corner = replace(BASE, surfaces=(BASE.surfaces[0], FLIGHT, Landing(length=F(48), turn=90.0)))
    assert not told(corner, FootOverhangs)
    assert len(told(corner, FootAtCorner)) == 1
    assert not told(BASE, FootAtCorner)


@pytest.mark.parametrize("support", ["wall", "newel"])
def test_what_the_line_ends_on_must_bear_the_pull(support):
    assert told(replace(BASE, end=support), MustBear) == [MustBear((support,))]
    assert not told(BASE, MustBear)


def test_a_corner_is_pulled_inwards():
    turned = replace(BASE, surfaces=(*BASE.surfaces, Landing(length=F(60), turn=90.0)))
    assert len(told(turned, CornerPulled)) == 1
    assert not told(BASE, CornerPulled)


def test_the_neighbour_s_rail_is_told_over_every_landing():
    # 35 over a landing that asks 36, at the top of each of three flights; at their foot the rail climbs
    surfaces = (BASE.surfaces[0], *(s for _ in range(3) for s in (FLIGHT, Landing(length=F(96), turn=0.0))))
    found = told(replace(BASE, surfaces=surfaces), LowNeighbour)
    assert [(one.surface, one.kind, one.least, one.asked) for one in found] == [
        (index, "landing", 35, 36) for index in (2, 4, 6)
    ]


@pytest.mark.parametrize(
    ("turn", "width", "square", "over"),
    [
        (88, F(7, 2), "halving line", True),  # 3.5 (1 - tan 44) is 0.12; a hole of 1/8, askew, 0.17 wide
        (80, F(7, 2), "halving line", False),
        (88, F(7, 2), "rails", False),
        (90, F(7, 2), "halving line", False),
    ],
)
def test_a_hole_that_comes_out_over_the_edge_of_its_face_is_told(turn, width, square, over):
    post = replace(BASE.post, width=width, corner_square=square)
    job = replace(BASE, post=post, surfaces=(Landing(length=F(90), turn=0.0), Landing(length=F(90), turn=float(turn))))
    assert bool(told(job, HoleOverEdge)) is over


def test_every_jog_is_told():
    rail = replace(BASE.rail, height=F(36), landing_height=F(34), meet="as-given")
    surfaces = (BASE.surfaces[0], *(s for _ in range(2) for s in (FLIGHT, Landing(length=F(96), turn=0.0))))
    found = told(replace(BASE, rail=rail, surfaces=surfaces), JogLeft)
    # at the top of a flight its rail ends plumb over the nosing, 2 in above the landing's; at the bottom the post
    # stands one run out, and the flight's rail ends half a post past its centre: 3/4 of run at 29/42 of slope higher
    bottom = 2 + F(3, 4) * F(29, 42)
    assert [one.jog for one in found] == [bottom, 2, bottom, 2]


def test_an_optional_rule_is_told_once_with_every_figure():
    high = replace(BASE, rail=replace(BASE.rail, height=F(39), landing_height=F(40)))
    surfaces = (BASE.surfaces[0], *(s for _ in range(3) for s in (FLIGHT, Landing(length=F(96), turn=0.0))))
    (one,) = (o for o in told(replace(high, surfaces=surfaces), OptionUnmet) if o.clause.startswith("R311.7.8.1"))
    flights = [figure for figure in one.figures if figure.what.surface.kind == "flight"]
    assert [(figure.value, figure.kind, figure.limit) for figure in flights] == [(39, "at most", 38)] * 3


def test_a_post_beside_the_stair_across_a_nosing():
    """Rise 7-1/4: a foot 8 below its tread is 3/4 below the one before it, one 4 below ends 3-1/4 above that."""

    def beside(**post):
        side = {"mount": "side", "drop": F(8), "offset": F(2), "setback": F(1, 2), **post}
        return replace(BASE, post=replace(BASE.post, **side))

    line = told(beside(), AcrossNosing)
    assert line
    assert {one.below for one in line} == {F(3, 4)}
    assert {one.below for one in told(beside(drop=F(4)), AcrossNosing)} == {F(-13, 4)}
    # half the width, 3/4, behind the nosing it only touches its plane
    assert not told(beside(setback=F(3, 4)), AcrossNosing)
    assert not told(beside(offset=F(0)), AcrossNosing)
    # forced on to the top nosing: it covers that, and its foot, from the landing, is as far below the last tread
    forced = replace(beside(setback=F(5)), surfaces=(*BASE.surfaces[:2], replace(BASE.surfaces[2], start_post=F(0))))
    assert [one.below for one in told(forced, AcrossNosing)] == [F(3, 4)]


def test_a_corner_post_on_the_inner_hand_across_a_nosing():
    """An inch out, a corner post of 4 in covers the first nosing of a flight up: its foot is below the landing."""
    post = replace(BASE.post, mount="side", drop=F(8), offset=F(1), hand="left", width=F(4))
    corner = replace(BASE, surfaces=(BASE.surfaces[0], replace(FLIGHT, turn=90.0)), post=post)
    assert [one.below for one in told(corner, AcrossNosing)] == [F(8)]
