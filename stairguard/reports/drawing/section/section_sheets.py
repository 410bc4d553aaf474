"""Sheets of sections and corners of a guard beside the stair, with what is said of each below it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import inf
from typing import Final

from stairguard.model.guard.solved_layout import Layout
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.columns import Block, draw_block, height, paragraph
from stairguard.reports.drawing.paper.drafting import CAP
from stairguard.reports.drawing.paper.scene import Part, Place, Rect, Text, View
from stairguard.reports.drawing.section.corner_facts import SideCorner, side_corners
from stairguard.reports.drawing.section.corner_picture import corner_picture, corner_view
from stairguard.reports.drawing.section.section_facts import SideSection, side_sections
from stairguard.reports.drawing.section.section_picture import section_picture, section_view
from stairguard.reports.words.lengths import Formatter
from stairguard.reports.words.section_words import corner_sentences, corner_title, section_sentences, section_title

_PAD: Final = 4.0
_IN_ROW: Final = 3


@dataclass(frozen=True, slots=True)
class _Cell:
    """One drawing of a sheet: what is said under it, and how it is drawn in its picture, no larger than a scale."""

    said: Callable[[float], Block]
    view: Callable[[Rect, float], View]
    picture: Callable[[View, Rect], tuple[Part, ...]]


def section_sheets(layout: Layout, fmt: Formatter, body: Rect) -> list[tuple[tuple[Part, ...], tuple[View, ...]]]:
    """Draw sections of a guard beside the stair, and its corners in plan, on as many sheets as that takes.

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
        For each sheet what is drawn and its views, the sections all of one scale; empty where no strand stands out from
        the stair.
    """
    cells = [
        *(_section_cell(layout, section, fmt) for section in side_sections(layout)),
        *(_corner_cell(layout, corner, fmt) for corner in side_corners(layout)),
    ]
    return [_sheet(cells[first : first + _IN_ROW], body) for first in range(0, len(cells), _IN_ROW)]


def _sheet(cells: Sequence[_Cell], body: Rect) -> tuple[tuple[Part, ...], tuple[View, ...]]:
    pitch = (body.width - _PAD) / _IN_ROW
    lefts = [body.left + _PAD + k * pitch for k in range(len(cells))]
    rooms = [Rect(left, body.bottom + _PAD, left + pitch - _PAD, body.top - _PAD) for left in lefts]
    blocks = [cell.said(room.width) for cell, room in zip(cells, rooms, strict=True)]
    pictures = [Rect(room.left, room.bottom + max(map(height, blocks)), room.right, room.top) for room in rooms]
    every = [cell.view(picture, inf) for cell, picture in zip(cells, pictures, strict=True)]
    parts: list[Part] = []
    views: list[View] = []
    for cell, block, picture, alone in zip(cells, blocks, pictures, every, strict=True):
        view = cell.view(picture, min(other.scale for other in every if other.name == alone.name))
        parts += cell.picture(view, picture)
        parts += draw_block(block, Place(picture.left, picture.bottom), picture.width)
        at = Place(picture.right, picture.bottom - metrics.ASCENT * CAP)
        parts.append(Text(view.scale_text, at, CAP, "end", what="scale"))
        views.append(view)
    return tuple(parts), tuple(views)


def _section_cell(layout: Layout, section: SideSection, fmt: Formatter) -> _Cell:
    opening = section.opening
    along = [(touch, along) for touch, _, along in section.contacts()]

    def said(width: float) -> Block:
        title = metrics.shorten(section_title(section.letter, opening), CAP, width - _SCALE)
        return paragraph(title, section_sentences(layout, opening, along, fmt, known_way=bool(section.way)), width)

    return _Cell(
        said,
        lambda room, largest: section_view(layout, section, room, largest),
        lambda view, room: section_picture(layout, section, view, room, fmt),
    )


def _corner_cell(layout: Layout, corner: SideCorner, fmt: Formatter) -> _Cell:
    def said(width: float) -> Block:
        title = metrics.shorten(corner_title([joint.post for joint in corner.alike]), CAP, width - _SCALE)
        return paragraph(title, corner_sentences(layout, corner.joint, corner.opening, fmt, outer=corner.outer), width)

    return _Cell(
        said,
        lambda room, largest: corner_view(layout, corner, room, largest),
        lambda view, room: corner_picture(layout, corner, view, room, fmt),
    )


_SCALE: Final = 32.0
"""Width that a scale takes of a title's line."""
