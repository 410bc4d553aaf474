"""Whether openings keep to their rule, settled exactly."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from stairguard.geometry.clearance.outline import Outline
from stairguard.geometry.clearance.pockets import Pocket, compare
from stairguard.geometry.exact.surd import Surd
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.rules import Rule, RuleSet


def over(rules: RuleSet, surfaces: Iterable[PlacedSurface], *, from_ground: bool = True) -> Rule | None:
    """The strictest rule on an opening that spans several surfaces; ``from_ground`` where it begins at what they are.

    Each surface has a rule of its own, and edge protection is asked of what begins at the ground.
    """
    found = (rules.opening(s.kind, edged=from_ground and s.edged) for s in surfaces)
    return min((rule for rule in found if rule is not None), key=lambda rule: rule.strictness, default=None)


def stops(rule: Rule, excess: int) -> bool:
    """Whether an opening passes: ``excess`` is the sign of its sphere less the rule's value."""
    return excess < 0 or (excess == 0 and rule.inclusive)


def verdict(rule: Rule | None, spheres: Iterable[Surd]) -> bool | None:
    """Whether spheres of these exact diameters are all stopped; None where no rule applies."""
    return None if rule is None else all(stops(rule, (sphere - rule.value).sign()) for sphere in spheres)


def keeps(rule: Rule | None, found: Iterable[tuple[Outline, Pocket]]) -> bool | None:
    """Whether the spheres of these pockets, each in its outline, are all stopped; None where no rule applies."""
    return None if rule is None else all(stops(rule, compare(*one, rule.value)) for one in found)


def edge_within(rule: Rule, height: Fraction, radius: Fraction, slope: Fraction) -> bool:
    """Whether a strand's underside is no higher than a rule on the lowest edge says, plumb above the nosing line.

    ``height`` is that of its centre; the underside is ``radius`` square below it. Squared, so that no root decides.
    """
    over = height - rule.value
    return over <= 0 or over * over <= radius * radius * (1 + slope * slope)
