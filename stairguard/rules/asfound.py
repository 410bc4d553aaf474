"""Findings on a guard as it stands: every figure taken on it held to every rule that speaks to it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final, NamedTuple

from stairguard.model.findings import Finding, Inspection, Place, Verdict
from stairguard.model.guard import PlacedSurface
from stairguard.model.job import Flight, MeasuredFlight
from stairguard.model.rules import Rule, RuleSet
from stairguard.rules.alike import in_steps
from stairguard.rules.cautions import of_rules, statuses
from stairguard.rules.checks import pitch_holds
from stairguard.rules.conflicts import conflicts
from stairguard.rules.consequence import by_consequence
from stairguard.rules.foundopenings import Judged, expected, judged
from stairguard.rules.measures import Reading, grips, smallest_run, steps
from stairguard.rules.mending import amount, mend
from stairguard.rules.read import read_practice
from stairguard.rules.sitewide import about, limit_unit, optional, present, required, sitewide
from stairguard.solve.measured import called
from stairguard.solve.measurement import Measurement
from stairguard.solve.surfaces import place
from stairguard.solve.taken import LENGTHS, Survey, Taken

__all__ = ["inspect_survey"]

_OPENINGS: Final = ("opening", "opening width", "ramp edge")
_ELSEWHERE: Final = (*_OPENINGS, "guard required", "load", "climbable band", "handrail uniformity")
"""Quantities that are not one bound on one length."""
_DIFFERENCES: Final[Mapping[str, str]] = {
    "riser difference": "riser", "run difference": "run", "nosing difference": "nosing projection",
}  # fmt: skip
"""What is told of several figures taken one by one."""


class _Figure(NamedTuple):
    """One length held to a bound: what and where it is, its standard uncertainty, the surface."""

    reading: Reading
    standard: float
    surface: PlacedSurface | None
    place: str = ""


def inspect_survey(survey: Survey, pack: RuleSet) -> Inspection:
    """Hold a guard as measured to the rules of a pack that bind at its site; the gravest finding first.

    Parameters
    ----------
    survey : lengths in its own unit
    pack : its rules in the same unit
    """
    rules = pack.at(survey.site)
    surfaces = place(survey.surfaces).surfaces
    kinds = {surface.kind for surface in surfaces}
    guard = _Guard(survey, rules, surfaces)
    findings: list[Finding] = [
        *(finding for rule in rules.rules for finding in guard.bounds(rule)),
        *guard.openings(), *guard.drops(), *guard.climbable(), *guard.uniform(), *guard.practice(),
        *sitewide(rules, survey.unit, kinds),
    ]  # fmt: skip
    ordered = by_consequence(findings)
    held = [one for one in ordered if one.binding]
    passes = all(one.verdict not in ("fail", "too close to call") for one in held)
    used = [rule for rule in rules.rules if any(one.clause == rule.clause for one in held)]
    apart = survey.site.top_is_handrail is not True
    clashes = conflicts(rules, (surface.kind for surface in surfaces), survey.unit, lambda rule: rule.binding, apart)
    cautions = (*of_rules(rules), *statuses(used), *_of_figures(survey))
    return Inspection(survey.title, survey.unit, rules, ordered, tuple(clashes), tuple(dict.fromkeys(cautions)), passes)


def _of_figures(survey: Survey) -> Iterator[str]:
    if any(row.length.plus_minus == 0 and row.opened is None for row in survey.taken) or not survey.plus_minus:
        yield "Figures without a +- are taken as exact, so a verdict near its limit says more than a tape can."
    yield "Only what was measured is held to the rules: places between may be worse."


class _Guard:
    """A survey beside its rules."""

    def __init__(self, survey: Survey, rules: RuleSet, surfaces: Sequence[PlacedSurface]) -> None:
        self.survey, self.rules, self.surfaces, self.unit = survey, rules, surfaces, survey.unit

    def bounds(self, rule: Rule) -> Iterator[Finding]:
        """What came of a bound at every figure it is about, and where there was no figure."""
        if rule.quantity in _ELSEWHERE:
            return
        figures = [figure for figure in self._figures(rule) if self._concerns(rule, figure)]
        yield from (self._bound(rule, figure) for figure in figures)
        yield from self._silent(rule, figures)

    def _figures(self, rule: Rule) -> Iterator[_Figure]:
        for row in self.survey.taken:
            surface = None if row.surface is None else self.surfaces[row.surface]
            if row.what == rule.quantity and self._placed(rule, row, surface):
                reading = Reading(row.length.value, _words(row, surface), row.at, _station(row))
                yield _Figure(reading, row.length.standard, surface, row.place)
        for surface in self.surfaces:
            measure = steps(_named(surface), surface).get(rule.quantity)
            equal = rule.quantity.endswith("difference") and isinstance(surface.given, Flight)  # said, not measured
            if measure is not None and rule.place in (surface.kind, "any") and not equal:
                yield _Figure(measure.against(rule.kind), self._of_steps(rule, surface), surface)
        measure = grips(self.survey.handrail).get(rule.quantity)
        if measure is not None:
            yield _Figure(measure.against(rule.kind), self._own(), None)
        if rule.quantity in _DIFFERENCES:
            yield from self._differences(_DIFFERENCES[rule.quantity])

    def _differences(self, what: str) -> Iterator[_Figure]:
        """The largest difference of several figures of one kind, taken one by one on one flight."""
        for surface in self.surfaces:
            rows = [row for row in self.survey.taken if row.what == what and row.surface == surface.index]
            if len(rows) > 1:
                low, high = (of(rows, key=lambda row: row.length.value) for of in (min, max))
                words = f"largest difference of {what}s measured of {_named(surface)}"
                reading = Reading(high.length.value - low.length.value, words, f"{low.at} and {high.at}".strip())
                yield _Figure(reading, math.hypot(low.length.standard, high.length.standard), surface)

    def _own(self) -> float:
        return Measurement("", Fraction(0), self.survey.plus_minus).standard

    def _of_steps(self, rule: Rule, surface: PlacedSurface) -> float:
        """Standard uncertainty of a figure of a surface; a slope is taken at its word.

        A step between two nosings is a difference of two figures, and one step less another of four.
        """
        if rule.quantity in ("pitch", "ramp slope"):
            return 0.0
        figures = 1
        if isinstance(surface.given, MeasuredFlight):
            figures = {"riser": 2, "run": 2, "riser difference": 4, "run difference": 4}.get(rule.quantity, 1)
        return self._own() * math.sqrt(figures)

    def _placed(self, rule: Rule, row: Taken, surface: PlacedSurface | None) -> bool:
        if row.what == "handrail extension":
            return row.place == rule.place
        return rule.place == "any" or (surface is not None and surface.kind == rule.place)

    def _concerns(self, rule: Rule, figure: _Figure) -> bool:
        """Whether the rule's condition on the run, if it has one, is met."""
        if rule.when_run_below is None or figure.surface is None:
            return True
        run = smallest_run(figure.surface)
        return run is not None and run < rule.when_run_below

    def _bound(self, rule: Rule, figure: _Figure) -> Finding:
        value, limit = figure.reading.value, rule.value
        if rule.in_runs and figure.surface is not None:
            limit *= smallest_run(figure.surface) or 1
        unit, shown, asked = limit_unit(rule, self.unit), float(value), float(limit)
        passes = value >= limit if rule.kind == "at least" else value <= limit
        if rule.quantity == "pitch" and figure.surface is not None:
            passes, shown = pitch_holds(rule, value), abs(figure.surface.pitch_deg)
        margin = shown - asked if rule.kind == "at least" else asked - shown
        band = 2 * float(self.survey.ratio) * figure.standard
        verdict = called(margin, band, passes)
        return self._told(rule, figure, verdict, shown, asked, unit, margin, band)

    def _told(
        self, rule: Rule, figure: _Figure, verdict: Verdict, value: float, limit: float, unit: str, margin: float,
        band: float,
    ) -> Finding:  # fmt: skip
        binding = rule.binding or rule.quantity.startswith("handrail")
        why, fix = "", ""
        if verdict == "fail":
            fix = mend(rule.quantity, rule.kind, -margin, unit)
            if band and fix:
                fix += f" ({amount(band - margin, unit)} to be sure)"
            if not binding:
                verdict, why = "needs a decision", optional(rule)
        elif verdict == "too close to call":
            why = f"the +- leaves a guard band of {band:.3g} {unit}, more than the margin"
            fix = _closer(margin, float(self.survey.ratio), unit)
        surface = None if figure.surface is None else figure.surface.index
        spot = Place(surface, figure.reading.where, figure.reading.station)
        return Finding.of(
            rule,
            verdict,
            figure.reading.what,
            spot,
            value=value,
            limit=limit,
            unit=unit,
            margin=margin,
            guard_band=band or None,
            why=why,
            fix=fix,
            binding=binding,
        )

    def _silent(self, rule: Rule, figures: Iterable[_Figure]) -> Iterator[Finding]:
        """A rule with surfaces where nothing was measured for it."""
        seen = {None if figure.surface is None else figure.surface.index for figure in figures}
        kind = "flight" if rule.place in ("flight top", "flight bottom") else rule.place
        if rule.when_run_below is not None or not present(rule, {surface.kind for surface in self.surfaces}):
            return
        missing = [surface.index + 1 for surface in self.surfaces if surface.kind == kind and surface.index not in seen]
        if rule.place == "any":
            missing = []
            if seen:
                return
        if missing or rule.place == "any":
            where = f" on surface{'s' if len(missing) > 1 else ''} {in_steps(missing)}" if missing else ""
            measurable = rule.quantity in LENGTHS
            why = f"not measured{where}" if measurable else "not to be told from these figures"
            yield Finding.of(
                rule,
                "not checked",
                about(rule),
                limit=float(rule.value),
                unit=limit_unit(rule, self.unit),
                why=why,
            )

    def openings(self) -> Iterator[Finding]:
        """Every opening that was measured, under every rule on it, and the kinds of opening that were not."""
        for row in self.survey.taken:
            if row.what == "opening":
                surface = None if row.surface is None else self.surfaces[row.surface]
                for one in judged(row, surface, self.rules, self.survey.ratio):
                    yield self._opening(row, surface, one)
        taken = {(row.surface, row.place) for row in self.survey.taken if row.what == "opening"}
        missing: dict[tuple[str, Rule], list[int]] = {}
        for surface in self.surfaces:
            for where, rule in expected(surface, self.rules):
                if (surface.index, where) not in taken:
                    missing.setdefault((where, rule), []).append(surface.index + 1)
        for (where, rule), numbers in missing.items():
            what = "openings between and around strands" if where == "any" else f"opening, {where}"
            yield Finding.of(
                rule,
                "not checked",
                what,
                limit=float(rule.value),
                unit=self.unit,
                why=f"not measured on surface{'s' if len(numbers) > 1 else ''} {in_steps(numbers)}",
            )

    def _opening(self, row: Taken, surface: PlacedSurface | None, one: Judged) -> Finding:
        rule = one.rule
        where = "" if row.place == "any" else f", {row.place}"
        of = "" if surface is None else f", of {_named(surface)}"
        return Finding.of(
            rule,
            one.verdict,
            f"largest sphere through the opening{where}, {row.at or 'no place told'}{of}",
            Place(row.surface, row.at, _station(row)),
            value=one.sphere,
            limit=float(rule.value),
            unit=self.unit,
            margin=float(rule.value) - one.sphere,
            guard_band=one.band or None,
            why=one.why,
            fix=one.fix,
        )

    def drops(self) -> Iterator[Finding]:
        """Whether a guard is required: by the drops measured, else by the one the site states."""
        drops = [row for row in self.survey.taken if row.what == "drop"]
        for rule in (rule for rule in self.rules.rules if rule.quantity == "guard required"):
            if not drops:
                yield required(rule, self.survey.site.drop, self.survey.site.reach, self.unit)
            for row in drops:
                found = required(rule, row.length.value, row.reach, self.unit, f", {row.at}" if row.at else "")
                yield replace(found, place=Place(row.surface, row.at, _station(row)))

    def climbable(self) -> Iterator[Finding]:
        """What one could climb by in a band where nothing may help: the authority decides what counts."""
        members = [row for row in self.survey.taken if row.what == "member"]
        for rule in (rule for rule in self.rules.rules if rule.quantity == "climbable band"):
            low, high = rule.from_height or Fraction(0), rule.to_height
            within = [row for row in members if row.length.value > low and (high is None or row.length.value < high)]
            top = "the rail" if high is None else f"{float(high):.6g} {self.unit}"
            what = f"members from {float(low):.6g} to {top} above the surface or nosing line"
            verdict: Verdict = "needs a decision" if within else "pass" if members else "not checked"
            why, fix = "", ""
            if within:
                what += ": " + ", ".join(f"{float(row.length.value):.6g} {row.at}".rstrip() for row in within)
                why, fix = f"they may be climbed like a ladder. {rule.note}", "upright infill there, or a solid panel"
            elif not members:
                why = f"no heights of members were given. {rule.note}"
            yield Finding.of(
                rule,
                verdict,
                what,
                why=why,
                fix=fix,
            )

    def uniform(self) -> Iterator[Finding]:
        """Whether the handrail keeps one height over flights and ramps."""
        rows = [
            row
            for row in self.survey.taken
            if row.what == "handrail height" and row.surface is not None and self.surfaces[row.surface].slope
        ]
        for rule in (rule for rule in self.rules.rules if rule.quantity == "handrail uniformity"):
            what = "largest difference of the handrail's heights over flights and ramps"
            if len(rows) < 2:
                yield Finding.of(
                    rule,
                    "not checked",
                    what,
                    unit=self.unit,
                    why="fewer than two heights were measured",
                )
                continue
            values = [row.length for row in rows]
            low, high = min(values, key=lambda m: m.value), max(values, key=lambda m: m.value)
            apart, blurred = high.value - low.value, low.plus_minus + high.plus_minus
            verdict: Verdict = "pass" if apart <= blurred else "needs a decision"
            why = f"no tolerance is printed. {rule.note}" if verdict != "pass" else "within what the tape can tell"
            yield Finding.of(
                rule,
                verdict,
                what,
                value=float(apart),
                unit=self.unit,
                why=why,
                binding=True,
            )

    def practice(self) -> Iterator[Finding]:
        """What fabricators commonly keep to, where it was measured."""
        for rule in read_practice(self.unit).rules:
            for figure in self._figures(rule):
                yield self._bound(rule, figure)


def _named(surface: PlacedSurface) -> str:
    return f"surface {surface.index + 1} ({surface.kind})"


def _station(row: Taken) -> float | None:
    return None if row.station is None else float(row.station)


def _words(row: Taken, surface: PlacedSurface | None) -> str:
    of = "" if surface is None else f" of {_named(surface)}"
    at = f", {row.at}" if row.at else ""
    where = f", {row.place}" if row.place else ""
    return f"{row.what}{where}{of}{at}"


def _closer(margin: float, ratio: float, unit: str) -> str:
    """The +- that would settle one length by itself."""
    if not margin or not ratio:
        return "no tape settles a figure at its very limit: mend it"
    plus_minus = abs(margin) * 3**0.5 / (2 * ratio)
    return f"measure it to +- {plus_minus:.2g} {unit} to settle it"
