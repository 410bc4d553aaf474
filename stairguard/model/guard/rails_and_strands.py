"""The rail over a surface, its strands, and how strands run between the two posts of a corner."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from stairguard.model.guard.surfaces import Point


@dataclass(frozen=True, slots=True, kw_only=True)
class RailLine:
    """The rail over one surface: plumb heights above its datum, of top and underside, and where it runs.

    ``start`` and ``end`` are on the top of the rail: joint meeting points, post faces at a jog, or the
    line's ends. Over a landing without a level piece there is none: it starts and ends where the neighbours' rails
    meet, and its heights are the least there is over that landing.
    """

    surface: int
    height: Fraction
    underside: Fraction
    start: Point
    end: Point


@dataclass(frozen=True, slots=True)
class Field:
    """The strands over one surface: plumb heights of their centres above its datum, highest first.

    Strand number k (1 next under the rail) is ``heights[k - 1]``. A single strand has spacing zero.
    """

    surface: int
    heights: tuple[Fraction, ...]
    plumb_spacing: Fraction
    square_spacing: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Chord:
    """The way of strands between the two posts of a corner, straight from centre to centre and all parallel.

    ``level`` is its length in plan, ``length`` its own, ``sec`` length over level, ``slope`` what it climbs for one of
    level, along stations. In plan it is ``skew_deg`` from square to the posts' inner faces and comes out of a post
    ``reach`` half-widths from its centre, level along it, posts taken as deep as they are wide. ``bends_deg`` are the
    bends in space at the two posts. ``clear`` is what is between the posts, level along it, 0 where they touch.
    """

    level: float
    length: float
    sec: float
    slope: Fraction
    pitch_deg: float
    skew_deg: float
    reach: Fraction
    bends_deg: tuple[float, float]
    clear: Fraction
