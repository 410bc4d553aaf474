"""The draughtsman's hand: model lines onto a view, arrow heads, dimensions, leaders to words in free room."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import atan2, cos, hypot, inf, sin
from typing import Final, Literal

from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.clip import Bounds, Pair, clip_line, clip_polygon, runs_over
from stairguard.reports.drawing.paper.free_room import Space
from stairguard.reports.drawing.paper.scene import (
    INK,
    Anchor,
    Circle,
    Dimension,
    Leader,
    Line,
    Part,
    PenName,
    Place,
    Polygon,
    Rect,
    Text,
    View,
    Window,
)

CAP: Final = 2.5
"""Height of capitals in ordinary lettering, millimetres."""

NOWHERE: Final = Place(-1.0, -1.0)
"""Target of a note on something that is not drawn."""

LEADING: Final = 4.4
"""From one line of words to the next, millimetres."""

_HEAD: Final = 2.2
_SHOULDER: Final = 2.5
_CLEAR: Final = 0.6


def _bounds(view: View, window: Window, room: Rect | None) -> Bounds:
    if room is None:
        return Bounds(window.first, window.last)
    return Bounds(
        max(window.first, (room.left - window.dx) / view.scale),
        min(window.last, (room.right - window.dx) / view.scale),
        (room.bottom - window.dy) / view.scale,
        (room.top - window.dy) / view.scale,
    )


def _on_paper(view: View, window: Window, points: Iterable[Pair]) -> tuple[Place, ...]:
    return tuple(Place(window.dx + view.scale * s, window.dy + view.scale * z) for s, z in points)


def lines_on(view: View, pen: PenName, points: Sequence[Pair], what: str, room: Rect | None = None) -> Iterator[Line]:
    """Draw a polyline of the model: its parts in the view's strips, and inside ``room`` if given."""
    for window in view.windows:
        for piece in clip_line(points, _bounds(view, window, room)):
            yield Line(pen, _on_paper(view, window, piece), what)


def shapes_on(
    view: View, pen: PenName | None, fill: str, points: Sequence[Pair], what: str, room: Rect | None = None
) -> Iterator[Line | Polygon]:
    """Draw a convex outline of the model, filled; where a break cuts it no edge is drawn."""
    for window in view.windows:
        bounds = _bounds(view, window, room)
        if all(bounds.holds(point) for point in points):
            yield Polygon(_on_paper(view, window, points), pen, fill, what)
            continue
        kept = clip_polygon(points, bounds)
        if len(kept) > 2:
            yield Polygon(_on_paper(view, window, kept), None, fill, what)
            if pen is not None:
                for piece in clip_line((*points, points[0]), bounds):
                    yield Line(pen, _on_paper(view, window, piece), what)


def arrow(tip: Place, tail: Place, what: str = "", fill: str = INK) -> Polygon:
    """Return a slim arrow head with its point at ``tip``, coming from ``tail``."""
    turn = atan2(tip.y - tail.y, tip.x - tail.x)
    c, s = cos(turn), sin(turn)
    back = Place(tip.x - _HEAD * c, tip.y - _HEAD * s)
    half = _HEAD / 6
    return Polygon(
        (tip, Place(back.x - half * s, back.y + half * c), Place(back.x + half * s, back.y - half * c)),
        None,
        fill,
        what,
    )


def block(lines: Sequence[str]) -> tuple[float, float]:
    """Width and height of lines of ordinary lettering, one under the other."""
    wide = max(metrics.width(line, CAP) for line in lines)
    return wide, (metrics.ASCENT + metrics.DESCENT) * CAP + (len(lines) - 1) * LEADING


def stacked(
    lines: Sequence[str], first: Place, anchor: Anchor = "start", *, cap: float = CAP, leading: float = LEADING,
    ink: str = INK, box: bool = False, what: str = "",
) -> Iterator[Text]:  # fmt: skip
    """Set lines of words one under the other, the first one's baseline at ``first``."""
    for k, line in enumerate(lines):
        yield Text(line, Place(first.x, first.y - k * leading), cap, anchor, 0.0, ink, box, what)


def span(a: Place, b: Place, what: str) -> tuple[Line | Polygon, ...]:
    """Dimension line from a to b: arrow heads inside where they fit, else pointing in from outside."""
    length = hypot(b.x - a.x, b.y - a.y)
    if length >= 3 * _HEAD:
        return Line("thin", (a, b), what), arrow(a, b, what), arrow(b, a, what)
    ux, uy = ((b.x - a.x) / length, (b.y - a.y) / length) if length else (0.0, 1.0)
    reach = 2 * _HEAD
    before, after = Place(a.x - reach * ux, a.y - reach * uy), Place(b.x + reach * ux, b.y + reach * uy)
    return Line("thin", (before, after), what), arrow(a, before, what), arrow(b, after, what)


def between(a: Place, b: Place, text: Text, what: str, extensions: tuple[Line, ...] = ()) -> Dimension:
    """Dimension from a to b with its words."""
    shaft = span(a, b, what)
    lines = tuple(part for part in shaft if isinstance(part, Line))
    heads = tuple(part for part in shaft if isinstance(part, Polygon))
    return Dimension((*extensions, *lines), heads, text, what)


@dataclass(frozen=True, slots=True)
class Note:
    """Words that speak of a place on the drawing, to be put where there is room.

    ``near`` is where they would best stand; ``end`` is how the leader ends at the target, ``"none"`` where
    a dimension line carries on from there. ``of`` names what they speak of where they stand apart from it, "" if they
    do so themselves.
    """

    words: tuple[str, ...]
    target: Place
    near: Place
    what: str
    ink: str = INK
    end: Literal["dot", "arrow", "none"] = "dot"
    pen: PenName = "thin"
    of: str = ""


def in_sight(note: Note) -> bool:
    """Whether what a note speaks of is drawn."""
    return note.target != NOWHERE


def unseen(note: Note) -> Note:
    """Say the same of what is not drawn."""
    return replace(note, target=NOWHERE)


def place_notes(space: Space, notes: Sequence[Note]) -> tuple[tuple[Part, ...], tuple[Note, ...]]:
    """Put notes into free room, in order; return what was drawn and the notes there was no room for."""
    return place_sayings(space, [(note,) for note in notes])


def place_sayings(space: Space, sayings: Sequence[Sequence[Note]]) -> tuple[tuple[Part, ...], tuple[Note, ...]]:
    """Put one note of each saying into free room, the one that finds the best; of those without room return the first.

    The notes of a saying say the same, each at another place it is true of, best first.
    """
    drawn: list[Part] = []
    left: list[Note] = []
    for notes in sayings:
        best: tuple[Note, Rect] | None = None
        least = inf
        for i, note in enumerate(notes):
            cost, box = _sought(space, note, least - _NEXT * i)
            if box is not None:
                best, least = (note, box), cost + _NEXT * i
        if best is None:
            left.append(notes[0])
            continue
        note, box = best
        line = _leader_line(box, note.target)
        space.words_at(box)
        space.line_at(line, hard=True)
        drawn.append(_leader(note, box, line))
    return tuple(drawn), tuple(left)


def _sought(space: Space, note: Note, least: float) -> tuple[float, Rect | None]:
    """Where one note is nearest and its leader crosses least, for less than ``least``, and what that costs."""
    wide, tall = block(note.words)
    wide += 2 * _CLEAR
    for tries, (clear, aside) in enumerate(_TRIES):
        found = space.candidates(wide, tall, note.near, clear=clear, aside=aside)
        cost, box = _best(space, found, note, least - _TRY * tries)
        if box is not None:
            return cost + _TRY * tries, box
    return least, None


_TRY: Final = 15.0
_NEXT: Final = 3.0
"""What each step down the list of tries costs, and each down a saying's list of places."""

_TRIES: Final = ((True, ()), (True, (30.0, 60.0, 90.0, 120.0)), (False, ()), (False, (30.0, 60.0, 90.0, 120.0)))
"""Whether lines are kept clear of, and how far aside places are looked for too; the first that finds one does."""


def _best(
    space: Space, candidates: Iterator[tuple[float, Rect]], note: Note, least: float
) -> tuple[float, Rect | None]:
    """Of boxes in order of distance, the cheapest if it costs less than ``least``, each crossed line a detour."""
    best: Rect | None = None
    for distance, box in candidates:
        if distance >= least:
            break
        line = _leader_line(box, note.target)
        length = sum(hypot(b.x - a.x, b.y - a.y) for a, b in pairwise(line))
        cost = distance + _LENGTH * length + _CROWDED * (length < _SHORT)
        if cost >= least or not space.free(box) or _meets_words(space, line):
            continue
        cost += _CROSSING * space.crossings(line, _NEAR_TARGET)
        if cost < least:
            best, least = box, cost
    return least, best


def _meets_words(space: Space, line: Sequence[Place]) -> bool:
    """Whether a leader runs over words that are already there."""
    around = Rect.around(line)
    return any(around.meets(words) and runs_over(line, words) for words in space.words)


_LENGTH: Final = 0.3
_CROSSING: Final = 2.0
_CROWDED: Final = 12.0
"""What a leader costs for a millimetre of length, a millimetre over other lines, and for being short."""

_SHORT: Final = 4.0
_NEAR_TARGET: Final = 3.0


def _leader_line(box: Rect, target: Place) -> tuple[Place, ...]:
    """From the side of a box that faces the target: a short level shoulder, then straight."""
    first = box.top - metrics.ASCENT * CAP + CAP / 2  # half way up the first line's capitals
    last = box.bottom + metrics.DESCENT * CAP + CAP / 2
    level = first if target.y > box.top else last if target.y < box.bottom else min(max(target.y, last), first)
    if target.x > box.right + _SHOULDER:
        return Place(box.right, level), Place(box.right + _SHOULDER, level), target
    if target.x < box.left - _SHOULDER:
        return Place(box.left, level), Place(box.left - _SHOULDER, level), target
    middle = min(max(target.x, box.left + 2), box.right - 2)
    return Place(middle, box.top if target.y > box.top else box.bottom), target


def _leader(note: Note, box: Rect, line: tuple[Place, ...]) -> Leader:
    right = line[0].x <= box.left  # words stand to the right of their leader: start them at it
    from_left = right or line[0].x < box.right
    first = Place(box.left + _CLEAR if from_left else box.right - _CLEAR, box.top - metrics.ASCENT * CAP)
    texts = stacked(note.words, first, "start" if from_left else "end", ink=note.ink, box=True, what=note.what)
    mark: Circle | Polygon | None = None
    if note.end == "arrow":
        mark = arrow(line[-1], line[-2], note.what, note.ink)
    elif note.end == "dot":
        mark = Circle(line[-1], 0.55, None, note.ink, note.what)
    return Leader(Line(note.pen, line, note.what), mark, tuple(texts), note.what)
