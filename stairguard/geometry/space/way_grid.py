"""The widest way of a sphere among bodies in space, where a way is one among points of a plane.

Over each point of the plane what is left for a centre is one stretch of a line square to it, or the end of one. So ways
in space are ways in the plane, from points where a centre may be as far out as it likes on one side to points where it
may on the other. The largest sphere over a point changes by no more than the point moves: a grid of points bounds the
widest way both ways, is made finer only where that is undecided, and shows which bodies hold the sphere where the way
is narrowest.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, NamedTuple, Protocol, TypeAlias

import numpy as np

from stairguard.geometry.space.bodies import Body, Triple
from stairguard.geometry.space.grid_pieces import grown, pieces
from stairguard.geometry.space.saddles import Saddle, held, saddles

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Flags = NDArray[np.bool_]
    Inside: TypeAlias = Callable[[Floats, Floats], Flags]

_ROUNDS: Final = 4
"""Grids, each of half the size of the one before."""
_REACH: Final = 6
"""Grains that a narrowest place may be from the cell that shows it: how far on it is there follows a root."""
_FOLLOWED: Final = 8
"""How much farther a place may move than the bodies that make it."""
_TRIED: Final = 4
"""Cells to look at where many are as narrow."""
_CLEAR_OF: Final = 3
"""Grains that another way's room must be less by not to count as nearly as wide."""
_OTHERS: Final = 2
"""Other ways to keep in mind."""
_ABOUT: Final = 8
"""Cells about a narrowest place that a way may pass it by."""
_SAME: Final = 1e-9
"""Of the room's size: radii this close are one."""


class WayView(Protocol):
    """Bodies seen along a line, and where among the points of the plane square to it a way may go."""

    @property
    def low(self) -> tuple[float, float]:
        """The corner of the box of points where both coordinates are least."""

    @property
    def high(self) -> tuple[float, float]:
        """The one where both are greatest."""

    @property
    def counts(self) -> tuple[int, int]:
        """Cells each way of the coarsest grid."""

    @property
    def shut(self) -> Inside:
        """Which points, of two arrays of coordinates, no way may go over."""

    @property
    def bounds(self) -> tuple[Inside, ...]:
        """All that is asked of a point apart from the room over it."""

    @property
    def bodies(self) -> tuple[Body, ...]:
        """What is in the way."""

    def radii(self, first: Floats, second: Floats) -> tuple[Floats, Floats, Floats]:
        """Radii over points, each coordinate of shape (n,), three of that shape; less than zero where none may be.

        Of the largest sphere; of the largest that may come from where ways start; and of the largest that may get to
        where they end.
        """

    def seen(self, centre: Triple) -> tuple[float, float]:
        """The point that a centre is over."""

    def centres(self, first: float, second: float, radius: float, grain: float) -> Iterator[Floats]:
        """Where over a point a sphere of a radius may have its centre, shape (3,), if it is held there."""


@dataclass(frozen=True, slots=True)
class Way:
    """The largest sphere on its way, where that is narrowest: ``saddle``, its radius at most ``error`` too large.

    ``others`` are the narrowest places of ways nearly as wide. No way that keeps clear of all of these has room for a
    sphere of a radius more than ``rest``: as much as the widest where none were looked for. ``shut_off`` is whether it
    would be wider if it went where it may not go.
    """

    saddle: Saddle
    error: float
    others: tuple[Saddle, ...]
    rest: float
    shut_off: bool = False


def widest_way(view: WayView, *, to_follow: bool = False) -> Way | None:
    """The largest sphere that finds a way among bodies, at its narrowest place; None where there is no way.

    Its radius is to machine precision where bodies hold it there as `saddles` has it, with an ``error`` of zero;
    elsewhere it is the upper bound of the finest grid. Other ways are looked for only where it is `to_follow`.
    """
    grid = _Grid.of(view)
    if grid is None:
        return None
    for left in reversed(range(_ROUNDS - 1)):
        finer = grid.halved()
        finer.measured(grid.least, grid.most, exactly=left == 0)
        grid = finer
    return grid.told(to_follow=to_follow)


def followed(view: WayView, way: Way, moved: float) -> Way | None:
    """The same way once bodies have moved, each by no more than ``moved``; None where another may be wider now.

    What room there is anywhere changes by no more than the bodies move. Where another set of bodies close by has come
    to hold a larger sphere, that is told.
    """
    scale = max(b - a for a, b in zip(view.low, view.high, strict=True))
    after = []
    for before in (way.saddle, *way.others):
        saddle = held(view.bodies, before.held_by, np.array(before.centre), _FOLLOWED * moved + _SAME * scale, scale)
        if way.error or saddle is None or abs(saddle.radius - before.radius) > moved + _SAME * scale:
            return None
        at = np.array(saddle.centre)
        gaps = _gaps(view, at)
        if set(np.flatnonzero(gaps <= saddle.radius + 4 * moved)) <= set(before.held_by):
            after.append(saddle)
            continue
        beside = saddles(view.bodies, at, gaps, 2 * moved, scale, {before.held_by})
        most = before.radius + moved + _SAME * scale
        after.append(max((s for s in (saddle, *beside) if s.radius <= most), key=lambda s: s.radius))
    widest, *others = sorted(after, key=lambda saddle: -saddle.radius)
    return Way(widest, 0.0, tuple(others), way.rest + moved) if way.rest + moved < widest.radius else None


def saddles_at(view: WayView, way: Way, points: Iterable[tuple[float, float]]) -> Iterator[Saddle]:
    """Narrowest places over some points, no narrower than the widest way and none that a finest cell would show."""
    scale = max(b - a for a, b in zip(view.low, view.high, strict=True))
    cells = 2 ** (_ROUNDS - 1) * max(view.counts)
    grain = scale / cells
    for point in points:
        for near in view.centres(*point, way.saddle.radius, grain):
            for saddle in saddles(view.bodies, near, _gaps(view, near), _REACH * grain, scale):
                if way.saddle.radius - way.error <= saddle.radius <= way.saddle.radius + grain:
                    yield saddle


def still(view: WayView, way: Way) -> bool:
    """Whether a way, the widest among some of the bodies, is so among all of them, to a part of a cell."""
    at, radius = np.array(way.saddle.centre), way.saddle.radius
    if _gaps(view, at).min() < radius - _SAME * radius:
        return False
    grid = _Grid.of(view)
    if grid is None:
        return False
    grid.least = grid.most = radius
    for _ in range(_ROUNDS - 1):
        grid = grid.halved()
    return grid.gets_through(radius - grid.grain)


def _gaps(view: WayView, centre: Floats) -> Floats:
    """How far a centre, shape (3,), is from each of the bodies."""
    return np.array([float(body.gap(centre[None])[0]) for body in view.bodies])


class _Seed(NamedTuple):
    """A centre, shape (3,), its gaps from the bodies, and the point it is over."""

    near: Floats
    gaps: Floats
    point: tuple[float, float]


@dataclass(slots=True)
class _Grid:
    """Cells' middles by their two coordinates, and three radii over each, all of shape (m, n).

    ``over`` is that of the largest sphere over it, ``begun`` of the largest that no near body touches, if a way may
    start there, ``out`` of the largest that no far body touches, if a way may end there. The widest way's radius is no
    less than ``least`` and no more than ``most``.
    """

    view: WayView
    first: Floats
    second: Floats
    over: Floats
    begun: Floats
    out: Floats
    width: float = 0.0
    least: float = 0.0
    most: float = 0.0

    @classmethod
    def of(cls, view: WayView) -> _Grid | None:
        """The coarsest; None where it shows no way."""
        first, second = (
            low + (np.arange(n) + 0.5) * (high - low) / n
            for low, high, n in zip(view.low, view.high, view.counts, strict=True)
        )
        at = np.meshgrid(first, second, indexing="ij")
        over, begun, out = (one.reshape(at[0].shape) for one in view.radii(at[0].ravel(), at[1].ravel()))
        grid = cls(view, first, second, over, begun, out)
        return grid if grid.measured(0.0, float(out.max()) + grid.grain) else None

    @property
    def sizes(self) -> tuple[float, float]:
        """Of one cell."""
        (a, b), (c, d), shape = self.view.low, self.view.high, self.over.shape
        return (c - a) / shape[0], (d - b) / shape[1]

    @property
    def grain(self) -> float:
        """Half a cell's diagonal: what any point may be from the middle of its cell."""
        return float(np.hypot(*self.sizes)) / 2

    def measured(self, least: float, most: float, *, exactly: bool = False) -> bool:
        """Bound the widest way, which is known to lie within ``least`` and ``most``; False where there is none.

        ``exactly`` finds the cell that it depends on; else it does to know it to a part of a cell.
        """
        values = np.concatenate([v[(v >= least) & (v <= most) & (v > 0)] for v in (self.over, self.begun, self.out)])
        values = np.unique(values)
        close = 0.0 if exactly else self.grain / 8
        low, high = -1, len(values)
        while high - low > 1 and (low < 0 or high == len(values) or values[high] - values[low] > close):
            middle = (low + high) // 2
            low, high = (middle, high) if self.gets_through(float(values[middle])) else (low, middle)
        if low < 0:  # where it may go is seen more sharply than before
            return least > 0 and self.measured(0.0, most, exactly=exactly)
        self.width = float(values[low])
        widest = float(values[high]) if high < len(values) else most
        self.least, self.most = max(least, self.width - max(self.sizes) / 2), min(most, widest + self.grain)
        return True

    def gets_through(self, radius: float) -> bool:
        """Whether cells with room for a sphere hang together from where a way may start to where it may end."""
        numbers, most = pieces(self.over >= radius)
        begun = np.zeros(most + 1, bool)
        begun[numbers[self.begun >= radius]] = True
        return bool(begun[numbers[self.out >= radius]].any())

    def halved(self) -> _Grid:
        """The same in cells of half the size, reckoned again where the widest way may depend on it."""
        grain, low, high = self.grain, self.least, self.most
        undecided = np.zeros(self.over.shape, bool)
        for values in (self.over, self.begun, self.out):
            undecided |= (values + grain >= low) & (values - grain <= high)
        undecided |= self._at_bounds()
        first, second = (
            (ends[0] + (np.arange(2 * n) + 0.5) * size / 2)
            for ends, n, size in zip(
                zip(self.view.low, self.view.high, strict=True), self.over.shape, self.sizes, strict=True
            )
        )
        over, begun, out = (values.repeat(2, axis=0).repeat(2, axis=1) for values in (self.over, self.begun, self.out))
        at = np.nonzero(undecided.repeat(2, axis=0).repeat(2, axis=1))
        over[at], begun[at], out[at] = self.view.radii(first[at[0]], second[at[1]])
        return _Grid(self.view, first, second, over, begun, out, least=self.least, most=self.most)

    def _at_bounds(self) -> Flags:
        """Cells at the bounds of where a way may start, end or go at all: beyond them nothing follows from a middle."""
        x, z = np.meshgrid(self.first, self.second, indexing="ij")
        at = np.zeros(self.over.shape, bool)
        for inside in self.view.bounds:
            kind = inside(x, z)
            across, along = kind[1:] != kind[:-1], kind[:, 1:] != kind[:, :-1]
            at[1:] |= across
            at[:-1] |= across
            at[:, 1:] |= along
            at[:, :-1] |= along
        return at

    def told(self, *, to_follow: bool) -> Way:
        """The bodies' own saddle at the narrowest place, if there is one within the bounds; else the upper bound."""
        widest = self._saddle(self._narrowest())
        if widest is not None:
            others, rest = self._others(widest) if to_follow else ((), widest.radius)
            return Way(widest, 0.0, others, rest)
        near, gaps, point = next(self._narrowest())
        close = tuple(int(i) for i in np.flatnonzero(gaps <= gaps.min() + 2 * self.grain))
        x, y, z = near.tolist()
        saddle = Saddle((x, y, z), self.most, close, (0.0, 1.0, 0.0))
        return Way(saddle, self.most - self.least, (), self.most, self._shut_off(*point))

    def _saddle(self, centres: Iterable[_Seed]) -> Saddle | None:
        """The widest sphere that bodies hold, within the bounds, at the first of the centres that leads to one."""
        scale = max(b - a for a, b in zip(self.view.low, self.view.high, strict=True))
        least, most = self.least - _SAME * scale, self.most + _SAME * scale
        for near, gaps, _ in centres:
            for reach in (2 * self.grain, _REACH * self.grain):
                found = [s for s in saddles(self.view.bodies, near, gaps, reach, scale) if least <= s.radius <= most]
                if found:
                    return max(found, key=lambda saddle: saddle.radius)
        return None

    def _shut_off(self, x: float, z: float) -> bool:
        """Whether a cell, by its middle, is beside one where no way may go."""
        across, along = self.sizes
        beside = np.array([x - across, x + across, x, x]), np.array([z, z, z - along, z + along])
        return bool(self.view.shut(*beside).any())

    def _others(self, widest: Saddle) -> tuple[tuple[Saddle, ...], float]:
        """Narrowest places of other ways nearly as wide, and what is left to ways clear of all; none where many are."""
        least = widest.radius - _CLEAR_OF * self.grain
        rest, found = self._without(widest), list[Saddle]()
        while rest.gets_through(least):
            rest.measured(least - self.grain, widest.radius, exactly=True)
            other = rest._saddle(rest._narrowest())
            if other is None or len(found) == _OTHERS:
                return (), widest.radius
            found.append(other)
            rest = rest._without(other)
        return tuple(found), least + self.grain

    def _without(self, saddle: Saddle) -> _Grid:
        """The same with nowhere to go about a place."""
        first, second = self.view.seen(saddle.centre)
        about = np.hypot.outer(self.first - first, self.second - second) <= _ABOUT * max(self.sizes)
        over, begun, out = (np.where(about, -1.0, values) for values in (self.over, self.begun, self.out))
        return _Grid(self.view, self.first, self.second, over, begun, out)

    def _narrowest(self) -> Iterator[_Seed]:
        """Centres, shape (3,), over the cells where the way is narrowest, and their gaps; the likeliest first.

        Of cells as narrow as that they lie between where wider ways from the start and from the end come to.
        """
        numbers, most = pieces(self.over > self.width)
        narrow, wide = self.over == self.width, []
        for ends in (self.begun, self.out):
            narrow |= ends == self.width
            reached = np.zeros(most + 1, bool)
            reached[numbers[ends > self.width]] = True
            reached[0] = False
            wide.append(grown(reached[numbers]) | (ends == self.width))
        between, _ = pieces(narrow)
        links = np.intersect1d(between[wide[0]], between[wide[1]])
        rank = np.isin(between, links[links > 0]) * (1 + 2 * wide[0].astype(int) + wide[1])
        cells = np.argwhere(narrow)
        cells = cells[np.argsort(-rank[narrow], kind="stable")]
        cells = cells[:: max(int((rank == rank.max()).sum()) // _TRIED, 1)][:_TRIED]
        for i, k in cells:
            point = float(self.first[i]), float(self.second[k])
            for near in self.view.centres(*point, self.width, self.grain):
                yield _Seed(near, _gaps(self.view, near), point)
