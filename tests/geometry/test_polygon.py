"""Outlines by corner points: what is refused, by which name, and that direction and numbering do not matter."""

from fractions import Fraction as F

import pytest

from stairguard.errors import OutlineError
from stairguard.geometry.outline import Vec
from stairguard.geometry.pockets import pockets
from stairguard.geometry.polygon import polygon


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
    ring = points((0, 0), (6, 0), (6, 4), (3, 2), (0, 4))
    rolled = ring[turn:] + ring[:turn]
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
