"""Round the corners of a guard that stands out from the stair: the way under its lowest strands there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from math import inf
from typing import TypeAlias

from stairguard.geometry.exact.surd import Surd
from stairguard.model.guard.guard_openings import Gap, Opening
from stairguard.model.guard.opening_kinds import Touch, Where
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Job
from stairguard.solve.joint.rail_meeting import Meeting
from stairguard.solve.line.footing import below
from stairguard.solve.plan import Plan
from stairguard.solve.sphere.corner_way import (
    CornerTouch,
    CornerWay,
    EdgeCorner,
    EdgeLeg,
    PostInPlan,
    directions,
    guard_corner,
    leg_nearer,
    round_corner,
)
from stairguard.solve.sphere.verdicts import over, verdict

_Heights: TypeAlias = Mapping[int, Fraction]
"""Plumb, of the lowest strand above its surface's datum, by surface."""

_TIE = Fraction(1, 10**10)
"""Part of a sphere that is rounding: so near its limit it counts as the limit itself."""


def round_corners(plan: Plan, marked: _Heights) -> Iterator[Opening]:
    """The way round each corner where that is wider than along its legs, of a guard that says on which hand it stands.

    Parameters
    ----------
    marked : of each surface the lowest strand as marked, where it is highest
    """
    designed = {index: field.heights[-1] for index, field in plan.fields.items()}
    for meeting in plan.meetings:
        if not meeting.turn_deg or (meeting.two and plan.barred[meeting.index] is not None):
            continue  # between two posts that end the strands is an opening of its own
        one, other = (round_corner(edge_corner(plan.job, meeting, heights)) for heights in (designed, marked))
        first, second = one or other, other or one
        if first is not None and second is not None:
            yield _opening(plan, meeting, first, second)


def edge_corner(job: Job, meeting: Meeting, heights: _Heights) -> EdgeCorner:
    """A corner as it is to be solved: seen from the edge's corner, the guard on the left of who walks."""
    post, sign = job.post, _sign(job)
    floor = _floor(meeting)
    stands = [
        PostInPlan(
            float(station - meeting.station),
            float(post.width) / 2,
            sign * (meeting.stance.turned_deg if not meeting.two else number * meeting.turn_deg),
            float(foot.base - below(job, "post")) - floor,
        )
        for number, (station, foot) in enumerate(meeting.feet)
    ]
    return EdgeCorner(
        _turn(job, meeting),
        float(post.out),
        float(job.strand.diameter) / 2,
        _leg(meeting.before, meeting.station, heights[meeting.before.index], floor, -1),
        _leg(meeting.after, meeting.station, heights[meeting.after.index], floor, 1),
        tuple(stands),
        meeting.two,
    )


def level_corners(job: Job, meetings: Sequence[Meeting]) -> dict[int, tuple[EdgeCorner, ...]]:
    """Corners where strands turn over level or sloping ground, by surface, with strands no higher than their datums.

    Of a guard that says on which hand it stands.
    """
    found: dict[int, tuple[EdgeCorner, ...]] = {}
    for meeting in meetings:
        pair = meeting.before.index, meeting.after.index
        if meeting.turn_deg and not meeting.two and "flight" not in (meeting.before.kind, meeting.after.kind):
            corner = edge_corner(job, meeting, dict.fromkeys(pair, Fraction(0)))
            found |= {index: (*found.get(index, ()), corner) for index in pair}
    return found


def _sign(job: Job) -> int:
    """1 of a guard on the left of who walks; -1 on the right, where all is mirrored."""
    return 1 if job.post.hand == "left" else -1


def _turn(job: Job, meeting: Meeting) -> float:
    """The turn as one with the guard on the left makes it."""
    return _sign(job) * meeting.turn_deg


def _floor(meeting: Meeting) -> float:
    """Elevation of what is walked on where the edge turns."""
    return float(meeting.before.end.z)


def _leg(surface: PlacedSurface, corner: Fraction, height: Fraction, floor: float, way: int) -> EdgeLeg:
    """What lies along one leg, and its lowest strand. Sloping ground counts as level, as low as where it is seen."""
    edge = surface.edge_start if way > 0 else surface.edge_end
    end = float(edge.z) - floor
    strips: list[tuple[float, float, float]] = []
    if surface.kind != "flight":
        least = min(float(surface.start.z), float(surface.end.z)) if surface.slope else float(edge.z)
        strips = [(-inf, inf, least - floor)]
    else:
        ups = [(way * float(n.s - edge.s), float(n.z) - floor) for n in surface.nosings][::way]
        if ups[-1][1] > ups[0][1] or (len(ups) == 1 and ups[0][1] > end):  # treads rise from the corner
            ends = [low for low, _ in ups[1:]] + [inf]
            strips = [(-inf, ups[0][0], end)]
            strips += [(low, high, top) for (low, top), high in zip(ups, ends, strict=True)]
        else:  # the first of them is the floor's own edge
            floors = [*(top for _, top in ups[1:]), _lower(surface, way, floor)]
            ends = [low for low, _ in ups[1:]] + [inf]
            strips = [(-inf, ups[0][0], ups[0][1])]
            strips += [(low, high, top) for (low, _), high, top in zip(ups, ends, floors, strict=True)]
    strand = float(surface.datum(corner) + height) - floor
    return EdgeLeg(tuple(strip for strip in strips if strip[0] < strip[1]), strand, way * float(surface.slope))


def _lower(surface: PlacedSurface, way: int, floor: float) -> float:
    """Height of what a flight comes down to at its end away from the corner."""
    return float((surface.end if way > 0 else surface.start).z) - floor


def _opening(plan: Plan, meeting: Meeting, one: CornerWay, other: CornerWay) -> Opening:
    rule = over(plan.rules, [meeting.before, meeting.after])
    spheres = [_settled(way, None if rule is None else rule.value) for way in (one, other)]
    away = [_developed(plan, meeting, touch.at, touch.leg) for touch in one.touches]
    x, y, _ = one.centre
    leg = leg_nearer(_turn(plan.job, meeting), float(plan.job.post.out), (x, y))
    _, (nx, ny) = directions(_turn(plan.job, meeting))
    return Opening(
        where=Where("round corner", surface=meeting.after.index),
        surface=meeting.before.index,
        sphere=one.diameter,
        sphere_as_marked=other.diameter,
        error=one.error,
        rule=rule,
        passes=verdict(rule, spheres),
        touches=tuple(_touch(plan, meeting, touch) for touch in one.touches),
        contacts=tuple(away),
        centre=_developed(plan, meeting, one.centre, leg),
        bounds=Gap((len(plan.fields[meeting.before.index].heights),)),
        out=x * nx + y * ny if leg else y,
    )


def _settled(way: CornerWay, limit: Fraction | None) -> Surd:
    """A diameter as it is judged: the limit itself where it is no farther from it than rounding."""
    size = Fraction(way.diameter)
    return Surd(limit if limit is not None and abs(size - limit) <= _TIE * limit else size)


def _touch(plan: Plan, meeting: Meeting, touch: CornerTouch) -> Touch:
    surface = (meeting.before, meeting.after)[touch.leg]
    if touch.part == "strand":
        return Touch("strand", len(plan.fields[surface.index].heights))
    if touch.part == "ground":
        return Touch("tread" if surface.kind == "flight" else surface.kind)
    return Touch(touch.part)


def _developed(plan: Plan, meeting: Meeting, at: tuple[float, float, float], leg: int) -> tuple[float, float]:
    """Station and elevation of a place, seen square to the guard of the leg it is on."""
    turn = _turn(plan.job, meeting)
    x, y = guard_corner(turn, float(plan.job.post.out))
    dx, dy = directions(turn)[0] if leg else (1.0, 0.0)
    along = (at[0] - x) * dx + (at[1] - y) * dy
    return float(meeting.station) + along, _floor(meeting) + at[2]
