"""A fix in the notation of tests: what is changed and to what, as facts and not as a page says it."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import Any

from stairguard.model.fixes import Change, Fix, Inserted, Step


def brief(fix: Fix) -> str:
    """All steps of a fix: ``surface[2].rise = 7 (-1)``, surfaces counted from 1, and by how much it is more."""
    return " and ".join(map(_step, fix.steps))


def _step(step: Step) -> str:
    match step:
        case Change():
            numbers = f"[{', '.join(str(index + 1) for index in step.surfaces)}]" if step.surfaces else ""
            by = f" ({'+' * (step.by > 0)}{_value(step.by)})" if step.by else ""
            return f"{step.table}{numbers}{'.' * bool(step.key)}{step.key} = {_value(step.value)}{by}"
        case Inserted():
            without = "" if step.level_piece else " (no level piece)"
            return f"{step.before} | {_value(step.length)}{without} | {step.before + 1}"
        case _:
            return repr(step)


def _value(value: Any) -> str:
    if not isinstance(value, Fraction):
        return repr(value)
    found = Decimal(value.numerator) / value.denominator
    return f"{found.normalize():f}" if Fraction(found) == value else str(value)
