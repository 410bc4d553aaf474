"""The frame of a sheet, its title block, and the strip of cautions over it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil
from typing import Final

from stairguard.model.guard.solved_layout import CheckedLayout
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.drafting import CAP, LEADING
from stairguard.reports.drawing.paper.scene import ACCENT, GREY, INK, Line, Part, Place, Polygon, Rect, Text
from stairguard.reports.words.lengths import UNIT_WORDS
from stairguard.reports.words.one_line import clean
from stairguard.reports.words.rules.verdict_words import UNRULED, outcome_loudly

HEIGHT: Final = 17.0
"""Height of the title block, millimetres."""

_TITLE_CAPS: Final = (4.5, 3.5, CAP)
_MOST_LINES: Final = 4
_COLUMN_GAP: Final = 8.0
_AROUND: Final = 5.0  # what a cell's words leave free of its width


@dataclass(frozen=True, slots=True)
class TitleCell:
    """A cell of the title block: its label, up to two lines of words, and its share of the width."""

    label: str
    lines: tuple[str, ...]
    share: float
    ink: str = INK


def guard_cells(
    checked: CheckedLayout, scale: Sequence[str], date: str, sheet: str, page: Rect
) -> tuple[TitleCell, ...]:
    """What the title block says of a checked layout, turned over to two lines where it is long."""
    layout = checked.layout
    limited = bool(checked.checks) or any(o.rule is not None for o in layout.openings)
    verdict = outcome_loudly(checked.outcome) if limited else UNRULED
    said = (
        ("SCALE", scale, 0.13, INK),
        ("UNIT", (UNIT_WORDS[layout.job.unit],), 0.09, INK),
        ("RULES", (layout.rules.title or layout.rules.name,), 0.22, INK),
        ("DATE", (date,), 0.08, INK),
        ("CHECKED", (verdict,), 0.12, ACCENT if checked.passes is False else INK),
        ("SHEET", (sheet,), 0.06, INK),
    )
    return tuple(
        TitleCell(label, _two_lines(words, share * page.width - _AROUND), share, ink)
        for label, words, share, ink in said
    )


def _two_lines(words: Sequence[str], room: float) -> tuple[str, ...]:
    lines = [line for word in words for line in metrics.wrap(clean(word), CAP, room)]
    if len(lines) > 2:
        return lines[0], metrics.shorten(" ".join(lines[1:]) + " …", CAP, room)
    return tuple(lines)


def draw_frame(page: Rect) -> tuple[Part, ...]:
    """Draw the frame round the page."""
    corners = (
        Place(page.left, page.bottom), Place(page.right, page.bottom),
        Place(page.right, page.top), Place(page.left, page.top),
    )  # fmt: skip
    return (Polygon(corners, "frame", None, "frame"),)


def draw_title(page: Rect, kind: str, title: str, cells: Sequence[TitleCell]) -> tuple[Part, ...]:
    """Draw the title block along the foot of the page.

    Parameters
    ----------
    page
        Within its frame.
    kind
        What sheet this is, over the title.
    title
        Set large if it fits, else smaller, cut short at last.
    cells
        To the right of the title.
    """
    top = page.bottom + HEIGHT
    left = page.left + page.width * (1 - sum(cell.share for cell in cells))
    room, named = left - page.left - 8, clean(title)
    cap = next((c for c in _TITLE_CAPS if metrics.width(named, c) <= room), CAP)
    parts: list[Part] = [
        Line("frame", (Place(page.left, top), Place(page.right, top)), "title block"),
        Text(metrics.shorten(kind, CAP, room), Place(page.left + 4, top - 5.0), CAP, what="title"),
        Text(metrics.shorten(named, cap, room), Place(page.left + 4, page.bottom + 3.2), cap, what="title"),
    ]
    for cell in cells:
        wide = cell.share * page.width
        parts.append(Line("thin", (Place(left, page.bottom), Place(left, top)), "title block"))
        parts.append(Text(cell.label, Place(left + 2.5, top - 5.0), CAP, ink=GREY, what="title block"))
        for k, line in enumerate(cell.lines):
            fitted = metrics.shorten(clean(line), CAP, wide - _AROUND)
            at = Place(left + 2.5, page.bottom + 6.4 - k * LEADING)
            parts.append(Text(fitted, at, CAP, ink=cell.ink, what=cell.label.lower()))
        left += wide
    return tuple(parts)


def _columns(cautions: Sequence[str], width: float) -> tuple[tuple[str, ...], ...]:
    """Cautions turned over to half the width, a caution a tuple of lines."""
    room = (width - _COLUMN_GAP) / 2 - 3.0
    return tuple(lines for c in cautions if (lines := metrics.wrap(clean(c), CAP, room)))


def strip_height(lines: int) -> float:
    """Height of the strip for so many lines in its longer column, millimetres."""
    return lines * LEADING + 7.5 if lines else 0.0


def caution_strip(cautions: Sequence[str], page: Rect) -> tuple[tuple[Part, ...], float, tuple[str, ...]]:
    """Set cautions in two columns over the title block.

    Returns
    -------
    tuple
        What is drawn, the strip's height, and the cautions for which the strip has no room.
    """
    turned = _columns(cautions, page.width - 8)
    columns: list[list[tuple[str, bool]]] = [[], []]
    total = sum(map(len, turned))
    half = min(_MOST_LINES, ceil(total / 2))
    shown = 0
    for lines in turned:
        fit = next((c for c in columns if len(c) + len(lines) <= max(half, len(lines)) <= _MOST_LINES), None)
        if fit is None and len(columns[1]) + len(lines) <= _MOST_LINES:
            fit = columns[1]
        if fit is None or (fit is columns[0] and columns[1]):
            fit = columns[1] if len(columns[1]) + len(lines) <= _MOST_LINES else None
        if fit is None:
            break
        fit += [(line, i == 0) for i, line in enumerate(lines)]
        shown += 1
    left = tuple(cautions[shown:])
    tall = strip_height(max(map(len, columns)))
    if not tall:
        return (), 0.0, left
    top = page.bottom + HEIGHT + tall
    more = "" if not left else " (more in the tables)"
    parts: list[Part] = [
        Line("thin", (Place(page.left, top), Place(page.right, top)), "cautions"),
        Text(f"CAUTIONS{more}", Place(page.left + 4, top - 4.6), CAP, what="caution"),
    ]
    for i, column in enumerate(columns):
        x = page.left + 4 + i * (page.width - 8 + _COLUMN_GAP) / 2
        for k, (line, first) in enumerate(column):
            y = top - 4.6 - (k + 1) * LEADING
            if first:
                parts.append(Text("-", Place(x + 0.5, y), CAP, what="caution"))
            parts.append(Text(line, Place(x + 3.0, y), CAP, what="caution"))
    return tuple(parts), tall, left
