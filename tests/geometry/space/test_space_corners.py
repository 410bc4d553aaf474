"""A deck's corner and edge beside which strands stand: the search in space against closed forms derived beside them."""

from __future__ import annotations

import random
from math import cos, hypot, inf, radians

import numpy as np
import pytest
import shapely

from tests.geometry.space.corners import Corner, out_at, past_edge, round_corner
from tests.geometry.space.scenes import edge_out


def seeds(every_day: int, more: int) -> list:
    """Of random cases, those of every day and the rest of them."""
    return [*range(every_day), *(pytest.param(k, marks=pytest.mark.exhaustive) for k in range(every_day, more))]


def some(rng: random.Random, **more) -> Corner:
    """A corner as ordinary or as odd as may be; its lowest strand above the deck, level with it or below."""
    return Corner(
        turn=rng.choice([30, 45, 60, 75, 90, rng.uniform(30, 90)]), inner=rng.random() < 0.5,
        offset=rng.uniform(1.5, 5), strands=(rng.choice([0.0, rng.uniform(-3, -0.5), rng.uniform(0.5, 3)]),),
        radius=rng.choice([1 / 16, 3 / 32, 1 / 8]), leg=5.0, **more,
    )  # fmt: skip


@pytest.mark.parametrize("seed", seeds(6, 20))
def test_round_a_corner_without_a_post_it_is_the_corners_sphere(seed):
    """Larger than along the straight edge, either hand."""
    corner = some(random.Random(f"corner {seed}"))
    least, most, _ = out_at(corner, close=0.02)
    lowest = corner.strands[0]
    assert least <= round_corner(corner) <= most < least + 0.05
    assert round_corner(corner) > past_edge(corner.offset, lowest, corner.radius)


def in_plan(corner: Corner) -> float:
    """Radius of the largest circle in plan between the deck, the strands' lines and the post, by a grid and its climb.

    Level strands no higher than the deck's surface: whatever gets past them gets past their own level, where centre,
    deck, strands and post are all in plan; and straight down through it all else is as far off or farther.
    """
    far = 60.0
    (u, v), (n, m) = corner.ways, corner.outs
    quads = [[-far * u, 0 * u, -far * n, -far * (u + n)], [0 * v, far * v, far * (v - m), -far * m]]
    if corner.inner:
        quads = [[-far * w, far * w, far * (w - o), -far * (w + o)] for w, o in ((u, n), (v, m))]
        deck = shapely.union_all([shapely.Polygon(quad) for quad in quads])
    else:
        deck = shapely.Polygon([0 * u, -far * u, -far * (n + m), far * v])
    strands = shapely.LineString([corner.meet - far * u, corner.meet, corner.meet + far * v])
    post = shapely.Polygon(corner.post(corner.meet, corner.post_turned))

    def room(points):
        here = shapely.points(points)
        off = [shapely.distance(deck, here), shapely.distance(strands, here) - corner.radius]
        return np.min([*off, shapely.distance(post, here)], axis=0)

    between = shapely.LineString([0 * u, corner.meet]).buffer(corner.leg)
    low, high = np.array(between.bounds[:2]), np.array(between.bounds[2:])
    grid = np.stack(np.meshgrid(*(np.linspace(a, b, 161) for a, b in zip(low, high, strict=True))), axis=-1)
    grid = grid.reshape(-1, 2)
    out = corner.out(np.column_stack([grid, 0 * grid[:, 0]]))
    grid = grid[(out > 0) & (out < corner.offset)]
    tops = grid[np.argsort(-room(grid))[:40]]
    size, rng = (high - low).max() / 160, np.random.default_rng(0)
    for _ in range(300):
        tried = tops[:, None] + rng.normal(size=(len(tops), 12, 2)) * size
        got = room(tried.reshape(-1, 2)).reshape(len(tops), 12)
        pick = got.argmax(axis=1)
        better = got.max(axis=1) > room(tops)
        tops[better] = tried[np.arange(len(tops)), pick][better]
        size = size if better.mean() > 0.3 else size * 0.9
    return float(room(tops).max())


@pytest.mark.parametrize("seed", seeds(3, 8))
def test_round_a_corner_with_its_post_no_higher_than_the_deck_it_is_the_circle_in_plan(seed):
    rng = random.Random(f"post {seed}")
    corner = some(rng, post_width=rng.choice([1.5, 2.0, 3.5]), post_turned=0.0)
    corner = Corner(**{key: getattr(corner, key) for key in corner.__slots__} | {"strands": (-rng.choice([0.0, 1.5]),)})
    least, most, _ = out_at(corner, close=0.02)
    assert least - 1e-6 <= in_plan(corner) <= most + 1e-6 < least + 0.06


def test_the_corner_of_a_landing_by_hand():
    """Worked by hand: a right angle, 3-3/4 out, an eighth thick, at the deck's level: 3.6875 * 2 / (1 + cos 45)."""
    corner = Corner(turn=90, inner=False, offset=3.75, strands=(0.0,), radius=1 / 16)
    assert 2 * round_corner(corner) == pytest.approx(3.6875 * 2 / (1 + cos(radians(45))), abs=1e-12)
    assert 2 * round_corner(corner) == pytest.approx(4.32018, abs=1e-5)


@pytest.mark.parametrize("seed", seeds(6, 20))
def test_past_an_edge_and_its_end_post(seed):
    """hypot(h, o) - d/2, derived, where the bay has room for it; beside its posts never more."""
    rng = random.Random(f"edge {seed}")
    offset, height, radius = rng.uniform(0.5, 5), rng.uniform(-3, 4), rng.choice([1 / 16, 3 / 32, 1 / 8])
    width, gap = rng.choice([1.5, 3.5]), rng.uniform(10, 20)
    drop = rng.choice([inf, rng.uniform(4, 8)])
    true = past_edge(offset, height, radius)
    least, most, _ = edge_out(
        offset=offset, height=height, radius=radius, faces=(0.0, gap), post_width=width, foot=-drop, close=0.02
    )
    assert hypot(offset, max(height, 0)) < gap
    assert least <= true <= most < least + 0.05
