"""Corners: how one post stands at a turn; of two, how strands run straight from one to the other, a chord across it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from math import cos, hypot, radians, remainder, sin, tan
from typing import TYPE_CHECKING, Final, TypeAlias

from stairguard.geometry.clearance.outline import Outline, Vec
from stairguard.geometry.exact.surd import Surd, sqrt
from stairguard.geometry.marks import to_mark
from stairguard.geometry.slope import pitch_deg, secant
from stairguard.model.guard.solved import Chord, Gap, Hole, Opening, PlacedPost
from stairguard.model.guard.stance import SQUARE, Stance
from stairguard.model.job import Job
from stairguard.model.rules import Rule
from stairguard.relations.printed import scalars
from stairguard.solve.gaps.bay_openings import Strand, bay, judged
from stairguard.solve.joint.rail_meeting import Meeting
from stairguard.solve.sphere.verdicts import over, verdict

if TYPE_CHECKING:
    from stairguard.solve.plan import Plan

__all__ = ["across_corners", "chord", "clear_between", "least_offset", "stance", "under_before"]

_QUARTER: Final = 90
_EIGHTH: Final = 45
_Holes: TypeAlias = Mapping[int, Hole]
_TOUCHING: Final = 1e-12
_TOUCH: Final = Fraction(1, 10**9)  # of a post's half


def stance(job: Job, turn_deg: float) -> Stance:
    """How a corner's one post stands: alike to both sides, as the job's ``corner_square`` says.

    Square to the line that halves the turn; else, and at a square turn, as nearly square to both rails as may be. A
    turn that leaves less than half a mark under a square laid across the post is a square one.
    """
    if not turn_deg:
        return SQUARE
    half_turn = turn_deg / 2
    off_square = abs(abs(turn_deg) - _QUARTER)
    square = off_square < _EIGHTH and job.post.width * Fraction(tan(radians(off_square))) < job.mark / 2
    turned = half_turn
    if square or job.post.corner_square == "rails":
        turned = min(half_turn, half_turn + _EIGHTH, key=lambda angle: abs(remainder(angle, _QUARTER)))
    askews = remainder(-turned, _QUARTER) + 0.0, remainder(turn_deg - turned, _QUARTER) + 0.0  # no minus nought
    reach = 1 / Fraction(cos(radians(askews[0])))
    return Stance(remainder(turned, _QUARTER) + 0.0, askews, reach)


def under_before(stands: Stance, turn_deg: float) -> tuple[Fraction, Fraction]:
    """How far the part of a corner post under the rail before reaches back along it, and on, in half-widths."""
    halving = radians(turn_deg / 2)
    square = [radians(stands.turned_deg + _EIGHTH + quarter) for quarter in range(0, 360, _QUARTER)]
    corners = [(2**0.5 * cos(angle), 2**0.5 * sin(angle)) for angle in square]
    before = [x * cos(halving) + y * sin(halving) for x, y in corners]  # nothing or less: under the rail before
    reaches = [x for (x, _), beyond in zip(corners, before, strict=True) if beyond <= _TOUCHING]
    for k, beyond in enumerate(before):
        if beyond * before[k - 1] < 0:
            part = beyond / (beyond - before[k - 1])
            reaches.append(corners[k][0] + part * (corners[k - 1][0] - corners[k][0]))
    return Fraction(round(min(reaches), 12)), Fraction(round(max(reaches), 12))


def least_offset(width: Fraction, turn_deg: float) -> Fraction:
    """How far each of two posts must at least be from the corner, to its centre along its own leg, not to overlap.

    Each stands square to its leg, so they are alike about the line that halves the turn, and come nearest to it with
    their inner corners.
    """
    return width / 2 * (1 + Fraction(tan(radians(abs(turn_deg) / 2))))


def chord(meeting: Meeting, width: Fraction) -> Chord:
    """The chord of a meeting made by two posts of a width.

    A strand climbs from one post to the other what its two lines climb to and from the corner, where they cross; rails
    that arrive at different heights change nothing in that. What is left between posts that touch is rounding.
    """
    (first, _), (second, _) = meeting.feet
    before, after, half_turn = meeting.before, meeting.after, meeting.turn_deg / 2
    aside, along = abs(sin(radians(half_turn))), cos(radians(half_turn))
    level = (second - first) * Fraction(along)
    rise = (meeting.station - first) * before.slope + (second - meeting.station) * after.slope
    slope = rise / level
    pitch = pitch_deg(slope)
    bends = scalars.bend(before.pitch_deg, pitch, half_turn), scalars.bend(pitch, after.pitch_deg, half_turn)
    sec = float(secant(slope))
    # past an eighth of a turn it comes out of the post's side
    reach = 1 / Fraction(max(aside, along))
    clear = _left(Fraction(float(level)) - width * reach, width)
    return Chord(float(level), float(level) * sec, sec, slope, pitch, abs(half_turn), reach, bends, clear)


def _left(gap: Fraction, width: Fraction) -> Fraction:
    """What is left between two posts of a width: nothing where it is rounding."""
    return gap if gap >= _TOUCH * width / 2 else Fraction(0)


def across_corners(plan: Plan, posts: Sequence[PlacedPost]) -> Iterator[Opening]:
    """Openings between the two posts of a corner: across the whole height where strands end, else under the lowest."""
    for meeting, joined, ended in zip(plan.meetings, plan.joined, plan.through, strict=True):
        if joined.chord is not None:
            if ended:
                yield from _between_posts(plan, meeting, joined.chord)
            else:
                holes = _holes(meeting, posts)
                yield from _between_strands(plan, meeting, joined.chord, holes)
                yield from _under_chord(plan, meeting, joined.chord, holes)


def _holes(meeting: Meeting, posts: Sequence[PlacedPost]) -> tuple[_Holes, _Holes]:
    """Holes of a corner's two posts by their strands' numbers."""
    first, second = (
        {hole.strand: hole for post in posts if post.joint == meeting.index for hole in post.holes
         if hole.surfaces == (surface.index,)}
        for surface in (meeting.before, meeting.after)
    )  # fmt: skip
    return first, second


def _between_posts(plan: Plan, meeting: Meeting, across: Chord) -> Iterator[Opening]:
    """Between the posts; as marked, each at its mark along its own leg."""
    job, corner = plan.job, meeting.station
    first, second = (station for station, _ in meeting.feet)
    begun = meeting.circuit  # stations begin again at the corner where a line closes
    marked = corner - to_mark(first, job.mark), to_mark(second - begun, job.mark) - (corner - begun)
    legs = (corner - first, second - corner), marked
    gap, as_marked = (clear_between(job.post.width, meeting.turn_deg, *leg) for leg in legs)
    rule = _from_ground(plan, meeting)
    passes = verdict(rule, (Surd(Fraction(size)) for size in (gap, as_marked)))
    s, z = float(meeting.station), float(meeting.feet[0][1].base)
    yield Opening(
        f"between the corner posts at {_corner(meeting)}, in plan", meeting.before.index, gap, as_marked, rule,
        passes, ("post", "post"), (), (s, z), corner=meeting.index,
    )  # fmt: skip


def clear_between(width: Fraction, turn_deg: float, before: Fraction, after: Fraction) -> float:
    """Clear distance in plan between two posts, as deep as wide, each square to its own leg.

    ``before`` and ``after`` are how far they stand from the corner along their legs. Their nearest points are the inner
    corner of one and a face, or the inner corner, of the other, for legs that differ by no more than a mark.
    """
    half, turn = float(width) / 2, radians(abs(turn_deg))
    # along the leg before and towards the inside of the turn, from the inner corner of the first to that of the second
    x = (float(after) - half) * cos(turn) - half * sin(turn) + float(before) - half
    y = (float(after) - half) * sin(turn) + half * cos(turn) - half
    turned = x * cos(turn) + y * sin(turn), x * sin(turn) - y * cos(turn)  # the same as the second sees it
    gap = min(hypot(*(max(part, 0.0, -part - 2 * half) for part in seen)) for seen in ((x, y), turned))
    return gap if gap > _TOUCH * half else 0.0  # less is rounding: they touch


def _from_ground(plan: Plan, meeting: Meeting) -> Rule | None:
    """What speaks to an opening between the two posts that begins at what they stand on."""
    return over(plan.rules, [foot.surface for _, foot in meeting.feet])


def _corner(meeting: Meeting) -> str:
    return f"the turn of surface {meeting.after.index + 1}"


def _between_strands(plan: Plan, meeting: Meeting, across: Chord, holes: tuple[_Holes, _Holes]) -> Iterator[Opening]:
    """Between the strands that pass the corner, square to them; as marked, the widest of either post.

    Where the posts stand closer than the strands it is what they leave.
    """
    field, strand = plan.fields[meeting.before.index], plan.job.strand
    left, right = _faces(plan, across)
    if plan.whole(meeting.index) < 2 or left >= right:
        return
    root = sqrt(1 + across.slope**2)
    numbers = range(1, plan.whole(meeting.index))
    marks = max(held[n].marked - held[n + 1].marked for held in holes for n in numbers)
    gaps = [Surd(plumb) / root - strand.diameter for plumb in (field.plumb_spacing, marks)]
    clear = Surd(right - left)
    rigid = clear < gaps[0]
    gaps = [min(gap, clear) for gap in gaps]
    rule = over(plan.rules, [foot.surface for _, foot in meeting.feet], from_ground=False)
    first = meeting.feet[0][0]
    s = float(first) + across.level / 2
    high = float(meeting.before.datum(first) + field.heights[0]) + float(across.slope) * across.level / 2
    radius, (designed, marked) = float(strand.diameter) / 2, map(float, gaps)
    down = (float(across.slope) / across.sec, -1 / across.sec)
    half_way = float(field.plumb_spacing) / across.sec / 2
    (x, z), touches = (s + half_way * down[0], high + half_way * down[1]), ("strand 1", "strand 2")
    a, b = ((x + w * down[0], z + w * down[1]) for w in (radius - half_way, half_way - radius))
    if rigid:
        x, touches = s, ("post", "post")
        a, b = (x - designed / 2, z), (x + designed / 2, z)
    yield Opening(
        f"between strands at {_corner(meeting)}", meeting.before.index, designed, marked, rule, verdict(rule, gaps),
        touches, (a, b), (x, z), None if rigid else Gap((1, 2)), meeting.index,
    )  # fmt: skip


def _faces(plan: Plan, across: Chord) -> tuple[Fraction, Fraction]:
    """Where the chord leaves the first post and comes to the second, level from the first one's centre."""
    half = plan.job.post.width / 2 * across.reach
    return half, half + across.clear


def _under_chord(plan: Plan, meeting: Meeting, across: Chord, holes: tuple[_Holes, _Holes]) -> Iterator[Opening]:
    """Under the lowest strand that passes the corner, seen square to the chord; as marked, from mark to mark."""
    left, right = _faces(plan, across)
    if left >= right:
        return  # the posts touch
    rule = _from_ground(plan, meeting)
    lowest = [held[plan.whole(meeting.index)] for held in holes]
    first, second = (hole.marked - hole.height for hole in lowest)
    outlines = (_outline(plan, meeting, across, ups) for ups in ((Fraction(0), Fraction(0)), (first, second)))
    found = judged(rule, plan.whole(meeting.index), *outlines)
    if found is None:
        return
    at, base = float(meeting.feet[0][0]), float(meeting.feet[0][1].base)
    yield Opening(
        f"under the lowest strand at {_corner(meeting)}", meeting.before.index, found.sphere, found.as_marked, rule,
        found.passes, found.touches, tuple((at + x, base + z) for x, z in found.contacts),
        (at + found.centre[0], base + found.centre[1]), found.section, meeting.index,
    )  # fmt: skip


def _outline(plan: Plan, meeting: Meeting, across: Chord, ups: tuple[Fraction, Fraction]) -> Outline:
    """Ground, posts and lowest whole strand along the chord, from the first post's centre and its foot."""
    (first, foot), (second, other) = meeting.feet
    number = plan.whole(meeting.index)
    low = meeting.before.datum(first) + plan.fields[meeting.before.index].heights[number - 1] - foot.base + ups[0]
    high = meeting.after.datum(second) + plan.fields[meeting.after.index].heights[number - 1] - foot.base + ups[1]
    level, climb = Fraction(across.level), other.base - foot.base
    ground = [Vec(x, climb * x / level) for x in _faces(plan, across)]
    radius = plan.job.strand.diameter / 2
    strand = Strand(number, Vec(Fraction(0), low), (high - low) / level, radius)
    return bay(ground, (foot.surface.kind,), strand)
