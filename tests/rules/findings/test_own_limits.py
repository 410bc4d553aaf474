"""The job's own limits: gaps and spacings along a slope, holes at the foot of a post."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from stairguard.model.guard.passages import Passage
from stairguard.model.guard.placed_posts import Face, Hole
from stairguard.model.subjects import AtPost, LowestHole
from stairguard.rules.findings.own_limits import JOB, own_limits
from stairguard.rules.pack.reader import read_rules

HAIR = Fraction(1, 10**12)
NONE = read_rules("none", "in")


def told(layout, quantity):
    """What is told of one of the limits, by its clause."""
    return [one for one in own_limits(layout) if (one.clause, one.status, one.quantity) == (JOB, JOB, quantity)]


# Rise 3 in on a run of 4 in: a length along the slope is 5/4 of its level length, so ties are rational.
SLOPE = {"rise": Fraction(3), "run": Fraction(4), "risers": 31}


@pytest.mark.parametrize("off", [-HAIR, Fraction(0), HAIR])
def test_gap_along_the_slope_is_exact(make_layout, off):
    # Posts 1-1/2 in wide; 40 in apart on centres is 38-1/2 in level, 48-1/8 in along the strands.
    low = Fraction(48)
    posts = tuple(map(Fraction, (10, 47, 87, 127, 168, 170, 200)))
    layout = make_layout(NONE, posts=posts, max_gap=Fraction(385, 8) - off, **SLOPE)
    over_flight = [c for c in told(layout, "post gap") if c.what.surface.kind == "flight"]
    # The widest is from 127 to 168: 39-1/2 in level, 49-3/8 in along.
    assert [c.passes for c in over_flight] == [False]
    assert over_flight[0].value == pytest.approx(49.375, rel=1e-15)
    even = (Fraction(10), low - 1, low + 39, low + 79, low + 119, low + 121, low + 160)
    layout = make_layout(NONE, posts=even, max_gap=Fraction(385, 8) - off, **SLOPE)
    over_flight = [c for c in told(layout, "post gap") if c.what.surface.kind == "flight"]
    assert [c.passes for c in over_flight] == [off <= 0]
    assert (over_flight[0].value > over_flight[0].limit) is (off > 0)


def test_gaps_are_told_apart_by_surface(make_layout):
    posts = tuple(map(Fraction, (10, 47, 87, 127, 168, 170, 200)))
    checks = told(make_layout(NONE, posts=posts, **SLOPE), "post gap")
    # The joint posts are the second and the last but one: landing, flight, landing.
    assert [c.value for c in checks] == [35.5, pytest.approx(49.375), 28.5]


@pytest.mark.parametrize("off", [-HAIR, Fraction(0), HAIR])
def test_spacing_is_square_and_exact(make_layout, off):
    # A plumb spacing of 3-3/4 in on this slope is 3 in square: the tie; on the landings it is wider.
    layout = make_layout(NONE, strand_plumb=Fraction(15, 4) + off, spacing=Fraction(3), **SLOPE)
    landing, flight, _ = told(layout, "strand spacing")
    assert flight.passes is (off <= 0)
    assert (flight.value > flight.limit) is (off > 0)
    assert not landing.passes


@pytest.mark.parametrize(("low", "passes"), [(-HAIR, False), (Fraction(0), True)])
def test_a_hole_at_the_foot_of_its_post(make_layout, low, passes):
    layout = make_layout(NONE)
    faces = (
        Face(height=height, marked=height, tilt_deg=45.0, skew_deg=0.0, reach=Fraction(1))
        for height in (low, Fraction(2))
    )
    hole = Hole(
        strand=3,
        height=Fraction(1),
        marked=Fraction(1),
        surfaces=(0, 1),
        passage=Passage("both"),
        faces=tuple(faces),
    )
    first, *others = layout.posts
    (one,) = told(replace(layout, posts=(replace(first, holes=(hole,)), *others)), "hole")
    assert (one.what, one.value, one.passes) == (LowestHole(AtPost("P1")), float(low), passes)
