"""How figures are written, each for what it is told for: no other place decides on digits, decimals or unit marks.

- off the tape, or exactly: `Figures`, `given_words`, `exact_words`;
- to digits, from two to ten: `slight`, `rough`, `brief`, `solved`, `stated`, `counted`, `marked`, `typed`;
- to decimals: `fixed`, `over_words`, `percent`, `degrees_words`, `Figures.decimal`, `gap_words`;
- beside a limit, with as many digits as tell it from that: `figure`, `sphere_words`, `diameter_words`, and
  `Figures.decimal`;
- to be acted on, never on the wrong side of what was solved: `at_least`, `at_most`, `Figures.enough`;
- by how much a limit is kept or missed: `margin_words`; along a chart: `charted`.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction
from typing import TYPE_CHECKING, Final, TypeAlias

from stairguard.geometry.marks import figure_text, last_digit, tape_text, to_mark

if TYPE_CHECKING:  # the whole job's classes come with it
    from stairguard.model.job import Job, Unit

RealNumber: TypeAlias = Fraction | float
Formatter: TypeAlias = Callable[[RealNumber], str]
"""Writes a length as a tape shows it."""

UNIT_WORDS: Final[dict[Unit, str]] = {"in": "inches", "mm": "millimetres"}
_UNIT_MARKS: Final = {"in": '"', "mm": " mm", "deg": "°"}
"""How a unit is written behind a figure on a drawing."""

_DECIMALS: Final[dict[Unit, int]] = {"in": 3, "mm": 1}
_SPHERE_DECIMALS: Final[dict[Unit, int]] = {"in": 2, "mm": 1}
_MOST_DECIMALS: Final = 15
_MOST_SPHERE_DECIMALS: Final = 12
_MOST_DIGITS: Final = 18
_LEAST_TOLD: Final = 1e-6  # how near a limit a figure is told by its digits
_SOLVED: Final = 1e-12
_FRACTIONS: Final = 64
_WRITTEN_OUT: Final = (1e-3, 1e6)
"""From and below what a chart writes numbers out."""


class Figures:
    """Writes figures of one job on a page: marks off its tape, and decimals, which stand beside the unit's name."""

    def __init__(self, unit: Unit, mark: Fraction) -> None:
        self.unit = unit
        self.mark = mark

    def tape(self, length: RealNumber) -> str:
        """Write a length as read off the tape, at its nearest mark."""
        return tape_text(Fraction(length), self.unit, self.mark)

    def above(self, height: RealNumber) -> str:
        """Write a height over something as read off the tape: one under it as how far below."""
        text = self.tape(-height if height < 0 else height)
        return f"{text} below" if height < 0 and text != self.tape(0) else text

    def decimal(self, length: RealNumber, limit: RealNumber | None = None) -> str:
        """Write a length in decimals: as many more as it takes to tell it from its limit."""
        text = _decimals(length, _DECIMALS[self.unit])
        if limit is not None and length != limit:
            for decimals in range(_DECIMALS[self.unit] + 1, _MOST_DECIMALS):
                if float(text) != float(limit):
                    break
                text = _decimals(length, decimals)
        return text

    def enough(self, length: float) -> str:
        """Write by how much something must change at least, in decimals: never less."""
        fine = 10 ** _DECIMALS[self.unit]
        return _decimals(math.ceil(Fraction(length) * fine) / fine, _DECIMALS[self.unit])

    def given(self, length: Fraction | int) -> str:
        """Write a length that is not marked but counted with: off the tape if a mark is there, else in digits."""
        return self.tape(length) if Fraction(length) % self.mark == 0 else counted(length, self.unit)

    def between(self, length: Fraction) -> str:
        """Write a length that lies between others: off the tape if a mark is there, else in decimals that tell it."""
        return self.tape(length) if length % self.mark == 0 else f"{self.decimal(length, 0)} {self.unit}"


def slight(value: RealNumber, unit: str = "") -> str:
    """Write to two digits: what is too small for the tape, and is told only to be there."""
    return _digits(value, 2, unit)


def rough(value: RealNumber, unit: str = "") -> str:
    """Write to three digits: what is known no closer, such as weights, settling and uncertainties."""
    return _digits(value, 3, unit)


def brief(value: RealNumber, unit: str = "") -> str:
    """Write to four digits: one figure among many, in a list or a working."""
    return _digits(value, 4, unit)


def solved(value: RealNumber, unit: str = "") -> str:
    """Write to five digits: what was solved for, on its own."""
    return _digits(value, 5, unit)


def stated(value: RealNumber, unit: str = "") -> str:
    """Write to six digits: what a job or a rule states."""
    return _digits(value, 6, unit)


def counted(value: RealNumber, unit: str = "") -> str:
    """Write to seven digits: a length that is not marked but counted with."""
    return _digits(value, 7, unit)


def typed(value: RealNumber) -> str:
    """Write to ten digits: a figure to be typed into a job file."""
    return _digits(value, 10)


def marked(value: RealNumber, unit: str, digits: int = 8) -> str:
    """Write a figure on a drawing to as many digits as anyone gives, with the unit's mark."""
    return f"{_digits(value, digits)}{_UNIT_MARKS.get(unit, '')}"


def figure(value: RealNumber, unit: str, limit: RealNumber | None = None, digits: int = 8) -> str:
    """Write a figure to so many digits, or as many as tell it from its limit; of next to none on which side it is."""
    text, number = _digits(value, digits), float(value)
    if limit is not None and float(text) == float(limit) != number:
        if abs(number - float(limit)) < _LEAST_TOLD:
            side = "less" if number < float(limit) else "more"
            return f"{side} than {figure(limit, unit)} by <{_LEAST_TOLD:f} {unit}".rstrip()
        text = next(t for d in range(digits, _MOST_DIGITS) if float(t := _digits(number, d)) != float(limit))
    return f"{text} {unit}".rstrip()


def at_least(value: float, digits: int = 8) -> str:
    """Write a figure that something must come up to: cut to its digits, never below what it is."""
    return _cut(value, digits, math.ceil)


def at_most(value: float, digits: int = 8) -> str:
    """Write a figure that something must stay within: cut to its digits, never above what it is."""
    return _cut(value, digits, math.floor)


def margin_words(value: float, unit: str = "", digits: int = 4) -> str:
    """Write by how much a limit is kept, or with a minus missed."""
    return f"{value:+.{digits}g} {unit}".rstrip()


def fixed(value: RealNumber, decimals: int) -> str:
    """Write to so many decimals; never a negative zero."""
    return _decimals(round(float(value), decimals) + 0.0, decimals)


def over_words(value: RealNumber, decimals: int) -> str:
    """Write a height over something to so many decimals: one under it as how far below."""
    text = fixed(abs(float(value)), decimals)
    return f"{text} below" if value < 0 and float(text) else text


def percent(value: RealNumber, decimals: int) -> str:
    """Write a figure that is in hundredths already."""
    return f"{fixed(value, decimals)} %"


def degrees_words(angle: float) -> str:
    """Write an angle to a tenth of a degree; never a negative zero."""
    return f"{fixed(angle, 1)}°"


def turned_words(angle: float) -> str:
    """Write a turn in plan, left positive."""
    return f"{degrees_words(abs(angle))} {'left' if angle > 0 else 'right'}"


def rising_words(angle: float) -> str:
    """Write a slope along stations, up positive."""
    if round(angle, 1) == 0:
        return "level"
    return f"{degrees_words(abs(angle))} {'up' if angle > 0 else 'down'}"


def ratio_words(drawn: float, true: float = 1) -> str:
    """Write a scale: 2:1 enlarged, 1:20 reduced."""
    return f"{_digits(drawn, 15)}:{_digits(true, 15)}"


def sphere_words(value: float, limit: float | None, unit: Unit) -> str:
    """Write a sphere's diameter on a drawing, in as many decimals as tell it from its limit; "none" without a gap."""
    if value <= 0:
        return "none"
    decimals = _SPHERE_DECIMALS[unit]
    if limit is not None and math.isfinite(value):
        while decimals < _MOST_SPHERE_DECIMALS and value != limit and round(value, decimals) == round(limit, decimals):
            decimals += 1
    return f"{_decimals(value, decimals)}{_UNIT_MARKS[unit]}"


def diameter_words(value: float, limit: float | None, unit: Unit) -> str:
    """Write a diameter on a drawing, in as many decimals as tell it from its limit and from nothing."""
    words = sphere_words(value, limit, unit)
    return words if any(digit in "123456789" for digit in words) else marked(value, unit, 3)


def exact_words(value: Fraction, unit: Unit) -> str:
    """Write a given length on a drawing as it was given: inches in halves of halves as a fraction, else in decimals."""
    below = value.denominator
    if unit == "in" and below <= _FRACTIONS and below & (below - 1) == 0:
        return tape_text(value, unit, Fraction(1, below))
    return marked(value, unit)


def length_words(value: float, unit: Unit, fmt: Formatter) -> str:
    """Write a length on a drawing as a tape shows it, or in digits where it shows nothing."""
    return fmt(value) if fmt(value) != fmt(0.0) else marked(value, unit, 3)


def given_words(job: Job, fmt: Formatter) -> Formatter:
    """Return a formatter for lengths that nobody marks: as the tape shows them if it can, else in digits."""

    def words(value: RealNumber) -> str:
        return fmt(value) if to_mark(Fraction(value), job.mark) == value else marked(value, job.unit, 7)

    return words


def gap_words(gap: Fraction, job: Job, fmt: Formatter) -> str:
    """Write a gap on a drawing, which is no mark to be made: by the tape where a mark is there, else in decimals."""
    if to_mark(gap, job.mark) == gap:
        return fmt(gap)
    return f"{_decimals(gap, _DECIMALS[job.unit])}{_UNIT_MARKS[job.unit]}"


def charted(value: float, unit: str = "") -> str:
    """Write a number beside a chart to three figures, or to the whole number.

    >>> charted(16.5), charted(212.349), charted(12345.6), charted(-2.5e-7, "in")
    ('16.5', '212', '12346', '-2.5e-07 in')
    """
    size = abs(value)
    if value and not _WRITTEN_OUT[0] <= size < _WRITTEN_OUT[1]:
        return rough(value, unit)
    words = _decimals(value, max(0, 2 - math.floor(math.log10(size))) if value else 0)
    return f"{words.rstrip('0').rstrip('.') if '.' in words else words} {unit}".rstrip()


def _digits(value: RealNumber, digits: int, unit: str = "") -> str:
    return f"{figure_text(value, digits)} {unit}".rstrip()


def _decimals(value: RealNumber, decimals: int) -> str:
    return f"{float(value):.{decimals}f}"


def _cut(value: float, digits: int, way: Callable[[Fraction], int]) -> str:
    """A nearest figure as close as the solver itself is taken for it."""
    nearest = float(_digits(value, digits))
    if not value or abs(nearest - value) <= _SOLVED * abs(value):
        return _digits(nearest, digits)
    step = last_digit(value, digits)
    return _digits(float(way(Fraction(value) / step) * step), digits)
