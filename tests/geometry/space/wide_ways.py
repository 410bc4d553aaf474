"""The largest sphere that finds a way through a room between convex shapes, by a search of its own: bounds, both ways.

Centres are looked for in cells, coarse to fine. No more is used of a shape than that the distance ``d`` of a point from
it changes by no more than the point moves, and that it is convex:

- *No way is wider.* Let a cell's middle be ``d_i`` from shape i, in the direction of the unit vector ``n_i``, and
  ``D_i`` from the nearest point of its core. From a point ``v`` off the middle that same point of the core is
  ``sqrt(D_i^2 + 2 D_i n_i.v + v^2) <= D_i + n_i.v + v^2 / (2 D_i)`` away, so that shape i is no farther. The least of
  several is no more than any mean of theirs: with shares ``s_i`` that add up to 1 and ``h`` half the cell's diagonal, a
  centre in the cell has room of ``sum s_i (d_i + h^2 / (2 D_i)) + h |sum s_i n_i|`` at most. Any shares will do.
- *A way is at least as wide.* Distance from a convex shape is convex: along a straight piece it lies above the straight
  lines that it has at the piece's two ends.

A way is looked for from start to end through cells whose bound is wide; where none hangs together, no sphere gets
through. Cells are halved where it is open whether there is room.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final, NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import breadth_first_order, dijkstra, minimum_spanning_tree

from tests.geometry.space.shapes import Floats, Shape, Triple

Whole: TypeAlias = NDArray[np.int64]
Flags: TypeAlias = NDArray[np.bool_]
Measure: TypeAlias = Callable[[Floats], Floats]
"""Of points, shape (n, 3), a figure each, which changes by no more than the point moves."""

_TINY: Final = 1e-9
_AIM: Final = 0.5
"""Of the way from the lower bound to the upper one: the width of which it is asked whether a way has it."""
_NEAR: Final = 5
"""Shapes of which a mean is made."""


class Bounds(NamedTuple):
    """The radius of the largest sphere that gets through is no less and no more.

    ``at`` is where the way that ``least`` is of is narrowest.
    """

    least: float
    most: float
    at: Floats


class Room(NamedTuple):
    """Where centres may be: in a box, and where ``allowed`` is not negative. Nothing gets out at the box's faces.

    Ways start and end where ``starts`` and ``ends`` are not negative.
    """

    low: Triple
    high: Triple
    starts: Measure
    ends: Measure
    allowed: Measure


class Held(NamedTuple):
    """Of points and shapes: distance, direction, and distance from the core, shapes (n, k), (n, k, 3), (n, k)."""

    distance: Floats
    normal: Floats
    core: Floats


class _Cells(NamedTuple):
    """Cells by their place among those of their level; level n has cells of the n-th part of two of the first size.

    ``clear`` is the room at the middle, ``most`` what no centre in the cell has more of.
    """

    level: Whole
    place: Whole
    clear: Floats
    most: Floats
    allowed: Floats
    start: Floats
    end: Floats

    def taken(self, which: Flags) -> _Cells:
        return _Cells(*(column[which] for column in self))

    def plus(self, other: _Cells) -> _Cells:
        return _Cells(*(np.concatenate(pair) for pair in zip(self, other, strict=True)))


def held(shapes: Sequence[Shape], points: Floats) -> Held:
    """What points are from every shape."""
    off = np.stack([shape.off(points) for shape in shapes], axis=1)
    core = np.sqrt((off**2).sum(axis=2))
    normal = off / np.maximum(core, 1e-300)[..., None]
    return Held(core - np.array([shape.radius for shape in shapes]), normal, core)


def room_in_a_cell(found: Held, half: Floats) -> Floats:
    """What no centre within ``half`` of a point has more of, by the means of its nearest shapes; see the module."""
    near = np.argsort(found.distance, axis=1)[:, :_NEAR]
    d, n, core = (np.take_along_axis(one, near.reshape(near.shape + (1,) * (one.ndim - 2)), axis=1) for one in found)
    far = core > half[:, None]
    over = np.where(far, half[:, None] ** 2 / (2 * np.maximum(core, 1e-300)), half[:, None])
    value, n = d + over, np.where(far[..., None], n, 0.0)
    mean, normal = value[:, 0].copy(), n[:, 0].copy()
    best = mean + half * np.linalg.norm(normal, axis=1)
    parts = np.array([0.02, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.65, 0.8])
    for _ in range(_TURNS):
        length = np.linalg.norm(normal, axis=1)
        to = normal / np.maximum(length, 1e-300)[:, None]
        pick = (value + half[:, None] * (n * to[:, None]).sum(axis=2)).argmin(axis=1)
        rows = np.arange(len(pick))
        more, way = value[rows, pick] - mean, n[rows, pick] - normal
        tried = mean[:, None] + parts * more[:, None]
        tried = tried + half[:, None] * np.linalg.norm(normal[:, None] + parts[:, None] * way[:, None], axis=2)
        part = tried.argmin(axis=1)
        better = tried[rows, part] < best
        if not better.any():
            break
        share = np.where(better, parts[part], 0.0)
        mean, normal = mean + share * more, normal + share[:, None] * way
        best = np.where(better, tried[rows, part], best)
    return best


_TURNS: Final = 6
_MORE: Final = 0.5


class _Search:
    def __init__(self, shapes: Sequence[Shape], room: Room, size: float) -> None:
        self.shapes, self.room = shapes, room
        self.low = np.array(room.low)
        extent = np.array(room.high) - self.low
        self.counts = np.maximum(np.ceil(extent / size).astype(np.int64), 1)
        self.size = extent / self.counts
        self.eight = np.stack(np.meshgrid(*[np.arange(2)] * 3, indexing="ij"), axis=-1).reshape(-1, 3)

    def half(self, level: Whole) -> Floats:
        """Half the diagonal of cells."""
        found: Floats = np.linalg.norm(self.size) / 2 * 0.5**level
        return found

    def middles(self, level: Whole, place: Whole) -> Floats:
        found: Floats = self.low + (place + 0.5) * self.size * (0.5**level)[:, None]
        return found

    def cells(self, level: Whole, place: Whole, least: float) -> _Cells:
        """Those of some places that a way wider than ``least`` may lead through."""
        middles, half, room = self.middles(level, place), self.half(level), self.room
        allowed = room.allowed(middles)
        keep = allowed + half >= 0
        level, place, middles, half, allowed = (one[keep] for one in (level, place, middles, half, allowed))
        found = held(self.shapes, middles)
        clear = found.distance.min(axis=1)
        most = clear + half
        near = (most > least) & (clear - half < 1.1 * least)
        if near.any():
            most[near] = np.minimum(most[near], room_in_a_cell(Held(*(one[near] for one in found)), half[near]))
        cells = _Cells(level, place, clear, most, allowed, room.starts(middles), room.ends(middles))
        return cells.taken(most > least)

    def first(self) -> _Cells:
        place = np.stack(np.meshgrid(*map(np.arange, self.counts), indexing="ij"), axis=-1).reshape(-1, 3)
        return self.cells(np.zeros(len(place), np.int64), place, 0.0)

    def halved(self, cells: _Cells, least: float) -> _Cells:
        place = (2 * cells.place[:, None] + self.eight).reshape(-1, 3)
        return self.cells(np.repeat(cells.level + 1, 8), place, least)

    def beside(self, cells: _Cells) -> tuple[Whole, Whole]:
        """Every two cells that share a face or a part of one: of different size, found from the smaller one."""
        first, second = [], []
        keys = {level: self._sorted(cells, level) for level in map(int, np.unique(cells.level))}
        for level in keys:
            mine = np.flatnonzero(cells.level == level)
            for axis in range(3):
                for way in (-1, 1):
                    place = cells.place[mine].copy()
                    place[:, axis] += way
                    inside = (place[:, axis] >= 0) & (place[:, axis] < self.counts[axis] << level)
                    left, place = mine[inside], place[inside]
                    for other in sorted((at for at in keys if at <= level), reverse=True):
                        key, where = keys[other]
                        asked = self._key(place >> (level - other), other)
                        at = np.minimum(np.searchsorted(key, asked), len(key) - 1)
                        hit = key[at] == asked
                        new = hit if other < level else hit & (way > 0)
                        first.append(left[new])
                        second.append(where[at[new]])
                        left, place = left[~hit], place[~hit]
        return np.concatenate(first), np.concatenate(second)

    def _key(self, place: Whole, level: int) -> Whole:
        return np.asarray(np.ravel_multi_index(tuple(place.T), tuple(self.counts << level)))

    def _sorted(self, cells: _Cells, level: int) -> tuple[Whole, Whole]:
        mine = np.flatnonzero(cells.level == level)
        key = self._key(cells.place[mine], level)
        order = np.argsort(key)
        return key[order], mine[order]


def widest(shapes: Sequence[Shape], room: Room, *, size: float, close: float, most_cells: int = 150_000) -> Bounds:
    """Bounds on the radius of the largest sphere that gets through a room.

    Parameters
    ----------
    size : of the coarsest cells, about
    close : how far apart the bounds may be in the end
    most_cells : where they are no closer, cells are halved no more
    """
    search = _Search(shapes, room, size)
    cells = search.first()
    best, eased_from = Bounds(0.0, np.inf, search.low), 0.0
    while True:
        cells = cells.taken(cells.most > best.least)
        if not len(cells.level):
            return Bounds(best.least, best.least, best.at)
        half = search.half(cells.level)
        a, b = search.beside(cells)
        most = min(best.most, _most(cells, half, a, b))
        way = _way(search, cells, a, b)
        least, at = best.least, best.at
        if way is not None and way.room > eased_from:
            eased_from = way.room
            least, at = max((least, at), eased(search.shapes, room, way.points), key=lambda one: one[0])
        best = Bounds(least, max(most, least), at)
        if best.most - best.least <= close or len(half) > most_cells:
            return best
        halve = _undecided(cells, half, a, b, best, close)
        if not halve.any():
            return best
        cells = cells.taken(~halve).plus(search.halved(cells.taken(halve), best.least))


def _most(cells: _Cells, half: Floats, a: Whole, b: Whole) -> float:
    """No way is wider: of every way through the cells the one with most room, each cell as generous as may be."""
    starts, ends = (np.flatnonzero(value + half >= 0) for value in (cells.start, cells.end))
    way = _through(np.minimum(cells.most[a], cells.most[b]), a, b, starts, ends, cells.most)
    return 0.0 if way is None else float(cells.most[way].min())


class _Way(NamedTuple):
    """Points from start to end, and the least room at any of them."""

    points: Floats
    room: float


def _way(search: _Search, cells: _Cells, a: Whole, b: Whole) -> _Way | None:
    """The way from middle to middle that has most room at them, if one is there."""
    middles = search.middles(cells.level, cells.place)
    apart = np.linalg.norm(middles[a] - middles[b], axis=1)
    ok = cells.allowed >= 0
    use = ok[a] & ok[b] & (cells.allowed[a] + cells.allowed[b] >= apart)
    a, b = a[use], b[use]
    starts, ends = (np.flatnonzero((value >= 0) & ok) for value in (cells.start, cells.end))
    way = _through(np.minimum(cells.clear[a], cells.clear[b]), a, b, starts, ends, cells.clear)
    return None if way is None or len(way) < 2 else _Way(middles[way], float(cells.clear[way].min()))


def _through(room: Floats, a: Whole, b: Whole, starts: Whole, ends: Whole, of: Floats) -> Whole | None:
    """The cells of the way with most room from any start to any end; None where none hangs together."""
    count = len(of)
    first, last = count, count + 1
    rows = np.concatenate([a, starts, ends])
    columns = np.concatenate([b, np.full(len(starts), first), np.full(len(ends), last)])
    value = np.concatenate([room, of[starts], of[ends]])
    if not len(value):
        return None
    cost = value.max() - value + 1.0
    tree = minimum_spanning_tree(coo_matrix((cost, (rows, columns)), shape=(count + 2, count + 2)).tocsr())
    _, before = breadth_first_order(tree, first, directed=False)
    if before[last] < 0:
        return None
    way = [int(before[last])]
    while way[-1] != first:
        way.append(int(before[way[-1]]))
    return np.array(way[-2::-1])


def straight(shapes: Sequence[Shape], points: Floats) -> Floats:
    """Of the straight pieces between points: the least room along each, no more than there is; see the module."""
    found = held(shapes, points)
    move = points[1:] - points[:-1]
    length = np.linalg.norm(move, axis=1)[:, None]
    to = move / np.maximum(length, 1e-300)
    d0, d1 = found.distance[:-1], found.distance[1:]
    fall, rise = ((normal * to[:, None]).sum(axis=2) for normal in (found.normal[:-1], found.normal[1:]))
    bend = np.maximum(rise - fall, 1e-300)
    crossing = np.clip((d0 - d1 + rise * length) / bend, 0.0, length)
    between = np.maximum(d0 + fall * crossing, d1 - rise * (length - crossing))
    least = np.where(fall >= 0, d0, np.where(rise <= 0, d1, np.minimum(between, np.minimum(d0, d1))))
    found_least: Floats = least.min(axis=1)
    return found_least


def eased(shapes: Sequence[Shape], room: Room, points: Floats, turns: int = 60) -> tuple[float, Floats]:
    """A way wider than the one given, by moving points of it where it is narrowest; its width, and where that is."""
    rng = np.random.default_rng(1)
    width = straight(shapes, points)
    reach = float(np.linalg.norm(points[1:] - points[:-1], axis=1).max())
    for _ in range(turns):
        worst = int(width.argmin())
        if np.linalg.norm(points[worst + 1] - points[worst]) > reach / 3:  # first a point more
            points = np.insert(points, worst + 1, (points[worst] + points[worst + 1]) / 2, axis=0)
            width = straight(shapes, points)
            worst = int(width.argmin())
        moved = False
        for at in (worst, worst + 1):
            if 0 < at < len(points) - 1:
                tried = points[at] + rng.normal(size=(48, 3)) * (reach * rng.uniform(0.02, 1, size=(48, 1)))
                got = np.minimum(*(_pieces(shapes, points[at + side], tried) for side in (-1, 1)))
                got[~_stays(room, points[at - 1], tried) | ~_stays(room, points[at + 1], tried)] = -np.inf
                pick = int(got.argmax())
                if got[pick] > min(width[at - 1], width[at]) + 1e-12:
                    points[at] = tried[pick]
                    width[at - 1 : at + 1] = straight(shapes, points[at - 1 : at + 2])
                    moved = True
        reach = reach if moved else reach / 2
    worst = int(width.argmin())
    return max(float(width[worst]), 0.0), points[worst]


def _pieces(shapes: Sequence[Shape], end: Floats, starts: Floats) -> Floats:
    """As `straight` has it, of pieces from several points to one."""
    points = np.stack([starts, np.broadcast_to(end, starts.shape)], axis=1).reshape(-1, 3)
    return straight(shapes, points)[::2]


def _stays(room: Room, end: Floats, starts: Floats) -> Flags:
    """Whether pieces from several points to one are within the room and all along allowed."""
    apart = np.linalg.norm(starts - end, axis=1)
    allowed = room.allowed(starts)
    inside = np.all((starts >= room.low) & (starts <= room.high), axis=1)
    found: Flags = inside & (allowed >= 0) & (allowed + room.allowed(end[None]) >= apart)
    return found


def _undecided(cells: _Cells, half: Floats, a: Whole, b: Whole, best: Bounds, close: float) -> Flags:
    """The cells whose halves may tell whether a way is wider than a width between the bounds.

    They lie on the ways from start to end that lead through fewest cells of which it is open whether they have room.
    """
    aim = best.least + min(close, _AIM * (best.most - best.least))
    sure = (cells.clear - half >= aim) & (cells.allowed - half >= 0)
    if not best.least:  # no way is found yet: it may start or end in some part of a cell, not at its middle
        for value in (cells.start, cells.end):
            sure &= (value >= 0) | (value + half < 0)
    wide = cells.most >= aim
    over = np.where(sure, 0.0, 1.0)
    starts, ends = (np.flatnonzero((value + half >= 0) & wide) for value in (cells.start, cells.end))
    both = wide[a] & wide[b]
    a, b = a[both], b[both]
    count = len(half)
    rows = np.concatenate([a, starts, ends])
    columns = np.concatenate([b, np.full(len(starts), count), np.full(len(ends), count + 1)])
    cost = np.concatenate([over[a] + over[b], over[starts], over[ends]]) + _TINY
    graph = coo_matrix((cost, (rows, columns)), shape=(count + 2, count + 2)).tocsr()
    to_start, to_end = dijkstra(graph, directed=False, indices=[count, count + 1])[:, :count]
    through = to_start + to_end
    open_to = ~sure & np.isfinite(through)
    if not open_to.any():
        return open_to
    return open_to & (through <= through[open_to].min() + _MORE)
