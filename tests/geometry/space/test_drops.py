"""Seen from above: an edge and a rod, where the closed form of the edge is known."""

from __future__ import annotations

from math import hypot

import numpy as np
import pytest

from stairguard.geometry.space.bodies import Rod
from stairguard.geometry.space.drops import Drop, upright
from stairguard.geometry.space.way_grid import widest_way


def drop(high: float, out: float, slope: float = 0.0) -> Drop:
    """A straight deck's edge along x, and a rod beside it."""
    return Drop(
        ground=(upright([(-90.0, -90.0), (90.0, -90.0), (90.0, 0.0), (-90.0, 0.0)], -90.0, 0.0),),
        rods=(Rod((-60.0, out, high - 60 * slope), (60.0, out, high + 60 * slope), 1 / 16),),
        posts=(),
        low=(-3.0, -9.0),
        high=(3.0, 9.0),
        counts=(12, 36),
        heights=(-12.0, 12.0),
    )


@pytest.mark.parametrize("seed", range(20))
def test_past_an_edge_it_is_the_closed_form(seed):
    """hypot(h, o) - d/2 from edge to strand, o - d/2 from the side below: derived."""
    rng = np.random.default_rng(seed)
    high, out = rng.uniform(-2.0, 4.0), rng.uniform(1.0, 5.0)
    way = widest_way(drop(high, out))
    assert way is not None
    assert way.error == 0.0
    assert 2 * way.saddle.radius == pytest.approx(hypot(max(high, 0.0), out) - 1 / 16, abs=1e-12)


def test_room_over_a_place_is_what_a_finer_search_finds():
    """Each radius against the best of ten thousand heights."""
    rng = np.random.default_rng(3)
    view = drop(1.5, 3.0, 0.4)
    x, y = rng.uniform(-3, 3, 50), rng.uniform(0.1, 8, 50)
    over, _, _ = view.radii(x, y)
    for a, b, radius in zip(x, y, over, strict=True):
        heights = np.linspace(-12, 12, 10_001)
        at = np.stack([np.full_like(heights, a), np.full_like(heights, b), heights], axis=1)
        under = at.copy()
        under[:, 2] = np.minimum(heights, 1.5 + 0.4 * a)  # it comes no nearer to the rod than under it, or past it
        best = np.minimum(view.ground[0].gap(at), view.rods[0].gap(under)).max()
        assert radius == pytest.approx(best, abs=5e-3)
