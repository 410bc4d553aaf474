"""Bounds on a guard as it stands: every length taken on it, and every figure of its surfaces, against each bound."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Final, NamedTuple

from stairguard.geometry.marks import to_mark
from stairguard.model.asked.asked_opening import Measurement
from stairguard.model.findings import Finding, Location, Verdict
from stairguard.model.fixes import Fix, KeptBound, Retaken
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Flight, MeasuredFlight
from stairguard.model.measured_guard import LENGTHS, OF_THE_WHOLE, Survey, Taken
from stairguard.model.reasons import NotMeasured, Reason, Why
from stairguard.model.rules import Quantity, Rule
from stairguard.model.subjects import MeasuredDifferences, SeveralOf, Size, Spot, TakenAt, TakenFigure
from stairguard.rules.findings.site_findings import binds_handrail, optional, other_section, present, unchecked
from stairguard.rules.fixes.measured_advice import settled, to_measure
from stairguard.rules.fixes.surface_ways import Ways, down, up
from stairguard.rules.measures.held_bounds import held_to, margin
from stairguard.rules.measures.landing_depths import concerns, landing_depth
from stairguard.rules.measures.surface_measures import Reading, grips, on, steps
from stairguard.rules.pack.reader import read_practice
from stairguard.solve.measured.uncertainty import FINEST_READING, called, settled_by_one

_OPENINGS: Final = ("opening", "opening width", "ramp edge")
_ELSEWHERE: Final = (*_OPENINGS, "guard required", "load", "climbable band", "handrail uniformity")
"""Quantities that are not one bound on one length."""
_DIFFERENCES: Final[Mapping[Quantity, SeveralOf]] = {
    "riser difference": "riser", "run difference": "run", "nosing difference": "nosing projection",
}  # fmt: skip
"""What is told of several figures taken one by one."""


class _Figure(NamedTuple):
    """One length held to a bound: what and where it is, its standard uncertainty, the surface.

    ``spread`` is that uncertainty over the one of a single figure taken: more where it is a difference of several.
    ``rows`` are the places among the figures taken of what it was told by, none where the surfaces themselves do.
    """

    reading: Reading
    standard: float
    surface: PlacedSurface | None
    spread: float = 1.0
    rows: tuple[int, ...] = ()


class SurveyBounds:
    """A survey's lengths, to be held to bounds."""

    def __init__(self, survey: Survey, surfaces: Sequence[PlacedSurface]) -> None:
        self.survey, self.surfaces, self.unit = survey, surfaces, survey.unit
        self.ways = Ways(surfaces, survey.handrail, survey.unit, survey.tape)

    def held(self, rule: Rule) -> Iterator[Finding]:
        """What came of a bound at every figure it is about, and where there was no figure."""
        if rule.quantity in _ELSEWHERE:
            return
        figures = [
            figure
            for figure in self._figures(rule)
            if figure.surface is None or concerns(rule, self.surfaces, figure.surface.index)
        ]
        yield from (self._bound(rule, figure) for figure in figures)
        yield from self._silent(rule, figures)

    def _figures(self, rule: Rule) -> Iterator[_Figure]:
        for index, row in enumerate(self.survey.taken):
            surface = None if row.surface is None else self.surfaces[row.surface]
            if row.what == rule.quantity and self._placed(rule, row, surface):
                reading = Reading(row.length.value, _taken(row, surface), taken_at(row), station(row))
                yield _Figure(reading, row.length.standard, surface, rows=(index,))
        for surface in self.surfaces:
            depth = landing_depth(self.surfaces, surface.index) if surface.kind == "landing" else None
            if rule.quantity == "landing length" and depth is not None and not depth.decides(rule.kind, rule.value):
                continue
            measure = steps(surface, depth).get(rule.quantity)
            equal = rule.quantity.endswith("difference") and isinstance(surface.given, Flight)  # said, not measured
            if measure is not None and rule.place in (surface.kind, "any") and not equal:
                spread = _spread(rule, surface)
                yield _Figure(measure.against(rule.kind), self._own() * spread, surface, spread)
        measure = grips(self.survey.handrail).get(rule.quantity)
        if measure is not None:
            yield _Figure(measure.against(rule.kind), self._own(), None)
        if rule.quantity == "handrail height":
            yield from self._stated(rule)
        if rule.quantity in _DIFFERENCES:
            yield from self._differences(_DIFFERENCES[rule.quantity])

    def _stated(self, rule: Rule) -> Iterator[_Figure]:
        """The handrail's height as the job states it, where it was not measured."""
        handrail = self.survey.handrail
        taken = {row.surface for row in self.survey.taken if row.what == rule.quantity}
        for surface in self.surfaces:
            height = handrail.landing_height if surface.kind == "landing" else handrail.height
            if height is not None and surface.kind == rule.place and surface.index not in taken:
                yield _Figure(Reading(height, Size(on(surface), "handrail height")), self._own(), surface)

    def _differences(self, what: SeveralOf) -> Iterator[_Figure]:
        """The largest difference of several figures of one kind, taken one by one on one flight."""
        for surface in self.surfaces:
            found = [
                (index, row)
                for index, row in enumerate(self.survey.taken)
                if row.what == what and row.surface == surface.index
            ]
            rows = [row for _, row in found]
            if len(rows) > 1:
                low, high = (of(rows, key=lambda row: row.length.value) for of in (min, max))
                both_at = TakenAt((low.at, high.at))
                reading = Reading(high.length.value - low.length.value, MeasuredDifferences(on(surface), what), both_at)
                both = math.hypot(low.length.standard, high.length.standard)
                yield _Figure(reading, both, surface, math.sqrt(2), tuple(index for index, _ in found))

    def _own(self) -> float:
        return Measurement("", Fraction(0), self.survey.plus_minus).standard

    def _placed(self, rule: Rule, row: Taken, surface: PlacedSurface | None) -> bool:
        if row.what == "handrail extension":
            return row.place == rule.place
        return rule.place == "any" or (surface is not None and surface.kind == rule.place)

    def _bound(self, rule: Rule, figure: _Figure) -> Finding:
        held = held_to(rule, figure.reading.value, figure.surface, self.unit)
        inside = margin(rule.kind, held.value, held.limit)
        band = 2 * float(self.survey.ratio) * figure.standard
        verdict: Verdict = called(inside, band, held.passes)
        binding = binds_handrail(rule)
        why: tuple[Reason, ...] = ()
        fixes: tuple[Fix, ...] = ()
        if verdict == "fail" and not binding:
            verdict, why = "needs a decision", (optional(rule),)
        elif verdict == "too close to call":
            why = (Why.NEAR_LIMIT,)
            wide = float(self.survey.ratio) * figure.spread
            found = settled_by_one("it", inside, wide, FINEST_READING[self.unit])
            fixes = (settled(found, held.unit),) if found.again else ()  # else it is to be mended: see `fixes`
        return Finding.of(
            rule,
            verdict,
            figure.reading.what,
            _spot(figure),
            value=held.value,
            limit=held.limit,
            unit=held.unit,
            margin=inside,
            guard_band=band or None,
            why=why,
            fixes=fixes,
            binding=binding,
        )

    def fixes(self, finding: Finding, rule: Rule) -> Iterator[Fix]:
        """Ways to keep a bound that a finding says is not kept, to be put to the test."""
        for figure in self._figures(rule):
            if _spot(figure) == finding.place and figure.reading.what == finding.what:
                yield from self._mends(finding, rule, figure)
                return

    def _mends(self, finding: Finding, rule: Rule, figure: _Figure) -> Iterator[Fix]:
        """By the figures taken where it was told by those, else by those of the surfaces or the handrail."""
        limit, mark = Fraction(finding.limit or 0), self.survey.tape
        limit = rule.value if float(rule.value) == finding.limit else limit
        way: KeptBound = "at least" if rule.kind == "at least" else "at most"
        inward = 1 if way == "at least" else -1
        band = Fraction(finding.guard_band or 0)
        if rule.quantity in _DIFFERENCES and figure.rows:
            values = [self.survey.taken[index].length.value for index in figure.rows]
            mean = to_mark(sum(values, Fraction(0)) / len(values), mark)
            yield self._retaken(_DIFFERENCES[rule.quantity], "even", figure.rows, values[0], mean)
        elif figure.rows:
            for index in figure.rows:
                now = self.survey.taken[index].length.value
                value = up(limit, mark) if inward > 0 else down(limit, mark)
                sure = _beyond(limit + inward * band, mark, inward) if band else None
                if value >= 0:
                    yield self._retaken(rule.quantity, way, (index,), now, value, sure)
        else:
            yield from self.ways.of(finding, _beyond(limit + inward * band, mark, inward) if band else limit)

    def _retaken(
        self, quantity: Quantity, way: KeptBound, rows: tuple[int, ...], now: Fraction, value: Fraction,
        sure: Fraction | None = None,
    ) -> Fix:  # fmt: skip
        """Figures taken made others, off the inspector's tape."""
        made = Retaken(
            quantity=quantity, way=way, rows=rows, now=now, value=value, sure=sure,
            tape=self.ways.tape,
        )  # fmt: skip
        return Fix((made,))

    def _silent(self, rule: Rule, figures: Iterable[_Figure]) -> Iterator[Finding]:
        """A rule with surfaces where nothing was measured for it."""
        seen = {None if figure.surface is None else figure.surface.index for figure in figures}
        kind = "flight" if rule.place in ("flight top", "flight bottom") else rule.place
        if rule.when_run_below is not None or not present(rule, {surface.kind for surface in self.surfaces}):
            return
        asked = [] if rule.quantity in OF_THE_WHOLE else [
            s for s in self.surfaces if kind in (s.kind, "any") and concerns(rule, self.surfaces, s.index)
        ]  # fmt: skip
        missing = [surface.index + 1 for surface in asked if surface.index not in seen]
        if missing or not (asked or seen):
            length = next((what for what in LENGTHS if what == rule.quantity), None)
            unmeasured = NotMeasured(tuple(number - 1 for number in missing))
            why = unmeasured if length else Why.UNTOLD_BY_FIGURES
            known = {row.what for row in self.survey.taken} | set(grips(self.survey.handrail))
            other = other_section(rule, known)
            fix = to_measure(length, missing, rule.place) if length and missing and not other else None
            yield unchecked(rule, self.unit, other or why, fixes=() if fix is None else (fix,))

    def practice(self) -> Iterator[Finding]:
        """What fabricators commonly keep to, where it was measured."""
        for rule in read_practice(self.unit).rules:
            for figure in self._figures(rule):
                yield self._bound(rule, figure)


def _spot(figure: _Figure) -> Location:
    surface = None if figure.surface is None else figure.surface.index
    return Location(surface, figure.reading.where, figure.reading.station)


def _beyond(value: Fraction, mark: Fraction, inward: int) -> Fraction:
    """The next mark that is farther inside than a value."""
    first = up(value, mark) if inward > 0 else down(value, mark)
    return first if first != value else first + inward * mark


def station(row: Taken) -> float | None:
    """Where along the line a figure was taken, if that was said."""
    return None if row.station is None else float(row.station)


def taken_at(row: Taken) -> Spot:
    """Where a figure was taken, as the inspector says."""
    return TakenAt((row.at,)) if row.at else ""


def _taken(row: Taken, surface: PlacedSurface | None) -> TakenFigure:
    return TakenFigure(None if surface is None else on(surface), row.what, row.place, row.at)


def _spread(rule: Rule, surface: PlacedSurface) -> float:
    """How much more uncertain a figure of a surface is than one figure taken; a slope is taken at its word.

    A step between two nosings is a difference of two figures, and one step less another of four.
    """
    if rule.quantity in ("pitch", "ramp slope"):
        return 0.0
    if isinstance(surface.given, MeasuredFlight):
        return math.sqrt({"riser": 2, "run": 2, "riser difference": 4, "run difference": 4}.get(rule.quantity, 1))
    return 1.0
