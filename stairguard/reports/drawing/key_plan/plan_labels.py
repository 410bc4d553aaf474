"""Short words beside places on a crowded little drawing: as near as they can stand, off every line and word.

Each label is tried all round its place, outward, and measured exactly: the millimetre cells by which notes find free
room on a sheet (`free_room`) would leave it none, and letters do not shrink, as callouts' do. What is found is all or
nothing: where one label finds no room the key plan is drawn otherwise.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from math import cos, radians, sin
from typing import Final

from stairguard.reports.drawing.key_plan.plan_line import PlanStretch, apart, touching
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.clip import runs_over
from stairguard.reports.drawing.paper.drafting import CAP, block, stacked
from stairguard.reports.drawing.paper.scene import Line, Part, Place, Polygon, Rect

_GAPS: Final = (0.8, 1.8, 3.0, 4.5, 6.5, 9.0)
_LED: Final = 2.0
"""Words farther than this from what they name, millimetres, get a line to it."""

_EVERY: Final = 15
_BETWEEN: Final = 0.5


@dataclass(frozen=True, slots=True)
class Label:
    """Words, a line each or all on one, for a place that fills ``reach`` around it.

    ``ways`` are the directions liked best, degrees.
    """

    words: tuple[str, ...]
    at: Place
    reach: float
    ways: tuple[float, ...]
    what: str


@dataclass(slots=True)
class Occupied:
    """What words must keep off: boxes of other words, and lines. ``room`` is the panel."""

    room: Rect
    boxes: list[Rect] = field(default_factory=list)
    lines: list[PlanStretch] = field(default_factory=list)

    def line(self, points: Sequence[Place]) -> None:
        """Take a polyline."""
        self.lines += (PlanStretch(a, b) for a, b in pairwise(points))

    def part(self, part: Part) -> None:
        """Take a line, or the box around a filled shape."""
        if isinstance(part, Line):
            self.line(part.points)
        elif isinstance(part, Polygon):
            self.boxes.append(Rect.around(part.points))

    def holds(self) -> bool:
        """Whether all that is taken lies in the panel."""
        return all(self.room.has(place) for line in self.lines for place in line) and all(
            map(self.room.holds, self.boxes)
        )

    def free(self, box: Rect) -> bool:
        """Whether words can stand there."""
        wide = box.inset(-_BETWEEN)
        if not self.room.holds(box) or any(map(wide.overlaps, self.boxes)):
            return False
        return not any(runs_over(line, wide) for line in self.lines)

    def passable(self, line: PlanStretch) -> bool:
        """Whether a leader can run there: across no words and no line, and along none for its first half."""
        away = PlanStretch(line.start, line.at(0.5))
        if any(runs_over(line, box) for box in self.boxes):
            return False
        return not any(touching(line, other) or apart(away, other) < _BETWEEN for other in self.lines)


def set_label(label: Label, taken: Occupied) -> tuple[Part, ...] | None:
    """Set words where they are nearest, and take the room; None if there is none."""
    found = _set(label, taken)
    if found is None and len(label.words) > 1:
        return _set(replace(label, words=(", ".join(label.words),)), taken)
    return found


def _set(label: Label, taken: Occupied) -> tuple[Part, ...] | None:
    for box, leader in _choices(label):
        if taken.free(box) and (leader is None or taken.passable(leader)):
            taken.boxes.append(box)
            first = Place((box.left + box.right) / 2, box.top - metrics.ASCENT * CAP)
            parts = tuple(stacked(label.words, first, "middle", box=True, what=label.what))
            if leader is None:
                return parts
            taken.line(leader)
            return (Line("thin", tuple(leader), label.what), *parts)
    return None


def _choices(label: Label) -> Iterator[tuple[Rect, PlanStretch | None]]:
    """Boxes, nearest first, and in the order of the directions liked best; with the leaders they need."""
    wide, tall = block(label.words)
    ways = sorted(range(0, 360, _EVERY), key=lambda way: min(_between(way, liked) for liked in label.ways))
    for gap in _GAPS:
        for way in ways:
            c, s = cos(radians(way)), sin(radians(way))
            far = label.reach + gap
            edge = Place(label.at.x + c * far, label.at.y + s * far)
            x, y = edge.x + c * wide / 2, edge.y + s * tall / 2  # the box's ellipse touches the edge
            if abs(c) < _UPRIGHT:
                y = edge.y + (tall / 2 if s > 0 else -tall / 2)
            elif abs(s) < _UPRIGHT:
                x = edge.x + (wide / 2 if c > 0 else -wide / 2)
            box = Rect(x - wide / 2, y - tall / 2, x + wide / 2, y + tall / 2)
            yield box, _leader(label, box, c, s) if gap > _LED else None


_UPRIGHT: Final = 0.3


def _leader(label: Label, box: Rect, c: float, s: float) -> PlanStretch:
    """From the edge of a box to what it speaks of."""
    x = min(max(label.at.x, box.left), box.right)
    y = min(max(label.at.y, box.bottom), box.top)
    foot = Place(label.at.x + c * label.reach, label.at.y + s * label.reach)
    return PlanStretch(Place(x, y), foot)


def _between(a: float, b: float) -> float:
    turn = abs(a - b) % 360
    return min(turn, 360 - turn)
