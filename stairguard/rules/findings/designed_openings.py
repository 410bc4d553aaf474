"""Findings on the openings of a layout: each against every rule that speaks to it, and steps that none can close."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from stairguard.model.findings import Finding, Location, Unclosed
from stairguard.model.fixes import Change
from stairguard.model.guard.guard_openings import Opening
from stairguard.model.guard.opening_kinds import BETWEEN_STEPS, Where
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.job import Flight
from stairguard.model.reasons import ByLeave, FallPastEnd, Why
from stairguard.model.rules import Rule
from stairguard.model.subjects import PastEnd, Sphere
from stairguard.rules.measures.surface_measures import on


def of_openings(layout: Layout) -> Iterator[tuple[Rule, Finding]]:
    """Of openings alike on one surface, under one rule, the largest."""
    alike: dict[tuple[object, ...], list[Opening]] = {}
    for opening in layout.openings:
        if opening.rule is not None:
            key = opening.surface, opening.rule, opening.passes, opening.leave, opening.touches
            alike.setdefault(key, []).append(opening)
    for same in alike.values():
        worst = max(same, key=_size)
        assert worst.rule is not None  # as gathered
        yield worst.rule, _opening(layout, worst, len(same), worst.rule, worst.passes is not False)
        for rule, passes in worst.others:
            yield rule, _opening(layout, worst, len(same), rule, passes)


def _size(opening: Opening) -> float:
    return max(opening.sphere, opening.sphere_as_marked)


def _opening(layout: Layout, opening: Opening, count: int, rule: Rule, passes: bool) -> Finding:
    what = Sphere(on(layout.line.surfaces[opening.surface]), opening.where, count)
    size, limit = _size(opening), float(rule.value)
    finding = Finding.of(
        rule,
        "pass" if passes else "fail",
        what,
        Location(opening.surface, opening.where, opening.centre[0]),
        value=size,
        limit=limit,
        unit=layout.job.unit,
        margin=limit - size,
        binding=True,
    )
    if opening.leave is not None and rule is opening.rule:
        return replace(finding, margin=None, why=(ByLeave(opening.leave.clause, opening.leave.status),))
    return replace(finding, why=(Why.LARGER_SPHERE,)) if passes and rule.place == "step triangle" else finding


def past_ends(layout: Layout) -> Iterator[Finding]:
    """Stretches past the ends of the guard beside which no rule asks for one, as far as the job tells."""
    asking = [rule for rule in layout.rules.rules if rule.quantity == "guard required"]
    for one in layout.unguarded:
        if one.asked:
            continue
        rule = min(asking, key=lambda rule: rule.value)
        unit = layout.job.unit
        yield Finding.of(
            rule,
            "needs a decision",
            PastEnd(on(layout.line.surfaces[one.surface]), one.where, one.length, unit),
            Location(one.surface, one.where, float(one.face + one.edge) / 2),
            value=float(one.drop),
            limit=float(rule.value),
            unit=unit,
            margin=float(rule.value - one.drop),
            why=(FallPastEnd(one.drop, unit),),
        )


def beyond_help(layout: Layout, findings: Iterable[Finding]) -> Iterator[Unclosed]:
    """Flights whose steps no strand clear of the nosings can close: job and rule conflict."""
    seen = set()
    for one in findings:
        given = None if one.place.surface is None else layout.line.surfaces[one.place.surface].given
        key = given, one.clause
        where = one.place.where
        steps = isinstance(where, Where) and where.kind in BETWEEN_STEPS and isinstance(given, Flight)
        if one.verdict != "fail" or one.quantity != "opening" or not steps or key in seen or _by_strands(one):
            continue
        seen.add(key)
        assert isinstance(given, Flight)  # as picked
        yield Unclosed(one, given, layout.job.unit)


def _by_strands(one: Finding) -> bool:
    """Whether strands alone can mend it, lower or laid out by other rules."""
    keys = {(step.table, step.key) for fix in one.fixes for step in fix.steps if isinstance(step, Change)}
    return not keys.isdisjoint({("strand", "lower"), ("strand", "spacing"), ("rules", "")})
