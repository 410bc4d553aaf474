"""Where joint posts stand: as near the meeting of the rails as there is room, or at the corner of a turn."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import cos, radians, sin
from typing import Final, TypeAlias

from stairguard.errors import Fault, JobError
from stairguard.geometry.marks import figure_text, mark_above, mark_below, plain_text
from stairguard.model.guard.surfaces import PlacedSurface, SurfaceLine
from stairguard.model.job import Job
from stairguard.solve.joint.corner_posts import least_offset, stance
from stairguard.solve.joint.rail_meeting import RailPair, Rails
from stairguard.solve.line.footing import Footing, footing
from stairguard.solve.line.surface_line import uphill

MOST_FOR_TWO: Final = 150
"""Degrees: a turn of more folds the line back nearly on itself and leaves no room for a second post."""

_Feet: TypeAlias = tuple[tuple[Fraction, Footing], ...]


def stand(rails: Rails, pair: RailPair, boundary: Fraction, meets: Fraction | None) -> tuple[Fraction, _Feet]:
    """Where the rails are joined, and the post or posts there."""
    if pair.turn_at is not None and _two_posts(rails.job, pair.turn_deg):
        return boundary, _corner_posts(rails, pair, boundary)
    station, foot = _one_post(rails, pair, boundary, meets)
    return station, ((station, foot),)


def _two_posts(job: Job, turn: float) -> bool:
    """Whether two posts make a turn."""
    return job.post.corner == "two" and abs(turn) <= MOST_FOR_TWO


def _corner_posts(rails: Rails, pair: RailPair, corner: Fraction) -> _Feet:
    """Two posts of a turn, each on its own leg, clear of one another and on level or sloping ground."""
    job, offset = rails.job, rails.job.post.corner_offset
    surfaces = (pair.before, *pair.crossed, pair.after)
    turned = next(s.index for s in (*pair.crossed, pair.after) if s.given.turn) + 1
    least = least_offset(job.post.width, pair.turn_deg)
    if offset < least:
        told = plain_text(mark_above(least, job.mark))
        must = f"at least {told}, so that the two posts of surface[{turned}].turn stand apart"
        raise JobError(Fault("post.corner_offset", must, float(offset)))
    feet = []
    for side, edge in ((-1, pair.before), (1, pair.after)):
        station = corner + side * offset
        room = edge.start.s < station < edge.end.s or any(s.start.s < station < s.end.s for s in pair.crossed)
        foot = footing(job, rails.line, surfaces, station) if room else None
        if foot is None or foot.step is not None:
            leg = f"{plain_text(mark_above(offset + job.post.width / 2, job.mark))} {job.unit}"
            must = (
                f"such that both posts of surface[{turned}].turn stand on a landing or ramp: {leg} of it on each side "
                'of the corner (level_piece = false where the rails run on over it); or post.corner = "one"'
            )
            raise JobError(Fault("post.corner_offset", must, float(offset)))
        feet.append((station, foot))
    return tuple(feet)


def _between(rails: Rails, pair: RailPair) -> str:
    """Where a joint's post may be put, from the start of the later surface: on no flight if the other is none."""
    mark, zero = rails.job.mark, pair.after.edge_start.s
    flights = [s.kind == "flight" for s in (pair.before, pair.after)]
    least = mark_above(pair.before.start.s - zero, mark, more=True)
    most = mark_below(pair.after.end.s - zero, mark, less=True)
    if flights == [True, False]:
        least = mark_above(pair.before.end.s - zero, mark)
    if flights == [False, True]:
        most = mark_below(Fraction(0), mark)
    return f"from {plain_text(least)} to {plain_text(most)}"


def _one_post(rails: Rails, pair: RailPair, boundary: Fraction, meets: Fraction | None) -> tuple[Fraction, Footing]:
    """Where the joint's post stands, and on what."""
    job, forced = rails.job, pair.after.given.start_post
    if pair.turn_at is not None:
        if forced:
            must = "left out: the post of a plan turn stands at the corner"
            raise JobError(Fault(f"surface[{pair.after.index + 1}].start_post", must, float(forced)))
        return boundary, _corner_foot(rails, pair, boundary)
    if forced is not None:
        station = pair.after.edge_start.s + forced
        zero = pair.after.edge_start.s
        first, last = pair.before.start.s - zero, pair.after.end.s - zero
        if not first < forced < last:
            must = f"{_between(rails, pair)}, on the surfaces it joins"
            raise JobError(Fault(f"surface[{pair.after.index + 1}].start_post", must, float(forced)))
        foot = footing(job, rails.line, (pair.before, *pair.crossed, pair.after), station)
        if foot.surface.kind == "flight" and {pair.before.kind, pair.after.kind} != {"flight"}:
            must = f"{_between(rails, pair)}, on the landing or ramp: strands over it would run into the steps"
            raise JobError(Fault(f"surface[{pair.after.index + 1}].start_post", must, float(forced)))
        return station, foot
    if pair.before.kind == pair.after.kind == "flight" and not pair.crossed:
        station, surface = _between_flights(rails, pair, boundary)
        return station, footing(job, rails.line, (surface,), station)
    low, high = room(job, pair, rails.line)
    wanted = boundary if meets is None else meets
    station = min(max(wanted, low), high)
    return station, footing(job, rails.line, (pair.before, *pair.crossed, pair.after), station)


def _corner_foot(rails: Rails, pair: RailPair, station: Fraction) -> Footing:
    """What a corner post stands on: the level or sloping surface at the turn.

    Nearer to a flight than half its width it stands partly beyond that surface's edge. Over the step below it is
    notched over the edge and its foot comes down to that tread, or strands that come up there would meet it below its
    foot; what climbs from there is let into it.
    """
    job, line = rails.job, rails.line
    plain = [s for s in (pair.before, *pair.crossed, pair.after) if s.kind != "flight"]
    feet = [footing(job, line, (s,), station) for s in plain if s.start.s <= station <= s.end.s]
    if not feet:
        feet = [_between_edges(job, line, pair)]
    foot = min(feet, key=lambda f: (f.base, f.surface.index))
    # on a shared edge what is near on either side counts; a post that stands askew comes nearest with a corner
    askew = radians(abs(stance(job, pair.turn_deg).askews_deg[0]))
    reach = job.post.width / 2 * Fraction(cos(askew) + sin(askew))
    near = [f.clear + job.post.width / 2 - reach for f in feet if f.clear is not None and f.base == foot.base]
    base = foot.base
    if job.post.mount == "surface":
        edges = (pair.before, pair.before.end.s), (pair.after, pair.after.start.s)
        steps = [
            footing(job, line, (flight,), edge).base
            for flight, edge in edges
            if flight.kind == "flight" and abs(station - edge) < reach
        ]
        base = min((base, *steps))
    stands = replace(foot, base=base, clear=min(near) if near else None)
    # on the inner hand of a turn the guard's corner lies beside the steps, past the edge where they begin
    beside = [footing(job, line, (s,), station) for s in (pair.before, pair.after) if _within(s, station)]
    return min((stands, *beside), key=lambda f: f.base)


def _within(flight: PlacedSurface, station: Fraction) -> bool:
    """Whether a station lies along a flight, past the edge where it begins or ends."""
    return flight.kind == "flight" and flight.edge_start.s < station < flight.edge_end.s


def _between_edges(job: Job, line: SurfaceLine, pair: RailPair) -> Footing:
    """The corner of the landing between two flights that both start there: nothing of it lies along the line."""
    lower = min(
        (footing(job, line, (flight,), edge).base, flight.index, flight)
        for flight, edge in ((pair.before, pair.before.end.s), (pair.after, pair.after.start.s))
    )[2]
    return Footing(lower, pair.before.end.z, None, -job.post.width / 2)


def _between_flights(rails: Rails, pair: RailPair, boundary: Fraction) -> tuple[Fraction, PlacedSurface]:
    """A post between two flights stands against their common riser, on the lower tread of the two."""
    half = rails.job.post.width / 2
    places = [(boundary - half, pair.before), (boundary + half, pair.after)]
    bases = [footing(rails.job, rails.line, (surface,), station).base for station, surface in places]
    if bases[0] != bases[1]:
        return places[0] if bases[0] < bases[1] else places[1]
    outward = _outward(rails.line, pair.before.index, -1), _outward(rails.line, pair.after.index, 1)
    return places[0] if outward[0] <= outward[1] else places[1]


def _outward(line: SurfaceLine, index: int, way: int) -> list[tuple[Fraction, Fraction]]:
    """Surfaces from a joint outward, by level and plumb size: tells its two sides apart, listed either way."""
    stop = len(line.surfaces) if way > 0 else -1
    return [
        (line.surfaces[i].end.s - line.surfaces[i].start.s, way * (line.surfaces[i].end.z - line.surfaces[i].start.z))
        for i in range(index, stop, way)
    ]


def room(job: Job, pair: RailPair, line: SurfaceLine) -> tuple[Fraction, Fraction]:
    """Least and greatest station of a joint post's centre: wholly on its surface, clear of nosing and of other posts.

    At the bottom of a flight it also stands no farther out than one run, where the nosing line meets the landing:
    beyond that the strands would run into it. Where no flight is at the joint it stands at the edge itself.
    """
    half = job.post.width / 2
    before, after = pair.edges
    if pair.crossed:
        low, high = before + half, after - half
        if low > high:
            where = f"surface[{pair.crossed[0].index + 1}].length"
            told = plain_text(mark_above(job.post.width, job.mark))
            must = f"at least {told} {job.unit}, room for the post where the rails meet"
            raise JobError(Fault(where, must, float(after - before)))
        return low, high
    if pair.before.kind == "flight":
        return before + half, before + _reach(job, pair.before, pair.after, line)
    if pair.after.kind == "flight":
        return after - _reach(job, pair.after, pair.before, line), after - half
    return before - half, after + half


def _reach(job: Job, flight: PlacedSurface, beside: PlacedSurface, line: SurfaceLine) -> Fraction:
    """Farthest from the flight's nosing that a joint post may stand on the landing or ramp beside it."""
    half, width = job.post.width / 2, job.post.width
    length = beside.end.s - beside.start.s
    outer = 2 * beside.index - flight.index
    if not 0 <= outer < len(line.surfaces):
        free = length - half - 2 * width
        needed = 3 * width
    elif line.surfaces[outer].kind == "flight":
        # each of the two joints on it keeps to its half, and a width stays clear between their posts
        free = length / 2 - width
        needed = 3 * width
    else:
        free = length - 2 * width
        needed = 5 * width / 2
    if free < half:
        must = f"at least {plain_text(mark_above(needed, job.mark))} {job.unit}, room for two posts and as much between"
        if outer in range(len(line.surfaces)) and beside.kind == "landing":
            must += "; or level_piece = false, where the rails of both sides meet over it"
        short = beside.edge_end.s - beside.edge_start.s - length
        if short:
            than = "shorter" if short > 0 else "longer"
            must += (
                f"; along the guard, which is {figure_text(abs(short))} {job.unit} {than} than the edge (post.offset)"
            )
        raise JobError(Fault(f"surface[{beside.index + 1}].length", must, float(length)))
    up = uphill(flight)
    at_top = (flight.index < beside.index) == (up.way > 0)
    return free if at_top else max(min(up.first_rise / up.slope, free), half)
