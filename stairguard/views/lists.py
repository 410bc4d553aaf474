"""Cut list and hole list as rows for a spreadsheet."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from typing import Final, TypeAlias

from stairguard.geometry.marks import tape_text, to_mark
from stairguard.model.guard import CheckedLayout, EndCut, Hole, Layout, PlacedPost, PostCut, RailCut
from stairguard.model.job import Job
from stairguard.views.metrics import clean
from stairguard.views.sides import FACES, face_heights, side_of

__all__ = ["cuts_csv", "holes_csv"]

_Cell: TypeAlias = str | int | float

_FORMULA_STARTS: Final = ("=", "+", "-", "@")
_CUT_HEAD: Final = (
    "part label count length_{unit} length_marked long_{unit} short_{unit} "
    "start_cut start_deg end_cut end_deg for "
    "start_long_point end_long_point underside_{unit} section "
    "top_before_deg top_break_{unit} top_break_marked top_after_deg "
    "edge_before_{unit} edge_after_{unit} edge_before_marked edge_after_marked"
)
_HOLE_HEAD: Final = (
    "post role station_{unit} strand height_{unit} marked_{unit} marked low_face_{unit} high_face_{unit} drill_deg "
    "surfaces side before_face_{unit} after_face_{unit} face_marked_{unit} face_marked before_deg after_deg"
)
_NO_RAIL: Final = ("",) * 4
_NO_TOP: Final = ("",) * 8


def cuts_csv(checked: CheckedLayout) -> str:
    """Give the cut list as CSV: a row for every group of equal pieces.

    Lengths are numbers in the job's unit at full precision, and again as tape marks. ``long`` and ``short`` are a
    rail's lengths from long point to long point and from short point to short point, and a post's edges. Angles
    are degrees: a rail's from square, a post's top from level and positive where it rises as stations increase.
    A top of two bevels has none in ``end_deg``: ``top_before_deg`` holds as far as ``top_break`` past the centre
    line, along stations, and ``top_after_deg`` beyond it. The last column repeats the job's title, so that a list
    on its own says what it belongs to.
    """
    return _csv(_CUT_HEAD, _cut_rows(checked.layout), checked.layout.job)


def holes_csv(checked: CheckedLayout) -> str:
    """Give the hole list as CSV: a row for every hole, heights plumb above the post's base.

    ``side`` is ``whole``, or the face at which the strand ends: ``before`` or ``after`` the post's centre, along
    stations. A strand that ends is marked on that face alone, at ``face_marked``. Drill angles are from level;
    ``before_deg`` and ``after_deg`` are positive where the strand rises as stations increase.
    """
    layout = checked.layout
    rows = (_hole_row(layout, post, hole) for post in layout.posts for hole in post.holes)
    return _csv(_HOLE_HEAD, rows, layout.job)


def _hole_row(layout: Layout, post: PlacedPost, hole: Hole) -> list[_Cell]:
    job, side, faces = layout.job, side_of(layout, post, hole), face_heights(layout, post, hole)
    ended = None if side == "whole" else faces[side]
    return [
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
        _counted(hole.surfaces),
        side,
        *(float(faces[face]) if face in faces else "" for face in FACES),
        "" if ended is None else float(to_mark(ended, job.mark)),
        "" if ended is None else tape_text(ended, job.unit, job.mark),
        hole.before_deg,
        hole.after_deg,
    ]


def _cut_rows(layout: Layout) -> Iterator[Sequence[_Cell]]:
    for rail in layout.cuts.rails:
        yield _rail_row(layout, rail)
    for post in layout.cuts.posts:
        yield _post_row(layout, post)
    for strand in layout.cuts.strands:
        sizes = _sizes(layout.job, strand.length, strand.length, strand.length)
        ends = ["", "", "", "", " ".join(strand.strands)]
        yield ["strand", strand.label, strand.count, *sizes, *ends, *_NO_RAIL, *_NO_TOP]


def _rail_row(layout: Layout, rail: RailCut) -> list[_Cell]:
    job = layout.job
    section = " x ".join(tape_text(size, job.unit, job.mark) for size in (job.rail.depth, job.rail.width))
    shortest = rail.length + rail.underside - rail.longest  # an end lengthens either the top or the underside
    return [
        *("rail", rail.label, rail.count),
        *_sizes(job, rail.length, rail.longest, shortest),
        *(*_end(rail.start_cut), *_end(rail.end_cut)),
        f"surface{'s' if len(rail.surfaces) > 1 else ''} {_counted(rail.surfaces)}",
        *(rail.start_cut.long_point, rail.end_cut.long_point, rail.underside, section),
        *_NO_TOP,
    ]


def _post_row(layout: Layout, cut: PostCut) -> list[_Cell]:
    job = layout.job
    post = next(post for post in layout.posts if post.label == cut.posts[0])
    before, after = cut.bevels_deg
    top: list[_Cell] = ["two bevels", ""] if post.bevel_break else ["bevel" if before else "square", before]
    turn: list[_Cell] = ["", ""]
    if post.bevel_break:
        turn = [float(post.bevel_break), tape_text(post.bevel_break, job.unit, job.mark)]
    return [
        *("post", cut.label, cut.count),
        *_sizes(job, cut.length, cut.long_edge, cut.short_edge),
        *("square", 0.0, *top, " ".join(cut.posts)),
        *_NO_RAIL,
        *(before, *turn, after),
        *(float(edge) for edge in post.edges),
        *(tape_text(edge, job.unit, job.mark) for edge in post.edges),
    ]


def _sizes(job: Job, length: Fraction | float, long: Fraction | float, short: Fraction | float) -> list[_Cell]:
    return [float(length), tape_text(Fraction(length), job.unit, job.mark), float(long), float(short)]


def _end(cut: EndCut) -> list[_Cell]:
    return [cut.kind, cut.angle_deg]


def _counted(surfaces: Iterable[int]) -> str:
    return " ".join(str(surface + 1) for surface in surfaces)  # people count from 1


def _csv(head: str, rows: Iterable[Sequence[_Cell]], job: Job) -> str:
    out = io.StringIO()
    lines = csv.writer(out, lineterminator="\n")
    lines.writerow([*head.format(unit=job.unit).split(), "job"])
    lines.writerows([_safe(cell) for cell in (*row, job.title)] for row in rows)
    return out.getvalue()


def _safe(cell: _Cell) -> _Cell:
    """Keep a spreadsheet from taking text for a formula: an apostrophe before what could start one."""
    if not isinstance(cell, str):
        return cell
    line = clean(cell)
    return f"'{line}" if line.startswith(_FORMULA_STARTS) else line
