"""Rows for a spreadsheet, as comma-separated values."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import Final, TypeAlias

from stairguard.reports.words.one_line import clean

__all__ = ["Cell", "spreadsheet"]

Cell: TypeAlias = str | int | float | bool | None

_FORMULA_STARTS: Final = ("=", "+", "-", "@")


def spreadsheet(head: Sequence[str], rows: Iterable[Sequence[Cell]]) -> str:
    """Write a table of one line of headings and a line a row; what is None is left empty."""
    out = io.StringIO()
    lines = csv.writer(out, lineterminator="\n")
    lines.writerow(head)
    lines.writerows([_safe(cell) for cell in row] for row in rows)
    return out.getvalue()


def _safe(cell: Cell) -> Cell:
    """Keep a spreadsheet from taking text for a formula: an apostrophe before what could start one."""
    return _safe_text(cell) if isinstance(cell, str) else cell


@lru_cache(maxsize=1024)
def _safe_text(text: str) -> str:
    line = clean(text)
    return f"'{line}" if line.startswith(_FORMULA_STARTS) else line
