"""Rounding to the graduations of a tape, and writing what it shows."""

from __future__ import annotations

import math
from decimal import Decimal
from fractions import Fraction
from typing import Literal

_NOISE = 10**9


def to_mark(value: Fraction, mark: Fraction) -> Fraction:
    """Round a length to the nearest tape mark.

    Parameters
    ----------
    value
        Length, either sign, exact.
    mark
        Distance between graduations, positive, in the same unit.

    Returns
    -------
    Fraction
        The nearest whole number of marks. A length half way between two goes to the even
        graduation, so that ties do not lean one way.

    Notes
    -----
    Ties to even: NIST Handbook 44, section 10.3, as quoted by the U.S. Access Board in "Dimensional
    Tolerances in Construction and for Surface Accessibility", metal measuring tapes (corada.com).

    Examples
    --------
    >>> to_mark(Fraction(3999, 1000), Fraction(1, 16))
    Fraction(4, 1)
    >>> to_mark(Fraction(1, 32), Fraction(1, 16)), to_mark(Fraction(3, 32), Fraction(1, 16))
    (Fraction(0, 1), Fraction(1, 8))
    """
    return round(value / mark) * mark  # round() of a Fraction breaks ties to even


def one_height(step: Fraction, mark: Fraction) -> bool:
    """Whether two heights that differ by ``step`` are one as a tape shows them: by less than half a mark."""
    return 2 * abs(step) < mark


def mark_above(value: Fraction, mark: Fraction, more: bool = False) -> Fraction:
    """The nearest mark that is no less than a length; ``more`` asks for one past it."""
    return (math.floor(value / mark) + 1 if more else math.ceil(value / mark)) * mark


def mark_below(value: Fraction, mark: Fraction, less: bool = False) -> Fraction:
    """The nearest mark that is no more than a length; ``less`` asks for one short of it."""
    return (math.ceil(value / mark) - 1 if less else math.floor(value / mark)) * mark


def last_digit(value: float, digits: int) -> Fraction:
    """What the last of so many digits of a number other than zero counts: a mark to cut it to.

    Examples
    --------
    >>> last_digit(1868.05, 6), last_digit(0.02, 2)
    (Fraction(1, 100), Fraction(1, 1000))
    """
    return Fraction(10) ** (math.floor(math.log10(abs(value))) + 1 - digits)


def figure_text(value: Fraction | float, digits: int = 6) -> str:
    """Write a figure to so many digits, as what is at fault tells it; on pages the `words` decide how many.

    Examples
    --------
    >>> figure_text(Fraction(100, 3)), figure_text(4.0), figure_text(0.1234567, 3)
    ('33.3333', '4', '0.123')
    """
    return f"{float(value):.{digits}g}"


def plain_text(value: Fraction) -> str:
    """Write a number so that it is read back as it is: in decimals where they end, else as a fraction.

    Examples
    --------
    >>> plain_text(Fraction(213, 16)), plain_text(Fraction(48)), plain_text(Fraction(1, 3))
    ('13.3125', '48', '1/3')
    """
    rest = value.denominator
    for prime in (2, 5):
        while rest % prime == 0:
            rest //= prime
    return f"{Decimal(value.numerator) / Decimal(value.denominator):f}" if rest == 1 else str(value)


def piece_mark(length: Fraction | float, mark: Fraction) -> Fraction:
    """Length to which a piece is marked for cutting, and by which all that counts pieces counts it: one mark at least.

    A float is taken to a billionth first, so that its last digit does not decide half a mark.
    """
    exact = length if isinstance(length, Fraction) else Fraction(round(length * _NOISE), _NOISE)
    return max(to_mark(exact, mark), mark)


def tape_text(value: Fraction, unit: Literal["in", "mm"], mark: Fraction) -> str:
    """Write a length as it is read off a tape, at its nearest mark.

    Parameters
    ----------
    value
        Length in ``unit``.
    unit
        ``"in"`` gives feet, inches and fractions from 12 in up; ``"mm"`` gives millimetres.
    mark
        The smallest graduation, positive, in ``unit``.

    Examples
    --------
    >>> print(tape_text(Fraction(81, 2), "in", Fraction(1, 16)))
    3' 4-1/2"
    >>> tape_text(Fraction("193.4"), "mm", Fraction(1, 2))
    '193.5 mm'
    """
    return f"{tape_figure(value, unit, mark)}{' mm' if unit == 'mm' else ''}"


def tape_figure(value: Fraction, unit: Literal["in", "mm"], mark: Fraction) -> str:
    """Write a length as `tape_text` does, millimetres without their unit."""
    marked = to_mark(value, mark)
    sign, size = ("-" if marked < 0 else ""), abs(marked)
    if unit == "mm":
        return f"{sign}{_decimal(size) or _mixed(size)}"
    feet, inches = divmod(size, 12)
    return f"{sign}{feet}' {_inches(inches)}\"" if feet else f'{sign}{_inches(inches)}"'


def typed_text(value: Fraction, unit: str) -> str:
    """Write a figure as it is typed in a job file, to be read back as it is: a whole length without unit and quotes.

    Examples
    --------
    >>> print(typed_text(Fraction(11), "in"), typed_text(Fraction(-11, 2), "in"), typed_text(Fraction("5.8"), "in"))
    11 "-5-1/2 in" 5.8
    >>> print(typed_text(Fraction(265), "lbf"))
    "265 lbf"
    """
    length = unit in ("in", "mm")
    if value.denominator & (value.denominator - 1) == 0 and not (length and value.denominator == 1):
        return f'"{"-" * (value < 0)}{_mixed(abs(value))} {unit}"'
    text = plain_text(value)
    return text if length and "/" not in text else f'"{text} {unit}"'


def _inches(size: Fraction) -> str:
    """Halves and halves of halves as a fraction; a tape in tenths as decimals."""
    below = size.denominator
    return _mixed(size) if below & (below - 1) == 0 else _decimal(size) or _mixed(size)


def _decimal(size: Fraction) -> str | None:
    """Decimals where the value has finitely many."""
    return format(Decimal(size.numerator) / size.denominator, "f") if 10**12 % size.denominator == 0 else None


def _mixed(size: Fraction) -> str:
    """Write a whole number, a fraction or both."""
    whole, rest = divmod(size, 1)
    if not rest:
        return str(whole)
    return f"{whole}-{rest}" if whole else str(rest)
