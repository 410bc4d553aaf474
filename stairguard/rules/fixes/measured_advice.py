"""What to do about a figure that was measured, by quantity, and how well to measure what is in doubt."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from stairguard.model.fixes import Fix, Measure, Moved, Reshaped, Retaken, Step, written

if TYPE_CHECKING:  # a guard as designed has none
    from stairguard.model.asked.asked_opening import Settling

__all__ = ["MEND", "NONE", "UPRIGHT", "apart", "how", "settled", "settling_words", "surely", "to_measure"]

UPRIGHT: Final = Fix((), advice="upright infill there, or a solid panel, where the authority asks for it")
NONE: Final = Fix((), advice="no one figure changed mends it: the guard itself has to be another")

MEND: Final = Fix((), advice="no tape tells a figure so near its limit: mend it")

_NAMED: Final = 4
"""So many lengths to measure again are told by name."""

# by quantity: what to do where there is too little of it, and where there is too much
_HOW: Final[Mapping[str, tuple[str, str]]] = {
    "guard height": ("raise the rail", "lower the rail"),
    "handrail height": ("raise the handrail", "lower the handrail"),
    "riser": ("make this riser higher", "make this riser lower"),
    "run": ("make this run longer", "make this run shorter"),
    "nosing projection": ("let the nosing project more,", "cut the nosing's projection"),
    "landing length": ("make the landing longer", "make the landing shorter"),
    "handrail extension": ("run the rail farther on", ""),
    "handrail size": ("a round rail thicker", "a round rail thinner"),
    "handrail perimeter": ("a section more around", "a section less around"),
    "handrail across": ("a section wider", "a section narrower"),
    "handrail clearance": ("set the handrail farther out", ""),
    "opening": ("", "bring what bounds it nearer"),
    "lowest edge": ("", "lower the lowest edge, plumb,"),
    "post gap": ("", "stand the posts nearer"),
    "strand spacing": ("", "set the strands nearer"),
    "strand run": ("", "divide the run"),
}


def apart(short: Fraction, unit: str, mark: Fraction) -> Fix:
    """What to do about two posts between which strands are too short by so much."""
    more = written(math.ceil(short / mark) * mark, unit, mark)
    return Fix((), advice=f"set the two posts {more} farther apart, or fill between them with something rigid")


def how(quantity: str, kind: str) -> str:
    """What to do about a figure that is past its bound; "" where nothing general can be said."""
    words = _HOW.get(quantity)
    return "" if words is None else words[0 if kind == "at least" else 1]


def to_measure(quantity: str, numbers: Sequence[int], place: str) -> Fix:
    """Say what to measure on surfaces of these numbers; of an extension or a kind of opening its place is a key."""
    keyed = place if quantity == "handrail extension" or place in ("step triangle", "open riser") else ""
    return Fix((Measure(quantity, tuple(number - 1 for number in numbers), keyed),))


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
    """Say how well what is too close to call must be measured to be clear, or that no tape tells so little."""
    return Fix((), advice=settling_words(found, unit))


def settling_words(found: Settling, unit: str) -> str:
    """What to measure again, and to what +-; else what to do instead."""
    if not found.again:
        return MEND.advice
    # cut short, never rounded up: what is printed has to be enough, and a hair less than it is for the tie
    digits = 2 - math.ceil(math.log10(found.plus_minus))
    enough = math.floor(found.plus_minus * 10**digits * (1 - 1e-12)) / 10**digits
    *first, last = found.again if len(found.again) <= _NAMED else ("each length",)
    names = f"{', '.join(first)} and {last}, each" if first else last
    return f"measure {names} to +- {enough:.2g} {unit} to settle it"
