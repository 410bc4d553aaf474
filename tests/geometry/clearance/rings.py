"""Random outlines of every awkward kind, by seed."""

from collections.abc import Iterable, Sequence
from fractions import Fraction

import numpy as np
import shapely

from stairguard.geometry.clearance.outline import Corner, Edge, Outline, Vec
from stairguard.geometry.clearance.polygon import polygon

KINDS = ("convex", "star", "sliver", "near-parallel", "comb")


def ring(kind: str, rng: np.random.Generator, most: int = 40) -> np.ndarray:
    """Corner points, shape (n, 2), 3 to ``most`` of them; not always a simple polygon."""
    n = int(rng.integers(3, most + 1))
    if kind == "comb":
        return _comb(rng, max(1, (n - 4) // 4))
    if kind == "near-parallel":
        return _strip(rng, n)
    angle = np.sort(rng.uniform(0, 2 * np.pi, n))
    radius = np.ones(n) if kind == "convex" else rng.uniform(0.2, 1, n)
    points = np.c_[radius * np.cos(angle), radius * np.sin(angle)]
    if kind == "sliver":
        points[:, 1] *= 10 ** rng.uniform(-3, -1)
    turn = rng.uniform(0, 2 * np.pi)
    spin = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    return points @ spin


def _strip(rng: np.random.Generator, n: int) -> np.ndarray:
    """A long strip whose sides lean by next to nothing, its top and bottom cut into many edges."""
    lean = 10 ** rng.uniform(-9, -2)
    lower = np.sort(rng.uniform(0, 10, max(1, n // 2)))
    upper = np.sort(rng.uniform(0, 10, max(1, n - n // 2)))[::-1]
    low = np.c_[lower, rng.uniform(-1, 1, len(lower)) * lean]
    high = np.c_[upper, 1 + rng.uniform(-1, 1, len(upper)) * lean]
    return np.r_[low, high]


def _comb(rng: np.random.Generator, teeth: int) -> np.ndarray:
    """Right angles only: rooms of different heights side by side, ridges everywhere."""
    x = np.cumsum(rng.integers(1, 5, 2 * teeth + 1)).astype(float)
    floor = [(0.0, 0.0), (x[-1], 0.0)]
    top = []
    height = 0.0
    for k in range(2 * teeth, -1, -1):
        height = float(rng.integers(1, 6)) + (0.5 if height else 0.0)
        left = x[k - 1] if k else 0.0
        top += [(x[k], height), (left, height)]
    points = [p for k, p in enumerate(floor + top) if p != (floor + top)[k - 1]]
    return np.array(points)


def usable(points: np.ndarray) -> shapely.Polygon | None:
    """The ring as a polygon, if it is simple and not next to nothing."""
    if len(points) < 3:
        return None
    found = shapely.Polygon(points)
    return found if found.is_valid and found.area > 1e-7 else None


def outline(points: np.ndarray) -> Outline:
    return polygon([Vec(Fraction(float(x)), Fraction(float(z))) for x, z in points])


def chain(points: Sequence[Vec], names: Sequence[str], corners: Iterable[str] = (), closed: bool = False) -> Outline:
    """The outline along ``points``, free side on the left; edge k, called ``names[k]``, leaves point k.

    Reflex corners are found by their turn, called by ``corners`` in order of appearance, or ``"corner"``.
    """
    pairs = list(zip(points, [*points[1:], points[0]], strict=True))
    if not closed:
        pairs.pop()
    edges = tuple(Edge(a, b, name) for (a, b), name in zip(pairs, names, strict=True))
    called = iter(corners)
    found: list[Corner] = []
    for k in range(0 if closed else 1, len(edges)):
        before, after = edges[k - 1], edges[k]
        turn = (before.b.x - before.a.x) * (after.b.z - after.a.z) - (before.b.z - before.a.z) * (after.b.x - after.a.x)
        if turn < 0:
            found.append(Corner(after.a, next(called, "corner")))
    return Outline(edges, tuple(found))
