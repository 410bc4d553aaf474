"""Apply a pack and the job's own limits to a layout. Every verdict on a length is exact.

Openings carry their rule and verdict already; here are heights, steps, ramps, post gaps and spacing.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from typing import Final

from stairguard.model.findings import Place
from stairguard.model.guard.pieces import Run
from stairguard.model.guard.rails_and_strands import Field, RailLine
from stairguard.model.guard.solved_layout import Check, CheckedLayout, Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Job
from stairguard.model.rules import Rule
from stairguard.model.subjects import (
    AtPost,
    AtPosts,
    BetweenPosts,
    Foot,
    LowestHole,
    PostGap,
    ShortStrands,
    StrandSpacing,
    Subject,
)
from stairguard.relations.printed.by_slope import square_of_plumb
from stairguard.rules.findings.guard_cautions import cautions
from stairguard.rules.findings.site_findings import binds_handrail
from stairguard.rules.fixes.jog_remedies import tried
from stairguard.rules.measures.extensions import extensions
from stairguard.rules.measures.held_bounds import held_to
from stairguard.rules.measures.landing_depths import between_flights, concerns, landing_depth
from stairguard.rules.measures.surface_measures import Reading, grips, measures, on
from stairguard.rules.measures.wire_checks import wire_checks

__all__ = ["JOB", "Applied", "applied", "binds", "check", "held"]

JOB: Final = "job"
"""Clause and status of a limit that the job sets itself."""

_SAME: Final = 1e-9


@dataclass(frozen=True, slots=True)
class Applied:
    """A rule and what came of it; it binds also where it is an option that the job takes up."""

    rule: Rule
    check: Check
    binding: bool


def check(layout: Layout) -> CheckedLayout:
    """Hold a layout to its rule set and its job, and try every remedy of a jog.

    A rule that is not binding appears among the checks where it is met and among the cautions where it is
    not: it never fails a layout.
    """
    checked = held(layout)
    if not any(joint.remedies for joint in layout.joints):
        return checked
    return replace(checked, layout=replace(layout, joints=tried(checked, held)))


def held(layout: Layout) -> CheckedLayout:
    """Hold a layout to its rule set and its job, remedies of jogs untried: all that a trial of a change asks."""
    ruled = applied(layout)
    checks = tuple(a.check for a in ruled if a.binding or a.check.passes)
    checks += (
        *_gaps(layout),
        *_spacings(layout),
        *_corners(layout),
        *_feet(layout),
        *_holes(layout),
        *_short_strands(layout),
        *_between_flights(layout),
        *wire_checks(layout),
    )
    unmet = tuple(a.check for a in ruled if not a.binding and not a.check.passes)
    used = {a.rule for a in ruled if a.binding} | {o.rule for o in layout.openings if o.rule is not None}
    used |= {o.leave for o in layout.openings if o.leave is not None}
    passes = all(c.passes for c in checks) and all(o.passes is not False for o in layout.openings)
    if layout.give is not None and layout.give.passes is False:
        passes = False
    return CheckedLayout(layout, checks, cautions(layout, unmet, _in_order(layout, used)), passes)


def applied(layout: Layout) -> tuple[Applied, ...]:
    """Every rule on heights, steps and ramps applied to every surface it is about."""
    rails = {rail.surface: rail for rail in layout.rails}
    found = [one for surface in layout.line.surfaces for one in _surface(layout, surface, rails[surface.index])]
    return (*found, *_grips(layout), *_extensions(layout))


def binds(rule: Rule, job: Job) -> bool:
    """Whether a rule may fail a guard: a handrail of its own is held to what a top rail might be let off."""
    return binds_handrail(rule) if job.handrail.height is not None else rule.binding


def _applied(layout: Layout, rule: Rule, reading: Reading, surface: PlacedSurface | None = None) -> Applied:
    held = held_to(rule, reading.value, surface, layout.job.unit)
    binding = binds(rule, layout.job)
    check = Check(
        clause=rule.clause,
        what=reading.what,
        value=held.value,
        limit=held.limit,
        kind=rule.kind,
        unit=held.unit,
        passes=held.passes,
        status=rule.status if binding else f"{rule.status}, optional",
        quantity=rule.quantity,
        place=Place(None if surface is None else surface.index, reading.where, reading.station),
    )
    return Applied(rule, check, binding)


def _grips(layout: Layout) -> Iterator[Applied]:
    for quantity, measure in grips(layout.job.handrail).items():
        for rule in layout.rules.of(quantity, "any"):
            yield _applied(layout, rule, measure.against(rule.kind))


def _extensions(layout: Layout) -> Iterator[Applied]:
    if layout.job.handrail.height is not None:
        return  # how far a handrail of its own runs on, no job says
    for rule, what, value, surface in extensions(layout):
        yield _applied(layout, rule, Reading(value, what), surface)


def _in_order(layout: Layout, used: set[Rule]) -> tuple[Rule, ...]:
    return tuple(rule for rule in layout.rules.rules if rule in used)


def _surface(layout: Layout, surface: PlacedSurface, rail: RailLine) -> Iterator[Applied]:
    depth = landing_depth(layout.line.surfaces, surface.index) if surface.kind == "landing" else None
    for quantity, measure in measures(surface, rail, depth, layout.job.handrail).items():
        for rule in layout.rules.of(quantity, surface.kind):
            if not concerns(rule, layout.line.surfaces, surface.index):
                continue
            if quantity == "landing length" and depth is not None and not depth.decides(rule.kind, rule.value):
                continue  # told as not checked
            yield _applied(layout, rule, measure.against(rule.kind), surface)


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
            yield _along(layout, PostGap(on(surface)), level, surface.slope, Place(surface.index, where))


def _along(layout: Layout, what: Subject, level: Fraction, slope: Fraction, place: Place) -> Check:
    """Check a post gap along a slope from its level length: squared, so that no root decides a tie."""
    limit = layout.job.post.max_gap
    squared = 1 + slope * slope
    passes = level * level * squared <= limit * limit
    value = _root_shown(float(level) * math.sqrt(squared), limit, passes)
    return Check(
        clause=JOB,
        what=what,
        value=value,
        limit=float(limit),
        kind="at most",
        unit=layout.job.unit,
        passes=passes,
        status=JOB,
        quantity="post gap",
        place=place,
    )


def _spacings(layout: Layout) -> Iterator[Check]:
    """Check each surface's strand spacing, square to its strands, against the job's largest."""
    fields = {field.surface: field for field in layout.fields}
    for surface in layout.line.surfaces:
        field = fields.get(surface.index)
        if field is None or len(field.heights) < 2:  # one strand has no spacing
            continue
        what = StrandSpacing(on(surface))
        yield _square(layout, what, field, surface.slope, field.square_spacing, Place(surface.index))


def _square(layout: Layout, what: Subject, field: Field, slope: Fraction, shown: float, place: Place) -> Check:
    """Check a spacing square to strands of a slope: squared, so that no root decides a tie."""
    limit = layout.job.strand.spacing
    passes = field.plumb_spacing**2 <= limit**2 * (1 + slope**2)
    value = _root_shown(shown, limit, passes)
    return Check(
        clause=JOB,
        what=what,
        value=value,
        limit=float(limit),
        kind="at most",
        unit=layout.job.unit,
        passes=passes,
        status=JOB,
        quantity="strand spacing",
        place=place,
    )


def _corners(layout: Layout) -> Iterator[Check]:
    """Check clear gap and spacing where strands run between the two posts of a corner."""
    for joint in layout.joints:
        chord = joint.chord
        if chord is None or joint.second_post is None or not joint.through:
            continue
        posts = AtPosts(joint.post, joint.second_post)
        at = Place(joint.between[0], posts, float(joint.station))
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
    what, place = Foot(post), Place(None, post)
    yield Check(
        clause=JOB,
        what=what,
        value=float(clear),
        limit=0.0,
        kind="at least",
        unit=layout.job.unit,
        passes=clear >= 0,
        status=JOB,
        quantity="foot of post",
        place=place,
    )


def _holes(layout: Layout) -> Iterator[Check]:
    """Check that no strand comes to a post below its foot, as at a corner on the edge of a nosing it may."""
    found = [(min(h.low_face for h in p.holes), p.label) for p in layout.posts if p.holes]
    low, label = min(found, key=lambda f: f[0], default=(Fraction(1), ""))
    if low <= 0:
        post = AtPost(label)
        what, place = LowestHole(post), Place(None, post)
        yield Check(
            clause=JOB,
            what=what,
            value=float(low),
            limit=0.0,
            kind="at least",
            unit=layout.job.unit,
            passes=low == 0,
            status=JOB,
            quantity="hole",
            place=place,
        )


def _between_flights(layout: Layout) -> Iterator[Check]:
    """Check that where a flight follows another there is a tread's depth of landing between, as far as it is known."""
    for one in between_flights(layout.line.surfaces):
        if one.depth.exact and one.depth.least < one.needed:
            depth, needed = float(one.depth.least), float(one.needed)
            unit, place = layout.job.unit, one.place
            yield Check(
                clause=JOB,
                what=one.what,
                value=depth,
                limit=needed,
                kind="at least",
                unit=unit,
                passes=False,
                status=JOB,
                quantity="landing length",
                place=place,
            )


def _short_strands(layout: Layout) -> Iterator[Check]:
    """Check that strands can be made: of each bay, or row of bays, where some are too short, the shortest."""
    least = layout.job.strand.shortest
    if least is None:
        return
    short: dict[tuple[str, str], list[Run]] = {}
    for run in layout.runs:
        if run.cut_length < float(least) - _SAME:
            short.setdefault((run.posts[0], run.posts[-1]), []).append(run)
    for (first, last), runs in short.items():
        shortest = min(runs, key=lambda run: run.cut_length)
        what = ShortStrands(tuple(run.strand for run in runs), AtPosts(first, last))
        place = Place(shortest.surfaces[0], what)
        yield Check(
            clause=JOB,
            what=what,
            value=shortest.cut_length,
            limit=float(least),
            kind="at least",
            unit=layout.job.unit,
            passes=False,
            status=JOB,
            quantity="strand length",
            place=place,
        )


def _root_shown(value: float, limit: Fraction, passes: bool) -> float:
    """Keep a rounded root from standing on the other side of its limit than the exact verdict."""
    bound = float(limit)
    return min(value, bound) if passes else max(value, math.nextafter(bound, math.inf))
