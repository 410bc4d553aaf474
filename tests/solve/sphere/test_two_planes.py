"""Outlines in two planes: against closed forms, a step's own solver, and what turning and parting them must give."""

from __future__ import annotations

import random
from fractions import Fraction as F
from math import hypot

import numpy as np
import pytest
import shapely

import stairguard
from stairguard.errors import GeometryError, OutlineError
from stairguard.solve.measured.measured_planes import planes_slopes
from stairguard.solve.sphere.two_planes import TwoPlanes, planes_opening
from tests.geometry.space.paths import widest
from tests.solve.sphere.flights import largest


def landing(height, offset):
    """A surface's edge, posts' faces at both ends, and the lowest strand: its fourth edge."""
    rows = [(0, 0, 0), (48, 0, 0), (48, 0, offset), (48, height, offset), (0, height, offset), (0, 0, offset)]
    return [tuple(F(v) for v in row) for row in rows]


def step(lift, offset, thick=F(1, 8), rise=F(31, 4), run=F(10), nosing=F(1)):
    """Tread and riser without their nosing's underside, and the member: its fourth edge."""
    over = (F(lift) + thick / 2) * F(hypot(1, rise / run))
    slope, back = rise / run, run + nosing
    left, right = -over / slope, back * slope + over
    rows = [(left, 0, 0), (back, 0, 0), (back, right, 0), (back, right, offset), (left, 0, offset)]
    return [tuple(F(v) for v in row) for row in rows]


def found(rows, **asked):
    return stairguard.points_opening(rows, strand_edges={4: "1/8in"}, **asked)


@pytest.mark.parametrize(("height", "offset"), [("2.79", "3.75"), ("0.5", "3.75"), ("3", "1"), ("4", "5")])
def test_a_landing_is_the_closed_form_s(height, offset):
    answer = found(landing(height, offset))
    assert answer.sphere == pytest.approx(hypot(float(height), float(offset)) - 1 / 16, rel=1e-12)
    assert {"edge 1", "edge 4"} <= set(answer.touches)
    assert answer.sphere == pytest.approx(stairguard.edge_opening(height, offset, "1/8in").sphere, rel=1e-12)


@pytest.mark.parametrize(("lift", "offset"), [("0", "3.75"), ("0", "2"), ("-1", "1"), ("0.5", "1")])
def test_a_step_triangle_is_the_step_s_and_the_search_s(lift, offset):
    answer = found(step(lift, offset))
    keys = {"nosing": "1in", "tread": "1in", "offset": offset, "strand_diameter": "1/8in"}
    assert answer.sphere == pytest.approx(stairguard.step_opening("7-3/4in", "10in", lift, **keys).sphere, rel=1e-9)
    least, most = largest(7.75, 10.0, 1.0, 1.0, float(lift), float(offset), 0.125, 0.1)
    assert least <= answer.sphere <= most
    (x, z), y = answer.centre, answer.beside.out
    for (cx, cz), cy in zip(answer.contacts, answer.beside.contacts, strict=True):
        assert hypot(cx - x, cz - z, cy - y) == pytest.approx(answer.sphere / 2, rel=1e-9)


@pytest.mark.parametrize("seed", range(6))
def test_no_larger_sphere_gets_through_and_that_one_does(seed):
    """A tread, a riser and a member across, against the path search in space; all behind tread and riser is filled."""
    rng = random.Random(f"planes {seed}")
    left, wide, high = rng.uniform(-2, 1), rng.uniform(6, 12), rng.uniform(4, 9)
    out, thick = rng.uniform(0.6, 4), rng.choice((0.125, 0.25, 1.0))
    rows = [(left, 0, 0), (wide, 0, 0), (wide, high, 0), (wide, high, out), (left, 0, out)]
    answer = stairguard.points_opening(rows, strand_edges={4: thick})
    solid = shapely.union_all([shapely.box(left - 60, -60, 200, 0), shapely.box(wide, -60, 200, high + 60)])
    rise, run = high, wide - left

    def over(points):
        """How far above the member's axis, square."""
        return (points[..., 2] * run - (points[..., 0] - left) * rise) / hypot(rise, run)

    def clear(points):
        seen, y = shapely.points(points[:, 0], points[:, 2]), points[:, 1]
        stair = np.hypot(shapely.distance(solid, seen), np.maximum(y, 0))
        return np.minimum(stair, np.hypot(over(points), y - out) - thick / 2)

    low, top = np.array([left - 1, 0.0, -out - 2]), np.array([wide + 1, out, high + out + 2])
    bounds = widest(clear, low, top, lambda at: (at[..., 2] > 0) & (at[..., 0] < wide), lambda at: over(at) < 0, 0.8, 2)
    assert 2 * bounds.least <= answer.sphere <= 2 * bounds.most


def test_turned_swapped_and_shifted_it_is_the_same():
    rows = step("0", "2")
    first = found(rows).sphere
    mirrored = [(-x, z, y) for x, z, y in rows]
    shifted = [(x + 7, z - 3, y + F(11, 2)) for x, z, y in rows]
    behind = [(x, z, -y) for x, z, y in rows]
    for other in (mirrored, shifted, behind):
        assert found(other).sphere == pytest.approx(first, rel=1e-9)
    turned = stairguard.points_opening(rows[::-1], strand_edges={1: "1/8in"})
    assert turned.sphere == pytest.approx(first, rel=1e-9)
    a, c = np.cos(0.3), np.sin(0.3)
    askew = [(F(float(x) * a - float(z) * c), F(float(x) * c + float(z) * a), y) for x, z, y in rows]
    same = {(rows[i][:2] == rows[j][:2]) == (askew[i][:2] == askew[j][:2]) for i in range(5) for j in range(5)}
    assert same == {True}
    assert found(askew).sphere == pytest.approx(first, rel=1e-9)


def test_in_one_plane_it_is_the_plane_s_to_the_last_digit():
    rows = [(0, 0), (9, 1), (8, 6), (1, 5)]
    plane = stairguard.points_opening(rows, strand_edges={2: "1/8in"}, limit="4in", tape="us", move=1)
    for y in (0, "3.75in", "-2in +- 1/8in"):
        same = stairguard.points_opening(
            [(*row, y) for row in rows], strand_edges={2: "1/8in"}, limit="4in", tape="us", move=1
        )
        assert same == plane


def test_planes_drawn_together_it_is_the_plane_s_and_apart_it_grows():
    plane = stairguard.points_opening(
        [row[:2] for row in (step("0", 1)[k] for k in (0, 1, 2))], strand_edges={3: "1/8in"}
    )
    grown = [found(step("0", offset)).sphere for offset in ("0.001", "1", "4")]
    assert grown[0] == pytest.approx(plane.sphere, abs=1e-5)
    assert grown == sorted(grown)


def test_slopes_against_differences():
    """Planes, members and diameters off a little, either way; a corner shared by both planes moves in both."""
    rows = step("0", "2")
    measured = stairguard.points_opening(
        [tuple((v, F(1, 64)) for v in row) for row in rows], strand_edges={4: "1/8in +- 1/100in"}, tape="none"
    )
    told = {share.measurement.name: share.derivative for share in measured.uncertainty.shares}
    h = 1e-5

    def sphere(by, thick=0.0):
        moved = [tuple(float(v) + by.get((axis, k), 0.0) for axis, v in zip("xzy", row, strict=True))
                 for k, row in enumerate(rows, 1)]  # fmt: skip
        return stairguard.points_opening(moved, strand_edges={4: 0.125 + thick}).sphere

    for names in (
        [("y", 4), ("y", 5)],  # the far plane
        [("x", 2), ("x", 3), ("x", 4)],  # the riser, and the strand's end with it
        [("z", 1), ("z", 2), ("z", 5)],
    ):
        up, down = (sphere(dict.fromkeys(names, sign * h)) for sign in (1, -1))
        assert sum(told[f"{axis} of point {k}"] for axis, k in names) == pytest.approx((up - down) / (2 * h), abs=1e-4)
    assert told["diameter of edge 4"] == pytest.approx((sphere({}, h) - sphere({}, -h)) / (2 * h), abs=1e-4)


def test_both_ends_of_a_strand_off_by_themselves_count_by_where_it_is_touched():
    """By hand: o/hyp of each end's share, rectangular; the share from where the sphere is along it."""
    rows = [(x, z, (y, F(1, 8) if k in (3, 4) else F(0))) for k, (x, z, y) in enumerate(landing("2.79", "3.75"))]
    answer = found(rows, tape="none", limit="6in")
    t = (48 - answer.contacts[answer.touches.index("edge 4")][0]) / 48
    by = 3.75 / hypot(2.79, 3.75) * hypot(t, 1 - t) / 8 / 3**0.5
    assert answer.uncertainty.standard == pytest.approx(by, rel=1e-6)


@pytest.mark.parametrize(
    ("rows", "edges", "where", "must"),
    [
        ([(0, 0, 0), (9, 0, 0), (9, 6, 2)], {}, "edge 2", "straight out"),
        ([(0, 0, 0), (9, 0, 0), (9, 0, 1), (9, 6, 2), (0, 6, 2), (0, 0, 2)], {}, "y of point 3", "one of two planes"),
        ([(0, 0, 0), (9, 0, 0), (9, 6, 0), (0, 6, 0), (0, 6, 1), (0, 6, 0)], {}, "points", "both planes"),
        ([(0, 0, 0), (9, 0, 0), (9, 0, 2), (9, 6, 2), (0, 6, 2), (0, 0, 2)], {2: F(1, 8)}, "edge 2", "no strand"),
        ([(0, 0, 0), (9, 0, 0), (9, 0, 2), (9, 6, 2), (0, 6, 2), (0, 0, 2)], {8: F(1, 8)}, "strand edge", "1 to 6"),
    ],
)
def test_what_cannot_be_judged_is_refused(rows, edges, where, must):
    with pytest.raises(OutlineError) as raised:
        stairguard.points_opening(rows, strand_edges=edges)
    assert where in [fault.where for fault in raised.value.faults]
    assert any(must in fault.must for fault in raised.value.faults)


def test_members_that_fill_it_leave_nothing():
    with pytest.raises(GeometryError):
        stairguard.points_opening(landing("0.25", "0.25"), strand_edges={4: "2in"})


def test_no_move_is_told_in_two_planes():
    with pytest.raises(stairguard.InputError, match="more than one plane"):
        found(landing("2", "2"), limit="4in", move=4)


def test_slopes_come_in_the_order_of_what_was_measured():
    from stairguard.io.read.opening_arguments import Given, read_outline

    asked = read_outline(landing("2.79", "3.75"), None, {4: "1/8in"}, Given(tape="none"))
    given = TwoPlanes.of(
        [stairguard_vec(x, z) for x, z, _ in landing("2.79", "3.75")],
        [y for *_, y in landing("2.79", "3.75")],
        {4: F(1, 16)},
    )
    slopes = planes_slopes(asked, given, planes_opening(given))
    assert len(slopes) == len(asked.measured)
    names = [m.name for m in asked.measured]
    far = sum(slopes[names.index(f"y of point {k}")] for k in (4, 5))
    assert far == pytest.approx(3.75 / hypot(2.79, 3.75), abs=1e-9)


def stairguard_vec(x, z):
    from stairguard.geometry.clearance.outline import Vec

    return Vec(F(x), F(z))
