"""Tables of lengths from a CSV file or a caller: corner points, and the sides and diagonals of a figure."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import Final, TypeAlias

from stairguard.errors import Fault, InputError
from stairguard.io.parse.numbers import shown
from stairguard.io.parse.plus_minus import Read, read_measured
from stairguard.model.job import Unit
from stairguard.reading import AlreadyRead, Source, TooLargeError, UnreadableError, name_of, read_bytes

Rows: TypeAlias = "Source | Iterable[Sequence[object]]"

MOST_ROWS: Final = 2000
_LARGEST_FILE: Final = 16_000_000
_ENOUGH: Final = 8
"""Faults told of one table: more would not help to mend it."""
_LONGEST_NAME: Final = 30


def read_points(rows: Rows, unit: Unit) -> list[tuple[Read, ...]]:
    """Corner points, x and z, and in all or none y, each a length that may carry a +-.

    Parameters
    ----------
    rows : a CSV file with ``x,z`` or ``x,z,y`` a line (a head line and lines from ``#`` on are passed over), or rows

    Raises
    ------
    InputError
        No such file, no points, or a row that is none: one fault each, the first few.
    """
    faults: list[Fault] = []
    found: list[tuple[Read, ...]] = []
    for place, cells in _rows(rows, ("x", "z"), "points", more="y"):
        read = [_cell(cell, f"{place}, {axis}", unit, faults) for cell, axis in zip(cells, "xzy", strict=False)]
        number = len(found) + 1
        named = [
            Read(f"{axis} of point {number}", r.value, r.plus_minus, True) for axis, r in zip("xzy", read, strict=False)
        ]
        found.append(tuple(named))
        if len(faults) >= _ENOUGH:
            break
    if faults:
        raise InputError(*faults)
    return found


def read_figure(rows: Rows, unit: Unit) -> tuple[list[Read], list[tuple[int, int, Read]], list[str]]:
    """Sides in order round the outline, then diagonals: rows of two corners' names and a length.

    Returns
    -------
    tuple
        The sides; the diagonals with their corners' places from 0; the corners' names in order.

    Raises
    ------
    InputError
        No such file, no rows, a row that is none, or sides that do not go round: one fault each, the first few.
    """
    faults: list[Fault] = []
    table: list[tuple[str, str, str, Read]] = []
    for place, (a, b, cell) in _rows(rows, ("from", "to", "length"), "lengths"):
        start, end = (_corner(name, place, faults) for name in (a, b))
        length = _cell(cell, f"{place}, length", unit, faults, name=f"{start}-{end}", positive=True)
        table.append((place, start, end, length))
        if len(faults) >= _ENOUGH:
            break
    names = _round(table, faults) if not faults else []
    places = {name: k for k, name in enumerate(names)}
    for place, start, end, _ in table[len(names) :]:
        for name in (start, end):
            if not faults and name not in places:
                faults.append(Fault(place, f"between corners of the sides before it ({', '.join(names)})", name))
    if faults:
        raise InputError(*faults[:_ENOUGH])
    sides = [length for *_, length in table[: len(names)]]
    diagonals = [(places[start], places[end], length) for _, start, end, length in table[len(names) :]]
    return sides, diagonals, names


def _round(table: Sequence[tuple[str, str, str, Read]], faults: list[Fault]) -> list[str]:
    """The corners in order, from sides that each start where the one before ends and at last close."""
    names: list[str] = []
    reached = ""
    for place, start, end, _ in table:
        if names and start != reached:
            faults.append(Fault(place, f"a side from {reached}, where the one before ends", f"{start} to {end}"))
            return names
        if start in names:
            faults.append(Fault(place, "a side to a corner not yet reached, or to the first", f"{start} to {end}"))
            return names
        names.append(start)
        reached = end
        if end == names[0]:
            return names
    faults.append(Fault("lengths", f"sides that come round to {names[0]} again", f"an end at {reached}"))
    return names


def _corner(name: object, place: str, faults: list[Fault]) -> str:
    text = str(name).strip()
    if not text or len(text) > _LONGEST_NAME or not text.isprintable():
        faults.append(Fault(place, f"a corner's name of at most {_LONGEST_NAME} letters", text))
    return text


def _cell(cell: object, where: str, unit: Unit, faults: list[Fault], *, name: str = "", positive: bool = False) -> Read:
    """Read a cell; a fault and a stand-in where it is no length."""
    try:
        return read_measured(cell, unit, where=where, name=name, sign="positive" if positive else "any")
    except InputError as error:
        faults += error.faults
        return read_measured(1, unit, where=where, name=name)


def _rows(rows: Rows, columns: tuple[str, ...], what: str, more: str = "") -> Iterator[tuple[str, Sequence[object]]]:
    """Each row's place in words and its cells, as many as there are columns; one ``more`` if the first row has it."""
    given = _lines(rows, columns, what) if isinstance(rows, (str, Path, AlreadyRead)) else _given(rows, columns, what)
    count = 0
    for place, cells in given:
        count += 1
        if count == 1 and more and len(cells) == len(columns) + 1:
            columns = (*columns, more)
        if len(cells) != len(columns):
            raise InputError(Fault(place, f"{','.join(columns)}: {len(columns)} cells", f"{len(cells)} cells"))
        if count > MOST_ROWS:
            raise InputError(Fault(what, f"at most {MOST_ROWS:,} rows", "more"))
        yield place, cells
    if count == 0:
        raise InputError(Fault(what, f"rows of {','.join(columns)}", "none"))


def _given(rows: object, columns: tuple[str, ...], what: str) -> Iterator[tuple[str, Sequence[object]]]:
    if not isinstance(rows, Iterable):
        raise InputError(Fault(what, f"rows of {','.join(columns)}", shown(rows)))
    for number, row in enumerate(rows, 1):
        if isinstance(row, str) or not isinstance(row, Sequence):
            raise InputError(Fault(f"row {number}", "several values", row))
        yield f"row {number}", row


def _lines(source: Source, columns: tuple[str, ...], what: str) -> Iterator[tuple[str, list[str]]]:
    first, name = True, name_of(source).replace("\\", "/").rpartition("/")[2]
    for number, line in enumerate(_text(source, what).splitlines(), 1):
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        try:
            cells = [cell.strip() for cell in next(csv.reader([line]))]
        except csv.Error as error:
            raise InputError(Fault(f"{name} line {number}", "a line of CSV", error)) from None
        if not (first and _is_head(cells, columns)):
            yield f"{name} line {number}", cells
        first = False


def _is_head(cells: Sequence[str], columns: Sequence[str]) -> bool:
    """Whether a line names its columns: the names asked for, whatever stands in brackets after them."""
    if columns[0] != "x":
        return len(cells) == len(columns) and cells[-1].lower().startswith("length")
    return len(cells) in (2, 3) and all(
        re.fullmatch(rf"{name}\s*([(\[].*)?", cell.lower()) for name, cell in zip((*columns, "y"), cells, strict=False)
    )


def _text(source: Source, what: str) -> str:
    where = f"{what}, {name_of(source)}"
    try:
        content = read_bytes(source, _LARGEST_FILE)
    except TooLargeError as error:
        raise InputError(Fault(where, "a CSV file of at most 16 megabytes", error)) from None
    except UnreadableError as error:
        raise InputError(Fault(where, "a CSV file that can be read", error)) from None
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise InputError(Fault(where, "a CSV file in UTF-8", f"byte {content[error.start]:#04x}")) from None
