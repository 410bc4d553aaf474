"""Findings on a guard as designed: every rule of its pack at every place it speaks to, and the job's own limits."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Final, TypeAlias

from stairguard.geometry.slope import secant
from stairguard.model.findings import Finding, Inspection, Place, Verdict
from stairguard.model.guard import Check, CheckedLayout, Gap, Layout, Opening, PlacedSurface
from stairguard.model.job import Flight
from stairguard.model.rules import Rule
from stairguard.rules.alike import in_steps
from stairguard.rules.checks import JOB, Applied, applied, binds
from stairguard.rules.conflicts import conflicts
from stairguard.rules.consequence import by_consequence
from stairguard.rules.mending import amount, mend
from stairguard.rules.practised import practised
from stairguard.rules.sitewide import about, optional, required, sitewide
from stairguard.rules.wirechecks import CLAUSE as WIRE_TABLE
from stairguard.solve.stepmend import StepMend, step_mends
from stairguard.solve.verdicts import edge_within

__all__ = ["inspect_layout"]

_Spoken: TypeAlias = tuple[Rule | None, Finding]

_STATED: Final = ("handrail size", "handrail perimeter", "handrail across", "handrail clearance")


def inspect_layout(checked: CheckedLayout) -> Inspection:
    """Tell of every rule what came of it, the gravest first; what nothing measures is told as not checked."""
    layout = checked.layout
    job, rules = layout.job, layout.rules
    spoken: list[_Spoken] = [
        *_ruled(layout), *_openings(layout), *_edges(layout), *_climbable(layout), *_uniform(layout),
    ]  # fmt: skip
    told = {rule for rule, _ in spoken}
    findings = [
        *(finding for _, finding in spoken),
        *(_own(check) for check in checked.checks if check.status == JOB or check.clause == WIRE_TABLE),
        *_give(layout),
        *(
            required(rule, job.site.drop, job.site.reach, job.unit)
            for rule in rules.rules
            if rule.quantity == "guard required"
        ),
        *sitewide(rules, job.unit, {surface.kind for surface in layout.line.surfaces}),
        *practised(layout),
        *(_silent(layout, rule) for rule in rules.rules if rule.quantity in _STATED and rule not in told),
    ]
    kinds = [surface.kind for surface in layout.line.surfaces]
    apart = job.handrail.height is not None
    clashes = [*conflicts(rules, kinds, job.unit, lambda rule: binds(rule, job), apart), *_beyond_help(layout)]
    return Inspection(
        job.title, job.unit, rules, by_consequence(findings), tuple(clashes), checked.cautions, checked.passes
    )


def _verdict(passes: bool, binding: bool) -> Verdict:
    if passes:
        return "pass"
    return "fail" if binding else "needs a decision"


def _ruled(layout: Layout) -> Iterator[_Spoken]:
    for one in applied(layout):
        why = "" if one.check.passes or one.binding else optional(one.rule)
        finding = _of_check(one.check, one.rule.status, one.binding, why, _better(layout, one))
        yield one.rule, replace(finding, scope=one.rule.place)


def _better(layout: Layout, one: Applied) -> str:
    """For the riser of equal steps, how many there should be: what is left of the way up decides the riser."""
    surface = None if one.check.place.surface is None else layout.line.surfaces[one.check.place.surface]
    if one.check.quantity != "riser" or surface is None or not isinstance(surface.given, Flight) or one.check.passes:
        return ""
    total = surface.given.rise * surface.given.risers
    count = -(-total // one.rule.value) if one.rule.kind == "at most" else total // one.rule.value
    return f"{count} risers of {float(total / count):.6g} {layout.job.unit}" if count > 1 else ""


def _of_check(check: Check, status: str, binding: bool, why: str, better: str = "") -> Finding:
    sign = 1 if check.kind == "at least" else -1
    margin = sign * (check.value - check.limit)
    fix = "" if check.passes else better or mend(check.quantity, check.kind, -margin, check.unit)
    return Finding(
        check.clause, status, check.quantity, _verdict(check.passes, binding), check.what, check.place, check.value,
        check.kind, check.limit, check.unit, margin, None, why, fix, binding,
    )  # fmt: skip


def _own(check: Check) -> Finding:
    """A limit of the job's own, or a tension of Australia's table: both may fail it."""
    return _of_check(check, check.status, True, "")


def _openings(layout: Layout) -> Iterator[_Spoken]:
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
    more = f", and {count - 1} like it" if count > 1 else ""
    surface = layout.line.surfaces[opening.surface]
    what = f"largest sphere {opening.where}{more}, of surface {surface.index + 1} ({surface.kind})"
    size, limit = _size(opening), float(rule.value)
    finding = Finding.of(
        rule,
        _verdict(passes, True),
        what,
        Place(opening.surface, opening.where, opening.centre[0]),
        value=size,
        limit=limit,
        unit=layout.job.unit,
        margin=limit - size,
        binding=True,
    )
    if opening.leave is not None and rule is opening.rule:
        leave = f"{opening.leave.clause} ({opening.leave.status})"
        return replace(finding, margin=None, why=f"larger, by leave of {leave}: the lowest edge is low enough")
    return finding if passes else replace(finding, fix=_fix(layout, opening, surface, size - limit))


def _fix(layout: Layout, opening: Opening, surface: PlacedSurface, past: float) -> str:
    unit = layout.job.unit
    by = amount(max(past, 0.0), unit)
    if isinstance(opening.bounds, Gap):
        numbers = opening.bounds.strands
        if len(numbers) == 2:
            return f"set strands {numbers[0]} and {numbers[1]} nearer by more than {by}, square"
        way = "raise strand 1" if "rail" in opening.touches else f"lower strand {numbers[0]}"
        return f"{way} by more than {by}, square"
    mends = _step(layout, opening, surface)
    if mends:
        return _step_words(layout, surface, mends, unit)
    touched = ", ".join(dict.fromkeys(opening.touches))
    return f"no strand lowered mends it: bring together what it touches ({touched}) by more than {by}, or fill it in"


def _step(layout: Layout, opening: Opening, surface: PlacedSurface) -> tuple[StepMend, ...]:
    """Changes that would close a step triangle; none known of other openings, and of measured steps."""
    given, rule = surface.given, opening.rule
    if not isinstance(given, Flight) or rule is None or not {"tread", "riser"} <= set(opening.touches):
        return ()
    radius, sec = layout.job.strand.diameter / 2, secant(surface.slope)
    lift = layout.fields[surface.index].heights[-1] / sec - radius
    least = layout.job.mark / (2 * sec)
    return step_mends(given.rise, given.run, given.nosing, given.tread, given.open_risers, lift, least, rule.value)


def _step_words(layout: Layout, surface: PlacedSurface, mends: Iterable[StepMend], unit: str) -> str:
    number = len(layout.fields[surface.index].heights)
    words = []
    for one in mends:
        if one.what == "lift":
            words.append(f"lower strand {number} by more than {amount(one.by, unit)}, square")
        else:
            name = "nosing projection" if one.what == "nosing" else one.what
            words.append(f"{name} less than {one.value:.5g} {unit} ({amount(one.by, unit)} less)")
    return "; or ".join([*words, "a solid piece in the triangle"])


def _beyond_help(layout: Layout) -> Iterator[str]:
    """Flights whose steps no strand clear of the nosings can close: job and rule conflict."""
    seen = set()
    for opening in layout.openings:
        surface = layout.line.surfaces[opening.surface]
        if opening.passes is not False or opening.rule is None or (surface.given, opening.rule) in seen:
            continue
        mends = _step(layout, opening, surface)
        given = surface.given
        if not mends or mends[0].what == "lift" or not isinstance(given, Flight):
            continue
        seen.add((surface.given, opening.rule))
        unit = layout.job.unit
        sizes = f"rise {float(given.rise):.6g}, run {float(given.run):.6g}, nosing {float(given.nosing):.6g} {unit}"
        asked = f"{opening.rule.clause} ({opening.rule.kind} {float(opening.rule.value):.6g} {unit})"
        yield (
            f"The steps of surface {surface.index + 1} ({sizes}) and {asked}: no strand clear of the nosings stops "
            f"that sphere. Smallest change: {_step_words(layout, surface, mends, unit)}."
        )


def _edges(layout: Layout) -> Iterator[_Spoken]:
    """The lowest edge over each flight, where a pack gives leave by it and it is low enough."""
    rule = layout.rules.lowest_edge
    radius = layout.job.strand.diameter / 2
    for surface in layout.line.surfaces if rule is not None else ():
        heights = layout.fields[surface.index].heights
        if surface.kind != "flight" or not heights or rule is None:
            continue
        if edge_within(rule, heights[-1], radius, surface.slope):
            value = float(heights[-1] - radius * secant(surface.slope))
            limit = float(rule.value)
            yield (
                rule,
                Finding.of(
                    rule,
                    "pass",
                    f"lowest edge over surface {surface.index + 1} (flight), plumb above its nosing line and parallel",
                    Place(surface.index),
                    value=value,
                    limit=limit,
                    unit=layout.job.unit,
                    margin=max(limit - value, 0.0),
                ),
            )


def _climbable(layout: Layout) -> Iterator[_Spoken]:
    """Strands in a band where nothing may help in climbing: near level, they may; the authority decides."""
    unit = layout.job.unit
    for rule in (rule for rule in layout.rules.rules if rule.quantity == "climbable band"):
        low = "the surface" if rule.from_height is None else f"{float(rule.from_height):.6g}"
        high = "the rail" if rule.to_height is None else f"{float(rule.to_height):.6g} {unit}"
        within: dict[int, list[int]] = {}
        for field in layout.fields:
            within.setdefault(sum(_in_band(rule, h) for h in field.heights), []).append(field.surface + 1)
        within.pop(0, None)
        what = f"strands from {low} to {high} above the surface or nosing line"
        if within:
            told = ", ".join(
                f"{count} over surface{'s' if len(numbers) > 1 else ''} {in_steps(numbers)}"
                for count, numbers in within.items()
            )
            yield (
                rule,
                Finding.of(
                    rule,
                    "needs a decision",
                    f"{what}: {told}",
                    unit="",
                    why=f"strands may be climbed like a ladder. {rule.note}",
                    fix="upright infill there, or a solid panel, where the authority asks for it",
                ),
            )
        else:
            yield (
                rule,
                Finding.of(
                    rule,
                    "pass",
                    f"{what}: none",
                ),
            )


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
        what = "largest difference of the handrail's heights over flights and ramps"
        why = "" if apart == 0 else f"no tolerance is printed. {rule.note}"
        yield (
            rule,
            Finding.of(
                rule,
                "pass" if apart == 0 else "needs a decision",
                what,
                value=apart,
                unit=layout.job.unit,
                why=why,
                binding=binds(rule, layout.job),
            ),
        )


def _heights(layout: Layout) -> Iterator[Applied]:
    return (one for one in applied(layout) if one.check.quantity == "handrail height")


def _give(layout: Layout) -> Iterator[Finding]:
    """Whether every opening holds the push that the job asks for."""
    if layout.give is None or layout.give.passes is None:
        return
    passes = layout.give.passes
    yield Finding(
        JOB, JOB, "push", _verdict(passes, True), "every opening under the push the job asks for (see give)",
        fix="" if passes else "more tension, or strands nearer: the openings say by how much",
    )  # fmt: skip


def _silent(layout: Layout, rule: Rule) -> Finding:
    """A rule on the handrail's section that the job states nothing for."""
    handrail = layout.job.handrail
    why = "[handrail] does not state it"
    if rule.quantity == "handrail size" and (handrail.perimeter or handrail.across):
        why = "the handrail's section is not round"
    elif rule.quantity in ("handrail perimeter", "handrail across") and handrail.diameter:
        why = "the handrail is round"
    return Finding.of(
        rule,
        "not checked",
        about(rule),
        limit=float(rule.value),
        unit=layout.job.unit,
        why=why,
        binding=binds(rule, layout.job),
    )
