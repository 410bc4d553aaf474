"""Numbers as people write them, read exactly: no float on the way, nothing evaluated.

One grammar serves every quantity::

    number   = decimal | fraction | whole ("-" | space) fraction
    decimal  = digits [ "." digits ] [ exponent ] | "." digits [ exponent ]
    fraction = digits "/" digits

A sign may stand before it. Digits are bounded, so absurd text is refused quickly.
"""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction
from numbers import Rational, Real
from typing import Final

_LONGEST_TEXT: Final = 80
_DIGITS: Final = r"[0-9]{1,20}"
_MOST_DIGITS: Final = 60  # of a number given as Decimal or int: more is a mistake, and slow
_LEAST_EXPONENT: Final = -400  # below the smallest binary float

SMALLEST: Final = Fraction(1, 10**30)
"""No length, force or stiffness but zero may be smaller, in the unit in force: none is, and floats of it overflow."""

NUMBER: Final = (
    rf"(?:{_DIGITS}(?:\s*-\s*|\s+)[0-9]{{1,9}}/[0-9]{{1,9}}"
    r"|[0-9]{1,9}/[0-9]{1,9}"
    rf"|(?:{_DIGITS}(?:\.[0-9]{{0,40}})?|\.[0-9]{{1,40}})(?:[eE][+-]?[0-9]{{1,2}})?)"
)
"""Pattern of an unsigned number."""

_VULGAR: Final = {
    "¼": "1/4", "½": "1/2", "¾": "3/4", "⅐": "1/7", "⅑": "1/9", "⅒": "1/10", "⅓": "1/3", "⅔": "2/3",
    "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6", "⅛": "1/8", "⅜": "3/8",
    "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
_PLAIN: Final = str.maketrans(
    dict.fromkeys("\u2032\u2019", "'")  # prime, closing quote
    | dict.fromkeys("\u2033\u201d", '"')  # double prime, closing double quote
    | dict.fromkeys("\u2212\u2010\u2011\u2013", "-")  # minus, hyphens, en dash
    | dict.fromkeys("\u00a0\u2009\u202f", " ")  # spaces that do not break
    | {"\u2044": "/"}
    | {sign: f" {text}" for sign, text in _VULGAR.items()}
)


def plain(text: str) -> str | None:
    """Put typographic primes, dashes and fractions in plain form; None if too long to be a figure."""
    if len(text) > _LONGEST_TEXT:
        return None
    return text.translate(_PLAIN).replace("''", '"').strip()


def from_text(text: str) -> Fraction | None:
    """Value of text that matches `NUMBER`, signed or not; None where it is no number.

    A mixed number's fraction must be proper: ``7-9/4`` is more likely a slip than a length.

    Examples
    --------
    >>> from_text("7-3/4"), from_text("-.5"), from_text("7-9/4")
    (Fraction(31, 4), Fraction(-1, 2), None)
    """
    match = re.fullmatch(rf"([+-]?)\s*({NUMBER})", text)
    if match is None:
        return None
    sign = -1 if match[1] == "-" else 1
    whole, bar, below = match[2].partition("/")
    if not bar:
        return sign * Fraction(whole)
    *parts, above = re.split(r"[\s-]+", whole)
    if int(below) == 0 or (parts and int(above) >= int(below)):
        return None
    return sign * (Fraction(int(above), int(below)) + (int(parts[0]) if parts else 0))


def from_number(value: object) -> Fraction | None:
    """Exact value of a Python number; None for anything else, infinities and NaN.

    A binary float stands for its shortest decimal: 0.1 is one tenth.
    """
    if isinstance(value, Fraction):
        return value
    if isinstance(value, bool):
        return None
    if isinstance(value, Rational):
        return _bounded(int(value.numerator), int(value.denominator))
    if isinstance(value, Decimal):
        return _from_decimal(value)
    if isinstance(value, Real):
        return _from_decimal(Decimal(float.__repr__(value) if isinstance(value, float) else str(value)))
    return None


def _bounded(above: int, below: int) -> Fraction | None:
    most = 10**_MOST_DIGITS
    return Fraction(above, below) if abs(above) < most and below < most else None


def _from_decimal(value: Decimal) -> Fraction | None:
    if not value.is_finite() or (value and not _LEAST_EXPONENT < value.adjusted() < _MOST_DIGITS):
        return None
    return Fraction(value) if len(value.as_tuple().digits) <= _MOST_DIGITS else None


def shown(value: object) -> str:
    """Put what was got into words for a fault; nothing given is no words."""
    if isinstance(value, bool):
        return str(value).lower()  # as files have it
    if isinstance(value, (list, tuple)):
        return f"[{', '.join(map(shown, value))}]"
    try:
        return "" if value is None else str(value)
    except ValueError:  # Python refuses to print an int of thousands of digits
        return "a number of very many digits"
