"""Lengths in and out: any usual spelling to an exact fraction, and back to tape marks.

An inch is exactly 25.4 mm.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from stairguard.errors import Fault, LengthError
from stairguard.geometry.marks import tape_text
from stairguard.io.parse import numbers
from stairguard.model.published.known_figure import MM_PER_INCH

if TYPE_CHECKING:  # the whole job's classes come with it
    from stairguard.model.job import Sign, Unit

LARGEST: Final = 10_000_000
"""No length may be larger, in the unit in force: a guard of 250 km is a slip of the keyboard."""

FORMS: Final = "a length such as 7-3/4in, 3' 4-1/2\", 194mm or 0.194 m"

_MM: Final = {
    "in": MM_PER_INCH, "inch": MM_PER_INCH, "inches": MM_PER_INCH, '"': MM_PER_INCH,
    "ft": 12 * MM_PER_INCH, "foot": 12 * MM_PER_INCH, "feet": 12 * MM_PER_INCH, "'": 12 * MM_PER_INCH,
    "mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000),
    "millimeter": Fraction(1), "centimeter": Fraction(10), "meter": Fraction(1000),
}  # fmt: skip
_UNIT_WORDS: Final = r"inches|inch|in|\"|feet|foot|ft|'|mm|cm|m"
_ONE: Final = re.compile(rf"(?P<number>{numbers.NUMBER})\s*(?P<unit>{_UNIT_WORDS})?", re.IGNORECASE | re.ASCII)
_FEET_INCHES: Final = re.compile(
    rf"(?P<feet>[0-9]{{1,9}})\s*(?:feet|foot|ft|')\s*(?:-\s*)?(?P<inches>{numbers.NUMBER})\s*(?:inches|inch|in|\")",
    re.IGNORECASE | re.ASCII,
)
_WHAT: Final[dict[Sign, str]] = {
    "any": FORMS,
    "nonnegative": f"{FORMS}, not negative",
    "positive": f"{FORMS}, more than zero",
}


def parse_length(value: object, unit: Unit, *, where: str = "length", sign: Sign = "any") -> Fraction:
    """Read a length exactly.

    Parameters
    ----------
    value
        Text (``7-3/4in``, ``7 3/4 in``, ``7.75"``, ``3' 4-1/2"``, ``3ft 4.5in``, ``194mm``, ``0.194 m``,
        ``19.4cm``; primes and vulgar fractions too), a number, or a pint quantity. A bare number is in
        ``unit``. A float stands for its shortest decimal: 0.1 is one tenth.
    unit
        ``"in"`` or ``"mm"``: the unit of bare numbers and of the answer.
    where
        The key or option to name when the value is refused.
    sign
        Which values are allowed: ``"any"``, ``"nonnegative"`` or ``"positive"``.

    Returns
    -------
    Fraction
        The length in ``unit``, exact.

    Raises
    ------
    LengthError
        No length, a sign that is not allowed, more than `LARGEST`, or less than the smallest and not zero.

    Examples
    --------
    >>> parse_length("7-3/4in", "in"), parse_length('''3' 4-1/2"''', "in"), parse_length("1in", "mm")
    (Fraction(31, 4), Fraction(81, 2), Fraction(127, 5))
    """
    if unit not in ("in", "mm"):
        raise LengthError(Fault("unit", '"in" or "mm"', unit))
    length = _read(value, unit)
    if length is None or (sign != "any" and length < 0) or (sign == "positive" and length == 0):
        raise LengthError(Fault(where, _WHAT[sign], numbers.shown(value)))
    if abs(length) > LARGEST:
        raise LengthError(Fault(where, f"no more than {LARGEST:,} {unit}", numbers.shown(value)))
    if 0 < abs(length) < numbers.SMALLEST:
        must = f"{'zero, or ' * (sign != 'positive')}at least {float(numbers.SMALLEST):.0e} {unit}"
        raise LengthError(Fault(where, must, numbers.shown(value)))
    return length


def _read(value: object, unit: Unit) -> Fraction | None:
    if isinstance(value, str):
        return _read_text(value, unit)
    if hasattr(value, "to") and hasattr(value, "magnitude"):
        name = str(getattr(value, "units", ""))
        if name in _MM:  # exact: pint's own conversion would go through binary floats
            number = numbers.from_number(value.magnitude)
            return None if number is None else number * _MM[name] / _MM[unit]
        millimetres = exact_in(value, "millimeter")
        return None if millimetres is None else millimetres / _MM[unit]
    return numbers.from_number(value)


def exact_in(quantity: object, unit: str) -> Fraction | None:
    """Magnitude of a pint quantity in a unit named as pint names it; None where it has no such unit."""
    try:
        return numbers.from_number(quantity.to(unit).magnitude)  # type: ignore[attr-defined]  # duck-typed: pint is optional
    except (TypeError, AttributeError, ValueError, ArithmeticError):  # pint's errors derive from these
        return None


def _read_text(text: str, unit: Unit) -> Fraction | None:
    plain = numbers.plain(text)
    if not plain:
        return None
    negative = plain[0] == "-"
    body = plain[1:].lstrip() if plain[0] in "+-" else plain
    length = _feet_and_inches(body)
    if length is None:
        length = _one_number(body, unit)
    if length is None:
        return None
    return (-length if negative else length) / _MM[unit]


def _feet_and_inches(body: str) -> Fraction | None:
    """Millimetres of feet with inches after them."""
    match = _FEET_INCHES.fullmatch(body)
    inches = numbers.from_text(match["inches"]) if match else None
    return None if match is None or inches is None else int(match["feet"]) * _MM["ft"] + inches * _MM["in"]


def _one_number(body: str, unit: Unit) -> Fraction | None:
    """Millimetres of one number with a unit, or without one in the unit in force."""
    match = _ONE.fullmatch(body)
    number = numbers.from_text(match["number"]) if match else None
    return None if match is None or number is None else number * _MM[(match["unit"] or unit).lower()]


def format_length(value: object, unit: Unit, mark: object) -> str:
    """Write a length as it is read off a tape.

    Parameters
    ----------
    value
        Length in ``unit``: a number, text or a pint quantity.
    unit
        ``"in"`` gives feet, inches and fractions from 12 in up; ``"mm"`` gives millimetres.
    mark
        The smallest graduation, positive, as ``value`` is given; ties go to the even one.

    Returns
    -------
    str
        For example ``3' 4-1/2"`` or ``193.5 mm``. `parse_length` reads it back to the same mark.

    Raises
    ------
    LengthError
        What is given is no length, or the mark is not positive.

    Examples
    --------
    >>> print(format_length(3.999, "in", "1/16"), format_length(-0.5, "in", "1/16"))
    4" -1/2"
    >>> print(format_length("40.49 in", "in", "1/8"))
    3' 4-1/2"
    >>> format_length(193.75, "mm", 0.5)
    '194 mm'
    """
    step = mark if isinstance(mark, Fraction) else parse_length(mark, unit, where="mark", sign="positive")
    length = value if isinstance(value, Fraction) else parse_length(value, unit)
    return tape_text(length, unit, step)
