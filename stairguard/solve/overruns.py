"""Where the strands of a landing or ramp run past its edge, over the next surface: the wedge under them there.

A joint post stands on the edge between two such surfaces, or where the job puts it; the strands of one side then hang
over the other's ground as far as the post's face.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from stairguard.geometry.outline import Corner, Edge, Outline, Vec
from stairguard.geometry.pockets import Pocket, compare, pockets
from stairguard.model.guard import Opening, PlacedSurface
from stairguard.solve.plan import Plan
from stairguard.solve.under import stops

__all__ = ["overruns"]


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
    drawn = [_outline(plan, surface, beyond, bounds, height) for height in heights]
    found = [_largest(outline, bounds) for outline in drawn]
    if found[0] is None or found[1] is None:
        return
    rule = plan.rules.opening(beyond.kind)
    passes = None
    if rule is not None:
        passes = all(
            stops(rule, compare(outline, pocket, rule.value))
            for outline, pocket in zip(drawn, found, strict=True)
            if pocket is not None
        )
    pocket = found[0]
    yield Opening(
        f"under the strands that run on over surface {beyond.index + 1}",
        surface.index,
        pocket.diameter,
        found[1].diameter,
        rule,
        passes,
        tuple(drawn[0].name(s) for s in pocket.sites),
        pocket.contacts,
        pocket.centre,
    )


def _outline(
    plan: Plan, surface: PlacedSurface, beyond: PlacedSurface, bounds: tuple[Fraction, Fraction], height: Fraction
) -> Outline:
    left, right = bounds
    edge = surface.start if beyond.index < surface.index else surface.end
    before, after = (beyond, surface) if beyond.index < surface.index else (surface, beyond)
    tall = abs(height) + plan.rails.heights[surface.index] + abs(right - left)
    foot, end = Vec(left, before.datum(left)), Vec(right, after.datum(right))
    number = len(plan.fields[surface.index].heights)
    over = [Vec(s, surface.datum(s) + height) for s in (right + tall, left - tall)]
    edges = (
        Edge(Vec(left, foot.z + tall), foot, "post"),
        Edge(foot, Vec(edge.s, edge.z), before.kind),
        Edge(Vec(edge.s, edge.z), end, after.kind),
        Edge(end, Vec(right, end.z + tall), "post"),
        Edge(over[0], over[1], f"strand {number}", plan.job.strand.diameter / 2),
    )
    return Outline(edges, (Corner(Vec(edge.s, edge.z), f"edge of surface {after.index + 1}"),))


def _largest(outline: Outline, bounds: tuple[Fraction, Fraction]) -> Pocket | None:
    inside = (p for p in pockets(outline) if bounds[0] < p.centre[0] < bounds[1])
    return max(inside, key=lambda p: p.diameter, default=None)
