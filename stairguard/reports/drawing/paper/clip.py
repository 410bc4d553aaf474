"""Cutting lines and outlines to an upright rectangle, of the model or on paper."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence
from math import inf
from typing import NamedTuple, TypeAlias

from stairguard.reports.drawing.paper.scene import Rect

Pair: TypeAlias = tuple[float, float]


class Bounds(NamedTuple):
    """Limits on station and elevation."""

    first: float
    last: float
    low: float = -inf
    high: float = inf

    def holds(self, point: Pair) -> bool:
        """Whether a point lies inside or on the edge."""
        return self.first <= point[0] <= self.last and self.low <= point[1] <= self.high


def clip_line(points: Sequence[Pair], bounds: Bounds) -> list[list[Pair]]:
    """Return the parts of a polyline inside, each a polyline of two points or more."""
    parts: list[list[Pair]] = []
    for a, b in itertools.pairwise(points):
        piece = _segment(a, b, bounds)
        if piece is None:
            continue
        if parts and parts[-1][-1] == piece[0]:
            parts[-1].append(piece[1])
        else:
            parts.append(list(piece))
    return parts


def _segment(a: Pair, b: Pair, bounds: Bounds) -> tuple[Pair, Pair] | None:
    """Liang and Barsky's way: narrow the parameter between each pair of parallel edges."""
    first, last = 0.0, 1.0
    for axis, low, high in ((0, bounds.first, bounds.last), (1, bounds.low, bounds.high)):
        start, way = a[axis], b[axis] - a[axis]
        if way == 0:
            if not low <= start <= high:
                return None
            continue
        near, far = sorted(((low - start) / way, (high - start) / way))
        first, last = max(first, near), min(last, far)
    if first >= last:
        return None

    def at(t: float) -> Pair:
        return a if t == 0.0 else b if t == 1.0 else (a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]))

    return at(first), at(last)


def runs_over(points: Sequence[Pair], box: Rect) -> bool:
    """Whether any stretch of a polyline runs through a box."""
    bounds = Bounds(box.left, box.right, box.bottom, box.top)
    for a, b in itertools.pairwise(points):
        beside = max(a[0], b[0]) < box.left or min(a[0], b[0]) > box.right
        if beside or max(a[1], b[1]) < box.bottom or min(a[1], b[1]) > box.top:
            continue
        if _segment(a, b, bounds) is not None:
            return True
    return False


def clip_polygon(points: Sequence[Pair], bounds: Bounds) -> list[Pair]:
    """Return the part of a convex outline inside; empty if none."""
    kept = list(points)
    for axis, limit, sign in (
        (0, bounds.first, 1),
        (0, bounds.last, -1),
        (1, bounds.low, 1),
        (1, bounds.high, -1),
    ):
        if abs(limit) != inf:
            kept = _half(kept, _side(axis, limit, sign))
    return kept


def _side(axis: int, limit: float, sign: int) -> Callable[[Pair], float]:
    return lambda point: sign * (point[axis] - limit)


def _half(points: list[Pair], depth: Callable[[Pair], float]) -> list[Pair]:
    """Keep what lies on the positive side of one edge (Sutherland and Hodgman's step)."""
    kept: list[Pair] = []
    for a, b in zip(points, points[1:] + points[:1], strict=True):
        da, db = depth(a), depth(b)
        if da >= 0:
            kept.append(a)
        if da * db < 0:
            t = da / (da - db)
            kept.append((a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])))
    return kept
