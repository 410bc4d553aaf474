"""Which scale a guard is drawn at, and which parts of a long one are left out.

A drawing is in true proportion. Where the whole would be too small to read, the middles of long surfaces
are left out between break lines and what remains is drawn at one larger scale; a flight's remainder is
closed up along its pitch, so that rail and nosing line carry on across the break.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain, pairwise
from typing import Final

from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Unit
from stairguard.model.published.known_figure import MM_PER_INCH
from stairguard.reports.drawing.elevation.sheet_breaks import Leaf
from stairguard.reports.drawing.elevation.stair_lines import datum, drop_under, run_of
from stairguard.reports.drawing.paper.scene import Rect, View, Window

GAP: Final = 8.0
"""Width of a break on paper, millimetres."""

LEAST_RUN: Final = 4.0
LEAST_RAIL: Final = 16.0
LEAST_SPACING: Final = 1.2
"""Smallest run, rail height and strand spacing that still read, millimetres on paper."""

_BELOW: Final = 13.0
_ABOVE: Final = 12.0
"""Room under the lowest surface for hatching and labels, over the highest rail for words, millimetres."""

_ENLARGED: Final = (10, 5, 2)
_METRIC: Final = (1, 2, 5, 10, 20, 25, 50, 100, 200, 500)
_INCHES_TO_FOOT: Final = (
    (1, "FULL SIZE"), (2, "6\" = 1'-0\""), (4, "3\" = 1'-0\""), (8, "1-1/2\" = 1'-0\""), (12, "1\" = 1'-0\""),
    (16, "3/4\" = 1'-0\""), (24, "1/2\" = 1'-0\""), (32, "3/8\" = 1'-0\""), (48, "1/4\" = 1'-0\""),
    (64, "3/16\" = 1'-0\""), (96, "1/8\" = 1'-0\""), (192, "1/16\" = 1'-0\""),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Strip:
    """A stretch of stations that is drawn, with the lowest and highest elevation at each end."""

    first: float
    last: float
    at_first: tuple[float, float]
    at_last: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Omission:
    """A stretch of stations of one surface that is left out."""

    surface: int
    first: float
    last: float


def scales(unit: Unit) -> Iterator[tuple[float, str]]:
    """Scales in use, largest first: paper millimetres to one model unit, and how it is written."""
    if unit == "in":
        inch = float(MM_PER_INCH)
        for ratio, words in _INCHES_TO_FOOT:
            yield inch / ratio, words
        yield from ((inch / ratio, f"1:{ratio}") for ratio in _endless(500))
    else:
        yield from ((float(ratio), f"{ratio}:1") for ratio in _ENLARGED)
        yield from ((1 / ratio, f"1:{ratio}") for ratio in chain(_METRIC, _endless(1000)))


def _endless(first: int) -> Iterator[int]:
    ratio = first
    while True:
        yield ratio
        ratio *= 2


def frame(layout: Layout, room: Rect, leaf: Leaf) -> View:
    """Fit a stretch of the guard's elevation into a panel.

    Parameters
    ----------
    layout
        The solved guard.
    room
        The panel on paper, millimetres.
    leaf
        The stretch.

    Returns
    -------
    View
        All of it if it can be read so; else with the middles of landings, of flights, or of both left out.
    """
    choices = ((), ("landing", "ramp"), ("flight",), ("landing", "ramp", "flight"))
    best: tuple[float, str, list[Strip]] | None = None
    for kinds in choices:
        strips = _strips(layout, leaf, omissions(layout, leaf, kinds))
        scale, words = _largest(layout, leaf, strips, room)
        if best is None or scale > best[0]:
            best = scale, words, strips
        if _reads(layout, leaf, scale):
            break
    assert best is not None  # choices is not empty
    scale, words, strips = best
    for steps in range(_FEWEST + 1, 60):  # show as many steps as the same scale has room for
        more = _strips(layout, leaf, omissions(layout, leaf, choices[-1], steps))
        if len(strips) == 1 or len(more) != len(strips) or _size(layout, leaf, more, scale, room) is None:
            break
        strips = more
    return _place(layout, leaf, strips, scale, words, room)


def reads_whole(layout: Layout, room: Rect, leaf: Leaf) -> bool:
    """Whether a stretch can be read at the scale at which all of it fits."""
    scale, _ = _largest(layout, leaf, _strips(layout, leaf, ()), room)
    return _reads(layout, leaf, scale)


_FEWEST: Final = 4


def omissions(layout: Layout, leaf: Leaf, kinds: tuple[str, ...], steps: int = _FEWEST) -> tuple[Omission, ...]:
    """List what is left out of surfaces of some kinds, keeping a readable stretch at every end."""
    placed = leaf.of(layout)
    found: list[Omission] = []
    for surface in placed:
        if surface.kind not in kinds:
            continue
        if surface.nosings:
            keep = (steps - 0.5) * run_of(surface)
            ends = keep, keep
            whole = len(surface.nosings) <= 2 * steps + 2
        else:
            tall = float(layout.rails[surface.index].height)
            ends = (
                tall * (0.5 if surface is placed[0] else 0.9),
                tall * (0.5 if surface is placed[-1] else 0.9),
            )
            if surface.kind == "ramp" or len(placed) == 1:
                ends = _bays(layout, surface, ends, tall)
            whole = float(surface.end.s - surface.start.s) < 1.25 * sum(ends)
        if not whole:
            found += _omit(layout, surface, *ends)
    return tuple(found)


def _bays(layout: Layout, surface: PlacedSurface, ends: tuple[float, float], tall: float) -> tuple[float, float]:
    """Level distances from both ends of a long surface that show two whole bays there and a part of the third."""
    start, end = float(surface.start.s), float(surface.end.s)
    posts = [float(p.station) for p in layout.along if surface.start.s <= p.station <= surface.end.s]
    if len(posts) <= 2 * _BAYS:
        return ends
    return max(ends[0], posts[_BAYS] - start + 0.2 * tall), max(ends[1], end - posts[-1 - _BAYS] + 0.2 * tall)


_BAYS: Final = 2


def _omit(layout: Layout, surface: PlacedSurface, before: float, after: float) -> Iterator[Omission]:
    """Leave out a surface's middle, its edges moved in where they would cut a post."""
    first, last = float(surface.start.s) + before, float(surface.end.s) - after
    half = float(layout.job.post.width) * 0.75
    for post in layout.along:
        s = float(post.station)
        if first - half < s < first + half:
            first = s + half
    for post in reversed(layout.along):
        s = float(post.station)
        if last - half < s < last + half:
            last = s - half
    if first < last:
        yield Omission(surface.index, first, last)


def _strips(layout: Layout, leaf: Leaf, left_out: tuple[Omission, ...]) -> list[Strip]:
    stations = [leaf.start]
    for gap in left_out:
        stations += (gap.first, gap.last)
    stations.append(leaf.end)
    around = leaf.around(layout)
    return [
        Strip(a, b, _heights(layout, around, a, after=True), _heights(layout, around, b, after=False))
        for a, b in zip(stations[::2], stations[1::2], strict=True)
    ]


def _heights(layout: Layout, surfaces: Sequence[PlacedSurface], station: float, *, after: bool) -> tuple[float, float]:
    """Lowest walking surface and top of rail near a station."""
    for surface in surfaces:
        rail = layout.rails[surface.index]
        if station < surface.end.s or (station == surface.end.s and not after) or surface is surfaces[-1]:
            line = datum(surface, station)
            return line - drop_under(surface), line + float(rail.height)
    raise AssertionError("every station lies on a surface")


def _slope_at(layout: Layout, station: float) -> float:
    return next(float(s.slope) for s in layout.line.surfaces if station <= s.end.s)


def _offsets(layout: Layout, strips: list[Strip], scale: float) -> list[tuple[float, float]]:
    """Shift of each strip on paper, the first at the origin of the model."""
    shifts = [(0.0, 0.0)]
    for before, after in pairwise(strips):
        slope, level = _slope_at(layout, before.last), after.first - before.last
        dx, dy = shifts[-1]
        shifts.append((dx + GAP - scale * level, dy + GAP * slope - scale * level * slope))
    return shifts


def _size(layout: Layout, leaf: Leaf, strips: list[Strip], scale: float, room: Rect) -> Rect | None:
    """Return the box the strips fill on paper, before they are moved into the panel; None if too large."""
    shifts = _offsets(layout, strips, scale)
    xs, ys = [], []
    for strip, (dx, dy) in zip(strips, shifts, strict=True):
        xs += [dx + scale * strip.first, dx + scale * strip.last]
        ys += [dy + scale * z for z in (*strip.at_first, *strip.at_last)]
        ys += _tops(layout, leaf, strip, scale, dy)
    box = Rect(min(xs), min(ys) - _BELOW, max(xs), max(ys) + _ABOVE)
    return box if box.width <= room.width and box.height <= room.height else None


def _tops(layout: Layout, leaf: Leaf, strip: Strip, scale: float, dy: float) -> list[float]:
    """Rail tops and surfaces at the ends of surfaces inside a strip."""
    found = []
    for surface in leaf.of(layout):
        rail = layout.rails[surface.index]
        for point in (surface.start, surface.end):
            if strip.first <= point.s <= strip.last:
                low, high = float(point.z), float(surface.datum(point.s) + rail.height)
                found += [dy + scale * low, dy + scale * high]
    return found


def _largest(layout: Layout, leaf: Leaf, strips: list[Strip], room: Rect) -> tuple[float, str]:
    return next(
        (scale, words)
        for scale, words in scales(layout.job.unit)
        if _size(layout, leaf, strips, scale, room) is not None
    )


def _reads(layout: Layout, leaf: Leaf, scale: float) -> bool:
    """Whether steps, guard and strands can be told apart at a scale."""
    surfaces = leaf.of(layout)
    runs = [run_of(s) for s in surfaces if s.nosings]
    rail = min(float(layout.rails[s.index].height) for s in surfaces)
    spacings = [float(f.plumb_spacing) for f in (layout.fields[s.index] for s in surfaces) if f.plumb_spacing]
    return (
        scale * min(runs, default=LEAST_RUN / scale) >= LEAST_RUN
        and scale * rail >= LEAST_RAIL
        and scale * min(spacings, default=LEAST_SPACING / scale) >= LEAST_SPACING
    )


def _place(layout: Layout, leaf: Leaf, strips: list[Strip], scale: float, words: str, room: Rect) -> View:
    box = _size(layout, leaf, strips, scale, room)
    assert box is not None  # the scale was chosen so
    spare = room.height - box.height
    right = room.left + (room.width - box.width) / 2 - box.left
    up = room.bottom + min(0.3 * spare, 18.0) - box.bottom
    windows = tuple(
        Window(strip.first, strip.last, right + dx, up + dy)
        for strip, (dx, dy) in zip(strips, _offsets(layout, strips, scale), strict=True)
    )
    return View("ELEVATION", scale, words, windows)
