"""Convex bodies in space, and how far points are from them.

A stair, seen along the line it stands on, is a few convex figures drawn out along a straight line; so are posts and
rails. A strand is a rod. How far a point is from any of them changes by no more than the point moves.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

import numpy as np

if TYPE_CHECKING:  # numpy.typing costs more to import than all of the geometry
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

_Pair: TypeAlias = tuple[float, float]
Triple: TypeAlias = tuple[float, float, float]


class Contact(NamedTuple):
    """Where a point stands to a body: how far off, the unit direction from the body, and how that direction turns.

    ``gap`` is to the surface, ``normal`` of shape (3,), ``bend`` the second derivatives of the gap, shape (3, 3): zero
    before a face, across the way before an edge, all round a corner.
    """

    gap: float
    normal: Floats
    bend: Floats


@dataclass(frozen=True, slots=True)
class Rod:
    """A round member: all within ``radius`` of the segment from ``a`` to ``b``."""

    a: Triple
    b: Triple
    radius: float

    def gap(self, points: Floats) -> Floats:
        """Distances from points, shape (n, 3), to the surface, shape (n,); negative inside."""
        away = points - self._nearest(points)
        gaps: Floats = np.sqrt((away * away).sum(axis=1)) - self.radius
        return gaps

    def _nearest(self, points: Floats) -> Floats:
        a, along = np.array(self.a), np.subtract(self.b, self.a)
        share = (points - a) @ along / max(float(along @ along), 1e-300)
        nearest: Floats = a + np.clip(share, 0.0, 1.0)[:, None] * along
        return nearest

    def contact(self, point: Floats) -> Contact:
        """As `Contact` has it, for one point off the axis, shape (3,)."""
        foot = self._nearest(point[None])[0]
        along = np.subtract(self.b, self.a)
        length = float(np.sqrt(along @ along))
        share = float((point - np.array(self.a)) @ along) / max(length * length, 1e-300)
        free = (along / length,) if 0.0 < share < 1.0 else ()
        return _contact(point - foot, self.radius, free)


@dataclass(frozen=True, slots=True)
class Prism:
    """A convex figure drawn out along a straight line.

    Parameters
    ----------
    origin : where the figure's own axes start
    axes : the figure's two axes and the line it is drawn out along: unit vectors square to each other
    figure : its corners in those two axes, counter-clockwise
    span : from where to where it is drawn out; either end may be infinite
    """

    origin: Triple
    axes: tuple[Triple, Triple, Triple]
    figure: tuple[tuple[float, float], ...]
    span: tuple[float, float]

    def gap(self, points: Floats) -> Floats:
        """Distances from points, shape (n, 3), to the surface, shape (n,); zero inside."""
        own = (points - np.array(self.origin)) @ np.array(self.axes).T
        beyond = np.maximum(np.maximum(self.span[0] - own[:, 2], own[:, 2] - self.span[1]), 0.0)
        gaps: Floats = np.hypot(from_figure(self.figure, own[:, 0], own[:, 1]), beyond)
        return gaps

    def contact(self, point: Floats) -> Contact:
        """As `Contact` has it, for one point outside, shape (3,)."""
        axes = np.array(self.axes)
        own = axes @ (point - np.array(self.origin))
        w = min(max(float(own[2]), self.span[0]), self.span[1])
        foot, ways = self._foot(float(own[0]), float(own[1]))
        away = np.array([own[0] - foot[0], own[1] - foot[1], own[2] - w])
        free = []
        if self.span[0] < own[2] < self.span[1]:
            free.append(axes[2])
        free.extend(du * axes[0] + dv * axes[1] for du, dv in ways)
        return _contact(away @ axes, 0.0, free)

    def _foot(self, u: float, v: float) -> tuple[_Pair, tuple[_Pair, ...]]:
        """The figure's nearest point, and the ways it may move: both inside, along an edge, none at a corner."""
        near, best = (u, v), inf
        ways: tuple[_Pair, ...] = ()
        inside = True
        for (au, av), (bu, bv) in zip(self.figure, (*self.figure[1:], self.figure[0]), strict=True):
            eu, ev, du, dv = bu - au, bv - av, u - au, v - av
            length = float(np.hypot(eu, ev))
            if not length:  # a board of no thickness has sides of none
                continue
            share = (du * eu + dv * ev) / (length * length)
            inside = inside and eu * dv - ev * du >= 0
            held = min(max(share, 0.0), 1.0)
            foot = au + held * eu, av + held * ev
            reach = float(np.hypot(u - foot[0], v - foot[1]))
            if reach < best:
                near, best = foot, reach
                ways = ((eu / length, ev / length),) if 0.0 < share < 1.0 else ()
        return ((u, v), ((1.0, 0.0), (0.0, 1.0))) if inside else (near, ways)


Body: TypeAlias = Rod | Prism


def from_figure(figure: Sequence[_Pair], u: Floats, v: Floats) -> Floats:
    """Distances of points in a plane, coordinates of shape (n,), from a convex figure, counter-clockwise; zero inside.

    Two corners make a segment.
    """
    level, plumb = {corner[0] for corner in figure}, {corner[1] for corner in figure}
    if len(figure) == len(level) * len(plumb) == 4:  # a rectangle along the axes
        beside = np.maximum(np.maximum(min(level) - u, u - max(level)), 0.0)
        return np.hypot(beside, np.maximum(np.maximum(min(plumb) - v, v - max(plumb)), 0.0))
    square, inside = np.full(len(u), np.inf), np.full(len(u), len(figure) > 2)
    for (au, av), (bu, bv) in zip(figure, (*figure[1:], figure[0]), strict=True):
        eu, ev, du, dv = bu - au, bv - av, u - au, v - av
        if not (eu or ev):
            continue
        share = np.clip((du * eu + dv * ev) / (eu * eu + ev * ev), 0.0, 1.0)
        ru, rv = du - share * eu, dv - share * ev
        np.minimum(square, ru * ru + rv * rv, out=square)
        inside &= eu * dv - ev * du >= 0
    return np.sqrt(np.where(inside, 0.0, square))


def contact_at(body: Body, point: Triple) -> Contact:
    """As `Contact` has it, for a point outside a body, in plain numbers."""
    return body.contact(np.array(point))


def _contact(away: Floats, radius: float, free: tuple[Floats, ...] | list[Floats]) -> Contact:
    """From the way to the nearest point of an axis, edge or corner, and the directions that point may follow in."""
    reach = float(np.sqrt(away @ away))
    normal = away / max(reach, 1e-300)
    bend = np.eye(3) - np.outer(normal, normal)
    for way in free:
        bend -= np.outer(way, way)
    return Contact(reach - radius, normal, bend / max(reach, 1e-300))
