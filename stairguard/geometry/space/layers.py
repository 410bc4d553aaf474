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

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from stairguard.geometry.space.bodies import Body, Rod, Triple, from_figure

if TYPE_CHECKING:
    from stairguard.geometry.space.way_grid import Floats, Inside


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

    @property
    def bounds(self) -> tuple[Inside, ...]:
        """All that is asked of a point apart from the room over it."""
        return (self.shut, self.starts, self.ends, *(() if self.past is None else (self.past,)))

    def seen(self, centre: Triple) -> tuple[float, float]:
        """The point that a centre is over."""
        return centre[0], centre[2]

    def radii(self, first: Floats, second: Floats) -> tuple[Floats, Floats, Floats]:
        """As `stairguard.geometry.space.way_grid.WayView` has them."""
        x, z = first, second
        near, far = list(_off(self.near, x, z)), list(_off(self.far, x, z))
        over = np.full_like(x, np.inf)
        for y0, a, g in near:
            for y1, b, q in far:
                np.minimum(over, _between(g, a, q, b, y1 - y0), out=over)
        begun = np.min([g - a for _, a, g in near], axis=0)
        out = np.min([q - b for _, b, q in far], axis=0)
        if self.past is not None:
            past, none = self.past(x, z), np.zeros_like(x)
            for y1, b, q in far:
                room = y1 - self.past_face
                left = _between(none, 0.0, q, b, room) if self.clear else np.hypot(q, room) - b
                np.minimum(over, left, out=over, where=past)
            begun = np.where(past, -1.0, begun)
        shut = self.shut(x, z)
        over[shut] = -1.0
        begun[shut | ~self.starts(x, z)] = -1.0
        out[shut | ~self.ends(x, z)] = -1.0
        return over, np.minimum(begun, over), np.minimum(out, over)

    def centres(self, first: float, second: float, radius: float, grain: float) -> Iterator[Floats]:
        """Where over a point a sphere may have its centre, if it is held there by bodies of both layers.

        As little on as it may be, between the two layers; and on between far bodies that just leave it through.
        """
        at = np.array([first]), np.array([second])
        near = [y0 + float(np.sqrt(max((radius + a) ** 2 - g[0] ** 2, 0.0))) for y0, a, g in _off(self.near, *at)]
        far = [(y1, b, float(q[0])) for y1, b, q in _off(self.far, *at)]
        most = [y1 - float(np.sqrt((radius + b) ** 2 - q * q)) for y1, b, q in far if q < radius + b]
        faces = [layer.face for layer in self.far]
        least = max(min(max(near), min(most, default=max(faces))), *(layer.face for layer in self.near))
        yield np.array([first, least, second])
        through = [y1 for y1, b, q in far if radius + b - grain <= q <= radius + b + grain]
        if through and max(through) >= least:
            yield np.array([first, max(through) + grain, second])


def _off(layers: Sequence[Layer], x: Floats, z: Floats) -> Iterator[tuple[float, float, Floats]]:
    """Distances of points from the nearest section of those that share a face and a rounding, shape (n,)."""
    nearest: dict[tuple[float, float], Floats] = {}
    for layer in layers:
        off = from_figure(layer.section, x, z)
        key = layer.face, layer.rounding
        nearest[key] = np.minimum(nearest[key], off) if key in nearest else off
    for (face, rounding), off in nearest.items():
        yield face, rounding, off


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
