"""A guard line that comes back to its start: whether it closes, the corner where it does, and ends left in one place.

The corner is a joint of the last surface and the first one, moved on by the line's length to where the last one ends.
All strands end there, since a strand has two ends somewhere.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import cos, hypot, radians, sin
from typing import Final

from stairguard.errors import Fault, JobError
from stairguard.geometry.marks import figure_text
from stairguard.model.guard.placed_posts import PlacedPost
from stairguard.model.guard.surfaces import PlacedSurface, PlanPoint, Point, SurfaceLine
from stairguard.model.job import Job
from stairguard.solve.joint.rail_meeting import HALF_TURN, RailPair

_SAME: Final = 1e-9
"""Less of a post's width is no overlap: both are worked in floats."""


def closing_pair(job: Job, line: SurfaceLine) -> RailPair:
    """The last surface and the first, moved on to where the last one ends.

    Raises
    ------
    JobError
        The line does not come back to its start within half a mark, or closes elsewhere than between two landings.
    """
    first, last = line.surfaces[0], line.surfaces[-1]
    for surface in (first, last):
        if surface.kind != "landing":
            must = "a landing where the line closes (ends.closed): start on one, or in the middle of one cut in two"
            raise JobError(Fault(f"surface[{surface.index + 1}].kind", must, surface.kind))
    _check_closes(job, first, last)
    turn = _between(first.heading_deg - last.heading_deg)
    on = moved(first, last.end.s - first.start.s, last.end.z - first.start.z)
    on = replace(on, given=replace(first.given, turn=turn))
    return RailPair(last, on, (), turn, last.end.s if turn else None)


def _check_closes(job: Job, first: PlacedSurface, last: PlacedSurface) -> None:
    """Refuse a line whose end misses its start by half a mark or more, in plan or plumb."""
    x, y, z = last.plan_end.x, last.plan_end.y, float(last.end.z - first.start.z)
    half = float(job.mark) / 2
    if hypot(x, y) < half and abs(z) < half:
        return
    must = f"left out, or of a line that comes back to its start within half a mark, {figure_text(half)} {job.unit}"
    along, aside, up = (figure_text(round(size, 6) + 0.0) for size in (x, abs(y), z))
    missed = (
        f"{along} along surface 1, {aside} to its {'right' if y < 0 and aside != '0' else 'left'}, {up} up from there"
    )
    raise JobError(Fault("ends.closed", must, missed))


def _between(angle: float) -> float:
    """The same turn, more than a half-turn to the right and no more than one to the left."""
    turn = angle % 360
    turn = turn - 360 if turn > HALF_TURN else turn
    # headings are sums of the job's turns: what is left of rounding is none
    return round(turn, 9)


def moved(surface: PlacedSurface, s: Fraction, z: Fraction) -> PlacedSurface:
    """A surface moved along the line and plumb."""
    start, end, origin = (Point(p.s + s, p.z + z) for p in (surface.start, surface.end, surface.origin))
    nosings = tuple(Point(p.s + s, p.z + z) for p in surface.nosings)
    return replace(surface, start=start, end=end, origin=origin, nosings=nosings)


def once(placed: tuple[PlacedPost, ...], last: PlacedSurface) -> tuple[tuple[PlacedPost, ...], PlacedPost | None]:
    """The posts of a line, each once, and the first one again where the line closes on it, with the strands there.

    ``placed`` has it at both ends where one post closes the line: then the last is the first.
    """
    first, again = placed[0], placed[-1]
    if first.joint is None or first.joint != again.joint:
        return placed, None
    if {h.surfaces for h in first.holes} != {h.surfaces for h in again.holes}:
        return placed, None  # two posts, each with its own leg's strands
    holes = tuple(hole for hole in again.holes if hole.surfaces == (last.index,))
    return placed[:-1], replace(again, label=first.label, holes=holes, close=())


def check_ends_apart(
    job: Job, surfaces: tuple[PlacedSurface, PlacedSurface], stations: tuple[Fraction, Fraction],
    spans: tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction]],
) -> None:  # fmt: skip
    """Refuse a line whose last post stands where its first one does, without the job saying that it closes.

    Parameters
    ----------
    surfaces, stations : of the first post and the last
    spans : lowest and highest elevation of each
    """
    turn = _between(surfaces[0].heading_deg - surfaces[1].heading_deg)
    if abs(turn) == HALF_TURN or min(high for _, high in spans) <= max(low for low, _ in spans):
        return  # at a half-turn the width of the well, which no line tells, lies between them
    (x0, y0), (x1, y1) = (_in_plan(s, at) for s, at in zip(surfaces, stations, strict=True))
    apart, width = (x1 - x0, y1 - y0), float(job.post.width)
    askew = radians(turn)
    # two squares are clear of one another if they are along an axis of either
    reach = width / 2 * (1 + abs(cos(askew)) + abs(sin(askew)))
    for heading in (s.heading_deg + more for s in surfaces for more in (0, 90)):
        along = apart[0] * cos(radians(heading)) + apart[1] * sin(radians(heading))
        if abs(along) > reach - _SAME:
            return
    must = "true where the line closes (its last post stands where its first one does); else it ends clear of its start"
    raise JobError(
        Fault("ends.closed", must, f"two posts {figure_text(hypot(*apart))} {job.unit} apart, centre to centre")
    )


def _in_plan(surface: PlacedSurface, station: Fraction) -> PlanPoint:
    level, heading = float(station - surface.start.s), radians(surface.heading_deg)
    return PlanPoint(surface.plan_start.x + level * cos(heading), surface.plan_start.y + level * sin(heading))
