"""Corners in the middle of straight sides, and strands for edges, against squares halved until nothing larger is left.

`tests/geometry/clearance/halving.py` shares nothing with the package; a few hundred of each kind every
day, 4,000 of each with ``--exhaustive``.
"""

from fractions import Fraction as F

import pytest
import shapely

from stairguard.errors import OutlineError
from stairguard.geometry.clearance.outline import Vec
from stairguard.geometry.clearance.pockets import compare, diameter, largest, pockets
from stairguard.geometry.clearance.polygon import polygon
from stairguard.geometry.survey.triangulated import Diagonal, figure
from tests.geometry.clearance.awkward import collinear, stranded
from tests.geometry.clearance.halving import largest_sphere

BATCH = 100
DAILY = 3
_NOTHING = 1e-12
"""Where strands fill the figure nothing is left to be relative to; the halves end at this width."""
BATCHES = [pytest.param(k, marks=[pytest.mark.exhaustive] * (k >= DAILY)) for k in range(40)]


def exact(*pairs):
    return tuple(Vec(F(x), F(z)) for x, z in pairs)


def agrees(corners, strands=frozenset(), radius=F(0)):
    """Hold every way to the largest sphere to the squares' two figures; return the pockets."""
    outline = polygon(corners, strands, radius)
    below, above = largest_sphere([(float(p.x), float(p.z)) for p in corners], strands, float(radius))
    nothing = below < 1e-9 * float(max(p.x for p in corners) - min(p.x for p in corners))
    assert nothing or above <= below * (1 + 1e-9) + _NOTHING
    found, best = pockets(outline), largest(outline)
    spheres = [found[0].diameter, best.diameter, float(diameter(outline, found[0]))] if found else [0.0]
    assert (best is None) == (not found)
    if nothing:  # strands touch the edges opposite: nothing is found but the last digit
        assert max(spheres) <= below + _NOTHING
        return found
    for sphere in spheres:
        assert below * (1 - 1e-9) <= sphere <= above * (1 + 1e-9)
    for pocket in found:  # an exact figure for every one, and no limit that has no verdict
        sure = diameter(outline, pocket)
        assert float(sure) == pytest.approx(pocket.diameter, rel=1e-9)
        assert compare(outline, pocket, F(pocket.diameter)) == (sure - F(pocket.diameter)).sign()
    return found


@pytest.mark.parametrize("batch", BATCHES)
@pytest.mark.parametrize("kind", [collinear, stranded])
def test_none_smaller_and_none_larger(kind, batch):
    done = seed = 0
    while done < BATCH:
        drawn = kind(batch * 10 * BATCH + seed)
        seed += 1
        try:
            polygon(*drawn)
        except OutlineError:  # a corner laid on another side
            continue
        done += 1
        agrees(*drawn)


def test_a_strand_that_touches_the_edge_opposite_leaves_nothing():
    # 1/8 high, with strands of 1/8 in radius along the upper edge and the left one: they touch the lower edge all along
    corners = exact((1, 0), (F(11, 8), F(1, 8)), (F(11, 16), F(1, 8)), (F(13, 16), 0))
    assert agrees(corners, frozenset({2, 3}), F(1, 8)) == ()


def test_a_square_with_a_corner_in_the_middle_of_a_side():
    # four contacts, two of them where the halves of a side meet: no three of them hold the sphere alone
    (found,) = agrees(exact((0, 0), (2, 0), (4, 0), (4, 4), (0, 4)))
    assert found.diameter == 4


def test_a_reflex_corner_across_a_side_in_pieces():
    # the sphere touches both pieces of the left side where they meet, the corner opposite, and two sides besides
    corners = exact((0, 0), (44, 0), (44, 20), (32, 20), (32, 8), (20, 8), (16, 8), (16, 16), (0, 16), (0, 8), (0, 4))
    assert agrees(corners)[0].diameter == 16


def test_two_corners_in_a_plumb_line_over_a_landing():
    # 8 square between a floor, two corners level with the middle and a lid: corner, corner and side in one line
    corners = exact((0, 4), (6, 4), (6, 8), (14, 8), (14, 4), (17, 4), (20, 4), (20, 0), (0, 0))
    assert agrees(corners)[0].diameter == 8


@pytest.mark.parametrize("turned", [(F(1), F(0)), (F(3, 5), F(4, 5)), (F(5, 13), F(-12, 13))])
def test_a_ridge_runs_on_past_a_corner_in_its_side(turned):
    c, s = turned
    plain = [(0, 0), (3, 0), (5, 0), (8, 0), (8, 3), (4, 3), (0, 3)]
    (found,) = agrees(exact(*((c * x - s * z, s * x + c * z) for x, z in plain)))
    assert found.diameter == pytest.approx(3, rel=1e-14)
    ends = [(float(c * x - s * F(3, 2)), float(s * x + c * F(3, 2))) for x in (F(3, 2), F(13, 2))]
    assert sorted(found.ridge) == [pytest.approx(end, abs=1e-12) for end in sorted(ends)]
    # its middle stands before the second piece of the long side
    assert found.sites[0] == 1 or found.sites[1] == 1


def test_a_strand_that_ends_in_an_acute_wedge_keeps_its_sphere_inside():
    drawn = figure([F(69, 8), F(95, 16), F(3), F(57, 16)], [Diagonal(0, 2, F(11, 4))])
    found = agrees(drawn.points, frozenset({1, 3}), F(3, 32))
    assert found[0].diameter == pytest.approx(1.764, abs=5e-4)
    region = shapely.Polygon([(float(p.x), float(p.z)) for p in drawn.points])
    assert all(region.contains(shapely.Point(p.centre)) for p in found)


def test_a_strand_comes_out_at_the_far_side_of_a_thin_wall():
    # between two rooms 1/16 thick: a strand of 1 along the left of it leaves 1/2 - 1/16 less to the right
    wall = F(1, 16)
    corners = exact((0, 0), (6, 0), (6, 8), (6 + wall, 8), (6 + wall, 0), (12 + wall, 0), (12 + wall, 9), (0, 9))
    found = agrees(corners, frozenset({2}), F(1, 2))
    right = max(p.diameter for p in found if p.centre[0] > 6 + wall)
    touched = {polygon(corners, frozenset({2}), F(1, 2)).name(s) for p in found if p.centre[0] > 6 for s in p.sites}
    assert right == pytest.approx(6 - (F(1, 2) - wall), rel=1e-12)
    assert "edge 2" in touched
