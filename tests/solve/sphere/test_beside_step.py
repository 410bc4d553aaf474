"""Out from over a step whose strands stand beside the stair, against a path search of its own in space.

The search knows the stair as one shape seen square to it, by GEOS, and strands and posts by their distances.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction as F
from math import hypot

import numpy as np
import pytest
import shapely

from stairguard.solve.sphere.beside_step import start_lift, ways_beside
from stairguard.solve.sphere.step_pockets import cell_pockets
from stairguard.solve.sphere.step_profile import Member, Profile
from tests.geometry.space.paths import Bounds, Floats, widest

STEPS = Profile(
    rise=F(29, 4), run=F(21, 2), nosing=F(1), tread=F(5, 4), open_risers=False, risers=3,
    low_face=F(-6), high_face=F(28), post_width=F(3, 2), drop=F(6),
)  # fmt: skip
STRAND = Member("strand", F(3, 2), F(1, 16))


def stair(p: Profile) -> shapely.Geometry:
    """The stair seen square to the guard: all that is under its floors and behind its risers, or its boards alone."""
    assert p.risers is not None
    deep, last = -float(4 * (p.rise + p.run)), float(p.x(p.risers) + 9 * p.run)
    pieces = [shapely.box(-9 * float(p.run), deep, float(p.nosing), float(p.z(0)))]
    for k in range(1, p.risers + 1):
        x, z = float(p.x(k)), float(p.z(k))
        back = last if k == p.risers else float(p.x(k + 1) + p.nosing)
        pieces.append(shapely.box(x, z - float(p.tread), back, z))
        if not p.open_risers:
            pieces.append(shapely.box(x + float(p.nosing), deep, last, z - float(p.tread) / 2))
    return shapely.union_all(pieces)


def posts(p: Profile) -> Iterator[shapely.Geometry]:
    wide, top = float(p.post_width), 99.0
    for k, x in p.posts:
        yield shapely.box(float(x) - wide / 2, float(p.z(k) - p.drop), float(x) + wide / 2, top)
    low, high = float(p.low_face), float(p.high_face)
    yield shapely.box(low - wide, float(p.z(p.cell(p.low_face)) - p.drop), low, top)
    foot = -99.0 if p.high_foot is None else float(p.high_foot)
    yield shapely.box(high, foot, high + wide, top)


def searched(p: Profile, member: Member, size: float, rounds: int) -> Bounds:
    """Bounds on the radius of the largest sphere that gets out from over any of the steps."""
    body, uprights = stair(p), list(posts(p))
    slope, over, out, half = float(p.slope), float(member.plumb), float(p.offset), float(p.post_width) / 2

    def clear(points: Floats) -> Floats:
        seen = shapely.points(points[:, 0], points[:, 2])
        y = points[:, 1]
        off = [np.hypot(shapely.distance(body, seen), np.maximum(y, 0.0))]
        off += [np.hypot(shapely.distance(post, seen), np.maximum(np.abs(y - out) - half, 0.0)) for post in uprights]
        square = (points[:, 2] - over - slope * points[:, 0]) / hypot(1.0, slope)
        off.append(np.hypot(square, y - out) - float(member.radius))
        return np.min(off, axis=0)

    def starts(points: Floats) -> np.ndarray:
        """Over the treads, risers taken as shut."""
        assert p.risers is not None
        tops = np.full(points.shape[:2], float(p.z(0)))
        for k in range(1, p.risers + 1):
            behind = float(p.x(k) + (p.nosing if p.open_risers else 0))
            tops = np.where(points[..., 0] > behind, float(p.z(k)), tops)
        return points[..., 2] > tops

    def ends(points: Floats) -> np.ndarray:
        return points[..., 2] < over + slope * points[..., 0]

    assert p.risers is not None
    low = np.array([float(p.low_face) - half, min(0.0, out - half), float(p.z(0) - p.rise) - out])
    high = np.array([float(p.high_face) + half, out, slope * float(p.high_face) + over + out])
    return widest(clear, low, high, starts, ends, size, rounds)


def told(p: Profile, member: Member) -> float:
    """Radius of the largest sphere out from over any cell."""
    first, last = p.cells
    found = [f.pocket.diameter / 2 for cell in range(first, last + 1) for f in ways_beside(p, member, cell)]
    return max(found)


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


@pytest.mark.parametrize("open_risers", [False, True])
@pytest.mark.parametrize("seed", range(3))
def test_no_sphere_larger_gets_out_and_that_one_does(seed, open_risers, request):
    """Within the grid's own bound, and never below it."""
    rng = random.Random(f"beside {seed} {open_risers}")
    for _ in range(10):
        profile, member = some(rng, open_risers=open_risers)
        least, most = searched(profile, member, 1.0, 2)
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
