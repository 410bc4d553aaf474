"""Every pocket of a rebuilt guard: between neighbouring parts of each bay, and under its lowest strand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tests.rebuild.bodies import Bay, Guard
from tests.rebuild.clearance import Parts, climbed, distances, nearest, peaks, solved, summit

Floats = NDArray[np.float64]
SAME = 1e-6
"""Of a length of inches or millimetres: far above what binary arithmetic loses, far below any mark."""


@dataclass(frozen=True)
class Pocket:
    """A largest circle: its diameter, centre, bay, and the names of the parts it touches.

    ``gap`` is the number of the strand above it, 0 under the rail; None under the lowest strand.
    """

    size: float
    centre: tuple[float, float]
    bay: Bay
    touches: frozenset[str]
    step: int | None
    gap: int | None

    @property
    def surface(self) -> int:
        """The surface whose rail is over it."""
        return self.bay.surface


def pockets(guard: Guard) -> list[Pocket]:
    """All of them, bay by bay."""
    found = []
    for bay in (*guard.bays, *guard.chords):
        if bay.strands:
            found += _strips(bay)
            found += _under(guard, bay)
    return found


def touched(parts: Any, centre: tuple[float, float]) -> tuple[float, frozenset[str], Floats]:
    """Twice the clearance at a point, what is touched there in the words of the trade, and where."""
    least, names, feet = nearest(centre, parts, SAME)
    return 2 * least, frozenset(_word(name) for name in names), feet


def _word(name: tuple[Any, ...]) -> str:
    return f"strand {name[1]}" if name[0] == "strand" else str(name[0])


def _line(ends: tuple[tuple[float, float], tuple[float, float]], x: float) -> float:
    (x0, z0), (x1, z1) = ends
    return z0 + (x - x0) * (z1 - z0) / (x1 - x0)


def _strips(bay: Bay) -> list[Pocket]:
    """Between each strand and the next, and under the rail.

    Between parallel lines far enough from the posts the middle is the answer; else it is climbed from there.
    """
    lines = [(number, (a, b)) for number, a, b, _ in bay.strands]
    if not bay.chord:
        lines = [(0, ends) for ends in _rails(bay)] + lines
    x = (bay.low + bay.high) / 2
    found = []
    for (number, upper), (_, lower) in pairwise(lines):
        ends = [_line(upper, at) - _line(lower, at) for at in (bay.low, bay.high)]
        seed = (x, (_line(upper, x) + _line(lower, x) + _sunk(bay, number)) / 2)
        pocket = _pocket(bay, seed, None, number)
        if len(pocket.touches) < 2 or abs(ends[0] - ends[1]) > SAME:
            at, _ = climbed(np.array([seed]), bay.parts, max(pocket.size, SAME) / 4)
            pocket = _pocket(bay, tuple(at[0]), None, number)
        found.append(pocket)
    return found


def _rails(bay: Bay) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """The rail over the middle of a bay."""
    x = (bay.low + bay.high) / 2
    rails = [(a, b) for a, b, name in zip(bay.parts.a, bay.parts.b, bay.parts.names, strict=True) if name[0] == "rail"]
    return [(tuple(a), tuple(b)) for a, b in rails if a[0] <= x <= b[0]]


def _sunk(bay: Bay, number: int) -> float:
    """How much lower, plumb, than half way the middle of the free space is: a rail's underside has no radius."""
    if number:
        return 0.0
    _, (x0, z0), (x1, z1), _ = bay.strands[0]
    return float(bay.parts.radius.max()) * hypot(1, (z1 - z0) / (x1 - x0))


def _under(guard: Guard, bay: Bay) -> list[Pocket]:
    """Under the lowest strand: the peaks of a lattice from the floors up to it, climbed and solved."""
    _, a, b, _ = bay.strands[-1]
    low, high = _stretch(guard, bay)
    xs = np.linspace(low, high, int(24 + (high - low) / _cell(guard) * 14))
    floors = _chord_floor(bay, xs) if bay.chord else guard.stair.floors(xs)
    tops = a[1] + (xs - a[0]) * (b[1] - a[1]) / (b[0] - a[0])
    shares = (np.arange(20) + 0.5) / 20
    lattice = np.stack(
        [np.repeat(xs[:, None], 20, axis=1), floors[:, None] + shares[None] * (tops - floors)[:, None]], axis=2
    )
    free = _free(guard, bay, lattice) & (tops > floors)[:, None]
    seeds = peaks(lattice, free, bay.parts)
    if not len(seeds):
        return []
    seeds = _unlike(seeds, bay.parts)
    at, _ = climbed(seeds, bay.parts, _cell(guard) / 60)
    at = _unlike(at, bay.parts)
    away = distances(at, bay.parts)
    loose = np.sum(away < away.min(axis=1, keepdims=True) + SAME / 10, axis=1) < 3
    at[loose], _ = solved(at[loose], bay.parts, _cell(guard) / 4)
    at = _unlike(at, bay.parts)
    at = np.array([summit(point, bay.parts)[0] for point in at[_between(guard, bay, at)]]).reshape(-1, 2)
    at = at[_between(guard, bay, at)]
    alike = _unlike(at, bay.parts) if len(at) else at
    return [_pocket(bay, tuple(point), tread_under(guard, bay.surface, point), None) for point in alike]


def _between(guard: Guard, bay: Bay, at: Floats) -> NDArray[np.bool_]:
    """Which points are in the open: between the two posts, under the lowest strand, and over the floors."""
    _, a, b, _ = bay.strands[-1]
    low, high = _stretch(guard, bay)
    floors = _chord_floor(bay, at[:, 0]) if bay.chord else guard.stair.floors(at[:, 0])
    tops = a[1] + (at[:, 0] - a[0]) * (b[1] - a[1]) / (b[0] - a[0])
    inside = (at[:, 0] >= low) & (at[:, 0] <= high) & (at[:, 1] > floors) & (at[:, 1] < tops)
    found: NDArray[np.bool_] = _free(guard, bay, at[:, None])[:, 0] & inside
    return found


def _stretch(guard: Guard, bay: Bay) -> tuple[float, float]:
    """From face to face, and as much farther as a nosing projects: a post on the ground is not under the tread."""
    margins = [0.0 if bay.chord or label[0] in "WN" else guard.stair.nosing for label in (bay.left, bay.right)]
    return bay.low - margins[0], bay.high + margins[1]


def _cell(guard: Guard) -> float:
    """A going, or what a landing has instead."""
    runs = [float(np.min(np.diff(f.xs))) for f in guard.stair.flights]
    return min(runs, default=(guard.parts.radius.max() * 160))


def _chord_floor(bay: Bay, xs: Floats) -> Floats:
    a, b = bay.parts.a[0], bay.parts.b[0]
    return a[1] + (xs - a[0]) * (b[1] - a[1]) / (b[0] - a[0])


def _free(guard: Guard, bay: Bay, lattice: Floats) -> NDArray[np.bool_]:
    """Which points are in the open, between the two posts and not past them."""
    flat = lattice.reshape(-1, 2)
    if bay.chord:
        inside = (flat[:, 0] > bay.low) & (flat[:, 0] < bay.high)
        return inside.reshape(lattice.shape[:-1])
    free = ~guard.stair.solid(flat)
    for left, right, low, high in guard.boxes:
        free &= ~((flat[:, 0] > left) & (flat[:, 0] < right) & (flat[:, 1] > low) & (flat[:, 1] < high))
    return free.reshape(lattice.shape[:-1])


def _unlike(at: Floats, parts: Parts) -> Floats:
    """Of points that lie next to the same three parts, the one of greatest clearance."""
    away = distances(at, parts)
    best: dict[tuple[int, ...], int] = {}
    for k, order in enumerate(np.argsort(away, axis=1)[:, :3]):
        key = tuple(sorted(order.tolist()))
        if key not in best or away[k].min() > away[best[key]].min():
            best[key] = k
    return at[sorted(best.values())]


def tread_under(guard: Guard, surface: int, point: Sequence[float] | Floats) -> int | None:
    """The tread over which a point is, 0 below nosing 1, n over what lies above a flight; None where no flight is.

    In the hollow under a nosing it is the tread below.
    """
    for flight in guard.stair.flights:
        if flight.surface == surface:
            step = flight.step(flight.way * (point[0] - flight.origin))
            return step - (step > 0 and bool(point[1] < flight.zs[step - 1]))
    return None


def _pocket(bay: Bay, centre: tuple[float, float], step: int | None, gap: int | None) -> Pocket:
    size, touches, _ = touched(bay.parts, centre)
    return Pocket(size, (float(centre[0]), float(centre[1])), bay, touches, step, gap)
