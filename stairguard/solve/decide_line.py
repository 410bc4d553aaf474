"""Deciding a guard line: rails, joints, where posts stand that bound strands, line posts, and the strands."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import partial
from typing import TYPE_CHECKING

from stairguard.errors import Fault, JobError
from stairguard.geometry.marks import mark_below, plain_text
from stairguard.geometry.slope import secant
from stairguard.model.guard.opening_kinds import Walked
from stairguard.model.guard.passages import Bar, Bend
from stairguard.model.guard.rails_and_strands import Field
from stairguard.model.guard.surfaces import PlacedSurface, SurfaceLine
from stairguard.model.job import Ending, Flight, Job, MeasuredFlight, Strand
from stairguard.model.rules import RuleSet
from stairguard.relations.printed.by_slope import rail_plumb_depth
from stairguard.solve.joint.chords import chord
from stairguard.solve.joint.joints import meetings
from stairguard.solve.joint.rail_ends import Joined, joined
from stairguard.solve.joint.rail_meeting import Meeting, Rails
from stairguard.solve.line.closing import check_ends_apart
from stairguard.solve.line.footing import below, footing, outside, tread_at
from stairguard.solve.line.ground import check_ground
from stairguard.solve.line.heights import rail_heights
from stairguard.solve.line.line_posts import on_treads
from stairguard.solve.line.surface_line import Uphill, place, uphill
from stairguard.solve.plan import Plan, Stop
from stairguard.solve.sphere.step_profile import Profile
from stairguard.solve.strand.fields import JointEffect, Terrain, strand_fields

if TYPE_CHECKING:
    from stairguard.solve.sphere.corner_way import EdgeCorner


def restrung(decided: Plan, strand: Strand) -> Plan:
    """The same guard with other strands at the joints: rails and posts stay."""
    job = replace(decided.job, strand=strand)
    fields, barred = _strung(job, decided.terrain, decided.carriers, decided.meetings, decided.joined)
    return replace(decided, job=job, fields=fields, barred=barred)


def plan(job: Job, rules: RuleSet) -> Plan:
    """Decide rails, joints, posts and strands of a guard line."""
    decided = _decided(job, rules)
    check_ground(decided, partial(_decided, rules=rules))
    return decided


def _decided(job: Job, rules: RuleSet) -> Plan:
    """The same, with no look at whether strands meet the ground."""
    line = place(job.surfaces, job.post.aside, closed=job.closed)
    carriers = tuple(s for s in line.surfaces if s.carries)
    rails = rail_heights(job, line)
    found = meetings(rails)
    secs = tuple(secant(s.slope) for s in line.surfaces)
    undersides = tuple(h - rail_plumb_depth(job.rail.depth, sec) for h, sec in zip(rails.heights, secs, strict=True))
    ups = {s.index: uphill(s) for s in carriers if s.kind == "flight"}
    stops = _stops(job, line, carriers, found)
    if not job.closed and job.start == job.end == "post":
        _check_ends(rails, carriers, stops)
    profiles: dict[int, Profile] = {}
    seen: dict[tuple[object, ...], tuple[int, ...]] = {}
    for surface in carriers:
        if surface.kind == "flight":
            up, bounds = ups[surface.index], stops[surface.index]
            posts = _line_posts(job, line, up, secs[surface.index], surface, bounds, seen)
            profiles[surface.index] = _profile(job, line, up, surface, bounds, posts)
    terrain = Terrain(job, rules, undersides, secs, profiles, _level_corners(job, found))
    joins = tuple(joined(rails, m, chord(m, job.post.width) if m.two else None) for m in found)
    fields, barred = _strung(job, terrain, carriers, found, joins)
    return Plan(
        job=job,
        rules=rules,
        line=line,
        rails=rails,
        carriers=carriers,
        meetings=found,
        joined=joins,
        secs=secs,
        undersides=undersides,
        ups=ups,
        stops=stops,
        profiles=profiles,
        fields=fields,
        barred=barred,
        terrain=terrain,
    )


def _level_corners(job: Job, found: Sequence[Meeting]) -> Mapping[int, Sequence[EdgeCorner]]:
    if not job.post.handed:
        return {}
    from stairguard.solve.gaps.corner_ways import level_corners  # only where strands may stand out from the stair

    return level_corners(job, found)


def _strung(
    job: Job, terrain: Terrain, carriers: Sequence[PlacedSurface], found: Sequence[Meeting], joined: Sequence[Joined]
) -> tuple[dict[int, Field], tuple[Bar | None, ...]]:
    """Strands by surface index, and of each joint why they end there, None where they pass."""
    ways = [JointEffect(m.shift, j.chord, _barred(job, m, j)) for m, j in zip(found, joined, strict=True)]
    return strand_fields(terrain, carriers, ways)


def _barred(job: Job, meeting: Meeting, joined: Joined) -> Bar | None:
    """Why no strand may pass a joint, before it is known whether the strands of both sides could be one comb."""
    if meeting.circuit:
        return "line closes"
    if job.strand.at_joints == "break":
        return "asked"
    bend = joined.bend_deg if joined.chord is None else max(joined.chord.bends_deg)
    return Bend(bend, job.strand.largest_bend) if bend > job.strand.largest_bend else None


def _stops(
    job: Job, line: SurfaceLine, carriers: tuple[PlacedSurface, ...], found: Sequence[Meeting]
) -> dict[int, tuple[Stop, Stop]]:
    half = job.post.width / 2
    posts = [[Stop(station, half * m.stance.reach, m.index, "post", foot) for station, foot in m.feet] for m in found]
    if job.closed:
        closing = posts.pop()
        start, end = replace(closing[-1], station=closing[-1].station - found[-1].circuit), closing[0]
    else:
        start, end = (
            _end_stop(job, line, carriers[i], inward, support)
            for i, inward, support in ((0, 1, job.start), (-1, -1, job.end))
        )
    firsts, lasts = [start, *(p[-1] for p in posts)], [*(p[0] for p in posts), end]
    stops = {}
    for surface, first, last in zip(carriers, firsts, lasts, strict=True):
        if last.station - first.station <= first.half + last.half:
            where = f"surface[{surface.index + 1}].{'risers' if surface.kind == 'flight' else 'length'}"
            must = "room between the two posts that bound its strands"
            raise JobError(Fault(where, must, f"{float(last.station - first.station):g} between their centres"))
        stops[surface.index] = (first, last)
    return stops


def _check_ends(rails: Rails, carriers: tuple[PlacedSurface, ...], stops: dict[int, tuple[Stop, Stop]]) -> None:
    """Refuse a line whose last post stands in its first one's place."""
    first, last = carriers[0], carriers[-1]
    ends = stops[first.index][0], stops[last.index][1]
    spans = [(end.foot.base, rails.top(s, end.station)) for s, end in zip((first, last), ends, strict=True)]
    check_ends_apart(rails.job, (first, last), (ends[0].station, ends[1].station), (spans[0], spans[1]))


def _end_stop(job: Job, line: SurfaceLine, surface: PlacedSurface, inward: int, support: Ending) -> Stop:
    """The end of the line: on a post wholly on its surface (on a flight its outermost tread), or at a wall or newel."""
    edge = surface.start.s if inward > 0 else surface.end.s
    if support != "post":
        foot = outside(surface, inward) if surface.kind == "flight" else footing(job, line, (surface,), edge)
        foot = replace(foot, clear=None)  # nothing of it is ours to keep clear of an edge
        return Stop(edge, Fraction(0), None, support, foot)
    half = job.post.width / 2
    station = edge + inward * half
    if surface.kind == "flight":
        up = uphill(surface)
        tread = 1 if inward == up.way else up.count - 1
        station = up.station(up.x(tread) + job.post.setback)
    if inward > 0 and surface.given.start_post is not None:
        station = surface.edge_start.s + surface.given.start_post
        if not surface.start.s <= station < surface.end.s:
            most = mark_below(surface.end.s - surface.start.s, job.mark, less=True)
            must = f"from 0 to {plain_text(most)}, on the surface"
            raise JobError(Fault(f"surface[{surface.index + 1}].start_post", must, float(surface.given.start_post)))
    return Stop(station, half, None, support, footing(job, line, (surface,), station))


def _line_posts(
    job: Job, line: SurfaceLine, up: Uphill, sec: Fraction, surface: PlacedSurface, bounds: tuple[Stop, Stop],
    seen: dict[tuple[object, ...], tuple[int, ...]],
) -> tuple[tuple[int, Fraction], ...]:  # fmt: skip
    """Tread and uphill centre of each line post of a flight: as forced, else fewest that keep every gap; alike once."""
    if surface.given.posts is not None:
        places = sorted(up.local(surface.edge_start.s + at) for at in surface.given.posts)
        return tuple((tread_at(up, x), x) for x in places)
    half, (first, last) = job.post.width / 2, bounds[:: up.way]
    low, high = up.local(first.station) + first.half - half, up.local(last.station) - last.half + half
    free = 1, up.count - 1
    while free[0] <= free[1] and up.x(free[0]) + job.post.setback - half <= low + half:
        free = free[0] + 1, free[1]
    while free[0] <= free[1] and up.x(free[1]) + job.post.setback + half >= high - half:
        free = free[0], free[1] - 1
    run = up.given.run if isinstance(up.given, Flight) else None
    key = (low, high, free, up.xs, up.count, sec, run)
    if key not in seen:
        try:
            seen[key] = on_treads(up, low, high, sec, job.post, free, job.mark)
        except JobError as error:
            raise _with_crossing(error, line, surface) from None
    return tuple((i, up.x(i) + job.post.setback) for i in seen[key])


def _with_crossing(error: JobError, line: SurfaceLine, surface: PlacedSurface) -> JobError:
    """Say of a gap that a crossed landing may be what makes it too wide: no line post stands on one."""
    beside = [s for s in line.surfaces if abs(s.index - surface.index) == 1 and not s.carries]
    if not beside:
        return error
    fault, number = error.faults[0], beside[0].index + 1
    more = f"; or surface[{number}] shorter, or with a level piece: no line post stands on a landing without"
    return JobError(Fault(fault.where, fault.must + more, fault.got))


def _profile(
    job: Job, line: SurfaceLine, up: Uphill, surface: PlacedSurface, bounds: tuple[Stop, Stop],
    posts: tuple[tuple[int, Fraction], ...],
) -> Profile:  # fmt: skip
    given = up.given
    first, last = bounds[:: up.way]
    low, high = up.local(first.station) + first.half, up.local(last.station) - last.half
    if isinstance(given, MeasuredFlight):
        run = (up.xs[-1] - up.xs[0]) / (up.count - 1)
        rise = run * up.slope
    else:
        run, rise = given.run, given.rise
    low_floor, low_slope = _beside(line, up, surface, -up.way)
    high_floor, high_slope = _beside(line, up, surface, up.way)
    return Profile(
        rise=rise,
        run=run,
        nosing=given.nosing,
        tread=given.tread,
        open_risers=given.open_risers,
        risers=up.count,
        low_face=low,
        high_face=high,
        posts=posts,
        post_width=job.post.width,
        xs=up.xs,
        zs=up.zs,
        line=up.line,
        first_rise=up.first_rise,
        low_slope=low_slope,
        high_slope=high_slope,
        low_floor=low_floor,
        high_floor=high_floor,
        high_foot=_foot(job, up, last, high),
        drop=below(job, "post"),
        offset=job.post.out,
    )


def _foot(job: Job, up: Uphill, stop: Stop, face: Fraction) -> Fraction:
    """Local elevation of where a support ends below, at the face it turns to the strands: on sloping ground, there."""
    surface, base = stop.foot.surface, stop.foot.base
    if surface.kind != "flight" and base == surface.ground(stop.station):
        base = surface.ground(up.station(face))
    return base - up.nosing_1.z - below(job, stop.support)


def _beside(line: SurfaceLine, up: Uphill, surface: PlacedSurface, step: int) -> tuple[Walked, Fraction]:
    """What lies beyond an end of a flight, and its slope, uphill positive."""
    index = surface.index + step
    if not 0 <= index < len(line.surfaces) or line.surfaces[index].kind == "flight":
        return "landing", Fraction(0)
    other = line.surfaces[index]
    return ("ramp" if other.kind == "ramp" else "landing"), up.way * other.slope
