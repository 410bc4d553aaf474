"""An outline as it is drawn: its edges in floats, which of their ends are open, its corners with their marks."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot
from typing import TypeAlias

from stairguard.geometry.clearance.outline import Corner, Edge, Outline
from stairguard.geometry.clearance.pockets import Pocket
from stairguard.reports.drawing.paper.clip import Pair

Box: TypeAlias = tuple[float, float, float, float]
"""Left, bottom, right, top, in the model's unit."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """An edge from ``a`` to ``b``, free side on the left, its surface ``radius`` before it.

    ``ends`` says which of its two ends meet something: an end that meets nothing is only where drawing stopped.
    """

    site: int
    name: str
    a: Pair
    b: Pair
    radius: float
    ends: tuple[bool, bool]

    @property
    def length(self) -> float:
        """From end to end."""
        return hypot(self.b[0] - self.a[0], self.b[1] - self.a[1])

    @property
    def out(self) -> Pair:
        """Unit vector to the solid side; nothing for an edge too short for floats."""
        long = self.length
        return ((self.b[1] - self.a[1]) / long, (self.a[0] - self.b[0]) / long) if long else (0.0, 0.0)

    def surface(self) -> tuple[Pair, Pair]:
        """The line that is touched: the edge moved by its radius to the free side."""
        (ox, oz), r = self.out, self.radius
        return (self.a[0] - r * ox, self.a[1] - r * oz), (self.b[0] - r * ox, self.b[1] - r * oz)


@dataclass(frozen=True, slots=True)
class ShapeCorner:
    """A corner: its mark, where, a unit vector to the solid side, its site if it can be touched, its radius.

    ``reach`` is the length of the longest edge that ends there: what its mark is worth where not all can be shown.
    """

    mark: str
    at: Pair
    out: Pair
    site: int | None
    radius: float
    reach: float
    alone: bool


@dataclass(frozen=True, slots=True)
class Shape:
    """Sides and corners; ``closed`` when the edges run once round, corner k between edge k - 1 and edge k."""

    sides: tuple[Side, ...]
    points: tuple[ShapeCorner, ...]
    closed: bool


def shape(outline: Outline, marks: Sequence[str] = ()) -> Shape:
    """Return an outline as it is drawn.

    Parameters
    ----------
    outline
        Any; the corners of one that runs once round are numbered from 1, others go by their names.
    marks
        What to call the corners of an outline that runs once round instead, in order.
    """
    ends = [_at(p.x, p.z) for e in outline.sides for p in (e.a, e.b)]
    meeting = {p for p, times in Counter(ends).items() if times > 1} | {_at(c.at.x, c.at.z) for c in outline.corners}
    sides = tuple(_side(k, edge, meeting) for k, edge in enumerate(outline.sides))
    round_trip = _round_trip(sides)
    corners = {_at(c.at.x, c.at.z): (k, c) for k, c in enumerate(outline.corners, len(outline.edges))}
    points = []
    for k, at in enumerate(round_trip):
        mark = marks[k] if k < len(marks) else str(k + 1)
        points.append(_point(mark, at, (sides[k - 1], sides[k]), corners.pop(at, None)))
    for at, found in corners.items():
        points.append(_point(found[1].name, at, [s for s in sides if at in (s.a, s.b)], found))
    return Shape(sides, tuple(points), bool(round_trip))


def _at(x: object, z: object) -> Pair:
    return float(x), float(z)  # type: ignore[arg-type]  # rational, or a surd that is as good as one


def _side(site: int, edge: Edge, meeting: set[Pair]) -> Side:
    a, b = _at(edge.a.x, edge.a.z), _at(edge.b.x, edge.b.z)
    return Side(site=site, name=edge.name, a=a, b=b, radius=float(edge.radius), ends=(a in meeting, b in meeting))


def _round_trip(sides: Sequence[Side]) -> list[Pair]:
    """Corners in order if edge follows edge once round, whichever way they were given; else none."""
    if len(sides) < 3:
        return []
    pairs = [(sides[k - 1], side) for k, side in enumerate(sides)]
    if all(before.b == after.a for before, after in pairs):
        return [side.a for side in sides]
    if all(before.a == after.b for before, after in pairs):
        return [side.b for side in sides]
    return []


def _point(mark: str, at: Pair, beside: Sequence[Side], corner: tuple[int, Corner] | None) -> ShapeCorner:
    x, z = (sum(side.out[k] for side in beside) for k in (0, 1))
    size = hypot(x, z)
    out = (x / size, z / size) if size > 1e-9 else (0.0, -1.0)
    site, radius = (None, 0.0) if corner is None else (corner[0], float(corner[1].radius))
    return ShapeCorner(mark, at, out, site, radius, max((side.length for side in beside), default=0.0), not beside)


def extent(drawn: Shape, pocket: Pocket, limit: float | None) -> Box:
    """Return the box a picture must hold: corners, ends that meet something, the sphere, a limit little larger."""
    (x, z), r = pocket.centre, pocket.diameter / 2
    xs, zs = [x - r, x + r], [z - r, z + r]
    if not any(any(side.ends) for side in drawn.sides):  # open at both ends: as much again either way
        xs, zs = [x - _ALONG * r, x + _ALONG * r], [z - _ALONG * r, z + _ALONG * r]
    kept = [p for s in drawn.sides for p, met in zip((s.a, s.b), s.ends, strict=True) if met]
    for (px, pz), radius in (*((p, 0.0) for p in kept), *((p.at, p.radius) for p in drawn.points)):
        xs += [px - radius, px + radius]
        zs += [pz - radius, pz + radius]
    left, bottom, right, top = min(xs), min(zs), max(xs), max(zs)
    if limit is None:
        return left, bottom, right, top
    ring = limit / 2
    wider = min(left, x - ring), min(bottom, z - ring), max(right, x + ring), max(top, z + ring)
    most = _GROWN * max(right - left, top - bottom)
    return wider if max(wider[2] - wider[0], wider[3] - wider[1]) <= most else (left, bottom, right, top)


_ALONG = 1.8
_GROWN = 1.3
