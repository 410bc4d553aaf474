"""The picture of one opening in a room on paper; a sphere too small to be seen in it is shown again, enlarged."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from stairguard.geometry.clearance.outline import Outline
from stairguard.geometry.clearance.pockets import Pocket, compare
from stairguard.model.job import Unit
from stairguard.reports.drawing.opening.opening_labels import Lettering, side_words, sphere_note
from stairguard.reports.drawing.opening.opening_lines import draw_bounds, draw_others, draw_sphere, fit, on_paper
from stairguard.reports.drawing.opening.opening_shape import Box, Shape, Side, extent
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.drafting import CAP
from stairguard.reports.drawing.paper.lettering import Panel
from stairguard.reports.drawing.paper.scene import Mark, Part, Place, Rect, Text, View
from stairguard.reports.words.drawing_words import lone_sphere_lines
from stairguard.reports.words.lengths import Formatter, diameter_words

_FOOT: Final = 6.5
_MARGIN: Final = 14.0
_BESIDE: Final = 9.0
_SMALL: Final = 6.0
"""A sphere of less radius on paper is shown again, enlarged, millimetres."""

FEW: Final = 12
"""So many edges are all called by name, and labelled with leaders where words do not fit along them."""

_MOST: Final = 80
"""So many edges and corners are tried for labels: no sheet has room for more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pictured:
    """What is drawn: an outline, its largest pocket and the others, a limit, and how lengths are written."""

    outline: Outline
    shape: Shape
    pocket: Pocket
    others: tuple[Pocket, ...]
    limit: Fraction | None
    fails: bool
    labels: Mapping[int, str]
    unit: Unit
    fmt: Formatter

    def words_of(self, side: Side) -> tuple[str, str]:
        """What an edge is called, and its length."""
        return side_words(side, self.labels, self.unit, self.fmt, self.outline.edges[side.site].radius)


@dataclass(frozen=True, slots=True)
class Picture:
    """What is drawn, in which views, and the sides whose length is not on it."""

    parts: tuple[Part, ...]
    views: tuple[View, ...]
    left: tuple[Side, ...]


def picture(subject: Pictured, room: Rect) -> Picture:
    """Draw an opening.

    Parameters
    ----------
    subject
        What is drawn.
    room
        The panel, millimetres; each view has its title at its foot.

    Notes
    -----
    Where labels crowd, those of touched edges and corners go first, then the longest edges'.
    """
    limit = None if subject.limit is None else float(subject.limit)
    box = extent(subject.shape, subject.pocket, limit)
    whole = Rect(room.left, room.bottom + _FOOT, room.right, room.top)
    view = fit(box, whole, _MARGIN, subject.unit, "opening")
    if subject.pocket.diameter / 2 * view.scale >= _SMALL:
        parts, left = _drawn(subject, view, whole, box)
        return Picture((*parts, *_titled(subject, room, view)), (view,), left)
    upper, lower = _split(room, box)
    around = Rect(upper.left, upper.bottom + _FOOT, upper.right, upper.top)
    view = fit(box, around, _MARGIN, subject.unit, "opening")
    parts, left = _drawn(subject, view, around, box)
    detail, near = _detail(subject, lower)
    return Picture((*parts, *_titled(subject, upper, view), *detail), (view, near), left)


def _split(room: Rect, box: Box) -> tuple[Rect, Rect]:
    """Part a room for the whole and a detail: one over the other for a wide outline, else side by side."""
    if box[2] - box[0] >= box[3] - box[1]:
        level = room.bottom + 0.5 * room.height
        return Rect(room.left, level, room.right, room.top), Rect(room.left, room.bottom, room.right, level)
    middle = room.left + 0.5 * room.width
    return Rect(room.left, room.bottom, middle, room.top), Rect(middle, room.bottom, room.right, room.top)


def _seen(view: View, box: Box, room: Rect) -> Rect:
    """What is drawn of a view: its box and a little more, for what runs on past it."""
    low, high = on_paper(view, (box[0], box[1])), on_paper(view, (box[2], box[3]))
    return Rect(
        max(room.left, low.x - _BESIDE),
        max(room.bottom, low.y - _BESIDE),
        min(room.right, high.x + _BESIDE),
        min(room.top, high.y + _BESIDE),
    )


def _drawn(subject: Pictured, view: View, room: Rect, box: Box) -> tuple[tuple[Part, ...], tuple[Side, ...]]:
    """Draw the whole opening; return also the sides whose length found no place."""
    seen, drawn = _seen(view, box, room), subject.shape
    lines, lettering = _ruled(subject, view, room, seen)
    ring = any(mark.what == "limit" for mark in lines)
    said = sphere_note(subject.pocket, _sphere_lines(subject, ring=ring), view, seen, fails=subject.fails)
    parts: list[Part] = [*lines, *lettering.noted(said)]
    told: set[int] = set()
    touched, few = set(subject.pocket.sites), len(drawn.sides) <= FEW
    leaders = {True: few or len(touched) <= FEW, False: few}
    for first in (True, False):  # what the sphere touches goes before all else
        sides = [side for side in drawn.sides if (side.site in touched) is first]
        for side in sorted(sides, key=lambda side: -side.length)[:_MOST]:
            found = list(_side_label(subject, lettering, side, named=first or few, note=leaders[first]))
            told |= {side.site} if _tells(found, subject.words_of(side)[1]) else set()
            parts += found
        points = [point for point in drawn.points if (point.site in touched) is first]
        for point in sorted(points, key=lambda point: -point.reach)[:_MOST]:
            if first or drawn.closed:
                parts += lettering.point(point, note=leaders[first])
    for pocket in subject.others[:_MOST]:
        parts += lettering.pocket(pocket, f"⌀{diameter_words(pocket.diameter, None, subject.unit)}")
    left = tuple(side for side in drawn.sides if side.site not in told and subject.words_of(side)[1])
    return tuple(parts), left


def _ruled(subject: Pictured, view: View, room: Rect, seen: Rect) -> tuple[tuple[Mark, ...], Lettering]:
    """Draw all lines of a view, and make ready to letter it."""
    limit = None if subject.limit is None else float(subject.limit)
    names = [subject.outline.name(site) for site in subject.pocket.sites]
    lines = (
        *draw_others(subject.others, view, seen),
        *draw_bounds(subject.shape, view, seen),
        *draw_sphere(subject.pocket, names, limit, view, seen),
    )
    panel = Panel(room)
    panel.draw(lines)
    return lines, Lettering(panel, view, seen)


def _side_label(subject: Pictured, lettering: Lettering, side: Side, *, named: bool, note: bool) -> Iterator[Part]:
    """Label an edge: its name and length; where not all are named, its length alone."""
    name, length = subject.words_of(side)
    hatched = not subject.shape.closed
    if side.radius < 0:
        yield from lettering.depth(side, length)
        yield from lettering.side(side, (name,), hatched=hatched, note=note)
        return
    both = f"{name}   {length}".rstrip()
    forms = (both, length, name) if named and subject.shape.closed else (both, name) if named else (length,)
    yield from lettering.side(side, tuple(dict.fromkeys(f for f in forms if f)), hatched=hatched, note=note)


def _tells(parts: list[Part], length: str) -> bool:
    """Whether some of the words just set end in a length."""
    words = [t.words for part in parts for t in ((part,) if isinstance(part, Text) else getattr(part, "text", ()))]
    return any(word.endswith(length) for word in words)


def _sphere_lines(subject: Pictured, *, ring: bool) -> tuple[str, ...]:
    limit = subject.limit
    apart = limit is not None and compare(subject.outline, subject.pocket, limit) != 0
    return lone_sphere_lines(subject.pocket.diameter, limit, subject.unit, apart=apart, dashed=ring)


def _detail(subject: Pictured, room: Rect) -> tuple[tuple[Part, ...], View]:
    """Draw what is around the sphere, enlarged, with what it touches named."""
    (x, z), reach = subject.pocket.centre, _AROUND * subject.pocket.diameter / 2
    box = x - reach, z - reach, x + reach, z + reach
    inner = Rect(room.left, room.bottom + _FOOT, room.right, room.top)
    view = fit(box, inner, 0.0, subject.unit, "detail")
    low, high = on_paper(view, box[:2]), on_paper(view, box[2:])
    seen = Rect(low.x, low.y, high.x, high.y)
    lines, lettering = _ruled(subject, view, inner, seen)
    parts: list[Part] = list(lines)
    for site in dict.fromkeys(subject.pocket.sites):
        for side in subject.shape.sides[site : site + 1]:
            parts += lettering.side(side, (side.name,), hatched=not subject.shape.closed, note=True)
    for point in subject.shape.points:
        if point.site in subject.pocket.sites:
            parts += lettering.point(point, note=True)
    words, start = "AROUND THE LARGEST SPHERE", Place(room.left + 1.0, room.bottom + 1.5)
    parts += _foot(words, (view.scale_text,), start, room.right)
    return tuple(parts), view


_AROUND: Final = 2.0


def _titled(subject: Pictured, room: Rect, view: View) -> tuple[Part, ...]:
    """Write the view's title, its scale, and how to read the numbers."""
    first = [point.mark for point in subject.shape.points[:2]] if subject.shape.closed else []
    hint = f"edge 1 runs from corner {first[0]} to {first[1]}" if first else ""
    return _foot(
        "OPENING, TRUE PROPORTION", (view.scale_text, hint), Place(room.left + 1.0, room.bottom + 1.5), room.right
    )


def _foot(words: str, more: tuple[str, ...], at: Place, right: float) -> tuple[Part, ...]:
    """A view's title and what else of it fits in a row."""
    parts = [Text(words, at, CAP, what="view title")]
    start = at.x + metrics.width(words, CAP) + 4.0
    for said in more:
        if said and metrics.width(said, CAP) <= right - start:
            parts.append(Text(said, Place(start, at.y), CAP, what="view scale"))
            start += metrics.width(said, CAP) + 4.0
    return tuple(parts)
