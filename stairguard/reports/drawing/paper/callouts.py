"""Large words beside what they speak of, joined to it by a straight leader where they do not stand at it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from math import cos, hypot, radians, sin
from typing import Final

from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.clip import runs_over
from stairguard.reports.drawing.paper.drafting import CAP, stacked
from stairguard.reports.drawing.paper.lettering import Panel
from stairguard.reports.drawing.paper.scene import INK, Anchor, Line, Part, PenName, Place, Rect, Text

LARGE: Final = 4.0
"""Height of capitals that are still read where a sheet is no wider than a telephone, millimetres."""

CAPS: Final = (LARGE, 3.2, CAP)
"""Heights to try, largest first; none is less than ordinary lettering."""


def leading(cap: float) -> float:
    """From one line of words to the next, millimetres."""
    return (metrics.ASCENT + metrics.DESCENT) * cap


@dataclass(frozen=True, slots=True, kw_only=True)
class Callout:
    """Words, line by line, that speak of a place; ``bearings`` are where they would best stand from it, degrees."""

    words: tuple[str, ...]
    target: Place
    what: str
    bearings: tuple[float, ...] = (60.0, 120.0, -60.0, -120.0, 0.0, 180.0, 90.0, -90.0)
    ink: str = INK
    pen: PenName = "thin"


_AWAY: Final = (2.5, 5.0, 8.0, 12.0, 18.0, 26.0, 36.0, 48.0)
"""Distances to try, millimetres."""
_NEAR: Final = 3.0
"""Words this near need no leader."""
_SHORT: Final = 1.2
"""A leader ends so far from its words and from what it speaks of."""


def place_callouts(panel: Panel, callouts: Sequence[Callout]) -> tuple[tuple[Part, ...], tuple[Callout, ...]]:
    """Put callouts, in order, where they cover nothing; return what is drawn and those there was no room for."""
    drawn: list[Part] = []
    left: list[Callout] = []
    for callout in callouts:
        placed = next(_places(panel, callout), None)
        if placed is None:
            left.append(callout)
            continue
        for part in placed:
            if isinstance(part, Text):
                panel.put(part)
            else:
                panel.draw((part,))
        drawn += placed
    return tuple(drawn), tuple(left)


def _places(panel: Panel, callout: Callout) -> Iterator[tuple[Line | Text, ...]]:
    """Every place that is clear: largest letters first, on no line before on faint ones, nearest first.

    While there is a place from which a leader crosses no line, it is preferred to nearer ones.
    """
    for cap in CAPS:
        for crossing in (False, True):
            for over_faint in (False, True):
                for away, bearing in product(_AWAY, callout.bearings):
                    texts = _texts(callout, cap, away, bearing, box=over_faint)
                    if not all(panel.clear(text, over_faint=over_faint) for text in texts):
                        continue
                    leader = _leader(callout, texts) if away > _NEAR else ()
                    if all(_runs_clear(panel, line, crossing=crossing) for line in leader):
                        yield (*leader, *texts)


def _texts(callout: Callout, cap: float, away: float, bearing: float, *, box: bool) -> tuple[Text, ...]:
    """Set the lines of a callout at a distance from its target: centred over it or under it, else to its side."""
    c, s = cos(radians(bearing)), sin(radians(bearing))
    tall = leading(cap) * len(callout.words)
    x = callout.target.x + away * c
    middle = callout.target.y + away * s + (tall / 2 if s > _PLUMB else -tall / 2 if s < -_PLUMB else 0.0)
    anchor: Anchor = "middle" if abs(c) < _PLUMB else "start" if c > 0 else "end"
    first = middle + tall / 2 - metrics.ASCENT * cap
    at, apart = Place(x, first), leading(cap)
    return tuple(
        stacked(callout.words, at, anchor, cap=cap, leading=apart, ink=callout.ink, box=box, what=callout.what)
    )


_PLUMB: Final = 0.1


def _leader(callout: Callout, texts: Sequence[Text]) -> tuple[Line, ...]:
    """Draw from the nearest place on the words' box to just short of the target."""
    words = Rect.around(corner for text in texts for corner in text.corners())
    target = callout.target
    start = Place(min(max(target.x, words.left), words.right), min(max(target.y, words.bottom), words.top))
    long = hypot(target.x - start.x, target.y - start.y)
    if long < 2 * _SHORT + 0.5:
        return ()

    def at(reach: float) -> Place:
        share = reach / long
        return Place(start.x + share * (target.x - start.x), start.y + share * (target.y - start.y))

    return (Line(callout.pen, (at(_SHORT), at(long - _SHORT)), callout.what),)


def _runs_clear(panel: Panel, line: Line, *, crossing: bool) -> bool:
    """Whether a leader runs over no words, and over no lines but near its target unless it may."""
    if any(runs_over(line.points, words) for words in panel.space.words):
        return False
    return crossing or not panel.space.crossings(line.points, _AT_TARGET)


_AT_TARGET: Final = 3.0
