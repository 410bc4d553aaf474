"""A chart as a record: series, limits, points called out, bands between bounds."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import isfinite
from typing import Final

from stairguard.errors import Fault, InputError
from stairguard.reports.words.lengths import stated

MOST_LINES: Final = 12
"""Series, levels and bands on one chart: of more, no reader tells which is which."""

_LARGEST: Final = 1e300


@dataclass(frozen=True, slots=True)
class Curve:
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
class ChartMark:
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Chart:
    """What a chart shows.

    ``x_name`` and ``y_name`` say what is counted and in which unit, in words: "push, lbf". ``x_unit`` and ``y_unit``
    are written behind single values, as they are.
    """

    title: str
    x_name: str
    y_name: str
    series: tuple[Curve, ...] = ()
    levels: tuple[Level, ...] = ()
    marks: tuple[ChartMark, ...] = ()
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
            yield Fault(where, f"a number of no more than {stated(_LARGEST)}", bad)
