"""What a rule pack says, as data the solver and the checks both read."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

__all__ = ["Kind", "Quantity", "Rule", "RuleSet", "Status"]

Kind: TypeAlias = Literal["at least", "at most", "stops", "stops more than"]
"""``stops``: a sphere of exactly the value must be stopped. ``stops more than``: exactly it may pass."""

Status: TypeAlias = Literal["read", "from memory", "secondary"]

Quantity: TypeAlias = Literal[
    "guard height",
    "handrail height",
    "opening",
    "riser",
    "run",
    "nosing projection",
    "pitch",
    "flight rise",
    "landing length",
    "ramp slope",
    "handrail extension",
    "riser difference",
    "run difference",
]


@dataclass(frozen=True, slots=True)
class Rule:
    """One clause: a limit on one quantity at one place.

    ``place`` is ``"landing"``, ``"flight"``, ``"ramp"``, ``"step triangle"``, ``"open riser"``, ``"flight top"``,
    ``"flight bottom"`` or ``"any"``.
    ``value`` is in the rule set's unit (degrees for a pitch, rise over level length for a ramp's slope).
    ``in_runs`` where the value counts runs of the flight instead of a length. ``when_run_below``, where given, confines
    the rule to flights whose run is less than it. ``note``
    paraphrases the clause: datum, exceptions, what the reader must judge. ``binding`` is false for a rule
    that is an option or an exception a job may take up, reported but not failed (a rail that also serves
    as handrail, say).
    """

    quantity: Quantity
    place: str
    kind: Kind
    value: Fraction
    clause: str
    status: Status
    source: str
    note: str
    binding: bool
    when_run_below: Fraction | None = None
    in_runs: bool = False

    @property
    def inclusive(self) -> bool:
        """Whether exactly the value passes the rule."""
        return self.kind != "stops"


@dataclass(frozen=True, slots=True)
class RuleSet:
    """A pack, its lengths already in the job's unit. An empty one (``rules = "none"``) limits nothing.

    ``cautions`` are the pack's own, to be repeated with every result; ``jurisdiction`` says where it holds.
    """

    name: str
    title: str
    rules: tuple[Rule, ...]
    edition: str = ""
    jurisdiction: str = ""
    cautions: tuple[str, ...] = ()

    def opening(self, *places: str) -> Rule | None:
        """Return the opening rule of the first of ``places`` that has one, else the rule for any place."""
        for place in (*places, "any"):
            for rule in self.rules:
                if rule.quantity == "opening" and rule.place == place:
                    return rule
        return None

    def of(self, quantity: Quantity, place: str) -> tuple[Rule, ...]:
        """Return all rules on ``quantity`` that apply at ``place``, those for any place included."""
        return tuple(r for r in self.rules if r.quantity == quantity and r.place in (place, "any"))
