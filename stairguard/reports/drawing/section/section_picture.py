"""A section of a guard beside the stair on paper: edge, post, strands, and the sphere at its narrowest with its way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, pi, sin
from typing import Final

from stairguard.model.guard.solved_layout import Layout
from stairguard.reports.drawing.elevation.framing import scales
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.clip import Pair
from stairguard.reports.drawing.paper.drafting import CAP, Note, arrow, between, lines_on, place_notes, shapes_on, span
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
from stairguard.reports.drawing.section.section_facts import SideSection
from stairguard.reports.words.lengths import Formatter, given_words
from stairguard.reports.words.opening_words import touch_words
from stairguard.reports.words.section_words import (
    BEYOND,
    NOSING_LINE,
    WAY,
    cut_words,
    datum_name,
    drop_words,
    out_words,
    post_words,
    sphere_note,
    strand_height_words,
    touched_words,
)

_CUT: Final = "#e2e2e2"
_BEYOND: Final = "#f4f4f4"
_PAPER: Final = "#ffffff"
_BELOW: Final = 11.0
"""Under the drawing, for the level dimension, millimetres."""
_BESIDE: Final = 52.0
"""To the right of it, for plumb dimensions and words, millimetres."""
_FIRST: Final = 9.0
_APART: Final = 10.0
"""From the post to the first plumb dimension, and from one to the next, millimetres."""
_ARC: Final = 24
"""Chords of a quarter of a round."""


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
    dims, notes = _dimensions(layout, section, view, above, room, fmt)
    drawing: list[Part] = [
        *_beyond(section, view, above),
        *_stair(section, view, above),
        *_post(section, view, above),
        Line("chain", (Place(at.dx + view.scale * section.out, room.bottom + 2.0),
                       Place(at.dx + view.scale * section.out, room.top)), "plane of the strands"),
        *_datum(section, view),
        *_sphere(layout, section, view, above),
        *_strands(section, view, above),
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


def _stair(section: SideSection, view: View, room: Rect) -> Iterator[Part]:
    """Draw what the section cuts: the surface and the stair's side below it, both going on."""
    left, low = _corner(view, room)
    solid = ((left, section.edge), (0.0, section.edge), (0.0, low), (left, low))
    yield from shapes_on(view, None, _CUT, solid, "stair", room)
    yield from lines_on(view, "cut", ((left, section.edge), (0.0, section.edge), (0.0, low)), "edge and side", room)


def _corner(view: View, room: Rect) -> Pair:
    """Lower left corner of a room in the model."""
    found = view.to_model(Place(room.left, room.bottom))
    assert found is not None  # the window is as wide as the room
    return found


def _beyond(section: SideSection, view: View, room: Rect) -> Iterator[Part]:
    """Draw the next step up as it is seen beyond the section."""
    if section.beyond is None:
        return
    (left, _), (foot, under, top) = _corner(view, room), section.beyond
    for low, high, what in ((foot, under, "riser, beyond"), (under, top, "board, beyond")):
        if low < high:
            shape = ((left, high), (0.0, high), (0.0, low), (left, low))
            yield from shapes_on(view, None, _BEYOND, shape, what, room)
            yield from lines_on(view, "thin", ((left, high), (0.0, high), (0.0, low), (left, low)), what, room)


def _post(section: SideSection, view: View, room: Rect) -> Iterator[Part]:
    """Draw the post beyond, from its foot up."""
    if section.post is None:
        return
    near, far, foot = section.out - section.post_half, section.out + section.post_half, float(section.post.base)
    top = foot + float(section.post.length)
    shape = ((near, foot), (far, foot), (far, top), (near, top))
    yield from shapes_on(view, "outline", _PAPER, shape, f"post {section.post.label}", room)


def _datum(section: SideSection, view: View) -> Iterator[Line]:
    """Draw the level that heights are told from, out to the dimensions, and the edge's, where drops are."""
    x = _first_dimension(section, view)
    if section.line != section.edge:
        a = view.to_paper(-_TICK / view.scale, section.line)
        if a is not None:
            yield Line("chain", (a, Place(x, a.y)), "nosing line")
    if section.line == section.edge or section.post is not None:
        a = view.to_paper(0.0, section.edge)
        reach = _APART if section.post is not None else 0.0
        if a is not None:
            yield Line("fine", (a, Place(x + reach + 1.2, a.y)), "level of the edge")


_TICK: Final = 4.0


def _first_dimension(section: SideSection, view: View) -> float:
    """Where the first plumb dimension stands."""
    right = max(section.out + max(section.post_half, section.radius), section.centre[0] + section.opening.sphere / 2)
    return view.windows[0].dx + view.scale * right + _FIRST


def _strands(section: SideSection, view: View, room: Rect) -> Iterator[Part]:
    """Draw strands as they are cut: round where they run level, tall where they slope; dashed where one is touched."""
    for number, z in section.strands:
        at = view.to_paper(section.out, z)
        if at is None or not room.inset(view.scale * section.radius).has(at):
            continue
        what = f"strand {number}"
        if section.sec == 1:
            yield Circle(at, view.scale * section.radius, None, INK, what)
        else:
            yield Polygon(tuple(_oval(section, view, at)), None, INK, what)
    touched = section.touched_strand
    if touched is not None:
        at = view.to_paper(*touched)
        if at is not None and room.has(at):
            yield Circle(at, view.scale * section.radius, "dashed", _PAPER, f"strand {section.strands[0][0]}, touched")


def _oval(section: SideSection, view: View, at: Place) -> Iterator[Place]:
    radius = view.scale * section.radius
    for k in range(2 * _ARC):
        turn = k * pi / _ARC
        yield Place(at.x + radius * cos(turn), at.y + section.sec * radius * sin(turn))


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


def _sphere(layout: Layout, section: SideSection, view: View, room: Rect) -> Iterator[Part]:
    """Draw the way, the sphere at its narrowest place, the limit about it, and its contacts."""
    centre = view.to_paper(*section.centre)
    assert centre is not None  # the view was made around it
    opening = section.opening
    yield from _way(section, view, room)
    if opening.rule is not None and ring_fits(layout, section, view, room):
        yield Circle(centre, float(opening.rule.value) / 2 * view.scale, "dashed", None, "limit")
    yield Circle(centre, opening.sphere / 2 * view.scale, "circle", None, "largest sphere")
    yield Circle(centre, 0.4, None, ACCENT, "centre of largest sphere")
    for touch, (y, z), _ in section.contacts():
        at = view.to_paper(y, z)
        if at is not None and room.has(at):
            yield Line("radius", (centre, at), f"radius to {touch_words(touch)}")
            yield Circle(at, 0.7, None, ACCENT, f"contact with {touch_words(touch)}")


def ring_fits(layout: Layout, section: SideSection, view: View, room: Rect) -> bool:
    """Whether the limit's circle lies in the picture, and is told apart from the sphere's."""
    rule, centre = section.opening.rule, view.to_paper(*section.centre)
    if rule is None or centre is None:
        return False
    ring = float(rule.value) / 2 * view.scale
    return room.inset(ring).has(centre) and abs(ring - section.opening.sphere / 2 * view.scale) > _TOLD_APART


_TOLD_APART: Final = 0.3


def _way(section: SideSection, view: View, room: Rect) -> Iterator[Part]:
    """Draw the centre's way, with an arrow head where it goes on down."""
    for line in lines_on(view, "way", section.way, "way of the centre", room):
        yield line
        yield arrow(line.points[-1], line.points[-2], "way of the centre", ACCENT)


def _dimensions(
    layout: Layout, section: SideSection, view: View, above: Rect, room: Rect, fmt: Formatter
) -> tuple[list[Part], list[Note]]:
    """Dimension how far out the strands are, how high the lowest is, and how far down the post's foot."""
    at, exact = view.windows[0], given_words(layout.job, fmt)
    parts: list[Part] = []
    notes: list[Note] = []
    side, plane = Place(at.dx, room.bottom + 4.0), Place(at.dx + view.scale * section.out, room.bottom + 4.0)
    parts.append(Line("fine", (Place(side.x, above.bottom), Place(side.x, side.y - 1.2)), "stair's side"))
    parts += _offset(out_words(exact, layout.job.post.out), side, plane)
    x = _first_dimension(section, view)
    number, height = section.strands[0]
    low, high = sorted((height, section.line))
    strand = view.to_paper(section.out, height)
    a, b = (Place(x, at.dy + view.scale * z) for z in (low, high))
    if strand is not None:
        half = view.scale * max(section.post_half, section.radius)
        clear = strand.x + half + 2.4 + metrics.width(f"{number}", CAP)  # past the strand's number
        parts.append(Line("fine", (Place(clear, strand.y), Place(x + 1.2, strand.y)), "height of the lowest strand"))
    parts += span(a, b, "height of the lowest strand")
    told = strand_height_words(number, height - section.line, datum_name(flight=bool(section.surface.nosings)), fmt)
    middle = Place(x, (a.y + b.y) / 2)
    notes.append(Note(told, middle, Place(x + 17, b.y + 9), f"height of strand {number}", end="none"))
    if section.post is not None:
        drawn, note = _drop(section, view, x + _APART, drop_words(exact, layout.job.post.drop))
        parts += drawn
        notes += note
    return parts, notes


def _offset(words: str, side: Place, plane: Place) -> Iterator[Part]:
    """Dimension from the stair's side to the plane of the strands; the words stand beyond it where it is too short."""
    y = side.y - CAP / 2
    if metrics.width(words, CAP) + 2.0 < plane.x - side.x:
        text = Text(words, Place((side.x + plane.x) / 2, side.y + 1.0), CAP, "middle", what="offset")
    else:
        text = Text(words, Place(plane.x + 4.0, y), CAP, what="offset")
        yield Line("thin", (plane, Place(plane.x + 3.4, plane.y)), "offset")
    yield between(side, plane, text, "offset")


def _drop(section: SideSection, view: View, x: float, words: str) -> tuple[list[Part], list[Note]]:
    """Dimension how far below the surface the post's foot is; words too long to stand along it stand aside."""
    assert section.post is not None  # asked only where one is drawn
    at, foot = view.windows[0], float(section.post.base)
    low, high = (Place(x, at.dy + view.scale * z) for z in (foot, section.edge))
    far = at.dx + view.scale * (section.out + section.post_half)
    extension = Line("fine", (Place(far + 0.8, low.y), Place(x + 1.2, low.y)), "foot of the post")
    middle = Place(x, (low.y + high.y) / 2)
    if metrics.width(words, CAP) > high.y - low.y - 1.0:
        return [extension, *span(low, high, "drop")], [
            Note((words,), middle, Place(x + 17, low.y), "drop of the post", end="none")
        ]
    text = Text(words, Place(x - 1.0, middle.y), CAP, "middle", 90.0, what="drop")
    return [between(low, high, text, "drop", (extension,))], []


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
        tick = place(-_TICK / view.scale, section.line)
        yield Note((NOSING_LINE,), tick, Place(tick.x - 16, tick.y + 4), "nosing line", end="none")
    if section.way:
        high = place(-0.45 * radius, section.way[0][1])
        yield Note((WAY,), high, Place(high.x - 8, high.y + 9), "way of the centre", end="arrow")
