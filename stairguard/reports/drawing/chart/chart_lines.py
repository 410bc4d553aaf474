"""Lines of a chart told apart by dashes and weight, so that they are in grey as well."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from itertools import accumulate, cycle, pairwise
from math import hypot
from typing import Final, NamedTuple

from stairguard.reports.drawing.paper.scene import Line, PenName, Place


class Stroke(NamedTuple):
    """How a line is drawn: its pen, and the lengths of dashes and gaps in millimetres; none where it is unbroken."""

    pen: PenName
    dash: tuple[float, ...]

    def draw(self, points: Sequence[Place], what: str) -> Iterator[Line]:
        """Draw a line through points: in one, or a piece to a dash."""
        if not self.dash:
            yield Line(self.pen, tuple(points), what)
            return
        for piece in _dashes(points, self.dash):
            yield Line(self.pen, piece, what)


SOLID: Final = (
    Stroke("frame", ()),
    Stroke("frame", (0.9, 1.5)),
    Stroke("frame", (7.0, 1.3, 0.9, 1.3)),
    Stroke("cut", ()),
    Stroke("cut", (0.9, 2.2)),
    Stroke("cut", (7.0, 1.5, 0.9, 1.5)),
    Stroke("thin", ()),
)
DASHED: Final = (
    Stroke("frame", (3.2, 1.6)),
    Stroke("frame", (8.0, 2.0)),
    Stroke("frame", (5.0, 1.2, 0.9, 1.2, 0.9, 1.2)),
    Stroke("cut", (3.2, 1.8)),
    Stroke("cut", (8.0, 2.2)),
    Stroke("cut", (5.0, 1.4, 0.9, 1.4, 0.9, 1.4)),
    Stroke("thin", (3.2, 1.6)),
)
"""Strokes of either kind, in the order they are given out, then from the start again."""

_MOST: Final = 3000
"""Dashes in a line: of one that runs up and down so often that it has more, they are longer."""


def strokes(dashed: Sequence[bool]) -> tuple[Stroke, ...]:
    """Give every line a stroke of its kind."""
    kinds = {False: cycle(SOLID), True: cycle(DASHED)}
    return tuple(next(kinds[kind]) for kind in dashed)


def _dashes(points: Sequence[Place], dash: Sequence[float]) -> Iterator[tuple[Place, ...]]:
    """Cut a line into dashes, the first at its start."""
    along = [0.0, *accumulate(hypot(b.x - a.x, b.y - a.y) for a, b in pairwise(points))]
    long = along[-1]
    larger = max(1.0, long / sum(dash) * (len(dash) / 2) / _MOST)
    start = 0.0
    for index, end in enumerate(accumulate(length * larger for length in cycle(dash))):
        if start >= long:
            return
        if index % 2 == 0:
            yield _between(points, along, start, min(end, long))
        start = end


def _between(points: Sequence[Place], along: Sequence[float], first: float, last: float) -> tuple[Place, ...]:
    """Return the part of a line between two distances along it."""
    inner = points[bisect_right(along, first) : bisect_left(along, last)]
    return (_at(points, along, first), *inner, _at(points, along, last))


def _at(points: Sequence[Place], along: Sequence[float], reach: float) -> Place:
    after = min(max(bisect_left(along, reach), 1), len(points) - 1)
    (a, b), (s, t) = points[after - 1 : after + 1], along[after - 1 : after + 1]
    share = (reach - s) / (t - s) if t > s else 0.0
    return Place(a.x + share * (b.x - a.x), a.y + share * (b.y - a.y))
