"""Words at any slope on a panel, kept clear of each other and of the lines drawn there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil, cos, pi, radians, sin
from typing import Final

from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.clip import Bounds, clip_line
from stairguard.reports.drawing.paper.drafting import Note, place_notes
from stairguard.reports.drawing.paper.free_room import Space
from stairguard.reports.drawing.paper.scene import Arc, Leader, Line, Mark, Part, Place, Polygon, Rect, Text

_SPARE: Final = 0.4
_TILE: Final = 2.5
_SHOULDER: Final = 3.5
_FAINT: Final = frozenset({"fine", "dashed", "chain", "hatch"})
"""Pens of lines that words on white paper may cover for a little."""


class Panel:
    """A panel on paper that knows every line and word on it.

    There are two ways to place words. Notes may stand anywhere: `Space` is searched for the cheapest place with a
    leader. Words that belong at a line or a corner, and callouts, are tried in places of the caller's choosing, in
    order, with `clear`. Each keeps off the other.
    """

    def __init__(self, room: Rect) -> None:
        self.room = room
        self.space = Space(room)
        self._words: list[tuple[Rect, Text]] = []
        self._lines: list[tuple[Rect, Place, Place]] = []
        self._faint: list[tuple[Rect, Place, Place]] = []

    def draw(self, marks: Sequence[Mark]) -> None:
        """Take what is drawn, so that words keep off it."""
        for mark in marks:
            points = outline_of(mark)
            faint = getattr(mark, "pen", None) in _FAINT
            self.space.line_at(points, hard=not faint)
            (self._faint if faint else self._lines).extend(_stretches(points))

    def clear(self, text: Text, *, over_faint: bool = False) -> bool:
        """Whether words would lie in the panel, on no other words and on no line, faint ones apart if so asked."""
        box = text.bounds(_SPARE)
        if not self.room.holds(box):
            return False
        if any(box.meets(around) and _overlap(text, other) for around, other in self._words):
            return False
        lines = self._lines if over_faint else (*self._lines, *self._faint)
        return not any(box.meets(around) and _crossed(text, a, b) for around, a, b in lines)

    def put(self, text: Text) -> Text:
        """Take the place of words."""
        self._words.append((text.bounds(), text))
        for tile in _tiles(text):
            self.space.words_at(tile)
        return text

    def note(self, note: Note) -> Part | None:
        """Put words with a leader where there is room; None where there is none."""
        (x, y), room = note.target, _SHOULDER
        self.space.line_at((Place(x - room, y), Place(x + room, y)), hard=True)  # no leader back over its own words
        drawn, _ = place_notes(self.space, (note,))
        for part in drawn:
            if isinstance(part, Leader):
                self._words += [(text.bounds(), text) for text in part.text]
                self._lines.extend(_stretches(part.line.points))
            return part
        return None


def outline_of(mark: Mark) -> tuple[Place, ...]:
    """Return the points a mark runs through; of an arc, one every few degrees; of words, the box around them."""
    if isinstance(mark, Line):
        return mark.points
    if isinstance(mark, Polygon):
        return (*mark.points, mark.points[0])
    if isinstance(mark, Text):
        corners = mark.corners()
        return (*corners, corners[0])
    first, last = (mark.start, mark.end) if isinstance(mark, Arc) else (0.0, 360.0)
    turn = last - first if last > first else last - first + 360
    steps = max(2, ceil(turn / 6))
    bearings = (radians(first + turn * i / steps) for i in range(steps + 1))
    (x, y), r = mark.centre, mark.radius
    return tuple(Place(x + r * cos(t), y + r * sin(t)) for t in bearings)


def _stretches(points: Sequence[Place]) -> Iterator[tuple[Rect, Place, Place]]:
    for a, b in pairwise(points):
        yield Rect.around((a, b)), a, b


def _local(text: Text, place: Place) -> tuple[float, float]:
    """Along and above the baseline from its start."""
    (x, y), turn = text.start, radians(text.turn)
    dx, dy = place.x - x, place.y - y
    return dx * cos(turn) + dy * sin(turn), dy * cos(turn) - dx * sin(turn)


def _box(text: Text, margin: float) -> Bounds:
    low, high = -metrics.DESCENT * text.cap - margin, metrics.ASCENT * text.cap + margin
    return Bounds(-margin, metrics.width(text.words, text.cap) + margin, low, high)


def _crossed(text: Text, a: Place, b: Place) -> bool:
    """Whether a line runs through words."""
    ends = _local(text, a), _local(text, b)
    box = _box(text, _SPARE / 2)
    return box.holds(ends[0]) or bool(clip_line(ends, box))


def _overlap(a: Text, b: Text) -> bool:
    """Whether two boxes of words overlap: they do unless a side of either parts them."""
    return not (_parts(a, b) or _parts(b, a))


def _parts(a: Text, b: Text) -> bool:
    box = _box(a, _SPARE)
    places = [_local(a, corner) for corner in b.corners()]
    along, above = [place[0] for place in places], [place[1] for place in places]
    beside = min(along) >= box.last or max(along) <= box.first
    return beside or min(above) >= box.high or max(above) <= box.low


def _tiles(text: Text) -> Iterator[Rect]:
    """Cover words by upright rectangles, small ones where they slope."""
    turn = radians(text.turn)
    if abs(sin(2 * turn)) < 1e-9 * pi:
        yield text.bounds(_SPARE)
        return
    box = _box(text, _SPARE)
    count = max(1, ceil((box.last - box.first) / _TILE))
    (x, y), c, s = text.start, cos(turn), sin(turn)
    for i in range(count):
        stretch = (box.first + (box.last - box.first) * k / count for k in (i, i + 1))
        yield Rect.around((x + u * c - v * s, y + u * s + v * c) for u in stretch for v in (box.low, box.high))
