"""Fixes put to the test before they are told: carried out, laid out anew, and held to the same rules again."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Final, NamedTuple, TypeAlias

from stairguard.errors import GeometryError, JobError
from stairguard.model.apart_from_place import apart_from_place
from stairguard.model.findings import Finding
from stairguard.model.fixes import Also, BrokenClause, Change, Fix
from stairguard.model.guard.opening_kinds import Where
from stairguard.model.subjects import Spot, TakenAt
from stairguard.rules.fixes.carry_out import earlier

_NUMBERS: Final = re.compile(r"\s*\bP?\d+\b")
"""In an inspector's own words."""

BreachMatter: TypeAlias = tuple[object, ...]
"""What a finding is about, whatever its figures: rule and place."""


class Missed(NamedTuple):
    """A matter that is not kept: what it is told as, and whether it fails or is only in doubt, or an option."""

    told: BrokenClause
    fails: bool


class Trial(NamedTuple):
    """What a guard does not keep, and what else is to be told of it."""

    unkept: Mapping[BreachMatter, Missed]
    also: tuple[Also, ...] = ()


def unkept(findings: Iterable[Finding], fix: Fix | None = None) -> dict[BreachMatter, Missed]:
    """Matters that findings leave unkept or in doubt; of surfaces counted as they were before a fix."""
    found: dict[BreachMatter, Missed] = {}
    for one in findings:
        if one.verdict in ("fail", "too close to call") or _missed(one):
            index = one.place.surface if fix is None else earlier(fix, one.place.surface)
            matter, fails = _matter(one, index), one.verdict == "fail"
            if fails or matter not in found:
                found[matter] = Missed(_broken(one), fails)
    return found


def _missed(one: Finding) -> bool:
    """Whether an option, or what an authority decides, is not met: no failure, yet nothing to bring about untold."""
    short = one.margin is not None and one.margin < 0
    return short and one.verdict == "needs a decision" and one.kind in ("at least", "at most")


def _matter(one: Finding, index: int | None) -> BreachMatter:
    kind = _kind(one.place.where) if one.quantity == "opening" else ""
    return one.clause, one.quantity, one.kind, one.scope, kind, index


def _kind(where: Spot) -> object:
    """What an opening is among others: its number may be another's once a fix is carried out."""
    if isinstance(where, Where):
        return apart_from_place(replace(where, step=None))
    return tuple(_NUMBERS.sub("", place) for place in where.places) if isinstance(where, TakenAt) else where


def _same_rule(one: BreachMatter, other: BreachMatter) -> bool:
    """Whether two matters are of one rule on one surface: a breach that is only found elsewhere there is not mended."""
    return (one[:4], one[-1]) == (other[:4], other[-1])


def _keys(fix: Fix) -> tuple[object, ...]:
    return tuple(
        (step.table, step.key, step.surfaces) if isinstance(step, Change) else type(step) for step in fix.steps
    )


def _broken(one: Finding) -> BrokenClause:
    own = one.quantity if one.clause == one.status == "job" else ""
    return BrokenClause(one.clause, option=not own and not one.binding, own=own)


def _harm(new: Collection[Missed]) -> tuple[int, int]:
    """How many rules a fix leaves unkept that were kept, and then how many options."""
    fails = {missed.told: False for missed in new}
    fails |= {missed.told: True for missed in new if missed.fails}
    return sum(fails.values()), sum(not one for one in fails.values())


@dataclass(slots=True)
class Trials:
    """Puts fixes of one guard to the test.

    ``tried`` carries a fix out and says what it leaves unkept; it raises what the solver does where no such guard is.
    ``now`` is what is unkept before any.
    """

    tried: Callable[[Fix], Trial]
    now: Mapping[BreachMatter, Missed]
    _seen: dict[tuple[object, ...], Trial | None]
    _tried: dict[tuple[object, ...], Fix]

    @classmethod
    def of(cls, tried: Callable[[Fix], Trial], findings: Iterable[Finding]) -> Trials:
        """Trials of a guard on which these findings were made."""
        return cls(tried, unkept(findings), {}, {})

    def best(self, finding: Finding, ways: Iterator[Fix], wanted: int = 1, most: int = 9) -> tuple[Fix, ...]:
        """Of ways to mend a finding those that do: so many ``wanted`` that break nothing else, or the least harmful.

        ``most`` are tried, but none by the keys of one that is found. Empty where none mends it.
        """
        clean: list[Fix] = []
        costly: list[tuple[tuple[int, int], Fix]] = []
        found: set[tuple[object, ...]] = set()
        for _, fix in zip(range(most), ways, strict=False):
            if _keys(fix) in found:
                continue
            told = self.told(finding, fix)
            if told is None:
                continue
            if told.breaks:
                costly.append((self.harm(fix), told))
                continue
            clean.append(told)
            found.add(_keys(fix))
            if len(clean) == wanted:
                break
        if clean or not costly:
            return tuple(clean)
        # the first of those that do the least harm: ways come the least intrusive first
        return (min(costly, key=lambda one: one[0])[1],)

    def told(self, finding: Finding, fix: Fix) -> Fix | None:
        """A fix with what it breaks and what else comes of it; None where it does not mend the finding."""
        about, outcome = _matter(finding, finding.place.surface), self._outcome(fix)
        new = {} if outcome is None else self._new(outcome)
        if outcome is None or about in outcome.unkept or any(_same_rule(about, key) for key in new):
            return None
        breaks = tuple(dict.fromkeys(missed.told for missed in new.values()))
        return replace(fix, breaks=breaks, also=tuple(dict.fromkeys((*fix.also, *outcome.also))))

    def harm(self, fix: Fix) -> tuple[int, int]:
        """How many rules a fix leaves unkept that were kept, and then how many options; of one that can be laid out."""
        outcome = self._outcome(fix)
        assert outcome is not None  # asked of what was laid out
        return _harm(self._new(outcome).values())

    def laid_out(self) -> tuple[Fix, ...]:
        """Fixes tried so far that can be laid out, in the order in which they were tried."""
        return tuple(self._tried[steps] for steps, outcome in self._seen.items() if outcome is not None)

    def _new(self, outcome: Trial) -> dict[BreachMatter, Missed]:
        """What is not kept that was, or fails that was only in doubt."""
        now = self.now
        return {
            key: missed
            for key, missed in outcome.unkept.items()
            if key not in now or (missed.fails and not now[key].fails)
        }

    def _outcome(self, fix: Fix) -> Trial | None:
        """None where no such guard can be laid out."""
        if fix.steps not in self._seen:
            self._tried[fix.steps] = fix
            try:
                self._seen[fix.steps] = self.tried(fix)
            except (JobError, GeometryError):
                self._seen[fix.steps] = None
        return self._seen[fix.steps]
