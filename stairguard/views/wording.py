"""The words on a drawing, the trade's own: lengths, spheres, joints; plumb and square always told apart."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from math import isfinite
from typing import Final, TypeAlias

from stairguard.geometry.marks import to_mark
from stairguard.model.guard import Joint, Layout, Opening, PlacedSurface
from stairguard.model.job import Flight, Job, Unit

__all__ = [
    "Formatter",
    "count",
    "degrees_words",
    "given_words",
    "joint_words",
    "limit_words",
    "sphere_words",
    "surface_name",
]

Formatter: TypeAlias = Callable[[Fraction | float], str]
"""Writes a length as a tape shows it."""

_MARK: Final = {"in": '"', "mm": " mm"}
_PLACES: Final = {"in": 2, "mm": 1}


def sphere_words(value: float, limit: float | None, unit: Unit) -> str:
    """Write a sphere's diameter, in as many decimals as tell it from its limit; "none" if there is no gap."""
    if value <= 0:
        return "none"
    places = _PLACES[unit]
    if limit is not None and isfinite(value):
        while places < _MOST_PLACES and value != limit and round(value, places) == round(limit, places):
            places += 1
    return f"{value:.{places}f}{_MARK[unit]}"


_MOST_PLACES: Final = 12


def limit_words(opening: Opening, unit: Unit) -> str:
    """Write the limit an opening answers to, or a hyphen."""
    if opening.rule is None:
        return "-"
    value = opening.rule.value
    number = str(value.numerator) if value.denominator == 1 else f"{float(value):.8g}"
    return f"{number}{_MARK[unit]}"


def given_words(job: Job, fmt: Formatter) -> Formatter:
    """Return a formatter for lengths that nobody marks: as the tape shows them if it can, else exact."""

    def words(value: Fraction | float) -> str:
        if to_mark(Fraction(value), job.mark) == value:
            return fmt(value)
        return f"{float(value):.7g}{_MARK[job.unit]}"

    return words


def degrees_words(angle: float) -> str:
    """Write an angle to a tenth of a degree."""
    return f"{angle:.1f}°"


def count(number: int, thing: str) -> str:
    """Write a number of things: 1 riser, 2 risers."""
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"


def surface_name(layout: Layout, surface: PlacedSurface) -> str:
    """Name a surface for its place beside the flight: lower landing, upper landing, flight."""
    if surface.kind != "landing":
        return surface.kind
    heights = [float(s.start.z) for s in layout.line.surfaces if s.kind == "landing"]
    if len(heights) == 2 and heights[0] != heights[1]:
        return "lower landing" if float(surface.start.z) == min(heights) else "upper landing"
    return f"landing {surface.index + 1}"


def nosing_at(layout: Layout, joint: Joint) -> tuple[int, Fraction] | None:
    """Return number and station of the flight's nosing at a joint; None where no flight meets."""
    for index in joint.between:
        surface = layout.line.surfaces[index]
        if isinstance(surface.given, Flight):
            at_start = index == joint.between[1]
            nosing = surface.nosings[0 if at_start else -1]
            lowest = at_start == (surface.slope > 0)
            return (1 if lowest else surface.given.risers), nosing.s
    return None


def joint_words(layout: Layout, joint: Joint, fmt: Formatter) -> tuple[str, ...]:
    """Say where two rails meet, how they are cut there, and the jog if they miss each other at the post."""
    lines = []
    nosing = nosing_at(layout, joint)
    if nosing is not None and joint.from_nosing is not None:
        way = 1 if layout.line.surfaces[_flight_of(layout, joint)].slope > 0 else -1
        stands = (joint.station - nosing[1]) * way
        if joint.jog:
            lines.append(f"rails meet {_offset(joint.from_nosing, fmt)} nosing {nosing[0]}")
            lines.append(f"post centre {_offset(stands, fmt)} nosing {nosing[0]}")
        else:
            lines.append(f"rails meet over its centre, {_offset(stands, fmt)} nosing {nosing[0]}")
    if joint.jog:
        higher = "above" if joint.jog > 0 else "below"
        lines.append(f"JOG {fmt(abs(joint.jog))} plumb, landing rail {higher} flight rail")
    else:
        lines.append(f"bend {degrees_words(joint.bend_deg)}, mitre {degrees_words(joint.mitre_deg)} each")
    return tuple(lines)


def _flight_of(layout: Layout, joint: Joint) -> int:
    return next(i for i in joint.between if layout.line.surfaces[i].kind == "flight")


def _offset(value: Fraction, fmt: Formatter) -> str:
    if value == 0:
        return "plumb over"
    return f"{fmt(abs(value))} level {'uphill' if value > 0 else 'downhill'} of"
