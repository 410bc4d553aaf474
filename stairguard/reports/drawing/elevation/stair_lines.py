"""The stair under a guard: treads, risers and nosings, landings and their hatching, the nosing line."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from math import inf
from typing import Final

from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Flight, MeasuredFlight
from stairguard.reports.drawing.paper.clip import Pair
from stairguard.reports.drawing.paper.drafting import lines_on, shapes_on
from stairguard.reports.drawing.paper.scene import Line, Part, Place, Rect, View

_HATCH_DEPTH: Final = 3.0
_HATCH_PITCH: Final = 2.4
_TREAD: Final = "#e9e9e9"


def draw_stair(layout: Layout, view: View, room: Rect | None = None) -> Iterator[Part]:
    """Draw every surface: treads first, then what is walked on, in the heaviest pen."""
    for surface in layout.line.surfaces:
        if not seen(view, surface):
            continue
        beside = _beside(view, surface)
        if isinstance(surface.given, Flight | MeasuredFlight):
            yield from _flight(surface, surface.given, beside, room)
        else:
            yield from _level(layout, surface, beside, room)


def _beside(view: View, surface: PlacedSurface) -> View:
    """A view up to the corners of the guard that stands on the inner hand of a turn: the edge goes on behind them."""
    low = float(surface.start.s) if surface.ahead < 0 else -inf
    high = float(surface.end.s) if surface.past < 0 else inf
    cut = (replace(w, first=max(w.first, low), last=min(w.last, high)) for w in view.windows)
    return replace(view, windows=tuple(w for w in cut if w.first <= w.last))


def steps_of(surface: PlacedSurface) -> tuple[Pair, ...]:
    """Nosings of a flight in floats, lowest first."""
    points = [(float(p.s), float(p.z)) for p in surface.nosings]
    return tuple(points if surface.slope > 0 else points[::-1])


def seen(view: View, surface: PlacedSurface) -> bool:
    """Whether a view shows any of a surface."""
    first, last = float(surface.start.s), float(surface.end.s)
    return any(w.first <= last and first <= w.last for w in view.windows)


def drop_under(surface: PlacedSurface) -> float:
    """Greatest plumb distance from a nosing of a flight down to what is under it; zero on a landing or ramp."""
    return max((float(z) for z in _rises(surface)), default=0.0)


def _rises(surface: PlacedSurface) -> list[Fraction]:
    """Rise under each nosing, from the lowest up."""
    if not surface.nosings:
        return []
    nosings = surface.nosings if surface.slope > 0 else surface.nosings[::-1]
    floor = surface.start.z if surface.slope > 0 else surface.end.z
    return [b - a for a, b in pairwise((floor, *(p.z for p in nosings)))]


def run_of(surface: PlacedSurface) -> float:
    """Least run of a flight."""
    return min(abs(float(b.s - a.s)) for a, b in pairwise(surface.nosings))


def _flight(surface: PlacedSurface, flight: Flight | MeasuredFlight, view: View, room: Rect | None) -> Iterator[Part]:
    up = 1.0 if surface.slope > 0 else -1.0
    rises, run = [float(r) for r in _rises(surface)], run_of(surface)
    back, thick = up * float(flight.nosing), float(flight.tread)
    nosings = steps_of(surface)
    shown = [i for i, (s, _) in enumerate(nosings) if _near(view, s, run)]
    for i in shown:
        s, z = nosings[i]
        far = (nosings[i + 1][0] if i + 1 < len(nosings) else s) + back
        if thick and far != s:
            board = ((s, z), (far, z), (far, z - thick), (s, z - thick))
            yield from shapes_on(
                view, "outline" if flight.open_risers else "thin", _TREAD, board, f"tread {i + 1}", room
            )
    for i in shown:
        s, z = nosings[i]
        front: tuple[Pair, ...] = ((s + back, z - thick), (s, z - thick), (s, z))
        if i + 1 < len(nosings):
            front = (*front, (nosings[i + 1][0] + back, z))
        if not flight.open_risers:
            front = ((s + back, z - rises[i]), *front)
        yield from lines_on(view, "cut", front, f"step {i + 1}", room)


def _near(view: View, s: float, run: float) -> bool:
    return any(w.first - 2 * run <= s <= w.last + 2 * run for w in view.windows)


def _level(layout: Layout, surface: PlacedSurface, view: View, room: Rect | None) -> Iterator[Part]:
    """Draw a landing or ramp; a lower landing runs on under the first nosing to its riser."""
    first, last = (
        (float(surface.edge_start.s), float(surface.start.z)),
        (float(surface.edge_end.s), float(surface.end.z)),
    )
    for index in (surface.index - 1, surface.index + 1):
        flight = layout.line.surfaces[index] if 0 <= index < len(layout.line.surfaces) else None
        if flight is None or not isinstance(flight.given, Flight | MeasuredFlight):
            continue
        back = float(flight.given.nosing)
        if flight.slope > 0 and flight.index == surface.index + 1:
            last = (last[0] + back, last[1])
        if flight.slope < 0 and flight.index == surface.index - 1:
            first = (first[0] - back, first[1])
    name = f"{surface.kind} {surface.index + 1}"
    for line in lines_on(view, "cut", (first, last), name, room):
        yield line
        yield from _hatch(line, name, room)


def _hatch(line: Line, name: str, room: Rect | None) -> Iterator[Line]:
    """Short strokes at 45 degrees under a surface's line."""
    a, b = line.points[0], line.points[-1]
    slope = (b.y - a.y) / (b.x - a.x) if b.x > a.x else 0.0
    x = a.x + _HATCH_DEPTH
    while x <= b.x:
        y = a.y + slope * (x - a.x)
        if room is None or y - _HATCH_DEPTH >= room.bottom:
            yield Line("hatch", (Place(x, y), Place(x - _HATCH_DEPTH, y - _HATCH_DEPTH)), f"{name} hatching")
        x += _HATCH_PITCH


def nosing_line(layout: Layout, view: View, room: Rect | None = None) -> Iterator[Line]:
    """Draw the line through the nosings of every flight, a little past both ends."""
    for surface in layout.line.surfaces:
        if len(surface.nosings) > 1 and seen(view, surface):
            beyond = 0.4 * run_of(surface)
            ends = float(surface.start.s) - beyond, float(surface.end.s) + beyond
            points = tuple((s, datum(surface, s)) for s in ends)
            yield from lines_on(view, "chain", points, "nosing line", room)


def datum(surface: PlacedSurface, s: float) -> float:
    """Elevation of the nosing line or surface at a station, in floats."""
    return float(surface.origin.z) + (s - float(surface.origin.s)) * float(surface.slope)
