"""Ways to mend steps, landings and ramps: figures of the surfaces that would keep a bound, to be put to the test."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final, TypeAlias

from stairguard.model.findings import Finding
from stairguard.model.fixes import (
    FINEST,
    Change,
    Divided,
    Evened,
    Fix,
    Inserted,
    JobTable,
    LineLonger,
    Long,
    SameSteps,
    SetValue,
    SideEffect,
    Step,
    TapeMark,
)
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Flight, Handrail, Landing, MeasuredFlight, Ramp, Surface
from stairguard.relations.printed import scalars
from stairguard.rules.fixes.carry_out import equal_steps

_FINE: Final = Fraction(1, 10_000)
"""To what a rise or run is written that no tape shows: it is reckoned with, not marked."""
_MOST_PARTS: Final = 20
_LEAST_RISERS: Final = 2
_LANDING: Final[Mapping[str, int]] = {"in": 48, "mm": 1200}
"""Length of a landing put in where no rule asks for one: a choice, no source."""
_SECTIONS: Final = {
    "handrail size": "diameter", "handrail perimeter": "perimeter", "handrail across": "across",
    "handrail clearance": "clearance",
}  # fmt: skip

_Way: TypeAlias = Callable[["Ways", Finding, Fraction], Iterator[Fix]]


def up(value: Fraction | float, mark: Fraction) -> Fraction:
    """The least mark that is no less."""
    return math.ceil(Fraction(value) / mark) * mark


def down(value: Fraction | float, mark: Fraction) -> Fraction:
    """The greatest mark that is no more."""
    return math.floor(Fraction(value) / mark) * mark


def fine(value: Fraction, kind: str) -> Fraction:
    """A rise or run that no tape shows, as it is written: itself where that ends soon, else cut on the safe side."""
    if (value / _FINE).denominator == 1 or (value * FINEST).denominator == 1:
        return value
    return up(value, _FINE) if kind == "at least" else down(value, _FINE)


class Ways:
    """Ways for one line of surfaces, its figures read off a tape with this ``mark``.

    ``landing`` is the least length that the rules ask of a landing, None where they ask for none.
    """

    def __init__(
        self, surfaces: Sequence[PlacedSurface], handrail: Handrail, unit: str, mark: Fraction,
        landing: Fraction | None = None,
    ) -> None:  # fmt: skip
        self.surfaces, self.handrail, self.mark, self.tape = surfaces, handrail, mark, TapeMark(unit, mark)
        self.landing = Fraction(_LANDING[unit]) if landing is None else up(landing, mark)

    def of(self, finding: Finding, limit: Fraction) -> Iterator[Fix]:
        """Ways to keep a finding's bound at this limit, the least intrusive first; none where none is known."""
        way = _WAYS.get(finding.quantity)
        if way is not None:
            yield from way(self, finding, limit)

    def change(
        self, table: JobTable, key: str, value: SetValue, now: Fraction | None = None, surfaces: tuple[int, ...] = ()
    ) -> Change:
        """A key to set, in this line's unit."""
        by = value - now if isinstance(value, Fraction) and now is not None else None
        return Change(table, key, value, by, self.tape, surfaces)

    def given(self, finding: Finding) -> Surface | None:
        """What a finding's surface is."""
        return None if finding.place.surface is None else self.surfaces[finding.place.surface].given

    def alike(self, finding: Finding) -> tuple[int, ...]:
        """The surfaces given just as a finding's is, wherever they turn and their posts stand."""
        mine = self.given(finding)
        assert mine is not None  # asked of findings on a surface only
        return tuple(s.index for s in self.surfaces if _bare(s.given) == _bare(mine))

    def to_marks(self, kind: str, limit: Fraction) -> tuple[Fraction, Fraction]:
        """The nearest mark that keeps a bound, and the next, for bounds that an exact tie does not keep."""
        if kind == "at least":
            first = up(limit, self.mark)
            return first, first + self.mark
        first = down(limit, self.mark)
        return first, first - self.mark

    # --- flights ------------------------------------------------------------------------------------------------------

    def risers(self, finding: Finding, limit: Fraction) -> Iterator[Fix]:
        """More or fewer risers of the same whole rise."""
        given = self.given(finding)
        if isinstance(given, MeasuredFlight) and finding.quantity == "riser":
            yield from self.evened(finding, "risers")
        if isinstance(given, (Flight, MeasuredFlight)):
            steps = _equal(given)
            total = steps.rise * steps.risers
            least = math.ceil(total / limit) if finding.kind == "at most" else math.floor(total / limit)
            for count in (least, least + (1 if finding.kind == "at most" else -1)):
                if count >= _LEAST_RISERS and count != steps.risers:
                    yield self._stepped(finding, given, count, total / count, steps.run)

    def runs(self, finding: Finding, limit: Fraction) -> Iterator[Fix]:
        """Other runs, as many as now."""
        given = self.given(finding)
        if isinstance(given, MeasuredFlight) and finding.quantity == "run":
            yield from self.evened(finding, "runs")
        if isinstance(given, (Flight, MeasuredFlight)):
            steps = _equal(given)
            for run in self.to_marks(finding.kind, limit):
                if run > 0 and run != steps.run:
                    yield self._stepped(finding, given, steps.risers, steps.rise, run)

    def _stepped(self, finding: Finding, given: Surface, count: int, rise: Fraction, run: Fraction) -> Fix:
        """Equal steps of these sizes on every flight like the finding's, and how long each is then."""
        assert isinstance(given, (Flight, MeasuredFlight))
        where, steps = self.alike(finding), _equal(given)
        surveyed = isinstance(given, MeasuredFlight)
        changes: list[Step] = []
        if count != steps.risers or surveyed:
            changes.append(self.change("surface", "risers", count, None, where))
        if rise != steps.rise or surveyed:
            changes.append(self.change("surface", "rise", fine(rise, finding.kind), steps.rise, where))
        if run != steps.run or surveyed:
            changes.append(
                self.change("surface", "run", run if run % self.mark == 0 else fine(run, "at least"), steps.run, where)
            )
        level, was = (count - 1) * run, (steps.risers - 1) * steps.run
        built = (SideEffect.BUILT_ANEW,) if surveyed else ()
        return Fix(tuple(changes), built, long=None if level == was else self.long(where, level))

    def long(self, surfaces: tuple[int, ...], level: Fraction) -> Long:
        """How long flights are then."""
        return Long(surfaces, level, self.tape)

    def evened(self, finding: Finding, what: SameSteps) -> Iterator[Fix]:
        """Steps as surveyed made equal, between the same ends."""
        given = self.given(finding)
        if isinstance(given, MeasuredFlight):
            steps = equal_steps(given)
            size = steps.rise if what == "risers" else steps.run
            assert finding.place.surface is not None  # as it is of a flight
            step = Evened(finding.place.surface, what, fine(size, "at most"), self.tape)
            yield Fix((step,))

    def nosing(self, finding: Finding, limit: Fraction) -> Iterator[Fix]:
        """Another projection."""
        given = self.given(finding)
        if isinstance(given, (Flight, MeasuredFlight)):
            for nosing in self.to_marks(finding.kind, limit):
                if nosing >= 0:
                    yield Fix((self.change("surface", "nosing", nosing, given.nosing, self.alike(finding)),))

    def pitch(self, finding: Finding, limit: Fraction) -> Iterator[Fix]:
        """Longer runs, or shorter ones; else other risers."""
        given = self.given(finding)
        if isinstance(given, (Flight, MeasuredFlight)):
            steep = Fraction(scalars.pitch_rise(1.0, float(limit)))
            steps = _equal(given)
            run = steps.rise / steep
            as_run = replace(finding, kind="at least" if finding.kind == "at most" else "at most")
            yield from self.runs(as_run, run)
            yield from self.risers(finding, steps.run * steep)

    def comfort(self, finding: Finding, limit: Fraction) -> Iterator[Fix]:
        """Two rises and a run: another run, else other risers."""
        given = self.given(finding)
        if isinstance(given, (Flight, MeasuredFlight)):
            steps = _equal(given)
            yield from self.runs(finding, limit - 2 * steps.rise)
            if limit > steps.run:
                yield from self.risers(finding, (limit - steps.run) / 2)

    # --- landings and ramps -------------------------------------------------------------------------------------------

    def landing_length(self, finding: Finding, limit: Fraction) -> Iterator[Fix]:
        """A longer landing, or a shorter; between two flights with none, one put in."""
        given, index = self.given(finding), finding.place.surface
        if isinstance(given, Landing):
            key, now = ("length", given.length) if given.depth is None else ("depth", given.depth)
            for length in self.to_marks(finding.kind, limit):
                yield Fix((self.change("surface", key, length, now, self.alike(finding)),))
        elif index is not None:
            yield from self._between(index, limit)

    def _between(self, index: int, limit: Fraction) -> Iterator[Fix]:
        """A landing between two flights: the one there is longer, or one put in, over which the rails run on."""
        after = self.surfaces[index + 1].given
        if isinstance(after, Landing):
            key, now = ("length", after.length) if after.depth is None else ("depth", after.depth)
            yield Fix((self.change("surface", key, up(limit, self.mark), now, (index + 1,)),))
            return
        for length, level_piece in ((up(limit, self.mark), False), (up(limit, self.mark), True), (self.landing, True)):
            yield Fix((Inserted(index + 1, length, level_piece, self.tape),))

    def slope(self, finding: Finding, limit: Fraction) -> Iterator[Fix]:
        """A longer ramp of the same rise."""
        given = self.given(finding)
        if isinstance(given, Ramp):
            length = up(abs(given.rise) / limit, self.mark)
            yield Fix((self.change("surface", "length", length, given.length, self.alike(finding)),))

    def divided(self, finding: Finding, limit: Fraction) -> Iterator[Fix]:
        """A flight or ramp that rises too far, divided by landings."""
        given, index = self.given(finding), finding.place.surface
        if index is None or isinstance(given, (Landing, MeasuredFlight)):
            return
        if isinstance(given, Flight):
            share = math.ceil(given.risers / max(math.floor(limit / given.rise), 1))
            parts = _shared(given.risers, share)
            fits = min(parts) >= _LEAST_RISERS  # not where one riser is more than the limit
        else:
            share = math.ceil(Fraction(finding.value or 0) / limit)
            parts, fits = (0,) * share, True
        if fits and 1 < share <= _MOST_PARTS:
            longer = (share - 1) * self.landing
            also = (LineLonger(longer, self.tape),)
            yield Fix((Divided(index, parts, self.landing, isinstance(given, Ramp), self.tape),), also)

    # --- the handrail -------------------------------------------------------------------------------------------------

    def section(self, finding: Finding, limit: Fraction) -> Iterator[Fix]:
        """Another section of handrail, or another place."""
        key = _SECTIONS[finding.quantity]
        now = getattr(self.handrail, key)
        for value in self.to_marks(finding.kind, limit) if now is not None else ():
            yield Fix((self.change("handrail", key, value, now),))

    def own_handrail(self, finding: Finding, limit: Fraction) -> Iterator[Fix]:
        """The height of a handrail of its own."""
        level = isinstance(self.given(finding), Landing)
        key = "landing_height" if level else "height"
        if self.handrail.height is None or finding.value is None:
            return
        now = getattr(self.handrail, key)
        height = limit if now is None else now + limit - Fraction(finding.value)
        for value in self.to_marks(finding.kind, height):
            yield Fix((self.change("handrail", key, value, now),))


def _bare(given: Surface) -> Surface:
    return replace(given, turn=0.0, posts=None, start_post=None)


def _equal(given: Flight | MeasuredFlight) -> Flight:
    return equal_steps(given) if isinstance(given, MeasuredFlight) else given


def _shared(risers: int, parts: int) -> tuple[int, ...]:
    """Risers shared out over so many flights, as evenly as may be."""
    return tuple(risers // parts + (k < risers % parts) for k in range(parts))


_WAYS: Final[Mapping[str, _Way]] = {
    "riser": Ways.risers,
    "run": Ways.runs,
    "nosing projection": Ways.nosing,
    "pitch": Ways.pitch,
    "step comfort": Ways.comfort,
    "flight rise": Ways.divided,
    "ramp rise": Ways.divided,
    "ramp slope": Ways.slope,
    "landing length": Ways.landing_length,
    "riser difference": lambda ways, finding, _: ways.evened(finding, "risers"),
    "run difference": lambda ways, finding, _: ways.evened(finding, "runs"),
    "handrail size": Ways.section,
    "handrail perimeter": Ways.section,
    "handrail across": Ways.section,
    "handrail clearance": Ways.section,
    "handrail height": Ways.own_handrail,
}
