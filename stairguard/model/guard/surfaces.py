"""Surfaces placed end to end in one frame, and the points they are told by."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, NamedTuple, TypeAlias

from stairguard.model.job import Landing, Surface

SurfaceKind: TypeAlias = Literal["landing", "flight", "ramp"]


class Point(NamedTuple):
    """A place in the developed elevation: station and elevation, exact."""

    s: Fraction
    z: Fraction


class PlanPoint(NamedTuple):
    """A place in plan, seen from above: x along the first surface, y to its left."""

    x: float
    y: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedSurface:
    """One surface in the frame.

    ``nosings`` are in station order and empty but on flights. The datum is the nosing line on a flight,
    the surface itself elsewhere: the line through ``origin`` with ``slope`` (elevation per station, signed).
    ``heading_deg`` is its direction in plan from the first surface's, left positive, ``plan_start`` and ``plan_end``
    where it lies. ``edged`` says whether it is a ramp, or a landing next to one, whose edges are to be protected.
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

    @property
    def carries(self) -> bool:
        """Whether a rail of its own runs over it: over a landing without a level piece the neighbours' rails do."""
        return not isinstance(self.given, Landing) or self.given.level_piece

    def datum(self, station: Fraction) -> Fraction:
        """Elevation of the nosing line, or of the surface, at a station."""
        return self.origin.z + (station - self.origin.s) * self.slope


@dataclass(frozen=True, slots=True)
class SurfaceLine:
    """All surfaces in place, end to end."""

    surfaces: tuple[PlacedSurface, ...]
