"""The inverse by substitution, by the closed forms where they hold, and by what must not be possible."""

from fractions import Fraction as F
from math import hypot, sqrt

import numpy as np
import pytest
import shapely

from stairguard.errors import GeometryError
from stairguard.geometry.clearance.outline import Vec
from stairguard.geometry.survey.triangulated import Diagonal, figure
from stairguard.model.asked.asked_opening import Move
from stairguard.relations.printed.scalars import step_lift
from stairguard.solve.sphere.inverse_opening import edge_move, greatest_lift, greatest_spacing, moved
from stairguard.solve.sphere.step_opening import step_opening


def points(*pairs):
    return [Vec(F(x), F(z)) for x, z in pairs]


# "The triangle under the bottom rail": perpendicular gap for a 6 in ball, worked out by hand to two decimals and
# checked there by brute force; derived, not published.
DERIVED = [
    ("7.75", "10", "0", 1.08), ("7.75", "10", "0.75", 0.62), ("7.75", "10", "1.25", 0.32), ("7.5", "10", "0", 1.20),
    ("7.5", "10", "0.75", 0.75), ("7.5", "10", "1.25", 0.45), ("7", "11", "0", 1.24), ("7", "11", "1.25", 0.57),
    ("6.5", "12", "0", 1.35), ("6.5", "12", "1.25", 0.76), ("6", "12", "0", 1.66), ("6", "12", "1.25", 1.10),
]  # fmt: skip


@pytest.mark.parametrize(("rise", "run", "nosing", "lift"), DERIVED)
def test_lift_of_the_derived_table(rise, run, nosing, lift):
    found = greatest_lift(F(rise), F(run), F(nosing), F(0), False, F(6))
    assert found.greatest == pytest.approx(lift, abs=0.006)  # the table is rounded to 0.01
    assert found.greatest == pytest.approx(step_lift(float(rise), float(run), float(nosing), 6.0), rel=1e-12)


def test_lift_may_have_to_be_below_the_nosing_line():
    # the same table in millimetres: 190 x 250, a ball of 125: plumb -1.5 and, with 25 of nosing, -20.5
    for nosing, plumb in (("0", -1.5), ("25", -20.5)):
        found = greatest_lift(F(190), F(250), F(nosing), F(0), False, F(125))
        assert found.greatest * hypot(190, 250) / 250 == pytest.approx(plumb, abs=0.06)


@pytest.mark.parametrize("seed", range(8))
def test_lift_by_substitution_whatever_is_touched(seed):
    rng = np.random.default_rng(seed)
    step = [F(round(float(x), 3)) for x in rng.uniform([6, 9, 0, 0.2], [8, 12, 2.5, 3])]
    limit, open_riser = F(round(float(rng.uniform(4, 9)), 3)), bool(seed % 2)
    found = greatest_lift(*step, open_riser, limit)
    if found.greatest is None:
        assert open_riser
        assert step[0] - step[3] >= limit
        return
    assert found.sphere == pytest.approx(float(limit), rel=1e-12)
    if found.greatest > 0.01:
        for by, passes in ((-1e-9, True), (1e-9, False)):
            lift = F(found.greatest + by)
            assert step_opening(*step, lift, open_riser, limit).passes is passes


def test_no_lift_helps_where_the_treads_let_it_through():
    found = greatest_lift(F(7), F(11), F(1), F(1), True, F(4))
    assert (found.greatest, found.sphere) == (None, None)
    assert found.why == "open between treads"


def test_spacing():
    # gap = spacing - diameter, so a 4 in sphere and 1/8 in strand: 4-1/8
    found = greatest_spacing(F(1, 8), F(4))
    assert (found.greatest, found.sphere) == (4.125, 4)


def test_an_edge_of_a_triangle_moves_as_its_incircle_grows():
    # moving one side of a 3-4-5 triangle outwards by t makes a similar triangle, its height on that side greater by t
    # (Euclid VI.4): the incircle of 2 becomes 2 (1 + t/h), and is 2.5 at t = h/4
    for edge, height in ((1, 3.0), (2, 4.0), (3, 2.4)):
        for ring in (points((0, 0), (4, 0), (4, 3)), points((0, 0), (4, 0), (4, 3))[::-1]):
            number = edge if ring[1] == (4, 0) and ring[0] == (0, 0) else {1: 2, 2: 1, 3: 3}[edge]
            for limit in (F(5, 2), F(3, 2)):
                found = edge_move(ring, frozenset(), F(0), number, limit)
                assert found.greatest == pytest.approx(height * (float(limit) / 2 - 1), rel=1e-12)
                assert found.sphere == pytest.approx(float(limit), rel=1e-12)


def test_an_edge_between_parallel_neighbours():
    # a 10 by 4 rectangle is 4 wide: its long side must come in by 1 for a limit of 3; its short side by 7
    ring = points((0, 0), (10, 0), (10, 4), (0, 4))
    assert edge_move(ring, frozenset(), F(0), 1, F(3)).greatest == pytest.approx(-1, rel=1e-12)
    assert edge_move(ring, frozenset(), F(0), 2, F(3)).greatest == pytest.approx(-7, rel=1e-12)
    assert edge_move(ring, frozenset(), F(0), 3, F(5)).greatest == pytest.approx(1, rel=1e-12)
    # outwards the short side changes nothing: the long ones hold the sphere
    assert edge_move(ring, frozenset(), F(0), 2, F(5)).greatest is None


def test_a_strand_moves_with_its_thickness():
    ring = points((0, 0), (10, 0), (10, 4), (0, 4))
    found = edge_move(ring, frozenset({3}), F(1, 2), 3, F(3))
    assert found.greatest == pytest.approx(-0.5, rel=1e-12)  # 4 less half a diameter is 3-1/2


@pytest.mark.parametrize("seed", range(6))
def test_moves_against_shapely(seed):
    # shapely.maximum_inscribed_circle of the moved outline, its corners found here by crossing lines
    rng = np.random.default_rng(seed)
    ring = np.array([(0, 0), (11, 1), (12, 8), (5, 5), (1, 9)]) + rng.uniform(-0.8, 0.8, (5, 2))
    if not shapely.Polygon(ring).is_valid:
        pytest.fail("a figure chosen to be sound is not")
    edge = int(rng.integers(1, 6))
    now = 2 * shapely.maximum_inscribed_circle(shapely.Polygon(ring), tolerance=1e-10).length
    limit = F(round(now * (0.9 if seed % 2 else 1.05), 6))
    found = edge_move([Vec(F(x), F(z)) for x, z in ring.tolist()], frozenset(), F(0), edge, limit)
    if found.greatest is None:
        assert found.why
        return
    k, n = edge - 1, len(ring)
    a, b, before, after = ring[k], ring[(k + 1) % n], ring[k - 1], ring[(k + 2) % n]
    outwards = np.array([b[1] - a[1], a[0] - b[0]]) / np.hypot(*(b - a))
    moved = ring.copy()
    for place, at, other in ((k, a, before), ((k + 1) % n, b, after)):
        run = at - other
        moved[place] = at + run * found.greatest / (run @ outwards)
    theirs = 2 * shapely.maximum_inscribed_circle(shapely.Polygon(moved), tolerance=1e-10).length
    assert theirs == pytest.approx(float(limit), abs=1e-7)


def test_edges_that_cannot_move_are_refused():
    ring = points((0, 0), (5, 0), (10, 0), (10, 4))
    with pytest.raises(GeometryError, match="not in line"):  # a strand is no piece of the plain side it is in line with
        edge_move(ring, frozenset({1}), F(1, 16), 1, F(1))
    with pytest.raises(GeometryError, match="an edge's number, 1 to 4, got 7"):
        edge_move(ring, frozenset(), F(0), 7, F(1))


def test_other_pockets_stay_whatever_one_edge_does():
    # two rooms: shrinking one leaves the other
    ring = points((0, 0), (10, 0), (10, 4), (6, 4), (6, 5), (10, 5), (10, 10), (0, 10), (0, 5), (4, 5), (4, 4), (0, 4))
    found = edge_move(ring, frozenset(), F(0), 1, F(3))
    assert found.greatest is None
    assert found.why == "no move stops it"


def test_an_edge_is_not_moved_past_where_its_figure_is_gone():
    """A house 272 wide: on 0.6.0 its wall, moved in by more than 272, was told to stop the sphere.

    The ridge is at 136: past it the wall crosses the far slope, and past the far wall the figure is turned over.
    """
    house = points((0, 0), (272, 0), (272, 142), (136, 199), (0, 142))
    for edge in (2, 5):
        found = edge_move(house, frozenset(), F(0), edge, F(133))
        assert found.greatest is None
        with pytest.raises(GeometryError, match="still there"):
            moved(house, frozenset(), F(0), edge, F(-136))
    # a part of it still does: half the house, moved to just short of the ridge
    assert moved(house, frozenset(), F(0), 5, F(-135))[0].x == pytest.approx(135)


def test_the_sqrt_2_of_a_square():
    # a right angle's corner cut by a 45 degree edge: legs 2, incircle 2 (2 - sqrt 2); moved out to legs 2 + t sqrt 2
    found = edge_move(points((0, 0), (2, 0), (0, 2)), frozenset(), F(0), 2, F(2))
    legs = 2 / (2 - sqrt(2))
    assert found.greatest == pytest.approx((legs - 2) / sqrt(2), rel=1e-12)


def test_pieces_of_one_side_move_together():
    # the 3-4-5 triangle above, its base in three pieces
    whole = edge_move(points((0, 0), (4, 0), (4, 3)), frozenset({1}), F(1, 16), 1, F(5, 2))
    cut = points((0, 0), (1, 0), (3, 0), (4, 0), (4, 3))
    for turn in range(5):
        ring = cut[turn:] + cut[:turn]
        base = sorted((k - turn) % 5 + 1 for k in range(3))
        for edge in base:
            found = edge_move(ring, frozenset(base), F(1, 16), edge, F(5, 2))
            assert found.greatest == pytest.approx(whole.greatest, rel=1e-12)
            assert found.what == Move(tuple(base[:3]))


def test_a_figure_made_of_lengths_moves_as_one_made_of_points():
    # corners that are surds: sides 5, 5 and 6 have the apex 4 over the base's middle; and a pentagon's roots differ
    drawn = figure([F(6), F(5), F(5)])
    found = edge_move(drawn.points, frozenset(), F(0), 1, F(5, 2))
    assert found.greatest == pytest.approx(
        edge_move(points((0, 0), (6, 0), (3, 4)), frozenset(), F(0), 1, F(5, 2)).greatest
    )
    skew = figure([F(41, 4), F(4), F(19, 2), F(33, 8)], [Diagonal(0, 2, F(11))])
    moved = edge_move(skew.points, frozenset({1, 3}), F(1, 16), 3, F(7, 2))
    region = shapely.Polygon(_moved([(float(p.x), float(p.z)) for p in skew.points], 2, moved.greatest))
    bodies = [
        shapely.LineString(list(region.exterior.coords)[k : k + 2]).buffer(1 / 16, quad_segs=2048) for k in (0, 2)
    ]
    left = region.difference(shapely.union_all(bodies))
    theirs = max(shapely.maximum_inscribed_circle(g, tolerance=1e-9).length for g in getattr(left, "geoms", [left]))
    assert 2 * theirs == pytest.approx(3.5, abs=1e-6)


def _moved(ring, k, by):
    """A ring of points, counter-clockwise, with edge k (from 0) moved out along its neighbours' lines."""
    ring, n = [np.array(p) for p in ring], len(ring)
    a, b = ring[k], ring[(k + 1) % n]
    along = (b - a) / hypot(*(b - a))
    out = np.array([along[1], -along[0]])
    for place, other in ((k, ring[k - 1]), ((k + 1) % n, ring[(k + 2) % n])):
        way = ring[place] - other
        ring[place] = ring[place] + way * by / (way @ out)
    return ring
