"""The words on an opening's picture: lengths along edges, marks at corners, what is said of the sphere."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import atan2, cos, degrees, hypot, pi, radians, sin
from typing import Final

from stairguard.geometry.clearance.pockets import Pocket
from stairguard.model.job import Unit
from stairguard.reports.drawing.opening.opening_lines import HATCH, depth_at, on_paper
from stairguard.reports.drawing.opening.opening_shape import ShapeCorner, Side
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.drafting import CAP, Note, lines_on
from stairguard.reports.drawing.paper.lettering import Panel
from stairguard.reports.drawing.paper.scene import ACCENT, GREY, INK, Part, Place, Rect, Text, View
from stairguard.reports.words.lengths import Formatter, exact_words, length_words
from stairguard.reports.words.one_line import clean

_LONGEST: Final = 70.0
_GAP: Final = 0.9


def side_words(side: Side, labels: Mapping[int, str], unit: Unit, fmt: Formatter, thick: Fraction) -> tuple[str, str]:
    """Return what an edge is called, a strand with its diameter, and its length.

    The length is the caller's label if there is one; an edge that runs on past the picture has none of its own. Of one
    whose surface stands behind its line it is how far, and said to be square.
    """
    name = side.name
    if side.radius > 0:
        diameter = f"⌀{exact_words(2 * thick, unit)}"
        name += f" {diameter}" if "strand" in name else f" (strand {diameter})"
    if side.site in labels:
        length = labels[side.site]
    elif side.radius < 0:
        length = exact_words(-thick, unit)
    else:
        length = length_words(side.length, unit, fmt) if all(side.ends) else ""
    if side.radius < 0 and length and "square" not in length:
        length += " square"
    return clean(name), metrics.shorten(clean(length), CAP, _LONGEST)


@dataclass(slots=True)
class Lettering:
    """Sets words on one view of an opening. ``room`` is what is drawn; ``panel`` may be larger, for words beside it."""

    panel: Panel
    view: View
    room: Rect

    def side(self, side: Side, forms: Sequence[str], *, hatched: bool, note: bool) -> Iterator[Part]:
        """Set the first of ``forms`` that fits along an edge, else the first with a leader if ``note``."""
        pieces = list(lines_on(self.view, "thin", side.surface(), "", self.room))
        if not pieces:
            return
        piece = max(pieces, key=lambda p: hypot(p.points[-1].x - p.points[0].x, p.points[-1].y - p.points[0].y))
        a, b = piece.points[0], piece.points[-1]
        gaps = _GAP + max(2 * side.radius * self.view.scale, HATCH if hatched and side.radius == 0 else 0.0), _GAP
        for words in forms:
            placed = self._first(list(_along(words, a, b, side.out, gaps, side.name)))
            if placed is not None:
                yield placed
                return
        if note and forms:
            foot = Place(a.x + _FOOT * (b.x - a.x), a.y + _FOOT * (b.y - a.y))
            near = Place(foot.x + _ASIDE * side.out[0], foot.y + _ASIDE * side.out[1])
            yield from self.noted(Note((forms[0],), foot, near, side.name))

    def _first(self, texts: Sequence[Text]) -> Text | None:
        """Set words in the first place that is clear, else in the first where they cover faint lines only."""
        for over_faint in (False, True):
            for text in texts:
                if self.panel.clear(text, over_faint=over_faint):
                    return self.panel.put(text)
        return None

    def depth(self, side: Side, words: str) -> Iterator[Part]:
        """Set the words of the dimension from a member's line to its surface."""
        ends = depth_at(side, self.view, self.room)
        if ends is not None and words:
            middle = Place((ends[0].x + ends[1].x) / 2, (ends[0].y + ends[1].y) / 2)
            near = Place(middle.x + _ASIDE * side.out[0], middle.y + _ASIDE * side.out[1])
            yield from self.noted(Note((words,), middle, near, f"depth of {side.name}", end="none"))

    def point(self, point: ShapeCorner, *, note: bool) -> Iterator[Part]:
        """Set a corner's mark on its solid side, else with a leader if ``note``."""
        at = on_paper(self.view, point.at)
        if not self.room.has(at):
            return
        words = metrics.shorten(clean(point.mark), CAP, _LONGEST)
        placed = self._first(list(_around(words, at, point.out, point.radius * self.view.scale)))
        if placed is not None:
            yield placed
        elif note:
            near = Place(at.x + _ASIDE * point.out[0], at.y + _ASIDE * point.out[1])
            yield from self.noted(Note((words,), at, near, f"corner {words}", end="none"))

    def pocket(self, pocket: Pocket, words: str) -> Iterator[Part]:
        """Set a pocket's diameter in its middle, if it fits there."""
        centre = on_paper(self.view, pocket.centre)
        text = Text(words, Place(centre.x, centre.y - CAP / 2), CAP, "middle", 0.0, GREY, True, "other pocket")
        if metrics.width(words, CAP) < pocket.diameter * self.view.scale and self.panel.clear(text):
            yield self.panel.put(text)

    def noted(self, note: Note) -> Iterator[Part]:
        """Set words with a leader where there is room, if there is."""
        part = self.panel.note(note)
        if part is not None:
            yield part


_ASIDE: Final = 9.0
_FOOT: Final = 0.36
"""How far along an edge a leader ends: not in the middle, where the sphere likes to touch."""


def _along(
    words: str, a: Place, b: Place, out: tuple[float, float], gaps: Sequence[float], what: str
) -> Iterator[Text]:
    """Places for words along a line: on its solid side, then its free side, the middle first."""
    long, wide = hypot(b.x - a.x, b.y - a.y), metrics.width(words, CAP)
    if not words or wide > _OVERHANG * long:
        return
    turn = degrees(atan2(b.y - a.y, b.x - a.x))
    while not _STEEPEST - 180 < turn <= _STEEPEST:
        turn += 180 if turn < 0 else -180
    up = -sin(radians(turn)), cos(radians(turn))
    for side, gap in zip((1, -1), gaps, strict=True):
        above = side * (out[0] * up[0] + out[1] * up[1]) > 0
        lift = gap + metrics.DESCENT * CAP if above else -gap - metrics.ASCENT * CAP
        for share in _SHARES:
            reach = min(max(share * long, wide / 2), max(long - wide / 2, long / 2))
            x, y = a.x + reach / long * (b.x - a.x), a.y + reach / long * (b.y - a.y)
            yield Text(words, Place(x + lift * up[0], y + lift * up[1]), CAP, "middle", turn, INK, True, what)


_OVERHANG: Final = 1.1
_STEEPEST: Final = 105.0
"""Words stand upright, or are read from the right where they are near plumb."""
_SHARES: Final = (0.5, 0.38, 0.62, 0.26, 0.74, 0.14, 0.86)


def _around(words: str, at: Place, out: tuple[float, float], radius: float) -> Iterator[Text]:
    """Places for a mark round a corner, straight out first."""
    wide, first = metrics.width(words, CAP), atan2(out[1], out[0])
    for away in (0.8, 2.0):
        for turn in (0, 30, -30, 60, -60, 90, -90, 120, -120):
            c, s = cos(first + radians(turn)), sin(first + radians(turn))
            reach = away + radius + min(_to_side(c, wide / 2), _to_side(s, _TALL / 2))
            middle = Place(at.x + reach * c, at.y + reach * s)
            low = middle.y - _TALL / 2 + metrics.DESCENT * CAP
            yield Text(words, Place(middle.x, low), CAP, "middle", 0.0, INK, True, f"corner {words}")


_TALL: Final = (metrics.ASCENT + metrics.DESCENT) * CAP


def _to_side(share: float, half: float) -> float:
    return half / abs(share) if abs(share) > 1e-9 else 1e9


def sphere_note(pocket: Pocket, lines: Sequence[str], view: View, room: Rect, *, fails: bool) -> Note:
    """Words for the largest sphere: in the widest sector between its radii if there is room, else beside it."""
    centre, radius = on_paper(view, pocket.centre), pocket.diameter / 2 * view.scale
    bearing = _widest(pocket)
    c, s = cos(bearing), sin(bearing)
    target = Place(centre.x + radius * c, centre.y + radius * s)
    wide = max(metrics.width(line, CAP) for line in lines)
    away = 0.5 * radius if radius > wide else radius + _ASIDE
    near = Place(centre.x + away * c, centre.y + away * s)
    if not room.has(target):
        target = centre
    return Note(tuple(lines), target, near, "largest sphere", ACCENT if fails else INK, "arrow", "radius")


def _widest(pocket: Pocket) -> float:
    """Bearing in the middle of the widest sector between a sphere's contacts."""
    x, z = pocket.centre
    turns = sorted(atan2(cz - z, cx - x) for cx, cz in pocket.contacts)
    sectors = [(b - a, (a + b) / 2) for a, b in zip(turns, [*turns[1:], turns[0] + 2 * pi], strict=True)]
    return max(sectors)[1]
