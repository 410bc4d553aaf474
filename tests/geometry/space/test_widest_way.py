"""The largest sphere that finds a way between bodies in space, against closed forms and a search of its own."""

from __future__ import annotations

from math import hypot

import numpy as np
import pytest

from stairguard.geometry.space.bodies import Prism, Rod
from stairguard.geometry.space.widest_way import Room, ways

AXES = ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, 1.0, 0.0))
ORIGIN = (0.0, 0.0, 0.0)


def past_edge(high: float, out: float, diameter: float) -> float:
    """Diameter of the largest sphere between a landing's edge and strands 3 apart, the lowest ``high`` over it."""
    deck = Prism(ORIGIN, AXES, ((-50.0, -30.0), (50.0, -30.0), (50.0, 0.0), (-50.0, 0.0)), (-99.0, 0.0))
    rods = [Rod((-50.0, out, high + 3.0 * k), (50.0, out, high + 3.0 * k), diameter / 2) for k in range(4)]
    over = Prism(ORIGIN, AXES, ((-60.0, high), (60.0, high), (60.0, 200.0), (-60.0, 200.0)), (-99.0, 99.0))
    room = Room(
        low=(-3.0, 0.0, min(0.0, high) - out - 2.0),
        high=(3.0, out, max(high, 0.0) + out),
        counts=(8, 16, 24),
        end_shut=(over,),
    )
    return 2 * next(ways([deck, *rods], room)).radius


def test_past_a_landings_edge_is_by_closed_form():
    """hypot(h, o) - d/2, derived; with the strand as low as the surface, o - d/2."""
    rng = np.random.default_rng(7)
    for _ in range(1000):
        high, out, diameter = rng.uniform(0.2, 5.0), rng.uniform(0.3, 6.0), rng.choice([0.125, 0.1875, 0.25])
        assert past_edge(high, out, diameter) == pytest.approx(hypot(high, out) - diameter / 2, abs=1e-12)
    for _ in range(50):
        out, diameter = rng.uniform(0.5, 6.0), 0.125
        assert past_edge(-rng.uniform(0.0, 3.0), out, diameter) == pytest.approx(out - diameter / 2, abs=1e-12)


def test_the_edge_by_hand():
    assert past_edge(2.79, 3.75, 0.125) == pytest.approx(4.6115, abs=5e-5)
