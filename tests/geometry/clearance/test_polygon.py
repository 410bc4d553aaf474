"""Outlines by corner points: what is refused, by which name, and that direction and numbering do not matter."""

from fractions import Fraction as F

import numpy as np
import pytest
import shapely

from stairguard.errors import OutlineError
from stairguard.geometry.clearance.outline import Vec
from stairguard.geometry.clearance.pockets import pockets
from stairguard.geometry.clearance.polygon import polygon
from tests.geometry.clearance.rings import ring, usable


def points(*pairs):
    return [Vec(F(x), F(z)) for x, z in pairs]


@pytest.mark.parametrize(
    ("corners", "where"),
    [
        (points((0, 0), (1, 1)), "points"),
        (points((0, 0), (0, 0), (1, 0), (0, 1)), "points 1 and 2"),
        (points((0, 0), (1, 0), (0, 1), (0, 0)), "points 4 and 1"),
        (points((0, 0), (4, 4), (4, 0), (0, 4)), "edges 1 and 3"),
        (points((0, 0), (4, 0), (2, 0), (2, 3)), "edges 1 and 2"),
        (points((0, 0), (4, 0), (4, 4), (2, 0), (0, 4)), "edges 1 and 3"),
    ],
)
def test_points_that_bound_nothing_are_refused_by_name(corners, where):
    with pytest.raises(OutlineError) as caught:
        polygon(corners)
    assert caught.value.faults[0].where == where


@pytest.mark.parametrize("dx", [-7, 0, 7])
@pytest.mark.parametrize("dz", [-5, 0, 5])
def test_what_crosses_does_so_wherever_it_is_measured_from(dx, dz):
    def moved(*pairs):
        return points(*((x + dx, z + dz) for x, z in pairs))

    with pytest.raises(OutlineError):
        polygon(moved((0, 0), (4, 4), (4, 0), (0, 4)))
    polygon(moved((0, 0), (4, 1), (3, 4), (2, 2), (-1, 3)))  # a dart: no two sides meet but at its corners


def test_rings_that_are_not_simple_are_refused_as_geos_finds_them():
    """Small whole numbers, so that many corners lie in line with, or on, another edge."""
    rng = np.random.default_rng(5)
    simple = 0
    for _ in range(200):
        ring = rng.integers((0, -3), (6, 9), (rng.integers(4, 6), 2)).tolist()
        corners = [Vec(F(x), F(z)) for x, z in ring]
        twice = any(a == b for a, b in zip(ring, ring[1:] + ring[:1], strict=True))  # GEOS lets that be
        if shapely.LinearRing(ring).is_simple and not twice:
            polygon(corners)
            simple += 1
        else:
            with pytest.raises(OutlineError):
                polygon(corners)
    assert 50 < simple < 150


def test_a_strand_number_without_an_edge_is_refused():
    with pytest.raises(OutlineError, match="strand edge: must be an edge's number, 1 to 3, got 4"):
        polygon(points((0, 0), (4, 0), (0, 3)), frozenset({4}), F(1, 8))


def test_many_crossings_are_told_in_few_lines():
    star = points(*[((k * 7) % 17, (k * 5) % 13) for k in range(16)])
    with pytest.raises(OutlineError) as caught:
        polygon(star)
    assert len(caught.value.faults) <= 8


@pytest.mark.parametrize("turn", [0, 1, 2, 3, 4])
def test_clockwise_keeps_numbers_and_spheres(turn):
    start = points((0, 0), (6, 0), (6, 4), (3, 2), (0, 4))
    rolled = start[turn:] + start[:turn]
    there, back = polygon(rolled), polygon(rolled[::-1])
    assert [p.diameter for p in pockets(there)] == pytest.approx([p.diameter for p in pockets(back)], rel=1e-14)
    for outline, corners in ((there, rolled), (back, rolled[::-1])):
        for pocket in pockets(outline):
            for site in pocket.sites:
                if outline.name(site).startswith("corner"):
                    assert corners[int(outline.name(site).split()[1]) - 1] == Vec(F(3), F(2))


def test_collinear_corners_change_nothing():
    plain = pockets(polygon(points((0, 0), (8, 0), (8, 3), (0, 3))))
    cut = pockets(polygon(points((0, 0), (3, 0), (5, 0), (8, 0), (8, 3), (4, 3), (0, 3))))
    assert plain[0].diameter == cut[0].diameter == 3
    assert cut[0].ridge == plain[0].ridge


def test_a_strand_edge_takes_its_radius():
    # a 4 by 3 opening whose top is a strand of 1/4: 3 less half of it; the strand's edge is number 3
    (found,) = pockets(polygon(points((0, 0), (4, 0), (4, 3), (0, 3)), frozenset({3}), F(1, 8)))
    assert found.diameter == 2.875


def test_a_strand_that_ends_at_a_nearly_flat_corner_is_touched_at_its_end():
    thin = [(-1.17, 5.33), (0.90, -3.35), (3.76, -7.69)]
    outline = polygon(points(*[(F(str(x)), F(str(z))) for x, z in thin]), frozenset({1}), F(1, 16))
    found = pockets(outline)[0]
    # shapely: the triangle less the strand's own round-ended body
    region = shapely.Polygon(thin).difference(shapely.LineString(thin[:2]).buffer(1 / 16, quad_segs=4096))
    theirs = max(shapely.maximum_inscribed_circle(g, tolerance=1e-9).length for g in getattr(region, "geoms", [region]))
    assert found.diameter / 2 == pytest.approx(theirs, rel=1e-6)


@pytest.mark.parametrize("seed", range(30))
def test_strand_edges_against_their_bodies_by_geos(seed):
    rng = np.random.default_rng([30, seed])
    while True:
        corners = ring(("star", "convex")[seed % 2], rng, most=9)
        whole = usable(corners)
        if whole is not None and whole.area > 0.3:
            break
    n = len(corners)
    strands = frozenset(int(k) + 1 for k in rng.choice(n, size=max(1, n // 3), replace=False))
    radius = F(1, 50)
    exact = [Vec(F(float(x)), F(float(z))) for x, z in corners]
    found = pockets(polygon(exact, strands, radius))
    bodies = [
        shapely.LineString([corners[k - 1], corners[k % n]]).buffer(float(radius), quad_segs=2048) for k in strands
    ]
    region = whole.difference(shapely.union_all(bodies))
    theirs = max(shapely.maximum_inscribed_circle(g, tolerance=1e-8).length for g in getattr(region, "geoms", [region]))
    assert found[0].diameter / 2 == pytest.approx(theirs, abs=2e-7)


@pytest.mark.parametrize("turns", range(5))
@pytest.mark.parametrize("back", [1, -1])
def test_a_corner_on_another_edge_touches_it_with_both_of_its_own(turns, back):
    """However the corners are numbered: a square's top side folded down until its middle is on the bottom."""
    corners = [(0, 0), (10, 0), (10, 10), (5, 0), (0, 10)]
    points = [Vec(F(x), F(z)) for x, z in (corners[turns:] + corners[:turns])[::back]]
    sides = [{points[k], points[(k + 1) % 5]} for k in range(5)]
    bottom = sides.index({Vec(F(0), F(0)), Vec(F(10), F(0))})
    pairs = sorted(sorted((bottom + 1, k + 1)) for k in range(5) if Vec(F(5), F(0)) in sides[k])
    with pytest.raises(OutlineError) as caught:
        polygon(points)
    assert [fault.where for fault in caught.value.faults] == [f"edges {a} and {b}" for a, b in pairs]
