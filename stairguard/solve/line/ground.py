"""Strands that run on past the lowest nosing of a flight: they must come to their post before they meet the ground.

One that ends at the post must do so on its centre line: its hole is drilled through there, and has to be in the post.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import NamedTuple

from stairguard.errors import Fault, JobError
from stairguard.geometry.marks import figure_text, mark_above, mark_below, plain_text
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Job, Landing, Ramp
from stairguard.solve.plan import Plan


class _Met(NamedTuple):
    """The flight whose lowest strand meets the ground before its post, whose face is ``out`` from nosing 1.

    It would not with the face less than ``near`` from there.
    """

    flight: int
    out: Fraction
    near: Fraction


def check_ground(decided: Plan, decide: Callable[[Job], Plan]) -> None:
    """Refuse a flight whose lowest strand, run on past nosing 1, comes to the ground before its post.

    Parameters
    ----------
    decided : the line
    decide : decides another one, its ground not looked at, to find what to set

    Raises
    ------
    JobError
        By the key to change, with what to set it to.
    """
    met = _met(decided)
    if met is None:
        return
    up, lines = decided.ups[met.flight], decided.line.surfaces
    below = lines[met.flight - up.way]
    near = plain_text(mark_below(met.near, decided.job.mark, less=True))
    must = f"such that the post's face is at most {near} from nosing 1: further, strands meet the ground"
    if _shift(decided, met) > 0:  # the corner's place follows the edge and the offset
        key, more = "post.offset", _closer(decided, met)
    elif below.carries:  # the post between the two is placed from the start of the later one
        later = lines[max(met.flight, below.index)]
        key, more = f"surface[{later.index + 1}].start_post", _nearer(decided, met, later)
    else:
        key, more = f"surface[{below.index + 1}].length", _shorter(decided, below, decide)
    raise JobError(Fault(key, f"{must} ({more})", figure_text(met.out)))


def _met(decided: Plan) -> _Met | None:
    """The first flight whose lowest strand meets the ground."""
    for index, profile in decided.profiles.items():
        up, strands = decided.ups[index], len(decided.fields[index].heights)
        low = decided.job.post.drop if decided.job.post.out else 0  # beside the ground strands go on down past it
        out = profile.x(1) - profile.low_face
        stop = decided.stops[index][:: up.way][0]
        ends = stop.joint is not None and decided.whole(stop.joint) < strands
        inside = stop.half if ends else Fraction(0)
        if out + inside <= 0:
            continue
        near = (profile.line + decided.fields[index].heights[-1] - profile.z(0) + low) / (
            up.slope - profile.low_slope
        ) - inside
        if near <= out:
            return _Met(index, out, near)
    return None


def _nearer(decided: Plan, met: _Met, later: PlacedSurface) -> str:
    """What to type so that the post's face is nearer than where the strand meets the ground: a mark past it."""
    up, job = decided.ups[met.flight], decided.job
    typed = up.station(up.x(1) - met.near - job.post.width / 2) - later.edge_start.s
    if up.way > 0:
        return f"start_post {plain_text(mark_above(typed, job.mark, more=True))} or more"
    return f"start_post {plain_text(mark_below(typed, job.mark, less=True))} or less"


def _shift(decided: Plan, met: _Met) -> Fraction:
    """How far past a flight's foot its guard's corner lies, on the outer hand of a turn."""
    flight = decided.line.surfaces[met.flight]
    return flight.ahead if decided.ups[met.flight].way > 0 else flight.past


def _closer(decided: Plan, met: _Met) -> str:
    """How far out the guard may stand for its corner to be nearer: a lowest strand closer in may be higher too."""
    job, by = decided.job, _shift(decided, met)
    most = mark_below(job.post.out * (met.near + by - met.out) / by, job.mark, less=True)
    deeper = "a larger post.drop"
    return f"offset {plain_text(most)} or less, or {deeper}" if most > 0 else deeper


def _shorter(decided: Plan, crossed: PlacedSurface, decide: Callable[[Job], Plan]) -> str:
    """How long a crossed landing may be: where its rails meet, and what strands are below them, follows its length."""
    job = decided.job
    given = crossed.given
    assert isinstance(given, (Landing, Ramp))  # what carries no rail is no flight

    def clear(marks: int) -> bool | None:
        """Whether strands stay clear of the ground over a landing so long; None where no such guard can be made."""
        surfaces = list(job.surfaces)
        surfaces[crossed.index] = replace(given, length=marks * job.mark)
        try:
            return _met(decide(replace(job, surfaces=tuple(surfaces)))) is None
        except JobError:
            return None

    low, high = 0, int(given.length / job.mark) + 1
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if clear(middle) is False else (middle, high)
    level = "level_piece = true"
    return f"length {plain_text(low * job.mark)} or less; or {level}" if low and clear(low) else level
