"""The tests' own search in space, against closed forms and against itself."""

from __future__ import annotations

import ast
from math import hypot, inf, sqrt
from pathlib import Path

import numpy as np
import pytest

from tests.geometry.space.shapes import bar, box, seen_from_above, seen_from_the_side
from tests.geometry.space.wide_ways import Room, held, room_in_a_cell, straight, widest

HERE = [Path(__file__).with_name(f"{name}.py") for name in ("wide_ways", "shapes", "scenes", "corners")]


@pytest.mark.parametrize("path", HERE, ids=lambda path: path.stem)
def test_it_shares_nothing_with_what_it_judges(path):
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        names = [node.module] if isinstance(node, ast.ImportFrom) else []
        names += [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
        for name in names:
            assert name is not None
            assert name.startswith("tests.geometry.space.") or not name.startswith(("stairguard", "tests")), name


def everywhere(points):
    return np.full(len(points), inf)


def through(shapes, low, high, **more):
    """From the low end of y to the high one, half a unit in."""
    room = Room(
        low=low,
        high=high,
        starts=lambda points: low[1] + 0.5 - points[:, 1],
        ends=lambda points: points[:, 1] - high[1] + 0.5,
        allowed=everywhere,
    )
    return widest(shapes, room, **more)


@pytest.mark.parametrize("seed", range(6))
def test_through_a_square_window(seed):
    """Half its side; the window may be anywhere between the cells. A hole of four bars: half of what they leave."""
    rng = np.random.default_rng(seed)
    x, z, half = *rng.uniform(-1, 1, 2), rng.uniform(0.5, 2)
    wall = -0.2, 0.2
    boxes = [
        box((-inf, x - half), wall, (-inf, inf)), box((x + half, inf), wall, (-inf, inf)),
        box((-inf, inf), wall, (-inf, z - half)), box((-inf, inf), wall, (z + half, inf)),
    ]  # fmt: skip
    least, most, at = through(boxes, (-6.0, -6.0, -6.0), (6.0, 6.0, 6.0), size=1.5, close=0.01)
    assert least <= half <= most < least + 0.011
    assert at == pytest.approx([x, 0.0, z], abs=0.8)


@pytest.mark.parametrize("seed", range(6))
def test_through_a_three_cornered_window(seed):
    """The inscribed circle of a right-angled triangle, (a + b - c) / 2, in a thin wall made of prisms."""
    a, b = np.random.default_rng(seed).uniform(3, 6, 2)
    wall = -0.01, 0.01
    beyond = [(a, 0.0), (a + 20 * b, 20 * a), (20 * b, b + 20 * a), (0.0, b)]  # past the long side
    shapes = [
        box((-inf, 0.0), wall, (-inf, inf)),
        box((-inf, inf), wall, (-inf, 0.0)),
        seen_from_the_side(beyond, wall),
        box((a, inf), wall, (-inf, inf)),
        box((-inf, inf), wall, (b, inf)),
    ]
    least, most, _ = through(shapes, (-4.0, -6.0, -4.0), (10.0, 6.0, 10.0), size=1.5, close=0.01)
    assert least <= (a + b - hypot(a, b)) / 2 <= most < least + 0.011


def test_where_nothing_gets_through():
    shapes = [box((-inf, inf), (-0.2, 0.2), (-inf, inf))]
    least, most, _ = through(shapes, (-3.0, -3.0, -3.0), (3.0, 3.0, 3.0), size=1.5, close=0.05)
    assert least == 0.0
    assert most <= 0.05


def test_the_narrowest_of_two_in_a_row_counts():
    """Two windows behind each other, the first narrower, not in line."""
    shapes = []
    for y, x, half in ((-3.0, -1.0, 0.8), (3.0, 1.0, 1.3)):
        wall = y - 0.1, y + 0.1
        shapes += [
            box((-inf, x - half), wall, (-inf, inf)),
            box((x + half, inf), wall, (-inf, inf)),
        ]
    least, most, at = through(shapes, (-6.0, -8.0, -4.0), (6.0, 8.0, 4.0), size=1.5, close=0.01)
    assert least <= 0.8 <= most
    assert at[1] == pytest.approx(-3.0, abs=0.5)


SHAPES = [
    box((-1.0, 2.0), (0.5, inf), (-inf, 0.0)),
    bar((-3.0, -2.0, 1.0), (4.0, -1.0, 2.0), 0.3),
    seen_from_above([(3.0, 3.0), (5.0, 2.0), (5.5, 4.0)], (-2.0, 1.0)),
    seen_from_the_side([(-5.0, 2.0), (-3.0, 3.0), (-4.0, 5.0)], (-1.0, inf)),
]


def test_of_shapes_by_their_nearest_point():
    """A distance is as long as the way off; from there straight back it falls to nothing."""
    points = np.random.default_rng(3).uniform(-8, 8, (500, 3))
    for shape in SHAPES:
        off = shape.off(points)
        assert np.linalg.norm(shape.off(points - off), axis=1) == pytest.approx(0.0, abs=1e-12)
        halfway = np.linalg.norm(shape.off(points - off / 2), axis=1)
        assert halfway == pytest.approx(np.linalg.norm(off, axis=1) / 2, abs=1e-12)


def test_by_hand():
    """Each worked by hand."""
    point = np.array([[4.0, -2.5, 3.0]])
    assert SHAPES[0].distance(point) == pytest.approx(sqrt(2.0**2 + 3.0**2 + 3.0**2))
    assert SHAPES[2].distance(np.array([[4.0, 1.5, 2.0]])) == pytest.approx(sqrt(0.8 + 1.0))
    assert SHAPES[1].distance(np.array([[5.0, -1.0, 2.0]])) == pytest.approx(0.7)


def test_no_centre_of_a_cell_has_more_room_than_its_bound():
    rng = np.random.default_rng(5)
    middles, half = rng.uniform(-8, 8, (300, 3)), rng.uniform(0.05, 2.0, 300)
    most = room_in_a_cell(held(SHAPES, middles), half)
    for _ in range(200):
        way = rng.normal(size=(300, 3))
        way *= (half * rng.uniform(0, 1, 300) ** (1 / 3) / np.linalg.norm(way, axis=1))[:, None]
        assert (held(SHAPES, middles + way).distance.min(axis=1) <= most + 1e-12).all()


def test_no_point_of_a_straight_piece_has_less_room_than_its_bound():
    rng = np.random.default_rng(6)
    points = rng.uniform(-8, 8, (400, 3))
    least = straight(SHAPES, points)
    share = np.linspace(0, 1, 201)[:, None]
    for k in range(len(points) - 1):
        along = points[k] + share * (points[k + 1] - points[k])
        assert held(SHAPES, along).distance.min() >= least[k] - 1e-12
