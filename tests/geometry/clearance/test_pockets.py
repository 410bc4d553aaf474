"""The largest sphere against shapely (GEOS MaximumInscribedCircle), scipy's linear programme and closed forms."""

from fractions import Fraction as F

import numpy as np
import pytest
import shapely
from scipy.optimize import linprog

from stairguard.geometry.clearance.outline import Corner, Edge, Outline, Vec
from stairguard.geometry.clearance.pockets import compare, diameter, pockets
from tests.geometry.clearance.rings import chain


def closed(points):
    exact = [Vec(F(float(x)), F(float(z))) for x, z in points]
    return chain(exact, [f"edge {k + 1}" for k in range(len(exact))], closed=True)


def random_ring(rng, kind):
    n = int(rng.integers(3, 25))
    angle = np.sort(rng.uniform(0, 2 * np.pi, n))
    radius = np.ones(n) if kind == "convex" else rng.uniform(0.15, 1, n)
    squash = 0.02 if kind == "sliver" else 1.0
    return np.c_[radius * np.cos(angle), squash * radius * np.sin(angle)]


@pytest.mark.parametrize("kind", ["convex", "star", "sliver"])
def test_never_less_and_never_more_than_geos(kind):
    # shapely.maximum_inscribed_circle at tolerance 1e-9: its radius is within the tolerance of the true one
    rng = np.random.default_rng({"convex": 11, "star": 12, "sliver": 13}[kind])
    tried = 0
    for _ in range(150):
        ring = random_ring(rng, kind)
        polygon = shapely.Polygon(ring)
        if not polygon.is_valid or polygon.area < 1e-5:
            continue
        if not polygon.exterior.is_ccw:
            ring = ring[::-1]
        theirs = 2 * shapely.maximum_inscribed_circle(polygon, tolerance=1e-9).length
        ours = pockets(closed(ring))[0].diameter
        assert ours >= theirs * (1 - 1e-9)
        assert ours <= theirs + 2 * 2e-9
        tried += 1
    assert tried > 60


def test_convex_pockets_are_the_chebyshev_centre():
    # Boyd & Vandenberghe, Convex Optimization, 8.5.1 (from memory): a polyhedron's largest ball by LP
    rng = np.random.default_rng(5)
    for _ in range(40):
        ring = random_ring(rng, "convex")
        step = np.roll(ring, -1, axis=0) - ring
        normal = np.c_[step[:, 1], -step[:, 0]] / np.hypot(*step.T)[:, None]  # outward
        result = linprog(
            [0, 0, -1], A_ub=np.c_[normal, np.ones(len(ring))], b_ub=(normal * ring).sum(axis=1),
            bounds=[(None, None), (None, None), (0, None)],
        )  # fmt: skip
        found = pockets(closed(ring))
        assert len(found) == 1
        assert found[0].diameter / 2 == pytest.approx(-result.fun, rel=1e-9)


def test_every_pocket_of_a_dumbbell_and_the_throat_is_none():
    # two rooms joined by a slot: three local maxima would be wrong, the slot opens at both ends
    ring = [
        (0, 0),
        (4, 0),
        (4, 1.5),
        (6, 1.5),
        (6, 0),
        (9, 0),
        (9, 3),
        (6, 3),
        (6, 2.5),
        (4, 2.5),
        (4, 4),
        (0, 4),
    ]
    found = pockets(closed(ring))
    assert [round(p.diameter, 9) for p in found] == [4, 3]


def test_ridge_between_parallel_edges_reports_its_extent():
    (found,) = pockets(closed([(0, 0), (10, 0), (10, 2), (0, 2)]))
    assert found.diameter == 2
    assert found.ridge == ((1.0, 1.0), (9.0, 1.0))
    assert found.centre == (5.0, 1.0)


def test_isolated_points_and_strand_axes_hold_spheres():
    # a square of side 6 with a point in its middle: four pockets by symmetry, each touching two sides and the point
    square = closed([(0, 0), (6, 0), (6, 6), (0, 6)])
    holed = Outline(square.edges, (Corner(Vec(F(3), F(3)), "point"),))
    found = pockets(holed)
    assert len(found) == 4
    # r: (3 - r) sqrt 2 = r
    assert found[0].diameter == pytest.approx(2 * 3 * 2**0.5 / (1 + 2**0.5), rel=1e-14)
    # two strand axes of diameter 1/8, 3 apart, closed by plain edges: 3 - 1/8
    d = F(1, 16)
    edges = (
        Edge(Vec(F(0), F(0)), Vec(F(20), F(0)), "strand", d),
        Edge(Vec(F(20), F(0)), Vec(F(20), F(3)), "post"),
        Edge(Vec(F(20), F(3)), Vec(F(0), F(3)), "strand", d),
        Edge(Vec(F(0), F(3)), Vec(F(0), F(0)), "post"),
    )
    (between,) = pockets(Outline(edges, ()))
    assert between.diameter == 2.875
    assert compare(Outline(edges, ()), between, F(23, 8)) == 0


@pytest.mark.parametrize("scale", [F(1), F(1, 3), F(22, 7), F(10**9 + 7, 10**9)])
def test_tie_of_the_3_4_5_triangle(scale):
    # the inscribed circle of a 3-4-5 right triangle has diameter 2 (Euclid: a + b - c)
    ring = [Vec(0 * scale, 0 * scale), Vec(4 * scale, 0 * scale), Vec(0 * scale, 3 * scale)]
    outline = chain(ring, ["a", "b", "c"], closed=True)
    (found,) = pockets(outline)
    tie = 2 * scale
    hair = tie * F(1, 10**15)
    assert compare(outline, found, tie) == 0
    assert compare(outline, found, tie - hair) == 1
    assert compare(outline, found, tie + hair) == -1


def test_exact_diameter_for_edges_and_a_corner_is_irrational_and_settled():
    # an L: the largest circle touches both outer walls and the inner corner: (2 - r) sqrt 2 ... r = 2(2 - sqrt 2)
    ring = [(0, 0), (4, 0), (4, 2), (2, 2), (2, 4), (0, 4)]
    outline = closed(ring)
    found = pockets(outline)[0]
    exact = diameter(outline, found)
    assert exact * exact - 16 * exact + 32 == 0  # d = 4(2 - sqrt 2) solves d^2 - 16 d + 32 = 0
    assert float(exact) == pytest.approx(4 * (2 - 2**0.5), rel=1e-15)


def test_degenerate_contacts_do_not_crash():
    square = closed([(0, 0), (1, 0), (1, 1), (0, 1)])  # four contacts at once
    (found,) = pockets(square)
    assert found.diameter == 1
    assert len(found.sites) == 4
    assert diameter(square, found) == 1  # two pairs of opposite contacts: no three of them span it


@pytest.mark.parametrize("sides", [5, 16, 40, 300])
def test_regular_polygons_touch_all_round(sides):
    # the apothem of a regular polygon: R cos(pi / n); corners rounded to 1e-12
    angle = 2 * np.pi * np.arange(sides) / sides
    (found,) = pockets(closed(np.round(np.c_[3 * np.cos(angle), 3 * np.sin(angle)], 12)))
    assert found.diameter == pytest.approx(6 * np.cos(np.pi / sides), rel=1e-11)


@pytest.mark.parametrize("away", [0, 10**4, 10**7, 10**10])
def test_an_outline_far_from_the_origin_is_the_same(away):
    corners = [(F(0), F(0)), (F(1, 2), F(1, 10)), (F(2, 5), F(1, 2)), (F(1, 10), F(2, 5)), (F(1, 5), F(1, 5))]
    names = [str(k) for k in range(5)]
    moved = chain([Vec(x + away, z - away) for x, z in corners], names, closed=True)
    here = pockets(chain([Vec(x, z) for x, z in corners], names, closed=True))
    assert [p.diameter for p in pockets(moved)] == pytest.approx([p.diameter for p in here], rel=1e-13)
    assert diameter(moved, pockets(moved)[0]) == diameter(
        chain([Vec(x, z) for x, z in corners], names, closed=True), here[0]
    )


@pytest.mark.parametrize(("c", "s"), [(F(1), F(0)), (F(4, 5), F(3, 5)), (F(-3, 5), F(4, 5)), (F(0), F(-1))])
@pytest.mark.parametrize("tip", [F(1), F(1, 2), F(8, 5)])
def test_a_slot_whose_point_stops_the_sphere_between_its_sides(c, s, tip):
    """A slot 6 by 2 with a spike from its end to (3, tip): the sphere of 2 rolls from where that holds it to the end.

    By hand: at half the height, at a distance of 1 from the tip; turned by a Pythagorean angle.
    """

    def turned(x, z):
        return x * c - z * s, x * s + z * c

    corners = [Vec(*turned(F(x), F(z))) for x, z in ((0, 0), (6, 0), (6, 2), (0, 2), (3, tip))]
    (found, *_) = pockets(chain(corners, [f"edge {k + 1}" for k in range(5)], closed=True))
    held = turned(3 + (1 - float(1 - tip) ** 2) ** 0.5, 1), turned(5, 1)
    assert found.diameter == pytest.approx(2, rel=1e-12)
    assert sorted(found.ridge) == [pytest.approx([float(v) for v in end], abs=1e-9) for end in sorted(held)]


def test_tilted_bays_of_eighths_keep_their_ridges():
    # a rectangle of whole eighths tilted 3-4-5: its sphere is its width, wherever its offsets fall between roundings
    for eighths in range(8, 72):
        width = F(eighths, 8)
        along, across = (F(4, 5), F(3, 5)), (-F(3, 5) * width, F(4, 5) * width)
        far = (12 * along[0], 12 * along[1])
        ring = [(F(0), F(11, 2)), (far[0], far[1] + F(11, 2)), (far[0] + across[0], far[1] + across[1] + F(11, 2))]
        ring.append((across[0], across[1] + F(11, 2)))
        found = pockets(chain([Vec(x, z) for x, z in ring], ["a", "b", "c", "d"], closed=True))
        assert found[0].diameter == pytest.approx(float(min(width, F(12))), rel=1e-13)


@pytest.mark.parametrize("more", [F(1, 10**6), F(3, 10**7), F(1, 10**8), F(1, 10**12)])
def test_next_to_square_openings_are_not_lost(more):
    found = pockets(
        chain([Vec(F(0), F(0)), Vec(4 + more, F(0)), Vec(4 + more, F(4)), Vec(F(0), F(4))], list("abcd"), closed=True)
    )
    assert found[0].diameter == pytest.approx(4, rel=1e-12)


def test_a_thin_sliver_is_measured():
    # inradius of a right triangle: (a + b - c) / 2, next to b / 2 when b is tiny
    (found,) = pockets(
        chain([Vec(F(0), F(0)), Vec(F(10**6), F(0)), Vec(F(10**6), F(1, 1000))], list("abc"), closed=True)
    )
    assert found.diameter == pytest.approx(1e-3, rel=1e-6)


def _with_sheet(wide, high, tip, at):
    """A room with a level sheet without thickness, out from its right wall."""
    ring = closed([(0, 0), (wide, 0), (wide, at), (tip, at), (wide, at), (wide, high), (0, high)])
    corners = [c for c in ring.corners if c.at != ring.edges[2].b]
    return Outline(ring.edges, (*corners, Corner(ring.edges[2].b, "tip")))


def test_a_sheet_without_thickness_is_met_on_either_face():
    # shapely: the same room with the sheet made a slit 1e-9 thick; a circle no smaller than GEOS's that nothing cuts
    rng = np.random.default_rng(17)
    for _ in range(12):
        wide, high = rng.uniform(4, 12, 2)
        tip, at = wide * rng.uniform(0.05, 0.9), high * rng.uniform(0.1, 0.9)
        room = shapely.box(0, 0, wide, high) - shapely.box(tip, at, wide + 1, at + 1e-9)
        found = pockets(_with_sheet(wide, high, tip, at))
        assert found[0].diameter >= 2 * shapely.maximum_inscribed_circle(room, 1e-6).length - 1e-7
        for pocket in found:
            assert room.boundary.distance(shapely.Point(pocket.centre)) == pytest.approx(pocket.diameter / 2, abs=1e-7)


def test_over_a_sheet_and_under_it_there_is_a_pocket_each():
    # by hand: half way up and 0.5 short of the left wall it leaves a room 2 high over it and one under it, and between
    # them no way for what is larger than 0.5; each is 3 wide, so the circle may stand anywhere along 1
    found = pockets(_with_sheet(3, 4, 0.5, 2))
    assert [p.diameter for p in found] == [2, 2]
    assert sorted(p.centre[1] for p in found) == [1, 3]
