"""An outline as arrays: every edge and corner a segment with a radius, and distances to them.

A corner is a segment of no length. Sites count edges first, then corners, as the outline does.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from stairguard.geometry.clearance.outline import Outline

if TYPE_CHECKING:  # numpy.typing costs more to import than all of the geometry
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Indices = NDArray[np.intp]
    Flags = NDArray[np.bool_]

_FAR = 4
"""How many times its own size an outline may lie from the origin before it is moved there."""
_TIED = 1e-12
"""Of the outline's size: edges whose distances differ by less are equally near."""


class Clearance(NamedTuple):
    """Of points from sites, elementwise: ``gap`` to the surface, ``along`` the segment and ``across`` it, signed."""

    gap: Floats
    along: Floats
    across: Floats


@dataclass(frozen=True, slots=True, kw_only=True)
class Sites:
    """Starts, unit directions, lengths and radii of all sites, shape (n,); the first ``edges`` are edges.

    ``first`` and ``last`` say whether a corner stands at an edge's start and end: beyond it the corner is touched.
    ``joined`` are, of the edges, those that one follows and is followed by, shape (2, edges); -1 where there is none,
    or it is the back of another. ``folded`` are those of ``joined`` that run straight back along the edge, about a
    corner: the two are faces of one sheet without thickness.
    ``low`` and ``high`` are corners of the box around them, ``scale`` the size of the largest coordinate, to which
    rounding errors are relative. Coordinates are measured from ``origin``: an outline far from its own is moved,
    exactly, before it is rounded.
    """

    ax: Floats
    az: Floats
    ex: Floats
    ez: Floats
    length: Floats
    radius: Floats
    first: Flags
    last: Flags
    joined: Indices
    folded: Indices
    back: Flags
    edges: int
    low: tuple[float, float]
    high: tuple[float, float]
    scale: float
    origin: tuple[float, float]

    def clearance(self, x: Floats, z: Floats, site: Indices) -> Clearance:
        """Clearance of points from sites, broadcast together.

        A surface that stands behind its line (negative radius) is taken as endless, and signed: a centre may lie
        between the two.
        """
        ex, ez, length, radius = self.ex[site], self.ez[site], self.length[site], self.radius[site]
        dx, dz = x - self.ax[site], z - self.az[site]
        along, across = dx * ex + dz * ez, dz * ex - dx * ez
        beyond = along - np.minimum(np.maximum(along, 0.0), length)
        gap = np.sqrt(beyond * beyond + across * across) - radius
        return Clearance(np.where(radius < 0, across - radius, gap), along, across)

    def inside(self, x: Floats, z: Floats) -> Flags:
        """Whether points lie on the free side of the nearest edge, drawn lines taken without their radii.

        No other edge stands between a point and the nearest, so it decides, whatever the point touches. Nearest to
        a point where two edges meet, the one it is less in line with tells its side; a free end has none. Edges whose
        surface stands behind their line are left out. Nearest to a sheet a point is on the free side of one face or of
        the other.
        """
        edge = np.flatnonzero((self.radius[: self.edges] >= 0) & ~self.back[: self.edges])
        if not len(edge):
            return np.ones(len(x), dtype=bool)
        _, along, across = self.clearance(x[:, None], z[:, None], edge)
        beyond = along - np.minimum(np.maximum(along, 0.0), self.length[edge])
        away = np.hypot(beyond, across)
        row, nearest = np.arange(len(x)), away.argmin(axis=1)
        end, mine, past = edge[nearest], across[row, nearest], beyond[row, nearest]
        other = np.where(past < 0, self.joined[0, end], self.joined[1, end])
        second = self.clearance(x, z, other).across
        side = np.where((past == 0) | (np.abs(mine) >= np.abs(second)), mine, second)
        found: Flags = (side > 0) | ((past != 0) & (other < 0))
        return found | self.other_face(x, z, end, away[row, nearest] + _TIED * self.scale)

    def other_face(self, x: Floats, z: Floats, site: Indices, within: Floats) -> Flags:
        """Whether a site is one face of a sheet whose other face is before a point and ``within`` reach of it."""
        edge = (site >= 0) & (site < self.edges)
        found: Flags = np.zeros(np.broadcast(x, site).shape, dtype=bool)
        for folded in self.folded:
            if (folded >= 0).any():
                face = np.where(edge, folded[np.where(edge, site, 0)], -1)
                gap, _, across = self.clearance(x, z, face)
                found |= (face >= 0) & (across >= 0) & (gap <= within)
        return found


def sites(outline: Outline) -> Sites:
    """Round an exact outline to floats."""
    n = len(outline.edges)
    rows = [(*e.a, *e.b, e.radius) for e in outline.edges] + [(*c.at, *c.at, c.radius) for c in outline.corners]
    ax, az, bx, bz, radius = np.array([[float(v) for v in row] for row in rows]).T
    origin = (0.0, 0.0)
    if max(np.ptp(ax), np.ptp(az)) * _FAR < max(np.abs(ax).max(), np.abs(az).max()):
        ox, oz = outline.edges[0].a
        moved = [(float(px - ox), float(pz - oz), float(qx - ox), float(qz - oz)) for px, pz, qx, qz, _ in rows]
        ax, az, bx, bz = np.array(moved).T
        origin = float(ox), float(oz)
    dx, dz = bx - ax, bz - az
    length = np.hypot(dx, dz)
    safe = np.where(length > 0, length, 1.0)
    ex = np.where(length > 0, dx / safe, 1.0)
    low, high = (min(ax.min(), bx.min()), min(az.min(), bz.min())), (max(ax.max(), bx.max()), max(az.max(), bz.max()))
    scale = float(max(np.abs([*low, *high])))
    cornered = set(zip(ax[n:].tolist(), az[n:].tolist(), strict=True))
    first, last = (_standing(cornered, x[:n], z[:n], len(x)) for x, z in ((ax, az), (bx, bz)))
    back = np.array([e.back for e in outline.edges] + [False] * (len(ax) - n))
    joined = _joined(np.flatnonzero(~back[:n]), (ax, az), (bx, bz), n)
    folded = np.where(_folds(outline, joined, np.array([first[:n], last[:n]])), joined, -1)
    return Sites(
        ax=ax,
        az=az,
        ex=ex,
        ez=dz / safe,
        length=length,
        radius=radius,
        first=first,
        last=last,
        joined=joined,
        folded=folded,
        back=back,
        edges=n,
        low=_pair(low),
        high=_pair(high),
        scale=scale,
        origin=origin,
    )


def _joined(fronts: Indices, a: tuple[Floats, Floats], b: tuple[Floats, Floats], n: int) -> Indices:
    """For each of n edges the one that ends where it starts, and the one that starts where it ends."""
    starts, ends = ({(x[k], z[k]): int(k) for k in fronts} for x, z in (a, b))
    joined = np.full((2, n), -1, dtype=np.intp)
    for k in fronts:
        joined[:, k] = ends.get((a[0][k], a[1][k]), -1), starts.get((b[0][k], b[1][k]), -1)
    return joined


def _folds(outline: Outline, joined: Indices, corner: Flags) -> Flags:
    """Whether each edge and the one it is joined to, plain both, run back along one line about a corner."""
    found = np.zeros(joined.shape, dtype=bool)
    for end, k in zip(*np.nonzero((joined >= 0) & corner), strict=True):
        one, other = outline.edges[k], outline.edges[joined[end, k]]
        u, v = ((e.b.x - e.a.x, e.b.z - e.a.z) for e in (one, other))
        back = u[0] * v[1] == u[1] * v[0] and u[0] * v[0] + u[1] * v[1] < 0
        found[end, k] = back and not (one.radius or other.radius)
    return found


def _pair(values: tuple[np.float64, np.float64]) -> tuple[float, float]:
    return float(values[0]), float(values[1])


def _standing(corners: set[tuple[float, float]], x: Floats, z: Floats, count: int) -> Flags:
    """Whether one of the corners is at each point; false for the rest of ``count``."""
    flags = np.zeros(count, dtype=bool)
    flags[: len(x)] = [p in corners for p in zip(x.tolist(), z.tolist(), strict=True)]
    return flags
