"""The surface line: each surface of a job put in its place, and a flight's own uphill frame."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import cos, radians, sin
from typing import Final

from stairguard.geometry.slope import pitch_deg
from stairguard.geometry.survey.straightedge import nosing_line
from stairguard.model.guard.surfaces import PlacedSurface, PlanPoint, Point, SurfaceKind, SurfaceLine
from stairguard.model.job import Flight, Landing, MeasuredFlight, Ramp, Surface
from stairguard.solve.line.corner_shift import corner_shifts, guard_spans

_NOTHING: Final = Fraction(0)
_START: Final = PlanPoint(0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Uphill:
    """A flight read from its bottom: x level and uphill from nosing 1, z up from nosing 1.

    A flight that goes down is solved in this frame too, so it is the mirror image of one that goes up. ``slope``
    is the nosing line's, positive; ``xs`` and ``zs`` are the nosings of a measured flight, empty where all steps are
    equal; ``first_rise`` is from the lower landing to nosing 1, ``line`` the nosing line's height over nosing 1.
    """

    given: Flight | MeasuredFlight
    nosing_1: Point
    way: int
    slope: Fraction
    count: int
    first_rise: Fraction
    line: Fraction
    xs: tuple[Fraction, ...] = ()
    zs: tuple[Fraction, ...] = ()

    def x(self, i: int) -> Fraction:
        """x of nosing i, counted from 1."""
        return self.xs[i - 1] if isinstance(self.given, MeasuredFlight) else (i - 1) * self.given.run

    def z(self, i: int) -> Fraction:
        """z of nosing i, which is also tread i's."""
        return self.zs[i - 1] if isinstance(self.given, MeasuredFlight) else (i - 1) * self.given.rise

    @property
    def top(self) -> Fraction:
        """x of the top nosing."""
        return self.x(self.count)

    def station(self, x: Fraction) -> Fraction:
        """Station of a local x."""
        return self.nosing_1.s + self.way * x

    def local(self, station: Fraction) -> Fraction:
        """Local x of a station."""
        return self.way * (station - self.nosing_1.s)

    def elevation(self, z: Fraction) -> Fraction:
        """Elevation of a local z."""
        return self.nosing_1.z + z


def place(surfaces: tuple[Surface, ...], aside: Fraction = _NOTHING, *, closed: bool = False) -> SurfaceLine:
    """Put surfaces end to end from station 0, elevation 0, the first heading along x in plan.

    Parameters
    ----------
    surfaces : of the stair, each as long as its edge
    aside : how far left of that edge the guard stands, negative to its right; see `stairguard.solve.line.corner_shift`
    closed : whether the last comes back to the first, at a corner

    Raises
    ------
    JobError
        On the inner hand of a turn nothing is left of the guard beside a surface.
    """
    shifts = corner_shifts(surfaces, aside, closed)
    edges = list(_edges(surfaces, shifts))
    plan_at, placed = _START, []
    for edge, (start, end) in zip(edges, guard_spans(edges, shifts), strict=True):
        length, heading = float(end - start), radians(edge.heading_deg)
        plan_end = PlanPoint(plan_at.x + length * cos(heading), plan_at.y + length * sin(heading))
        near = surfaces[max(edge.index - 1, 0) : edge.index + 2]
        surface = replace(
            edge,
            start=Point(start, edge.start.z),
            end=Point(end, edge.end.z),
            plan_start=plan_at,
            plan_end=plan_end,
            edged=edge.kind != "flight" and any(isinstance(one, Ramp) for one in near),
            aside=aside,
            ahead=edge.start.s - start,
            past=end - edge.end.s,
        )
        placed.append(surface)
        plan_at = plan_end
    return SurfaceLine(tuple(placed))


def _edges(surfaces: tuple[Surface, ...], shifts: Sequence[Fraction]) -> Iterator[PlacedSurface]:
    """The surfaces themselves at the stations beside them: past a corner twice its shift on."""
    at, heading = Point(shifts[0], Fraction(0)), 0.0
    for index, given in enumerate(surfaces):
        heading += given.turn
        if index:
            at = Point(at.s + 2 * shifts[index], at.z)
        edge = _placed(index, given, at, heading)
        yield edge
        at = edge.end


def _placed(index: int, given: Surface, at: Point, heading: float) -> PlacedSurface:
    kind: SurfaceKind = "flight"
    nosings: tuple[Point, ...] = ()
    origin, slope = at, Fraction(0)
    if isinstance(given, Landing):
        kind = "landing"
        end = Point(at.s + given.length, at.z)
    elif isinstance(given, Ramp):
        kind, slope = "ramp", given.rise / given.length
        end = Point(at.s + given.length, at.z + given.rise)
    elif isinstance(given, MeasuredFlight):
        nosings, origin, slope, end = _surveyed(given, at)
    else:
        nosings, origin, slope, end = _stepped(given, at)
    return PlacedSurface(
        index=index,
        kind=kind,
        given=given,
        start=at,
        end=end,
        origin=origin,
        slope=slope,
        pitch_deg=pitch_deg(slope),
        nosings=nosings,
        heading_deg=heading,
        plan_start=_START,
        plan_end=_START,
    )


def _stepped(given: Flight, at: Point) -> tuple[tuple[Point, ...], Point, Fraction, Point]:
    way = -1 if given.down else 1
    length, height = (given.risers - 1) * given.run, given.risers * given.rise
    end = Point(at.s + length, at.z + way * height)
    # nosing 1 is plumb over the lower landing's end, the last is the edge of the upper landing
    nosing_1 = Point(end.s, end.z + given.rise) if given.down else Point(at.s, at.z + given.rise)
    first = at if given.down else nosing_1
    nosings = tuple(Point(first.s + k * given.run, first.z + way * k * given.rise) for k in range(given.risers))
    return nosings, nosing_1, way * given.rise / given.run, end


def _surveyed(given: MeasuredFlight, at: Point) -> tuple[tuple[Point, ...], Point, Fraction, Point]:
    nosings = tuple(Point(at.s + x, at.z + z) for x, z in given.nosings)
    line = nosing_line(nosings)
    first, last = nosings[0], nosings[-1]
    end = Point(last.s, last.z - _last_rise(given)) if given.down else last
    return nosings, Point(first.s, line.elevation(first.s)), line.slope, end


def _last_rise(given: MeasuredFlight) -> Fraction:
    """Plumb from the lowest nosing of a flight that goes down to the lower landing."""
    if given.last_rise is not None:
        return given.last_rise
    return (given.nosings[0][1] - given.nosings[-1][1]) / (len(given.nosings) - 1)


def uphill(surface: PlacedSurface) -> Uphill:
    """The uphill frame of a placed flight."""
    given = surface.given
    if isinstance(given, Flight):
        way = -1 if given.down else 1
        return Uphill(
            given=given,
            nosing_1=surface.origin,
            way=way,
            slope=abs(surface.slope),
            count=given.risers,
            first_rise=given.rise,
            line=Fraction(0),
        )
    assert isinstance(given, MeasuredFlight)
    way = -1 if given.down else 1
    ordered = surface.nosings[::way]
    low = ordered[0]
    floor = surface.end.z if given.down else surface.start.z
    return Uphill(
        given=given,
        nosing_1=low,
        way=way,
        slope=abs(surface.slope),
        count=len(ordered),
        first_rise=low.z - floor,
        line=surface.datum(low.s) - low.z,
        xs=tuple(way * (p.s - low.s) for p in ordered),
        zs=tuple(p.z - low.z for p in ordered),
    )
