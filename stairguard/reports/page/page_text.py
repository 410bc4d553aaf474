"""Plain pages: aligned tables and wrapped lines, at most 100 columns of one-width type."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from typing import Final

from stairguard.reports.words.one_line import broken

WIDTH: Final = 100
_INDENT: Final = "  "
_GLUE: Final = "\0"  # not in any text: control characters are cleaned out of what people type
_NARROWEST: Final = 12  # of a column that is wrapped


def underlined(text: str) -> list[str]:
    """Give the page's first lines."""
    return [*_wrap(text, ""), "=" * min(WIDTH, max(len(text), 8))]


def heading(text: str) -> list[str]:
    """Start a section."""
    return ["", *_wrap(text, "")]


def paragraph(text: str) -> list[str]:
    """Wrap running text, indented."""
    return _wrap(text, _INDENT)


def paragraphs(texts: Iterable[str]) -> list[str]:
    """Wrap running texts, each from a new line."""
    return [line for text in texts for line in paragraph(text)]


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
    return broken(text, lambda glued: textwrap.wrap(glued, width, break_on_hyphens=False), _GLUE) or [""]
