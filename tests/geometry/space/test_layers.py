"""The widest way past two layers, against closed forms derived here and a path search of its own."""

from __future__ import annotations

from math import ceil, hypot, sqrt

import numpy as np
import pytest

from stairguard.geometry.space.bodies import Prism, Rod
from stairguard.geometry.space.layers import Layer, Screen
from stairguard.geometry.space.way_grid import Way, widest_way

ORIGIN = (0.0, 0.0, 0.0)
AXES = ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, 1.0, 0.0))
DECK = ((-50.0, -30.0), (50.0, -30.0), (50.0, 0.0), (-50.0, 0.0))


def rod(high: float, slope: float, out: float, radius: float) -> Layer:
    """One along x, past all else."""
    ends = (-60.0, high - 60 * slope), (60.0, high + 60 * slope)
    (ax, az), (bx, bz) = ends
    return Layer(Rod((ax, out, az), (bx, out, bz), radius), ends, out)


def deck_and_rod(high: float, out: float, diameter: float, *more: Layer) -> Way | None:
    """Out over the edge of a deck at no height, under a rod."""
    tall = 2.0 + out + abs(high)
    return widest_way(
        Screen(
            near=(Layer(Prism(ORIGIN, AXES, DECK, (-99.0, 0.0)), DECK, 0.0),),
            far=(rod(high, 0.0, out, diameter / 2), *more),
            low=(-4.0, -tall),
            high=(4.0, tall),
            counts=(12, ceil(3 * tall)),
            starts=lambda x, z: z > 0,
            ends=lambda x, z: z < high,
            shut=lambda x, z: np.zeros_like(x, bool),
        )
    )


@pytest.mark.parametrize("seed", range(40))
def test_past_a_decks_edge_is_by_closed_form(seed):
    """hypot(h, o) - d/2, derived; with the strand as low as the deck, or lower, o - d/2."""
    rng = np.random.default_rng(seed)
    high, out, diameter = rng.uniform(-3.0, 5.0), rng.uniform(0.3, 6.0), rng.choice([0.125, 0.1875, 0.25])
    way = deck_and_rod(high, out, diameter)
    assert way is not None
    assert way.error == 0.0
    assert 2 * way.saddle.radius == pytest.approx(hypot(max(high, 0.0), out) - diameter / 2, abs=1e-12)


def test_the_edge_by_hand():
    """Worked by hand: out 3.75, up 2.79, an eighth thick."""
    way = deck_and_rod(2.79, 3.75, 0.125)
    assert way is not None
    assert 2 * way.saddle.radius == pytest.approx(4.6115, abs=5e-5)


def test_between_two_uprights_it_is_what_they_leave():
    """Nothing wider than the clear gap gets between two posts, whatever room there is beside them."""
    posts = []
    for left, right in ((-30.0, -1.5), (1.5, 30.0)):
        figure = (left, -60.0), (right, -60.0), (right, 60.0), (left, 60.0)
        posts.append(Layer(Prism(ORIGIN, AXES, figure, (2.0, 4.0)), figure, 2.0))
    way = deck_and_rod(6.0, 3.0, 0.125, *posts)
    assert way is not None
    assert 2 * way.saddle.radius == pytest.approx(3.0, abs=1e-12)


def test_in_one_plane_it_is_the_triangle():
    """In a right-angled corner under a line, the inscribed circle: (a + b - c) / 2, of legs and hypotenuse."""
    corner = (-50.0, -50.0), (50.0, -50.0), (50.0, 0.0), (-50.0, 0.0)
    wall = (6.0, -50.0), (50.0, -50.0), (50.0, 50.0), (6.0, 50.0)
    low = Layer(Prism(ORIGIN, AXES, corner, (-99.0, 0.0)), corner, 0.0)
    back = Layer(Prism(ORIGIN, AXES, wall, (-99.0, 0.0)), wall, 0.0)
    tiny = 1e-9
    way = widest_way(
        Screen(
            near=(low, back),
            far=(rod(-2.0 / 3, 2 / 3, tiny, 0.0),),  # comes to the floor at x = 1, to the wall at z = 10 / 3
            low=(0.0, -1.0),
            high=(8.0, 6.0),
            counts=(16, 14),
            starts=lambda x, z: (z > 0) & (x < 6),
            ends=lambda x, z: z < -2.0 / 3 + 2 / 3 * x,
            shut=lambda x, z: np.zeros_like(x, bool),
        )
    )
    assert way is not None
    a, b = 5.0, 10.0 / 3
    assert way.saddle.radius == pytest.approx((a + b - sqrt(a * a + b * b)) / 2, abs=1e-8)
