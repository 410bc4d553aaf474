"""The annotated elevation of a guard: as many sheets as it takes to say everything legibly."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil
from typing import Final, NamedTuple

from stairguard.model.guard.solved_layout import CheckedLayout, Layout
from stairguard.model.guard.told import ToldLayout
from stairguard.model.job import Unit
from stairguard.reports.drawing.detail.joint_detail import joint_sheets
from stairguard.reports.drawing.detail.step_detail import step_detail
from stairguard.reports.drawing.detail.survey_detail import survey_sheets
from stairguard.reports.drawing.elevation import station_marks
from stairguard.reports.drawing.elevation.dimensions import (
    draw_breaks,
    landing_height,
    nosing_height,
    pitch_sign,
    post_labels,
)
from stairguard.reports.drawing.elevation.framing import frame, reads_whole
from stairguard.reports.drawing.elevation.guard_lines import draw_guard
from stairguard.reports.drawing.elevation.notes import Saying, apart, pitch_note, sayings
from stairguard.reports.drawing.elevation.schedules import failures, figures, holes, joints, notes_left, openings
from stairguard.reports.drawing.elevation.schedules import stations as station_table
from stairguard.reports.drawing.elevation.sheet_breaks import Leaf, leaves
from stairguard.reports.drawing.elevation.sphere_marks import mark_spheres, step_triangle
from stairguard.reports.drawing.elevation.stair_lines import datum, draw_stair, drop_under, nosing_line, seen
from stairguard.reports.drawing.key_plan.plan_key import plan_key
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.columns import Block, draw_block, flow, height, paragraph
from stairguard.reports.drawing.paper.drafting import CAP, Note, in_sight, place_sayings
from stairguard.reports.drawing.paper.free_room import Space
from stairguard.reports.drawing.paper.scene import Line, Part, Place, Rect, Sheet, Text, View
from stairguard.reports.drawing.paper.title_block import HEIGHT, caution_strip, draw_frame, draw_title, guard_cells
from stairguard.reports.drawing.section.cut_marks import draw_cut_marks
from stairguard.reports.drawing.section.section_facts import side_sections
from stairguard.reports.drawing.section.section_sheets import section_sheets
from stairguard.reports.words.caution_words import caution_texts
from stairguard.reports.words.lengths import Formatter, given_words
from stairguard.reports.words.section_words import beside_sentences
from stairguard.reports.words.sheet_words import VIEW_TITLE, alike_note, findings_note, match_words, view_words

PAPER: Final[dict[Unit, tuple[float, float]]] = {"mm": (420.0, 297.0), "in": (431.8, 279.4)}
"""Landscape sheets, millimetres: A3 (ISO 216) and 17 by 11 in."""

_MARGIN: Final = 10.0
_COLUMN: Final = 104.0
_COLUMNS: Final = 3
_DETAIL: Final = 90.0
_KEY: Final = 62.0
_SIDE: Final = 11.5
_PAD: Final = 4.0
_VIEW_TITLE: Final = 8.0


def elevation(told: ToldLayout, date: str, fmt: Formatter) -> tuple[Sheet, ...]:
    """Draw a guard's elevation.

    Parameters
    ----------
    told
        The guard, with what came of every rule.
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
    checked, layout = told.checked, told.layout
    wide, tall = PAPER[layout.job.unit]
    page = Rect(_MARGIN, _MARGIN, wide - _MARGIN, tall - _MARGIN)
    cautions, strip, unsaid = caution_strip(
        (findings_note(told.inspection), *caution_texts(checked.cautions, layout.job.unit)), page
    )
    body = Rect(page.left, page.bottom + HEIGHT + strip, page.right, page.top)
    column = Rect(body.right - _COLUMN - _PAD, body.bottom + _PAD, body.right - _PAD, body.top - _PAD)
    panel = Rect(body.left + _PAD, body.bottom + _PAD, column.left - 1.5 * _PAD, body.top - _PAD)

    marks = station_marks.marks(layout)
    shown = leaves(layout, lambda leaf: reads_whole(layout, _room(panel, leaf, marks), leaf))
    drawn = [_leaf_sheet(checked, leaf, panel, column, marks, fmt) for leaf in shown]
    joint_parts = joint_sheets(checked, fmt, body)
    sections = section_sheets(layout, fmt, body)
    first, *others = drawn
    below = Rect(column.left, column.bottom, column.right, first.free)
    left = [note for sheet in drawn for note in sheet.left]
    every = len(shown) == 1 and first.complete
    blocks = _blocks(checked, left, unsaid, fmt, column.width, all_listed=every)
    pitch = (page.width - _PAD) / _COLUMNS
    left_edge = page.left + _PAD
    whole = Rect(left_edge, page.bottom + HEIGHT + _PAD, left_edge + column.width, page.top - _PAD)
    here, further = flow(blocks, below, whole, _COLUMNS, pitch)
    edge = column.left - _PAD
    rule = Line("thin", (Place(edge, body.bottom), Place(edge, body.top)), "column")
    contents = [
        _Content("elevation", (*first.parts, rule, *here, *cautions), first.views),
        *(_Content(f"elevation {i}", (*o.parts, rule, *cautions), o.views) for i, o in enumerate(others, 2)),
        *(_Content(f"joints {i}", (*parts, *cautions), views) for i, (parts, views) in enumerate(joint_parts, 1)),
        *(_Content(f"sections {i}", (*parts, *cautions), views) for i, (parts, views) in enumerate(sections, 1)),
        *(_Content(f"survey {i}", (*p, *cautions), ()) for i, p in enumerate(survey_sheets(layout, fmt, body), 1)),
        *(_Content(f"tables {i}", tuple(parts), ()) for i, parts in enumerate(further, 1)),
    ]
    return _sheets(checked, date, page, contents)


class _Content(NamedTuple):
    """One sheet without its frame."""

    name: str
    parts: tuple[Part, ...]
    views: tuple[View, ...]


class _Drawn(NamedTuple):
    """A leaf on its sheet: ``free`` is the top of what is left of the column, ``complete`` if it has all stations."""

    parts: tuple[Part, ...]
    views: tuple[View, ...]
    left: tuple[Note, ...]
    free: float
    complete: bool


def _leaf_sheet(
    checked: CheckedLayout,
    leaf: Leaf,
    panel: Rect,
    column: Rect,
    marks: Sequence[station_marks.StationMark],
    fmt: Formatter,
) -> _Drawn:
    """Draw a leaf's elevation, and beside it the plan key on the first sheet, a step, and which stretches are alike."""
    layout, top = checked.layout, column.top
    parts, view, left, complete = _panel(checked.layout, panel, _on_leaf(leaf, marks), fmt, leaf)
    more: list[Part] = [*parts]
    views = [view]
    if leaf.number == 1:
        key = plan_key(layout, Rect(column.left, top - _KEY, column.right, top))
        more += key
        top -= (_KEY + _PAD) if key else 0.0
    opening = step_triangle(layout, view, leaf)
    if opening is not None:
        detail, detail_view, unsaid = step_detail(
            layout, opening, Rect(column.left, top - _DETAIL, column.right, top), fmt
        )
        more += detail
        views.append(detail_view)
        left = (*left, *unsaid)
        top -= _DETAIL + _PAD
    for title, said in (("ALSO", _alike(leaf)), ("BESIDE THE STAIR", _beside(layout, leaf, fmt))):
        if said:
            block = paragraph(title, said, column.width)
            more += draw_block(block, Place(column.left, top), column.width)
            top -= height(block) + _PAD
    return _Drawn(tuple(more), tuple(views), left, top, complete)


def _alike(leaf: Leaf) -> list[str]:
    """Say which other stretches a leaf stands for."""
    if not leaf.twins:
        return []
    return [alike_note((leaf.first, leaf.last), leaf.twins)]


def _beside(layout: Layout, leaf: Leaf, fmt: Formatter) -> Sequence[str]:
    """Say what a leaf does not show of a guard whose strands stand out from the stair."""
    letters = [s.letter for s in side_sections(layout) if leaf.first <= s.surface.index <= leaf.last]
    return beside_sentences(layout, letters, given_words(layout.job, fmt)) if layout.job.post.out else ()


def _on_leaf(leaf: Leaf, marks: Sequence[station_marks.StationMark]) -> list[station_marks.StationMark]:
    return [mark for mark in marks if leaf.start <= mark.station <= leaf.end]


def _room(panel: Rect, leaf: Leaf, marks: Sequence[station_marks.StationMark]) -> Rect:
    """Room for the elevation over the stations' band."""
    band = station_marks.band_height(_on_leaf(leaf, marks))
    return Rect(panel.left + _SIDE, panel.bottom + _VIEW_TITLE + band, panel.right - _SIDE, panel.top)


def _sheets(checked: CheckedLayout, date: str, page: Rect, contents: Sequence[_Content]) -> tuple[Sheet, ...]:
    wide, tall = page.right + _MARGIN, page.top + _MARGIN
    sheets = []
    for number, content in enumerate(contents, 1):
        every = tuple(dict.fromkeys(f"{v.name.lower()} {v.scale_text}" for v in content.views)) or ("none",)
        scale = every[:_MOST_SCALES]
        cells = guard_cells(checked, scale, date, f"{number} of {len(contents)}", page)
        title = draw_title(page, "GUARD ELEVATION AND STRAND LAYOUT", checked.layout.job.title, cells)
        outer = (*draw_frame(page), *content.parts, *title)
        sheets.append(
            Sheet(
                name=content.name,
                width=wide,
                height=tall,
                scale_text=", ".join(scale),
                parts=outer,
                views=content.views,
            )
        )
    return tuple(sheets)


_MOST_SCALES: Final = 2


def _panel(
    layout: Layout, panel: Rect, found: Sequence[station_marks.StationMark], fmt: Formatter, leaf: Leaf
) -> tuple[tuple[Part, ...], View, tuple[Note, ...], bool]:
    """Draw a leaf's elevation; also the notes without room, and whether every post's station is on it."""
    room = _room(panel, leaf, found)
    view = frame(layout, room, leaf)
    shown, step = station_marks.thinned(found, view, room.width + 2 * _SIDE)
    strip = Rect(panel.left, panel.bottom + _VIEW_TITLE, panel.right, room.bottom)
    rows = station_marks.draw_stations(shown, view, strip)
    complete = len(shown) == len(found)

    space = Space(Rect(panel.left, room.bottom, panel.right, panel.top), solid=True)
    heights, notes = nosing_height(layout, view, fmt, leaf)
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
    drawing += _match_lines(leaf, view, Rect(panel.left, room.bottom, panel.right, panel.top), space)
    surfaces = [s for s in leaf.of(layout) if s.carries]
    for surface, left_end in ((surfaces[0], True), (surfaces[-1], False)):
        if (leaf.before if left_end else leaf.after) is not None and surface.nosings:
            continue  # broken off in a flight: its height stands over one of its nosings
        drawing += landing_height(layout, view, space, fmt, surface, left=left_end)
    drawing += post_labels(layout, view, space)
    wanted: list[Saying] = [(note,) for note in notes]
    for flight in (s for s in leaf.of(layout) if s.kind != "landing"):
        sign = pitch_sign(flight, layout, view, space)
        drawing += sign
        if not sign:
            wanted.append((pitch_note(layout, flight),))
    drawing += draw_cut_marks(layout, view, space, leaf)
    for circles, note in mark_spheres(layout, view, layout.job.unit, space.room, leaf):
        drawing += circles
        wanted.append((note,))
    wanted += sayings(layout, view, fmt, leaf)
    placed, unplaced = place_sayings(space, [seen for saying in wanted if (seen := tuple(filter(in_sight, saying)))])
    left = (*unplaced, *(saying[0] for saying in wanted if not any(map(in_sight, saying))))
    bare = {note.what for note in left if note in notes}  # a dimension without its words says nothing
    drawing = [part for part in drawing if part.what not in bare]
    left = tuple(apart(note) for note in left if note.what not in bare)  # the table of the guard has these heights
    drawing += placed
    drawing += _view_title(layout, leaf, panel, view, step, complete=complete)
    return tuple(drawing), view, left, complete


def _match_lines(leaf: Leaf, view: View, room: Rect, space: Space) -> Iterator[Part]:
    """Where a leaf is broken off: a line, and the sheet on which the guard goes on."""
    ends = (
        (leaf.before, view.windows[0], view.windows[0].first),
        (leaf.after, view.windows[-1], view.windows[-1].last),
    )
    for i, (beyond, window, station) in enumerate(ends):
        if beyond is None:
            continue
        x = window.dx + view.scale * station
        words = match_words(beyond[0], beyond[1], leaf.number)
        line = Place(x, room.bottom + 2), Place(x, room.top - 2)
        space.line_at(line)
        yield Line("chain", line, "match line")
        at = Place(x + (-1.5 if i == 0 else 1.5 + CAP), room.top - 4)
        text = Text(words, at, CAP, "end", 90.0, box=True, what="match line")
        space.words_at(text.bounds())
        yield text


def _take_guard(layout: Layout, view: View, space: Space) -> None:
    """Keep notes off the guard and the steps under it: a millimetre of paper at a time, surface to rail."""
    for surface, rail in zip(layout.line.surfaces, layout.rails, strict=True):
        if not seen(view, surface):
            continue
        drop = drop_under(surface)
        for window in view.windows:
            first = window.dx + view.scale * max(window.first, float(surface.start.s))
            last = window.dx + view.scale * min(window.last, float(surface.end.s))
            for step in range(max(0, ceil(last - first))):
                x = first + step
                level = window.dy + view.scale * datum(surface, (x - window.dx) / view.scale)
                top = level + view.scale * float(rail.height)
                space.area_at(Rect(x, level - view.scale * drop, min(x + 1, last), top))
    for post in layout.along:  # one at a jog is taller than the rail that ends on it
        foot = view.to_paper(float(post.station), float(post.base))
        if foot is not None:
            half, top = view.scale * float(post.half), foot.y + view.scale * float(post.length)
            space.area_at(Rect(foot.x - half, foot.y, foot.x + half, top))


def _view_title(layout: Layout, leaf: Leaf, panel: Rect, view: View, step: int, *, complete: bool) -> tuple[Part, ...]:
    y = panel.bottom + 1.5
    more = view_words(view.scale_text, layout.job.unit, station_marks.legend(layout, leaf), None if complete else step)
    start = panel.left + metrics.width(VIEW_TITLE, 3.0) + 5
    return (
        Text(VIEW_TITLE, Place(panel.left, y), 3.0, what="view title"),
        Text(metrics.shorten(more, CAP, panel.right - start), Place(start, y), CAP, what="view scale"),
    )


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
        None if all_listed else station_table(layout.along, start, fmt, width),
    )
    return [block for block in wanted if block is not None and block.rows]
