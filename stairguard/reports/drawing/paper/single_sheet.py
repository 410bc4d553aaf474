"""A sheet that stands alone: its paper, frame, cautions and title block."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from stairguard.model.job import Unit
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.drafting import CAP, LEADING
from stairguard.reports.drawing.paper.scene import INK, Line, Part, Place, Rect, Text
from stairguard.reports.drawing.paper.title_block import HEIGHT, draw_frame
from stairguard.reports.words.general_cautions import ALWAYS
from stairguard.reports.words.one_line import clean

PAPER: Final[dict[Unit, tuple[float, float]]] = {"mm": (297.0, 210.0), "in": (279.4, 215.9)}
"""Landscape sheets, millimetres: A4 (ISO 216) and 11 by 8-1/2 in."""

GREY: Final = "#6b6b6b"
_MARGIN: Final = 8.0
_TITLE_CAPS: Final = (4.5, 3.5, CAP)


@dataclass(frozen=True, slots=True)
class TitleCell:
    """A cell of the title block: its label, up to two lines of words, and its share of the width."""

    label: str
    lines: tuple[str, ...]
    share: float
    ink: str = INK


def body(unit: Unit) -> Rect:
    """Room on a sheet for what it shows."""
    page = _page(unit)
    return Rect(page.left, page.bottom + HEIGHT + _cautions(page)[1], page.right, page.top)


def framed(unit: Unit, kind: str, title: str, cells: Sequence[TitleCell]) -> tuple[Part, ...]:
    """Draw what every sheet has, round its `body`.

    Parameters
    ----------
    unit
        The job's; it decides the paper.
    kind
        What sheet this is, over the title.
    title
        Printed as it is, smaller if it is long, cut short at last.
    cells
        To the right of the title.
    """
    page = _page(unit)
    return (*draw_frame(page), *_cautions(page)[0], *_block(page, kind, title, cells))


def _page(unit: Unit) -> Rect:
    wide, tall = PAPER[unit]
    return Rect(_MARGIN, _MARGIN, wide - _MARGIN, tall - _MARGIN)


def _cautions(page: Rect) -> tuple[tuple[Part, ...], float]:
    """Set what is said with every result over the title block; return the strip's height too."""
    lines = metrics.wrap(f"CAUTIONS: {' '.join(ALWAYS)}", CAP, page.width - 8)
    strip = len(lines) * LEADING + 3.6
    top = page.bottom + HEIGHT + strip
    rule = Line("thin", (Place(page.left, top), Place(page.right, top)), "cautions")
    words = [
        Text(line, Place(page.left + 4, top - 0.8 - k * LEADING), CAP, what="caution")
        for k, line in enumerate(lines, 1)
    ]
    return (rule, *words), strip


def _block(page: Rect, kind: str, title: str, cells: Sequence[TitleCell]) -> tuple[Part, ...]:
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
            fitted = metrics.shorten(clean(line), CAP, wide - 5)
            at = Place(left + 2.5, page.bottom + 6.4 - k * LEADING)
            parts.append(Text(fitted, at, CAP, ink=cell.ink, what=cell.label.lower()))
        left += wide
    return tuple(parts)
