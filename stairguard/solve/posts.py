"""Every post: where it stands, how long it is, and its holes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

from stairguard.geometry.marks import to_mark
from stairguard.geometry.slope import pitch_deg
from stairguard.model.guard import Hole, PlacedPost, PlacedSurface, Role
from stairguard.relations import scalars
from stairguard.solve.joints import Meeting
from stairguard.solve.plan import Plan
from stairguard.solve.stations import on_landing

__all__ = ["place_posts"]


@dataclass(frozen=True, slots=True)
class _Stand:
    """A post before it has a label; ``before`` and ``after`` are the surfaces its strands lie over."""

    role: Role
    station: Fraction
    base: Fraction
    stands_on: PlacedSurface
    step: int | None
    before: PlacedSurface
    after: PlacedSurface


class _Top(NamedTuple):
    length: Fraction
    bevels_deg: tuple[float, float]
    turn: Fraction
    edges: tuple[Fraction, Fraction]


def place_posts(plan: Plan) -> tuple[PlacedPost, ...]:
    """All posts in station order, labelled P1 on."""
    stands = sorted(_stands(plan), key=lambda s: s.station)
    cached: dict[int, tuple[Hole, ...]] = {}
    posts = []
    for number, stand in enumerate(stands, 1):
        if stand.role == "line":
            # line posts of a surface share one setback, so one set of hole heights: one story pole
            holes = cached.setdefault(stand.stands_on.index, ()) or _holes(plan, stand)
            cached[stand.stands_on.index] = holes
        else:
            holes = _holes(plan, stand)
        top = _top(plan, stand)
        posts.append(
            PlacedPost(
                f"P{number}",
                stand.role,
                stand.station,
                stand.base,
                plan.job.post.width,
                top.length,
                top.bevels_deg,
                top.turn,
                top.edges,
                stand.stands_on.index,
                stand.step,
                holes,
            )
        )
    return tuple(posts)


def _stands(plan: Plan) -> Iterator[_Stand]:
    for surface in plan.line.surfaces:
        if surface is plan.flight:
            yield from _on_flight(plan, surface)
        else:
            yield from _on_landing(plan, surface)


def _on_flight(plan: Plan, surface: PlacedSurface) -> Iterator[_Stand]:
    run, rise = plan.up.given.run, plan.up.given.rise
    for tread in plan.treads:
        station = plan.up.station((tread - 1) * run + plan.job.post.setback)
        base = plan.up.elevation((tread - 1) * rise)
        yield _Stand("line", station, base, surface, tread, surface, surface)


def _on_landing(plan: Plan, surface: PlacedSurface) -> Iterator[_Stand]:
    first = surface.index < plan.flight.index
    half = plan.job.post.width / 2
    joint = plan.up.station(plan.meeting(surface.index).local(plan.up))
    end = surface.start.s + half if first else surface.end.s - half
    z = surface.start.z
    yield _Stand("end", end, z, surface, None, surface, surface)
    for station in on_landing(min(end, joint), max(end, joint), plan.job.post):
        yield _Stand("line", station, z, surface, None, surface, surface)
    before, after = (surface, plan.flight) if first else (plan.flight, surface)
    yield _Stand("joint", joint, z, surface, None, before, after)


def _top(plan: Plan, stand: _Stand) -> _Top:
    """The post's top, cut to the underside of the rails over it."""
    half = plan.job.post.width / 2
    if stand.role == "joint" and plan.meeting(stand.stands_on.index).jog:
        # the rails end on the post's faces at different heights: it runs up to the higher one's top
        meeting, level = plan.meeting(stand.stands_on.index), plan.job.rail.landing_height
        uphill = 1 if meeting.at == "bottom" else -1
        length = max(level, scalars.hole_face(level - meeting.jog, uphill * half, plan.up.slope))
        return _Top(length, (0.0, 0.0), Fraction(0), (length, length))
    turn = Fraction(0)
    if stand.before is not stand.after:
        # a true mitre leans from the top corner, over the centre line, to where the undersides turn
        mitre = scalars.mitre(scalars.bend(stand.before.pitch_deg, stand.after.pitch_deg, 0))
        turn = plan.up.way * Fraction(scalars.mitre_point(plan.job.rail.depth, mitre))

    def under(offset: Fraction) -> Fraction:
        surface = stand.before if offset <= turn else stand.after
        return surface.datum(stand.station + offset) + plan.undersides[surface.index] - stand.base

    bevels = (stand.before.pitch_deg, stand.after.pitch_deg)
    if abs(turn) >= half:
        # the turn lies beyond a face: the whole top is under one rail
        bevels = (bevels[0],) * 2 if turn > 0 else (bevels[1],) * 2
        turn = half if turn > 0 else -half
    return _Top(
        under(Fraction(0)), bevels, turn if bevels[0] != bevels[1] else Fraction(0), (under(-half), under(half))
    )


def _holes(plan: Plan, stand: _Stand) -> tuple[Hole, ...]:
    """Holes from the top down; a strand that passes whole has one, one that ends has its own."""
    if stand.before is stand.after:
        return tuple(_hole(plan, stand, k, (stand.before,)) for k in range(len(_heights(plan, stand.before))))
    meeting = plan.meeting(stand.stands_on.index)
    whole = whole_count(plan, meeting)
    holes = [_hole(plan, stand, k, (stand.before, stand.after)) for k in range(whole)]
    for surface in (stand.before, stand.after):
        holes += [_hole(plan, stand, k, (surface,)) for k in range(whole, len(_heights(plan, surface)))]
    return tuple(sorted(holes, key=lambda h: -h.height))


def whole_count(plan: Plan, meeting: Meeting) -> int:
    """How many strands, from the rail down, pass whole through a joint post."""
    if plan.through[meeting.landing.index]:
        return 0
    return min(len(plan.fields[i].heights) for i in (plan.flight.index, meeting.landing.index))


def _heights(plan: Plan, surface: PlacedSurface) -> tuple[Fraction, ...]:
    return plan.fields[surface.index].heights


def _hole(plan: Plan, stand: _Stand, k: int, surfaces: tuple[PlacedSurface, ...]) -> Hole:
    surface = surfaces[0]
    height = surface.datum(stand.station) + _heights(plan, surface)[k] - stand.base
    half = plan.job.post.width / 2
    before, after = surfaces[0].slope, surfaces[-1].slope
    faces = scalars.hole_face(height, -half, before), scalars.hole_face(height, half, after)
    low, high = sorted(faces)
    if len(surfaces) == 2:
        low, high = min(low, height, high), max(low, height, high)
    elif stand.role == "joint":
        # it ends at the face it comes to: only that face has a hole
        low = high = faces[0] if surface is stand.before else faces[1]
    steepest = max(before, after, key=abs)
    return Hole(
        k + 1, height, to_mark(height, plan.job.mark), abs(pitch_deg(steepest)), pitch_deg(before), pitch_deg(after),
        low, high, tuple(s.index for s in surfaces),
    )  # fmt: skip
