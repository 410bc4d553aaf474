"""Sheets of sections of a guard beside the stair, with what is said of each below it."""

from __future__ import annotations

from math import inf
from typing import Final

from stairguard.model.guard.solved_layout import Layout
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.columns import Block, draw_block, height, paragraph
from stairguard.reports.drawing.paper.drafting import CAP
from stairguard.reports.drawing.paper.scene import Part, Place, Rect, Text, View
from stairguard.reports.drawing.section.section_facts import SideSection, side_sections
from stairguard.reports.drawing.section.section_picture import section_picture, section_view
from stairguard.reports.words.lengths import Formatter
from stairguard.reports.words.section_words import section_sentences, section_title

_PAD: Final = 4.0
_IN_ROW: Final = 3


def section_sheets(layout: Layout, fmt: Formatter, body: Rect) -> list[tuple[tuple[Part, ...], tuple[View, ...]]]:
    """Draw the sections of a guard beside the stair, on as many sheets as that takes.

    Parameters
    ----------
    layout
        The solved guard.
    fmt
        Writes a length as a tape shows it.
    body
        Room on a sheet, millimetres.

    Returns
    -------
    list of tuple
        For each sheet what is drawn and its views, all of one scale; empty where no strand stands out from the stair.
    """
    sections = side_sections(layout)
    sheets = []
    for first in range(0, len(sections), _IN_ROW):
        here = sections[first : first + _IN_ROW]
        pitch = (body.width - _PAD) / _IN_ROW
        rooms = [
            Rect(left, body.bottom + _PAD, left + pitch - _PAD, body.top - _PAD)
            for left in (body.left + _PAD + k * pitch for k in range(len(here)))
        ]
        cells = list(zip(here, rooms, strict=True))
        tall = max(height(_block(layout, section, fmt, room.width)) for section, room in cells)
        scale = min(section_view(layout, section, _picture(room, tall), inf).scale for section, room in cells)
        parts: list[Part] = []
        views: list[View] = []
        for section, room in cells:
            picture = _picture(room, tall)
            view = section_view(layout, section, picture, scale)
            parts += section_picture(layout, section, view, picture, fmt)
            parts += draw_block(_block(layout, section, fmt, room.width), Place(room.left, picture.bottom), room.width)
            at = Place(room.right, picture.bottom - metrics.ASCENT * CAP)
            parts.append(Text(view.scale_text, at, CAP, "end", what="scale"))
            views.append(view)
        sheets.append((tuple(parts), tuple(views)))
    return sheets


def _picture(room: Rect, words: float) -> Rect:
    """Room over the words."""
    return Rect(room.left, room.bottom + words, room.right, room.top)


def _block(layout: Layout, section: SideSection, fmt: Formatter, width: float) -> Block:
    along = [(touch, along) for touch, _, along in section.contacts()]
    opening = section.opening
    return paragraph(
        metrics.shorten(section_title(section.letter, opening), CAP, width - _SCALE),
        section_sentences(layout, opening, along, fmt, known_way=bool(section.way)),
        width,
    )


_SCALE: Final = 32.0
"""Width that a scale takes of a title's line."""
