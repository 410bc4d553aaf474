"""Rules that no one figure can meet."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Final

from stairguard.model.findings import Clash
from stairguard.model.guard.surfaces import SurfaceKind
from stairguard.model.rules import Quantity, Rule, RuleSet

_BOUNDS: Final[tuple[Quantity, ...]] = (
    "riser", "run", "nosing projection", "pitch", "landing length", "handrail size", "handrail perimeter",
    "handrail clearance", "step comfort",
)  # fmt: skip


def conflicts(
    rules: RuleSet, kinds: Iterable[SurfaceKind], unit: str, binds: Callable[[Rule], bool], apart: bool
) -> Iterator[Clash]:
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
    rules: RuleSet, kind: SurfaceKind, quantities: tuple[Quantity, ...], unit: str, binds: Callable[[Rule], bool]
) -> Iterator[Clash]:
    bounds = [rule for quantity in quantities for rule in rules.of(quantity, kind) if binds(rule)]
    least = max((rule for rule in bounds if rule.kind == "at least"), key=lambda rule: rule.value, default=None)
    most = min((rule for rule in bounds if rule.kind == "at most"), key=lambda rule: rule.value, default=None)
    if least is None or most is None or least.value <= most.value:
        return
    floors = [rule.value for rule in bounds if rule.quantity == "handrail height" and rule.kind == "at least"]
    yield Clash(kind, least, most, unit, max(floors, default=None))
