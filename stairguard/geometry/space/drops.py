"""The widest way over an edge and down, under what runs above it: seen from above, where edge or members turn.

A centre over one place of the plan has the more room from the ground the higher it is, and from what runs above it the
more the lower it is. So what is left over each place is one stretch, as `stairguard.geometry.space.way_grid` asks.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from stairguard.geometry.space.bodies import Body, Prism, Rod, Triple, from_figure

if TYPE_CHECKING:
    from stairguard.geometry.space.way_grid import Flags, Floats, Inside

_HALVINGS: Final = 12
"""Of the height: what is left of it is small beside the finest cell, and the bodies have the last word."""
_UPRIGHT: Final = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


def upright(figure: Sequence[tuple[float, float]], bottom: float, top: float) -> Prism:
    """A figure in plan, convex, its corners counter-clockwise, between two heights."""
    return Prism((0.0, 0.0, 0.0), _UPRIGHT, tuple(figure), (bottom, top))


@dataclass(frozen=True, slots=True, kw_only=True)
class Drop:
    """Ground with an edge, what runs above it and beyond, and the part of the plan that is looked at.

    Parameters
    ----------
    ground : upright, each down without end; a way starts over it and ends where none of it is under a sphere
    rods : that a sphere is to pass under
    posts : upright, up past all that counts
    low, high : corners of the part looked at; a way may go nowhere else
    counts : cells each way of the coarsest grid
    heights : the least and greatest that a centre may have
    past : places that are past the guard though there is ground below, by two arrays of coordinates
    """

    ground: tuple[Prism, ...]
    rods: tuple[Rod, ...]
    posts: tuple[Prism, ...]
    low: tuple[float, float]
    high: tuple[float, float]
    counts: tuple[int, int]
    heights: tuple[float, float]
    past: Inside | None = None

    @property
    def bodies(self) -> tuple[Body, ...]:
        """The ground, the rods, the posts."""
        return (*self.ground, *self.rods, *self.posts)

    @property
    def shut(self) -> Inside:
        """Nothing is."""
        return lambda x, y: np.zeros(np.broadcast(x, y).shape, bool)

    @property
    def bounds(self) -> tuple[Inside, ...]:
        """Whether there is ground below, and this side of the guard."""
        return (self._over_ground, *(() if self.past is None else (self.past,)))

    def seen(self, centre: Triple) -> tuple[float, float]:
        """The place in plan that a centre is over."""
        return centre[0], centre[1]

    def radii(self, first: Floats, second: Floats) -> tuple[Floats, Floats, Floats]:
        """As `stairguard.geometry.space.way_grid.WayView` has them."""
        from_ground, from_above = self._from_ground(first, second), self._from_above(first, second)
        bottom, top = (np.full_like(first, height) for height in self.heights)
        over_ground = self._over_ground(first, second)
        begun = np.where(over_ground, from_above(top), -1.0)
        out = np.where(over_ground, -1.0, from_ground(bottom))
        if self.past is not None:
            past = over_ground & self.past(first, second)
            begun, out = np.where(past, -1.0, begun), np.where(past, from_above(top), out)
        low, high = bottom, top
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            higher = from_ground(middle) < from_above(middle)
            low, high = np.where(higher, middle, low), np.where(higher, high, middle)
        over = np.maximum.reduce(
            [np.minimum(from_ground(at), from_above(at)) for at in (low, high)]
            + [np.maximum(begun, out)]  # past one of the two it is held by nothing more
        )
        return over, np.minimum(begun, over), np.minimum(out, over)

    def centres(self, first: float, second: float, radius: float, grain: float) -> Iterator[Floats]:
        """Where over a place a sphere may have its centre, if it is held there by ground and what runs above.

        And lower, between what goes straight down, or level with a rod.
        """
        x, y = np.array([first]), np.array([second])
        from_ground, from_above = self._from_ground(x, y), self._from_above(x, y)
        low, high = self.heights
        for _ in range(2 * _HALVINGS):
            middle = (low + high) / 2
            at = np.array([middle])
            low, high = (middle, high) if from_ground(at)[0] < from_above(at)[0] else (low, middle)
        yield np.array([first, second, low])
        deep = min(body.span[1] for body in self.ground) - radius - grain
        yield np.array([first, second, min(low, deep)])
        for rod in self.rods:
            yield np.array([first, second, min(low, _level_with(rod, x, y)[0])])

    def _over_ground(self, x: Floats, y: Floats) -> Flags:
        flat = np.ravel(x), np.ravel(y)
        over: Flags = (
            np.min([from_figure(body.figure, *flat) for body in self.ground], axis=0).reshape(np.shape(x)) <= 0
        )
        return over

    def _from_ground(self, x: Floats, y: Floats) -> Callable[[Floats], Floats]:
        """How far centres over places are from the ground, by their heights, all of shape (n,)."""
        level = [(from_figure(body.figure, x, y), body.span[1]) for body in self.ground]

        def clear(z: Floats) -> Floats:
            least: Floats = np.min([np.hypot(g, np.maximum(z - top, 0.0)) for g, top in level], axis=0)
            return least

        return clear

    def _from_above(self, x: Floats, y: Floats) -> Callable[[Floats], Floats]:
        """How far they are from rods and posts; over a rod no farther than level with it, as they pass under it."""
        rods = [_beside(rod, x, y) for rod in self.rods]
        posts = [(from_figure(post.figure, x, y), post.span[0]) for post in self.posts]

        def clear(z: Floats) -> Floats:
            each = [rod(z) for rod in rods]
            each += [np.hypot(q, np.maximum(foot - z, 0.0)) for q, foot in posts]
            least: Floats = np.min(each, axis=0)
            return least

        return clear


def _level_with(rod: Rod, x: Floats, y: Floats) -> Floats:
    """Heights of a rod's axis where it is nearest in plan to places."""
    (ax, ay, az), (bx, by, bz) = rod.a, rod.b
    dx, dy = bx - ax, by - ay
    share = np.clip(((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy), 0.0, 1.0)
    height: Floats = az + share * (bz - az)
    return height


def _beside(rod: Rod, x: Floats, y: Floats) -> Callable[[Floats], Floats]:
    """How far centres over places are from a rod's surface, by their heights."""
    (ax, ay, az), (bx, by, bz) = rod.a, rod.b
    dx, dy, dz = bx - ax, by - ay, bz - az
    wx, wy, level = x - ax, y - ay, dx * dx + dy * dy
    along = wx * dx + wy * dy
    highest = _level_with(rod, x, y)

    def clear(z: Floats) -> Floats:
        up = np.minimum(z, highest) - az
        share = np.clip((along + up * dz) / (level + dz * dz), 0.0, 1.0)
        off: Floats = np.sqrt((wx - share * dx) ** 2 + (wy - share * dy) ** 2 + (up - share * dz) ** 2) - rod.radius
        return off

    return clear
