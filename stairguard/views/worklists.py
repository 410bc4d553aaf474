"""What is made, post by post and piece by piece: the report's lists of posts, holes and pieces to cut."""

from __future__ import annotations

from collections.abc import Sequence

from stairguard.model.guard import EndCut, Layout, PlacedPost
from stairguard.views.pagetext import Figures, heading, numbered, paragraph, table

__all__ = ["cut_list", "hole_list", "post_list", "surface_names"]


def surface_names(layout: Layout) -> dict[int, str]:
    """Name surfaces as a reader counts them."""
    return {s.index: f"surface {number} ({s.kind})" for number, s in enumerate(layout.line.surfaces, 1)}


def post_list(layout: Layout, figures: Figures) -> list[str]:
    """List every post: its place from one datum, its length and its bevel."""
    names = surface_names(layout)
    rows = [
        [
            post.label,
            post.role,
            figures.tape(post.station),
            figures.tape(post.base),
            figures.tape(post.length),
            _bevel(post, figures),
            names[post.stands_on] if post.step is None else f"tread {post.step}",
        ]
        for post in layout.posts
    ]
    return [
        *heading("POSTS"),
        *paragraph(
            "Centres level from the start of surface 1, never from post to post; bases plumb from the same "
            "datum. Length plumb from base to the rail's underside, on the centre line. Bevel from level."
        ),
        *table(
            ["post", "role", "station", "base", "length, plumb", "top bevel", "stands on"],
            rows,
            left=2,
            words=True,
        ),
    ]


def _bevel(post: PlacedPost, figures: Figures) -> str:
    before, after = (figures.degrees(bevel) for bevel in post.bevels_deg)
    return before if before == after else f"{before} / {after}"


def hole_list(layout: Layout, figures: Figures) -> list[str]:
    """List the holes, a table for every set of posts that share one story pole."""
    poles: dict[tuple[tuple[object, ...], ...], list[PlacedPost]] = {}
    for post in layout.posts:
        key = tuple(
            (hole.strand, hole.marked, hole.low_face, hole.high_face, hole.before_deg, hole.after_deg)
            for hole in post.holes
        )
        poles.setdefault(key, []).append(post)
    lines = [
        *heading("HOLES"),
        *paragraph(
            "Plumb above the post's base. Posts named together share one story pole. The centre is on the "
            "post's centre line; the strand leaves the lower and higher face at the heights given. Drill is "
            "the tilt from level; two figures are the sides before and after the post."
        ),
    ]
    for posts in poles.values():
        lines += ["", *paragraph(_pole_name(posts)), *_pole(posts[0], figures)]
    return lines


def _pole_name(posts: Sequence[PlacedPost]) -> str:
    roles = " and ".join(dict.fromkeys(post.role for post in posts))
    plural = "s" if len(posts) > 1 else ""
    return f"{', '.join(post.label for post in posts)}: {roles} post{plural}"


def _pole(post: PlacedPost, figures: Figures) -> list[str]:
    rows = []
    for hole in post.holes:
        before, after = figures.degrees(hole.before_deg), figures.degrees(hole.after_deg)
        faces = [figures.tape(hole.low_face), figures.tape(hole.high_face)]
        tilt = before if before == after else f"{before} / {after}"
        rows.append([str(hole.strand), figures.tape(hole.marked), *faces, tilt])
    return table(["strand", "mark at centre", "lower face", "higher face", "drill"], rows, left=0)


def cut_list(layout: Layout, figures: Figures) -> list[str]:
    """List the pieces to cut, equal ones together, and what they come to."""
    cuts = layout.cuts
    rails = [
        [
            rail.label,
            str(rail.count),
            figures.tape(rail.length),
            figures.tape(rail.underside),
            figures.tape(rail.longest),
            _end(rail.start_cut, figures),
            _end(rail.end_cut, figures),
        ]
        for rail in cuts.rails
    ]
    posts = [
        [
            post.label,
            str(post.count),
            figures.tape(post.length),
            figures.tape(post.long_edge),
            figures.tape(post.short_edge),
            ", ".join(post.posts),
        ]
        for post in cuts.posts
    ]
    strands = [
        [strand.label, str(strand.count), figures.tape(strand.length), _spans(strand.strands)]
        for strand in cuts.strands
    ]
    return [
        *heading("CUT LIST: RAILS"),
        *paragraph(
            "Lengths along the slope; longest from long point to long point. A cut is told by its angle from "
            "square across the rail, and whether its long point is on top or under."
        ),
        *table(["rail", "count", "along top", "underside", "longest", "start cut", "end cut"], rails),
        *heading("CUT LIST: POSTS (plumb)"),
        *table(["post", "count", "centre line", "long edge", "short edge", "posts"], posts, words=True),
        *heading("CUT LIST: STRANDS (along the strand, take-ups off)"),
        *table(["strand", "count", "cut length", "strands"], strands, words=True),
        *paragraph(
            f"In all: {figures.tape(cuts.strand_total)} of strand, {figures.tape(cuts.rail_total)} of rail, "
            f"{cuts.terminals} terminals, {cuts.tensioners} tensioners, {cuts.angle_fittings} angle-change "
            f"fittings, {cuts.holes} holes."
        ),
    ]


def _spans(strands: Sequence[str]) -> str:
    """Gather the numbers of strands that run between the same posts: ``1 to 9 (P1-P5)``."""
    spans: dict[str, list[int]] = {}
    for strand in strands:
        number, _, span = strand.partition(" ")
        spans.setdefault(span, []).append(int(number))
    return "; ".join(f"{numbered(numbers)} {span}" for span, numbers in spans.items())


def _end(cut: EndCut, figures: Figures) -> str:
    if cut.kind == "square":
        return "square"
    point = {"top": " top", "underside": " under", "neither": ""}[cut.long_point]
    return f"{cut.kind} {figures.degrees(cut.angle_deg)}{point}"
