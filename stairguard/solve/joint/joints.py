"""Joints of two rails: where they meet, and where a post can stand."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from stairguard.errors import Fault, JobError
from stairguard.geometry.marks import figure_text
from stairguard.model.guard.placed_posts import SQUARE
from stairguard.model.guard.surfaces import SurfaceLine
from stairguard.solve.joint.corner_posts import stance
from stairguard.solve.joint.joint_posts import stand
from stairguard.solve.joint.rail_meeting import Meeting, RailPair, Rails
from stairguard.solve.line.closing import closing_pair


def meetings(rails: Rails) -> tuple[Meeting, ...]:
    """Every joint of the line, in order of stations."""
    pairs = _pairs(rails.line)
    found = tuple(_meet(rails, index, pair) for index, pair in enumerate(pairs))
    _check_apart(rails, found)
    if not rails.job.closed:
        return found
    length = rails.line.surfaces[-1].end.s - rails.line.surfaces[0].start.s
    last = replace(_meet(rails, len(pairs), closing_pair(rails.job, rails.line)), circuit=length)
    if not found:
        raise JobError(Fault("ends.closed", "left out of a line of one surface, which does not come back", "true"))
    # as if the closing corner came before the first joint too
    start = replace(last, feet=tuple((station - length, foot) for station, foot in last.feet))
    _check_apart(rails, (start, *found[:1]))
    _check_apart(rails, (*found[-1:], last))
    return (*found, last)


def _pairs(line: SurfaceLine) -> list[RailPair]:
    """Surfaces that carry rails, two and two, with the landings between that carry none."""
    carriers = [s for s in line.surfaces if s.carries]
    pairs = []
    for before, after in pairwise(carriers):
        crossed = line.surfaces[before.index + 1 : after.index]
        turns = [s for s in (*crossed, after) if s.given.turn]
        if len(turns) > 1:
            must = "a turn at one of the joints only, where no level piece of rail lies between them"
            raise JobError(Fault(f"surface[{turns[1].index + 1}].turn", must, figure_text(turns[1].given.turn)))
        turn = turns[0] if turns else None
        pairs.append(
            RailPair(
                before,
                after,
                crossed,
                turn.given.turn if turn else 0.0,
                turn.start.s if turn else None,
            )
        )
    return pairs


def _meet(rails: Rails, index: int, pair: RailPair) -> Meeting:
    before, after = pair.before, pair.after
    boundary = _boundary(pair)
    meets = _crossing(rails, pair, boundary)
    station, feet = stand(rails, pair, boundary, meets)
    stands = stance(rails.job, pair.turn_deg) if len(feet) == 1 else SQUARE
    rises = rails.top(after, station) - rails.top(before, station)
    return Meeting(
        index=index,
        before=before,
        after=after,
        crossed=pair.crossed,
        boundary=boundary,
        turn_deg=pair.turn_deg,
        meets=meets,
        station=station,
        feet=feet,
        stance=stands,
        rises=rises,
        shift=before.datum(station) - after.datum(station),
    )


def _boundary(pair: RailPair) -> Fraction:
    """Station of the turn, of the edge or nosing between the two, or half way over landings that carry no rail."""
    if pair.turn_at is not None:
        return pair.turn_at
    first, last = pair.edges
    if pair.crossed:
        return (first + last) / 2
    return last if pair.after.nosings else first


def _crossing(rails: Rails, pair: RailPair, boundary: Fraction) -> Fraction | None:
    """Station where the tops of two rails cross in the developed elevation; of one line, the boundary."""
    before, after = pair.before, pair.after
    apart = rails.top(after, boundary) - rails.top(before, boundary)
    closing = before.slope - after.slope
    if closing == 0:
        return None if apart else boundary
    return boundary + apart / closing


def _check_apart(rails: Rails, found: tuple[Meeting, ...]) -> None:
    half = rails.job.post.width / 2
    for left, right in pairwise(found):
        if right.feet[0][0] - left.feet[-1][0] < half * (left.stance.reach + right.stance.reach):
            where = f"surface[{left.after.index + 1}].length"
            must = "long enough for the joint posts at both its ends to stand apart"
            raise JobError(Fault(where, must, float(left.after.end.s - left.after.start.s)))
