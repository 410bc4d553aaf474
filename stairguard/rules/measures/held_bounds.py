"""One figure held to one bound, exactly: the same judgement of a guard as designed and as measured."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from stairguard.geometry.slope import pitch_deg
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.rules import BoundKind, Rule
from stairguard.solve.line.surveyed_flight import smallest_run

_HALF_RIGHT: Final = 45  # degrees: the only pitch in whole degrees whose slope is rational


@dataclass(frozen=True, slots=True)
class Held:
    """A figure beside its limit, as both are told: a pitch in degrees, ratios and counts without a unit."""

    value: float
    limit: float
    unit: str
    passes: bool


def held_to(rule: Rule, value: Fraction, surface: PlacedSurface | None, unit: str) -> Held:
    """Hold a figure to a bound, which itself satisfies it.

    Parameters
    ----------
    rule : that says "at least" or "at most"
    value : the figure; of a pitch its slope
    surface : that it is of, None of the whole guard
    unit : of lengths
    """
    asked = _asked(rule, surface)
    if rule.quantity == "pitch" and surface is not None:
        shown, passes = abs(surface.pitch_deg), _pitch_holds(rule, value)
    else:
        shown, passes = float(value), value >= asked if rule.kind == "at least" else value <= asked
    return Held(shown, float(asked), rule.limit_unit(unit), passes)


def _asked(rule: Rule, surface: PlacedSurface | None) -> Fraction:
    """What a bound asks of a surface, by its shortest run where the bound counts runs."""
    run = smallest_run(surface) if rule.in_runs and surface is not None else None
    return rule.value if run is None else rule.value * run


def margin(kind: BoundKind | str, value: float, limit: float) -> float:
    """How far a value is inside a bound; negative past it."""
    return value - limit if kind == "at least" else limit - value


def _pitch_holds(rule: Rule, slope: Fraction) -> bool:
    """Compare a slope with degrees: exactly at 45, the only tie a rational slope can have."""
    if rule.value == _HALF_RIGHT:
        return slope >= 1 if rule.kind == "at least" else slope <= 1
    pitch = pitch_deg(slope)
    return pitch >= rule.value if rule.kind == "at least" else pitch <= rule.value
