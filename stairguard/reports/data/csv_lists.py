"""Cut list and hole list as rows for a spreadsheet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from typing import Final, TypeAlias

from stairguard.geometry.marks import tape_text, to_mark
from stairguard.geometry.slope import pitch_deg
from stairguard.model.guard.pieces import EndCut, PostCut, RailCut
from stairguard.model.guard.placed_posts import Hole, PlacedPost
from stairguard.model.guard.solved_layout import CheckedLayout, Layout
from stairguard.model.job import Job
from stairguard.reports.data.csv_text import spreadsheet
from stairguard.reports.page.guard.hole_faces import FACES, Side, face_askews, face_heights, face_slopes, side_of

__all__ = ["cuts_csv", "holes_csv"]

_Cell: TypeAlias = str | int | float

_CUT_HEAD: Final = (
    "part label count length_{unit} length_marked long_{unit} short_{unit} "
    "start_cut start_deg end_cut end_deg for "
    "start_long_point end_long_point underside_{unit} section "
    "top_before_deg top_break_{unit} top_break_marked top_after_deg "
    "edge_before_{unit} edge_after_{unit} edge_before_marked edge_after_marked "
    "start_tilt_deg end_tilt_deg marked_{unit}"
)
_HOLE_HEAD: Final = (
    "post role station_{unit} strand height_{unit} marked_{unit} marked low_face_{unit} high_face_{unit} drill_deg "
    "surfaces side before_face_{unit} after_face_{unit} face_marked_{unit} face_marked before_deg after_deg "
    "support broken before_bears_on after_bears_on before_askew_deg after_askew_deg"
)
_OF_HOLE: Final = 6  # figures before the surfaces' column
_NO_RAIL: Final = ("",) * 4
_NO_TOP: Final = ("",) * 8
_NO_TILT: Final = ("",) * 2


def cuts_csv(checked: CheckedLayout) -> str:
    """Give the cut list as CSV: a row for every group of equal pieces, sleeves too, and for every kind of fitting.

    Lengths are numbers in the job's unit at full precision, and again as tape marks. ``long`` and ``short`` are a
    rail's lengths from long point to long point and from short point to short point, and a post's edges. ``marked`` is
    the length each piece counts by in totals and stock: its longest, at its tape mark. Angles
    are degrees: a rail's from square, a post's top from level and positive where it rises as stations increase. A
    plan mitre or compound cut of a rail is told laid flat: mitre across its top, and the blade's tilt in ``start_tilt``
    and ``end_tilt``; its long point is outside the turn, left or right as stations increase.
    A top of two bevels has none in ``end_deg``: ``top_before_deg`` holds as far as ``top_break`` past the centre
    line, along stations, and ``top_after_deg`` beyond it. The last column repeats the job's title, so that a list
    on its own says what it belongs to.
    """
    return _csv(_CUT_HEAD, _cut_rows(checked.layout), checked.layout.job)


def holes_csv(checked: CheckedLayout) -> str:
    """Give the hole list as CSV: a row for every hole, heights plumb above the post's base.

    ``side`` is ``whole``, or the face at which the strand ends: ``before`` or ``after`` the post's centre, along
    stations. A strand that bears there is marked on that face alone, at ``face_marked``. Drill angles are from level,
    positive where the strand rises as stations increase; ``drill_deg`` is the steeper of ``before`` and ``after``. The
    holes of a wall or newel (``support``) are anchors. ``broken`` is ``yes`` where one run ends and the next begins.
    ``bears_on`` is what the end of a run bears on that comes to the post from before, and that of one that leaves it.
    ``before_askew_deg`` and ``after_askew_deg`` are in plan, from square to the faces before and after.
    """
    return _csv(_HOLE_HEAD, _hole_rows(checked.layout), checked.layout.job)


def _hole_rows(layout: Layout) -> Iterator[list[_Cell]]:
    """Rows of every post; the figures of posts cut alike are worked once."""
    cuts = {label: cut.label for cut in layout.cuts.posts for label in cut.posts}
    known: dict[tuple[str, int, Side], list[_Cell]] = {}
    for post in layout.posts:
        for place, hole in enumerate(post.holes):
            key = cuts.get(post.label, post.label), place, side_of(layout, post, hole)
            figures = known.get(key)
            if figures is None:
                figures = known[key] = _hole_figures(layout, post, hole)
            yield [
                *(post.label, post.role, float(post.station), hole.strand, *figures[:_OF_HOLE]),
                *(_counted(hole.surfaces), *figures[_OF_HOLE:], post.support, "yes" if hole.broken else ""),
                *(face or "" for face in hole.bears),
                *face_askews(layout, post, hole),
            ]


def _hole_figures(layout: Layout, post: PlacedPost, hole: Hole) -> list[_Cell]:
    """All of a hole's row that does not tell one post from others cut alike."""
    job, side, faces = layout.job, side_of(layout, post, hole), face_heights(layout, post, hole)
    ended = None if len(faces) > 1 else faces[side]
    return [
        float(hole.height),
        float(hole.marked),
        tape_text(hole.marked, job.unit, job.mark),
        float(hole.low_face),
        float(hole.high_face),
        hole.drill_deg,
        side,
        *(float(faces[face]) if face in faces else "" for face in FACES),
        "" if ended is None else float(to_mark(ended, job.mark)),
        "" if ended is None else tape_text(ended, job.unit, job.mark),
        *(pitch_deg(slope) for slope in face_slopes(layout, post, hole)),
    ]


def _cut_rows(layout: Layout) -> Iterator[Sequence[_Cell]]:
    for rail in layout.cuts.rails:
        yield _rail_row(layout, rail)
    posts = {post.label: post for post in layout.posts}
    for cut in layout.cuts.posts:
        yield _post_row(layout.job, cut, posts[cut.posts[0]])
    for part, cuts in (("strand", layout.cuts.strands), ("sleeve", layout.cuts.sleeves)):
        for strand in cuts:
            sizes = _sizes(layout.job, strand.length, strand.length, strand.length)
            ends = ["", "", "", "", " ".join(strand.strands)]
            yield [
                *(part, strand.label, strand.count, *sizes, *ends, *_NO_RAIL, *_NO_TOP, *_NO_TILT),
                float(strand.marked),
            ]
    for fitting in layout.cuts.fittings:
        nothing = [""] * 9
        yield ["fitting", fitting.kind, fitting.count, *nothing, *_NO_RAIL, *_NO_TOP, *_NO_TILT, ""]


def _rail_row(layout: Layout, rail: RailCut) -> list[_Cell]:
    job = layout.job
    section = " x ".join(tape_text(size, job.unit, job.mark) for size in (job.rail.depth, job.rail.width))
    shortest = rail.length + rail.underside - rail.longest  # an end lengthens either the top or the underside
    return [
        *("rail", rail.label, rail.count),
        *_sizes(job, rail.length, rail.longest, shortest),
        *(*_end(rail.start_cut), *_end(rail.end_cut)),
        f"surface{'s' if len(rail.surfaces) > 1 else ''} {_counted(rail.surfaces)}",
        *(_long_point(rail.start_cut), _long_point(rail.end_cut), rail.underside, section),
        *_NO_TOP,
        *(rail.start_cut.tilt_deg, rail.end_cut.tilt_deg, float(rail.marked)),
    ]


def _post_row(job: Job, cut: PostCut, post: PlacedPost) -> list[_Cell]:
    before, after = cut.bevels_deg
    top: list[_Cell] = ["bevel" if before else "square", before]
    turn: list[_Cell] = ["", ""]
    if before != after:
        top = ["two bevels", ""]
        turn = [float(post.bevel_break), tape_text(post.bevel_break, job.unit, job.mark)]
    return [
        *("post", cut.label, cut.count),
        *_sizes(job, cut.length, cut.long_edge, cut.short_edge),
        *("square", 0.0, *top, " ".join(cut.posts)),
        *_NO_RAIL,
        *(before, *turn, after),
        *(float(edge) for edge in post.edges),
        *(tape_text(edge, job.unit, job.mark) for edge in post.edges),
        *_NO_TILT,
        float(cut.marked),
    ]


def _sizes(job: Job, length: Fraction | float, long: Fraction | float, short: Fraction | float) -> list[_Cell]:
    return [float(length), tape_text(Fraction(length), job.unit, job.mark), float(long), float(short)]


def _long_point(cut: EndCut) -> str:
    return " ".join(word for word in (cut.long_point, cut.side, cut.edge) if word)


def _end(cut: EndCut) -> list[_Cell]:
    return [cut.kind, cut.angle_deg]


def _counted(surfaces: Iterable[int]) -> str:
    return " ".join(str(surface + 1) for surface in surfaces)  # people count from 1


def _csv(head: str, rows: Iterable[Sequence[_Cell]], job: Job) -> str:
    return spreadsheet([*head.format(unit=job.unit).split(), "job"], ((*row, job.title) for row in rows))
