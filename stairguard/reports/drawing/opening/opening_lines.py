"""The lines of an opening's picture: what bounds it, its pockets, the largest sphere and the limit about its centre."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain, pairwise
from math import acos, asin, cos, degrees, floor, hypot, log10, pi, radians, sin
from typing import Final

from stairguard.geometry.clearance.pockets import Pocket
from stairguard.model.job import Unit
from stairguard.model.published.known_figure import MM_PER_UNIT
from stairguard.reports.drawing.elevation.framing import scales
from stairguard.reports.drawing.opening.opening_shape import Box, Shape, Side
from stairguard.reports.drawing.paper.clip import Pair
from stairguard.reports.drawing.paper.drafting import lines_on, shapes_on, span
from stairguard.reports.drawing.paper.scene import (
    ACCENT,
    INK,
    Arc,
    Circle,
    Line,
    Mark,
    PenName,
    Place,
    Rect,
    View,
    Window,
)
from stairguard.reports.words.lengths import ratio_words

HATCH: Final = 2.2
"""Depth of the hatching on the solid side of an outline that does not run once round, millimetres."""

_PITCH: Final = 2.4
_TONE: Final = "#dcdcdc"
_ENLARGED: Final = (10, 5, 4, 2.5, 2)
_REDUCED: Final = (1, 2, 2.5, 4, 5, 10, 15, 20, 25, 40, 50, 75, 100)
"""Scales for drawings of any kind, GOST 2.302 (from memory); those for guards leave out the steps between."""


def fit(box: Box, room: Rect, margin: float, unit: Unit, name: str) -> View:
    """Show a box of the model in a room on paper, in the middle, at the largest drafting scale."""
    left, bottom, right, top = box
    inner = room.inset(margin)
    spread = max(right - left, top - bottom, 1e-300)
    most = min(inner.width / max(right - left, 1e-9 * spread), inner.height / max(top - bottom, 1e-9 * spread))
    scale, words = next((k, w) for k, w in _scales(unit, most) if k <= most * (1 + 1e-9))
    dx = (room.left + room.right) / 2 - scale * (left + right) / 2
    dy = (room.bottom + room.top) / 2 - scale * (bottom + top) / 2
    return View(name, scale, words, (Window((room.left - dx) / scale, (room.right - dx) / scale, dx, dy),))


def _scales(unit: Unit, most: float) -> Iterator[tuple[float, str]]:
    """Enlargements as far as can be wanted, then full size and reductions; inches are reduced as for guards."""
    full = float(MM_PER_UNIT[unit])
    for power in range(max(0, floor(log10(max(most / full, 1.0)))), -1, -1):
        yield from ((full * n * 10**power, ratio_words(n * 10**power)) for n in _ENLARGED)
    if unit == "mm":
        yield from ((1 / n, ratio_words(1, n)) for n in _REDUCED)
    # of millimetres those that come again are not reached: the first that fits is taken
    yield from ((k, words) for k, words in scales(unit) if k <= full)


def on_paper(view: View, at: Pair) -> Place:
    """Where a point of the model is drawn."""
    window = view.windows[0]
    return Place(window.dx + view.scale * at[0], window.dy + view.scale * at[1])


def draw_bounds(drawn: Shape, view: View, room: Rect) -> Iterator[Mark]:
    """Draw strands by axis and thickness, every other edge by its surface, hatched if the outline is open."""
    for point in drawn.points:
        if point.radius > 0:
            yield from _ring("strand", on_paper(view, point.at), point.radius * view.scale, room, point.mark)
    for side in drawn.sides:
        if side.radius > 0:
            yield from _strand(side, view, room)
    for side in drawn.sides:
        if side.radius <= 0 and side.length:
            yield from _edge(side, view, room, hatched=not drawn.closed)
    for point in drawn.points:
        at = on_paper(view, point.at)
        if point.alone and room.has(at):
            yield Circle(at, 0.6, None, INK, point.mark)


def _edge(side: Side, view: View, room: Rect, *, hatched: bool) -> Iterator[Mark]:
    for line in lines_on(view, "outline", side.surface(), side.name, room):
        yield line
        if hatched and side.radius == 0:
            yield from _hatch(line, side.out, room)
    if side.radius < 0:
        yield from lines_on(view, "chain", (side.a, side.b), f"line of {side.name}", room)
        yield from _depth(side, view, room)


def _strand(side: Side, view: View, room: Rect) -> Iterator[Mark]:
    (ax, az), (bx, bz), (ox, oz), r = side.a, side.b, side.out, side.radius
    band = tuple((x + k * ox, z + k * oz) for x, z, k in ((ax, az, r), (bx, bz, r), (bx, bz, -r), (ax, az, -r)))
    if 2 * r * view.scale > _THINNEST:
        yield from shapes_on(view, "strand", _TONE, band, side.name, room)
    yield from lines_on(view, "chain", (side.a, side.b), f"axis of {side.name}", room)


_THINNEST: Final = 0.3


def _hatch(line: Line, out: Pair, room: Rect) -> Iterator[Line]:
    """Short strokes aslant on the solid side."""
    (a, b), turn = (line.points[0], line.points[-1]), radians(45)
    long = hypot(b.x - a.x, b.y - a.y)
    dx, dy = out[0] * cos(turn) - out[1] * sin(turn), out[0] * sin(turn) + out[1] * cos(turn)
    reach = HATCH / cos(turn)
    for k in range(int(long / _PITCH) + 1):
        along = (k + 0.5) * _PITCH / long if long else 1.0
        foot = Place(a.x + along * (b.x - a.x), a.y + along * (b.y - a.y))
        tip = Place(foot.x + reach * dx, foot.y + reach * dy)
        if along < 1 and room.has(tip):
            yield Line("hatch", (foot, tip), f"{line.what} hatching")


def depth_at(side: Side, view: View, room: Rect) -> tuple[Place, Place] | None:
    """Where to dimension how far a surface stands behind its line: a quarter in from the end of what is seen."""
    pieces = list(lines_on(view, "chain", (side.a, side.b), "", room))
    if not pieces or -side.radius * view.scale < _THINNEST:
        return None
    a, b = pieces[0].points[0], pieces[0].points[-1]
    low = a if (a.y, a.x) < (b.y, b.x) else b
    high = b if low is a else a
    foot = Place(low.x + 0.22 * (high.x - low.x), low.y + 0.22 * (high.y - low.y))
    away = -side.radius * view.scale
    head = Place(foot.x + away * side.out[0], foot.y + away * side.out[1])
    return (foot, head) if room.has(head) else None


def _depth(side: Side, view: View, room: Rect) -> Iterator[Mark]:
    ends = depth_at(side, view, room)
    if ends is not None:
        yield from span(*ends, f"depth of {side.name}")


def draw_others(others: Sequence[Pocket], view: View, room: Rect) -> Iterator[Mark]:
    """Draw pockets other than the largest, faint."""
    for pocket in others:
        centre = on_paper(view, pocket.centre)
        yield from _ring("fine", centre, pocket.diameter / 2 * view.scale, room, "other pocket")


def draw_sphere(pocket: Pocket, names: Sequence[str], limit: float | None, view: View, room: Rect) -> Iterator[Mark]:
    """Draw the limit dashed, then the largest sphere, its line of equal centres, centre, radii and contacts."""
    centre, radius = on_paper(view, pocket.centre), pocket.diameter / 2 * view.scale
    if limit is not None:
        yield from _ring("dashed", centre, limit / 2 * view.scale, room, "limit")
    if pocket.ridge is not None:
        yield from lines_on(view, "chain", pocket.ridge, "line of equal centres", room)
        for end in pocket.ridge:
            yield from _ring("fine", on_paper(view, end), radius, room, "end of the line of equal centres")
    yield from _ring("circle", centre, radius, room, "largest sphere")
    dot = min(_DOT, max(0.2, 0.12 * radius))
    yield Circle(centre, dot / 2, None, ACCENT, "centre of largest sphere")
    for name, contact in zip(names, pocket.contacts, strict=True):
        if len(names) <= _SPOKES:
            yield from lines_on(view, "radius", (pocket.centre, contact), f"radius to {name}", room)
        at = on_paper(view, contact)
        if room.has(at):
            yield Circle(at, dot, None, ACCENT, f"contact with {name}")


_DOT: Final = 0.8
_SPOKES: Final = 12
"""Of more contacts than these only the points are shown: so many radii would blot out the centre."""


def _ring(pen: PenName, centre: Place, radius: float, room: Rect, what: str) -> Iterator[Circle | Arc]:
    """Draw a circle, or those arcs of it that lie in a room."""
    x, y = centre
    if room.has(Place(x - radius, y - radius)) and room.has(Place(x + radius, y + radius)):
        yield Circle(centre, radius, pen, None, what)
        return
    bearings = sorted(_bearings(centre, radius, room))
    for first, last in pairwise(chain(bearings, [b + 2 * pi for b in bearings[:1]])):
        middle = (first + last) / 2
        if last - first > 1e-9 and room.has((x + radius * cos(middle), y + radius * sin(middle))):
            yield Arc(pen, centre, radius, degrees(first), degrees(last), what)


def _bearings(centre: Place, radius: float, room: Rect) -> Iterator[float]:
    """Bearings, 0 to a full turn, at which a circle meets the lines of a room's four edges."""
    for edge in (room.left, room.right):
        if abs(edge - centre.x) < radius:
            turn = acos((edge - centre.x) / radius)
            yield from (turn, 2 * pi - turn)
    for edge in (room.bottom, room.top):
        if abs(edge - centre.y) < radius:
            turn = asin((edge - centre.y) / radius)
            yield from (turn % (2 * pi), (pi - turn) % (2 * pi))
