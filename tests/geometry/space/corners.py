"""A level deck's corner with strands beside it, from plain numbers: what is there, and closed forms for some of it.

The deck's surface is z = 0; its corner is at x = y = 0. One leg of its edge comes along x from the left, the other goes
on turned. Outside (the walk is inside of the corner) the deck fills the corner's angle and strands go round it; inside,
the deck goes round the strands. Strands lie ``offset`` out from each edge, at one height, and meet on the line that
halves the corner. A square post stands there, turned in plan, or none.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, hypot, inf, pi, radians, sin, sqrt
from typing import Final

import numpy as np

from tests.geometry.space.shapes import Floats, Pair, Shape, bar, seen_from_above
from tests.geometry.space.wide_ways import Bounds, Room, widest

_FAR: Final = 300.0
_DEEP: Final = 200.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner:
    """Any one unit; ``turn`` in degrees, ``post_turned`` from leg one; ``inner``: the walk goes round the strands.

    ``strands`` are heights of middles over the deck, the lowest first: it is under that one that a sphere gets out.
    """

    turn: float
    inner: bool
    offset: float
    strands: tuple[float, ...]
    radius: float
    post_width: float = 0.0
    post_turned: float = 0.0
    drop: float = 6.0
    leg: float = 12.0

    @property
    def ways(self) -> tuple[Floats, Floats]:
        """Along the first leg and along the second; outside one turns right, inside left."""
        angle = radians(self.turn) * (1 if self.inner else -1)
        return np.array([1.0, 0.0]), np.array([cos(angle), sin(angle)])

    @property
    def outs(self) -> tuple[Floats, Floats]:
        """Square to either edge, away from the deck: on the left of both legs."""
        first, second = self.ways
        return np.array([-first[1], first[0]]), np.array([-second[1], second[0]])

    @property
    def meet(self) -> Floats:
        """Where the strands of both legs meet, in plan."""
        both = self.outs[0] + self.outs[1]
        found: Floats = both * self.offset / (1 + float(self.outs[0] @ self.outs[1]))
        return found

    def out(self, points: Floats) -> Floats:
        """How far points are out from the deck's edge, less than nothing over the deck; no more than that from it."""
        off = [points[:, :2] @ out for out in self.outs]
        found: Floats = np.minimum(*off) if self.inner else np.maximum(*off)
        return found

    def decks(self) -> list[Shape]:
        """Half planes as strips: inside the deck is either of two, outside only what is behind both edges."""
        (u, v), (n, m) = self.ways, self.outs
        low = (-_DEEP, 0.0)
        if self.inner:
            strips = []
            for way, out in ((u, n), (v, m)):
                ends = [-_FAR * way, _FAR * way, _FAR * (way - out), -_FAR * (way + out)]
                strips.append(seen_from_above(_left_round(ends), low))
            return strips
        far = [np.zeros(2), -_FAR * u, -_FAR * (n + m), _FAR * v]
        return [seen_from_above(_left_round(far), low)]

    def shapes(self) -> list[Shape]:
        found, meet = self.decks(), self.meet
        for height in self.strands:
            for way in (-self.ways[0], self.ways[1]):
                a, b = meet, meet + _FAR * way
                found.append(bar((a[0], a[1], height), (b[0], b[1], height), self.radius))
        if self.post_width:
            found.append(seen_from_above(self.post(meet, self.post_turned), (-self.drop, inf)))
        return found

    def post(self, at: Floats, turned: float) -> list[Pair]:
        angles = radians(turned) + pi / 4 + np.arange(4) * pi / 2
        corners = at + self.post_width / sqrt(2) * np.stack([np.cos(angles), np.sin(angles)], axis=1)
        return [(float(x), float(y)) for x, y in corners]


def _left_round(corners: Sequence[Floats]) -> list[Pair]:
    """Corners of a convex figure with it on the left."""
    middle = np.mean(corners, axis=0)
    placed = sorted(corners, key=lambda at: np.arctan2(*(at - middle)[::-1]))
    return [(float(x), float(y)) for x, y in placed]


def out_at(corner: Corner, *, close: float, size: float = 1.5, near: float | None = None) -> Bounds:
    """Bounds on the radius of the largest sphere that gets out about a corner, no centre farther along than ``leg``.

    ``near``: no centre farther from the halving line through the corner than that, so that the corner alone is asked.
    """
    lowest, reach = min(corner.strands), corner.offset + 2.0
    half = (corner.outs[0] + corner.outs[1]) / np.linalg.norm(corner.outs[0] + corner.outs[1])
    across = np.array([half[1], -half[0]])
    wide = corner.leg if near is None else near

    def beyond(points: Floats) -> Floats:
        """How far points are past the strands."""
        found: Floats = corner.out(points) - corner.offset
        return found

    def allowed(points: Floats) -> Floats:
        """Not across above the lowest strand, and about the corner only."""
        found = np.maximum(-beyond(points), lowest - points[:, 2])
        return np.minimum(found, wide - np.abs(points[:, :2] @ across))

    plan = float(np.linalg.norm(corner.meet)) + 3.0 + corner.leg
    room = Room(
        low=(-plan, -plan, min(lowest, 0.0) - 2 * reach),
        high=(plan, plan, max(lowest, 0.0) + 2 * reach),
        starts=lambda points: np.minimum(-0.5 - corner.out(points), points[:, 2]),
        ends=lambda points: beyond(points) - 0.5,
        allowed=lambda points: np.minimum(allowed(points), np.minimum(corner.out(points) + 1.5, 1.5 - beyond(points))),
    )
    return widest(corner.shapes(), room, size=size, close=close)


def past_edge(offset: float, height: float, radius: float) -> float:
    """Of a straight edge: half of hypot(height, offset) - diameter/2; derived. Below the deck, as level with it."""
    return (hypot(max(height, 0.0), offset) - radius) / 2


def round_corner(corner: Corner) -> float:
    """Radius of the sphere that the corner alone lets through where no post stands, under a lowest strand of height h.

    Outside it touches the deck's corner and both strands, inside both edges and the strands' corner: a point, and two
    lines at c = cos(turn/2) times the way along the halving line from where they meet, S = offset / c from the point.
    With the centre at u from the point on that line, z above or below it, the lines are c (S - u) and h - z off. It
    gets through where the pushes of point and lines are opposite, u (h - z) = z c^2 (S - u); with h = 0, at z = 0.
    """
    c, h = cos(radians(corner.turn) / 2), max(min(corner.strands), 0.0)
    far = corner.offset / c

    def at(u: float) -> tuple[float, float]:
        """From the point and from the lines, the strands' thickness left out."""
        z = u * h / (u + c * c * (far - u)) if u else 0.0
        return hypot(u, z), hypot(c * (far - u), h - z)

    low, high, thick = 0.0, far, corner.radius if corner.inner else -corner.radius
    for _ in range(100):
        u = (low + high) / 2
        point, lines = at(u)
        low, high = (u, high) if point - thick < lines else (low, u)
    return at(low)[0] - (corner.radius if corner.inner else 0.0)
