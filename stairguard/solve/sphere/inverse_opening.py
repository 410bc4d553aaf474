"""The other way round: how far one length may go before a sphere passes.

Every opening here grows with the length asked for, so the greatest length that still stops a sphere is where the
largest sphere reaches the limit; itself it no longer stops it. Found to 1e-12 and checked by substitution.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import inf
from typing import Literal, TypeAlias

from stairguard.errors import Fault, GeometryError, OutlineError
from stairguard.geometry.clearance.outline import Edge, Outline, Vec
from stairguard.geometry.clearance.pockets import largest
from stairguard.geometry.clearance.polygon import Thickness, polygon, radius_of
from stairguard.model.asked.asked_opening import Inverse, Move
from stairguard.relations.printed import scalars
from stairguard.solve.sphere.step_pockets import cell_pockets
from stairguard.solve.sphere.step_profile import Member, Profile

_CLOSE = 1e-12
_STEPS = 200

_Sphere: TypeAlias = Callable[[float], float | None]
"""The largest sphere for a length; None where the figure is none."""


def greatest_lift(
    rise: Fraction, run: Fraction, nosing: Fraction, tread: Fraction, open_riser: bool, limit: Fraction
) -> Inverse:
    """How high the lowest member may stand over a step, square from the nosing line to its underside.

    By the true outline: where the sphere touches tread, riser and member the closed form is only where the search
    starts. Negative below the nosing line.
    """
    if open_riser and rise - tread >= limit:
        return Inverse("lift", None, None, "open between treads")
    profile = Profile(rise=rise, run=run, nosing=nosing, tread=tread, open_risers=open_riser)

    def sphere(lift: float) -> float:
        member = Member("member", Fraction(0), -Fraction(lift))
        return max((f.pocket.diameter for f in cell_pockets(profile, member, 1)), default=0.0)

    start = scalars.step_lift(float(rise), float(run), float(nosing), float(limit))
    scale = float(max(rise, run, limit))
    low, high = _bracket(sphere, float(limit), start, scale * 1e-9, (-inf, inf))
    if low is None:
        return Inverse("lift", None, None, "open below nosing")
    if high is None:
        return Inverse("lift", None, None, "no lift stops it")
    return _closed_in("lift", sphere, float(limit), low, high, scale)


def greatest_spacing(strand: Fraction, limit: Fraction) -> Inverse:
    """How far apart two strands may be, square, centre to centre: the limit and one diameter."""
    spacing = scalars.strand_spacing(strand, limit)
    return Inverse("spacing", float(spacing), float(spacing - strand))


def edge_move(
    points: Sequence[Vec], strand_edges: frozenset[int], radius: Thickness, edge: int, limit: Fraction
) -> Inverse:
    """How far an edge may move square to itself, outwards positive; its neighbours keep their lines.

    Pieces of one straight side, or of one strand, move together.

    Parameters
    ----------
    points, strand_edges, radius : as of `stairguard.geometry.clearance.polygon.polygon`
    edge : its number, from 1

    Raises
    ------
    GeometryError
        There is no such edge, or a neighbour is parallel to it, so that it cannot move along that.
    """
    if not 1 <= edge <= len(points):
        raise GeometryError(Fault("move", f"an edge's number, 1 to {len(points)}", edge))
    pieces = _pieces(points, strand_edges, radius, edge)
    what = Move(tuple(sorted(pieces)))
    points, strand_edges, radius, edge = _in_one(points, strand_edges, radius, pieces)
    track = _Track.of(polygon(points, strand_edges, radius), edge)

    def sphere(move: float) -> float | None:
        try:
            found = largest(polygon(_at(points, track, move), strand_edges, radius))
        except OutlineError:  # moved across another corner
            return None
        return found.diameter if found else 0.0

    # a corner of a figure made of lengths may be a surd
    scale = max(abs(float(value)) for v in points for value in v)
    low, high = _bracket(sphere, float(limit), 0.0, scale * 1e-9, track.range)
    if low is None:
        return Inverse(what, None, None, "no move stops it")
    if high is None:
        return Inverse(what, None, None, "moves freely")
    return _closed_in(what, sphere, float(limit), low, high, scale)


def _pieces(points: Sequence[Vec], strand_edges: frozenset[int], radius: Thickness, edge: int) -> list[int]:
    """Numbers of the edges that make one straight side with an edge, in order along it."""
    n = len(points)

    def goes_on(corner: int) -> bool:
        """Whether a side goes on past the corner where edge ``corner`` starts; numbers from 0."""
        a, b, c = (points[(corner + k) % n] for k in (-1, 0, 1))
        turn = (b.x - a.x) * (c.z - b.z) - (b.z - a.z) * (c.x - b.x)
        before, after = (corner - 1) % n + 1, corner + 1
        alike = radius_of(radius, before) == radius_of(radius, after)
        return turn == 0 and (before in strand_edges) == (after in strand_edges) and alike

    first = last = edge - 1
    while goes_on(first):
        first = (first - 1) % n
    while goes_on((last + 1) % n):
        last = (last + 1) % n
    return [(first + k) % n + 1 for k in range((last - first) % n + 1)]


def _in_one(
    points: Sequence[Vec], strand_edges: frozenset[int], radius: Thickness, pieces: Sequence[int]
) -> tuple[Sequence[Vec], frozenset[int], Thickness, int]:
    """The outline with those pieces as one edge, and its number."""
    left = [k for k in range(1, len(points) + 1) if k not in pieces[1:]]
    strands = frozenset(number for number, k in enumerate(left, 1) if k in strand_edges)
    if isinstance(radius, Mapping):
        radius = {number: radius[k] for number, k in enumerate(left, 1) if k in radius}
    return [points[k - 1] for k in left], strands, radius, left.index(pieces[0]) + 1


def moved(
    points: Sequence[Vec], strand_edges: frozenset[int], radius: Thickness, edge: int, move: Fraction
) -> tuple[Vec, ...]:
    """The corners of an outline once an edge has moved square to itself, outwards positive; see `edge_move`.

    Pieces of one side come as one edge, without the corners between them. GeometryError where it, or a neighbour, would
    be gone.
    """
    pieces = _pieces(points, strand_edges, radius, edge)
    points, strand_edges, radius, edge = _in_one(points, strand_edges, radius, pieces)
    track = _Track.of(polygon(points, strand_edges, radius), edge)
    if not track.range[0] < move < track.range[1]:
        raise GeometryError(Fault("move", "so far only that the edge and its neighbours are still there", float(move)))
    return tuple(_at(points, track, float(move)))


@dataclass(frozen=True, slots=True)
class _Track:
    """How an edge's end points run along its neighbours per unit of move outwards, and how far it may move.

    ``places`` are those of the two points, ``steps`` the vectors they move by. Within ``range`` the edge and both
    neighbours keep their way round: past it a figure may close again, but it is another one, turned over.
    """

    places: tuple[int, int]
    steps: tuple[tuple[float, float], tuple[float, float]]
    range: tuple[float, float]

    @classmethod
    def of(cls, outline: Outline, edge: int) -> _Track:
        edges, k, n = outline.sides, edge - 1, len(outline.sides)
        here = edges[k]
        turned = edges[(k + 1) % n].b == here.a
        before, after = (edges[(k + 1) % n], edges[k - 1]) if turned else (edges[k - 1], edges[(k + 1) % n])
        at_start, at_end = _along(here, before), _along(here, after)
        if at_start is None or at_end is None:
            raise GeometryError(Fault("move", "an edge whose neighbours are not in line with it", f"edge {edge}"))
        ux, uz, length = _unit(here)
        # outwards is right of the edge; its length changes at a steady rate
        rate = (at_end[0] - at_start[0]) * ux + (at_end[1] - at_start[1]) * uz
        lengths = [(length, rate), _growing(before, at_start, 1), _growing(after, at_end, -1)]
        gone = [-size / grows for size, grows in lengths if grows]
        places = (k, (k + 1) % n)
        steps = (at_end, at_start) if turned else (at_start, at_end)
        low, high = max((g for g in gone if g < 0), default=-inf), min((g for g in gone if g > 0), default=inf)
        return cls(places, steps, (low, high))


def _unit(edge: Edge) -> tuple[float, float, float]:
    dx, dz = float(edge.b.x - edge.a.x), float(edge.b.z - edge.a.z)
    length = (dx * dx + dz * dz) ** 0.5
    return dx / length, dz / length, length


def _growing(neighbour: Edge, step: tuple[float, float], way: int) -> tuple[float, float]:
    """A neighbour's length, and by how much it grows as its end moves by a step; ``way`` -1 where its start does."""
    ux, uz, length = _unit(neighbour)
    return length, way * (step[0] * ux + step[1] * uz)


def _along(edge: Edge, neighbour: Edge) -> tuple[float, float] | None:
    """The vector along a neighbour whose part square to the edge, outwards, is one."""
    ux, uz, _ = _unit(edge)
    vx, vz, _ = _unit(neighbour)
    outwards = vx * uz - vz * ux
    return None if abs(outwards) < 1e-9 else (vx / outwards, vz / outwards)


def _at(points: Sequence[Vec], track: _Track, move: float) -> list[Vec]:
    moved = [Vec(Fraction(float(p.x)), Fraction(float(p.z))) for p in points]
    for place, (x, z) in zip(track.places, track.steps, strict=True):
        moved[place] = Vec(moved[place].x + Fraction(x * move), moved[place].z + Fraction(z * move))
    return moved


def _bracket(
    sphere: _Sphere, limit: float, start: float, step: float, range_: tuple[float, float]
) -> tuple[float | None, float | None]:
    """A length that stops the sphere and a greater one that does not, from ``start`` outwards in growing steps.

    One of them is None where the range, or the figure, ends before it is met.
    """
    stops = _let_through(sphere, start) < limit
    here, grow, least = start, 8.0, step * 1e-6
    for _ in range(_STEPS):
        there = here + step if stops else here - step
        value = sphere(there) if range_[0] < there < range_[1] else None
        if value is None:
            grow = 1.0
            step /= 2
        elif (value < limit) != stops:
            return (here, there) if stops else (there, here)
        else:
            here = there
            step *= grow
        if not least < step < 1e9 * abs(limit):
            break
    return (here, None) if stops else (None, here)


def _let_through(sphere: _Sphere, length: float) -> float:
    value = sphere(length)
    return inf if value is None else value


def _closed_in(
    what: Literal["lift"] | Move, sphere: _Sphere, limit: float, low: float, high: float, scale: float
) -> Inverse:
    """Halve, and try the chord in between, until the length is within 1e-12 of the scale."""
    at_low, at_high = _let_through(sphere, low), _let_through(sphere, high)
    for k in range(_STEPS):
        if high - low <= 1e-15 * scale or at_low == at_high:
            break
        chord = low + (limit - at_low) / (at_high - at_low) * (high - low)
        inside = low < chord < high and k % 3 < 2
        middle = chord if inside else (low + high) / 2
        value = _let_through(sphere, middle)
        if value < limit:
            low, at_low = middle, value
        else:
            high, at_high = middle, value
    best = low if limit - at_low < at_high - limit else high
    reached = _let_through(sphere, best)
    if abs(reached - limit) > _CLOSE * limit:
        return Inverse(what, low, at_low, "grows at once")
    return Inverse(what, best, reached)
