"""The picture of a chart in a room on paper: axes, shaded bands, series, levels, points called out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain
from typing import Final

from stairguard.reports.drawing.chart.chart_ends import GAP, End, draw_names, names
from stairguard.reports.drawing.chart.chart_lines import strokes
from stairguard.reports.drawing.chart.chart_record import Chart, ChartMark, Level
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.callouts import LARGE, Callout, leading, place_callouts
from stairguard.reports.drawing.paper.lettering import Panel
from stairguard.reports.drawing.paper.scene import ACCENT, GREY, INK, Circle, Line, Part, Place, Polygon, Rect, Text
from stairguard.reports.drawing.paper.ticks import Axis, axis, reach
from stairguard.reports.words.lengths import charted
from stairguard.reports.words.one_line import clean

_PAD: Final = 4.0
_SHADE: Final = "#e4e4e4"
_DOT: Final = 0.9
_ROW: Final = 15.0
"""Least distance between two marks of the upright axis, millimetres."""
_SPARE: Final = 5.0
"""Least distance between two numbers on the level axis, millimetres."""
_CLEAR: Final = 3.6
"""Over and under the chart, so that the upright axis' end numbers clear what is written there, millimetres."""
_COLUMN: Final = 0.25
_CALLOUT: Final = 0.42
"""Widest column of names, and widest words in the chart, of its room's width."""
_FLAT: Final = 0.25
"""A level is left out where it would press all else into less than this part of the height."""


@dataclass(frozen=True, slots=True)
class _Plot:
    """A chart's axes on paper."""

    rect: Rect
    x: Axis
    y: Axis

    def at(self, x: float | None, y: float) -> Place:
        """Where a point is drawn: without ``x`` at the right edge; one that lies too high or low, at the edge there."""
        r = self.rect
        across = r.right if x is None else r.left + self.x.share(x) * r.width
        return Place(across, r.bottom + min(max(self.y.share(y), 0.0), 1.0) * r.height)

    def line(self, xs: Sequence[float], ys: Sequence[float]) -> tuple[Place, ...]:
        return tuple(self.at(x, y) for x, y in zip(xs, ys, strict=True))


def draw_chart(chart: Chart, room: Rect) -> tuple[tuple[Part, ...], tuple[ChartMark, ...]]:
    """Draw a chart; return what is drawn, and the marks whose words found no room."""
    shown = _levels(chart)
    inner = room.inset(_PAD)
    row = leading(LARGE)
    top, bottom = inner.top - row - _CLEAR, inner.bottom + 2 * row + _CLEAR
    ends = [*_ends(chart, shown)]
    named = names([end for end, *_ in ends], _COLUMN * room.width, top - bottom)
    upright = axis([*_heights(chart), *(level.value for level in shown)], max(2, int((top - bottom) / _ROW)))
    left = inner.left + max(metrics.width(label, LARGE) for label in upright.labels) + 2.5
    right = inner.right - (named.width + GAP if named.width else 0.0)
    first, *_, last = (metrics.width(label, LARGE) / 2 for label in _level_axis(chart, right - left).labels)
    left, right = max(left, inner.left + first), min(right, inner.right - last)
    plot = _Plot(Rect(left, bottom, right, top), _level_axis(chart, right - left), upright)
    lines = [*_bands(chart, plot), *_axes(chart, plot, inner), *_drawn_levels(shown, plot), *_series(chart, plot)]
    dots = [Circle(plot.at(mark.x, mark.y), _DOT, None, ACCENT, f"mark {mark.name}") for mark in chart.marks]
    column = Rect(right + GAP, bottom, inner.right, top)
    joined = [*draw_names([(end, plot.at(x, y)) for end, x, y in ends], named, column, right)]
    panel = _panel(chart, shown, plot, joined, dots)
    wanted = {mark: _callout(mark, chart, plot) for mark in chart.marks if mark.name}
    words, left_out = place_callouts(panel, [*wanted.values()])
    return (*lines, *joined, *dots, *words), tuple(mark for mark, said in wanted.items() if said in left_out)


def mark_words(mark: ChartMark, chart: Chart) -> tuple[str, str]:
    """Name a point called out, and write where it lies, each number with its unit."""
    x, y = (f"{charted(value)} {unit}".rstrip() for value, unit in ((mark.x, chart.x_unit), (mark.y, chart.y_unit)))
    return mark.name, f"{y} at {x}"


def _heights(chart: Chart) -> list[float]:
    """Return everything's height but the levels'."""
    rows = [*(s.y for s in chart.series), *chain.from_iterable((b.low, b.high) for b in chart.bands)]
    return [*chain.from_iterable(rows), *(mark.y for mark in chart.marks)]


def _levels(chart: Chart) -> tuple[Level, ...]:
    """Return the levels that are drawn: those not too far from all else."""
    heights = _heights(chart)
    if not heights:
        return chart.levels
    low, high = first, last = reach(heights)
    shown = []
    for level in sorted(chart.levels, key=lambda level: max(first - level.value, level.value - last)):
        below, above = min(low, level.value), max(high, level.value)
        if last - first >= _FLAT * (above - below):
            low, high = below, above
            shown.append(level)
    return tuple(shown)


def _level_axis(chart: Chart, wide: float) -> Axis:
    """Return the level axis with as many marks as its numbers leave room for."""
    rows = [*(s.x for s in chart.series), *(b.x for b in chart.bands)]
    values = [*chain.from_iterable(rows), *(mark.x for mark in chart.marks)]
    for most in range(12, 2, -1):
        found = axis(values, most)
        widest = max(metrics.width(label, LARGE) for label in found.labels)
        if (widest + _SPARE) * (len(found.ticks) - 1) <= wide:
            return found
    return axis(values, 2)


def _ends(chart: Chart, shown: Sequence[Level]) -> Iterator[tuple[End, float | None, float]]:
    """Return what is named at the right, and the point it ends at; None where that is the chart's edge."""
    for series in chart.series:
        if series.x and series.name:
            yield End(series.name, f"series {series.name}"), series.x[-1], series.y[-1]
    for band in chart.bands:
        if band.x and band.name:
            yield End(band.name, f"band {band.name}", GREY), band.x[-1], band.low[-1] / 2 + band.high[-1] / 2
    for level in chart.levels:
        words, what = _level_words(level, chart), f"level {level.name}"
        if level in shown:
            yield End(words, what, ACCENT), None, level.value
        else:
            side = "above" if level.value > max(_heights(chart)) else "below"
            yield End(f"{words}, {side} what is drawn", what, ACCENT, joined=False), None, level.value


def _level_words(level: Level, chart: Chart) -> str:
    return f"{level.name}: {charted(level.value)} {chart.y_unit}".rstrip()


def _axes(chart: Chart, plot: _Plot, inner: Rect) -> Iterator[Line | Text]:
    """Draw round numbers and the lines through them, and what is counted along each axis."""
    r, row = plot.rect, leading(LARGE)
    below = r.bottom - _CLEAR - metrics.ASCENT * LARGE
    for share, label in _marked(plot.x):
        x = r.left + share * r.width
        yield Line("fine", (Place(x, r.bottom - 1.2), Place(x, r.top)), "grid")
        yield Text(label, Place(x, below), LARGE, "middle", what="level axis")
    for share, label in _marked(plot.y):
        y = r.bottom + share * r.height
        yield Line("fine", (Place(r.left - 1.2, y), Place(r.right, y)), "grid")
        yield Text(label, Place(r.left - 2.0, y - LARGE / 2), LARGE, "end", what="upright axis")
    # thin, so that dashes along it are seen: a slack strand's tension is nought
    yield Line("thin", (Place(r.left, r.top), Place(r.left, r.bottom), Place(r.right, r.bottom)), "axes")
    if plot.y.low < 0 < plot.y.high:
        y = plot.at(None, 0.0).y
        yield Line("thin", (Place(r.left, y), Place(r.right, y)), "nought")
    across = _axis_name(chart.x_name, plot.x, inner.right - r.left)
    yield Text(across, Place(r.left, below - row), LARGE, what="level axis name")
    up = _axis_name(chart.y_name, plot.y, inner.width)
    yield Text(up, Place(inner.left, inner.top - metrics.ASCENT * LARGE), LARGE, what="upright axis name")


def _marked(along: Axis) -> Iterator[tuple[float, str]]:
    for tick, label in zip(along.ticks, along.labels, strict=True):
        yield (tick - along.low) / (along.high - along.low), label


def _axis_name(name: str, along: Axis, wide: float) -> str:
    """Write what is counted, and the power of ten that its numbers leave out, which is never cut."""
    power = f", in units of 1e{along.power}" if along.power else ""
    return metrics.shorten(clean(name), LARGE, wide - metrics.width(power, LARGE)) + power


def _bands(chart: Chart, plot: _Plot) -> Iterator[Polygon]:
    for band in chart.bands:
        if len(band.x) > 1:
            points = (*plot.line(band.x, band.high), *plot.line(band.x, band.low)[::-1])
            yield Polygon(points, None, _SHADE, f"band {band.name}")


def _drawn_levels(shown: Sequence[Level], plot: _Plot) -> Iterator[Line]:
    for level in shown:
        y = plot.at(None, level.value).y
        yield Line("circle", (Place(plot.rect.left, y), Place(plot.rect.right, y)), f"level {level.name}")


def _series(chart: Chart, plot: _Plot) -> Iterator[Line | Circle]:
    for series, stroke in zip(chart.series, strokes([s.dashed for s in chart.series]), strict=True):
        points = plot.line(series.x, series.y)
        if len(set(points)) > 1:
            yield from stroke.draw(points, f"series {series.name}")
        elif points:
            yield Circle(points[0], _DOT, None, INK, f"series {series.name}")


def _panel(
    chart: Chart, shown: Sequence[Level], plot: _Plot, joined: Sequence[Line | Text], dots: Sequence[Circle]
) -> Panel:
    """Return the chart's room with all its lines: words keep off the gaps between dashes too."""
    panel = Panel(plot.rect)
    panel.draw([Line("frame", plot.line(s.x, s.y)) for s in chart.series])
    panel.draw([*_drawn_levels(shown, plot), *dots])
    panel.draw([Line("thin", part.points) for part in joined if isinstance(part, Line)])
    panel.draw([part for part in _axes(chart, plot, plot.rect) if isinstance(part, Line)])
    return panel


def _callout(mark: ChartMark, chart: Chart, plot: _Plot) -> Callout:
    wide = _CALLOUT * plot.rect.width
    said = [clean(words) for words in mark_words(mark, chart)]
    lines = tuple(line for words in said for line in metrics.wrap(words, LARGE, wide))
    return Callout(words=lines, target=plot.at(mark.x, mark.y), what=f"mark {mark.name}", ink=ACCENT, pen="radius")
