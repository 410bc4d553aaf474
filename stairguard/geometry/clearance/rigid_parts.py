"""What does not give: edges and points one by one in plain floats, and the circles that touch two or three of them.

For one circle followed along few parts, where `sites` and `trios` do the same for many at once.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from fractions import Fraction
from math import copysign, hypot, sqrt
from typing import NamedTuple

from stairguard.geometry.clearance.outline import Outline, Vec

_PARALLEL = 1e-12
"""Sine of an angle that counts as none."""


class Disc(NamedTuple):
    """A circle by its centre and radius."""

    x: float
    z: float
    r: float


class Join(NamedTuple):
    """Where an edge ends in a point; ``out`` is 1 where the edge runs towards it, -1 where it starts there."""

    edge: int
    point: int
    out: float


class RigidPart(NamedTuple):
    """One edge (``flat``) or point: start, unit direction, length, radius, and the joins it has a part in."""

    x: float
    z: float
    ux: float
    uz: float
    length: float
    radius: float
    flat: bool
    joins: tuple[Join, ...]

    def outward(self, at: Disc) -> tuple[float, float]:
        """Unit vector to a circle's centre from where the circle touches the part."""
        if self.flat:
            return -self.uz, self.ux
        dx, dz = at.x - self.x, at.z - self.z
        far = hypot(dx, dz) or 1.0
        return dx / far, dz / far

    def foot(self, at: Disc) -> float:
        """How far along the edge from its start a circle touches it."""
        return (at.x - self.x) * self.ux + (at.z - self.z) * self.uz

    def beyond(self, at: Disc, slack: float) -> bool:
        """Whether a circle is past the end of an edge, where it cannot touch it, or behind it."""
        across = (at.z - self.z) * self.ux - (at.x - self.x) * self.uz
        return self.flat and (across < 0 or not -slack <= self.foot(at) <= self.length + slack)

    def gap(self, at: Disc) -> float:
        """Distance of a circle's centre from the part's surface, an edge being endless."""
        dx, dz = at.x - self.x, at.z - self.z
        return (dz * self.ux - dx * self.uz if self.flat else hypot(dx, dz)) - self.radius


class Rigid(NamedTuple):
    """Parts, edges first; coordinates are measured from ``origin``. ``scale`` is their size, for tolerances."""

    parts: tuple[RigidPart, ...]
    origin: Vec
    scale: float

    def touched(self, at: Disc, slack: float) -> list[int]:
        """Parts no farther from a circle than ``slack``, or within it."""
        return [k for k, p in enumerate(self.parts) if p.gap(at) <= at.r + slack and not p.beyond(at, slack)]


def rigid(outline: Outline, giving: Collection[int], origin: Vec) -> Rigid:
    """All of an outline but the sites that give; every edge ends in a point: what is drawn is solid to its end.

    ``origin`` should be near the outline: it is taken off its coordinates exactly, before they are rounded.
    """
    few = len(outline.edges)
    edges = [e for k, e in enumerate(outline.edges) if k not in giving]
    points: dict[tuple[Vec, Fraction], list[Join]] = {
        (c.at, c.radius): [] for k, c in enumerate(outline.corners) if k + few not in giving
    }
    for e in edges:
        for at in (e.a, e.b):
            points.setdefault((at, e.radius), [])
    numbers = {point: k + len(edges) for k, point in enumerate(points)}
    found: list[RigidPart] = []
    for k, e in enumerate(edges):
        joins = tuple(Join(k, numbers[at, e.radius], out) for at, out in ((e.a, -1.0), (e.b, 1.0)))
        for at, join in zip((e.a, e.b), joins, strict=True):
            points[at, e.radius].append(join)
        dx, dz = float(e.b.x - e.a.x), float(e.b.z - e.a.z)
        length = hypot(dx, dz)
        start = float(e.a.x - origin.x), float(e.a.z - origin.z)
        found.append(RigidPart(*start, dx / length, dz / length, length, float(e.radius), True, joins))
    for (at, radius), at_point in points.items():
        start = float(at.x - origin.x), float(at.z - origin.z)
        found.append(RigidPart(*start, 0.0, 0.0, 0.0, float(radius), False, tuple(at_point)))
    return Rigid(tuple(found), origin, max(max(abs(p.x), abs(p.z)) for p in found))


def beside(a: RigidPart, b: RigidPart, radius: float) -> Iterator[Disc]:
    """Circles of ``radius`` that touch two parts, not parallel; of an edge and a point the edge comes first."""
    dx, dz, reach, far = b.x - a.x, b.z - a.z, a.radius + radius, b.radius + radius
    if a.flat and b.flat:
        # along a, from its start to where the circle touches it
        t = (reach * (a.ux * b.ux + a.uz * b.uz) - far + b.uz * dx - b.ux * dz) / (a.ux * b.uz - a.uz * b.ux)
        yield Disc(a.x + t * a.ux - reach * a.uz, a.z + t * a.uz + reach * a.ux, radius)
        return
    if a.flat:
        ux, uz, along, across = a.ux, a.uz, dx * a.ux + dz * a.uz, reach
        half = far * far - (dz * a.ux - dx * a.uz - reach) ** 2
    else:
        # both centres' circles cross on a line square to a-b
        apart = hypot(dx, dz)
        ux, uz, along = -dz / apart, dx / apart, 0.0
        across = -(apart * apart + reach * reach - far * far) / (2 * apart)
        half = reach * reach - across * across
    root = sqrt(max(half, 0.0))
    for t in (along + root, along - root):
        yield Disc(a.x + t * ux - across * uz, a.z + t * uz + across * ux, radius)


def off(point: RigidPart, way: tuple[float, float], other: RigidPart) -> Iterator[Disc]:
    """The circle that touches a point on the side ``way`` (a unit vector) of it and another part besides."""
    dx, dz = point.x - other.x, point.z - other.z
    if other.flat:
        # (point + s way - other) . normal = s - point's radius + other's, where s is the centre's distance
        top = other.radius - point.radius + other.uz * dx - other.ux * dz
        bottom = other.ux * way[1] - other.uz * way[0] - 1
    else:
        # |point + s way - other| = s + more: the squares of s cancel
        more = other.radius - point.radius
        top, bottom = more * more - dx * dx - dz * dz, 2 * (dx * way[0] + dz * way[1] - more)
    for s in _quotient(top, bottom):
        yield Disc(point.x + s * way[0], point.z + s * way[1], s - point.radius)


class _Row(NamedTuple):
    """``gx x + gz z = gs s + g0``, x and z from a base point and s the radius and the base's own together."""

    gx: float
    gz: float
    gs: float
    g0: float


def _row(part: RigidPart, base: RigidPart) -> _Row:
    dx, dz, more = part.x - base.x, part.z - base.z, part.radius - base.radius
    if part.flat:
        return _Row(-part.uz, part.ux, 1.0, more - part.uz * dx + part.ux * dz)
    # the difference of two points' conditions |c|^2 = s^2 and |c - d|^2 = (s + more)^2
    return _Row(2 * dx, 2 * dz, -2 * more, dx * dx + dz * dz - more * more)


def thirds(a: RigidPart, b: RigidPart, c: RigidPart) -> Iterator[Disc]:
    """Circles that touch three parts, of which two edges, if any two, are not parallel: the first ones.

    As closed forms have them: some on the wrong side of an edge, or past its end.
    """
    points = [p for p in (a, b, c) if not p.flat]
    base = points[0] if points else a
    first, second, *third = (_row(p, base) for p in (a, b, c) if p.flat or p is not base)
    det = first.gx * second.gz - first.gz * second.gx
    if abs(det) <= _PARALLEL * hypot(first.gx, first.gz) * hypot(second.gx, second.gz):
        if points:
            yield from _abreast(first, second, base)
        return
    # centre = p + q s
    px = (first.g0 * second.gz - first.gz * second.g0) / det
    pz = (first.gx * second.g0 - first.g0 * second.gx) / det
    qx = (first.gs * second.gz - first.gz * second.gs) / det
    qz = (first.gx * second.gs - first.gs * second.gx) / det
    if points:
        roots = _roots(qx * qx + qz * qz - 1, px * qx + pz * qz, px * px + pz * pz)
    else:
        (last,) = third
        roots = _quotient(last.g0 - last.gx * px - last.gz * pz, last.gx * qx + last.gz * qz - last.gs)
    for s in roots:
        yield Disc(base.x + px + qx * s, base.z + pz + qz * s, s - base.radius)


def _abreast(first: _Row, second: _Row, base: RigidPart) -> Iterator[Disc]:
    """Two conditions of one direction fix the distance from the base point, and leave two places at it."""
    one, two = hypot(first.gx, first.gz), hypot(second.gx, second.gz)
    two = two if first.gx * second.gx + first.gz * second.gz > 0 else -two
    gx, gz = first.gx / one, first.gz / one
    for s in _quotient(second.g0 / two - first.g0 / one, first.gs / one - second.gs / two):
        across = (first.gs * s + first.g0) / one
        for along in _roots(1.0, 0.0, across * across - s * s):
            yield Disc(base.x + gx * across - gz * along, base.z + gz * across + gx * along, s - base.radius)


def _quotient(top: float, bottom: float) -> tuple[float, ...]:
    return (top / bottom,) if bottom else ()


def _roots(a: float, half: float, c: float) -> tuple[float, ...]:
    """Real roots of ``a s**2 + 2 half s + c``, without cancellation; also where a is zero. A near miss is a touch."""
    inside = half * half - a * c
    if inside < -1e-12 * half * half:
        return ()
    q = -(half + copysign(sqrt(max(inside, 0.0)), half))
    return (*_quotient(q, a), *((c / q,) if q else ()))
