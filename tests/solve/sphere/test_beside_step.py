"""Out from over a step whose strands stand beside the stair, against a path search of its own in space.

The search knows the stair as boxes, and strands and posts by their distances (`tests.geometry.space.scenes`).
"""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction as F
from math import hypot, inf

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stairguard.solve.sphere.beside_step import start_lift, ways_beside
from stairguard.solve.sphere.step_pockets import cell_pockets
from stairguard.solve.sphere.step_profile import Member, Profile
from tests.geometry.space.scenes import Steps, out_over

STEPS = Profile(
    rise=F(29, 4), run=F(21, 2), nosing=F(1), tread=F(5, 4), open_risers=False, risers=3,
    low_face=F(-6), high_face=F(28), post_width=F(3, 2), drop=F(6),
)  # fmt: skip
STRAND = Member("strand", F(3, 2), F(1, 16))


def steps(p: Profile, member: Member) -> Steps:
    """The same stair in the search's own plain numbers."""
    assert p.risers is not None
    low = float(p.z(p.cell(p.low_face)) - p.drop)
    return Steps(
        rise=float(p.rise), run=float(p.run), nosing=float(p.nosing), tread=float(p.tread),
        open_risers=p.open_risers, risers=p.risers, offset=float(p.offset), plumb=float(member.plumb),
        radius=float(member.radius), post_width=float(p.post_width), low_post=(float(p.low_face), low),
        high_post=(float(p.high_face), -inf if p.high_foot is None else float(p.high_foot)),
        line_posts=tuple((float(x), float(p.z(k) - p.drop)) for k, x in p.posts),
    )  # fmt: skip


def told(p: Profile, member: Member) -> float:
    """Radius of the largest sphere out from over any cell."""
    first, last = p.cells
    found = [f.pocket.diameter / 2 for cell in range(first, last + 1) for f in ways_beside(p, member, cell)]
    return max(found, default=0.0)


def some(rng: random.Random, *, open_risers: bool) -> tuple[Profile, Member]:
    """A stair of three or four risers with a guard beside it, as ordinary or as odd as may be."""

    def length(low: float, high: float) -> F:
        return F(round(rng.uniform(low, high) * 16), 16)

    rise, run = length(6, 8), length(9, 12)
    risers = rng.choice((2, 3))
    tread = length(1, 2)
    profile = Profile(
        rise=rise, run=run, nosing=rng.choice((F(0), length(0.5, 1.25))), tread=tread, open_risers=open_risers,
        risers=risers, low_face=-length(3, 9), high_face=(risers - 1) * run + length(3, 9),
        posts=rng.choice(((), ((1, length(3, 7)),))), post_width=rng.choice((F(3, 2), F(2), F(7, 2))),
        drop=length(4, 10), offset=length(0.25, 5),
    )  # fmt: skip
    return profile, Member("strand", length(-1, 3), rng.choice((F(1, 16), F(3, 32), F(1, 8))))


EVERY_DAY, CASES, MORE = 1, 8, 8


@pytest.mark.parametrize("open_risers", [False, True])
@pytest.mark.parametrize(
    "seed", [*range(EVERY_DAY), *(pytest.param(k, marks=pytest.mark.exhaustive) for k in range(EVERY_DAY, MORE))]
)
def test_no_sphere_larger_gets_out_and_that_one_does(seed, open_risers):
    """Eight random stairs, within the bounds of the search in space and never below it."""
    rng = random.Random(f"beside {seed} {open_risers}")
    for _ in range(CASES):
        profile, member = some(rng, open_risers=open_risers)
        least, most, _ = out_over(steps(profile, member), close=0.02 if seed < EVERY_DAY else 0.01)
        assert most - least < 0.05, "the search itself tells little"
        assert least <= told(profile, member) <= most, (profile, member)


@pytest.mark.parametrize("open_risers", [False, True])
def test_near_the_stair_it_is_the_plane_answer(open_risers):
    """The way at a thousandth of a unit, to what that can change: less than the offset itself."""
    for cell in range(4):
        plane = max(f.pocket.diameter for f in cell_pockets(replace(STEPS, open_risers=open_risers), STRAND, cell))
        beside = replace(STEPS, open_risers=open_risers, offset=F(1, 10_000))
        way = next(ways_beside(beside, STRAND, cell)).pocket.diameter
        assert plane - 1e-12 <= way <= plane + 1e-8


@pytest.mark.parametrize("out", [F(1, 2), F(2), F(15, 4)])
def test_the_lift_for_a_limit_lets_through_just_that(out):
    beside = replace(STEPS, offset=out)
    lift = start_lift(beside, F(6), F(1, 16))
    plumb = F((lift + 1 / 16) * hypot(1.0, 7.25 / 10.5))
    (found,) = ways_beside(beside, Member("strand", plumb, F(1, 16)), 1)
    assert found.pocket.diameter == pytest.approx(6.0, abs=1e-12)
    assert set(found.names) == {"tread", "riser", "strand"}


OUT, HIGH = (st.fractions(F(low), F(high), max_denominator=16) for low, high in (("1/8", 5), (-2, 3)))


@settings(max_examples=15, deadline=None)
@given(
    OUT, st.fractions(F(0), F(1), max_denominator=16), st.fractions(F(-2), F(3), max_denominator=16), st.integers(0, 3)
)
def test_farther_out_lets_through_no_less(out, more, plumb, cell):
    """A way past strands so far out is one past strands farther out as well."""
    near, far = (
        list(ways_beside(replace(STEPS, offset=one), Member("strand", plumb, F(1, 16)), cell))
        for one in (out, out + more)
    )
    if near and far:
        assert far[0].pocket.diameter >= near[0].pocket.diameter - max(1e-9, near[0].pocket.error or 0.0)


@settings(max_examples=10, deadline=None)
@given(OUT, HIGH, st.fractions(F(1, 16), F(1), max_denominator=16))
def test_a_higher_strand_lets_through_no_less(out, plumb, more):
    beside = replace(STEPS, offset=out)
    low, high = (next(ways_beside(beside, Member("strand", p, F(1, 16)), 1)).pocket for p in (plumb, plumb + more))
    assert high.diameter >= low.diameter - max(1e-9, low.error or 0.0)


@settings(max_examples=15, deadline=None)
@given(st.fractions(F(0), F(3), max_denominator=16), st.integers(0, 3), st.booleans())
def test_at_no_offset_it_is_the_plane_s_answer(plumb, cell, open_risers):
    """To what a hundred-millionth of a unit may change: less than that."""
    steps, member = replace(STEPS, open_risers=open_risers), Member("strand", plumb, F(1, 16))
    plane = [found.pocket.diameter for found in cell_pockets(steps, member, cell)]
    beside = list(ways_beside(replace(steps, offset=F(1, 10**8)), member, cell))
    if plane and beside:
        assert beside[0].pocket.diameter == pytest.approx(max(plane), abs=max(1e-7, beside[0].pocket.error or 0.0))


def test_other_ways_are_taken_along_to_the_step_they_are_followed_on():
    """A low strand close to deep nosings leaves several ways nearly as wide: within the bounds of the search."""
    low = replace(
        STEPS, rise=F(31, 4), run=F(95, 8), nosing=F(13, 8), tread=F(25, 16), risers=2, low_face=F(-9),
        high_face=F(157, 8), high_foot=F(5, 4), drop=F(91, 16), offset=F(1, 16),
    )  # fmt: skip
    member = Member("strand", F(-47, 8), F(1, 8))
    bounds = out_over(steps(low, member), close=0.05)
    assert bounds.least - 1e-9 <= told(low, member) <= bounds.most + 1e-9
