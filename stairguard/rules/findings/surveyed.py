"""Findings on a guard as it stands: every figure taken on it held to every rule that speaks to it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import partial

from stairguard.model.asked.asked_opening import Measurement
from stairguard.model.cautions import Caution, PlainCaution
from stairguard.model.findings import Finding, Inspection, Location
from stairguard.model.fixes import Fix, Retaken, SideEffect, TapeMark
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.measured_guard import Survey, Taken
from stairguard.model.outcome import Outcome
from stairguard.model.reasons import Noted, NotMeasured, Why
from stairguard.model.rules import Rule, RuleSet
from stairguard.model.site import Site
from stairguard.model.subjects import MeasuredSphere, MembersInBand, Openings, WholeGuard
from stairguard.rules.findings.conflicts import conflicts
from stairguard.rules.findings.guard_cautions import of_rules, statuses
from stairguard.rules.findings.severity import by_consequence
from stairguard.rules.findings.site_findings import climbed, may_bind, required, sitewide, unchecked, uniform
from stairguard.rules.findings.surveyed_bounds import SurveyBounds, station, taken_at
from stairguard.rules.findings.surveyed_openings import JudgedOpening, expected, judged
from stairguard.rules.fixes.carry_out import retaken
from stairguard.rules.fixes.measured_advice import MEND, NONE, surely, to_measure
from stairguard.rules.fixes.measured_ways import ClosingTerms, opening_fixes
from stairguard.rules.fixes.together import Told, together
from stairguard.rules.fixes.trials import Trial, Trials, unkept
from stairguard.rules.measures.surface_measures import on
from stairguard.rules.pack.reader import read_practice
from stairguard.solve.line.surface_line import place


def inspect_survey(survey: Survey, pack: RuleSet, fixes: bool = True) -> Inspection:
    """Hold a guard as measured to the rules of a pack that bind at its site; the gravest finding first.

    Parameters
    ----------
    survey : lengths in its own unit
    pack : its rules in the same unit
    fixes : whether to look for what would mend each breach
    """
    rules = pack.at(_site(survey))
    surfaces = place(survey.surfaces).surfaces
    plain = partial(_findings, survey, rules, surfaces, mend=False)
    ordered = by_consequence(_mended(survey, pack, rules, surfaces) if fixes else plain())
    held = [one for one in ordered if one.binding]
    used = [rule for rule in rules.rules if any(one.clause == rule.clause for one in held)]
    apart = survey.site.top_is_handrail is not True
    clashes = conflicts(rules, (surface.kind for surface in surfaces), survey.unit, lambda rule: rule.binding, apart)
    return Inspection(
        title=survey.title,
        unit=survey.unit,
        rules=rules,
        findings=ordered,
        conflicts=tuple(clashes),
        cautions=(*of_rules(rules), *statuses(used), *_of_figures(survey)),
        outcome=_outcome(held),
        mark=survey.tape,
    )


def _outcome(held: Sequence[Finding]) -> Outcome:
    """What comes of findings that bind: without the height, or an opening, of a surface that has one, nothing yet."""
    verdicts = {one.verdict for one in held}
    if "fail" in verdicts:
        return "does not comply"
    if "too close to call" in verdicts:
        return "too close to call"
    missing = any(one.verdict == "not checked" and one.needed for one in held)
    return "incomplete" if missing else "complies"


def _findings(survey: Survey, rules: RuleSet, surfaces: Sequence[PlacedSurface], mend: bool) -> Iterator[Finding]:
    """What came of every rule; ``mend`` looks for what would close an opening."""
    guard, bounds = _Guard(survey, rules, surfaces), SurveyBounds(survey, surfaces)
    for rule in rules.rules:
        yield from (may_bind(finding, rule, rules) for finding in bounds.held(rule))
    yield from guard.openings(mend)
    yield from (*guard.drops(), *guard.climbable(), *guard.uniform(), *bounds.practice())
    yield from sitewide(rules, survey.unit, {surface.kind for surface in surfaces})


def _mended(survey: Survey, pack: RuleSet, rules: RuleSet, surfaces: Sequence[PlacedSurface]) -> Iterator[Finding]:
    """Findings with what would mend each, carried out and held to the same rules before it is told."""
    findings = list(_findings(survey, rules, surfaces, mend=True))

    def tried(fix: Fix) -> Trial:
        other = retaken(survey, fix, sure=True)
        placed = place(other.surfaces).surfaces
        found = _findings(other, pack.at(_site(other)), placed, mend=False)
        return Trial(unkept(found, fix), _again(survey, fix))

    trials, bounds = Trials.of(tried, findings), SurveyBounds(survey, surfaces)
    known = (*rules.rules, *read_practice(survey.unit).rules)
    ruled = [next((r for r in known if _says(r, one)), None) if _sought(one) else None for one in findings]
    told = [
        Told(one, () if rule is None else trials.best(one, bounds.fixes(one, rule)))
        for one, rule in zip(findings, ruled, strict=True)
    ]
    agreed = together(lambda fix: retaken(survey, fix).surfaces, told, trials)
    alone = [tuple(replace(way, also=(*way.also, SideEffect.BY_ITSELF)) for way in one.ways) for one in told]
    for (one, together_with), by_itself, rule in zip(agreed, alone, ruled, strict=True):
        ways = together_with or by_itself
        if rule is None:
            yield one
        elif one.verdict == "too close to call":
            yield replace(one, fixes=surely(ways) or (MEND,))
        else:
            yield replace(one, fixes=ways or (NONE,))


def _sought(one: Finding) -> bool:
    """Whether figures are to be looked for: of what fails or misses, and of what no tape would settle."""
    if one.verdict == "needs a decision":
        return (one.margin or 0) < 0 and not one.fixes
    return one.verdict in ("fail", "too close to call") and not one.fixes


def _again(survey: Survey, fix: Fix) -> tuple[SideEffect, ...]:
    """What is to be measured again: openings over steps that a fix makes others."""
    over = any(not isinstance(step, Retaken) for step in fix.steps)
    steps = any(row.opened is not None and row.opened.form in ("closed step", "open step") for row in survey.taken)
    return (SideEffect.MEASURE_AGAIN,) if over and steps else ()


def _says(rule: Rule, one: Finding) -> bool:
    """Whether a finding is what came of a rule."""
    same = (rule.clause, rule.quantity, rule.kind, rule.place) == (one.clause, one.quantity, one.kind, one.scope)
    return same and (rule.in_runs or one.limit == float(rule.value))


def _site(survey: Survey) -> Site:
    """The site as stated, its greatest drop the greatest of what was stated and measured, a handrail if one was."""
    stated = () if survey.site.drop is None else (survey.site.drop,)
    drops = [*stated, *(row.length.value for row in survey.taken if row.what == "drop")]
    site = replace(survey.site, drop=max(drops)) if drops else survey.site
    return replace(site, own_handrail=True) if any(row.what.startswith("handrail") for row in survey.taken) else site


def _of_figures(survey: Survey) -> Iterator[Caution]:
    if any(row.length.plus_minus == 0 and row.opened is None for row in survey.taken) or not survey.plus_minus:
        yield PlainCaution.TAKEN_AS_EXACT
    yield PlainCaution.ONLY_MEASURED


class _Guard:
    """A survey beside its rules."""

    def __init__(self, survey: Survey, rules: RuleSet, surfaces: Sequence[PlacedSurface]) -> None:
        self.survey, self.rules, self.surfaces, self.unit = survey, rules, surfaces, survey.unit

    def openings(self, mend: bool) -> Iterator[Finding]:
        """Every opening that was measured, under every rule on it, and the kinds of opening that were not."""
        survey = self.survey
        for index, row in enumerate(survey.taken):
            if row.what == "opening":
                surface = None if row.surface is None else self.surfaces[row.surface]
                closing = partial(self._closed, row, index) if mend else None
                low = self._low_edge(row.surface)
                for one in judged(row, surface, self.rules, survey.ratio, self.unit, low, closing):
                    yield self._opening(row, surface, one)
        taken = {(row.surface, row.place) for row in self.survey.taken if row.what == "opening"}
        missing: dict[tuple[str, Rule], list[int]] = {}
        for surface in self.surfaces:
            for where, rule in expected(surface, self.rules):
                if (surface.index, where) not in taken:
                    missing.setdefault((where, rule), []).append(surface.index + 1)
        for (where, rule), numbers in missing.items():
            why = NotMeasured(tuple(number - 1 for number in numbers))
            fixes = (to_measure("opening", numbers, where),)
            yield unchecked(rule, self.unit, why, what=Openings(where), fixes=fixes)

    def _closed(self, row: Taken, index: int, rule: Rule, band: float) -> tuple[Fix, ...]:
        """Ways to close an opening that fails a rule."""
        closed = ClosingTerms(rule, self.survey.ratio, TapeMark(self.unit, self.survey.tape), band)
        return opening_fixes(row, index, closed)

    def _low_edge(self, surface: int | None) -> bool:
        """Whether the lowest edge was measured on a surface, and is everywhere low enough for leave by it."""
        edges = [row.length for row in self.survey.taken if row.what == "lowest edge" and row.surface == surface]
        rule = self.rules.lowest_edge
        return rule is not None and bool(edges) and all(m.value + m.plus_minus <= rule.value for m in edges)

    def _opening(self, row: Taken, surface: PlacedSurface | None, one: JudgedOpening) -> Finding:
        rule = one.rule
        return Finding.of(
            rule,
            one.verdict,
            MeasuredSphere(None if surface is None else on(surface), row.place, row.at),
            Location(row.surface, taken_at(row), station(row)),
            value=one.sphere,
            limit=float(rule.value),
            unit=self.unit,
            margin=one.margin,
            guard_band=one.band or None,
            why=one.why,
            fixes=one.fixes,
        )

    def drops(self) -> Iterator[Finding]:
        """Whether a guard is required: by the drops measured, else by the one the site states."""
        drops = [row for row in self.survey.taken if row.what == "drop"]
        for rule in (rule for rule in self.rules.rules if rule.quantity == "guard required"):
            if not drops:
                yield required(rule, self.survey.site.drop, self.survey.site.reach, self.unit)
            for row in drops:
                found = required(rule, row.length.value, row.reach, self.unit, row.at, row.length.plus_minus)
                yield replace(found, place=Location(row.surface, taken_at(row), station(row)))

    def climbable(self) -> Iterator[Finding]:
        """What one could climb by in a band where nothing may help."""
        members = [row for row in self.survey.taken if row.what == "member"]
        for rule in (rule for rule in self.rules.rules if rule.quantity == "climbable band"):
            low, high = rule.from_height or Fraction(0), rule.to_height
            within = [row for row in members if _may_be_between(row.length, low, high)]
            what = MembersInBand(low, high, self.unit, tuple((row.length.value, row.at) for row in within))
            if members:
                yield climbed(rule, what)
            else:
                yield Finding.of(rule, "not checked", what, why=(Noted(Why.NO_MEMBERS, rule.note),))

    def uniform(self) -> Iterator[Finding]:
        """Whether the handrail keeps one height over flights and ramps."""
        rows = [
            row
            for row in self.survey.taken
            if row.what == "handrail height" and row.surface is not None and self.surfaces[row.surface].slope
        ]
        for rule in (rule for rule in self.rules.rules if rule.quantity == "handrail uniformity"):
            if len(rows) < 2:
                what = WholeGuard("handrail heights")
                yield Finding.of(rule, "not checked", what, unit=self.unit, why=(Why.FEW_HEIGHTS,))
                continue
            values = [row.length for row in rows]
            low, high = min(values, key=lambda m: m.value), max(values, key=lambda m: m.value)
            apart, blurred = high.value - low.value, low.plus_minus + high.plus_minus
            yield uniform(rule, self.unit, apart, blurred=blurred)


def _may_be_between(length: Measurement, low: Fraction, high: Fraction | None) -> bool:
    """Whether a length may lie between two heights, as far as its +- tells."""
    below = high is None or length.value - length.plus_minus < high
    return below and length.value + length.plus_minus > low
