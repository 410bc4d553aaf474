"""Plain convex shapes in space as a search sees them: from each, which way a point is off, and how far.

Points have x along the guard, y level and out from the stair's side, z up.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import inf
from typing import Final, NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

Floats: TypeAlias = NDArray[np.float64]
Pair: TypeAlias = tuple[float, float]
Triple: TypeAlias = tuple[float, float, float]

EVERYWHERE: Final = (-inf, inf)


class Shape(NamedTuple):
    """All that is ``radius`` or less from a convex core.

    ``off`` gives of points, shape (n, 3), the way from the core's nearest point to each, zero inside, shape (n, 3).
    """

    off: Callable[[Floats], Floats]
    radius: float = 0.0

    def distance(self, points: Floats) -> Floats:
        """Of points from the shape, shape (n,); of points inside zero or less."""
        found: Floats = np.linalg.norm(self.off(points), axis=1) - self.radius
        return found


def box(x: Pair, y: Pair, z: Pair) -> Shape:
    """A box with level and plumb sides, which may be without end."""
    low, high = np.array([x, y, z]).T
    return Shape(lambda points: points - np.clip(points, low, high))


def seen_from_the_side(corners: Sequence[Pair], y: Pair) -> Shape:
    """A prism on a convex figure in elevation, (x, z), its corners with the figure on their left."""
    return _prism(corners, (0, 2, 1), y)


def seen_from_above(corners: Sequence[Pair], z: Pair) -> Shape:
    """A prism on a convex figure in plan, (x, y), its corners with the figure on their left."""
    return _prism(corners, (0, 1, 2), z)


def _prism(corners: Sequence[Pair], axes: Triple | tuple[int, int, int], span: Pair) -> Shape:
    i, j, k = (int(axis) for axis in axes)

    def off(points: Floats) -> Floats:
        found = np.empty_like(points)
        found[:, [i, j]] = _off_figure(points[:, [i, j]], np.array(corners, float))
        found[:, k] = points[:, k] - np.clip(points[:, k], *span)
        return found

    return Shape(off)


def _off_figure(points: Floats, corners: Floats) -> Floats:
    """The same of points in a plane and a convex figure."""
    least, inside = np.full(len(points), inf), np.full(len(points), True)
    found = np.zeros_like(points)
    for a, b in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        along, away = b - a, points - a
        share = np.clip(away @ along / (along @ along), 0.0, 1.0)
        from_edge = away - share[:, None] * along
        square = (from_edge**2).sum(axis=1)
        nearer = square < least
        least[nearer], found[nearer] = square[nearer], from_edge[nearer]
        inside &= along[0] * away[:, 1] - along[1] * away[:, 0] >= 0
    found[inside] = 0.0
    return found


def bar(start: Triple, end: Triple, radius: float) -> Shape:
    """A round bar, its ends round too."""
    first, along = np.array(start), np.subtract(end, start)

    def off(points: Floats) -> Floats:
        away = points - first
        share = np.clip(away @ along / (along @ along), 0.0, 1.0)
        found: Floats = away - share[:, None] * along
        return found

    return Shape(off, radius)
