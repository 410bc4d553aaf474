"""A measured flight's steps and its straight rails: by hand, and read from either end."""

from __future__ import annotations

from fractions import Fraction as F

import numpy as np
import pytest

from stairguard.geometry.survey.straight_rails import rail_band
from stairguard.model.guard.surfaces import PlacedSurface, PlanPoint, Point
from stairguard.model.job import MeasuredFlight
from stairguard.model.rules import Rule, RuleSet
from stairguard.model.site import NOWHERE
from stairguard.rules.pack.reader import read_rules
from stairguard.solve.line.surveyed_flight import largest_steps, rail_over_nosings, rises, runs, straightest
from tests.geometry.survey.surveys import KINDS, survey

NONE = RuleSet(name="none", title="No rules", rules=())
# Rises 7, 7, 6, 8 from the lower landing up; runs 11, 12, 10. Nosings 1, 2 and 4 lie on one line.
UP = (Point(F(48), F(7)), Point(F(59), F(14)), Point(F(71), F(20)), Point(F(81), F(28)))


PLAN = PlanPoint(0.0, 0.0)


def placed(nosings, down=False):
    """A measured flight by hand, its nosing line taken level 1 in over nosing 1: any line does here."""
    given = MeasuredFlight(nosings=tuple(nosings), nosing=F(1), tread=F(1), open_risers=False, down=down, turn=0.0)
    low, high = Point(nosings[-1 if down else 0].s, F(0)), nosings[0 if down else -1]
    start, end = (high, low) if down else (low, high)
    return PlacedSurface(
        index=1,
        kind="flight",
        given=given,
        start=start,
        end=end,
        origin=Point(nosings[0].s, nosings[0].z + 1),
        slope=F(0),
        pitch_deg=0.0,
        nosings=nosings,
        heading_deg=0.0,
        plan_start=PLAN,
        plan_end=PLAN,
    )


def turned(nosings):
    return tuple(Point(100 - p.s, p.z) for p in reversed(nosings))


@pytest.mark.parametrize("surface", [placed(UP), placed(turned(UP), down=True)], ids=["up", "down"])
def test_steps_from_the_lower_landing_up(surface):
    assert rises(surface) == (7, 7, 6, 8)
    assert runs(surface) == (11, 12, 10)
    steps = largest_steps(surface)
    assert (steps.rises.largest, steps.rises.between) == (2, (2, 3))
    assert (steps.rises.adjacent, steps.rises.neighbours) == (2, (2, 3))
    assert (steps.runs.largest, steps.runs.between) == (2, (2, 1))


def test_rail_over_nosings_in_station_order():
    # The hand-made nosing line is level at 8 over the landing.
    assert rail_over_nosings(placed(UP), F(36)) == (37, 30, 24, 16)
    assert rail_over_nosings(placed(UP), F(36), F(1)) == (37, 41, 47, 49)


def test_what_is_told_of_a_flight_goes_from_the_lower_landing_up():
    # Turned round, the hand-made nosing line is level at 29 over the upper landing.
    up, down = (straightest(s, F(36), NONE).steps for s in (placed(UP), placed(turned(UP), down=True)))
    assert (up.gaps, up.tops) == ((1, -6, -12, -20), (37, 30, 24, 16))
    assert (down.gaps, down.tops) == ((22, 15, 9, 1), (58, 51, 45, 37))
    assert (up.rises, up.runs, up.spread) == (down.rises, down.runs, down.spread)


def test_band_of_a_pack():
    irc = read_rules("irc-2021", "in").at(NOWHERE)
    rail = straightest(placed(UP), F(36), irc)
    # A guard's top stands 34 or more over every nosing (R312.1.2); as a handrail too from 34 to 38 (R311.7.8.1).
    assert rail.surface == 1
    assert (rail.required.rails.least, rail.required.rails.most) == (34, None)
    assert rail.required.clauses == ("R312.1.2 exception 1",)
    assert rail.required.exists
    assert (rail.optional.rails.least, rail.optional.rails.most) == (34, 38)
    assert rail.optional.clauses == ("R312.1.2 exception 1", "R312.1.2 exception 2")
    # Narrowest strip by hand: the line of nosings 1, 2 and 4 rises 7 in 11 and passes over nosing 3 at
    # 14 + 12 * 7/11 = 21 7/11, which is 1 7/11 above it.
    strip = F(18, 11)
    best = rail.optional.rails.best
    assert best.margin == (4 - strip) / 2
    assert best.line.slope == F(7, 11)
    assert (best.at_least, best.at_most) == ((0, 1, 3), (2,))
    assert rail.optional.heights == (34 + best.margin, 34 + best.margin, 38 - best.margin, 34 + best.margin)
    assert rail.optional.blocking == ()


def test_a_flight_that_no_straight_rail_suits():
    irc = read_rules("irc-2021", "in").at(NOWHERE)
    sunk = (UP[0], UP[1], Point(F(71), F(17)), UP[3])  # nosing 3 now 4 7/11 under the line of the rest
    band = straightest(placed(sunk), F(36), irc).optional
    assert not band.exists
    assert band.heights == ()
    assert band.rails.blocking.by == F(7, 11)
    assert band.rails.blocking.too_high == (2,)
    assert band.rails.blocking.too_low == (0, 3)
    assert band.blocking == (0, 2, 3)


def test_no_rules_and_rules_that_all_bind():
    free = straightest(placed(UP), F(36), NONE)
    assert (free.required.rails.slopes, free.required.clauses, free.optional) == ((None, None), (), None)
    bound = tuple(
        Rule(
            quantity="guard height",
            place="flight",
            kind=kind,
            value=F(value),
            clause=kind,
            status="read",
            source="made up",
            note="made up",
            binding=True,
        )
        for kind, value in (("at least", 34), ("at least", 35), ("at most", 39), ("at most", 38))
    )
    rail = straightest(placed(UP), F(36), RuleSet(name="made-up", title="Made up", rules=bound))
    assert (rail.required.rails.least, rail.required.rails.most) == (35, 38)  # the tightest
    assert rail.optional is None


def test_the_other_way_round_it_is_the_same_rail():
    irc = read_rules("irc-2021", "in").at(NOWHERE)
    for seed in range(60):
        points = survey(KINDS[seed % len(KINDS)], np.random.default_rng(seed))
        nosings = tuple(Point(*p) for p in points)
        flights = placed(nosings), placed(turned(nosings), down=True)
        there, back = (straightest(flight, F(36), irc).optional for flight in flights)
        assert back.exists is there.exists
        assert back.heights == there.heights[::-1]
        assert there.rails == rail_band(nosings, F(34), F(38))
