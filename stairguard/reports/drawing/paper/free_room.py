"""Free room on paper: where words can go without touching what is already there.

The panel is a grid of one-millimetre cells, a row an integer whose bits are cells, so that all places a box
could stand in a row are found with a handful of shifts.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from heapq import heappop, heappush
from itertools import pairwise
from math import ceil, floor, hypot
from typing import Final

from stairguard.reports.drawing.paper.scene import Place, Rect


class Space:
    """A panel on paper with cells that are taken.

    Parameters
    ----------
    room
        The panel, millimetres.
    solid
        Words never cover an area taken with `area_at`; else they do where nothing else is free.

    Notes
    -----
    ``hard`` cells hold words, ``soft`` ones lines that words had better not cross. A box is placed on
    cells free of both if there are any, else on cells free of words.
    """

    def __init__(self, room: Rect, *, solid: bool = False) -> None:
        self.room = room
        self._solid = solid
        self._columns = max(0, floor(room.width))
        self._rows = max(0, floor(room.height))
        self._hard = [0] * self._rows
        self._soft = [0] * self._rows
        self.words: list[Rect] = []

    def _span(self, low: float, high: float, count: int) -> tuple[int, int]:
        """Cells, first and one past the last, that an interval touches."""
        return max(0, floor(low)), min(count, ceil(high))

    def _take(self, rows: list[int], box: Rect) -> None:
        left, right = self._span(box.left - self.room.left, box.right - self.room.left, self._columns)
        low, high = self._span(box.bottom - self.room.bottom, box.top - self.room.bottom, self._rows)
        if right > left:
            bits = ((1 << (right - left)) - 1) << left
            for row in range(low, high):
                rows[row] |= bits

    def words_at(self, box: Rect) -> None:
        """Take a box for words: nothing may be placed on it again."""
        self.words.append(box)
        self._take(self._hard, box)

    def area_at(self, box: Rect) -> None:
        """Take a filled box that words had better not cover, or must not, though a leader may cross it."""
        self._take(self._hard if self._solid else self._soft, box)

    def line_at(self, points: Iterable[Place], *, hard: bool = False) -> None:
        """Take the cells under a polyline."""
        rows = self._hard if hard else self._soft
        points = tuple(points)
        for (x0, y0), (x1, y1) in pairwise(points):
            steps = max(1, ceil(max(abs(x1 - x0), abs(y1 - y0))))
            for i in range(steps + 1):
                x = floor(x0 + (x1 - x0) * i / steps - self.room.left)
                y = floor(y0 + (y1 - y0) * i / steps - self.room.bottom)
                if 0 <= x < self._columns and 0 <= y < self._rows:
                    rows[y] |= 1 << x

    def free(self, box: Rect) -> bool:
        """Whether a box lies in the panel clear of all words."""
        return self.room.holds(box) and not any(map(box.overlaps, self.words))

    def clear(self, box: Rect) -> bool:
        """Whether a box is free and no line runs through it."""
        left, right = self._span(box.left - self.room.left, box.right - self.room.left, self._columns)
        low, high = self._span(box.bottom - self.room.bottom, box.top - self.room.bottom, self._rows)
        bits = ((1 << max(right - left, 0)) - 1) << left
        return self.free(box) and not any(row & bits for row in self._soft[low:high])

    def crossings(self, line: Sequence[Place], spare: float) -> int:
        """How many cells with lines a leader runs over, its last ``spare`` millimetres apart."""
        found = 0
        end = line[-1]
        for a, b in pairwise(line):
            steps = max(1, ceil(max(abs(b.x - a.x), abs(b.y - a.y))))
            for i in range(steps):
                x, y = a.x + (b.x - a.x) * i / steps, a.y + (b.y - a.y) * i / steps
                if abs(x - end.x) > spare or abs(y - end.y) > spare:
                    found += self._lined(x, y)
        return found

    def _lined(self, x: float, y: float) -> int:
        column, row = floor(x - self.room.left), floor(y - self.room.bottom)
        if not (0 <= column < self._columns and 0 <= row < self._rows):
            return 0
        return (self._soft[row] | self._hard[row]) >> column & 1

    def candidates(
        self, width: float, height: float, near: Place, *, clear: bool, aside: Sequence[float] = ()
    ) -> Iterator[tuple[float, Rect]]:
        """Boxes clear of words, and of lines too if ``clear``, with their distance, nearest first.

        In every row those nearest to ``near``, and to places so far to the left and right of it as ``aside`` says.
        """
        rows = [h | s for h, s in zip(self._hard, self._soft, strict=True)] if clear else self._hard
        yield from self._nearest(rows, near, width, height, aside)

    def _nearest(
        self, rows: list[int], near: Place, width: float, height: float, aside: Sequence[float]
    ) -> Iterator[tuple[float, Rect]]:
        wide, tall = ceil(width) + 1, ceil(height) + 1
        starts = self._columns - wide
        if starts < 0:
            return
        every = (1 << (starts + 1)) - 1
        middle = near.x - self.room.left
        lefts: tuple[float, ...] = (middle - wide / 2, middle + _ASIDE, middle - wide - _ASIDE)
        lefts += tuple(middle - wide / 2 + sign * x for x in aside for sign in (-1, 1))
        wishes = {min(max(0, round(x)), starts) for x in lefts}
        lows = [self.room.bottom + row + 0.5 for row in range(self._rows - tall + 1)]
        away = sorted((max(low - near.y, 0.0, near.y - low - height), row) for row, low in enumerate(lows))
        found: list[tuple[float, Rect]] = []
        for least, row in away:  # nothing in this row or a later one is nearer than it
            while found and found[0][0] < least:
                yield heappop(found)
            taken = 0
            for above in rows[row : row + tall]:
                taken |= above
            free = ~_smear(taken, wide) & every
            for start in {s for wanted in wishes for s in _around(free, wanted)}:
                left = self.room.left + start + 0.5
                box = Rect(left, lows[row], left + width, lows[row] + height)
                heappush(found, (_distance(box, near), box))
        while found:
            yield heappop(found)


_ASIDE: Final = 6
"""How far to the side of a place a box may stand that is not centred over it, millimetres."""


def _smear(taken: int, wide: int) -> int:
    """Bit i set where any of bits i .. i + wide - 1 is."""
    done = 1
    while done < wide:
        step = min(done, wide - done)
        taken |= taken >> step
        done += step
    return taken


def _around(free: int, wanted: int) -> Iterator[int]:
    """Return the set bits next to ``wanted``, below (itself included) and above."""
    below = free & ((1 << (wanted + 1)) - 1)
    if below:
        yield below.bit_length() - 1
    above = free >> (wanted + 1)
    if above:
        yield wanted + 1 + (above & -above).bit_length() - 1


def _distance(box: Rect, near: Place) -> float:
    """From a box to a point; zero inside."""
    dx = max(box.left - near.x, 0.0, near.x - box.right)
    dy = max(box.bottom - near.y, 0.0, near.y - box.top)
    return hypot(dx, dy)
