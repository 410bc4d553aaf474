"""Rows for a spreadsheet, as comma-separated values."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from typing import Final, TypeAlias

from stairguard.reports.words.one_line import clean

CsvCell: TypeAlias = str | int | float | bool | None

_FORMULA_STARTS: Final = ("=", "+", "-", "@")


def spreadsheet(head: Sequence[str], rows: Iterable[Mapping[str, CsvCell]]) -> str:
    """Write a table of one line of headings and a line a row, each cell under its own.

    What a row has not, or has as None, is left empty; a row ends with the last cell that it has.
    """
    places = {name: place for place, name in enumerate(head)}
    out = io.StringIO()
    lines = csv.writer(out, lineterminator="\n")
    lines.writerow(head)
    for row in rows:
        cells: list[CsvCell] = [None] * (1 + max(places[name] for name in row))
        for name, cell in row.items():
            cells[places[name]] = _safe_text(cell) if isinstance(cell, str) else cell
        lines.writerow(cells)
    return out.getvalue()


@lru_cache(maxsize=1024)
def _safe_text(text: str) -> str:
    """Keep a spreadsheet from taking text for a formula: an apostrophe before what could start one."""
    line = clean(text)
    return f"'{line}" if line.startswith(_FORMULA_STARTS) else line
