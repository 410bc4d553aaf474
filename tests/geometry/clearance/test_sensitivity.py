"""Derivatives of pockets against finite differences of the engine, and against formulas of the field."""

from fractions import Fraction as F

import numpy as np
import pytest

from stairguard.errors import OutlineError
from stairguard.geometry.clearance.outline import Vec
from stairguard.geometry.clearance.pockets import pockets
from stairguard.geometry.clearance.polygon import polygon
from stairguard.geometry.clearance.sensitivity import motion_of_points, sensitivity


def exact(ring):
    return [Vec(F(float(x)), F(float(z))) for x, z in ring]


def by_points(points, strands=frozenset(), radius=F(0)):
    """An outline, and its motion by every coordinate and, last, by the radius of its strands."""
    outline = polygon(points, strands, radius)
    m = 2 * len(points)
    partials = np.concatenate([np.eye(m).reshape(len(points), 2, m), np.zeros((len(points), 2, 1))], axis=2)
    return outline, motion_of_points(outline, points, partials, np.r_[np.zeros(m), 1.0])


def random_ring(rng):
    n = int(rng.integers(3, 12))
    angle = np.sort(rng.uniform(0, 2 * np.pi, n))
    return np.c_[np.cos(angle), np.sin(angle)] * rng.uniform(3, 10, n)[:, None]


def difference(ring, strands, radius, place, step=1e-6):
    """Central difference of the largest sphere by one coordinate, or by the radius."""
    sizes = []
    for by in (step, -step):
        moved, thick = ring.copy().ravel(), radius
        if place < len(moved):
            moved[place] += by
        else:
            thick += by
        outline = polygon(exact(moved.reshape(-1, 2)), strands, F(thick))
        sizes.append(pockets(outline)[0].diameter)
    return (sizes[0] - sizes[1]) / (2 * step)


def test_largest_sphere_against_finite_differences():
    rng = np.random.default_rng(71)
    tried = with_corner = 0
    while tried < 40:
        ring = random_ring(rng)
        strands = frozenset(int(k) for k in rng.integers(1, len(ring) + 1, 1))
        try:
            outline, motion = by_points(exact(ring), strands, F(1, 16))
        except OutlineError:  # a random ring may cross itself
            continue
        found = pockets(outline)
        if not found or found[0].diameter < 1:
            continue
        best = sensitivity(outline, found[0], motion)
        # away from a change of contacts, where there is one derivative
        if best.margins.min() < 1e-3 or (len(found) > 1 and found[0].diameter - found[1].diameter < 1e-3):
            continue
        tried += 1
        with_corner += any(site >= len(ring) for site in found[0].sites)
        numeric = [difference(ring, strands, 1 / 16, k) for k in range(2 * len(ring) + 1)]
        assert best.diameter == pytest.approx(numeric, rel=1e-5, abs=2e-6)
    assert with_corner > 5


def test_an_incircle_grows_as_area_over_semi_perimeter():
    # D = 4 area / perimeter of a right triangle with legs a, b: D = a + b - c, so dD/da = 1 - a/c
    points = exact([(0, 0), (4, 0), (4, 3)])
    outline, motion = by_points(points)
    found = sensitivity(outline, pockets(outline)[0], motion)
    assert found.diameter[2] + found.diameter[4] == pytest.approx(1 - 4 / 5)  # both right-hand corners outwards
    assert found.diameter[5] == pytest.approx(1 - 3 / 5)


def test_moving_or_turning_the_whole_outline_changes_nothing():
    rng = np.random.default_rng(3)
    ring = np.array([(0, 0), (9, 1), (8, 6), (4, 3), (1, 7)]) + rng.uniform(-0.3, 0.3, (5, 2))
    outline, motion = by_points(exact(ring))
    found = sensitivity(outline, pockets(outline)[0], motion)
    by_point = found.diameter[:-1].reshape(-1, 2)
    assert by_point.sum(axis=0) == pytest.approx([0, 0], abs=1e-12)
    turn = np.c_[-ring[:, 1], ring[:, 0]]
    assert (by_point * turn).sum() == pytest.approx(0, abs=1e-12)
    # lengths are all there is: twice as large an outline has twice as large a sphere (Euler, homogeneous functions)
    assert (by_point * ring).sum() == pytest.approx(pockets(outline)[0].diameter)


def test_a_ridge_goes_with_half_of_each_edge_and_any_tilt_may_move_the_sphere():
    outline, motion = by_points(exact([(0, 0), (10, 0), (10, 4), (0, 4)]))
    found = sensitivity(outline, pockets(outline)[0], motion)
    assert found.diameter[[1, 3]] == pytest.approx([-0.5, -0.5])
    assert found.diameter[[5, 7]] == pytest.approx([0.5, 0.5])
    assert found.may_change(np.full(9, 1e-3))
    assert not found.may_change(np.r_[1e-3, np.zeros(8)])  # a corner along its edge tilts nothing


def test_margins_are_the_slack_and_weights_of_the_contacts():
    # a near-rectangle: the sphere stands at the wide end, held by its weight on the end's edge
    wide, close = (exact([(0, 0), (10, 0), (10, 4 + tilt), (0, 4)]) for tilt in (1.0, 0.001))
    for points, changes in ((wide, False), (close, True)):
        outline, motion = by_points(points)
        assert sensitivity(outline, pockets(outline)[0], motion).may_change(np.full(9, 0.01)) is changes


def test_of_four_edges_the_three_that_hold_best_count():
    """Round a circle of 1 in, edges at 240, 0, 120 and 200 degrees: three alike hold it, the last may move outwards."""
    normals = np.radians([240, 0, 120, 200])

    def corner(first, second):
        rows = np.array([[np.cos(a), np.sin(a)] for a in (first, second)])
        return np.linalg.solve(rows, [1, 1])

    points = [corner(a, b) for a, b in zip(np.roll(normals, 1), normals, strict=True)]
    outline, motion = by_points(exact(points))
    found = sensitivity(outline, pockets(outline)[0], motion).diameter[:-1].reshape(-1, 2)
    last, first = points[3], points[0]  # the edge at 200 degrees moves along the two beside it
    along = [last - points[2], first - points[1]]
    moved = [way / (way @ [np.cos(normals[3]), np.sin(normals[3])]) for way in along]
    assert found[3] @ moved[0] + found[0] @ moved[1] == pytest.approx(0, abs=1e-9)
    # and by Euler the diameter, of lengths of which there is nothing else
    assert (found * points).sum() == pytest.approx(2)
