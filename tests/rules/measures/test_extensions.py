"""Handrail extensions: 12 in level past the top nosing, one tread depth at the slope past nosing 1.

Figures of the International Building Code 1014.6, 2018 and 2021, read in a Minnesota copy; the rules below are a pack
of our own for the test.
"""

from dataclasses import replace
from fractions import Fraction as F

import pytest

from stairguard.model.job import Landing
from stairguard.model.rules import Rule, RuleSet
from stairguard.rules.findings.checks import check
from stairguard.solve.lay_out import lay_out
from tests.solve.jobs import BASE, reversed_job


def _rule(place, value, in_runs=False):
    return Rule(
        quantity="handrail extension",
        place=place,
        kind="at least",
        value=F(value),
        clause="1014.6",
        status="read",
        source="",
        note="",
        binding=True,
        in_runs=in_runs,
    )


PACK = RuleSet(
    name="own", title="own", rules=(_rule("flight top", 12), _rule("flight bottom", 1, True), _rule("ramp", 12))
)


def _found(job):
    return {c.what: (c.value, c.limit, c.passes) for c in check(lay_out(job, PACK)).checks if c.clause == "1014.6"}


@pytest.mark.parametrize("turned_round", [False, True])
def test_equal_heights_extend_exactly_one_tread_at_the_bottom(turned_round):
    """Rails of one height meet one going before nosing 1: a sloped extension of one tread depth, exactly."""
    job = replace(BASE, rail=replace(BASE.rail, height=F(36)))
    found = _found(reversed_job(job) if turned_round else job)
    bottom = next(v for k, v in found.items() if not k.top)
    top = next(v for k, v in found.items() if k.top)
    assert bottom == (10.5, 10.5, True)
    # mitred over the post's face at the nosing, the level rail runs on as far as the landing
    assert top == (48.0, 12.0, True)


def test_a_rail_that_meets_the_landing_s_runs_on_as_far_as_the_landing():
    found = _found(BASE)
    top = next(v for k, v in found.items() if k.top)
    assert top == (pytest.approx(48 - 42 / 29), 12.0, True)


def test_none_is_asked_where_the_rail_goes_on_to_another_flight():
    lower, flight, upper = BASE.surfaces
    found = _found(replace(BASE, surfaces=(lower, flight, upper, flight, Landing(length=F(48), turn=0.0))))
    assert sum(k.top for k in found) == 1
    assert sum(not k.top for k in found) == 1
