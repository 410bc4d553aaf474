"""Rail heights that a pack asks for, where a job leaves them to its rules."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from stairguard.model.rules import Quantity, RuleSet


def least_height(rules: RuleSet, kinds: Iterable[str], own_handrail: bool = False) -> Fraction | None:
    """The least height of a guard's top that binds over any of these kinds of surface; None where no rule asks.

    Where the top is the handrail too, as a site may state, the rules on that have been picked and count as well; not
    where there is a handrail of its own.
    """
    quantities: tuple[Quantity, ...] = ("guard height",) if own_handrail else ("guard height", "handrail height")
    asked = [
        rule.value
        for kind in kinds
        for quantity in quantities
        for rule in rules.of(quantity, kind)
        if rule.binding and rule.kind == "at least"
    ]
    return max(asked, default=None)
