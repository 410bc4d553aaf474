"""Ways to hold the push that a job asks for: more tension, strands nearer or lower, and both, to be put to the test."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from stairguard.errors import StairguardError
from stairguard.model.fixes import Change, Fix, TapeMark
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.strand_deflection import OpeningGive
from stairguard.rules.fixes.carry_out import carried_out
from stairguard.rules.fixes.job_ways import JobWays
from stairguard.rules.fixes.surface_ways import down, up
from stairguard.rules.measures.lowered_strands import at_floor

_DIGITS: Final = 3  # of a tension to set: no gauge reads closer
_MOVES: Final = 3  # so many movements are tried, alone and then with the tension that they still take


def push_ways(layout: Layout) -> Iterator[Fix]:
    """More tension, where that holds; else strands moved, no farther than they can be; else both."""
    weak = _weak(layout)
    yield from _held(layout)
    moves = [move for move, _ in zip(_moves(layout, weak), range(_MOVES), strict=False)]
    yield from moves
    for move in moves:
        yield from _with_tension(layout, move)


def tensions(layout: Layout, least: Fraction) -> Iterator[Fix]:
    """The tension asked for, to as many digits as it can be set to, never less."""
    now = layout.job.strand.tension
    unit = "lbf" if layout.job.unit == "in" else "N"
    step = Fraction(10) ** max(math.floor(math.log10(least)) + 1 - _DIGITS, -2)
    for more in (0, 1):
        tension = up(least, step) + more * step
        yield Fix((Change("strand", "tension", tension, None if now is None else tension - now, TapeMark(unit, step)),))


def _weak(layout: Layout) -> list[OpeningGive]:
    give = layout.give
    return [] if give is None else [one for one in give.openings if one.verdict in ("between", "gives way")]


def _held(layout: Layout) -> Iterator[Fix]:
    """The tension at which every opening holds; none where one does not short of breaking."""
    needed = [None if one.holding is None else one.holding.needed.free for one in _weak(layout)]
    if needed and None not in needed:
        yield from tensions(layout, Fraction(max(x for x in needed if x is not None)))


def _moves(layout: Layout, weak: Sequence[OpeningGive]) -> Iterator[Fix]:
    """The lowest strands of flights lower where only openings under them give way; else strands nearer, or both."""
    under = [one.nearer for one in weak if one.nearer is not None and _is_under(layout, one)]
    others = [one.nearer for one in weak if one.nearer is not None and not _is_under(layout, one)]
    lower = list(_lowered(layout, Fraction(max(under)))) if under else []
    if not others:
        yield from lower
        return
    for fix in JobWays(layout).nearer(-2 * Fraction(max(others))):
        yield fix
        yield from (Fix((*fix.steps, *low.steps)) for low in lower)


def _is_under(layout: Layout, one: OpeningGive) -> bool:
    """Whether an opening is under the lowest strand, that its spacing does not size."""
    strands = len(layout.fields[layout.openings[one.opening].surface].heights)
    return one.numbers == (strands,) and strands > 1


def _lowered(layout: Layout, by: Fraction) -> Iterator[Fix]:
    strand, mark = layout.job.strand, layout.job.mark
    most = down(_room(layout), mark)
    for lower in dict.fromkeys(min(up(times * by, mark), most) for times in (1, 2)):
        if lower > 0:
            yield Fix((Change("strand", "lower", strand.lower + lower, lower, TapeMark(layout.job.unit, mark)),))


def _room(layout: Layout) -> float:
    """How far the lowest strand of some flight can still go, square: it stops where its hole would meet the nosings."""
    flights = (s for s in layout.line.surfaces if s.kind == "flight" and layout.fields[s.index].heights)
    room = (at_floor(layout.job, layout.fields[s.index].heights[-1], s.slope) for s in flights)
    return max(room, default=0.0)


def _with_tension(layout: Layout, move: Fix) -> Iterator[Fix]:
    """A movement with the tension that the guard still takes once it is made."""
    from stairguard.solve.lay_out import lay_out

    try:
        moved = lay_out(carried_out(layout.job, move), layout.pack or layout.rules)
    except StairguardError:  # no such guard: nothing to tell
        return
    yield from (Fix((*move.steps, *more.steps)) for more in _held(moved))
