"""The largest circles between straight parts: a lattice finds where clearance peaks, equal distances say how much.

Clearance at a point is the least distance to any part, less the part's radius. A local maximum touches three parts,
or two parallel ones along a line of equal centres. So each peak of a lattice is climbed by trying points about it in
ever smaller rings, and then solved: of the parts next to it, every three give by Newton's method a centre at one
distance from all three, |p - c_i(p)| - r_i = d, where c_i is the nearest point of part i; kept is the largest that no
other part cuts. A climb is also the test that nothing larger is near a given centre. Where clearance is alike along a
line between parallel parts, it leads as far as that line does: only if nowhere along it is a way uphill is it a peak.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import combinations
from typing import Any

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
_RING = np.array([(np.cos(a), np.sin(a)) for a in np.arange(16) * np.pi / 8])
_FREE = 30
"""So many times its first clearance, or so many climbs, and a point is out in the open."""
_NEAR = 7
_BESIDE = 12
_BLOCK = 128
_STRETCH = 20
_FINE = 1e-10
"""Of its first ring, the last that a climb tries."""


@dataclass(frozen=True)
class Parts:
    """Straight parts from ``a`` to ``b``, each with a radius and what it is: (name, number or step, surface)."""

    a: Floats
    b: Floats
    radius: Floats
    names: list[tuple[Any, ...]]

    @staticmethod
    def of(rows: list[tuple[tuple[float, float], tuple[float, float], float, tuple[Any, ...]]]) -> Parts:
        """From rows of ends, radius and name."""
        return Parts(
            np.array([r[0] for r in rows], float), np.array([r[1] for r in rows], float),
            np.array([r[2] for r in rows], float), [r[3] for r in rows],
        )  # fmt: skip

    def within(self, low: float, high: float) -> Parts:
        """Only those that come between two stations."""
        left, right = np.minimum(self.a[:, 0], self.b[:, 0]), np.maximum(self.a[:, 0], self.b[:, 0])
        keep = np.flatnonzero((right >= low) & (left <= high))
        return Parts(self.a[keep], self.b[keep], self.radius[keep], [self.names[k] for k in keep])

    @cached_property
    def along(self) -> Floats:
        """From one end to the other, level and plumb."""
        return np.ascontiguousarray((self.b - self.a).T)

    @cached_property
    def square(self) -> Floats:
        """Of each one's length; what has none is a point."""
        return np.maximum(np.sum(self.along**2, axis=0), 1e-300)


def _offsets(points: Floats, parts: Parts) -> tuple[Floats, Floats]:
    """From the nearest point of every part to every point, level and plumb, each of shape (points, parts)."""
    dx, dz = parts.along
    x, z = (points[:, i, None] - parts.a[:, i] for i in (0, 1))
    t = (x * dx + z * dz) / parts.square
    np.clip(t, 0, 1, out=t)
    x -= t * dx
    z -= t * dz
    return x, z


def distances(points: Floats, parts: Parts) -> Floats:
    """Distance of every point to every part's surface."""
    found: Floats = np.hypot(*_offsets(points, parts))
    found -= parts.radius
    return found


def clearance(points: Floats, parts: Parts) -> Floats:
    """The least distance of every point to any part.

    No point of a block is farther from its middle than half a diagonal: what is farther from there than the nearest
    part by twice that is nearest to none of them.
    """
    if len(points) <= _BLOCK:
        return _least(points, parts)
    found = np.empty(len(points))
    for first in range(0, len(points), _BLOCK):
        some = points[first : first + _BLOCK]
        low, high = some.min(axis=0), some.max(axis=0)
        away = distances((low[None] + high[None]) / 2, parts)[0]
        near = np.flatnonzero(away <= away.min() + np.hypot(*(high - low)) * 1.01)
        found[first : first + _BLOCK] = _least(some, Parts(parts.a[near], parts.b[near], parts.radius[near], []))
    return found


def _least(points: Floats, parts: Parts) -> Floats:
    found: Floats = distances(points, parts).min(axis=1)
    return found


def nearest(point: tuple[float, float], parts: Parts, within: float) -> tuple[float, list[tuple[Any, ...]], Floats]:
    """Clearance at a point, the names of all parts at that distance, give or take, and where they are nearest."""
    away, to = _round(np.array(point, float), parts)
    least = float(away.min())
    touched = np.flatnonzero(away <= least + within)
    return least, [parts.names[k] for k in touched], np.array(point, float) + to[touched]


def _round(point: Floats, parts: Parts) -> tuple[Floats, Floats]:
    """Distance of a point to every part's surface, and the way to the nearest point of its middle line."""
    x, z = _offsets(point[None], parts)
    return np.hypot(x[0], z[0]) - parts.radius, -np.stack([x[0], z[0]], axis=1)


def climbed(points: Floats, parts: Parts, step: float, rounds: int = 12) -> tuple[Floats, Floats]:
    """Where clearance leads from each point, uphill only, and what it is there.

    In each round ever smaller rings are tried, against the parts next to the point when the round began; what all parts
    leave of the place it came to decides whether it counts. A point that comes no higher is done.
    """
    at, best = points.copy(), clearance(points, parts)
    going, size = np.arange(len(at)), step
    for turn in range(rounds):
        near = np.argpartition(distances(at[going], parts), min(_BESIDE, len(parts.names) - 1), axis=1)[:, :_BESIDE]
        beside = Parts(parts.a[near], parts.b[near], parts.radius[near], [])
        tried = _climb(at[going], beside, size, turn)
        got = clearance(tried, parts)
        gain = got - best[going]
        better = gain > 0
        at[going[better]], best[going[better]] = tried[better], got[better]
        # whoever is still on the way goes on in steps as long, else all look about them in shorter ones
        size = size if float(gain.max()) > size else size / 10
        going = going[np.abs(gain) > 1e-9 * step]
        if not len(going):
            break
    return at, best


def summit(point: Floats, parts: Parts) -> tuple[Floats, float]:
    """The peak that a point leads to, uphill and along lines of equal clearance, and the clearance there.

    A point with contacts all round is a peak itself: whichever way the centre moves, it comes closer to one of them.
    Contacts that leave half a turn free are two that stand opposite each other: there clearance is alike along the
    line between them, and may rise from anywhere on it.
    """
    at = point
    best = first = float(clearance(at[None], parts)[0])
    for _ in range(_FREE):
        if best > _FREE * first:
            break
        around = contacts(at, parts, best * 1e-7)
        free = _widest(around)
        if free < np.pi - 1e-6:
            return at, best
        if free > np.pi + 1e-6:
            higher, (got,) = climbed(at[None], parts, best / 20)
            if got <= best * (1 + 1e-6):
                return at, best
            at, best = higher[0], float(got)
            continue
        to = around[(around @ around.T).min(axis=1).argmin()]
        ways = np.array([[-to[1], to[0]], [to[1], -to[0]]])
        level = np.concatenate([_level(at, way, parts, best) for way in ways])
        rings = np.concatenate([level[:, None] + _RING * best / part for part in (10, 200)], axis=1).reshape(-1, 2)
        left = clearance(rings, parts.within(rings[:, 0].min() - 2 * best, rings[:, 0].max() + 2 * best))
        if left.max() <= best * (1 + 1e-6):
            return at, best
        higher, (best,) = climbed(rings[[left.argmax()]], parts, best / 20)
        at = higher[0]
    return at, best


def held(point: Floats, parts: Parts) -> bool:
    """Whether a circle at a point has contacts all round: whichever way its centre moves, it comes closer to one."""
    best = float(clearance(point[None], parts)[0])
    return _widest(contacts(point, parts, best * 1e-7)) < np.pi + 1e-6


def contacts(point: Floats, parts: Parts, within: float) -> Floats:
    """Unit vectors from a point to where it is nearest to the parts, of those at the least distance, give or take."""
    away, to = _round(point, parts)
    to = to[away <= away.min() + within]
    found: Floats = to / np.maximum(np.hypot(to[:, 0], to[:, 1]), 1e-300)[:, None]
    return found


def _widest(to: Floats) -> float:
    """The widest angle between neighbouring directions, all round."""
    bearings = np.sort(np.arctan2(to[:, 1], to[:, 0]))
    return float(np.diff(np.append(bearings, bearings[0] + 2 * np.pi)).max())


def _level(point: Floats, way: Floats, parts: Parts, best: float) -> Floats:
    """Points along a way as far as clearance stays the same, 200 at most."""
    points = point + np.arange(200)[:, None] * (best / 6) * way
    for first in range(0, len(points), _STRETCH):
        ends = np.flatnonzero(_least(points[first : first + _STRETCH], parts) < best * (1 - 1e-6))
        if len(ends):
            return points[: first + ends[0]]
    return points


def _climb(at: Floats, beside: Parts, step: float, turn: int) -> Floats:
    """One round, each point with parts of its own: ``beside`` has arrays of shape (points, parts, 2)."""
    at, size = at.copy(), np.full(len(at), step)
    ax, az = (beside.a[:, None, :, i] for i in (0, 1))
    dx, dz = (beside.b[:, None, :, i] - beside.a[:, None, :, i] for i in (0, 1))
    square, radius = np.maximum(dx**2 + dz**2, 1e-300), beside.radius[:, None]
    rows = np.arange(len(at))
    best = np.full(len(at), -np.inf)
    for k in range(60):
        if size.max() < _FINE * step:
            break
        c, s = np.cos(turn + k * 1.0), np.sin(turn + k * 1.0)
        tried = at[:, None] + size[:, None, None] * (_RING @ np.array([[c, s], [-s, c]]))
        if k == 0:
            tried[:, 0] = at
        x, z = tried[:, :, None, 0] - ax, tried[:, :, None, 1] - az
        t = (x * dx + z * dz) / square
        np.clip(t, 0, 1, out=t)
        x -= t * dx
        z -= t * dz
        least = (np.hypot(x, z) - radius).min(axis=2)
        pick = least.argmax(axis=1)
        got = least[rows, pick]
        better = got > best
        at[better], best[better] = tried[rows, pick][better], got[better]
        size = np.where(better, size, size / 2)
    return at


def solved(points: Floats, parts: Parts, reach: float) -> tuple[Floats, Floats]:
    """From each point the largest circle that touches three of the parts next to it and is cut by none, near by."""
    best, at = clearance(points, parts), points.copy()
    order = np.argsort(distances(points, parts), axis=1)[:, :_NEAR]
    trios = np.array(list(combinations(range(order.shape[1]), 3)))
    if not len(trios):
        return at, best
    for row, point in enumerate(points):
        some = order[row][trios]  # (combinations, 3)
        a, b, radius = parts.a[some], parts.b[some], parts.radius[some]
        p = np.repeat(point[None], len(some), axis=0)
        size = np.full(len(some), best[row])
        with np.errstate(all="ignore"):
            for _ in range(12):
                along = b - a
                t = np.sum((p[:, None] - a) * along, axis=2) / np.maximum(np.sum(along**2, axis=2), 1e-300)
                away = p[:, None] - (a + np.clip(t, 0, 1)[..., None] * along)
                far = np.maximum(np.hypot(away[..., 0], away[..., 1]), 1e-300)
                matrix = np.concatenate([away / far[..., None], -np.ones((*far.shape, 1))], axis=2)
                sound = np.abs(np.linalg.det(matrix)) > 1e-9
                matrix[~sound] = np.eye(3)
                move = np.linalg.solve(matrix, (size[:, None] + radius - far)[..., None])[..., 0]
                move[~sound] = np.nan
                p, size = p + move[:, :2], size + move[:, 2]
            fine = np.isfinite(size) & (np.hypot(*(p - point).T) < reach)
            if not fine.any():
                continue
            left = clearance(p[fine], parts)
            k = int(left.argmax())
            if left[k] > best[row]:
                best[row], at[row] = left[k], p[fine][k]
    return at, best


def peaks(lattice: Floats, free: NDArray[np.bool_], parts: Parts) -> Floats:
    """The points of a lattice, shape (rows, columns, 2), with no neighbour of greater clearance."""
    rows, columns, _ = lattice.shape
    got = np.full((rows + 2, columns + 2), -np.inf)
    flat = lattice.reshape(-1, 2)
    inside = free.reshape(-1)
    values = np.full(len(flat), -np.inf)
    if inside.any():
        values[inside] = clearance(flat[inside], parts)
    got[1:-1, 1:-1] = values.reshape(rows, columns)
    middle = got[1:-1, 1:-1]
    highest = np.isfinite(middle)
    for i in (0, 1, 2):
        for j in (0, 1, 2):
            highest &= middle >= got[i : i + rows, j : j + columns]
    return lattice[highest]
