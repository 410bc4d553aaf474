"""Weights and forces of a length, read exactly as lengths are."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from stairguard.errors import Fault, LengthError
from stairguard.io.parse import numbers
from stairguard.io.parse.exact_lengths import exact_in
from stairguard.model.published.known_figure import KG_PER_LB, MM_PER_INCH, NEWTONS_PER_LBF

if TYPE_CHECKING:  # the whole job's classes come with it
    from stairguard.model.job import Unit

_KG_PER_MM: Final = {
    "lb/ft": KG_PER_LB / (12 * MM_PER_INCH),
    "lb/in": KG_PER_LB / MM_PER_INCH,
    "kg/m": Fraction(1, 1000),
}
"""Exact: the pound is 0.45359237 kg and the inch 25.4 mm, both by definition."""

_N_PER_MM: Final = {"lbf/in": NEWTONS_PER_LBF / MM_PER_INCH, "N/mm": Fraction(1)}
"""Exact: the pound's force at standard gravity, and the inch."""

_BARE: Final[dict[Unit, str]] = {"in": "lb/ft", "mm": "kg/m"}
_KEPT: Final[dict[Unit, Fraction]] = {"in": _KG_PER_MM["lb/in"], "mm": Fraction(1)}
_LARGEST: Final = 10_000  # per foot or metre: of solid steel half a metre square and more


def parse_weight(value: object, unit: Unit, *, where: str = "weight") -> Fraction:
    """Read the weight of a length.

    Parameters
    ----------
    value
        A number, of pounds per foot in an inch job and of kilograms per metre in a millimetre job, text that
        says which (``3.2 lb/ft``, ``0.27 lb/in``, ``4.8 kg/m``) or a pint quantity.
    unit
        ``"in"`` or ``"mm"``.
    where
        The key to name when the value is refused.

    Returns
    -------
    Fraction
        Pounds per inch or kilograms per millimetre, exact.

    Raises
    ------
    LengthError
        No weight, none at all, or more than 10,000 lb/ft or kg/m.

    Examples
    --------
    >>> parse_weight(3, "in"), parse_weight("4.8 kg/m", "mm")
    (Fraction(1, 4), Fraction(3, 625))
    """
    must = f"a weight such as 3.2 lb/ft or 4.8 kg/m, more than zero and no more than {_LARGEST:,} {_BARE[unit]}"
    number, word = _split(value, _KG_PER_MM, "pound / foot" if unit == "in" else "kilogram / meter")
    weight = None if number is None else number * _KG_PER_MM[word or _BARE[unit]] / _KEPT[unit]
    if weight is None or not 0 < weight <= most_weight(unit):
        raise LengthError(Fault(where, must, numbers.shown(value)))
    return weight


def most_weight(unit: Unit) -> Fraction:
    """The most that a unit of length may weigh, pounds per inch or kilograms per millimetre."""
    return _LARGEST * _KG_PER_MM[_BARE[unit]] / _KEPT[unit]


def parse_stiffness(value: object, unit: Unit, *, where: str = "stiffness") -> Fraction:
    """Read a force on one unit of length: a number (lbf/in or N/mm by the unit), text or a pint quantity.

    Text is such as ``500 lbf/in``, ``90 N/mm``.

    Raises
    ------
    LengthError
        No such thing, or not more than zero.

    Examples
    --------
    >>> parse_stiffness("25.4 N/mm", "mm"), round(float(parse_stiffness("25.4 N/mm", "in")), 3)
    (Fraction(127, 5), 145.038)
    """
    bare = "lbf/in" if unit == "in" else "N/mm"
    number, word = _split(value, _N_PER_MM, "force_pound / inch" if unit == "in" else "newton / millimeter")
    if number is None or number <= 0:
        raise LengthError(
            Fault(where, "a stiffness such as 500 lbf/in or 90 N/mm, more than zero", numbers.shown(value))
        )
    stiffness = number * _N_PER_MM[word or bare] / _N_PER_MM[bare]
    if stiffness < numbers.SMALLEST:
        raise LengthError(Fault(where, f"at least {float(numbers.SMALLEST):.0e} {bare}", numbers.shown(value)))
    return stiffness


def _split(value: object, units: Mapping[str, Fraction], pint_unit: str) -> tuple[Fraction | None, str]:
    """Number and unit of a value, None where it has no number; no unit where none is written, or of a quantity."""
    if hasattr(value, "to") and hasattr(value, "magnitude"):
        return exact_in(value, pint_unit), ""
    if not isinstance(value, str):
        return numbers.from_number(value), ""
    words = "|".join(map(re.escape, units))
    match = re.fullmatch(rf"({numbers.NUMBER})\s*({words})?", numbers.plain(value) or "", re.ASCII)
    return (numbers.from_text(match[1]), match[2] or "") if match else (None, "")
