"""Where every post stands, before it has a length or holes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from stairguard.errors import Fault, JobError
from stairguard.geometry.marks import mark_above, mark_below, plain_text
from stairguard.model.guard.placed_posts import SQUARE, Role, Stance
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Ending
from stairguard.solve.joint.rail_meeting import Meeting
from stairguard.solve.line.closing import moved
from stairguard.solve.line.footing import Footing, footing
from stairguard.solve.line.line_posts import on_level
from stairguard.solve.plan import Plan, Stop


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """A post, wall or newel before it has a label; ``before`` and ``after`` are the surfaces its strands lie over.

    ``half`` is from its centre to its faces, along what comes to it. A post of a pair that makes a corner holds its own
    leg's strands only.
    """

    role: Role
    station: Fraction
    half: Fraction
    foot: Footing
    before: PlacedSurface
    after: PlacedSurface
    joint: int | None
    support: Ending
    stance: Stance = SQUARE

    @property
    def width(self) -> Fraction:
        """Across its own face."""
        return 2 * self.half / self.stance.reach


def is_second(plan: Plan, stand: Stand) -> bool:
    """Whether it is the second of a corner's two posts, on the leg after the turn."""
    meeting = plan.meetings[stand.joint] if stand.joint is not None else None
    return meeting is not None and meeting.two and stand.before.index == meeting.after.index


def starts_line(plan: Plan, stand: Stand) -> bool:
    """Whether it is what the line starts at."""
    return stand.joint is None and stand.station == plan.stops[plan.carriers[0].index][0].station


def stands(plan: Plan) -> Iterator[Stand]:
    """Every post in station order."""
    for i, surface in enumerate(plan.carriers):
        first, last = plan.stops[surface.index]
        if i == 0:
            yield _end(first, surface) if first.joint is None else _closing(plan, first, surface, False)
        yield from _line_stands(plan, surface, first, last)
        if last.joint is None:
            yield _end(last, surface)
        elif surface is plan.carriers[-1]:
            yield _closing(plan, last, surface, True)
        else:
            after = plan.carriers[i + 1]
            meeting = plan.meetings[last.joint]
            if meeting.two:
                yield _at_joint(last, surface, surface)
                yield _at_joint(plan.stops[after.index][0], after, after)
            else:
                yield _at_joint(last, surface, after, meeting.stance)


def _at_joint(stop: Stop, before: PlacedSurface, after: PlacedSurface, stance: Stance = SQUARE) -> Stand:
    return Stand(
        role="joint",
        station=stop.station,
        half=stop.half,
        foot=stop.foot,
        before=before,
        after=after,
        joint=stop.joint,
        support="post",
        stance=stance,
    )


def _end(stop: Stop, surface: PlacedSurface) -> Stand:
    return Stand(
        role="end",
        station=stop.station,
        half=stop.half,
        foot=stop.foot,
        before=surface,
        after=surface,
        joint=None,
        support=stop.support,
    )


def _closing(plan: Plan, stop: Stop, surface: PlacedSurface, last: bool) -> Stand:
    """The post where the line closes, as the last surface comes to it or the first one leaves it; or its own of two."""
    assert stop.joint is not None
    meeting = plan.meetings[stop.joint]
    before, after = (surface, meeting.after) if last else (_behind(plan, meeting), surface)
    if meeting.two:
        before = after = surface
    return _at_joint(stop, before, after, SQUARE if meeting.two else meeting.stance)


def _behind(plan: Plan, meeting: Meeting) -> PlacedSurface:
    """The last surface moved back to where the line starts."""
    return moved(meeting.before, -meeting.circuit, plan.carriers[0].start.z - meeting.before.end.z)


def _line_stands(plan: Plan, surface: PlacedSurface, first: Stop, last: Stop) -> Iterator[Stand]:
    job, half = plan.job, plan.job.post.width / 2
    if surface.given.posts is not None:
        stations = [surface.edge_start.s + at for at in surface.given.posts]
        _check_forced(plan, surface, first, last, stations)
    elif surface.kind == "flight":
        up = plan.ups[surface.index]
        stations = sorted(up.station(x) for _, x in plan.profiles[surface.index].posts)
    else:
        outer = first.station + first.half - half, last.station - last.half + half
        stations = list(on_level(*outer, plan.secs[surface.index], job.post))
    # the strands of a landing or ramp may run on over a landing without a level piece
    nearest, farthest = min(first.foot.surface.index, surface.index), max(last.foot.surface.index, surface.index)
    on = plan.line.surfaces[nearest : farthest + 1]
    for station in stations:
        foot = footing(job, plan.line, (surface,) if surface.kind == "flight" else on, station)
        yield Stand(
            role="line",
            station=station,
            half=half,
            foot=foot,
            before=surface,
            after=surface,
            joint=None,
            support="post",
        )


def _check_forced(plan: Plan, surface: PlacedSurface, first: Stop, last: Stop, stations: list[Fraction]) -> None:
    """Refuse forced posts that run into each other or into the posts that bound the surface."""
    half = plan.job.post.width / 2
    places = [first.station + first.half, *stations, last.station - last.half]
    for k, station in enumerate(stations, 1):
        least = places[k - 1] + (2 * half if k > 1 else half)
        most = places[k + 1] - (2 * half if k < len(stations) else half)
        if not least <= station <= most:
            must = "apart from one another and between the posts that bound the surface's strands: "
            low = mark_above(least - surface.edge_start.s, plan.job.mark)
            high = mark_below(most - surface.edge_start.s, plan.job.mark)
            place = f"from {plain_text(low)} to {plain_text(high)}" if low <= high else "there is no room for this one"
            raise JobError(
                Fault(
                    f"surface[{surface.index + 1}].posts[{k}]",
                    must + place,
                    float(station - surface.edge_start.s),
                )
            )
