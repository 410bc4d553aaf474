"""Limits that a job sets itself, and what no job may ask: posts, strands and holes as laid out, held to them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise
from typing import Final

from stairguard.model.findings import Location
from stairguard.model.guard.pieces import StrandRun
from stairguard.model.guard.rails_and_strands import Field
from stairguard.model.guard.solved_layout import Check, Layout
from stairguard.model.rules import BoundKind
from stairguard.model.subjects import (
    AtPost,
    AtPosts,
    BetweenPosts,
    Foot,
    LowestHole,
    ShortStrands,
    Size,
    Subject,
)
from stairguard.relations.printed.by_slope import square_of_plumb
from stairguard.rules.measures.landing_depths import between_flights
from stairguard.rules.measures.surface_measures import on

JOB: Final = "job"
"""Clause and status of a limit that the job sets itself."""

_NONE: Final = Fraction(0)
_SAME: Final = 1e-9


def own_limits(layout: Layout) -> Iterator[Check]:
    """All of them that speak to a layout."""
    yield from _gaps(layout)
    yield from _spacings(layout)
    yield from _corners(layout)
    yield from _feet(layout)
    yield from _holes(layout)
    yield from _short_strands(layout)
    yield from _between_flights(layout)


def _own(
    layout: Layout, quantity: str, what: Subject, place: Location, value: Fraction | float, kind: BoundKind,
    limit: Fraction, passes: bool,
) -> Check:  # fmt: skip
    return Check(
        clause=JOB,
        what=what,
        value=float(value),
        limit=float(limit),
        kind=kind,
        unit=layout.job.unit,
        passes=passes,
        status=JOB,
        quantity=quantity,
        place=place,
    )


def _gaps(layout: Layout) -> Iterator[Check]:
    """Check the widest clear gap between posts over each surface, along its strands."""
    after = {joint.second_post or joint.post: joint.between[1] for joint in layout.joints}
    pairs = {joint.post for joint in layout.joints if joint.second_post}
    here = next(surface.index for surface in layout.line.surfaces if surface.carries)
    widest: dict[int, tuple[Fraction, AtPosts]] = {}
    for left, right in pairwise(sorted(layout.along, key=lambda post: post.station)):
        here = after.get(left.label, here)
        if left.label in pairs:  # the two posts of a corner have no bay between them
            continue
        level = (right.station - right.half) - (left.station + left.half)
        if level > 0 and (here not in widest or level > widest[here][0]):
            widest[here] = level, AtPosts(left.label, right.label)
    for surface in layout.line.surfaces:
        if surface.index in widest:
            level, where = widest[surface.index]
            yield _along(layout, Size(on(surface), "post gap"), level, surface.slope, Location(surface.index, where))


def _along(layout: Layout, what: Subject, level: Fraction, slope: Fraction, place: Location) -> Check:
    """Check a post gap along a slope from its level length: squared, so that no root decides a tie."""
    limit = layout.job.post.max_gap
    squared = 1 + slope * slope
    passes = level * level * squared <= limit * limit
    value = _root_shown(float(level) * math.sqrt(squared), limit, passes)
    return _own(layout, "post gap", what, place, value, "at most", limit, passes)


def _spacings(layout: Layout) -> Iterator[Check]:
    """Check each surface's strand spacing, square to its strands, against the job's largest."""
    fields = {field.surface: field for field in layout.fields}
    for surface in layout.line.surfaces:
        field = fields.get(surface.index)
        if field is None or len(field.heights) < 2:  # one strand has no spacing
            continue
        what = Size(on(surface), "strand spacing")
        yield _square(layout, what, field, surface.slope, field.square_spacing, Location(surface.index))


def _square(layout: Layout, what: Subject, field: Field, slope: Fraction, shown: float, place: Location) -> Check:
    """Check a spacing square to strands of a slope: squared, so that no root decides a tie."""
    limit = layout.job.strand.spacing
    passes = field.plumb_spacing**2 <= limit**2 * (1 + slope**2)
    value = _root_shown(shown, limit, passes)
    return _own(layout, "strand spacing", what, place, value, "at most", limit, passes)


def _corners(layout: Layout) -> Iterator[Check]:
    """Check clear gap and spacing where strands run between the two posts of a corner."""
    for joint in layout.joints:
        chord = joint.chord
        if chord is None or joint.second_post is None or not joint.through:
            continue
        posts = AtPosts(joint.post, joint.second_post)
        at = Location(joint.between[0], posts, float(joint.station))
        if chord.clear:
            yield _along(layout, BetweenPosts(posts, "corner gap"), chord.clear, chord.slope, at)
        field, what = layout.fields[joint.between[0]], BetweenPosts(posts, "corner spacing")
        yield _square(layout, what, field, chord.slope, square_of_plumb(float(field.plumb_spacing), chord.sec), at)


def _feet(layout: Layout) -> Iterator[Check]:
    """Check that posts on the walking surface stand wholly on it, clear of nosings and risers: the nearest of all.

    A corner post at a landing's edge is notched over it or let into the steps, which is told as to be decided.
    """
    own = (p for p in layout.posts if p.support == "post" and not layout.past_edge_of_turn(p))
    near = [(p.clear, p.label) for p in own if p.clear is not None]
    if layout.job.post.mount != "surface" or not near:
        return
    clear, label = min(near, key=lambda n: n[0])
    post = AtPost(label)
    what, place = Foot(post), Location(None, post)
    yield _own(layout, "foot of post", what, place, clear, "at least", _NONE, clear >= 0)


def _holes(layout: Layout) -> Iterator[Check]:
    """Check that no strand comes to a post below its foot, as at a corner on the edge of a nosing it may."""
    found = [(min(h.low_face for h in p.holes), p.label) for p in layout.posts if p.holes]
    low, label = min(found, key=lambda f: f[0], default=(Fraction(1), ""))
    if low <= 0:
        post = AtPost(label)
        what, place = LowestHole(post), Location(None, post)
        yield _own(layout, "hole", what, place, low, "at least", _NONE, low == 0)


def _between_flights(layout: Layout) -> Iterator[Check]:
    """Check that where a flight follows another there is a tread's depth of landing between, as far as it is known."""
    for one in between_flights(layout.line.surfaces):
        if one.depth.exact and one.depth.least < one.needed:
            yield _own(layout, "landing length", one.what, one.place, one.depth.least, "at least", one.needed, False)


def _short_strands(layout: Layout) -> Iterator[Check]:
    """Check that strands can be made: of each bay, or row of bays, where some are too short, the shortest."""
    least = layout.job.strand.shortest
    if least is None:
        return
    short: dict[tuple[str, str], list[StrandRun]] = {}
    for run in layout.runs:
        if run.cut_length < float(least) - _SAME:
            short.setdefault((run.posts[0], run.posts[-1]), []).append(run)
    for (first, last), runs in short.items():
        shortest = min(runs, key=lambda run: run.cut_length)
        what = ShortStrands(tuple(run.strand for run in runs), AtPosts(first, last))
        place = Location(shortest.surfaces[0], what)
        yield _own(layout, "strand length", what, place, shortest.cut_length, "at least", least, False)


def _root_shown(value: float, limit: Fraction, passes: bool) -> float:
    """Keep a rounded root from standing on the other side of its limit than the exact verdict."""
    bound = float(limit)
    return min(value, bound) if passes else max(value, math.nextafter(bound, math.inf))
