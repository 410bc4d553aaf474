"""Cut list and hole list as rows for a spreadsheet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from typing import Final, TypeAlias

from stairguard.geometry.marks import tape_text
from stairguard.model.guard.passages import Passage
from stairguard.model.guard.pieces import EndCut, PostCut, RailCut, StrandCut
from stairguard.model.guard.placed_posts import Hole, PlacedPost
from stairguard.model.guard.solved_layout import CheckedLayout, Layout
from stairguard.model.job import Job
from stairguard.reports.data.csv_text import CsvCell, spreadsheet
from stairguard.reports.words.joints.joint_words import fitting_words
from stairguard.reports.words.names import piece_name

_Row: TypeAlias = dict[str, CsvCell]
_Length: TypeAlias = Fraction | float

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
_BEARS_ON: Final = ("before_bears_on", "after_bears_on")
_ASKEW: Final = ("before_askew_deg", "after_askew_deg")


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


def _hole_rows(layout: Layout) -> Iterator[_Row]:
    """Rows of every post; the figures of posts cut alike are worked once."""
    cuts = {label: cut.label for cut in layout.cuts.posts for label in cut.posts}
    known: dict[tuple[str, int, Passage], _Row] = {}
    for post in layout.posts:
        own: _Row = {
            "post": post.label,
            "role": post.role,
            f"station_{layout.job.unit}": float(post.station),
            "support": post.support,
        }
        for place, hole in enumerate(post.holes):
            key = cuts.get(post.label, post.label), place, hole.passage
            if key not in known:
                known[key] = _hole_figures(layout.job, post, hole)
            yield {
                **known[key],
                **own,
                "strand": hole.strand,
                "surfaces": _counted(hole.surfaces),
                "broken": "yes" if hole.broken else "",
                **dict(zip(_BEARS_ON, hole.bears, strict=True)),
                **dict(zip(_ASKEW, _askews(post, hole), strict=True)),
            }


def _askews(post: PlacedPost, hole: Hole) -> Iterator[float]:
    """How far from square in plan the faces before and after are met; one that the hole has not, as the post stands."""
    for face, askew in zip(hole.faces, post.stance.askews_deg, strict=True):
        yield abs(askew) if face is None else face.skew_deg


def _hole_figures(job: Job, post: PlacedPost, hole: Hole) -> _Row:
    """All of a hole's row that does not tell one post from others cut alike."""
    ended, side = hole.only_face, hole.passage.side
    before, after = (None if face is None else float(face.height) for face in hole.faces)
    figures: _Row = {
        f"height_{job.unit}": float(hole.height),
        f"marked_{job.unit}": float(hole.marked),
        "marked": _tape(job, hole.marked),
        f"low_face_{job.unit}": float(hole.low_face),
        f"high_face_{job.unit}": float(hole.high_face),
        "drill_deg": hole.drill_deg,
        "side": "whole" if post.joint is None or side == "both" else side,
        f"before_face_{job.unit}": before,
        f"after_face_{job.unit}": after,
        "before_deg": hole.before_deg,
        "after_deg": hole.after_deg,
    }
    if ended is not None:
        figures |= {f"face_marked_{job.unit}": float(ended.marked), "face_marked": _tape(job, ended.height)}
    return figures


def _cut_rows(layout: Layout) -> Iterator[_Row]:
    job, posts = layout.job, {post.label: post for post in layout.posts}
    for rail in layout.cuts.rails:
        yield _rail_row(job, rail)
    for post in layout.cuts.posts:
        yield _post_row(job, post, posts[post.posts[0]])
    for part, cuts in (("strand", layout.cuts.strands), ("sleeve", layout.cuts.sleeves)):
        for cut in cuts:
            yield {
                **_piece(job, part, cut, cut.length, cut.length),
                "for": " ".join(piece_name(piece) for piece in cut.strands),
            }
    for fitting in layout.cuts.fittings:
        yield {"part": "fitting", "label": fitting_words(fitting.kind), "count": fitting.count}


def _piece(job: Job, part: str, cut: RailCut | PostCut | StrandCut, long: _Length, short: _Length) -> _Row:
    """What is told of every piece."""
    return {
        "part": part,
        "label": cut.label,
        "count": cut.count,
        f"length_{job.unit}": float(cut.length),
        "length_marked": _tape(job, cut.length),
        f"long_{job.unit}": float(long),
        f"short_{job.unit}": float(short),
        f"marked_{job.unit}": float(cut.marked),
    }


def _rail_row(job: Job, rail: RailCut) -> _Row:
    shortest = rail.length + rail.underside - rail.longest  # an end lengthens either the top or the underside
    return {
        **_piece(job, "rail", rail, rail.longest, shortest),
        **_end("start", rail.start_cut),
        **_end("end", rail.end_cut),
        "for": f"surface{'s' if len(rail.surfaces) > 1 else ''} {_counted(rail.surfaces)}",
        f"underside_{job.unit}": rail.underside,
        "section": f"{_tape(job, job.rail.depth)} x {_tape(job, job.rail.width)}",
    }


def _end(side: str, cut: EndCut) -> _Row:
    return {
        f"{side}_cut": cut.kind,
        f"{side}_deg": cut.angle_deg,
        f"{side}_long_point": " ".join(word for word in (cut.long_point, cut.side, cut.edge) if word),
        f"{side}_tilt_deg": cut.tilt_deg,
    }


def _post_row(job: Job, cut: PostCut, post: PlacedPost) -> _Row:
    before, after = cut.bevels_deg
    top: _Row = {"end_cut": "bevel" if before else "square", "end_deg": before}
    if before != after:
        top = {
            "end_cut": "two bevels",
            f"top_break_{job.unit}": float(post.bevel_break),
            "top_break_marked": _tape(job, post.bevel_break),
        }
    edges: _Row = {}
    for side, edge in zip(("before", "after"), post.edges, strict=True):
        edges |= {f"edge_{side}_{job.unit}": float(edge), f"edge_{side}_marked": _tape(job, edge)}
    return {
        **_piece(job, "post", cut, cut.long_edge, cut.short_edge),
        "start_cut": "square",
        "start_deg": 0.0,
        **top,
        "for": " ".join(cut.posts),
        "top_before_deg": before,
        "top_after_deg": after,
        **edges,
    }


def _tape(job: Job, length: _Length) -> str:
    return tape_text(Fraction(length), job.unit, job.mark)


def _counted(surfaces: Iterable[int]) -> str:
    return " ".join(str(surface + 1) for surface in surfaces)  # people count from 1


def _csv(head: str, rows: Iterable[_Row], job: Job) -> str:
    return spreadsheet([*head.format(unit=job.unit).split(), "job"], ({**row, "job": job.title} for row in rows))
