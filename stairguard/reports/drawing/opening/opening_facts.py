"""What an opening's sheet says in words beside its picture: verdict, rule, sphere, uncertainty, what found no place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from stairguard.geometry.clearance.pockets import Pocket, compare
from stairguard.reports.drawing.opening.opening_picture import Pictured
from stairguard.reports.drawing.opening.opening_shape import Side
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.columns import Block, Cell, draw_block, height
from stairguard.reports.drawing.paper.drafting import CAP, LEADING
from stairguard.reports.drawing.paper.scene import ACCENT, INK, Part, Place, Rect, Text
from stairguard.reports.words.asked.touched_words import beside_limit, passing_words, touched_words
from stairguard.reports.words.lengths import diameter_words, exact_words
from stairguard.reports.words.one_line import clean

_KEY: Final = 19.0
_MOST_LINES: Final = 9
_MOST_TOUCHED: Final = 4
_MOST_POCKETS: Final = 5
_BELOW: Final = 3.0
"""Space a block keeps under itself that the last one does not need, millimetres."""
_VERDICT_CAPS: Final = (4.5, 3.5, CAP)


def facts(
    subject: Pictured, verdict: str, rule: str, fix: str, uncertainty: str, left: Sequence[Side], room: Rect,
    not_shown: str = "",
) -> tuple[Part, ...]:  # fmt: skip
    """Set the column of words beside a picture.

    Parameters
    ----------
    subject
        What is drawn.
    verdict, rule, fix, uncertainty
        In words; each may be empty.
    left
        Edges whose length is not on the picture.
    room
        The column, millimetres. What is cut for want of room ends in an ellipsis.
    not_shown
        What the picture cannot show, in words; may be empty.
    """
    wide = room.width
    parts: list[Part] = []
    top = room.top
    if verdict:
        cap = next((c for c in _VERDICT_CAPS if metrics.width(verdict, c) <= wide), CAP)
        at = Place(room.left, top - metrics.ASCENT * cap)
        ink = ACCENT if subject.fails else INK
        parts.append(Text(metrics.shorten(verdict, cap, wide), at, cap, ink=ink, what="verdict"))
        top = at.y - 2.5
    for line in _lines(rule, wide):
        parts.append(Text(line, Place(room.left, top - metrics.ASCENT * CAP), CAP, what="rule"))
        top -= LEADING
    top -= 3.0 if parts else 0.0
    wanted = (
        Block("LARGEST SPHERE", tuple(_sphere(subject, wide))),
        Block("NOT SHOWN", tuple((Cell(line, 0.0),) for line in _lines(not_shown, wide))),
        Block("WHAT TO DO", tuple((Cell(line, 0.0),) for line in _lines(fix, wide))),
        Block("UNCERTAINTY", tuple((Cell(line, 0.0),) for line in _lines(uncertainty, wide))),
        Block("OTHER POCKETS, FAINT", tuple(_others(subject, wide))),
        Block(
            f"LENGTHS NOT ON THE PICTURE, {len(left)} OF {len(subject.shape.sides)}",
            tuple(_lengths(subject, left, wide)),
        ),
    )
    for block in wanted:
        fitted = _fitted(block, top - room.bottom + _BELOW)
        if fitted is not None:
            parts += draw_block(fitted, Place(room.left, top), wide)
            top -= height(fitted)
    return tuple(parts)


def _lines(words: str, wide: float, most: int = _MOST_LINES) -> tuple[str, ...]:
    """Turn words over, and cut them after so many lines."""
    lines = metrics.wrap(clean(words), CAP, wide)
    if len(lines) <= most:
        return lines
    last = metrics.shorten(lines[most - 1], CAP, wide - metrics.width(" …", CAP))
    return (*lines[: most - 1], last if last.endswith("…") else f"{last} …")


def _fitted(block: Block, room: float) -> Block | None:
    """Cut a block to the room there is; None if it says nothing or has no room to say it."""
    if not block.rows:
        return None
    if height(block) <= room:
        return block
    rows = int((room - height(block, 0)) / LEADING) - 1
    if rows < 1:
        return None
    said = sum(max(len(row) // 2, 1) for row in block.rows[rows:])  # two cells to a thing
    return Block(block.title, (*block.rows[:rows], (Cell(f"and {said} more", 0.0),)))


def _row(key: str, words: str, wide: float) -> Iterator[tuple[Cell, ...]]:
    for k, line in enumerate(_lines(words, wide - _KEY, _MOST_TOUCHED)):
        yield (Cell(line, _KEY),) if k else (Cell(key, 0.0), Cell(line, _KEY))


def _sphere(subject: Pictured, wide: float) -> Iterator[tuple[Cell, ...]]:
    pocket, unit, limit = subject.pocket, subject.unit, subject.limit
    sign = 0 if limit is None else compare(subject.outline, pocket, limit)
    bound = float(limit) if limit is not None and sign else None
    yield from _row("diameter", f"⌀{diameter_words(pocket.diameter, bound, unit)}", wide)
    if limit is not None:
        yield from _row("limit", f"⌀{exact_words(limit, unit)}", wide)
        yield from _row("", beside_limit(pocket.diameter, limit, sign, unit), wide)
    yield from _row("touches", touched_words(subject.outline, pocket.sites), wide)
    if pocket.ridge is not None:
        bounded = all(any(side.ends) for side in subject.shape.sides)
        yield from _row("passes", passing_words(pocket.ridge_length, unit, subject.fmt, bounded=bounded), wide)


def _others(subject: Pictured, wide: float) -> Iterator[tuple[Cell, ...]]:
    for pocket in subject.others[:_MOST_POCKETS]:
        yield _beside(_pocket_words(subject, pocket), wide)
    more = len(subject.others) - _MOST_POCKETS
    if more > 0:
        yield (Cell(f"and {more} no larger", 0.0),)


def _pocket_words(subject: Pictured, pocket: Pocket) -> tuple[str, str]:
    diameter = diameter_words(pocket.diameter, None, subject.unit)
    return f"⌀{diameter}", touched_words(subject.outline, pocket.sites)


def _beside(pair: tuple[str, str], wide: float) -> tuple[Cell, ...]:
    """Set two cells on one line, the second cut to the room the first leaves."""
    start = max(_KEY, metrics.width(pair[0], CAP) + 3.0)
    first = metrics.shorten(pair[0], CAP, wide)
    return Cell(first, 0.0), Cell(metrics.shorten(pair[1], CAP, wide - start), start)


def _lengths(subject: Pictured, left: Sequence[Side], wide: float) -> Iterator[tuple[Cell, ...]]:
    """Names and lengths, two to a row where they are short."""
    pairs = [_beside(subject.words_of(side), wide) for side in left]
    half = (wide + _GUTTER) / 2
    if all(cells[1].offset + metrics.width(cells[1].words, CAP) <= half - _GUTTER for cells in pairs):
        middle = (len(pairs) + 1) // 2
        for k in range(middle):
            second = [
                replace(cell, offset=cell.offset + half) for p in pairs[middle + k : middle + k + 1] for cell in p
            ]
            yield (*pairs[k], *second)
        return
    yield from pairs


_GUTTER: Final = 3.0
