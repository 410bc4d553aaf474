"""The largest spheres that find a way between bodies, from one side to the other, and where their ways are narrowest."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from heapq import heapify, heappop, heappush
from math import inf
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from stairguard.geometry.space.bodies import Body, Triple
from stairguard.geometry.space.saddles import Saddle, saddles

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """Where centres may be, and where a way starts and ends.

    Parameters
    ----------
    low, high : corners of a box; nothing gets out at its faces
    counts : cells each way
    start_shut, end_shut : bodies that close parts of the layers where the second coordinate is least (a way starts
        there) and greatest (it ends there): a way starts and ends at centres outside of them
    between : the first coordinates of centres between which narrow places are asked for
    """

    low: Triple
    high: Triple
    counts: tuple[int, int, int]
    start_shut: tuple[Body, ...] = ()
    end_shut: tuple[Body, ...] = ()
    between: tuple[float, float] = (-inf, inf)

    @property
    def sizes(self) -> Floats:
        """Of one cell, shape (3,)."""
        return np.subtract(self.high, self.low) / np.array(self.counts)

    @property
    def grain(self) -> float:
        """Half a cell's diagonal: what any centre may be from the middle of its cell."""
        return float(np.sqrt((self.sizes**2).sum())) / 2

    def middles(self) -> Floats:
        """Of the cells, shape (counts..., 3)."""
        each = [
            low + (np.arange(n) + 0.5) * size
            for low, n, size in zip(self.low, self.counts, self.sizes, strict=True)
        ]
        return np.stack(np.meshgrid(*each, indexing="ij"), axis=-1)

    def finer(self) -> Room:
        """The same, in cells of half the size."""
        first, second, third = self.counts
        return replace(self, counts=(2 * first, 2 * second, 2 * third))


_SAME = 1e-9
"""Of the room's size: radii this close are one."""
_MOST_CELLS = 200_000
"""In a grid that is halved once more where nothing is found."""
_SLOT = 2
"""Bodies that hold a sphere between them."""
_NEAR = 1e-6
"""Of the room's size: centres this close are one."""


def ways(bodies: Sequence[Body], room: Room, mine: Callable[[Saddle], bool] = lambda _: True) -> Iterator[Saddle]:
    """The narrowest places of the ways through a room, to machine precision, the widest first.

    A grid of centres tells how wide the widest may be: no centre's clearance differs from that of its cell's middle by
    more than half the cell's diagonal. Layer by layer each place where most room is left is followed; where one has
    less than in the layers beside it, a way is narrowest close by. Of several such places on one way all are told, so
    that the widest is never too small.

    Parameters
    ----------
    bodies : what is in the way
    room : where centres may be; nothing gets out at its other faces
    mine : the places asked for
    """
    grid = _grid(bodies, room)
    width = max(_widest(grid), 0.0)  # a way too narrow for the grid's cells is not seen
    scale = float(np.subtract(room.high, room.low).max())
    low, high = np.array(room.low) - _SAME * scale, np.array(room.high) + _SAME * scale
    found: list[Saddle] = []
    seeds = [at for at in _tight(grid.values, width + room.grain)
             if room.between[0] - room.grain <= grid.middles[at][0] <= room.between[1] + room.grain]  # fmt: skip
    for at in sorted(seeds, key=lambda at: -grid.values[at]):
        here, clear = grid.middles[at], grid.gaps[(slice(None), *at)]
        if any(_told(saddle, here, clear, room.grain) for saddle in found):
            continue
        # two convex bodies are closest in one way only
        slots = {saddle.held_by for saddle in found if len(saddle.held_by) == _SLOT}
        for saddle in saddles(bodies, here, clear, 2 * room.grain, scale, slots):
            inside = (low <= saddle.centre).all() and (high >= saddle.centre).all()
            if inside and saddle.radius <= width + room.grain and not any(_same(saddle, s, scale) for s in found):
                found.append(saddle)
    for saddle in sorted(found, key=lambda saddle: -saddle.radius):
        if mine(saddle) and not _shut(grid, saddle) and _leads(grid, saddle, found):
            yield saddle
    if not found and grid.values.size < _MOST_CELLS:  # so narrow a way that it hides between two middles
        yield from ways(bodies, room.finer(), mine)


class _Grid(NamedTuple):
    """Middles of a room's cells, shape (counts..., 3), what each is clear of each body and of all, and where ways go."""

    room: Room
    middles: Floats
    gaps: Floats
    values: Floats
    starts: Flags
    ends: Flags


def _grid(bodies: Sequence[Body], room: Room) -> _Grid:
    middles = room.middles()
    flat = middles.reshape(-1, 3)
    gaps = np.stack([body.gap(flat) for body in bodies]).reshape(len(bodies), *room.counts)
    starts = _outside(room.start_shut, middles[:, 0])
    ends = _outside(room.end_shut, middles[:, -1])
    return _Grid(room, middles, gaps, gaps.min(axis=0), starts, ends)


def _shut(grid: _Grid, saddle: Saddle) -> bool:
    """Whether the way, on from a narrow place, leaves the room at once where no way starts or ends."""
    room = grid.room
    for sign in (1, -1):
        at = np.array(saddle.centre) + 2 * sign * room.grain * np.array(saddle.way)
        cell = np.clip(((at - room.low) / room.sizes).astype(int), 0, np.array(room.counts) - 1)
        for free, out in ((grid.starts, at[1] < room.low[1]), (grid.ends, at[1] > room.high[1])):
            if out and not free[cell[0], cell[2]]:
                return True
    return False


def _leads(grid: _Grid, saddle: Saddle, found: Sequence[Saddle]) -> bool:
    """Whether a narrow place is the narrowest of some way: not where all ways on from one side of it are narrower yet.

    On a grid as much too generous as it may be wrong, with this place and all narrower ones shut, one side is to be
    reached from where ways start and the other from where they end. A side too small for the grid counts as reached.
    """
    grain = grid.room.grain
    narrower = [other for other in found if other.radius < saddle.radius * (1 - _SAME)]
    if not narrower:
        return True
    away = np.sqrt(((grid.middles - np.array(saddle.centre)) ** 2).sum(axis=-1))
    ahead = (grid.middles - np.array(saddle.centre)) @ np.array(saddle.way)
    open_to = (grid.values >= saddle.radius - grain) & (away > 1.5 * grain)
    about = open_to & (away <= 4 * grain)
    for other in narrower:
        off = np.sqrt(((grid.middles - np.array(other.centre)) ** 2).sum(axis=-1))
        shut = off <= 3 * grain
        if len(other.held_by) == _SLOT:
            shut |= grid.gaps[list(other.held_by)].max(axis=0) <= other.radius + grain
        open_to &= ~(shut & (off < away))
    sides = [about & open_to & (ahead > grain / 2), about & open_to & (ahead < -grain / 2)]
    if not all(side.any() for side in sides):
        return True
    first, last = np.zeros_like(open_to), np.zeros_like(open_to)
    first[:, 0], last[:, -1] = grid.starts, grid.ends
    from_start, from_end = _spread(open_to, first), _spread(open_to, last)
    reached = [[bool((side & one).any()) for side in sides] for one in (from_start, from_end)]
    return (reached[0][0] and reached[1][1]) or (reached[0][1] and reached[1][0])


def _spread(open_to: Flags, begin: Flags) -> Flags:
    """The open cells that hang together with those one begins at."""
    rim = tuple(n + 2 for n in open_to.shape)
    seen, first = np.full(rim, True), np.zeros(rim, bool)
    seen[1:-1, 1:-1, 1:-1] = ~open_to
    first[1:-1, 1:-1, 1:-1] = begin & open_to
    left = bytearray(seen.tobytes())
    front = np.flatnonzero(first.ravel()).tolist()
    for at in front:
        left[at] = 1
    steps = _steps(rim)
    for at in front:  # grows while it is gone through
        for step in steps:
            if not left[at + step]:
                left[at + step] = 1
                front.append(at + step)
    reached = np.zeros(seen.size, bool)
    reached[front] = True
    return reached.reshape(rim)[1:-1, 1:-1, 1:-1]


def _steps(rim: tuple[int, ...]) -> tuple[int, ...]:
    """From a cell to the six beside it, of a grid with a rim, counted through."""
    _, ny, nz = rim
    return ny * nz, -ny * nz, nz, -nz, 1, -1


def _told(saddle: Saddle, point: Floats, clear: Floats, grain: float) -> bool:
    """Whether a place is the one found already, or one more along its slot, with nothing else near."""
    if float(((point - np.array(saddle.centre)) ** 2).sum()) <= grain * grain:
        return True
    held = list(saddle.held_by)
    if len(held) > _SLOT or float(np.abs(clear[held] - saddle.radius).max()) > grain:
        return False
    return float(np.delete(clear, held).min(initial=np.inf)) >= saddle.radius + 2 * grain


def _same(one: Saddle, other: Saddle, scale: float) -> bool:
    apart = max(abs(a - b) for a, b in zip(one.centre, other.centre, strict=True))
    return abs(one.radius - other.radius) <= _SAME * scale and apart <= _NEAR * scale


def _tight(values: Floats, most: float) -> list[tuple[int, ...]]:
    """Cells that have most room in their own layer, and less than such cells close by in the layers beside it.

    Layers are taken square to each of the three axes: those that a way goes along show nothing of it.
    """
    free = (values > 0) & (values <= most)
    tight = np.zeros(values.shape, bool)
    for axis in (1, 2, 0):
        tight |= np.moveaxis(_tight_along(np.moveaxis(values, axis, 0)), 0, axis)
    return [tuple(int(i) for i in at) for at in np.argwhere(tight & free)]


def _tight_along(values: Floats) -> Flags:
    """Of layers along the first axis."""
    padded = np.pad(values, ((0, 0), (1, 1), (1, 1)), constant_values=-1.0)
    _, n, m = values.shape
    best = np.max([padded[:, 1 + i : 1 + i + n, 1 + k : 1 + k + m] for i in (-1, 0, 1) for k in (-1, 0, 1)], axis=0)
    tight = values >= best
    tight[1:] &= values[1:] <= best[:-1]
    tight[:-1] &= values[:-1] <= best[1:]
    return tight


def _outside(shut: Sequence[Body], middles: Floats) -> Flags:
    """Which cells of a layer lie outside all bodies that shut it."""
    flat = middles.reshape(-1, 3)
    free = np.full(len(flat), True)
    for body in shut:
        free &= body.gap(flat) > 0
    return free.reshape(middles.shape[:-1])


def _widest(grid: _Grid) -> float:
    """The greatest value that a path from layer to layer keeps; -1 where there is none.

    Cells are reached in the order of what they leave of the way, widest first.
    """
    rim = tuple(n + 2 for n in grid.values.shape)  # cells without room all round save asking where the grid ends
    padded, first, last = np.full(rim, -1.0), np.zeros(rim, bool), np.zeros(rim, bool)
    padded[1:-1, 1:-1, 1:-1] = grid.values
    first[1:-1, 1, 1:-1], last[1:-1, -2, 1:-1] = grid.starts, grid.ends
    room, goal = padded.ravel().tolist(), last.ravel().tolist()
    front = [(-room[at], at) for at in np.flatnonzero(first.ravel()).tolist() if room[at] > 0]
    heapify(front)
    seen = {at for _, at in front}
    steps = _steps(rim)
    while front:
        least, at = heappop(front)
        if goal[at]:
            return -least
        for step in steps:
            beside = at + step
            if room[beside] > 0 and beside not in seen:
                seen.add(beside)
                heappush(front, (max(least, -room[beside]), beside))
    return -1.0
