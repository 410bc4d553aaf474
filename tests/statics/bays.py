"""Bays to push in: a usual one, and random ones. Inches and lbf.

Their stiffness is about that of 1x19 strand of 1/8 to 1/4 in (EA from 130 kN/mm2 on metallic area, from memory).
"""

from __future__ import annotations

import numpy as np

from stairguard.statics.probe_force import Bay, Probe, sphere

INF = float("inf")
NAN = float("nan")
BAY = Bay(42.0, 200.0, 176000.0, 42.0)
SPHERE = sphere(4.0, 0.125)
CLEAR = 1.5


def bays(count: int, seed: int = 1) -> tuple[Bay, Probe, np.ndarray]:
    """Random bays with a sphere larger than the gap; run, place and springs all differ from the plain case."""
    rng = np.random.default_rng(seed)
    length = rng.uniform(15, 90, count)
    bay = Bay(
        length,
        rng.uniform(5, 900, count),
        rng.uniform(5e4, 8e5, count),
        length * rng.uniform(1, 8, count),
        length * rng.uniform(0.2, 0.8, count),
        10 ** rng.uniform(2, 5, count),
    )
    probe = sphere(rng.uniform(3, 8, count), rng.uniform(0.09, 0.25, count))
    # from half the sphere's reach on, so that no friction here makes the way too steep to have an answer
    return bay, probe, np.asarray(probe.b) * rng.uniform(0.5, 0.98, count)
