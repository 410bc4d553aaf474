"""Lowest strands of flights that a job asks to be lower than they can be: where they stop, and how far down that is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Final

from stairguard.geometry.slope import secant
from stairguard.model.cautions import LowerNotReached
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.job import Job
from stairguard.relations.printed.by_slope import square_of_plumb
from stairguard.solve.strand.fields import room_below

_SAME: Final = 1e-9


def at_floor(job: Job, height: Fraction, slope: Fraction) -> float:
    """How far above the least it can have a strand of this plumb height stands over a flight, square to it."""
    room = height + room_below(job) - job.mark / 2
    return float(square_of_plumb(room, secant(slope)) - job.strand.diameter / 2)


def not_reached(layout: Layout) -> Iterator[LowerNotReached]:
    """Each flight whose lowest strand stops before it is as much lower as the job asks."""
    job, asked = layout.job, layout.job.strand.lower
    low = [
        surface
        for surface in layout.line.surfaces
        if asked and surface.kind == "flight" and layout.fields[surface.index].heights
        and at_floor(job, layout.fields[surface.index].heights[-1], surface.slope) < _SAME
    ]  # fmt: skip
    if not low:
        return
    from stairguard.solve.decide_line import plan  # the strands once more, only where one stops

    rest = plan(replace(job, strand=replace(job.strand, lower=Fraction(0))), layout.laid_by or layout.rules).fields
    for surface in low:
        before, after = rest[surface.index].heights[-1], layout.fields[surface.index].heights[-1]
        by = float(square_of_plumb(before - after, secant(surface.slope)))
        if by < asked - _SAME:
            yield LowerNotReached(surface.index, asked, by)
