"""Surfaces placed end to end in one frame, and the points they are told by."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import cos, radians, sin
from typing import Literal, NamedTuple, TypeAlias

from stairguard.model.job import Landing, Surface

SurfaceKind: TypeAlias = Literal["landing", "flight", "ramp"]


class Point(NamedTuple):
    """A place in the developed elevation: station and elevation, exact."""

    s: Fraction
    z: Fraction


class PlanPoint(NamedTuple):
    """A place in plan, seen from above, from the guard's start: x along the first surface, y to its left."""

    x: float
    y: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedSurface:
    """One surface in the frame.

    ``nosings`` are in station order and empty but on flights. The datum is the nosing line on a flight,
    the surface itself elsewhere: the line through ``origin`` with ``slope`` (elevation per station, signed).
    ``heading_deg`` is its direction in plan from the first surface's, left positive, ``plan_start`` and ``plan_end``
    where it lies. ``edged`` says whether it is a ramp, or a landing next to one, whose edges are to be protected.

    Stations are along the guard, in the strands' plane. Where that stands ``aside`` of the surface's own edge (positive
    to the left as one walks, 0 also where no hand is stated) the guard goes from corner to corner of its own line:
    ``start`` is ``ahead`` before the edge begins and ``end`` ``past`` where it ends, both less than zero on the inner
    hand of a turn; their elevations are the edge's.
    """

    index: int
    kind: SurfaceKind
    given: Surface
    start: Point
    end: Point
    origin: Point
    slope: Fraction
    pitch_deg: float
    nosings: tuple[Point, ...]
    heading_deg: float
    plan_start: PlanPoint
    plan_end: PlanPoint
    edged: bool = False
    aside: Fraction = Fraction(0)
    ahead: Fraction = Fraction(0)
    past: Fraction = Fraction(0)

    @property
    def carries(self) -> bool:
        """Whether a rail of its own runs over it: over a landing without a level piece the neighbours' rails do."""
        return not isinstance(self.given, Landing) or self.given.level_piece

    @property
    def edge_start(self) -> Point:
        """Where the surface itself begins, level beside the guard."""
        return Point(self.start.s + self.ahead, self.start.z)

    @property
    def edge_end(self) -> Point:
        """Where it ends."""
        return Point(self.end.s - self.past, self.end.z)

    @property
    def edge_in_plan(self) -> tuple[PlanPoint, PlanPoint]:
        """Its edge seen from above, from start to end."""
        x, y = cos(radians(self.heading_deg)), sin(radians(self.heading_deg))
        aside = float(self.aside)
        (x0, y0), (x1, y1), ahead, past = self.plan_start, self.plan_end, float(self.ahead), float(self.past)
        return (
            PlanPoint(x0 + ahead * x + aside * y, y0 + ahead * y - aside * x),
            PlanPoint(x1 - past * x + aside * y, y1 - past * y - aside * x),
        )

    def datum(self, station: Fraction) -> Fraction:
        """Elevation of the nosing line, or of the surface, at a station."""
        return self.origin.z + (station - self.origin.s) * self.slope

    def ground(self, station: Fraction) -> Fraction:
        """Elevation of a landing or ramp where it is nearest to a station."""
        return self.datum(min(max(station, self.edge_start.s), self.edge_end.s))


@dataclass(frozen=True, slots=True)
class SurfaceLine:
    """All surfaces in place, end to end."""

    surfaces: tuple[PlacedSurface, ...]
