"""What came of holding a guard to its rules: one finding a rule and place, and the whole of them."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Final, Literal, TypeAlias

from stairguard.model.cautions import Caution
from stairguard.model.fixes import Fix
from stairguard.model.guard.surfaces import SurfaceKind
from stairguard.model.job import Flight, Unit
from stairguard.model.outcome import Outcome
from stairguard.model.reasons import Reason
from stairguard.model.rules import Rule, RuleSet
from stairguard.model.subjects import ShortStrands, Spot, Subject

Verdict: TypeAlias = Literal["fail", "too close to call", "needs a decision", "not checked", "pass"]
"""``needs a decision``: by the authority having jurisdiction. What is ``not checked`` says why, and never passes."""

VERDICTS: Final[tuple[Verdict, ...]] = ("fail", "too close to call", "needs a decision", "not checked", "pass")
"""The gravest first."""


_NEEDED: Final = ("guard height", "opening", "opening width", "ramp edge")


@dataclass(frozen=True, slots=True)
class Location:
    """Where a figure was found: a surface, counted from 0, the spot on it or on the guard, a station."""

    surface: int | None = None
    where: Spot = ""
    station: float | None = None

    @property
    def posts(self) -> tuple[str, ...]:
        """Labels of the two posts between which strands are too short."""
        return (self.where.posts.first, self.where.posts.last) if isinstance(self.where, ShortStrands) else ()


ANYWHERE: Final = Location()


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One rule at one place, or over the whole guard; ``what`` is what its figure is of.

    ``value`` and ``limit`` are in ``unit`` (degrees, or none for ratios), None where there is nothing to measure.
    ``margin`` is how far the value is inside its limit, negative past it. ``guard_band`` is what uncertainty takes from
    the margin before a verdict, None of a figure taken as exact. ``why`` explains what neither passes nor
    fails; ``fixes`` are ways to mend what fails, any one of which does. ``binding`` is false of an option, an exception
    or common practice. ``clause`` and ``status`` are the rule's, both ``"job"`` where the job itself sets the limit;
    ``scope`` is the place that the rule is for.
    """

    clause: str
    status: str
    quantity: str
    verdict: Verdict
    what: Subject
    place: Location = ANYWHERE
    value: float | None = None
    kind: str = ""
    limit: float | None = None
    unit: str = ""
    margin: float | None = None
    guard_band: float | None = None
    why: tuple[Reason, ...] = ()
    fixes: tuple[Fix, ...] = ()
    binding: bool = True
    scope: str = "any"

    @property
    def needed(self) -> bool:
        """Whether, not measured on a surface whose rules bind it, it leaves nothing to be said of a guard."""
        return self.binding and self.quantity in _NEEDED

    @classmethod
    def of(cls, rule: Rule, verdict: Verdict, what: Subject, place: Location = ANYWHERE, **more: Any) -> Finding:
        """What came of a rule; ``more`` are further fields, also in place of the rule's own."""
        own = {"kind": rule.kind, "binding": rule.binding, "scope": rule.place}
        return cls(
            clause=rule.clause,
            status=rule.status,
            quantity=rule.quantity,
            verdict=verdict,
            what=what,
            place=place,
            **(own | more),
        )


@dataclass(frozen=True, slots=True)
class Clash:
    """Two rules over one kind of surface that no one figure meets: ``least`` asks for more than ``most`` allows.

    ``floor`` is the least that a handrail may have, where one of its own would let a guard's height and its be kept.
    """

    over: SurfaceKind
    least: Rule
    most: Rule
    unit: str
    floor: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Unclosed:
    """Steps that no strand clear of the nosings closes as a clause asks: what was found, and the flight as given."""

    finding: Finding
    given: Flight
    unit: str


Conflict: TypeAlias = Clash | Unclosed


@dataclass(frozen=True, slots=True, kw_only=True)
class Inspection:
    """All findings on a guard, by consequence; lengths in ``unit``, ``mark`` the smallest of its tape.

    ``conflicts`` say which rules no one figure can meet, and what would. ``outcome``: nothing that binds fails, nothing
    of it is too close to call, and (of a guard as measured) nothing was left out that had to be measured: it complies.
    """

    title: str
    unit: Unit
    rules: RuleSet
    findings: tuple[Finding, ...]
    conflicts: tuple[Conflict, ...]
    cautions: tuple[Caution, ...]
    outcome: Outcome
    mark: Fraction

    @property
    def tight(self) -> tuple[Finding, ...]:
        """What keeps a rule that binds, or a limit of the job's own, by less than one mark of the tape."""
        return tuple(
            one
            for one in self.findings
            if one.verdict == "pass" and one.binding and one.unit == self.unit
            if one.margin is not None and one.margin < self.mark
        )

    @property
    def passes(self) -> bool:
        """Whether all that was to be judged complies."""
        return self.outcome == "complies"

    def count(self, verdict: Verdict) -> int:
        """How many findings have a verdict."""
        return sum(finding.verdict == verdict for finding in self.findings)
