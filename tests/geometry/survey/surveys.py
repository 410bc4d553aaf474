"""Random measured flights of every awkward kind, by seed; up and down, in inches at sixteenths or finer."""

from __future__ import annotations

from fractions import Fraction

import numpy as np

KINDS = ("true", "rough", "sagging", "crowned", "even", "coarse", "fine")

Survey = tuple[tuple[Fraction, Fraction], ...]


def survey(kind: str, rng: np.random.Generator, most: int = 20) -> Survey:
    """Nosings, 2 to ``most`` of them, stations increasing; elevations only climb or only fall."""
    n = int(rng.integers(2, most + 1))
    grid = {"coarse": 1, "fine": 2**20}.get(kind, 16)
    rise, run = _snap(rng.uniform(6, 8), grid), _snap(rng.uniform(10, 12), grid)
    step = np.arange(n)
    bow = 4 * step * (n - 1 - step) / max(1, n - 1) ** 2
    off = {
        "true": rng.normal(0, 1 / 16, n),
        "fine": rng.normal(0, 1 / 16, n),
        "rough": rng.uniform(-1.5, 1.5, n),
        "coarse": rng.uniform(-1.5, 1.5, n),
        "sagging": -bow * rng.uniform(0, 6) + rng.normal(0, 1 / 16, n),
        "crowned": bow * rng.uniform(0, 6) + rng.normal(0, 1 / 16, n),
        "even": np.zeros(n),
    }[kind]
    aside = np.zeros(n) if kind == "even" else rng.uniform(-1.5, 1.5, n)
    stations = [k * run + _snap(a, grid) for k, a in enumerate(aside)]
    elevations = sorted((k + 1) * rise + _snap(o, grid) for k, o in enumerate(off))
    if rng.random() < 0.5:
        elevations = elevations[::-1]
    return tuple(zip(stations, elevations, strict=True))


def _snap(value: float, grid: int) -> Fraction:
    return Fraction(round(float(value) * grid), grid)
