"""The annotated elevation of a guard: as many sheets as it takes to say everything legibly."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import ceil
from typing import Final

from stairguard.model.guard import CheckedLayout, Layout
from stairguard.model.job import Flight, Unit
from stairguard.views import metrics, stations
from stairguard.views.blocks import Block, flow, paragraph
from stairguard.views.dimensions import (
    draw_breaks,
    in_view,
    landing_height,
    nosing_height,
    pitch_sign,
    post_labels,
)
from stairguard.views.drafting import CAP, Note, place_notes
from stairguard.views.framing import frame
from stairguard.views.guard import datum, draw_guard
from stairguard.views.scene import Line, Part, Place, Rect, Sheet, Text, View
from stairguard.views.schedules import failures, figures, holes, joints, notes_left, openings
from stairguard.views.schedules import stations as station_table
from stairguard.views.space import Space
from stairguard.views.spheres import mark_spheres, step_triangle
from stairguard.views.stair import draw_stair, nosing_line
from stairguard.views.step_detail import step_detail
from stairguard.views.titleblock import HEIGHT, caution_strip, draw_frame, draw_title, heading
from stairguard.views.wording import Formatter, count, degrees_words, given_words, joint_words, surface_name

__all__ = ["PAPER", "elevation"]

PAPER: Final[dict[Unit, tuple[float, float]]] = {"mm": (420.0, 297.0), "in": (431.8, 279.4)}
"""Landscape sheets, millimetres: A3 (ISO 216) and 17 by 11 in."""

_MARGIN: Final = 10.0
_COLUMN: Final = 104.0
_COLUMNS: Final = 3
_DETAIL: Final = 90.0
_SIDE: Final = 11.5
_PAD: Final = 4.0
_VIEW_TITLE: Final = 8.0


def elevation(checked: CheckedLayout, date: str, fmt: Formatter) -> tuple[Sheet, ...]:
    """Draw a guard's elevation.

    Parameters
    ----------
    checked
        The guard, every rule applied.
    date
        Printed in the title block as it is.
    fmt
        Writes a length of the job's unit as a tape shows it.

    Returns
    -------
    tuple of Sheet
        The elevation with its step detail and tables; further sheets hold tables that found no room on it.

    Notes
    -----
    Words never overlap: dimensions have bands of their own, notes go where the panel is free, and what
    finds no place is said in the tables, which run on to as many sheets as they need.
    """
    wide, tall = PAPER[checked.layout.job.unit]
    page = Rect(_MARGIN, _MARGIN, wide - _MARGIN, tall - _MARGIN)
    cautions, strip, unsaid = caution_strip(checked.cautions, page)
    body = Rect(page.left, page.bottom + HEIGHT + strip, page.right, page.top)
    column = Rect(body.right - _COLUMN - _PAD, body.bottom + _PAD, body.right - _PAD, body.top - _PAD)
    panel = Rect(body.left + _PAD, body.bottom + _PAD, column.left - 1.5 * _PAD, body.top - _PAD)

    parts, view, left, all_listed = _panel(checked, panel, fmt)
    detail, views, more = _detail(checked.layout, view, column, fmt)
    below = Rect(
        column.left,
        column.bottom,
        column.right,
        column.top - (_DETAIL + _PAD if detail else 0.0),
    )
    blocks = _blocks(checked, (*left, *more), unsaid, fmt, column.width, all_listed=all_listed)
    pitch = (page.width - _PAD) / _COLUMNS
    left_edge = page.left + _PAD
    whole = Rect(left_edge, page.bottom + HEIGHT + _PAD, left_edge + column.width, page.top - _PAD)
    here, further = flow(blocks, below, whole, _COLUMNS, pitch)
    edge = column.left - _PAD
    rule = Line("thin", (Place(edge, body.bottom), Place(edge, body.top)), "column")
    first = (*parts, rule, *detail, *here, *cautions)
    return _sheets(checked, date, page, (view, *views), [first, *map(tuple, further)])


def _sheets(
    checked: CheckedLayout,
    date: str,
    page: Rect,
    views: tuple[View, ...],
    contents: Sequence[tuple[Part, ...]],
) -> tuple[Sheet, ...]:
    wide, tall = page.right + _MARGIN, page.top + _MARGIN
    scale = tuple(f"{v.name.lower()} {v.scale_text}" for v in views)
    sheets = []
    for number, parts in enumerate(contents, 1):
        said = heading(checked, scale if number == 1 else ("none",), date)
        name = "elevation" if number == 1 else f"tables {number - 1}"
        outer = (*draw_frame(page), *parts, *draw_title(said, page, number, len(contents)))
        sheets.append(Sheet(name, wide, tall, ", ".join(said.scale), outer, views if number == 1 else ()))
    return tuple(sheets)


def _panel(
    checked: CheckedLayout, panel: Rect, fmt: Formatter
) -> tuple[tuple[Part, ...], View, tuple[Note, ...], bool]:
    """Draw the elevation itself; also the notes without room, and whether every post's station is on it."""
    layout = checked.layout
    found = stations.marks(layout, fmt)
    band = stations.band_height(found)
    room = Rect(panel.left + _SIDE, panel.bottom + _VIEW_TITLE + band, panel.right - _SIDE, panel.top)
    view = frame(layout, room)
    shown, step = stations.thinned(found, view, room.width + 2 * _SIDE)
    strip = Rect(panel.left, panel.bottom + _VIEW_TITLE, panel.right, room.bottom)
    rows = stations.draw_stations(shown, view, strip)
    complete = len(shown) == len(found)

    space = Space(Rect(panel.left, room.bottom, panel.right, panel.top))
    heights, notes = nosing_height(layout, view, fmt)
    drawing: list[Part] = [
        *draw_stair(layout, view),
        *nosing_line(layout, view),
        *draw_guard(layout, view),
        *heights,
    ]
    for part in drawing:
        if isinstance(part, Line):
            space.line_at(part.points)
    _take_guard(layout, view, space)
    drawing[:0] = rows  # extension lines lie under everything, and words may cross them
    drawing += draw_breaks(layout, view, space, fmt)
    drawing += (landing_height(layout, view, space, fmt, left=left) for left in (True, False))
    drawing += post_labels(layout, view, space)
    wanted: list[Note] = list(notes)
    for flight in (s for s in layout.line.surfaces if s.kind == "flight"):
        sign = pitch_sign(flight, layout, view, space)
        drawing += sign
        if not sign:
            wanted.append(_pitch_note(abs(flight.pitch_deg)))
    for circles, note in mark_spheres(layout, view, layout.job.unit):
        drawing += circles
        wanted.append(note)
    wanted += _notes(layout, view, fmt)
    seen = [n for n in wanted if n.target.x >= 0]
    placed, left = place_notes(space, seen)
    drawing += placed
    drawing += _view_title(panel, view, layout.job.unit, step, complete=complete)
    return tuple(drawing), view, (*left, *(n for n in wanted if n.target.x < 0)), complete


_NOWHERE: Final = Place(-1.0, -1.0)


def _take_guard(layout: Layout, view: View, space: Space) -> None:
    """Keep notes off the guard and the steps under it: a millimetre of paper at a time, surface to rail."""
    for surface, rail in zip(layout.line.surfaces, layout.rails, strict=True):
        drop = float(surface.given.rise) if isinstance(surface.given, Flight) else 0.0
        for window in view.windows:
            first = window.dx + view.scale * max(window.first, float(surface.start.s))
            last = window.dx + view.scale * min(window.last, float(surface.end.s))
            for step in range(max(0, ceil(last - first))):
                x = first + step
                level = window.dy + view.scale * datum(surface, (x - window.dx) / view.scale)
                top = level + view.scale * float(rail.height)
                space.area_at(Rect(x, level - view.scale * drop, min(x + 1, last), top))


def _pitch_note(pitch: float) -> Note:
    return Note((f"pitch {degrees_words(pitch)}",), _NOWHERE, _NOWHERE, "pitch")


def _notes(layout: Layout, view: View, fmt: Formatter) -> list[Note]:
    """List what is said of joints, strands and surfaces, most wanted first."""
    notes: list[Note] = []
    for joint in layout.joints:
        at = view.to_paper(float(joint.meets.s), float(joint.meets.z))
        words = (f"joint {joint.post}", *joint_words(layout, joint, fmt))
        if at is None:
            notes.append(Note(words, _NOWHERE, _NOWHERE, f"joint {joint.post}"))
        else:
            notes.append(Note(words, at, Place(at.x, at.y + 18), f"joint {joint.post}", end="arrow"))
    notes += _strand_notes(layout, view, fmt)
    return [*notes, *_level_notes(layout, view, fmt)]


def _level_notes(layout: Layout, view: View, fmt: Formatter) -> list[Note]:
    """Name the landings and their elevations, under the middle of their widest bay in view."""
    notes = []
    stations = [float(p.station) for p in layout.posts]
    for surface in layout.line.surfaces:
        if surface.kind != "landing":
            continue
        words = (surface_name(layout, surface), f"elevation {fmt(surface.start.z)}")
        what = f"elevation of surface {surface.index + 1}"
        start, end = float(surface.start.s), float(surface.end.s)
        bays = []
        for window in view.windows:
            first, last = max(window.first, start), min(window.last, end)
            stops = [first, *(s for s in stations if first < s < last), last]
            bays += [(b - a, (a + b) / 2) for a, b in pairwise(stops) if b > a]
        if bays:
            at = view.to_paper(max(bays)[1], float(surface.start.z))
            assert at is not None  # the bay lies in a window
            notes.append(Note(words, at, Place(at.x, at.y - 9), what, end="arrow"))
        else:
            notes.append(Note(words, _NOWHERE, _NOWHERE, what))
    return notes


def _strand_notes(layout: Layout, view: View, fmt: Formatter) -> list[Note]:
    notes = []
    thick = given_words(layout.job, fmt)(layout.job.strand.diameter)
    for field in layout.fields:
        surface = layout.line.surfaces[field.surface]
        if not field.heights or surface.kind != "flight":
            continue
        words = [f"{count(len(field.heights), 'strand')} ⌀{thick}, parallel to the nosing line"]
        if field.plumb_spacing:
            words.append(f"spacing {fmt(field.plumb_spacing)} plumb, {fmt(field.square_spacing)} square")
        height = float(field.heights[len(field.heights) // 2])
        spots = in_view(surface, view, (0.45,))
        at = next((p for s in spots if (p := view.to_paper(s, datum(surface, s) + height)) is not None), None)
        downhill = 1.0 if surface.slope > 0 else -1.0
        if at is None:
            notes.append(Note(tuple(words), _NOWHERE, _NOWHERE, "strands"))
        else:
            notes.append(Note(tuple(words), at, Place(at.x + downhill * 40, at.y - 40), "strands"))
    return notes


_UNIT: Final[dict[Unit, str]] = {"in": "feet and inches", "mm": "mm"}


def _view_title(panel: Rect, view: View, unit: Unit, step: int, *, complete: bool) -> tuple[Part, ...]:
    words = "ELEVATION, TRUE PROPORTION"
    y = panel.bottom + 1.5
    more = f"{view.scale_text}    stations in {_UNIT[unit]}, level from the datum; N: nosing"
    if not complete:
        thin = f", every {step}th line post shown" if step > 1 else ""
        more += f"{thin}; all posts in the table"
    start = panel.left + metrics.width(words, 3.0) + 5
    return (
        Text(words, Place(panel.left, y), 3.0, what="view title"),
        Text(metrics.shorten(more, CAP, panel.right - start), Place(start, y), CAP, what="view scale"),
    )


def _detail(
    layout: Layout, elevation: View, column: Rect, fmt: Formatter
) -> tuple[tuple[Part, ...], tuple[View, ...], tuple[Note, ...]]:
    opening = step_triangle(layout, elevation)
    if opening is None:
        return (), (), ()
    room = Rect(column.left, column.top - _DETAIL, column.right, column.top)
    parts, view, left = step_detail(layout, opening, room, fmt)
    return parts, (view,), left


def _blocks(
    checked: CheckedLayout,
    left: Sequence[Note],
    unsaid: Sequence[str],
    fmt: Formatter,
    width: float,
    *,
    all_listed: bool,
) -> list[Block]:
    layout = checked.layout
    start = layout.line.surfaces[0].start.s
    wanted = (
        failures(checked, width),
        figures(layout, fmt, width),
        notes_left(left, width),
        openings(layout, width),
        paragraph("CAUTIONS (continued)", unsaid, width) if unsaid else None,
        joints(layout, fmt, width),
        holes(layout, fmt, width),
        None if all_listed else station_table(layout.posts, start, fmt, width),
    )
    return [block for block in wanted if block is not None and block.rows]
