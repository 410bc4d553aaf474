"""The surface line: each surface of a job put in its place, and a flight's own uphill frame."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from stairguard.geometry.slope import pitch_deg
from stairguard.model.guard import PlacedSurface, Point, SurfaceLine
from stairguard.model.job import Flight, Landing, Ramp, Surface

__all__ = ["Uphill", "place", "uphill"]


@dataclass(frozen=True, slots=True)
class Uphill:
    """A flight read from its bottom: x level and uphill from nosing 1, z up from nosing 1.

    A flight that goes down is solved in this frame too, so it is the mirror image of one that goes up.
    """

    given: Flight
    nosing_1: Point
    way: int

    @property
    def slope(self) -> Fraction:
        """Rise over run, positive."""
        return self.given.rise / self.given.run

    @property
    def top(self) -> Fraction:
        """x of the top nosing."""
        return (self.given.risers - 1) * self.given.run

    def station(self, x: Fraction) -> Fraction:
        """Station of a local x."""
        return self.nosing_1.s + self.way * x

    def elevation(self, z: Fraction) -> Fraction:
        """Elevation of a local z."""
        return self.nosing_1.z + z


def place(surfaces: tuple[Surface, ...]) -> SurfaceLine:
    """Put surfaces end to end from station 0, elevation 0."""
    at = Point(Fraction(0), Fraction(0))
    placed = []
    for index, given in enumerate(surfaces):
        surface = _placed(index, given, at)
        placed.append(surface)
        at = surface.end
    return SurfaceLine(tuple(placed))


def _placed(index: int, given: Surface, at: Point) -> PlacedSurface:
    if isinstance(given, Landing):
        end = Point(at.s + given.length, at.z)
        return PlacedSurface(index, "landing", given, at, end, at, Fraction(0), 0.0, ())
    if isinstance(given, Ramp):
        end = Point(at.s + given.length, at.z + given.rise)
        slope = given.rise / given.length
        return PlacedSurface(index, "ramp", given, at, end, at, slope, pitch_deg(slope), ())
    way = -1 if given.down else 1
    length, height = (given.risers - 1) * given.run, given.risers * given.rise
    end = Point(at.s + length, at.z + way * height)
    # nosing 1 is plumb over the lower landing's end, the last is the edge of the upper landing
    nosing_1 = Point(end.s, end.z + given.rise) if given.down else Point(at.s, at.z + given.rise)
    first = at if given.down else nosing_1
    nosings = tuple(Point(first.s + k * given.run, first.z + way * k * given.rise) for k in range(given.risers))
    slope = way * given.rise / given.run
    return PlacedSurface(index, "flight", given, at, end, nosing_1, slope, pitch_deg(slope), nosings)


def uphill(surface: PlacedSurface) -> Uphill:
    """The uphill frame of a placed flight."""
    assert isinstance(surface.given, Flight)
    return Uphill(surface.given, surface.origin, -1 if surface.given.down else 1)
