"""A figure held to a bound: the bound itself satisfies it, a hair past it does not; pitches are compared by slope."""

from dataclasses import replace
from fractions import Fraction as F

import pytest

from stairguard.model.job import Landing
from stairguard.model.rules import Rule
from stairguard.rules.measures.held_bounds import Held, held_to, margin
from stairguard.solve.line.surface_line import place
from tests.solve.lines import up

HAIR = F(1, 10**12)


def rule(quantity, kind, value, **more):
    return Rule(
        quantity=quantity, place="any", kind=kind, value=F(value), clause="T", status="read", source="", note="",
        binding=True, **more,
    )  # fmt: skip


@pytest.mark.parametrize(("kind", "way"), [("at least", 1), ("at most", -1)])
@pytest.mark.parametrize(("off", "passes"), [(HAIR, True), (F(0), True), (-HAIR, False)])
def test_a_bound_is_kept_up_to_itself(kind, way, off, passes):
    found = held_to(rule("riser", kind, 7), F(7) + way * off, None, "in")
    assert found == Held(float(7 + way * off), 7.0, "in", passes)


@pytest.mark.parametrize(("off", "passes"), [(-HAIR, True), (F(0), True), (HAIR, False)])
def test_a_pitch_of_45_degrees_is_a_slope_of_one_exactly(off, passes):
    run = F(10)
    flight = place((Landing(length=F(60), turn=0.0), replace(up(4), rise=run * (1 + off), run=run))).surfaces[1]
    found = held_to(rule("pitch", "at most", 45), flight.slope, flight, "in")
    assert (found.passes, found.limit, found.unit) == (passes, 45.0, "deg")
    assert found.value == pytest.approx(45)


def test_a_bound_that_counts_runs_asks_for_the_flight_s_own():
    flight = place((up(4),)).surfaces[0]
    counted = rule("handrail extension", "at least", 2, in_runs=True)
    assert held_to(counted, F(21), flight, "in") == Held(21.0, 22.0, "in", False)
    assert held_to(counted, F(22), flight, "in").passes


def test_ratios_and_counts_have_no_unit():
    assert [rule(quantity, "at most", 1).limit_unit("mm") for quantity in ("ramp slope", "run bends", "run")] == [
        "", "", "mm",
    ]  # fmt: skip
    assert rule("load", "requires", 1, load_unit="kN").limit_unit("mm") == "kN"


def test_a_margin_is_how_far_inside():
    assert (margin("at least", 8.0, 7.0), margin("at most", 8.0, 7.0)) == (1.0, -1.0)
