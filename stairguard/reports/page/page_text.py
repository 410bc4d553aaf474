"""Plain pages: figures in words, aligned tables and wrapped lines, at most 100 columns of one-width type."""

from __future__ import annotations

import math
import re
import textwrap
from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from stairguard.geometry.marks import last_digit, tape_text

if TYPE_CHECKING:  # the whole job's classes come with it
    from stairguard.model.job import Unit

__all__ = [
    "UNIT_WORDS", "WIDTH", "Figures", "at_least", "at_most", "figure", "heading", "listed", "numbered", "paragraph",
    "table", "underlined",
]  # fmt: skip

WIDTH: Final = 100
UNIT_WORDS: Final[dict[Unit, str]] = {"in": "inches", "mm": "millimetres"}
_INDENT: Final = "  "
_LEAST_TOLD: Final = 1e-6  # how near a limit a figure is told by its digits
_SOLVED: Final = 1e-12
_DECIMALS: Final[dict[Unit, int]] = {"in": 3, "mm": 1}
_MOST_DECIMALS: Final = 15
_ONE_FIGURE: Final = re.compile(r"(?<=[0-9]') (?=[0-9])|(?<=[0-9]) (?=(?:in|mm|deg)\b)")
_GLUE: Final = "\0"  # not in any text: control characters are cleaned out of what people type
_NARROWEST: Final = 12  # of a column that is wrapped


class Figures:
    """Writes figures of one job: marks off its tape, decimals, degrees."""

    def __init__(self, unit: Unit, mark: Fraction) -> None:
        self.unit = unit
        self.mark = mark

    def tape(self, length: Fraction | float) -> str:
        """Write a length as read off the tape, at its nearest mark."""
        return tape_text(Fraction(length), self.unit, self.mark)

    def decimal(self, length: Fraction | float, limit: Fraction | float | None = None) -> str:
        """Write a length in decimals: as many more as it takes to tell it from its limit."""
        text = f"{float(length):.{_DECIMALS[self.unit]}f}"
        if limit is not None and length != limit:
            for decimals in range(_DECIMALS[self.unit] + 1, _MOST_DECIMALS):
                if float(text) != float(limit):
                    break
                text = f"{float(length):.{decimals}f}"
        return text

    def enough(self, length: float) -> str:
        """Write by how much something must change at least, in decimals: never less."""
        fine = 10 ** _DECIMALS[self.unit]
        return f"{math.ceil(Fraction(length) * fine) / fine:.{_DECIMALS[self.unit]}f}"

    def given(self, length: Fraction | int) -> str:
        """Write a length that is not marked but counted with: off the tape if a mark is there, else in decimals."""
        if Fraction(length) % self.mark == 0:
            return self.tape(Fraction(length))
        return f"{float(length):.7g} {self.unit}"

    def limit(self, length: Fraction | float) -> str:
        """Write a limit: decimals without the zeros that say nothing."""
        return f"{float(length):.6g}"

    @staticmethod
    def degrees(angle: float) -> str:
        """Write an angle to a tenth of a degree; never a negative zero."""
        return f"{round(angle, 1) + 0.0:.1f}°"


def figure(value: Fraction | float, unit: str, limit: Fraction | float | None = None, digits: int = 8) -> str:
    """Write a figure to so many digits, or as many as tell it from its limit; of next to none on which side it is."""
    text, number = f"{float(value):.{digits}g}", float(value)
    if limit is not None and float(text) == float(limit) != number:
        if abs(number - float(limit)) < _LEAST_TOLD:
            side = "less" if number < float(limit) else "more"
            return f"{side} than {figure(limit, unit)} by <{_LEAST_TOLD:f} {unit}".rstrip()
        text = next(t for d in range(digits, 18) if float(t := f"{number:.{d}g}") != float(limit))
    return f"{text} {unit}".rstrip()


def at_least(value: float, digits: int = 8) -> str:
    """Write a figure that something must come up to: cut to its digits, never below what it is."""
    return _cut(value, digits, math.ceil)


def at_most(value: float, digits: int = 8) -> str:
    """Write a figure that something must stay within: cut to its digits, never above what it is."""
    return _cut(value, digits, math.floor)


def _cut(value: float, digits: int, way: Callable[[Fraction], int]) -> str:
    """A nearest figure as close as the solver itself is taken for it."""
    nearest = float(f"{value:.{digits}g}")
    if not value or abs(nearest - value) <= _SOLVED * abs(value):
        return f"{nearest:.{digits}g}"
    step = last_digit(value, digits)
    return f"{float(way(Fraction(value) / step) * step):.{digits}g}"


def underlined(text: str) -> list[str]:
    """Give the page's first lines."""
    return [*_wrap(text, ""), "=" * min(WIDTH, max(len(text), 8))]


def heading(text: str) -> list[str]:
    """Start a section."""
    return ["", *_wrap(text, "")]


def numbered(numbers: Iterable[int]) -> str:
    """Write whole numbers in order, each once, a row of three or more by its ends: ``1, 4 to 7``."""
    rows: list[list[int]] = []
    for number in sorted(set(numbers)):
        if rows and number == rows[-1][-1] + 1:
            rows[-1].append(number)
        else:
            rows.append([number])
    return ", ".join(f"{row[0]} to {row[-1]}" if len(row) > 2 else ", ".join(map(str, row)) for row in rows)


def paragraph(text: str) -> list[str]:
    """Wrap running text, indented."""
    return _wrap(text, _INDENT)


def listed(texts: Iterable[str]) -> list[str]:
    """Wrap the items of a list, each behind a dash."""
    return [line for text in texts for line in _wrap(text, f"{_INDENT}- ")]


def table(head: Sequence[str], rows: Sequence[Sequence[str]], *, left: int = 1, words: bool = False) -> list[str]:
    """Align rows under a head: the first ``left`` columns to the left, the others to the right.

    With ``words`` the last column too stands to the left; too wide for the page, it is wrapped under itself.
    """
    if not rows:
        return []
    last = len(head) - 1
    widths = [max(len(row[column]) for row in (head, *rows)) for column in range(len(head))]
    margin = len(_INDENT) + sum(width + 2 for width in widths[:-1])
    widths[-1] = min(widths[-1], max(WIDTH - margin, _NARROWEST))
    lines = []
    for row in (head, *rows):
        first, *more = _broken(row[last], widths[last])
        cells = [
            cell.ljust(width) if column < left or (words and column == last) else cell.rjust(width)
            for column, (cell, width) in enumerate(zip((*row[:last], first), widths, strict=True))
        ]
        lines.append((_INDENT + "  ".join(cells)).rstrip())
        lines += [" " * margin + rest for rest in more]
    return lines


def _wrap(text: str, start: str) -> list[str]:
    hang = " " * len(start)
    return [(hang if number else start) + line for number, line in enumerate(_broken(text, WIDTH - len(start)))]


def _broken(text: str, width: int) -> list[str]:
    """Break text into lines, never between feet and inches or a number and its unit."""
    glued = _ONE_FIGURE.sub(_GLUE, text)
    lines = textwrap.wrap(glued, width, break_on_hyphens=False) or [""]
    return [line.replace(_GLUE, " ") for line in lines]
