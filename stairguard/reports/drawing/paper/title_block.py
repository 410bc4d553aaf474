"""The frame of a sheet, its title block, and the strip of cautions over it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil
from typing import Final

from stairguard.model.guard.solved_layout import CheckedLayout
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.drafting import CAP, LEADING
from stairguard.reports.drawing.paper.scene import ACCENT, INK, Line, Part, Place, Polygon, Rect, Text
from stairguard.reports.words.one_line import clean
from stairguard.reports.words.rules.verdict_words import UNRULED, passes_loudly

HEIGHT: Final = 17.0
"""Height of the title block, millimetres."""

_TITLE_CAP: Final = 4.5
_LABEL_CAP: Final = 2.5
_MOST_LINES: Final = 4
_COLUMN_GAP: Final = 8.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """What a title block says."""

    title: str
    scale: tuple[str, ...]
    unit: str
    rules: str
    date: str
    verdict: str
    fails: bool


def heading(checked: CheckedLayout, scale: tuple[str, ...], date: str) -> Heading:
    """Gather what the title block says of a checked layout."""
    layout = checked.layout
    words = {"in": "inches", "mm": "millimetres"}[layout.job.unit]
    limited = bool(checked.checks) or any(o.rule is not None for o in layout.openings)
    verdict = passes_loudly(checked.passes) if limited else UNRULED
    rules = layout.rules.title or layout.rules.name
    return Heading(
        title=layout.job.title,
        scale=scale,
        unit=words,
        rules=rules,
        date=date,
        verdict=verdict,
        fails=not checked.passes,
    )


def draw_frame(page: Rect) -> tuple[Part, ...]:
    """Draw the frame round the page."""
    corners = (
        Place(page.left, page.bottom), Place(page.right, page.bottom),
        Place(page.right, page.top), Place(page.left, page.top),
    )  # fmt: skip
    return (Polygon(corners, "frame", None, "frame"),)


def draw_title(heading: Heading, page: Rect, number: int, count: int) -> tuple[Part, ...]:
    """Draw the title block along the foot of the page."""
    top = page.bottom + HEIGHT
    parts: list[Part] = [Line("frame", (Place(page.left, top), Place(page.right, top)), "title block")]
    cells = (
        ("SCALE", heading.scale, 0.13, INK),
        ("UNIT", (heading.unit,), 0.09, INK),
        ("RULES", (heading.rules,), 0.22, INK),
        ("DATE", (heading.date,), 0.08, INK),
        ("CHECKED", (heading.verdict,), 0.12, ACCENT if heading.fails else INK),
        ("SHEET", (f"{number} of {count}",), 0.06, INK),
    )
    left = page.left + page.width * (1 - sum(c[2] for c in cells))
    title = clean(heading.title)
    room = left - page.left - 8
    parts.append(Text("GUARD ELEVATION AND STRAND LAYOUT", Place(page.left + 4, top - 5.0), _LABEL_CAP, what="title"))
    parts += _fitted(title, Place(page.left + 4, page.bottom + 3.2), room)
    for label, words, share, ink in cells:
        right = left + share * page.width
        parts.append(Line("thin", (Place(left, page.bottom), Place(left, top)), "title block"))
        parts.append(Text(label, Place(left + 2.5, top - 5.0), _LABEL_CAP, ink="#6b6b6b", what="title block"))
        lines = [line for word in words for line in metrics.wrap(clean(word), CAP, right - left - 5)]
        if len(lines) > 2:
            lines = [lines[0], metrics.shorten(" ".join(lines[1:]) + " …", CAP, right - left - 5)]
        for i, line in enumerate(lines):
            at = Place(left + 2.5, page.bottom + 6.4 - i * LEADING)
            parts.append(Text(line, at, CAP, ink=ink, what=label.lower()))
        left = right
    return tuple(parts)


def _fitted(title: str, at: Place, room: float) -> tuple[Part, ...]:
    """Set the title large if it fits, else smaller, at last cut short."""
    for cap in (_TITLE_CAP, 3.5, CAP):
        if metrics.width(title, cap) <= room:
            return (Text(title, at, cap, what="title"),)
    return (Text(metrics.shorten(title, CAP, room), at, CAP, what="title"),)


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
