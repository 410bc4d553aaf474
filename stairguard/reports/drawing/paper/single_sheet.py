"""A sheet that stands alone: its paper, frame, cautions and title block."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from stairguard.model.job import Unit
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.drafting import CAP, LEADING
from stairguard.reports.drawing.paper.scene import Line, Part, Place, Rect, Text
from stairguard.reports.drawing.paper.title_block import HEIGHT, TitleCell, draw_frame, draw_title
from stairguard.reports.words.general_cautions import ALWAYS

PAPER: Final[dict[Unit, tuple[float, float]]] = {"mm": (297.0, 210.0), "in": (279.4, 215.9)}
"""Landscape sheets, millimetres: A4 (ISO 216) and 11 by 8-1/2 in."""

_MARGIN: Final = 8.0


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
    return (*draw_frame(page), *_cautions(page)[0], *draw_title(page, kind, title, cells))


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
