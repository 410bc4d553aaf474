"""An opening by corner points whose edges stand in two planes, one behind the other: the largest sphere through both.

Seen square to the guard the points make one outline. An edge whose ends are both in the near plane reaches in from it,
away from the far one, and an edge in the far plane out from that; round members lie in their planes. Where a corner is
in both planes at one place the outline goes straight from the one to the other, and nothing is there. The sphere comes
from before the near edges, through the outline, and goes out behind the far ones.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil, inf
from typing import TYPE_CHECKING, Final, TypeAlias

import numpy as np

from stairguard.errors import Fault, GeometryError, OutlineError
from stairguard.geometry.clearance.outline import Outline, Vec
from stairguard.geometry.clearance.pockets import Pocket
from stairguard.geometry.clearance.polygon import polygon
from stairguard.geometry.space.bodies import Prism, Rod, contact_at, from_figure
from stairguard.geometry.space.layers import Layer, Screen
from stairguard.geometry.space.way_grid import Way, widest_way
from stairguard.model.asked.asked_opening import Beside

if TYPE_CHECKING:  # numpy.typing costs more to import than all of the geometry
    from stairguard.geometry.space.way_grid import Flags, Floats

_AXES: Final = ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, 1.0, 0.0))
"""An edge is drawn in x and z, and reaches along y."""
_CELLS, _MOST_CELLS = 10, 120
"""Of the coarsest grid: along the least of width, height and what lies between the planes, and along any side."""
_BARRIER: Final = 0.75
"""Cells either side of a line that parts before from behind, outside the outline: no way goes round its corners."""


@dataclass(frozen=True, slots=True)
class PlacedEdge:
    """An edge by its ``number`` from 1, that of its last point, its two ends (x, y, z), and its strand's radius."""

    number: int
    last: int
    a: tuple[float, float, float]
    b: tuple[float, float, float]
    radius: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TwoPlanes:
    """What was given: the outline seen square to the guard, its edges in order, and the planes' ``y``, near first."""

    outline: Outline
    points: tuple[Vec, ...]
    edges: tuple[PlacedEdge, ...]
    near: float
    far: float

    @classmethod
    def of(cls, points: Sequence[Vec], outs: Sequence[Fraction], radii: Mapping[int, Fraction]) -> TwoPlanes:
        """Sort edges by their planes.

        Parameters
        ----------
        points, outs : corners in order, x and z of each, and its y; any one unit
        radii : of edges that are axes of round members, by number from 1

        Raises
        ------
        OutlineError
            A corner in a third plane, an edge from one plane to the other that is not straight out, a plane without an
            edge, or points that bound no region as seen.
        """
        planes = sorted(set(outs))
        n, faults = len(points), []
        if len(planes) > 2:
            third = next(k for k, y in enumerate(outs, 1) if y not in (planes[0], planes[-1]))
            must = f"in one of two planes, y = {float(planes[0]):g} or {float(planes[-1]):g}"
            faults.append(Fault(f"y of point {third}", must, float(outs[third - 1])))
        left = []
        for k in range(n):
            after = (k + 1) % n
            if outs[k] == outs[after]:
                left.append(k)
            elif points[k] != points[after]:
                must = "in one plane, or straight out: where the outline changes planes give that corner once in each"
                faults.append(Fault(f"edge {k + 1}", must, "from one plane to the other aslant"))
            elif k + 1 in radii:
                faults.append(
                    Fault(f"edge {k + 1}", "no strand: there the outline goes from one plane to the other", "")
                )
        numbers = {int(k) for k in radii}
        faults += [Fault("strand edge", f"an edge's number, 1 to {n}", k) for k in sorted(numbers) if not 1 <= k <= n]
        if not faults and {outs[k] for k in left} != {*planes}:
            faults.append(Fault("points", "edges in both planes", "one plane without any"))
        if faults:
            raise OutlineError(*faults)
        seen = tuple(points[k] for k in left)
        thick = {number: radii[k + 1] for number, k in enumerate(left, 1) if k + 1 in radii}
        drawn = polygon(seen, frozenset(thick), thick)
        names = {number: k + 1 for number, k in enumerate(left, 1)}
        return cls(
            outline=Outline(
                tuple(replace(edge, number=names[edge.number or 1]) for edge in drawn.edges),
                tuple(replace(corner, number=names[corner.number or 1]) for corner in drawn.corners),
            ),
            points=seen,
            edges=tuple(_placed(points, outs, radii, k) for k in left),
            near=float(planes[0]),
            far=float(planes[-1]),
        )

    def bodies(self, y: float) -> tuple[Layer, ...]:
        """Those of one plane, in order."""
        return tuple(_layer(edge, out=y == self.far) for edge in self.edges if edge.a[1] == y)

    def numbers(self, y: float) -> list[int]:
        """Places among ``edges`` of the same."""
        return [k for k, edge in enumerate(self.edges) if edge.a[1] == y]


def _placed(points: Sequence[Vec], outs: Sequence[Fraction], radii: Mapping[int, Fraction], k: int) -> PlacedEdge:
    after = (k + 1) % len(points)
    a, b = ((float(points[i].x), float(outs[i]), float(points[i].z)) for i in (k, after))
    return PlacedEdge(k + 1, after + 1, a, b, float(radii.get(k + 1, 0)))


def _layer(edge: PlacedEdge, *, out: bool) -> Layer:
    """A round member in its plane, or a plain edge's face away from the other plane."""
    (ax, y, az), (bx, _, bz) = edge.a, edge.b
    ends = (ax, az), (bx, bz)
    if edge.radius:
        return Layer(Rod(edge.a, edge.b, edge.radius), ends, y)
    return Layer(Prism((0.0, 0.0, 0.0), _AXES, ends, (y, inf) if out else (-inf, y)), ends, y)


@dataclass(frozen=True, slots=True)
class PlanesOpening:
    """The largest sphere through both planes; ``held`` are places among the edges of what it touches, in order."""

    pocket: Pocket
    touches: tuple[str, ...]
    beside: Beside
    held: tuple[int, ...]


def planes_opening(given: TwoPlanes) -> PlanesOpening:
    """Find the largest sphere that gets through both planes.

    Raises
    ------
    GeometryError
        No sphere gets through, its way is not within what was given, or the outline folds back at a corner.
    """
    near, far = given.bodies(given.near), given.bodies(given.far)
    way = widest_way(_screen(given, near, far))
    if way is None:
        raise GeometryError(Fault("points", "open enough for some sphere", "none that gets through"))
    if way.shut_off:
        must = "such that the sphere passes between the edges given"
        raise GeometryError(Fault("points", must, "one whose way would be wider past their corners"))
    return _told(given, (*near, *far), way)


def _told(given: TwoPlanes, layers: Sequence[Layer], way: Way) -> PlanesOpening:
    order = [*given.numbers(given.near), *given.numbers(given.far)]
    saddle = way.saddle
    x, y, z = saddle.centre
    held = tuple(order[at] for at in saddle.held_by)
    met = []
    for at in saddle.held_by:
        normal = contact_at(layers[at].body, saddle.centre).normal.tolist()
        a, b, c = (v - saddle.radius * n for v, n in zip(saddle.centre, normal, strict=True))
        if isinstance(layers[at].body, Prism):  # its face is all of a plane's one side: no rounding there
            b = min(y, given.near) if layers[at].face == given.near else max(y, given.far)
        met.append((a, b, c))
    error = 2 * way.error
    pocket = Pocket(2 * saddle.radius, (x, z), held, tuple((a, c) for a, _, c in met), None, y, error)
    return PlanesOpening(pocket, given.outline.names(held), Beside(y, tuple(b for _, b, _ in met), error), held)


def _screen(given: TwoPlanes, near: Sequence[Layer], far: Sequence[Layer]) -> Screen:
    """As far about the outline as a sphere's centre may have to go on its way in and out."""
    ring = np.array(given.points, dtype=np.float64)
    low, high = ring.min(axis=0), ring.max(axis=0)
    apart, thick = given.far - given.near, max(edge.radius for edge in given.edges)
    beside = apart + 2 * thick + float((high - low).min()) / 2
    low, high = low - beside, high + beside
    size = max(min(float((high - low).min()) - 2 * beside, apart) / _CELLS, float((high - low).max()) / _MOST_CELLS)
    parting, regions = _parted(given, 4 * float(np.hypot(*(high - low))))

    def before(x: Floats, z: Floats) -> Flags:
        """Outside the outline, past its far edges."""
        inside: Flags = np.logical_or.reduce([_within(region, x, z) for region in regions])
        return inside

    def starts(x: Floats, z: Floats) -> Flags:
        return _within(ring, x, z) | before(x, z)

    def ends(x: Floats, z: Floats) -> Flags:
        return _within(ring, x, z) | ~before(x, z)

    def shut(x: Floats, z: Floats) -> Flags:
        near_by = np.min([from_figure(line, x.ravel(), z.ravel()) for line in parting], axis=0).reshape(x.shape)
        parting_here: Flags = ~_within(ring, x, z) & (near_by <= _BARRIER * size)
        return parting_here

    return Screen(
        near=tuple(near),
        far=tuple(far),
        low=(float(low[0]), float(low[1])),
        high=(float(high[0]), float(high[1])),
        counts=(ceil(float(high[0] - low[0]) / size), ceil(float(high[1] - low[1]) / size)),
        starts=starts,
        ends=ends,
        shut=shut,
    )


_Line: TypeAlias = tuple[tuple[float, float], tuple[float, float]]


def _parted(given: TwoPlanes, long: float) -> tuple[list[_Line], list[Floats]]:
    """Lines from the corners where the planes change outwards, and what lies between two of them past far edges.

    Raises
    ------
    GeometryError
        One of the lines meets the outline again, or another one: what is before it is then not to be told from behind.
    """
    ring, n = np.array(given.points, dtype=np.float64), len(given.points)
    turn = 1.0 if _area(ring) > 0 else -1.0
    along = np.roll(ring, -1, axis=0) - ring
    normals = turn * np.stack([along[:, 1], -along[:, 0]], axis=1) / np.hypot(along[:, 0], along[:, 1])[:, None]
    far = [edge.a[1] == given.far for edge in given.edges]
    outwards = {}
    for k in range(n):
        if far[k - 1] != far[k]:
            way = normals[k - 1] + normals[k]
            size = float(np.hypot(*way))
            way = way / size if size > _OPPOSED else along[k - 1] / np.hypot(*along[k - 1])
            outwards[k] = ring[k] + long * way
    lines = {k: (_pair(ring[k]), _pair(end)) for k, end in outwards.items()}
    sides = [(k, (k + 1) % n) for k in range(n)]
    crossing = any(_cross(line, (_pair(ring[i]), _pair(ring[j]))) for k, line in lines.items() for i, j in sides
                   if k not in (i, j))  # fmt: skip
    if crossing or any(_cross(lines[i], lines[k]) for i in lines for k in lines if i < k):
        raise GeometryError(
            Fault("points", "an outline that is open to both sides at its corners", "one that folds back")
        )
    regions = []
    for first in (k for k in outwards if far[k]):
        chain = [first]
        while far[chain[-1] % n] and len(chain) <= n:
            chain.append((chain[-1] + 1) % n)
        regions.append(
            np.array([*(ring[k] for k in chain), *_arc(ring, outwards[chain[-1]], outwards[first], turn, long)])
        )
    return list(lines.values()), regions


_OPPOSED: Final = 1e-9


def _arc(ring: Floats, start: Floats, end: Floats, turn: float, long: float) -> Floats:
    """Points far outside, from one to another back against the way the outline runs."""
    middle = ring.mean(axis=0)
    first, last = (float(np.arctan2(*(at - middle)[::-1])) for at in (start, end))
    sweep = (turn * (first - last)) % (2 * np.pi)
    turned = first - turn * sweep * np.linspace(0, 1, 9)[1:-1]
    far = np.stack([np.cos(turned), np.sin(turned)], axis=1) * 2 * long + middle
    return np.array([start, *far, end])


def _pair(at: Floats) -> tuple[float, float]:
    x, z = at.tolist()
    return x, z


def _area(ring: Floats) -> float:
    x, z = ring.T
    return float((x * np.roll(z, -1) - np.roll(x, -1) * z).sum()) / 2


def _cross(one: _Line, other: _Line) -> bool:
    """Whether two segments have a point in common."""

    def side(line: _Line, at: tuple[float, float]) -> float:
        (ax, az), (bx, bz) = line
        return (bx - ax) * (at[1] - az) - (bz - az) * (at[0] - ax)

    return side(one, other[0]) * side(one, other[1]) <= 0 and side(other, one[0]) * side(other, one[1]) <= 0


def _within(ring: Floats, x: Floats, z: Floats) -> Flags:
    """Which points lie inside: a line from each to the right crosses the ring an odd number of times."""
    inside = np.zeros(x.shape, bool)
    for (ax, az), (bx, bz) in zip(ring.tolist(), np.roll(ring, -1, axis=0).tolist(), strict=True):
        if az == bz:
            continue
        crosses = (z < az) != (z < bz)
        inside ^= crosses & (x < ax + (z - az) / (bz - az) * (bx - ax))
    return inside
