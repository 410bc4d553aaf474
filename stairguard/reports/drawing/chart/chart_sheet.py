"""A chart as a record, and the sheet it is drawn on: series, limits, points called out, bands between bounds."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import isfinite
from typing import Final

from stairguard.errors import Fault, InputError
from stairguard.model.job import Unit
from stairguard.reports.drawing.chart.chart_picture import draw_chart, mark_words
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.callouts import CAPS, leading
from stairguard.reports.drawing.paper.scene import Line, Part, Place, Rect, Sheet, Text
from stairguard.reports.drawing.paper.single_sheet import PAPER, TitleCell, body, framed

__all__ = ["MOST_LINES", "Band", "Chart", "Level", "Mark", "Series", "chart_sheet"]

MOST_LINES: Final = 12
"""Series, levels and bands on one chart: of more, no reader tells which is which."""

_LARGEST: Final = 1e300
_MOST_NOTES: Final = 0.4


@dataclass(frozen=True, slots=True)
class Series:
    """A line through points, in order; ``dashed`` as its kind is told apart from others, such as the lower bounds."""

    name: str
    x: tuple[float, ...]
    y: tuple[float, ...]
    dashed: bool = False


@dataclass(frozen=True, slots=True)
class Level:
    """A level limit, such as a force to hold or a breaking force."""

    name: str
    value: float


@dataclass(frozen=True, slots=True)
class Mark:
    """A point called out with its value."""

    name: str
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Band:
    """What lies between two bounds, shaded; not named where ``name`` is empty."""

    name: str
    x: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Chart:
    """What a chart shows.

    ``x_name`` and ``y_name`` say what is counted and in which unit, in words: "push, lbf". ``x_unit`` and ``y_unit``
    are written behind single values, as they are.
    """

    title: str
    x_name: str
    y_name: str
    series: tuple[Series, ...] = ()
    levels: tuple[Level, ...] = ()
    marks: tuple[Mark, ...] = ()
    bands: tuple[Band, ...] = ()
    notes: tuple[str, ...] = ()
    x_unit: str = ""
    y_unit: str = ""

    def __post_init__(self) -> None:
        faults = [*_faults(self)]
        if faults:
            raise InputError(*faults)


def _faults(chart: Chart) -> Iterator[Fault]:
    where = f"chart {chart.title!r}"
    count = len(chart.series) + len(chart.levels) + len(chart.bands)
    if count > MOST_LINES:
        yield Fault(where, f"{MOST_LINES} series, levels and bands at most", count)
    for series in chart.series:
        yield from _row_faults(f"{where}, series {series.name!r}", series.x, series.y)
    for band in chart.bands:
        yield from _row_faults(f"{where}, band {band.name!r}", band.x, band.low, band.high)
    for level in chart.levels:
        yield from _row_faults(f"{where}, level {level.name!r}", (level.value,))
    for mark in chart.marks:
        yield from _row_faults(f"{where}, mark {mark.name!r}", (mark.x,), (mark.y,))


def _row_faults(where: str, *rows: Sequence[float]) -> Iterator[Fault]:
    lengths = {len(row) for row in rows}
    if len(lengths) > 1:
        yield Fault(where, "as many values along one axis as along the other", " and ".join(map(str, sorted(lengths))))
    for row in rows:
        bad = next((v for v in row if not (isfinite(v) and abs(v) <= _LARGEST)), None)
        if bad is not None:
            yield Fault(where, f"a number of no more than {_LARGEST:g}", bad)


def chart_sheet(chart: Chart, date: str, unit: Unit = "mm") -> Sheet:
    """Draw a chart on a sheet of its own.

    Parameters
    ----------
    chart
        What is shown. Series without a value are named in the notes.
    date
        Printed in the title block as it is.
    unit
        The job's; it decides the paper.

    Notes
    -----
    Every line is named at its end; words cover no line and no other words. A level so far from all else that it would
    flatten the chart is named at the chart's edge without being drawn. Marks whose words find no room are told in the
    notes. Dashes, not colours, tell series apart.
    """
    frame, whole = framed(unit, "CHART", chart.title, (TitleCell("DATE", (date,), 0.12),)), body(unit)
    empty = [f"{series.name}: no values" for series in chart.series if not series.x]
    notes = (*chart.notes, *empty)
    words, room = _notes(notes, whole)
    parts, left = draw_chart(chart, room)
    if left:
        notes = (*notes, *(f"Not named on the chart: {': '.join(mark_words(mark, chart))}" for mark in left))
        words, room = _notes(notes, whole)
        unnamed = tuple(replace(mark, name="") if mark in left else mark for mark in chart.marks)
        parts, _ = draw_chart(replace(chart, marks=unnamed), room)
    wide, tall = PAPER[unit]
    return Sheet("chart", wide, tall, "", (*frame, *parts, *words))


def _notes(notes: Sequence[str], room: Rect) -> tuple[tuple[Part, ...], Rect]:
    """Set notes along the foot of a room, as large as they fit; return what is left over them too."""
    wide, most = room.width - 8, _MOST_NOTES * room.height
    said = [clean for note in notes if (clean := metrics.clean(note))]
    if not said:
        return (), room
    for cap in CAPS:
        lines = [line for note in said for line in metrics.wrap(note, cap, wide)]
        if len(lines) * leading(cap) <= most:
            break
    fit = int(most / leading(cap))
    if len(lines) > fit:
        more = metrics.shorten(lines[fit - 1], cap, wide - metrics.width(" …", cap))
        lines = [*lines[: fit - 1], f"{more} …"]
    top = room.bottom + len(lines) * leading(cap) + 3.0
    parts: list[Part] = [Line("thin", (Place(room.left, top), Place(room.right, top)), "notes")]
    for k, line in enumerate(lines):
        at = Place(room.left + 4, top - 1.5 - metrics.ASCENT * cap - k * leading(cap))
        parts.append(Text(line, at, cap, what="note"))
    return tuple(parts), Rect(room.left, top, room.right, room.top)
