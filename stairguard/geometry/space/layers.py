"""The widest way past two layers of bodies, one behind the other, each of one section through its depth.

Seen square to the layers a sphere's centre is a point; ``y`` is how far on it is. A near body, at no more than ``y0``,
and a far one, at no less than ``y1``, leave room for a sphere of radius ``r`` over a point at distances ``g`` and ``q``
from their sections as long as

    sqrt(max(r^2 - g^2, 0)) + sqrt(max(r^2 - q^2, 0)) <= y1 - y0

(a rounded body's radius is added to ``r`` in its root). What is left over one point is one stretch of ``y``, so that a
way in space is a way among such points: from one past which no near body reaches, to one clear of all far bodies. The
largest sphere over each point is by closed form, and changes by no more than the point moves: a grid bounds the widest
way both ways, and is made finer only where that is undecided.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, NamedTuple, TypeAlias

import numpy as np

from stairguard.geometry.space.bodies import Body, Rod, from_figure
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
_ABOUT: Final = 4
"""Cells about a narrowest place that a way may pass it by."""
_SAME: Final = 1e-9
"""Of the room's size: radii this close are one."""


class Layer(NamedTuple):
    """A body, its section without what that is rounded by, and its face to the other layer.

    Of near bodies that is the far face, of far ones the near face.
    """

    body: Body
    section: tuple[tuple[float, float], ...]
    face: float

    @property
    def rounding(self) -> float:
        """Radius that its section is rounded by."""
        return self.body.radius if isinstance(self.body, Rod) else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Screen:
    """Two layers, and where among the points seen a way may go.

    Parameters
    ----------
    near, far : what the sphere has to pass, first and last
    low, high : corners of the box of points, in the two axes seen
    counts : cells each way of the coarsest grid
    starts, ends : where a way may start, and where it may end, of two arrays of coordinates
    shut : where it may not go
    past : where a centre may be only past the near bodies' faces, from ``past_face`` on
    clear : whether only spheres wholly past it may be there
    """

    near: tuple[Layer, ...]
    far: tuple[Layer, ...]
    low: tuple[float, float]
    high: tuple[float, float]
    counts: tuple[int, int]
    starts: Inside
    ends: Inside
    shut: Inside
    past: Inside | None = None
    past_face: float = 0.0
    clear: bool = False

    @property
    def bodies(self) -> tuple[Body, ...]:
        """All, the near ones first."""
        return tuple(layer.body for layer in (*self.near, *self.far))


@dataclass(frozen=True, slots=True)
class Way:
    """The largest sphere on its way, where that is narrowest: ``saddle``, its radius at most ``error`` too large.

    No way that keeps clear of that place has room for a sphere of a radius more than ``rival``. ``shut_off`` is whether
    it would be wider if it went where it may not go.
    """

    saddle: Saddle
    error: float
    rival: float
    shut_off: bool = False


def widest_way(screen: Screen) -> Way | None:
    """The largest sphere that finds a way through both layers, at its narrowest place; None where there is no way.

    Its radius is to machine precision where bodies hold it there as `saddles` has it, with an ``error`` of zero;
    elsewhere it is the upper bound of the finest grid.
    """
    grid = _Grid.of(screen)
    if grid is None:
        return None
    for left in reversed(range(_ROUNDS - 1)):
        finer = grid.halved()
        finer.measured(grid.least, grid.most, exactly=left == 0)
        grid = finer
    return grid.told()


def followed(screen: Screen, way: Way, moved: float) -> Way | None:
    """The same way once bodies have moved, each by no more than ``moved``; None where another may be wider now.

    What room there is anywhere changes by no more than the bodies move.
    """
    before = way.saddle
    scale = max(b - a for a, b in zip(screen.low, screen.high, strict=True))
    saddle = held(screen.bodies, before.held_by, np.array(before.centre), _FOLLOWED * moved + _SAME * scale, scale)
    if way.error or saddle is None or abs(saddle.radius - before.radius) > moved + _SAME * scale:
        return None
    return Way(saddle, 0.0, way.rival + moved) if way.rival + moved < saddle.radius else None


def still(screen: Screen, way: Way) -> bool:
    """Whether a way, the widest among some of the bodies, is so among all of them, to a part of a cell."""
    at, radius = np.array(way.saddle.centre), way.saddle.radius
    grid = _Grid.of(screen)
    if grid is None or min(float(body.gap(at[None])[0]) for body in screen.bodies) < radius - _SAME * radius:
        return False
    grid.least = grid.most = radius
    for _ in range(_ROUNDS - 1):
        grid = grid.halved()
    return grid.gets_through(radius - grid.grain)


@dataclass(slots=True)
class _Grid:
    """Cells' middles by their two coordinates, and three radii over each, all of shape (m, n).

    ``over`` is that of the largest sphere over it, ``begun`` of the largest that no near body touches, if a way may
    start there, ``out`` of the largest that no far body touches, if a way may end there. The widest way's radius is no
    less than ``least`` and no more than ``most``.
    """

    screen: Screen
    first: Floats
    second: Floats
    over: Floats
    begun: Floats
    out: Floats
    width: float = 0.0
    least: float = 0.0
    most: float = 0.0

    @classmethod
    def of(cls, screen: Screen) -> _Grid | None:
        """The coarsest; None where it shows no way."""
        first, second = (
            low + (np.arange(n) + 0.5) * (high - low) / n
            for low, high, n in zip(screen.low, screen.high, screen.counts, strict=True)
        )
        at = np.meshgrid(first, second, indexing="ij")
        over, begun, out = (one.reshape(at[0].shape) for one in _radii(screen, at[0].ravel(), at[1].ravel()))
        grid = cls(screen, first, second, over, begun, out)
        return grid if grid.measured(0.0, float(out.max()) + grid.grain) else None

    @property
    def sizes(self) -> tuple[float, float]:
        """Of one cell."""
        (a, b), (c, d), shape = self.screen.low, self.screen.high, self.over.shape
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
                zip(self.screen.low, self.screen.high, strict=True), self.over.shape, self.sizes, strict=True
            )
        )
        over, begun, out = (values.repeat(2, axis=0).repeat(2, axis=1) for values in (self.over, self.begun, self.out))
        at = np.nonzero(undecided.repeat(2, axis=0).repeat(2, axis=1))
        over[at], begun[at], out[at] = _radii(self.screen, first[at[0]], second[at[1]])
        return _Grid(self.screen, first, second, over, begun, out, least=self.least, most=self.most)

    def _at_bounds(self) -> Flags:
        """Cells at the bounds of where a way may start, end or go at all: beyond them nothing follows from a middle."""
        x, z = np.meshgrid(self.first, self.second, indexing="ij")
        at = np.zeros(self.over.shape, bool)
        for inside in (self.screen.shut, self.screen.starts, self.screen.ends, self.screen.past):
            if inside is not None:
                kind = inside(x, z)
                across, along = kind[1:] != kind[:-1], kind[:, 1:] != kind[:, :-1]
                at[1:] |= across
                at[:-1] |= across
                at[:, 1:] |= along
                at[:, :-1] |= along
        return at

    def told(self) -> Way:
        """The bodies' own saddle at the narrowest place, if there is one within the bounds; else the upper bound."""
        bodies = self.screen.bodies
        scale = max(b - a for a, b in zip(self.screen.low, self.screen.high, strict=True))
        least, most = self.least - _SAME * scale, self.most + _SAME * scale
        centres = self._narrowest()
        for near, gaps in centres:
            for reach in (2 * self.grain, _REACH * self.grain):
                found = [s for s in saddles(bodies, near, gaps, reach, scale) if least <= s.radius <= most]
                if found:
                    widest = max(found, key=lambda saddle: saddle.radius)
                    return Way(widest, 0.0, self._but_for(widest))
        near, gaps = centres[0]
        close = tuple(int(i) for i in np.flatnonzero(gaps <= gaps.min() + 2 * self.grain))
        x, y, z = near.tolist()
        saddle = Saddle((x, y, z), self.most, close, (0.0, 1.0, 0.0))
        return Way(saddle, self.most - self.least, self.most, self._shut_off(x, z))

    def _shut_off(self, x: float, z: float) -> bool:
        """Whether a cell, by its middle, is beside one where no way may go."""
        across, along = self.sizes
        beside = np.array([x - across, x + across, x, x]), np.array([z, z, z - along, z + along])
        return bool(self.screen.shut(*beside).any())

    def _but_for(self, saddle: Saddle) -> float:
        """The most that a way may have room for that keeps clear of a place; zero where there is none."""
        x, _, z = saddle.centre
        about = np.hypot.outer(self.first - x, self.second - z) <= _ABOUT * max(self.sizes)
        over, begun, out = (np.where(about, -1.0, values) for values in (self.over, self.begun, self.out))
        rest = _Grid(self.screen, self.first, self.second, over, begun, out)
        return rest.most if rest.measured(0.0, saddle.radius) else 0.0

    def _narrowest(self) -> list[tuple[Floats, Floats]]:
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
        found = []
        for i, k in cells[:: max(int((rank == rank.max()).sum()) // _TRIED, 1)][:_TRIED]:
            x, z = float(self.first[i]), float(self.second[k])
            for y in _how_far(self.screen, x, z, self.width, self.grain):
                near = np.array([x, y, z])
                found.append((near, np.array([float(body.gap(near[None])[0]) for body in self.screen.bodies])))
        return found


def _off(layers: Sequence[Layer], x: Floats, z: Floats) -> Iterator[tuple[float, float, Floats]]:
    """Distances of points from the nearest section of those that share a face and a rounding, shape (n,)."""
    nearest: dict[tuple[float, float], Floats] = {}
    for layer in layers:
        off = from_figure(layer.section, x, z)
        key = layer.face, layer.rounding
        nearest[key] = np.minimum(nearest[key], off) if key in nearest else off
    for (face, rounding), off in nearest.items():
        yield face, rounding, off


def _radii(screen: Screen, x: Floats, z: Floats) -> tuple[Floats, Floats, Floats]:
    """As `_Grid` has them, of points given by their two coordinates, shape (n,)."""
    near, far = list(_off(screen.near, x, z)), list(_off(screen.far, x, z))
    over = np.full_like(x, np.inf)
    for y0, a, g in near:
        for y1, b, q in far:
            np.minimum(over, _between(g, a, q, b, y1 - y0), out=over)
    begun = np.min([g - a for _, a, g in near], axis=0)
    out = np.min([q - b for _, b, q in far], axis=0)
    if screen.past is not None:
        past, none = screen.past(x, z), np.zeros_like(x)
        for y1, b, q in far:
            room = y1 - screen.past_face
            left = _between(none, 0.0, q, b, room) if screen.clear else np.hypot(q, room) - b
            np.minimum(over, left, out=over, where=past)
        begun = np.where(past, -1.0, begun)
    shut = screen.shut(x, z)
    over[shut] = -1.0
    begun[shut | ~screen.starts(x, z)] = -1.0
    out[shut | ~screen.ends(x, z)] = -1.0
    return over, np.minimum(begun, over), np.minimum(out, over)


def _between(g: Floats, a: float, q: Floats, b: float, apart: float) -> Floats:
    """Radius of the largest sphere over points ``g`` from a near section and ``q`` from a far one, ``apart`` behind it.

    ``a`` and ``b`` are what the sections are rounded by. It touches both where ``y`` is between their faces:

        (r + a)^2 = g^2 + y^2,   (r + b)^2 = q^2 + (apart - y)^2

    Else it passes before both, or behind both.
    """
    free = np.maximum(g - a, q - b)
    if apart <= 0:
        return free
    more = b - a
    share, k = more / apart, (apart * apart - more * more + q * q - g * g) / (2 * apart)
    if abs(share) >= 1:  # so thick and so close that it never fits between
        return free
    square = 1 - share * share
    radius = (np.sqrt(k * k + square * g * g) - k * share) / square  # of r + a
    y = k - share * radius
    return np.where((y > 0) & (y < apart), np.maximum(radius - a, free), free)


def _how_far(screen: Screen, x: float, z: float, radius: float, grain: float) -> Iterator[float]:
    """How far on the centre of a sphere of a radius may be, over a point, to be held there by bodies of both layers.

    As little as it may, between the two layers; and on between far bodies that just leave it through.
    """
    at = np.array([x]), np.array([z])
    near = [y0 + float(np.sqrt(max((radius + a) ** 2 - g[0] ** 2, 0.0))) for y0, a, g in _off(screen.near, *at)]
    far = [(y1, b, float(q[0])) for y1, b, q in _off(screen.far, *at)]
    most = [y1 - float(np.sqrt((radius + b) ** 2 - q * q)) for y1, b, q in far if q < radius + b]
    faces = [layer.face for layer in screen.far]
    least = max(min(max(near), min(most, default=max(faces))), *(layer.face for layer in screen.near))
    yield least
    through = [y1 for y1, b, q in far if radius + b - grain <= q <= radius + b + grain]
    if through and max(through) >= least:
        yield max(through) + grain
