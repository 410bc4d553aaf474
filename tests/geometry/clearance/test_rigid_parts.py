"""Circles that touch edges and points one by one, against circles that were there first and the parts drawn to them."""

from __future__ import annotations

from fractions import Fraction as F
from itertools import pairwise
from math import cos, hypot, pi, sin

import numpy as np
import pytest

from stairguard.geometry.clearance.outline import Corner, Edge, Outline, Vec
from stairguard.geometry.clearance.rigid_parts import Disc, beside, off, rigid, thirds

SEEDS = range(12)
ORIGIN = Vec(F(0), F(0))


def vec(x, z):
    return Vec(F(float(x)), F(float(z)))


def direction(angle):
    return np.array([cos(angle), sin(angle)])


def drawn(kinds, circle, angles, radii, before=2.0, after=3.0):
    """Parts that a circle touches, at these angles from its centre, of those radii; in the order of ``kinds``.

    An edge has its free side on the left: a circle that touches it below itself sees it run to the right.
    """
    centre = np.array(circle[:2])
    edges, corners, order = [], [], []
    for kind, angle, radius in zip(kinds, angles, radii, strict=True):
        at = centre + (circle.r + float(radius)) * direction(angle)
        order.append((kind, len(edges if kind == "e" else corners)))
        if kind == "e":
            along = direction(angle + pi / 2)
            edges.append(Edge(vec(*(at - before * along)), vec(*(at + after * along)), "edge", radius))
        else:
            corners.append(Corner(vec(*at), "corner", radius))
    parts = rigid(Outline(tuple(edges), tuple(corners)), (), ORIGIN).parts
    return [parts[k if kind == "e" else len(edges) + k] for kind, k in order]


def near(found, circle, within=1e-8):
    return any(np.hypot(c.x - circle.x, c.z - circle.z) + abs(c.r - circle.r) < within for c in found)


def touches(part, circle):
    """Distance from a part's surface less the radius, edges endless, by vectors."""
    away = np.array([circle.x - part.x, circle.z - part.z])
    if part.flat:
        return float(away @ [-part.uz, part.ux]) - part.radius - circle.r
    return float(np.linalg.norm(away)) - part.radius - circle.r


def planted(seed, count):
    """A circle, and where ``count`` parts of what radii touch it: spread so that no two are nearly in line."""
    rng = np.random.default_rng([8, seed])
    circle = Disc(*(float(v) for v in rng.uniform(-5, 5, 2)), float(rng.uniform(0.5, 3)))
    spread = {2: [0.0, 1.9], 3: [0.0, 1.8, 4.1]}[count]
    angles = rng.uniform(0, 2 * pi) + np.array(spread) + rng.uniform(-0.25, 0.25, count)
    radii = [F(int(v), 16) for v in rng.integers(0, 9, count)]
    return circle, angles, radii


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("kinds", ["ee", "ep", "pp"])
def test_two_parts_and_a_radius_give_the_circle_back(kinds, seed):
    circle, angles, radii = planted(seed, 2)
    a, b = drawn(kinds, circle, angles, radii)
    found = list(beside(a, b, circle.r))
    assert near(found, circle)
    assert len(found) == (1 if kinds == "ee" else 2)
    for other in found:
        assert other.r == circle.r
        assert [touches(a, other), touches(b, other)] == pytest.approx([0, 0], abs=1e-9)


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("kind", ["e", "p"])
def test_a_side_of_a_point_and_another_part_give_the_circle_back(kind, seed):
    circle, angles, radii = planted(seed, 2)
    point, other = drawn("p" + kind, circle, angles, radii)
    way = tuple(-direction(angles[0]))
    found = list(off(point, way, other))
    assert len(found) == 1
    assert near(found, circle)


def test_a_side_that_runs_along_an_edge_meets_no_circle():
    # the centre goes away from the edge as fast as the circle grows: it never reaches it
    edge, point = drawn("ep", Disc(0.0, 1.0, 1.0), [-pi / 2, 0.0], [F(0), F(0)])
    assert list(off(point, edge.outward(Disc(0.0, 0.0, 1.0)), edge)) == []


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("kinds", ["eee", "eep", "epe", "epp", "pep", "ppp"])
def test_three_parts_give_the_circle_back(kinds, seed):
    circle, angles, radii = planted(seed, 3)
    parts = drawn(kinds, circle, angles, radii)
    found = list(thirds(*parts))
    assert near(found, circle)
    assert len(found) == (1 if kinds == "eee" else 2)
    for other in found:
        if other.r > 0:
            assert [touches(p, other) for p in parts] == pytest.approx([0, 0, 0], abs=1e-7)


@pytest.mark.parametrize("seed", SEEDS)
def test_two_edges_that_face_each_other_and_a_point_give_the_circle_back(seed):
    circle, angles, radii = planted(seed, 3)
    turned = [angles[0], angles[0] + pi, angles[2]]
    parts = drawn("eep", circle, turned, radii)
    found = list(thirds(*parts))
    assert len(found) == 2  # on either side of the point
    assert near(found, circle)
    for other in found:
        assert other.r == pytest.approx(circle.r)
        assert [touches(p, other) for p in parts] == pytest.approx([0, 0, 0], abs=1e-9)


@pytest.mark.parametrize("upright", [False, True])
def test_a_channel_along_an_axis_and_a_point_in_it_by_hand(upright):
    # sides 2 apart hold a circle of 1 in their middle; over a point half way up it stands 1 to either side
    def at(along, across):
        return vec(-across, along) if upright else vec(along, across)

    sides = Edge(at(-4, 0), at(4, 0), "edge"), Edge(at(4, 2), at(-4, 2), "edge")
    parts = rigid(Outline(sides, (Corner(at(0, 1), "corner"),)), (), ORIGIN).parts
    found = {(round(c.x, 9), round(c.z, 9), round(c.r, 9)) for c in thirds(parts[0], parts[1], parts[2])}
    assert found == {(float(at(k, 1).x), float(at(k, 1).z), 1.0) for k in (-1, 1)}


@pytest.mark.parametrize("seed", SEEDS)
def test_points_in_line_of_unlike_radii_give_the_circle_back(seed):
    rng = np.random.default_rng([9, seed])
    half, sink = float(rng.uniform(2, 4)), F(int(rng.integers(1, 8)), 8)
    # over the middle one of no radius at height r, and over the outer ones of radius q: hypot(half, r) = r + q
    q = float(sink)
    r = (half * half - q * q) / (2 * q)
    corners = tuple(Corner(vec(x, 0.0), "corner", k) for x, k in ((-half, sink), (0.0, F(0)), (half, sink)))
    parts = rigid(Outline((), corners), (), ORIGIN).parts
    found = list(thirds(*parts))
    assert near(found, Disc(0.0, r, r), 1e-6 * r)
    assert near(found, Disc(0.0, -r, r), 1e-6 * r)


def test_edges_of_one_direction_or_points_of_one_radius_in_line_hold_none():
    ahead = [Edge(vec(0, k), vec(4, k), "edge") for k in (0, 1)]
    parts = rigid(Outline((*ahead, Edge(vec(4, 2), vec(0, 2), "edge")), ()), (), ORIGIN).parts
    assert list(thirds(*parts[:3])) == []
    row = rigid(Outline((), tuple(Corner(vec(k, k), "corner", F(1, 8)) for k in range(3))), (), ORIGIN).parts
    assert list(thirds(*row)) == []


def test_parts_of_an_outline_by_hand():
    # a 4 by 3 triangle measured from (1, 1); its slope, a strand of 1/4, and the corner at (1, 1) as the others
    corners = [vec(1, 1), vec(5, 1), vec(1, 4)]
    edges = tuple(
        Edge(a, b, f"edge {k}", r)
        for k, (a, b, r) in enumerate(zip(corners, corners[1:] + corners[:1], (F(0), F(1, 8), F(0)), strict=True))
    )
    found = rigid(Outline(edges, (Corner(vec(7, 2), "corner", F(1, 16)),)), (), vec(1, 1))
    assert [p.flat for p in found.parts] == [True] * 3 + [False] * 6
    level, slope, upright = found.parts[:3]
    assert (level.x, level.z, level.ux, level.uz, level.length, level.radius) == (0, 0, 1, 0, 4, 0)
    assert (slope.x, slope.z, slope.ux, slope.uz, slope.length) == pytest.approx((4, 0, -4 / 5, 3 / 5, 5))
    assert (upright.x, upright.z, upright.ux, upright.uz, upright.length) == (0, 3, 0, -1, 3)
    # the strand ends in points of its own radius, where the plain edges end in points of none
    at = {(p.x, p.z, p.radius): [(j.edge, j.out) for j in p.joins] for p in found.parts[3:]}
    assert at == {
        (6, 1, 1 / 16): [],
        (0, 0, 0): [(0, -1), (2, 1)],
        (4, 0, 0): [(0, 1)],
        (4, 0, 1 / 8): [(1, -1)],
        (0, 3, 1 / 8): [(1, 1)],
        (0, 3, 0): [(2, -1)],
    }
    for number, edge in enumerate(found.parts[:3]):
        for join in edge.joins:
            point = found.parts[join.point]
            assert join.edge == number
            assert join in point.joins
            end = edge.length if join.out > 0 else 0.0
            assert (point.x, point.z) == pytest.approx((edge.x + end * edge.ux, edge.z + end * edge.uz))
    assert found.scale == 6
    assert found.origin == vec(1, 1)


def test_what_gives_is_no_part():
    corners = [vec(0, 0), vec(4, 0), vec(4, 3)]
    edges = tuple(Edge(a, b, "edge", F(1, 8)) for a, b in pairwise(corners))
    loose = Corner(vec(1, 2), "corner")
    outline = Outline(edges, (loose, Corner(vec(2, 2), "corner")))
    found = rigid(outline, {1, 2}, ORIGIN)  # the upright edge and the first corner
    assert [(p.x, p.z, p.flat) for p in found.parts] == [(0, 0, True), (2, 2, False), (0, 0, False), (4, 0, False)]


def test_where_a_circle_touches_by_hand():
    # an edge up a 3-4-5 slope from (1, 1) to (5, 4), surface 1/2 before it; free side upper left
    edge, start, end = rigid(Outline((Edge(vec(1, 1), vec(5, 4), "edge", F(1, 2)),), ()), (), ORIGIN).parts
    # 2 along and 1.5 off: (1, 1) + 2 (4/5, 3/5) + 1.5 (-3/5, 4/5)
    at = Disc(1 + 1.6 - 0.9, 1 + 1.2 + 1.2, 1.0)
    assert edge.foot(at) == pytest.approx(2)
    assert edge.gap(at) == pytest.approx(1)
    assert edge.outward(at) == pytest.approx((-3 / 5, 4 / 5))
    assert not edge.beyond(at, 0.0)
    assert end.gap(at) == pytest.approx(hypot(3, 1.5) - 0.5)
    assert end.outward(at) == pytest.approx((np.array([at.x - 5, at.z - 4]) / hypot(3, 1.5)).tolist())
    # outward of a point at the centre itself is no direction
    assert end.outward(Disc(5.0, 4.0, 1.0)) == (0, 0)
    assert not start.beyond(Disc(-9.0, -9.0, 1.0), 0.0)  # a point has no end to be past


@pytest.mark.parametrize(
    ("along", "off_line", "past"),
    [(-0.2, 1, True), (-0.05, 1, False), (0, 1, False), (5.05, 1, False), (5.2, 1, True), (2, -1, True), (2, 0, False)],
)
def test_past_the_end_of_an_edge_or_behind_it(along, off_line, past):
    (edge, *_) = rigid(Outline((Edge(vec(0, 0), vec(5, 0), "edge"),), ()), (), ORIGIN).parts
    assert edge.beyond(Disc(along, off_line, 1.0), 0.1) is past


def test_what_a_circle_touches_and_what_it_only_nears():
    # a 4 by 2 tray: a circle of radius 1 in its corner touches bottom and end; half a hair of slack adds nothing
    ring = [vec(0, 0), vec(4, 0), vec(4, 2), vec(0, 2)]
    edges = tuple(Edge(a, b, "edge") for a, b in zip(ring, ring[1:] + ring[:1], strict=True))
    tray = rigid(Outline(edges[:2], ()), (), ORIGIN)
    assert tray.touched(Disc(3.0, 1.0, 1.0), 1e-9) == [0, 1]
    assert tray.touched(Disc(2.9, 1.0, 1.0), 1e-9) == [0]
    assert tray.touched(Disc(2.9, 1.0, 1.0), 0.15) == [0, 1]
    # over the tray's left end: the point where the bottom starts (it, and not the bottom's line, is touched)
    points = {(p.x, p.z): k for k, p in enumerate(tray.parts) if not p.flat}
    assert tray.touched(Disc(-0.6, 0.8, 1.0), 1e-9) == [points[0.0, 0.0]]
