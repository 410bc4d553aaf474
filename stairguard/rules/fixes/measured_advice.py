"""What to do where no key or figure changed would show it, and how well to measure what is in doubt."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final

from stairguard.model.fixes import (
    Advice,
    Farther,
    Fix,
    Moved,
    Reshaped,
    Retaken,
    Settle,
    Step,
    TapeMark,
    ToMeasure,
)
from stairguard.model.outcome import Settling
from stairguard.model.rules import What

UPRIGHT: Final = Fix((), advice=Advice.UPRIGHT_INFILL)
NONE: Final = Fix((), advice=Advice.ANOTHER_GUARD)
MEND: Final = Fix((), advice=Advice.MEND)


def apart(short: Fraction, tape: TapeMark) -> Fix:
    """What to do about two posts between which strands are too short by so much."""
    return Fix((), advice=Farther(math.ceil(short / tape.mark) * tape.mark, tape))


def to_measure(what: What, numbers: Sequence[int], place: str) -> Fix:
    """Say what to measure on surfaces of these numbers; of an extension or a kind of opening its place is a key."""
    keyed = place if what == "handrail extension" or place in ("step triangle", "open riser") else ""
    return Fix((ToMeasure(what, tuple(number - 1 for number in numbers), keyed),))


def surely(fixes: Iterable[Fix]) -> tuple[Fix, ...]:
    """What clears the guard band, told alone, of fixes that do: less would leave what is too close to call as it is."""
    clear = (fix for fix in fixes if not any(getattr(step, "doubtful", False) for step in fix.steps))
    return tuple(replace(fix, steps=tuple(_sure_step(step) for step in fix.steps)) for fix in clear)


def _sure_step(step: Step) -> Step:
    if isinstance(step, Reshaped) and step.sure is not None:
        made = zip(step.sizes, step.sure, strict=True)
        return replace(step, sizes=tuple((name, now, value) for (name, now, _), value in made), sure=None)
    if isinstance(step, Moved) and step.sure is not None:
        return replace(step, by=step.sure, sure=None)
    if isinstance(step, Retaken) and step.sure is not None:
        return replace(step, value=step.sure, sure=None)
    return step


def settled(found: Settling, unit: str) -> Fix:
    """How well what is too close to call must be measured to be clear, or that no tape tells so little."""
    return Fix((), advice=Settle(found, unit)) if found.again else MEND
