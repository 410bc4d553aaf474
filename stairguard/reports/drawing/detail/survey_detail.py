"""The straightedge on a measured flight: each nosing's gap under it, enlarged, with rises, runs and rail heights."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import chain, pairwise
from typing import Final

from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.straight import StraightRail
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Unit
from stairguard.model.published.known_figure import MM_PER_UNIT
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.drafting import CAP, LEADING, span
from stairguard.reports.drawing.paper.scene import ACCENT, INK, Circle, Line, Part, Place, Rect, Text
from stairguard.reports.words.lengths import Formatter, gap_words
from stairguard.reports.words.sheet_words import enlarged_words, straightedge_scale, straightedge_title

_SERIES: Final = (100, 50, 20, 10, 5, 2, 1)
_DEEP: Final = 18.0
"""Depth of paper under the straightedge for the widest gap, millimetres."""

_HEAD: Final = 44.0
_LEAST_PITCH: Final = 21.0
_TITLE: Final = 8.0
_ROWS: Final = ("nosing", "gap, plumb", "rail over it, plumb", "rise below it, plumb", "run to the next, level")
_TALL: Final = _TITLE + LEADING + _DEEP + 9.0 + len(_ROWS) * LEADING + 7.0
"""Height of paper a stretch of nosings takes, millimetres."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Nosing:
    """One nosing as it is shown: number, station, gap and words of its column; ``blocks`` if no rail can suit it."""

    number: int
    station: Fraction
    gap: Fraction
    rail: str
    rise: str
    blocks: bool


def survey_sheets(layout: Layout, fmt: Formatter, body: Rect) -> list[tuple[Part, ...]]:
    """Draw the straightedge of every measured flight, on as many sheets as it takes.

    Parameters
    ----------
    layout
        The solved guard.
    fmt
        Writes a length as a tape shows it.
    body
        Room on a sheet, millimetres.

    Returns
    -------
    list
        Parts of every sheet; empty where no flight is measured.

    Notes
    -----
    Nosings stand in order of stations, as on the elevation, numbered from the lower landing up.
    """
    pad = 6.0
    room = body.inset(pad)
    most = max(2, int((room.width - _HEAD) / _LEAST_PITCH))
    sheets: list[list[Part]] = []
    top = room.bottom
    for straight in layout.straight:
        surface = layout.line.surfaces[straight.surface]
        nosings = _nosings(surface, straight, fmt)
        for first in range(0, len(nosings) - 1, most - 1):
            shown = nosings[first : first + most]
            if top - _TALL < room.bottom:
                sheets.append([])
                top = room.top
            strip = Rect(room.left, top - _TALL, room.right, top)
            sheets[-1] += _strip(layout, surface, nosings, shown, strip, fmt)
            top -= _TALL
    return [tuple(parts) for parts in sheets]


def gap_scale(widest: Fraction, unit: Unit) -> tuple[Fraction, str]:
    """Scale at which gaps are drawn, of full size, and how it is said: as large as the paper holds."""
    for k in chain(map(Fraction, _SERIES), _smaller()):
        if float(k * widest) * float(MM_PER_UNIT[unit]) <= _DEEP:
            return k, enlarged_words(k)
    raise AssertionError("the series has no end")


def _smaller() -> Iterator[Fraction]:
    """1:2, 1:5, 1:10 and so on."""
    ten = 1
    while True:
        yield from (Fraction(1, ten * part) for part in (2, 5, 10))
        ten *= 10


def _nosings(surface: PlacedSurface, straight: StraightRail, fmt: Formatter) -> list[_Nosing]:
    steps, blocking = straight.steps, straight.required.blocking
    count, up = len(surface.nosings), surface.slope > 0
    found = []
    for place, point in enumerate(surface.nosings):
        above = place if up else count - 1 - place  # nosings below this one
        rail, rise = fmt(steps.tops[above]), fmt(steps.rises[above])
        found.append(
            _Nosing(
                number=above + 1, station=point.s, gap=steps.gaps[above], rail=rail, rise=rise, blocks=place in blocking
            )
        )
    return found


def _strip(
    layout: Layout, surface: PlacedSurface, every: Sequence[_Nosing], shown: Sequence[_Nosing], room: Rect,
    fmt: Formatter,
) -> Iterator[Part]:  # fmt: skip
    """One stretch of nosings: the straightedge level, stems down to the nosings, a table under them."""
    unit = layout.job.unit
    times, said = gap_scale(max(n.gap for n in every), unit)
    yield from _titles(surface, shown, every, said, room)
    edge = room.top - _TITLE - LEADING - 4.0
    scale = float(times) * float(MM_PER_UNIT[unit])
    xs = _places(shown, room)
    yield Line("outline", (Place(xs[0] - 8, edge), Place(xs[-1] + 8, edge)), "straightedge")
    down = edge - _DEEP - 3.0
    for nosing, x in zip(shown, xs, strict=True):
        at = Place(x, edge - scale * float(nosing.gap))
        ink = ACCENT if nosing.blocks else INK
        if nosing.gap:
            yield from span(Place(x, edge), at, f"gap at nosing {nosing.number}")
        yield Circle(at, 0.8, None, ink, f"nosing {nosing.number}, {nosing.gap} under the straightedge")
        yield Line("fine", (Place(x, min(at.y - 1.5, down + 1.0)), Place(x, down - 1.0)), f"nosing {nosing.number}")
    yield from _table(shown, xs, down - 2.0, room, layout, fmt)


def _places(shown: Sequence[_Nosing], room: Rect) -> list[float]:
    """Where nosings stand across the strip: evenly, since words need the room that runs, all but equal, do."""
    left = room.left + _HEAD + _LEAST_PITCH / 2
    pitch = min((room.right - _LEAST_PITCH / 2 - left) / max(len(shown) - 1, 1), 2 * _LEAST_PITCH)
    return [left + i * pitch for i in range(len(shown))]


def _titles(
    surface: PlacedSurface, shown: Sequence[_Nosing], every: Sequence[_Nosing], size: str, room: Rect
) -> Iterator[Text]:
    part = None if len(shown) == len(every) else (shown[0].number, shown[-1].number)
    title = straightedge_title(surface, part)
    y = room.top - metrics.ASCENT * CAP
    yield Text(title, Place(room.left, y), CAP, what="view title")
    said = straightedge_scale(size, blocking=any(n.blocks for n in every))
    yield Text(said, Place(room.left, y - LEADING), CAP, what="view scale")


def _table(
    shown: Sequence[_Nosing], xs: Sequence[float], top: float, room: Rect, layout: Layout, fmt: Formatter
) -> Iterator[Text]:
    columns = [(str(n.number), gap_words(n.gap, layout.job, fmt), n.rail, n.rise) for n in shown]
    for row, name in enumerate(_ROWS):
        y = top - (row + 1) * LEADING
        yield Text(name, Place(room.left, y), CAP, what="survey")
        if row < len(_ROWS) - 1:
            for nosing, column, x in zip(shown, columns, xs, strict=True):
                what = f"{name} of nosing {nosing.number}"
                yield Text(column[row], Place(x, y), CAP, "middle", ink=ACCENT if nosing.blocks else INK, what=what)
            continue
        for (one, other), (a, b) in zip(pairwise(shown), pairwise(xs), strict=True):
            words = fmt(other.station - one.station)
            yield Text(words, Place((a + b) / 2, y), CAP, "middle", what=f"run from nosing {one.number}")
