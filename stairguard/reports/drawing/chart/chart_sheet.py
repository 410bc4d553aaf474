"""A chart on a sheet of its own: its picture, and its notes at the foot."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from stairguard.model.job import Unit
from stairguard.reports.drawing.chart.chart_picture import draw_chart, mark_words
from stairguard.reports.drawing.chart.chart_record import Chart
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.callouts import CAPS, leading
from stairguard.reports.drawing.paper.scene import Line, Part, Place, Rect, Sheet, Text
from stairguard.reports.drawing.paper.single_sheet import PAPER, body, framed
from stairguard.reports.drawing.paper.title_block import TitleCell
from stairguard.reports.words.one_line import clean

_MOST_NOTES: Final = 0.4


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
    return Sheet(name="chart", width=wide, height=tall, scale_text="", parts=(*frame, *parts, *words))


def _notes(notes: Sequence[str], room: Rect) -> tuple[tuple[Part, ...], Rect]:
    """Set notes along the foot of a room, as large as they fit; return what is left over them too."""
    wide, most = room.width - 8, _MOST_NOTES * room.height
    said = [text for note in notes if (text := clean(note))]
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
