"""A section of a guard beside the stair on paper: edge, post, strands, and the sphere at its narrowest with its way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, pi, sin
from typing import Final

from stairguard.model.guard.solved_layout import Layout
from stairguard.reports.drawing.elevation.framing import scales
from stairguard.reports.drawing.paper.drafting import CAP, Note, place_notes
from stairguard.reports.drawing.paper.free_room import Space
from stairguard.reports.drawing.paper.scene import (
    ACCENT,
    INK,
    Circle,
    Dimension,
    Line,
    Part,
    Place,
    Polygon,
    Rect,
    Text,
    View,
    Window,
)
from stairguard.reports.drawing.section.section_dimensions import TICK, draw_datum, section_dimensions
from stairguard.reports.drawing.section.section_facts import SideSection
from stairguard.reports.drawing.section.section_lines import (
    draw_beyond,
    draw_post,
    draw_sphere,
    draw_stair,
    draw_strands,
    ring_fits,
)
from stairguard.reports.words.lengths import Formatter
from stairguard.reports.words.section_words import (
    BEYOND,
    NOSING_LINE,
    WAY,
    cut_words,
    post_words,
    sphere_note,
    touched_words,
)

_BELOW: Final = 11.0
"""Under the drawing, for the level dimension, millimetres."""
_BESIDE: Final = 52.0
"""To the right of it, for plumb dimensions and words, millimetres."""


@dataclass(frozen=True, slots=True)
class _Extent:
    """What a picture must hold: from the left of the surface to past post and sphere, from foot to above the sphere."""

    left: float
    low: float
    right: float
    high: float


def _extent(section: SideSection) -> _Extent:
    radius, (y, z) = section.opening.sphere / 2, section.centre
    lows = [z - 1.1 * radius, section.edge - 1.3 * radius, section.strands[0][1] - radius]
    if section.post is not None:
        lows.append(float(section.post.base) - 0.3 * radius)
    highs = [z + 1.2 * radius, section.edge + 1.5 * radius]
    highs += [section.strands[k][1] + 4 * section.radius for k in range(min(_FEWEST, len(section.strands)))]
    right = max(section.out + max(section.post_half, section.radius), y + radius)
    return _Extent(min(-1.5 * radius, y - 1.2 * radius), min(lows), right, max(highs))


_FEWEST: Final = 2
"""Strands, from the lowest up, that a picture is made to hold."""


def section_view(layout: Layout, section: SideSection, room: Rect, largest: float) -> View:
    """Scale and place a section in its picture; a place of it is told by how far out it is, and its elevation."""
    e = _extent(section)
    wide, tall = room.width - _BESIDE, room.height - _BELOW
    scale, words = next(
        (k, w)
        for k, w in scales(layout.job.unit)
        if k <= largest and k * (e.high - e.low) <= tall and k * (e.right - e.left) <= wide
    )
    dx = room.left + wide - scale * e.right
    dy = room.bottom + _BELOW + (tall - scale * (e.low + e.high)) / 2
    window = Window((room.left - dx) / scale, (room.right - dx) / scale, dx, dy)
    return View("SECTION", scale, words, (window,))


def section_picture(layout: Layout, section: SideSection, view: View, room: Rect, fmt: Formatter) -> tuple[Part, ...]:
    """Draw the stair cut and what is beyond it, strands, sphere and dimensions, then words where there is room."""
    at = view.windows[0]
    above = Rect(room.left, room.bottom + _BELOW, room.right, room.top)
    space = Space(room)
    dims, notes = section_dimensions(layout, section, view, above, room, fmt)
    drawing: list[Part] = [
        *draw_beyond(section, view, above),
        *draw_stair(section, view, above),
        *draw_post(section, view, above),
        Line("chain", (Place(at.dx + view.scale * section.out, room.bottom + 2.0),
                       Place(at.dx + view.scale * section.out, room.top)), "plane of the strands"),
        *draw_datum(section, view),
        *draw_sphere(layout, section, view, above),
        *draw_strands(section, view, above),
        *_numbers(section, view, above, space),
    ]  # fmt: skip
    for part in (*drawing, *dims):
        _take(space, part)
    placed, _ = place_notes(space, [*notes, *_notes(layout, section, view, above, fmt)])
    return (*drawing, *dims, *placed)


def _take(space: Space, part: Part) -> None:
    """Keep words off lines, and off whatever is filled with ink."""
    match part:
        case Line():
            space.line_at(part.points, hard=part.pen in _HARD)
        case Circle():
            (x, y), r = part.centre, part.radius
            ring = [Place(x + r * cos(k * pi / 12), y + r * sin(k * pi / 12)) for k in range(25)]
            space.line_at(ring, hard=True)
        case Dimension():
            for line in part.lines:
                space.line_at(line.points, hard=line.pen == "thin")
            if part.text.words:
                space.words_at(part.text.bounds())
        case Polygon() if part.fill in (INK, ACCENT):
            space.area_at(Rect.around(part.points))


_HARD: Final = ("cut", "outline", "circle", "way", "thin")


def _numbers(section: SideSection, view: View, room: Rect, space: Space) -> Iterator[Text]:
    """Number the strands to the right of the post."""
    half = view.scale * max(section.post_half, section.radius)
    for number, z in section.strands:
        at = view.to_paper(section.out, z)
        if at is None:
            continue
        text = Text(
            f"{number}", Place(at.x + half + 1.2, at.y - CAP / 2), CAP, box=True, what=f"number of strand {number}"
        )
        box = text.bounds(0.2)
        if box.bottom > room.bottom and box.top < room.top and space.free(box):
            space.words_at(box)
            yield text


def _notes(layout: Layout, section: SideSection, view: View, room: Rect, fmt: Formatter) -> Iterator[Note]:
    """Words on the sphere first, then on what it touches and what is drawn."""
    opening = section.opening
    centre = view.to_paper(*section.centre)
    assert centre is not None  # the view was made around it
    radius = opening.sphere / 2 * view.scale
    ink = ACCENT if opening.passes is False else INK
    words = sphere_note(opening, layout.job.unit, dashed=ring_fits(layout, section, view, room))
    edge = Place(centre.x + radius * cos(_UP_LEFT), centre.y + radius * sin(_UP_LEFT))
    yield Note(words, edge, Place(edge.x - 22, edge.y + 18), "largest sphere", ink, "arrow", "radius")
    for note in (*_strand_notes(section, fmt, view), *_stair_notes(layout, section, view)):
        if room.has(note.target):
            yield note


_UP_LEFT: Final = 0.62 * pi


def _strand_notes(section: SideSection, fmt: Formatter, view: View) -> Iterator[Note]:
    """Words on the strand where it is touched, away from the section."""
    at = None if section.touched_strand is None else view.to_paper(*section.touched_strand)
    for touch, _, along in section.contacts():
        if touch.part == "strand" and at is not None:
            words = touched_words(along, fmt, section.strands[0][0])
            yield Note(words, at, Place(at.x + 26, at.y + 10), "touched strand", end="arrow")


def _stair_notes(layout: Layout, section: SideSection, view: View) -> Iterator[Note]:
    """Words on the stair, the post beyond, and the way."""
    at, radius = view.windows[0], section.opening.sphere / 2

    def place(y: float, z: float) -> Place:
        return Place(at.dx + view.scale * y, at.dy + view.scale * z)

    low = place(-0.9 * radius, section.edge)
    words = (cut_words(layout, section.opening),)
    yield Note(words, Place(low.x, low.y - 2), Place(low.x, low.y - 14), "surface", end="dot")
    if section.beyond is not None:
        high = place(-0.9 * radius, section.beyond[2])
        yield Note((BEYOND,), Place(high.x, high.y - 1), Place(high.x, high.y + 8), "step beyond", end="dot")
    if section.post is not None:
        foot = place(section.out - section.post_half, float(section.post.base) + 0.15 * float(layout.job.post.drop))
        words = (post_words(section.post.label),)
        yield Note(words, foot, Place(foot.x + 20, foot.y - 8), f"post {section.post.label}", end="arrow")
    if section.line != section.edge:
        tick = place(-TICK / view.scale, section.line)
        yield Note((NOSING_LINE,), tick, Place(tick.x - 16, tick.y + 4), "nosing line", end="none")
    if section.way:
        high = place(-0.45 * radius, section.way[0][1])
        yield Note((WAY,), high, Place(high.x - 8, high.y + 9), "way of the centre", end="arrow")
