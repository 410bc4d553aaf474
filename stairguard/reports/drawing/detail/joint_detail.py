"""Every different joint at a larger scale: rails, their cuts, the post's top, the first strands; and in words below."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence
from math import inf
from typing import Final

from stairguard.model.guard.rail_joints import Joint
from stairguard.model.guard.solved_layout import CheckedLayout, Layout
from stairguard.reports.drawing.detail.joint_picture import joint_picture, joint_view
from stairguard.reports.drawing.elevation.unrolled import unrolled
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.columns import Block, Cell, draw_block, height
from stairguard.reports.drawing.paper.drafting import CAP
from stairguard.reports.drawing.paper.scene import Part, Place, Rect, Text, View
from stairguard.reports.words.grouping import groups
from stairguard.reports.words.joints.jog_words import jog_note, remedy_notes
from stairguard.reports.words.joints.joint_likeness import apart_from_place
from stairguard.reports.words.joints.joint_strand_words import strand_notes
from stairguard.reports.words.joints.meeting_words import (
    alike_joints,
    and_more,
    between_note,
    detail_title,
    heights_note,
    meeting_note,
)
from stairguard.reports.words.joints.rail_cut_words import cut_notes, top_notes
from stairguard.reports.words.lengths import Formatter
from stairguard.reports.words.one_line import broken

_PICTURE: Final = 46.0
_TALLEST: Final = 116.0
"""Least and greatest height of a picture on a sheet of details, millimetres."""

_IN_ROW: Final = 3
_PAD: Final = 4.0
_GAP: Final = 5.0
_GLUE: Final = "·"  # as wide as a space, and in no sentence here
_INDENT: Final = 3.0


def joint_kinds(layout: Layout) -> tuple[tuple[Joint, ...], ...]:
    """Joints grouped where they are alike in all but their places, in order of first appearance."""
    return tuple(map(tuple, groups(layout.joints, lambda joint: _likeness(layout, joint))))


def _likeness(layout: Layout, joint: Joint) -> Hashable:
    """All that a detail shows and says of a joint; a mirrored one has other slopes, so it is another."""
    sides = tuple(
        (s.kind, s.slope, layout.rails[s.index].height, layout.rails[s.index].underside)
        for s in (layout.line.surfaces[index] for index in joint.between)
    )
    fields = tuple(layout.fields[index].heights for index in joint.between)
    first = joint.between[0]
    top = layout.line.surfaces[first].datum(joint.station) + layout.rails[first].height
    tops = tuple(
        (p.station - joint.station, p.bevels_deg, p.bevel_break, *(p.base + edge - top for edge in p.edges))
        for p in layout.posts_of(joint)
    )
    labels = tuple(layout.cuts.rail_over(index).label for index in joint.between)
    return sides, fields, tops, labels, tuple(s.ended for s in joint.strands), apart_from_place(joint)


def joint_block(layout: Layout, alike: Sequence[Joint], fmt: Formatter, width: float, beside: float = 0.0) -> Block:
    """Say all of a joint that is no picture; the first of those alike stands for all.

    Parameters
    ----------
    layout
        The solved guard.
    alike
        Joints alike in all but their places, one or more.
    fmt
        Writes a length as a tape shows it.
    width
        Of the words, millimetres.
    beside
        How much of the title's line is taken, millimetres.
    """
    joint = alike[0]
    jog = (jog_note(layout, joint, fmt), *remedy_notes(joint, layout.job.unit)) if joint.jog else ()
    title, others = _titled(alike, width - beside)
    said = [
        *others,
        between_note(layout, joint),
        heights_note(layout, joint, fmt),
        meeting_note(layout, joint, fmt),
        *cut_notes(layout, joint),
        *top_notes(layout.posts_of(joint)),
        *jog,
        *strand_notes(layout, joint),
    ]
    return Block(title, tuple(row for sentence in said for row in _set(sentence, width)))


def _set(sentence: str, width: float) -> Iterator[tuple[Cell, ...]]:
    """Set a sentence in rows as wide as there is room, no figure broken between feet and inches or before its unit."""
    for i, line in enumerate(broken(sentence, lambda glued: metrics.wrap(glued, CAP, width - _INDENT), _GLUE)):
        cell = Cell(line, _INDENT)
        yield (cell,) if i else (Cell("-", 0.5), cell)


def _titled(alike: Sequence[Joint], width: float) -> tuple[str, tuple[str, ...]]:
    """Name a joint and those like it; what does not fit the title is a sentence."""
    name = detail_title(alike[0])
    if len(alike) == 1:
        return name, ()
    others = alike_joints(alike[1:])
    whole = f"{name} ({others})"
    if metrics.width(whole, CAP) <= width:
        return whole, ()
    return and_more(name, len(alike) - 1), (others,)


def joint_detail(
    layout: Layout, alike: tuple[Joint, ...], room: Rect, fmt: Formatter, *, largest: float = inf
) -> tuple[tuple[Part, ...], View]:
    """Draw one joint in the developed elevation, with what is said of it below.

    Parameters
    ----------
    layout
        The solved guard.
    alike
        Joints of one kind, as `joint_kinds` has them; the first is drawn.
    room
        Where on paper, millimetres: at least as high as the words and some 40 mm of picture.
    fmt
        Writes a length as a tape shows it.
    largest
        Largest scale to use, paper millimetres to one model unit.

    Returns
    -------
    tuple
        What is drawn, and the view it is drawn in.
    """
    joint = alike[0]
    block = joint_block(layout, alike, fmt, room.width, _scale_room())
    tall = height(block)
    picture = Rect(room.left, room.bottom + tall, room.right, room.top)
    drawn, joint = unrolled(layout, joint)
    posts = drawn.posts_of(joint)
    view = joint_view(drawn, joint, posts, picture, largest)
    parts = [*joint_picture(drawn, joint, posts, view, picture, fmt)]
    parts += draw_block(block, Place(room.left, room.bottom + tall), room.width)
    at = Place(room.right, room.bottom + tall - metrics.ASCENT * CAP)
    return (*parts, Text(view.scale_text, at, CAP, "end", what="scale")), view


def _scale_room() -> float:
    """Width that a scale takes of a title's line."""
    return metrics.width('1-1/2" = 1\'-0"', CAP) + 4.0


def joint_sheets(checked: CheckedLayout, fmt: Formatter, body: Rect) -> list[tuple[tuple[Part, ...], tuple[View, ...]]]:
    """Lay out a detail of every different joint on as many sheets as that takes.

    Parameters
    ----------
    checked
        The guard, every rule applied.
    fmt
        Writes a length as a tape shows it.
    body
        Room on a sheet, millimetres.

    Returns
    -------
    list of tuple
        For each sheet what is drawn and its views, all of one scale; empty where there is no joint.
    """
    layout, kinds = checked.layout, joint_kinds(checked.layout)
    pitch = (body.width - _PAD) / _IN_ROW
    wide = pitch - _PAD
    tall = [height(joint_block(layout, alike, fmt, wide, _scale_room())) for alike in kinds]
    rows = [range(i, min(i + _IN_ROW, len(kinds))) for i in range(0, len(kinds), _IN_ROW)]
    sheets = []
    for page in _pages([max(tall[i] for i in row) for row in rows], body.height - 2 * _PAD):
        cells = []
        top = body.top - _PAD
        for number, picture in page:
            for column, i in enumerate(rows[number]):
                left = body.left + _PAD + column * pitch
                cells.append((kinds[i], Rect(left, top - picture - tall[i], left + wide, top)))
            top -= picture + max(tall[i] for i in rows[number]) + _GAP
        scale = min(joint_detail(layout, alike, room, fmt)[1].scale for alike, room in cells)
        drawn = [joint_detail(layout, alike, room, fmt, largest=scale) for alike, room in cells]
        sheets.append((tuple(p for parts, _ in drawn for p in parts), tuple(view for _, view in drawn)))
    return sheets


def _pages(words: Sequence[float], room: float) -> Iterator[list[tuple[int, float]]]:
    """Share rows out to pages: the number of each row and the height of its pictures."""
    page: list[int] = []
    for number in range(len(words) + 1):
        needed = sum(words[i] + _PICTURE + _GAP for i in (*page, number) if i < len(words)) - _GAP
        if page and (number == len(words) or needed > room):
            spare = room - sum(words[i] + _GAP for i in page) + _GAP
            yield [(i, min(spare / len(page), _TALLEST)) for i in page]
            page = []
        page.append(number)
