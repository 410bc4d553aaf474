"""Guards beside a stair or a deck, built from plain numbers: what is there, where a sphere starts, and where it is out.

Points have x along the guard, y level and out from the stair's side, z up. The stair fills ``y <= 0``; the lowest
strand and the posts' centres are ``offset`` out. A sphere starts over the surface. No more than the lowest strand is
there, but no centre crosses the strands' plane above it.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot, inf
from typing import Final

import numpy as np

from tests.geometry.space.shapes import Floats, Pair, bar, box
from tests.geometry.space.wide_ways import Bounds, Room, widest

_DEEP: Final = 200.0
_FAR: Final = 400.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Steps:
    """A flight between two posts, nosing 1 at x = z = 0, its lower landing a rise below; any one unit.

    ``plumb`` is the strand's middle over the nosing line. Posts are squares on the strands' plane. ``line_posts`` are
    centre and foot of those between; ``low_post`` and ``high_post`` face and foot of those that end the bay: no centre
    is farther along than half their width past the face.
    """

    rise: float
    run: float
    nosing: float
    tread: float
    open_risers: bool
    risers: int
    offset: float
    plumb: float
    radius: float
    post_width: float
    low_post: Pair
    high_post: Pair
    line_posts: tuple[Pair, ...] = ()

    @property
    def slope(self) -> float:
        return self.rise / self.run

    def x(self, k: int) -> float:
        return (k - 1) * self.run

    def z(self, k: int) -> float:
        return (k - 1) * self.rise

    def seen(self) -> list[tuple[Pair, Pair]]:
        """The stair seen square to the guard, in boxes that overlap: x and z of each."""
        found = [((-_FAR, self.nosing), (-_DEEP, self.z(0)))]
        for k in range(1, self.risers + 1):
            x, z = self.x(k), self.z(k)
            back = _FAR if k == self.risers or not self.open_risers else self.x(k + 1) + self.nosing
            solid = self.open_risers or self.nosing > 0
            found.append(((x, back), (z - self.tread if solid else -_DEEP, z)))
            if not self.open_risers and self.nosing > 0:
                found.append(((x + self.nosing, _FAR), (-_DEEP, z - self.tread)))
        return found

    def uprights(self) -> list[tuple[Pair, float]]:
        """The posts: x of each and its foot."""
        wide = self.post_width
        (low, low_foot), (high, high_foot) = self.low_post, self.high_post
        found = [((x - wide / 2, x + wide / 2), foot) for x, foot in self.line_posts]
        return [*found, ((low - wide, low), low_foot), ((high, high + wide), high_foot)]

    def below_strand(self, points: Floats) -> Floats:
        """How far points are below the strand's middle, square to it, seen square to the guard."""
        found: Floats = (self.slope * points[:, 0] + self.plumb - points[:, -1]) / hypot(1.0, self.slope)
        return found

    def over_treads(self, points: Floats) -> Floats:
        """Not negative over the treads, risers taken as shut; of an open one as far in as the tread below reaches."""
        inwards = self.nosing if self.open_risers else 0.0
        behind = [
            np.maximum(self.x(k) + inwards - points[:, 0], points[:, -1] - self.z(k))
            for k in range(self.risers + 1)[1:]
        ]
        found: Floats = np.min(behind, axis=0)
        return found

    def box(self, reach: float) -> tuple[Pair, Pair]:
        """x and z of a room that nothing of the way of a sphere of that radius is outside of."""
        half = self.post_width / 2
        x = self.low_post[0] - half, self.high_post[0] + half
        low = min(self.z(0), self.slope * x[0] + self.plumb) - 2 * reach - self.radius
        high = max(self.z(self.risers), self.slope * x[1] + self.plumb) + 2 * reach
        return x, (low, high)


def out_over(steps: Steps, *, close: float, size: float = 1.5) -> Bounds:
    """Bounds on the radius of the largest sphere that gets out, by a search in space."""
    out, half = steps.offset, steps.post_width / 2
    shapes = [box(x, (-inf, 0.0), z) for x, z in steps.seen()]
    shapes += [box(x, (out - half, out + half), (foot, inf)) for x, foot in steps.uprights()]
    start, end = ((x, out, steps.slope * x + steps.plumb) for x in (-_FAR, _FAR))
    shapes.append(bar(start, end, steps.radius))
    x, z = steps.box(out + steps.radius + 2.0)

    def allowed(points: Floats) -> Floats:
        """Not across above the strand; nor under the boards of open risers but beside them."""
        found = np.maximum(out - points[:, 1], steps.below_strand(points))
        if steps.open_risers:
            found = np.minimum(found, np.maximum(points[:, 1], steps.over_treads(points)))
        return found

    room = Room(
        low=(x[0], -1.0, z[0]),
        high=(x[1], out + 1.0, z[1]),
        starts=lambda points: np.minimum(-0.5 - points[:, 1], steps.over_treads(points)),
        ends=lambda points: points[:, 1] - out - 0.5,
        allowed=allowed,
    )
    return widest(shapes, room, size=size, close=close)


def edge_out(
    *, offset: float, height: float, radius: float, faces: Pair, post_width: float, foot: float, close: float
) -> Bounds:
    """Bounds on the radius of the largest sphere that gets out past a deck's edge between two end posts.

    The deck's surface is z = 0, the strand's middle ``height`` over it; the posts' inner faces are at ``faces``, their
    feet at ``foot``, and no centre is farther along than the posts' middles.
    """
    half, reach = post_width / 2, offset + abs(height) + 2.0
    shapes = [
        box((-inf, inf), (-inf, 0.0), (-_DEEP, 0.0)),
        bar((-_FAR, offset, height), (_FAR, offset, height), radius),
        box((faces[0] - post_width, faces[0]), (offset - half, offset + half), (foot, inf)),
        box((faces[1], faces[1] + post_width), (offset - half, offset + half), (foot, inf)),
    ]
    room = Room(
        low=(faces[0] - half, -1.0, min(height, 0.0) - reach),
        high=(faces[1] + half, offset + 1.0, max(height, 0.0) + reach),
        starts=lambda points: -0.5 - points[:, 1],
        ends=lambda points: points[:, 1] - offset - 0.5,
        allowed=lambda points: np.maximum(offset - points[:, 1], height - points[:, 2]),
    )
    return widest(shapes, room, size=1.5, close=close)
