"""Cut list and hole list as rows for a spreadsheet."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from typing import Final, TypeAlias

from stairguard.geometry.marks import tape_text
from stairguard.model.guard import CheckedLayout, EndCut
from stairguard.views.metrics import clean
from stairguard.views.result import top_bevel

__all__ = ["cuts_csv", "holes_csv"]

_Cell: TypeAlias = str | int | float

_FORMULA_STARTS: Final = ("=", "+", "-", "@")


def cuts_csv(checked: CheckedLayout) -> str:
    """Give the cut list as CSV: a row for every group of equal pieces.

    Lengths are numbers in the job's unit at full precision, and again as tape marks. The last column
    repeats the job's title, so that a list on its own says what it belongs to.
    """
    unit = checked.layout.job.unit
    head = ["part", "label", "count", f"length_{unit}", "length_marked", f"long_{unit}", f"short_{unit}"]
    ends = ["start_cut", "start_deg", "end_cut", "end_deg", "for"]
    return _csv(head + ends, _cut_rows(checked), checked.layout.job.title)


def holes_csv(checked: CheckedLayout) -> str:
    """Give the hole list as CSV: a row for every hole, heights plumb above the post's base."""
    job = checked.layout.job
    head = ["post", "role", f"station_{job.unit}", "strand", f"height_{job.unit}", f"marked_{job.unit}"]
    rest = ["marked", f"low_face_{job.unit}", f"high_face_{job.unit}", "drill_deg"]
    rows: Iterator[Sequence[_Cell]] = (
        [
            post.label,
            post.role,
            float(post.station),
            hole.strand,
            float(hole.height),
            float(hole.marked),
            tape_text(hole.marked, job.unit, job.mark),
            float(hole.low_face),
            float(hole.high_face),
            hole.drill_deg,
        ]
        for post in checked.layout.posts
        for hole in post.holes
    )
    return _csv(head + rest, rows, job.title)


def _cut_rows(checked: CheckedLayout) -> Iterator[Sequence[_Cell]]:
    cuts, job = checked.layout.cuts, checked.layout.job

    def sizes(length: Fraction | float, long: Fraction | float, short: Fraction | float) -> list[_Cell]:
        return [float(length), tape_text(Fraction(length), job.unit, job.mark), float(long), float(short)]

    for rail in cuts.rails:
        surfaces = " ".join(str(surface + 1) for surface in rail.surfaces)  # people count from 1
        short = min(rail.length, rail.underside)
        ends = [*_end(rail.start_cut), *_end(rail.end_cut), f"surfaces {surfaces}"]
        yield ["rail", rail.label, rail.count, *sizes(rail.length, rail.longest, short), *ends]
    for post in cuts.posts:
        sized = sizes(post.length, post.long_edge, post.short_edge)
        ends = ["square", 0.0, "bevel", top_bevel(post.bevels_deg), " ".join(post.posts)]
        yield ["post", post.label, post.count, *sized, *ends]
    for strand in cuts.strands:
        sized = sizes(strand.length, strand.length, strand.length)
        yield ["strand", strand.label, strand.count, *sized, "", "", "", "", " ".join(strand.strands)]


def _end(cut: EndCut) -> list[_Cell]:
    return [cut.kind, cut.angle_deg]


def _csv(head: Sequence[str], rows: Iterable[Sequence[_Cell]], title: str) -> str:
    out = io.StringIO()
    lines = csv.writer(out, lineterminator="\n")
    lines.writerow([*head, "job"])
    lines.writerows([_safe(cell) for cell in (*row, title)] for row in rows)
    return out.getvalue()


def _safe(cell: _Cell) -> _Cell:
    """Keep a spreadsheet from taking text for a formula: an apostrophe before what could start one."""
    if not isinstance(cell, str):
        return cell
    line = clean(cell)
    return f"'{line}" if line.startswith(_FORMULA_STARTS) else line
