"""Tables and paragraphs beside a drawing, in columns that run on to further sheets."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal, TypeAlias

from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.drafting import CAP, LEADING
from stairguard.reports.drawing.paper.scene import INK, Line, Part, Place, Rect, Text
from stairguard.reports.words.one_line import clean

_HEAD: Final = LEADING + 2.2
_AFTER: Final = 3.4
_BETWEEN: Final = 3.0

CellAnchor: TypeAlias = Literal["start", "end"]


@dataclass(frozen=True, slots=True)
class Cell:
    """Words at an offset from a column's left edge."""

    words: str
    offset: float
    anchor: CellAnchor = "start"
    ink: str = INK


@dataclass(frozen=True, slots=True)
class Block:
    """A titled run of rows, every row one line; the first ``head`` of them are repeated where it runs on."""

    title: str
    rows: tuple[tuple[Cell, ...], ...]
    head: int = 0


def height(block: Block, rows: int | None = None) -> float:
    """Height of paper a block takes, with all its rows or the first so many, millimetres."""
    return _HEAD + (len(block.rows) if rows is None else rows) * LEADING + _AFTER


def paragraph(title: str, sentences: Sequence[str], width: float) -> Block:
    """Set sentences, each starting a line, turned over to fit a width."""
    rows: list[tuple[Cell, ...]] = []
    for sentence in sentences:
        for i, line in enumerate(metrics.wrap(clean(sentence), CAP, width - 3.0)):
            cells = (Cell(line, 3.0),) if i else (Cell("-", 0.5), Cell(line, 3.0))
            rows.append(cells)
    return Block(title, tuple(rows))


def table(
    title: str,
    rows: Sequence[Sequence[str]],
    anchors: Sequence[CellAnchor],
    width: float,
    inks: Sequence[str] = (),
) -> Block:
    """Set columns as wide as they need, the widest cut short if all together are wider than ``width``.

    ``inks`` gives a row's ink, row by row; without it all are in the drawing's ink.
    """
    cleaned = [[clean(cell) for cell in row] for row in rows]
    if not cleaned:
        return Block(title, ())
    gaps = _BETWEEN * (len(anchors) - 1)
    wides = _fitted([max(metrics.width(row[i], CAP) for row in cleaned) for i in range(len(anchors))], width - gaps)
    spare = (width - gaps - sum(wides)) / max(len(wides) - 1, 1) if "end" in anchors else 0.0
    lefts = [sum(wides[:i]) + i * (_BETWEEN + spare) for i in range(len(wides))]
    out = []
    for number, row in enumerate(cleaned):
        ink = inks[number] if number < len(inks) else INK
        out.append(tuple(_cell(*args, ink) for args in zip(row, lefts, wides, anchors, strict=True)))
    return Block(title, tuple(out))


def natural_width(rows: Sequence[Sequence[str]]) -> float:
    """Width of paper at which no column of a table is cut short, millimetres."""
    columns = zip(*rows, strict=True)
    return sum(max(metrics.width(w, CAP) for w in column) + _BETWEEN for column in columns) - _BETWEEN


def _fitted(wides: list[float], room: float) -> list[float]:
    """Cut the widest columns down until all fit the room."""
    wides = list(wides)
    while sum(wides) > room + 1e-9:
        most = max(wides)
        at = [i for i, wide in enumerate(wides) if wide == most]
        next_most = max((wide for wide in wides if wide < most), default=0.0)
        cut = min(most - next_most, (sum(wides) - room) / len(at))
        for i in at:
            wides[i] -= cut
    return wides


def _cell(words: str, left: float, wide: float, anchor: CellAnchor, ink: str) -> Cell:
    fitted = metrics.shorten(words, CAP, wide + 0.01)
    return Cell(fitted, left + (wide if anchor == "end" else 0.0), anchor, ink)


def draw_block(block: Block, at: Place, width: float) -> Iterator[Part]:
    """Draw a block from its upper left corner down: title, rule, rows."""
    y = at.y - metrics.ASCENT * CAP
    yield Text(metrics.shorten(block.title, CAP, width), Place(at.x, y), CAP, what="table title")
    y -= 1.5
    yield Line("thin", (Place(at.x, y), Place(at.x + width, y)), "table rule")
    y = at.y - _HEAD
    for row in block.rows:
        y -= LEADING
        for cell in row:
            if cell.words:
                place = Place(at.x + cell.offset, y + metrics.DESCENT * CAP)
                yield Text(cell.words, place, CAP, cell.anchor, 0.0, cell.ink, what=block.title)


def flow(
    blocks: Sequence[Block], first: Rect, column: Rect, columns: int, pitch: float
) -> tuple[list[Part], list[list[Part]]]:
    """Set blocks in a column, what does not fit in columns of further sheets.

    Parameters
    ----------
    blocks
        In order of importance.
    first
        Room on the first sheet: whole blocks only, those that fit.
    column, columns, pitch
        First column of a further sheet, how many there are, and from one to the next.

    Returns
    -------
    tuple
        Parts for the first sheet, and a list of parts for every further sheet.
    """
    here: list[Part] = []
    waiting: list[Block] = []
    top = first.top
    for block in blocks:
        if top - height(block) >= first.bottom - _AFTER:
            here += draw_block(block, Place(first.left, top), first.width)
            top -= height(block)
        else:
            waiting.append(block)
    return here, _further(waiting, column, columns, pitch)


def _further(waiting: Sequence[Block], column: Rect, columns: int, pitch: float) -> list[list[Part]]:
    sheets: list[list[Part]] = []
    slot, top = 0, column.top
    for block in waiting:
        rest: Block | None = block
        while rest is not None:
            rows = int((top - column.bottom - height(rest, 0) + _AFTER) / LEADING)
            whole_column = int((column.height - height(rest, 0) + _AFTER) / LEADING)
            fits = len(rest.rows) <= rows
            if not fits and (rows < _LEAST_ROWS or (len(rest.rows) <= whole_column and top < column.top)):
                slot, top = slot + 1, column.top
                continue
            piece, rest = (rest, None) if fits else _split(rest, rows)
            while len(sheets) <= slot // columns:
                sheets.append([])
            left = column.left + slot % columns * pitch
            sheets[slot // columns] += draw_block(piece, Place(left, top), column.width)
            top -= height(piece)
    return sheets


_LEAST_ROWS: Final = 4


def _split(block: Block, rows: int) -> tuple[Block, Block]:
    title = block.title.removesuffix(_MORE) + _MORE
    rest = (*block.rows[: block.head], *block.rows[rows:])
    return replace(block, rows=block.rows[:rows]), replace(block, title=title, rows=rest)


_MORE: Final = " (continued)"
