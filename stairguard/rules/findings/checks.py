"""Apply a pack and the job's own limits to a layout. Every verdict on a length is exact.

Openings carry their rule and verdict already; here are heights, steps and ramps, and `own_limits` has the job's own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from stairguard.model.findings import Location
from stairguard.model.guard.rails_and_strands import RailLine
from stairguard.model.guard.solved_layout import Check, CheckedLayout, Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Job
from stairguard.model.rules import Rule
from stairguard.rules.findings.guard_cautions import cautions
from stairguard.rules.findings.own_limits import own_limits
from stairguard.rules.findings.site_findings import binds_handrail
from stairguard.rules.measures.extensions import extensions
from stairguard.rules.measures.held_bounds import held_to
from stairguard.rules.measures.landing_depths import concerns, landing_depth
from stairguard.rules.measures.surface_measures import Reading, grips, measures


@dataclass(frozen=True, slots=True)
class Applied:
    """A rule and what came of it."""

    rule: Rule
    check: Check


def check(layout: Layout) -> CheckedLayout:
    """Hold a layout to its rule set and its job, and try every remedy of a jog.

    A rule that is not binding appears among the checks where it is met and among the cautions where it is
    not: it never fails a layout.
    """
    checked = held(layout)
    if not any(joint.remedies for joint in layout.joints):
        return checked
    from stairguard.rules.fixes.jog_remedies import tried  # few guards have a jog

    return replace(checked, layout=replace(layout, joints=tried(checked, held)))


def held(layout: Layout) -> CheckedLayout:
    """Hold a layout to its rule set and its job, remedies of jogs untried: all that a trial of a change asks."""
    ruled = applied(layout)
    checks = tuple(a.check for a in ruled if a.check.binding or a.check.passes)
    checks += (*own_limits(layout), *_tabled(layout))
    unmet = tuple(a.check for a in ruled if not a.check.binding and not a.check.passes)
    used = {a.rule for a in ruled if a.check.binding} | {o.rule for o in layout.openings if o.rule is not None}
    used |= {o.leave for o in layout.openings if o.leave is not None}
    told = cautions(layout, unmet, _in_order(layout, used))
    return CheckedLayout(layout, checks, told, _passes(layout, checks))


def _passes(layout: Layout, checks: Iterable[Check]) -> bool | None:
    """Whether all is kept; undecided where nothing fails but the push is not solved everywhere."""
    give = layout.give
    kept = all(c.passes for c in checks) and all(o.passes is not False for o in layout.openings)
    if not kept or (give is not None and give.passes is False):
        return False
    return None if give is not None and give.unsolved else True


def _tabled(layout: Layout) -> tuple[Check, ...]:
    """What a published table says of the strands' tension, where the job gives one."""
    if layout.give is None:
        return ()
    from stairguard.rules.measures.wire_checks import wire_checks

    return tuple(wire_checks(layout))


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
    check = Check(
        clause=rule.clause,
        what=reading.what,
        value=held.value,
        limit=held.limit,
        kind=rule.kind,
        unit=held.unit,
        passes=held.passes,
        status=rule.status,
        binding=binds(rule, layout.job),
        quantity=rule.quantity,
        place=Location(None if surface is None else surface.index, reading.where, reading.station),
    )
    return Applied(rule, check)


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
