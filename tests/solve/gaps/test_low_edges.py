"""A pack's leave by a low edge: the lowest strand goes as high as it gives leave, and is held to what asks for less."""

from dataclasses import replace
from fractions import Fraction as F
from functools import cache
from math import hypot

import pytest

from stairguard.model.job import Flight, Landing, Post, Rail, Strand
from stairguard.rules.pack.reader import read_rules
from stairguard.solve.lay_out import lay_out
from tests.solve.jobs import BASE

RISE, RUN, STRAND = 190, 250, 3
SECANT = hypot(RISE, RUN) / RUN
JOB = replace(
    BASE, unit="mm", mark=F(1), rules="scotland-1999", rail=Rail(F(900), F(900), F(40), F(90), "as-given"),
    strand=Strand(F(STRAND), F(75), "through", F(0), F(0)), post=Post(F(40), F(1200), F(120)),
    surfaces=(Landing(F(1200), 0.0), Flight(9, F(RISE), F(RUN), F(0), F(30), False, False, 0.0), Landing(F(1200), 0.0)),
)  # fmt: skip
RULES = read_rules("scotland-1999", "mm")


@cache
def laid(rules):
    return lay_out(JOB, rules)


def lowest(layout):
    return float(layout.fields[1].heights[-1])


def over_steps(layout):
    return [one for one in layout.openings if one.surface == 1 and one.where.startswith("step triangle")]


def test_the_edge_is_as_high_as_gives_leave_less_a_mark():
    """50 mm plumb to the underside (Technical Standards, Part S, December 1999, S4.2); a strand's, half of it lower."""
    found = laid(RULES)
    underside = lowest(found) - STRAND / 2 * SECANT
    assert underside == pytest.approx(50 - 1, abs=0.002)  # less a mark, and what the search leaves over
    assert all(one.passes and one.leave.quantity == "lowest edge" for one in over_steps(found))
    assert min(one.sphere for one in over_steps(found)) > 100


def test_without_leave_it_lies_as_low_as_it_can():
    """No strand stops 100 mm over steps of 190 by 250 (`step_lift` is below nought): it is a half mark off the line."""
    found = laid(RULES.without("lowest edge"))
    assert lowest(found) == pytest.approx(STRAND / 2 * SECANT + 0.5, abs=1e-9)
    assert not any(one.passes or one.leave for one in over_steps(found))
