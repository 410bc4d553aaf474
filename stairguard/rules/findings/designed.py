"""Findings on a guard as designed: every rule of its pack at every place it speaks to, and the job's own limits."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Final, TypeAlias

from stairguard.geometry.slope import secant
from stairguard.model.findings import Conflict, Finding, Inspection, Location, Verdict
from stairguard.model.fixes import Fix
from stairguard.model.guard.solved_layout import WIRE_TABLE, Check, CheckedLayout, Layout
from stairguard.model.guard.told import ToldLayout
from stairguard.model.reasons import Reason, Why
from stairguard.model.rules import Rule
from stairguard.model.subjects import Size, StrandsInBand, WholeGuard
from stairguard.relations.printed.by_slope import plumb_of_square
from stairguard.rules.findings.checks import Applied, applied, binds, held
from stairguard.rules.findings.conflicts import conflicts
from stairguard.rules.findings.designed_landings import corner_feet, untold_depths
from stairguard.rules.findings.designed_openings import beyond_help, of_openings, past_ends
from stairguard.rules.findings.own_limits import JOB
from stairguard.rules.findings.practice import practised
from stairguard.rules.findings.severity import by_consequence
from stairguard.rules.findings.site_findings import (
    SECTIONS,
    climbed,
    may_bind,
    optional,
    other_section,
    present,
    required,
    sitewide,
    unchecked,
    uniform,
)
from stairguard.rules.measures.held_bounds import margin
from stairguard.rules.measures.surface_measures import grips, on
from stairguard.solve.sphere.verdicts import edge_within

_Spoken: TypeAlias = tuple[Rule | None, Finding]

_STATED: Final = (*SECTIONS, "handrail clearance")
_MAY_BE_SILENT: Final = (
    "opening", "opening width", "ramp edge", "lowest edge", "handrail extension", "guard required", "load",
)  # fmt: skip
"""Rules that may have nothing to speak to on a guard, or are told elsewhere."""


def tell(checked: CheckedLayout, fixes: bool = True, named: bool = True) -> ToldLayout:
    """A checked layout with all that is told of it, made once for whatever is written of it.

    Parameters
    ----------
    checked : a layout held to its rules
    fixes : as of `inspect_layout`
    named : whether to work out what would hold the pushes that publications name, where the job names none
    """
    inspection = inspect_layout(checked, fixes)
    if not named or checked.layout.asks_push:
        return ToldLayout(checked, inspection)
    from stairguard.solve.load.named_forces import named_tensions  # and all that pushes: only where it is told

    return ToldLayout(checked, inspection, named_tensions(checked.layout))


def inspect_layout(checked: CheckedLayout, fixes: bool = True) -> Inspection:
    """Tell of every rule what came of it, the gravest first; what nothing measures is told as not checked.

    Parameters
    ----------
    checked : a layout held to its rules
    fixes : whether to look for what would mend each breach, and for conflicts that no such way resolves: every way is
        laid out and judged, which takes longer than all else
    """
    layout = checked.layout
    job, rules = layout.job, layout.rules
    findings = _findings(checked)
    if fixes and any(finding.verdict == "fail" for finding in findings):
        from stairguard.rules.fixes.fix_search import mended  # and all that looks for fixes: only where something fails

        findings = tuple(mended(layout, findings, lambda other: _findings(held(other))))
    kinds = [surface.kind for surface in layout.line.surfaces]
    apart = job.handrail.height is not None
    clashes: list[Conflict] = [*conflicts(rules, kinds, job.unit, lambda rule: binds(rule, job), apart)]
    if fixes:
        clashes += beyond_help(layout, findings)
    return Inspection(
        title=job.title,
        unit=job.unit,
        rules=rules,
        findings=by_consequence(findings),
        conflicts=tuple(clashes),
        cautions=checked.cautions,
        outcome=checked.outcome,
        mark=job.mark,
    )


def push_fixes(checked: CheckedLayout) -> tuple[Fix, ...]:
    """What would hold the push that the job asks for, seen to do so; none where it holds, or nothing is asked."""
    findings = _findings(checked)
    if not any(one.quantity == "push" and one.verdict == "fail" for one in findings):
        return ()
    from stairguard.rules.fixes.fix_search import mended

    return next(mended(checked.layout, findings, lambda other: _findings(held(other)), "push")).fixes


def _findings(checked: CheckedLayout) -> tuple[Finding, ...]:
    """What came of every rule, without what would mend it."""
    layout = checked.layout
    job, rules = layout.job, layout.rules
    spoken: list[_Spoken] = [
        *_ruled(layout), *of_openings(layout), *_edges(layout), *_climbable(layout), *_uniform(layout),
        *untold_depths(layout),
    ]  # fmt: skip
    told = {rule for rule, _ in spoken}
    return (
        *(finding for _, finding in spoken),
        *(_own(check) for check in checked.checks if check.status == JOB or check.clause == WIRE_TABLE),
        *corner_feet(layout),
        *past_ends(layout),
        *_give(layout),
        *(
            required(rule, job.site.drop, job.site.reach, job.unit)
            for rule in rules.rules
            if rule.quantity == "guard required"
        ),
        *sitewide(rules, job.unit, {surface.kind for surface in layout.line.surfaces}),
        *practised(layout),
        *(
            may_bind(_silent(layout, rule), rule, rules)
            for rule in rules.rules
            if rule not in told and _owed(layout, rule)
        ),
    )


def _verdict(passes: bool, binding: bool) -> Verdict:
    if passes:
        return "pass"
    return "fail" if binding else "needs a decision"


def _ruled(layout: Layout) -> Iterator[_Spoken]:
    for one in applied(layout):
        why = () if one.check.passes or one.check.binding else (optional(one.rule),)
        finding = replace(_of_check(one.check, why), scope=one.rule.place)
        yield one.rule, may_bind(finding, one.rule, layout.rules)


def _of_check(check: Check, why: tuple[Reason, ...]) -> Finding:
    return Finding(
        clause=check.clause,
        status=check.status,
        quantity=check.quantity,
        verdict=_verdict(check.passes, check.binding),
        what=check.what,
        place=check.place,
        value=check.value,
        kind=check.kind,
        limit=check.limit,
        unit=check.unit,
        margin=margin(check.kind, check.value, check.limit),
        guard_band=None,
        why=why,
        fixes=(),
        binding=check.binding,
    )


def _own(check: Check) -> Finding:
    """A limit of the job's own, or a tension of Australia's table: both may fail it."""
    return _of_check(check, ())


def _edges(layout: Layout) -> Iterator[_Spoken]:
    """The lowest edge over each flight, where a pack gives leave by it and it is low enough."""
    rule = layout.rules.leave_by_edge(apart=bool(layout.job.post.out))
    radius = layout.job.strand.diameter / 2
    for surface in layout.line.surfaces if rule is not None else ():
        heights = layout.fields[surface.index].heights
        if surface.kind != "flight" or not heights or rule is None:
            continue
        if edge_within(rule, heights[-1], radius, surface.slope):
            value = float(heights[-1] - plumb_of_square(radius, secant(surface.slope)))
            limit = float(rule.value)
            yield (
                rule,
                Finding.of(
                    rule,
                    "pass",
                    Size(on(surface), "lowest edge"),
                    Location(surface.index),
                    value=value,
                    limit=limit,
                    unit=layout.job.unit,
                    margin=max(limit - value, 0.0),
                ),
            )


def _climbable(layout: Layout) -> Iterator[_Spoken]:
    """Strands in a band where nothing may help in climbing."""
    for rule in (rule for rule in layout.rules.rules if rule.quantity == "climbable band"):
        within: dict[int, list[int]] = {}
        for field in layout.fields:
            within.setdefault(sum(_in_band(rule, h) for h in field.heights), []).append(field.surface)
        within.pop(0, None)
        told = tuple((count, tuple(surfaces)) for count, surfaces in within.items())
        what = StrandsInBand(rule.from_height, rule.to_height, layout.job.unit, told)
        yield rule, climbed(rule, what)


def _in_band(rule: Rule, height: Fraction) -> bool:
    above = rule.from_height is None or height > rule.from_height
    return above and (rule.to_height is None or height < rule.to_height)


def _uniform(layout: Layout) -> Iterator[_Spoken]:
    """Whether what hands hold keeps one height over flights and ramps."""
    for rule in (rule for rule in layout.rules.rules if rule.quantity == "handrail uniformity"):
        found = [
            one.check.value
            for one in _heights(layout)
            if layout.line.surfaces[one.check.place.surface or 0].kind != "landing"
        ]
        apart = max(found, default=0.0) - min(found, default=0.0)
        yield rule, uniform(rule, layout.job.unit, apart, binding=binds(rule, layout.job))


def _heights(layout: Layout) -> Iterator[Applied]:
    return (one for one in applied(layout) if one.check.quantity == "handrail height")


def _give(layout: Layout) -> Iterator[Finding]:
    """Whether every opening holds the push that the job asks for."""
    if layout.give is None:
        return
    passes, what = layout.give.passes, WholeGuard("push")
    if passes is not None:
        yield Finding(clause=JOB, status=JOB, quantity="push", verdict=_verdict(passes, True), what=what)
    if layout.give.unsolved:
        why = (Why.PUSH_APART,)
        yield Finding(clause=JOB, status=JOB, quantity="push", verdict="not checked", what=what, why=why)


def _owed(layout: Layout, rule: Rule) -> bool:
    """Whether something should have been said of a rule."""
    kinds = {surface.kind for surface in layout.line.surfaces}
    own = rule.quantity == "handrail extension" and layout.job.handrail.height is not None
    spared = rule.quantity in _MAY_BE_SILENT and not own
    return not spared and rule.when_run_below is None and present(rule, kinds)


def _silent(layout: Layout, rule: Rule) -> Finding:
    """A rule that the job states nothing for."""
    why = Why.UNSTATED_HANDRAIL if rule.quantity in _STATED else Why.UNTOLD_BY_JOB
    other = other_section(rule, grips(layout.job.handrail))
    return unchecked(rule, layout.job.unit, other or why, binding=binds(rule, layout.job))
