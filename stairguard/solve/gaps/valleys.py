"""Under the rail beside a mitred joint where rails bend up: the neighbour's rail runs on there past the post's face.

The undersides of two mitred rails cross to one side of where their tops meet, the farther the deeper they are. If that
is past the post's face, the neighbour's underside, the higher of the two there, lets a larger sphere through than the
surface's own, which is parallel to its strands.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Final

from stairguard.geometry.clearance.outline import Corner, Edge, Outline, Vec
from stairguard.model.guard.guard_openings import Opening
from stairguard.model.guard.opening_kinds import Where
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.solve.gaps.bay_openings import judged
from stairguard.solve.plan import Plan, Stop
from stairguard.solve.sphere.verdicts import keeps

_LARGER: Final = 1 + 1e-9
"""Than the strip: clear of what binary arithmetic loses."""


def past_mitres(
    plan: Plan, strip: Opening, plumb: tuple[Fraction, Fraction], labels: Mapping[Fraction, str]
) -> Iterator[Opening]:
    """What is larger than the strip under a surface's own rail, at either end of it.

    Parameters
    ----------
    strip : the opening between the surface's rail and its strand 1
    plumb : how far the rail is above the axis of strand 1, as designed and as marked
    labels : of the posts, by station
    """
    surface = plan.line.surfaces[strip.surface]
    stops = plan.stops[surface.index]
    for stop, far, way in zip(stops, stops[::-1], (1, -1), strict=True):
        other = _runs_on(plan, surface, stop)
        if other is None:
            continue
        faces = stop.station + way * stop.half, far.station - way * far.half
        crossing = plan.fold(surface, other)
        if (crossing - faces[0]) * way <= 0 or plan.underside(other, faces[0]) <= plan.underside(surface, faces[0]):
            continue
        outlines = [_outline(plan, surface, other, crossing, faces, high) for high in plumb]
        found = judged(strip.rule, 1, *outlines)
        if found is None or found.sphere <= strip.sphere * _LARGER:
            continue
        alike = [(drawn.outline, drawn.pockets[0]) for drawn in (found.section.designed, found.section.marked)]
        others = tuple((rule, bool(keeps(rule, alike))) for rule, _ in strip.others)
        where = Where("under rail at post", post=labels[stop.station])
        yield replace(found.opening(where, surface.index), others=others)


def _runs_on(plan: Plan, surface: PlacedSurface, stop: Stop) -> PlacedSurface | None:
    """The surface whose rail is mitred to this one's over the post of a straight joint; None where none is."""
    if stop.joint is None or not plan.joined[stop.joint].mitred:
        return None
    meeting = plan.meetings[stop.joint]
    other = meeting.before if meeting.after.index == surface.index else meeting.after
    return None if meeting.turn_deg or other.slope == surface.slope else other


def _outline(
    plan: Plan, surface: PlacedSurface, other: PlacedSurface, crossing: Fraction, faces: tuple[Fraction, Fraction],
    high: Fraction,
) -> Outline:  # fmt: skip
    """Strand 1, the post's face, the neighbour's underside as far as the crossing, and the surface's own."""
    near, far = faces

    def strand(s: Fraction) -> Vec:
        return Vec(s, plan.underside(surface, s) - high)

    long = far - near  # past the posts, so that no end of the strand is met
    corner = Vec(crossing, plan.underside(surface, crossing))
    radius = plan.job.strand.diameter / 2
    drawn = [
        (Vec(near, plan.underside(other, near)), strand(near), "post", Fraction(0)),
        (strand(near - long), strand(far + long), "strand", radius),
        (strand(far), Vec(far, plan.underside(surface, far)), "post", Fraction(0)),
        (Vec(far, plan.underside(surface, far)), corner, "rail", Fraction(0)),
        (corner, Vec(near, plan.underside(other, near)), "rail", Fraction(0)),
    ]
    if near > far:  # the same seen from behind: free sides on the left
        drawn = [(b, a, name, thick) for a, b, name, thick in reversed(drawn)]
    return Outline(tuple(Edge(*one) for one in drawn), (Corner(corner, "rail"),))
