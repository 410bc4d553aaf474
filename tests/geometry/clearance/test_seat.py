"""Where a sphere rests under a strand that gives, against a search on GEOS's distances to the steps drawn as solids.

Distances come from shapely, which knows nothing of contacts or of which parts carry a sphere.
"""

from dataclasses import replace
from fractions import Fraction as F
from itertools import pairwise
from math import hypot, sqrt
from random import Random

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, box

from stairguard.geometry.clearance.outline import Corner, Edge, Outline, Vec
from stairguard.geometry.clearance.pockets import pockets
from stairguard.geometry.clearance.seat import seat
from stairguard.solve.sphere.step_pockets import cell_pockets
from stairguard.solve.sphere.step_profile import Member, Profile
from tests.geometry.clearance.rings import KINDS, outline, ring, usable

FAR = 200.0
THIN = 1e-9  # of a nosing of no thickness, which a polygon cannot have


def strands(shape: Outline) -> set[int]:
    return {k for k, edge in enumerate(shape.edges) if edge.radius}


def solids(p: Profile):
    """Treads, the bodies behind closed risers, and posts, of more steps than any sphere here reaches."""
    rise, run, nosing, thick = (float(v) for v in (p.rise, p.run, p.nosing, p.tread))
    for k in range(-1, 4):
        x, z = (k - 1) * run, (k - 1) * rise
        yield box(x, z - max(thick, THIN), x + run + nosing, z)
        if not p.open_risers:
            yield box(x + nosing, z - FAR, FAR, z)
    for k, centre in p.posts:
        half = float(p.post_width) / 2
        yield box(float(centre) - half, (k - 1) * float(p.rise) - 1, float(centre) + half, FAR)


def a_step(rnd: Random) -> tuple[Profile, Member]:
    """Steps of any kind under a strand of any height, half of them with a post on the tread looked at."""
    rise, run = F(rnd.randint(64, 140), 16), F(rnd.randint(130, 240), 16)
    nosing, tread = F(rnd.choice([0, 8, 12, 16, 24]), 16), F(rnd.choice([0, 12, 20, 24, 40]), 16)
    width, posts = F(3, 2), ()
    if rnd.random() < 0.5:
        posts = ((1, F(rnd.randint(int(width * 8) + 1, int((run - width / 2) * 16)), 16)),)
    profile = Profile(
        rise=rise,
        run=run,
        nosing=nosing,
        tread=tread,
        open_risers=rnd.random() < 0.3,
        risers=4,
        low_face=-run,
        high_face=3 * run,
        posts=posts,
        post_width=width,
    )
    return profile, Member("strand", F(rnd.randint(-8, 40), 16), F(1, 16))


def grown(ground, axis, away, start, radii):
    """The deepest place for ever larger spheres, each sought on grids about the one before; None where none is left."""
    away, at, last, step = np.array(away), np.array(start), radii[0], radii[1] - radii[0]
    aside = np.array([away[1], -away[0]])
    for radius in radii[1:]:
        half, best = 10 * step, None
        for _ in range(12):
            a, b = np.meshgrid(*[np.linspace(-half, half, 33)] * 2)
            points = at + a[..., None] * aside + b[..., None] * away
            depth = np.where(
                shapely.distance(ground, shapely.points(points)) >= radius, (points - axis) @ away, -np.inf
            )
            k = np.unravel_index(np.argmax(depth), depth.shape)
            if depth[k] > (-np.inf if best is None else best):
                best, at = depth[k], points[k]
            half *= 0.5
        if best is None:
            return None
        last = best
    return float(last), at


@pytest.mark.parametrize("seed", range(6))
def test_steps_against_a_search_that_grows_the_sphere(seed):
    """Thirty steps, each with grids refined to a four-thousandth of it: 1e-4 is beyond what that misses.

    Where the search loses the sphere, or finds it past the normal through a neighbouring nosing, there is no seat.
    """
    rnd = Random(seed)
    profile, member = a_step(rnd)
    ground = shapely.union_all(list(solids(profile)))
    shapely.prepare(ground)
    rise, run = float(profile.rise), float(profile.run)
    length = hypot(rise, run)
    away, axis = (rise / length, -run / length), np.array([0.0, float(member.plumb)])
    for found in cell_pockets(profile, member, 1):
        pocket = found.pocket
        diameter = pocket.diameter * rnd.uniform(1.001, 1.6)
        if "strand" not in found.names or (profile.open_risers and diameter > profile.rise - profile.tread):
            continue
        ours = seat(found.outline, pocket, strands(found.outline), diameter)
        theirs = grown(ground, axis, away, pocket.centre, np.linspace(pocket.diameter / 2, diameter / 2, 31))
        if theirs is None or not 0 <= theirs[1] @ np.array([run, rise]) / length <= length:
            assert ours is None
        else:
            assert ours is not None
            assert ours.clear == pytest.approx(theirs[0], abs=1e-4)
            assert ours.centre == pytest.approx(tuple(theirs[1]), abs=1e-2)


def in_a_ring(seed: int):
    """A random outline with one edge made a strand, all else before it; its pockets there, and a sphere for each."""
    rng = np.random.default_rng([20, seed])
    points = ring(KINDS[seed % 2], rng, most=12)
    region = usable(points)
    if region is None:
        return
    shape = outline(points)
    k = int(rng.integers(len(shape.edges)))
    start, end = (np.array([float(v) for v in p]) for p in (shape.edges[k].a, shape.edges[k].b))
    away = np.array([start[1] - end[1], end[0] - start[0]]) / np.hypot(*(end - start))
    if ((points - start) @ away).min() < -1e-9:
        return
    edges = tuple(
        replace(e, part="strand", number=None, radius=F(1, 1000)) if i == k else e for i, e in enumerate(shape.edges)
    )
    shape = Outline(edges, shape.corners)
    for pocket in pockets(shape):
        if k in pocket.sites:
            yield shape, k, pocket, pocket.diameter * rng.uniform(1.001, 1.3), away


def test_nowhere_near_is_deeper_in_any_outline():
    """By shapely's distances to all edges but the strand, at 720 places around each seat before the strand."""
    seats = 0
    turn = np.linspace(0, 2 * np.pi, 720, endpoint=False)
    for seed in range(400):
        for shape, k, pocket, diameter, away in in_a_ring(seed):
            found = seat(shape, pocket, {k}, diameter)
            if found is None or found.clear < 0:
                continue
            seats += 1
            walls = (e for i, e in enumerate(shape.edges) if i != k)
            rigid = shapely.union_all([LineString([map(float, e.a), map(float, e.b)]) for e in walls])
            assert rigid.distance(Point(found.centre)) == pytest.approx(diameter / 2, rel=1e-9)
            way = 1e-5 * diameter * np.c_[np.cos(turn), np.sin(turn)]
            free = shapely.distance(rigid, shapely.points(np.array(found.centre) + way)) >= diameter / 2
            assert (way @ away)[free].max(initial=-1) < 1e-8 * diameter
    assert seats > 100


@given(st.integers(0, 10**6))
def test_a_sphere_next_to_the_pocket_s_own_rests_next_to_it(seed):
    """Between contacts opposite each other a sphere moves by sqrt(2 r dr), at worst: 1e-4 for a billionth of growth."""
    profile, member = a_step(Random(seed))
    for found in cell_pockets(profile, member, 1):
        pocket = found.pocket
        if "strand" not in found.names:
            continue
        at = seat(found.outline, pocket, strands(found.outline), pocket.diameter + 1e-9)
        if at is None:
            continue
        assert hypot(at.centre[0] - pocket.centre[0], at.centre[1] - pocket.centre[1]) < 1e-4
        assert at.clear == pytest.approx(pocket.diameter / 2 + float(member.radius), abs=1e-4)


def mirrored(shape: Outline) -> Outline:
    def flip(p: Vec) -> Vec:
        return Vec(-p.x, p.z)

    edges = tuple(Edge(flip(e.b), flip(e.a), e.name, e.radius) for e in shape.edges)
    return Outline(edges, tuple(Corner(flip(c.at), c.name, c.radius) for c in shape.corners))


@given(st.integers(0, 10**6), st.floats(1.001, 1.5))
def test_the_mirror_image_has_the_mirror_image_s_seat(seed, larger):
    profile, member = a_step(Random(seed))
    for found in cell_pockets(profile, member, 1):
        if "strand" not in found.names:
            continue
        shape, pocket = found.outline, found.pocket
        there = mirrored(shape)
        twin = min(pockets(there), key=lambda p: hypot(p.centre[0] + pocket.centre[0], p.centre[1] - pocket.centre[1]))
        diameter = pocket.diameter * larger
        one, two = seat(shape, pocket, strands(shape), diameter), seat(there, twin, strands(there), diameter)
        assert (one is None) == (two is None)
        if one is not None and two is not None:
            assert two.clear == pytest.approx(one.clear, abs=1e-8)
            assert (-two.centre[0], two.centre[1]) == pytest.approx(one.centre, abs=1e-8)
            assert (-two.along[0], two.along[1]) == pytest.approx(one.along, abs=1e-8)


def room(points, kinds, strand, radius=F(1, 16)) -> Outline:
    """Walls along points, free side on the left, and a strand through two points; convex corners of the walls told."""
    corners = [Vec(F(x), F(z)) for x, z in points]
    walls = [Edge(a, b, kind) for a, b, kind in zip(corners[:-1], corners[1:], kinds, strict=True)]
    reflex = [
        Corner(b.a, "corner")
        for a, b in pairwise(walls)
        if (a.b.x - a.a.x) * (b.b.z - b.a.z) < (a.b.z - a.a.z) * (b.b.x - b.a.x)
    ]
    (ax, az), (bx, bz) = strand
    return Outline((*walls, Edge(Vec(F(ax), F(az)), Vec(F(bx), F(bz)), "strand", radius)), tuple(reflex))


def only(shape: Outline):
    (pocket,) = (p for p in pockets(shape) if len(shape.edges) - 1 in p.sites)
    return pocket


SLOT = ("wall", "floor", "wall")


def test_between_parallel_floor_and_strand_it_is_shown_midway():
    """A level bay 20 long under a strand 4 up: centre at half the sphere's height, anywhere from wall to wall."""
    shape = room([(0, 40), (0, 0), (20, 0), (20, 40)], SLOT, [(60, 4), (-60, 4)])
    found = seat(shape, only(shape), {3}, 5.0)
    assert found is not None
    assert found.centre == pytest.approx((10, 2.5))
    assert found.clear == pytest.approx(1.5)
    assert found.along == pytest.approx((10, 4))
    assert found.anywhere


def test_a_ledge_beside_the_floor_takes_room_from_it():
    """A ledge half as high as 1 ends at 4: by hand a sphere of 4 stands sqrt(2^2 - 1.5^2) or more past its corner."""
    points = [(0, 40), (0, F(1, 2)), (4, F(1, 2)), (4, 0), (9, 0), (9, 40)]
    shape = room(points, ("wall", "ledge", "riser", "floor", "wall"), [(60, 3), (-60, 3)])
    pocket = next(p for p in pockets(shape) if p.sites == (3, 5))
    found = seat(shape, pocket, {5}, 4.0)
    assert found is not None
    assert found.anywhere
    assert found.centre == pytest.approx(((4 + sqrt(1.75) + 7) / 2, 2))


def test_walls_nearer_than_the_sphere_is_wide_keep_it_out():
    shape = room([(0, 40), (0, 0), (5, 0), (5, 40)], SLOT, [(60, 4), (-60, 4)])
    assert seat(shape, only(shape), {3}, 4.9) is not None
    assert seat(shape, only(shape), {3}, 5.1) is None


def test_between_sloping_walls_it_is_lifted_off_the_floor():
    """Walls at 45 degrees from a floor 2 wide: past a radius of 1 + sqrt(2) it hangs between them, its centre at
    r sqrt(2) - 1 by hand."""
    shape = room([(-40, 39), (-1, 0), (1, 0), (40, 39)], SLOT, [(90, 3), (-90, 3)])
    for radius in (2.0, 3.0, 10.0):
        found = seat(shape, only(shape), {3}, 2 * radius)
        height = max(radius, radius * sqrt(2) - 1)
        assert found is not None
        assert found.centre == pytest.approx((0, height), abs=1e-9)
        assert found.anywhere == (radius < 1 + sqrt(2))
        assert found.clear == pytest.approx(3 - height)


def test_a_sphere_in_a_v_by_hand():
    """45 degree walls meet at the origin, the strand is level, 2 above: the centre is r sqrt(2) up, at last past it."""
    shape = room([(-40, 40), (0, 0), (40, 40)], ("wall", "wall"), [(90, 2), (-90, 2)])
    for radius in (1.0, 1.4, 5.0):
        found = seat(shape, only(shape), {2}, 2 * radius)
        assert found is not None
        assert found.clear == pytest.approx(2 - radius * sqrt(2), abs=1e-9)


def test_a_wall_turns_it_over_a_ledge():
    """A falling ledge's corner is 3 from a wall and 5 up. By hand the centre is sqrt(r^2 - (3 - r)^2) over the corner.

    At a radius of 3 it stands straight off the corner, and is turned over.
    """
    points = [(0, 60), (0, 0), (1, 0), (3, 5), (60, 2), (60, 60)]
    shape = room(points, ("wall", "floor", "slope", "ledge", "wall"), [(90, 6), (-90, 6)])
    pocket = next(p for p in pockets(shape) if 5 in p.sites and p.centre[0] < 3)
    for radius in (1.7, 2.4, 2.99):
        found = seat(shape, pocket, {5}, 2 * radius)
        assert found is not None
        assert found.centre == pytest.approx((radius, 5 + sqrt(radius**2 - (3 - radius) ** 2)), abs=1e-9)
    assert seat(shape, pocket, {5}, 6.01) is None


def test_nothing_gives_where_the_sphere_passes_or_no_strand_is_touched():
    profile = Profile(rise=F(7), run=F(11), nosing=F(1), tread=F(1), open_risers=False)
    found = next(cell_pockets(profile, Member("strand", F(1), F(1, 16)), 1))
    shape, pocket = found.outline, found.pocket
    assert seat(shape, pocket, strands(shape), pocket.diameter) is None
    assert seat(shape, pocket, strands(shape), pocket.diameter / 2) is None
    assert seat(shape, pocket, {0}, pocket.diameter + 1) is not None  # as if the tread gave
    assert seat(shape, pocket, {2}, pocket.diameter + 1) is None  # the nosing's underside, which is not touched


def test_between_two_strands_is_refused():
    lower, upper = (Edge(Vec(F(a), F(z)), Vec(F(b), F(z)), "strand", F(1, 8)) for a, b, z in ((0, 20, 0), (20, 0, 3)))
    walls = (Edge(Vec(F(20), F(0)), Vec(F(20), F(3)), "post"), Edge(Vec(F(0), F(3)), Vec(F(0), F(0)), "post"))
    shape = Outline((lower, upper, *walls), ())
    with pytest.raises(ValueError, match="two strands"):
        seat(shape, pockets(shape)[0], {0, 1}, 4.0)


def test_far_from_the_origin_it_is_the_same_seat():
    """Moved by a thousand miles in inches, exactly, its distance to the strand keeps to a ten-billionth."""
    profile, member = (
        Profile(rise=F(29, 4), run=F(21, 2), nosing=F(1), tread=F(5, 4), open_risers=False),
        Member("strand", F(1), F(1, 16)),
    )
    found = next(cell_pockets(profile, member, 1))
    here = seat(found.outline, found.pocket, strands(found.outline), 8.0)
    by = Vec(F(63360000), F(-63360000))

    def moved(p: Vec) -> Vec:
        return Vec(p.x + by.x, p.z + by.z)

    edges = tuple(replace(e, a=moved(e.a), b=moved(e.b)) for e in found.outline.edges)
    there = Outline(edges, tuple(replace(c, at=moved(c.at)) for c in found.outline.corners))
    twin = max((p for p in pockets(there) if 4 in p.sites), key=lambda p: p.diameter)
    away = seat(there, twin, strands(there), 8.0)
    assert here is not None
    assert away is not None
    assert away.clear == pytest.approx(here.clear, abs=1e-7)
