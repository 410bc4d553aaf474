"""What a guard gives reason to say, besides what is said with every result."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import radians, tan
from typing import Final

from stairguard.geometry.marks import last_digit, mark_above
from stairguard.model.cautions import (
    AcrossNosing,
    Amended,
    Caution,
    CornerPulled,
    Crossed,
    FootAtCorner,
    FootOverhangs,
    HoleOverEdge,
    JogLeft,
    LastRiseAssumed,
    LeaveUsed,
    LowNeighbour,
    MustBear,
    NotRead,
    OptionUnmet,
    PackSays,
    PlainCaution,
    PracticeUnmet,
    RailsLap,
    TooLong,
    UnguardedEnd,
    UnmetFigure,
    Unread,
)
from stairguard.model.guard.placed_posts import PlacedPost
from stairguard.model.guard.rails_and_strands import RailLine
from stairguard.model.guard.solved_layout import Check, Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import MeasuredFlight
from stairguard.model.rules import Rule, RuleSet
from stairguard.relations.printed import scalars
from stairguard.rules.findings.practice import practised
from stairguard.rules.measures.lowered_strands import not_reached

_DIGITS: Final = 5
"""To which a figure is told that a post is to be moved by."""
_UNREAD: Final[tuple[Unread, ...]] = ("from memory", "secondary")


def cautions(layout: Layout, unmet: Sequence[Check], used: Sequence[Rule]) -> tuple[Caution, ...]:
    """All cautions of a layout, in the order in which they are told.

    Parameters
    ----------
    layout
        The solved guard.
    unmet
        Optional rules that it does not meet.
    used
        Binding rules that it was held to, openings included.
    """
    leave = tuple(dict.fromkeys(opening.leave.clause for opening in layout.openings if opening.leave is not None))
    strand = layout.job.strand
    return (
        *of_rules(layout.rules),
        *statuses(used),
        *([PlainCaution.LARGER_SPHERE] if any(rule.place == "step triangle" for rule in used) else []),
        *([LeaveUsed(leave)] if leave else []),
        *_low_ends(layout),
        *not_reached(layout),
        *(JogLeft(joint.post, abs(joint.jog)) for joint in layout.joints if joint.jog),
        *(RailsLap(joint.post, joint.lap, joint.mitred) for joint in layout.joints if joint.lap),
        *_askew(layout),
        *_crossed(layout),
        *_assumed(layout),
        *_overhangs(layout),
        *_across_nosings(layout),
        *(UnguardedEnd(one, layout.line.surfaces[one.surface].kind) for one in layout.unguarded),
        *_too_long(layout),
        *_pulls(layout),
        *_optional(unmet),
        *_practice(layout),
        *([PlainCaution.NO_TAKE_UPS] if strand.terminal_take_up == strand.tensioner_take_up == 0 else []),
    )


def of_rules(rules: RuleSet) -> tuple[Caution, ...]:
    """What is said whatever the guard: what was amended locally, the pack's own cautions, an occupancy it knows not."""
    amended, says = map(Amended, rules.amended), map(PackSays, rules.cautions)
    unspoken = () if rules.unspoken is None else (rules.unspoken,)
    return (*amended, *says, *unspoken, *([] if rules.rules else [PlainCaution.NO_RULES]))


def statuses(used: Sequence[Rule]) -> Iterator[Caution]:
    """Which clauses were not read, and how surely they are known."""
    for status in _UNREAD:
        clauses = tuple(dict.fromkeys(rule.clause for rule in used if rule.status == status))
        if clauses:
            yield NotRead(status, clauses)


def _low_ends(layout: Layout) -> Iterator[Caution]:
    """Places where one surface's rail runs on over its neighbour, lower than the neighbour's rule asks."""
    for surface in layout.line.surfaces:
        if not surface.carries:
            continue  # its rail is its neighbours' and checked as such
        floors = [
            rule for rule in layout.rules.of("guard height", surface.kind) if rule.kind == "at least" and rule.binding
        ]
        for low in _neighbours_over(layout, surface) if floors else ():
            yield from (
                LowNeighbour(surface.index, surface.kind, rule.clause, low, rule.value)
                for rule in floors
                if low < rule.value
            )


def _neighbours_over(layout: Layout, surface: PlacedSurface) -> Iterator[Fraction]:
    """Least heights over a surface of the rails before and after it, so far as they reach it."""
    for step in (-1, 1):
        index = surface.index + step
        while 0 <= index < len(layout.line.surfaces) and not layout.line.surfaces[index].carries:
            index += step
        if 0 <= index < len(layout.line.surfaces):
            low = _lowest_over(layout, layout.rails[index], surface)
            if low is not None:
                yield low


def _lowest_over(layout: Layout, rail: RailLine, surface: PlacedSurface) -> Fraction | None:
    """Least plumb height of a rail over a surface that is not its own; None if it does not reach it."""
    low, high = max(rail.start.s, surface.start.s), min(rail.end.s, surface.end.s)
    if low >= high:
        return None
    own = layout.line.surfaces[rail.surface]
    return min(own.datum(s) + rail.height - surface.datum(s) for s in (low, high))


def _askew(layout: Layout) -> Iterator[Caution]:
    """Corner posts that stand so askew that a hole comes out over the edge of its face."""
    bore = layout.job.strand.diameter
    if layout.job.post.sleeves:
        bore = layout.job.post.sleeve_diameter or 2 * bore
    for post in layout.posts:
        askew = abs(post.stance.askews_deg[0])
        if float(post.width) * (1 - tan(radians(askew))) < scalars.strand_ellipse(float(bore), askew):
            yield HoleOverEdge(post.label)


def _crossed(layout: Layout) -> Iterator[Caution]:
    """Landings over which the rail goes on at a slope."""
    for surface in layout.line.surfaces:
        if not surface.carries:
            yield Crossed(surface.index, layout.rails[surface.index].height)


def _assumed(layout: Layout) -> Iterator[Caution]:
    for surface in layout.line.surfaces:
        given = surface.given
        if isinstance(given, MeasuredFlight) and given.down and given.last_rise is None:
            yield LastRiseAssumed(surface.index)


def _too_long(layout: Layout) -> Iterator[Caution]:
    """Pieces that no stock is long enough for."""
    for what, plan in layout.stock:
        if plan.too_long:
            yield TooLong(what, tuple(piece.label for piece in plan.too_long))


def _overhangs(layout: Layout) -> Iterator[Caution]:
    """Posts whose foot does not stand wholly on its tread or surface."""
    if layout.job.post.mount != "surface":
        return
    corners = [post.label for post in layout.posts if layout.past_edge_of_turn(post)]
    yield from map(FootAtCorner, corners)
    for post in layout.posts:
        if post.support == "post" and post.clear is not None and post.clear < 0 and post.label not in corners:
            # rounded up: moved by it, the post stands clear
            yield FootOverhangs(post.label, mark_above(-post.clear, last_digit(float(post.clear), _DIGITS)))


def _across_nosings(layout: Layout) -> Iterator[Caution]:
    """Posts out from the stair's side that cover a nosing: they stand beside two treads."""
    for post in layout.posts if layout.job.post.out else ():
        near = {post.stands_on, *(index for hole in post.holes for index in hole.surfaces)}
        lower = [low for index in near for low in _under_covered(layout.line.surfaces[index], post)]
        if lower and post.support == "post":
            yield AcrossNosing(post.label, min(lower) - post.base)


def _under_covered(surface: PlacedSurface, post: PlacedPost) -> Iterator[Fraction]:
    """Elevations under the nosings that a post covers, each of the tread or floor before it."""
    nosings = sorted(surface.nosings, key=lambda nosing: nosing.z)
    floor = min(surface.start.z, surface.end.z)
    for low, nosing in zip((floor, *(one.z for one in nosings)), nosings, strict=False):
        if abs(nosing.s - post.station) < post.half:
            yield low


def _pulls(layout: Layout) -> Iterator[Caution]:
    """What the strands' pull asks of walls, newels and corners."""
    supports = tuple(dict.fromkeys(post.support for post in layout.posts if post.support != "post"))
    if supports:
        yield MustBear(supports)
    for joint in layout.joints:
        if joint.turn_deg:
            yield CornerPulled(tuple(label for label in (joint.post, joint.second_post) if label))


def _optional(unmet: Sequence[Check]) -> Iterator[Caution]:
    """Optional rules that are not met, each clause once."""
    clauses: dict[str, list[UnmetFigure]] = {}
    for check in unmet:
        figure = UnmetFigure(check.what, check.value, check.kind, check.limit, check.unit)
        clauses.setdefault(check.clause, []).append(figure)
    yield from (OptionUnmet(clause, tuple(figures)) for clause, figures in clauses.items())


def _practice(layout: Layout) -> Iterator[Caution]:
    for one in practised(layout):
        if one.verdict != "pass" and one.value is not None and one.limit is not None:
            yield PracticeUnmet(UnmetFigure(one.what, one.value, one.kind, one.limit, one.unit), one.why)
