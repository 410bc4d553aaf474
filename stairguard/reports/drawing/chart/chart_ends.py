"""Names of a chart's lines, in a column at their ends: spread apart, and each joined to its line.

All move together, by least squares, and nothing else stands in the column: no place is looked for as on a sheet.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.callouts import CAPS, leading
from stairguard.reports.drawing.paper.drafting import stacked
from stairguard.reports.drawing.paper.scene import INK, Line, Place, Rect, Text
from stairguard.reports.words.one_line import clean

GAP: Final = 9.0
"""From the chart to the column of names, millimetres: room for the lines that join them."""

_BETWEEN: Final = 1.4


@dataclass(frozen=True, slots=True)
class End:
    """A name, and what it belongs to; not ``joined`` to that where it is not drawn."""

    words: str
    what: str
    ink: str = INK
    joined: bool = True


@dataclass(frozen=True, slots=True)
class Names:
    """Names turned over to fit a column, all in letters of one size."""

    cap: float
    lines: tuple[tuple[str, ...], ...]

    @property
    def width(self) -> float:
        """Of the widest line, millimetres."""
        return max((metrics.width(line, self.cap) for lines in self.lines for line in lines), default=0.0)

    def height(self, index: int) -> float:
        """Of one name and the space it keeps, millimetres."""
        return len(self.lines[index]) * leading(self.cap) + _BETWEEN


def names(ends: Sequence[End], wide: float, tall: float) -> Names:
    """Turn names over to a width, in the largest letters with which all fit a height; at last each on one line, cut."""
    said = [clean(end.words) for end in ends]
    for cap in CAPS:
        found = Names(cap, tuple(metrics.wrap(words, cap, wide) or ("",) for words in said))
        if sum(found.height(k) for k in range(len(said))) <= tall:
            return found
    return Names(CAPS[-1], tuple((metrics.shorten(words, CAPS[-1], wide),) for words in said))


def draw_names(ends: Sequence[tuple[End, Place]], named: Names, column: Rect, edge: float) -> Iterator[Line | Text]:
    """Set each name as near to the height of its line's end as the others let it.

    Parameters
    ----------
    ends
        Names, and where their lines end.
    named
        Their words, from `names`.
    column
        Where they stand.
    edge
        The chart's right edge: up to it a name is joined to its line on a level.
    """
    order = sorted(range(len(ends)), key=lambda k: -ends[k][1].y)
    middles = _spread([ends[k][1].y for k in order], [named.height(k) for k in order], column.bottom, column.top)
    for k, middle in zip(order, middles, strict=True):
        end, at = ends[k]
        lines = named.lines[k]
        first = middle + len(lines) * leading(named.cap) / 2 - metrics.ASCENT * named.cap
        if end.joined and any(lines):
            level = (at,) if at.x >= edge else (at, Place(edge, at.y))
            yield Line("hatch", (*level, Place(column.left - 1.0, middle)), f"from {end.what} to its name")
        at = Place(column.left, first)
        yield from stacked(lines, at, cap=named.cap, leading=leading(named.cap), ink=end.ink, what=end.what)


def _spread(wanted: Sequence[float], heights: Sequence[float], low: float, high: float) -> list[float]:
    """Return middles of boxes, top down, that do not overlap and are as near as can be to those wanted.

    By least squares: with the heights above them added the middles must not rise, and neighbours that would are set
    to their mean.
    """
    drops: list[float] = []
    total = 0.0
    for height in heights:
        drops.append(total + height / 2)
        total += height
    groups: list[tuple[float, int]] = []
    for want, drop in zip(wanted, drops, strict=True):
        mean, count = want + drop, 1
        while groups and groups[-1][0] < mean:
            above, many = groups.pop()
            mean, count = (above * many + mean * count) / (many + count), many + count
        groups.append((mean, count))
    tops = [min(max(mean, low + total), high) for mean, count in groups for _ in range(count)]
    return [top - drop for top, drop in zip(tops, drops, strict=True)]
