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
    BASE,
    unit="mm",
    mark=F(1),
    rules="scotland-1999",
    rail=Rail(height=F(900), landing_height=F(900), depth=F(40), width=F(90), meet="as-given"),
    strand=Strand(
        diameter=F(STRAND), spacing=F(75), at_joints="through", terminal_take_up=F(0), tensioner_take_up=F(0)
    ),
    post=Post(width=F(40), max_gap=F(1200), setback=F(120)),
    surfaces=(
        Landing(length=F(1200), turn=0.0),
        Flight(risers=9, rise=F(RISE), run=F(RUN), nosing=F(0), tread=F(30), open_risers=False, down=False, turn=0.0),
        Landing(length=F(1200), turn=0.0),
    ),
)
RULES = read_rules("scotland-1999", "mm")


@cache
def laid(rules):
    return lay_out(JOB, rules)


def lowest(layout):
    return float(layout.fields[1].heights[-1])


def over_steps(layout):
    return [one for one in layout.openings if one.surface == 1 and one.where.kind == "step triangle"]


def test_the_edge_is_as_high_as_gives_leave_less_a_mark():
    """50 mm plumb to the underside (Technical Standards, Part S, December 1999, S4.2); a strand's, half of it lower."""
    found = laid(RULES)
    underside = lowest(found) - STRAND / 2 * SECANT
    assert underside == pytest.approx(50 - 1, abs=0.002)  # less a mark, and what the search leaves over
    assert all(one.passes and one.leave.quantity == "lowest edge" for one in over_steps(found))
    assert min(one.sphere for one in over_steps(found)) > 100


def test_no_leave_is_given_to_strands_that_stand_out_from_the_steps():
    """How low an edge is says nothing of how far out it stands: each opening answers to its sphere."""
    side = replace(JOB.post, mount="side", offset=F(40), drop=F(200))
    found = lay_out(replace(JOB, post=side), RULES)
    steps = over_steps(found)
    assert steps
    assert all(one.leave is None and one.out > 0 for one in steps)
    assert all(one.passes == (one.sphere <= 100 and one.sphere_as_marked <= 100) for one in steps)
    assert lowest(found) < lowest(laid(RULES))


def test_without_leave_it_lies_as_low_as_it_can():
    """No strand stops 100 mm over steps of 190 by 250 (`step_lift` is below nought): it is a half mark off the line."""
    found = laid(RULES.without("lowest edge"))
    assert lowest(found) == pytest.approx(STRAND / 2 * SECANT + 0.5, abs=1e-9)
    assert not any(one.passes or one.leave for one in over_steps(found))
