"""Rules that no one figure can meet, and the smallest change that would let them be met."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Final

from stairguard.model.rules import Quantity, Rule, RuleSet

__all__ = ["conflicts"]

_BOUNDS: Final[tuple[Quantity, ...]] = (
    "riser", "run", "nosing projection", "pitch", "landing length", "handrail size", "handrail perimeter",
    "handrail clearance", "step comfort",
)  # fmt: skip


def conflicts(
    rules: RuleSet, kinds: Iterable[str], unit: str, binds: Callable[[Rule], bool], apart: bool
) -> Iterator[str]:
    """Pairs of binding bounds on one figure of which one asks more than the other allows.

    Parameters
    ----------
    kinds : of the surfaces there are
    binds : whether a rule binds here
    apart : whether the handrail is another rail than the guard's top
    """
    for kind in dict.fromkeys(kinds):
        on_top: tuple[Quantity, ...] = ("guard height",) if apart else ("guard height", "handrail height")
        yield from _pair(rules, kind, on_top, unit, binds)
        if apart:
            yield from _pair(rules, kind, ("handrail height",), unit, binds)
        for quantity in _BOUNDS:
            yield from _pair(rules, kind, (quantity,), unit, binds)


def _pair(
    rules: RuleSet, kind: str, quantities: tuple[Quantity, ...], unit: str, binds: Callable[[Rule], bool]
) -> Iterator[str]:
    bounds = [rule for quantity in quantities for rule in rules.of(quantity, kind) if binds(rule)]
    least = max((rule for rule in bounds if rule.kind == "at least"), key=lambda rule: rule.value, default=None)
    most = min((rule for rule in bounds if rule.kind == "at most"), key=lambda rule: rule.value, default=None)
    if least is None or most is None or least.value <= most.value:
        return
    low, high = (f"{float(rule.value):.6g} {unit}" for rule in (least, most))
    words = f"Over a {kind}: {least.clause} asks at least {low}, {most.clause} at most {high}"
    if least.quantity == most.quantity:
        yield f"{words}, of one {least.quantity}: no figure meets both. The authority decides which holds."
        return
    by = float(least.value - most.value)
    floors = [rule.value for rule in bounds if rule.quantity == "handrail height" and rule.kind == "at least"]
    floor = f"from {float(max(floors)):.6g} " if floors else ""
    yield (
        f"{words}, of one rail: no height meets both, they are {by:.6g} {unit} apart. Smallest change: a handrail "
        f"of its own, {floor}to {high}, beside a guard of at least {low}."
    )
