"""Where the strands of a landing or ramp run past its edge, over the next surface: the wedge under them there.

A joint post stands on the edge between two such surfaces, or where the job puts it; the strands of one side then hang
over the other's ground as far as the post's face.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from stairguard.geometry.clearance.outline import Corner, Outline, Vec
from stairguard.model.guard.guard_openings import Opening
from stairguard.model.guard.opening_kinds import Where
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.solve.gaps.bay_openings import StrandAxis, bay, judged
from stairguard.solve.plan import Plan
from stairguard.solve.sphere.verdicts import over


def overruns(plan: Plan, surface: PlacedSurface, lowest: Fraction, marked: Fraction) -> Iterator[Opening]:
    """The opening at each end that the strands overrun, with the lowest strand as designed and as marked."""
    first, last = plan.stops[surface.index]
    bounds = first.station + first.half, last.station - last.half
    surfaces = plan.line.surfaces
    if bounds[0] < surface.start.s and surface.index:
        yield from _wedge(plan, surface, surfaces[surface.index - 1], bounds, (lowest, marked))
    if bounds[1] > surface.end.s and surface.index + 1 < len(surfaces):
        yield from _wedge(plan, surface, surfaces[surface.index + 1], bounds, (lowest, marked))


def _wedge(
    plan: Plan, surface: PlacedSurface, beyond: PlacedSurface,
    bounds: tuple[Fraction, Fraction], heights: tuple[Fraction, Fraction],
) -> Iterator[Opening]:  # fmt: skip
    rule = over(plan.rules, (surface, beyond))
    number = len(plan.fields[surface.index].heights)
    designed, marked = (_outline(plan, surface, beyond, bounds, height) for height in heights)
    apart = plan.job.post if plan.job.post.out else None
    found = judged(rule, number, designed, marked, edge=max(surface.index, beyond.index), post=apart)
    if found is not None:
        yield found.opening(Where("under overrun", surface=beyond.index), surface.index)


def _outline(
    plan: Plan, surface: PlacedSurface, beyond: PlacedSurface, bounds: tuple[Fraction, Fraction], height: Fraction
) -> Outline:
    left, right = bounds
    edge = Vec(*(surface.start if beyond.index < surface.index else surface.end))
    before, after = (beyond, surface) if beyond.index < surface.index else (surface, beyond)
    ground = Vec(left, before.datum(left)), edge, Vec(right, after.datum(right))
    number, radius = len(plan.fields[surface.index].heights), plan.job.strand.diameter / 2
    strand = StrandAxis(number, Vec(left, surface.datum(left) + height), surface.slope, radius)
    return bay(ground, (before.kind, after.kind), strand, (Corner(edge, "surface edge"),))
