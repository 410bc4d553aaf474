"""Openings between the two posts of a corner: between and under the strands that run across it, or the posts alone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Final, TypeAlias

from stairguard.geometry.clearance.outline import Outline, Vec
from stairguard.geometry.exact.surd import Surd, sqrt
from stairguard.geometry.marks import to_mark
from stairguard.model.guard.guard_openings import Gap, Opening
from stairguard.model.guard.opening_kinds import Touch, Where
from stairguard.model.guard.placed_posts import Hole, PlacedPost
from stairguard.model.guard.rails_and_strands import Chord
from stairguard.model.rules import Rule
from stairguard.relations.printed.by_slope import square_of_plumb
from stairguard.solve.gaps.bay_openings import StrandAxis, bay, judged
from stairguard.solve.joint.corner_posts import clear_between
from stairguard.solve.joint.rail_meeting import Meeting
from stairguard.solve.plan import Plan
from stairguard.solve.sphere.verdicts import over, verdict

_Holes: TypeAlias = Mapping[int, Hole]
_POSTS: Final = (Touch("post"), Touch("post"))


def across_corners(plan: Plan, posts: Sequence[PlacedPost]) -> Iterator[Opening]:
    """Openings between the two posts of a corner: across the whole height where strands end, else under the lowest."""
    for meeting, joined, barred in zip(plan.meetings, plan.joined, plan.barred, strict=True):
        if joined.chord is not None:
            if barred is not None:
                yield from _between_posts(plan, meeting)
            else:
                holes = _holes(meeting, posts)
                yield from _between_strands(plan, meeting, joined.chord, holes)
                if not plan.job.post.handed:  # else the way round the corner is one in space
                    yield from _under_chord(plan, meeting, joined.chord, holes)


def _holes(meeting: Meeting, posts: Sequence[PlacedPost]) -> tuple[_Holes, _Holes]:
    """Holes of a corner's two posts by their strands' numbers."""
    first, second = (
        {hole.strand: hole for post in posts if post.joint == meeting.index for hole in post.holes
         if hole.surfaces == (surface.index,)}
        for surface in (meeting.before, meeting.after)
    )  # fmt: skip
    return first, second


def _between_posts(plan: Plan, meeting: Meeting) -> Iterator[Opening]:
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
        where=Where("between corner posts", surface=meeting.after.index),
        surface=meeting.before.index,
        sphere=gap,
        sphere_as_marked=as_marked,
        rule=rule,
        passes=passes,
        touches=_POSTS,
        contacts=(),
        centre=(s, z),
        corner=meeting.index,
    )


def _from_ground(plan: Plan, meeting: Meeting) -> Rule | None:
    """What speaks to an opening between the two posts that begins at what they stand on."""
    return over(plan.rules, [foot.surface for _, foot in meeting.feet])


def _between_strands(plan: Plan, meeting: Meeting, across: Chord, holes: tuple[_Holes, _Holes]) -> Iterator[Opening]:
    """Between the strands that pass the corner, square to them; as marked, the widest of either post.

    Where the posts stand closer than the strands it is what they leave.
    """
    field, strand = plan.fields[meeting.before.index], plan.job.strand
    left, right = _faces(plan, across)
    if plan.whole(meeting.index) < 2 or left >= right:
        return
    sec = sqrt(1 + across.slope**2)
    numbers = range(1, plan.whole(meeting.index))
    marks = max(held[n].marked - held[n + 1].marked for held in holes for n in numbers)
    gaps = [square_of_plumb(Surd(plumb), sec) - strand.diameter for plumb in (field.plumb_spacing, marks)]
    clear = Surd(right - left)
    rigid = clear < gaps[0]
    gaps = [min(gap, clear) for gap in gaps]
    rule = over(plan.rules, [foot.surface for _, foot in meeting.feet], from_ground=False)
    first = meeting.feet[0][0]
    s = float(first) + across.level / 2
    high = float(meeting.before.datum(first) + field.heights[0]) + float(across.slope) * across.level / 2
    radius, (designed, marked) = float(strand.diameter) / 2, map(float, gaps)
    down = (float(across.slope) / across.sec, -1 / across.sec)
    half_way = square_of_plumb(float(field.plumb_spacing), across.sec) / 2
    (x, z), touches = (s + half_way * down[0], high + half_way * down[1]), (Touch("strand", 1), Touch("strand", 2))
    a, b = ((x + w * down[0], z + w * down[1]) for w in (radius - half_way, half_way - radius))
    if rigid:
        x, touches = s, _POSTS
        a, b = (x - designed / 2, z), (x + designed / 2, z)
    yield Opening(
        where=Where("between strands at corner", surface=meeting.after.index),
        surface=meeting.before.index,
        sphere=designed,
        sphere_as_marked=marked,
        rule=rule,
        passes=verdict(rule, gaps),
        touches=touches,
        contacts=(a, b),
        centre=(x, z),
        bounds=None if rigid else Gap((1, 2)),
        corner=meeting.index,
    )


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
        where=Where("under lowest strand at corner", surface=meeting.after.index),
        surface=meeting.before.index,
        sphere=found.sphere,
        sphere_as_marked=found.as_marked,
        rule=rule,
        passes=found.passes,
        touches=found.touches,
        contacts=tuple((at + x, base + z) for x, z in found.contacts),
        centre=(at + found.centre[0], base + found.centre[1]),
        bounds=found.section,
        corner=meeting.index,
    )


def _outline(plan: Plan, meeting: Meeting, across: Chord, ups: tuple[Fraction, Fraction]) -> Outline:
    """Ground, posts and lowest whole strand along the chord, from the first post's centre and its foot."""
    (first, foot), (second, other) = meeting.feet
    number = plan.whole(meeting.index)
    low = meeting.before.datum(first) + plan.fields[meeting.before.index].heights[number - 1] - foot.base + ups[0]
    high = meeting.after.datum(second) + plan.fields[meeting.after.index].heights[number - 1] - foot.base + ups[1]
    level, climb = Fraction(across.level), other.base - foot.base
    ground = [Vec(x, climb * x / level) for x in _faces(plan, across)]
    radius = plan.job.strand.diameter / 2
    strand = StrandAxis(number, Vec(Fraction(0), low), (high - low) / level, radius)
    return bay(ground, (foot.surface.kind,), strand)
