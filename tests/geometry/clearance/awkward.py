"""Whole-number outlines with corners in the middle of straight sides, and small figures with strands for edges."""

from fractions import Fraction
from typing import NamedTuple

import numpy as np
import shapely

from stairguard.geometry.clearance.outline import Vec
from tests.geometry.clearance.rings import ring


class Figure(NamedTuple):
    """Corners in order, the edges that are strands' axes by number from 1, and the strands' radius."""

    corners: tuple[Vec, ...]
    strands: frozenset[int]
    radius: Fraction


def collinear(seed: int) -> Figure:
    """An outline on whole numbers, small ones half the time, with one to four more corners along its sides."""
    rng = np.random.default_rng([60, seed])
    kind = ("convex", "star", "comb", "star")[seed % 4]
    size = int(rng.choice([4, 9, 30, 400]))
    while True:
        points = ring(kind, rng, most=9)
        points = np.rint(points if kind == "comb" else points * size).astype(int)
        points = points[(points != np.roll(points, 1, axis=0)).any(axis=1)]
        if _simple(points):
            break
    parts = int(rng.integers(2, 7))
    cut: list[Vec] = []
    chosen = set(rng.integers(0, len(points), int(rng.integers(1, 4))).tolist())
    for k, (a, b) in enumerate(zip(points.tolist(), np.roll(points, -1, axis=0).tolist(), strict=True)):
        at = sorted({0, *rng.integers(1, parts, int(rng.integers(1, 5))).tolist()}) if k in chosen else [0]
        cut += [Vec(*(Fraction(parts * p + j * (q - p)) for p, q in zip(a, b, strict=True))) for j in at]
    if rng.random() < 0.5:
        cut.reverse()
    strands, radius = frozenset[int](), Fraction(0)
    if rng.random() < 0.25:
        strands = frozenset((rng.choice(len(cut), int(rng.integers(1, 4))) + 1).tolist())
        radius = Fraction(int(rng.integers(1, 4)), int(rng.choice([1, 4, 16])))
    return Figure(tuple(cut), strands, radius)


def stranded(seed: int) -> Figure:
    """A triangle, a convex four-cornered figure or a dart in sixteenths, with one to three strands for edges."""
    rng = np.random.default_rng([61, seed])
    while True:
        wide = int(rng.choice([24, 160, 640]))
        count = 3 if seed % 3 == 0 else 4
        points = rng.integers(0, wide, (count, 2))
        if rng.random() < 0.4:  # low: acute at its ends
            points[:, 1] //= 8
        if _simple(points) and (
            count == 3 or (len(shapely.Polygon(points).convex_hull.exterior.coords) < 5) == (seed % 3 == 2)
        ):
            break
    strands = frozenset((rng.choice(count, int(rng.integers(1, 4)), replace=False) + 1).tolist())
    radius = Fraction(int(rng.choice([1, 2, 3, 4, 8])), 32)
    return Figure(tuple(Vec(Fraction(x, 16), Fraction(z, 16)) for x, z in points.tolist()), strands, radius)


def _simple(points: np.ndarray) -> bool:
    if len(points) < 3:
        return False
    found = shapely.Polygon(points)
    return found.is_valid and found.area > 0
