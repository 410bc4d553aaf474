"""How a guard that stands out from the edge of a stair is longer than it at plan turns, or shorter.

The job's lengths are the edge's, as one measures them. The guard's line runs beside it at one distance and has corners
of its own: at a turn it goes on past the edge's corner, along both legs, by the distance times the tangent of half the
turn; on the inner hand it stops so far short. Stations are along the guard. Seen square to it an edge therefore jumps
at a corner by twice as much: ahead on the outer hand, back on the inner, where both legs' edges go on past the post.

Surfaces of one leg share it out where their edges do. What is left at its ends belongs to the last of them: a flight
after a turn on the outer hand begins with a level stretch before its nosing, one on the inner hand past that nosing. A
landing that carries no rail may be passed over whole.

At a half-turn the two legs' guards are one plane, half way across a well that is twice the distance wide: two
quarter-turns with nothing between. Only the inner hand has such a one.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import radians, tan
from typing import Final, TypeAlias

from stairguard.errors import Fault, JobError
from stairguard.geometry.marks import figure_text
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Surface
from stairguard.model.soundness.job_checks import closing_turn

_SQUARE: Final = (90, 180)
"""Turns, degrees, made of quarter-turns: their shift is the distance itself."""

Span: TypeAlias = tuple[Fraction, Fraction]
"""Stations where the guard beside a surface starts and ends."""


def shift(aside: Fraction, turn_deg: float) -> Fraction:
    """How far past the edge's corner the guard's lies, along either leg; less than zero on the inner hand.

    Parameters
    ----------
    aside : how far left of the edge the guard stands, negative to its right
    turn_deg : left positive
    """
    if not aside or not turn_deg:
        return Fraction(0)
    angle = abs(turn_deg)
    by = abs(aside) if angle in _SQUARE else abs(aside) * Fraction(tan(radians(angle / 2)))
    return -by if (turn_deg > 0) == (aside > 0) else by


def corner_shifts(surfaces: Sequence[Surface], aside: Fraction, closed: bool) -> list[Fraction]:
    """The shift at each surface's start, and at the line's end: none there but where it closes."""
    closing = closing_turn(surfaces) if closed else 0.0
    return [shift(aside, turn) for turn in (closing, *(surface.turn for surface in surfaces[1:]), closing)]


def guard_spans(edges: Sequence[PlacedSurface], shifts: Sequence[Fraction]) -> list[Span]:
    """Share out the guard among surfaces whose edges are in place.

    Raises
    ------
    JobError
        Nothing is left of the guard beside a surface that carries a rail.
    """
    spans: list[Span] = []
    start = 0
    for index in range(1, len(edges) + 1):
        if index < len(edges) and not edges[index].given.turn:
            continue
        leg = edges[start:index]
        first, last = leg[0].start.s - shifts[start], leg[-1].end.s + shifts[index]
        for surface in leg:
            low = first if surface is leg[0] else min(max(surface.start.s, first), last)
            high = last if surface is leg[-1] else min(max(surface.end.s, first), last)
            if surface.carries and low >= high and any(shifts):
                raise JobError(_nothing_left(surface, max(-shifts[start], -shifts[index])))
            spans.append((low, max(low, high)))
        start = index
    return spans


def _nothing_left(surface: PlacedSurface, short: Fraction) -> Fault:
    must = (
        "such that some guard is left beside it: on the inner hand of a turn the guard's corner stands "
        f"{figure_text(short)} short of the edge's (or post.offset smaller)"
    )
    key = {"flight": "risers"}.get(surface.kind, "length")
    return Fault(f"surface[{surface.index + 1}].{key}", must, figure_text(surface.end.s - surface.start.s))
