"""Weights of a length, read exactly as lengths are."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from stairguard.errors import Fault, LengthError
from stairguard.rim import exact

if TYPE_CHECKING:  # the whole job's classes come with it
    from stairguard.model.job import Unit

__all__ = ["parse_weight"]

_KG_PER_MM: Final = {
    "lb/ft": Fraction("0.45359237") / Fraction("304.8"),
    "lb/in": Fraction("0.45359237") / Fraction("25.4"),
    "kg/m": Fraction(1, 1000),
}
"""Exact: the pound is 0.45359237 kg and the inch 25.4 mm, both by definition."""

_BARE: Final[dict[Unit, str]] = {"in": "lb/ft", "mm": "kg/m"}
_KEPT: Final[dict[Unit, Fraction]] = {"in": _KG_PER_MM["lb/in"], "mm": Fraction(1)}
_LARGEST: Final = 10_000  # per foot or metre: of solid steel half a metre square and more


def parse_weight(value: object, unit: Unit, *, where: str = "weight") -> Fraction:
    """Read the weight of a length.

    Parameters
    ----------
    value
        A number, of pounds per foot in an inch job and of kilograms per metre in a millimetre job, or text that
        says which: ``3.2 lb/ft``, ``0.27 lb/in``, ``4.8 kg/m``.
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
    number, word = _split(value)
    most = _LARGEST * _KG_PER_MM[_BARE[unit]]
    weight = None if number is None else number * _KG_PER_MM[word or _BARE[unit]]
    if weight is None or not 0 < weight <= most:
        raise LengthError(Fault(where, must, exact.shown(value)))
    return weight / _KEPT[unit]


def _split(value: object) -> tuple[Fraction | None, str]:
    """Number and unit of a value, None where it has no number; no unit where none is written."""
    if not isinstance(value, str):
        return exact.from_number(value), ""
    words = "|".join(map(re.escape, _KG_PER_MM))
    match = re.fullmatch(rf"({exact.NUMBER})\s*({words})?", exact.plain(value) or "", re.ASCII)
    return (exact.from_text(match[1]), match[2] or "") if match else (None, "")
