"""What is made, post by post and piece by piece: the report's lists of posts, holes and pieces to cut."""

from __future__ import annotations

from collections.abc import Sequence

from stairguard.model.guard import EndCut, Hole, Layout, PlacedPost, PostCut
from stairguard.views.pagetext import Figures, heading, listed, numbered, paragraph, table
from stairguard.views.sides import FACES, Side, close_holes, face_heights, neighbours, side_of

__all__ = ["cut_list", "hole_list", "post_list", "rail_section", "surface_names"]


def surface_names(layout: Layout) -> dict[int, str]:
    """Name surfaces as a reader counts them."""
    return {s.index: f"surface {number} ({s.kind})" for number, s in enumerate(layout.line.surfaces, 1)}


def rail_section(layout: Layout, figures: Figures) -> str:
    """Write the rail's section: depth, square to the rail, by width."""
    return f"{figures.tape(layout.job.rail.depth)} x {figures.tape(layout.job.rail.width)}"


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
            "datum. Length plumb from base to the rail's underside, on the centre line. Bevel from level, "
            "positive where the top rises as stations increase."
        ),
        *table(
            ["post", "role", "station", "base", "length, plumb", "top bevel", "stands on"],
            rows,
            left=2,
            words=True,
        ),
        *(line for post in layout.posts if post.role == "joint" for line in _joint_top(post, layout, figures)),
    ]


def _bevel(post: PlacedPost | PostCut, figures: Figures) -> str:
    before, after = (figures.degrees(bevel) for bevel in post.bevels_deg)
    return before if before == after else f"{before} / {after}"


def _joint_top(post: PlacedPost, layout: Layout, figures: Figures) -> list[str]:
    """Say how a joint post's top is cut, and how high it is at each face."""
    joint = next(joint for joint in layout.joints if joint.post == post.label)
    before, after = neighbours(layout, post)
    if joint.jog:
        ends = layout.rails[joint.between[0]].end, layout.rails[joint.between[1]].start
        tops = [figures.tape(end.z - post.base) for end in ends]
        return paragraph(
            f"{post.label}: the rails end on its faces, their tops {tops[0]} high at the face towards {before}, "
            f"{tops[1]} at the face towards {after}; the post runs up past their undersides."
        )
    return paragraph(f"{post.label}: {_top(post, layout, figures)}.")


def _top(post: PlacedPost, layout: Layout, figures: Figures) -> str:
    """Tell a joint post's top from one face to the other."""
    before, after = neighbours(layout, post)
    edges = [figures.tape(edge) for edge in post.edges]
    slopes = [figures.degrees(bevel) for bevel in post.bevels_deg]
    cut = f"top {slopes[0]} throughout"
    if post.bevel_break:
        off, side = figures.tape(abs(post.bevel_break)), after if post.bevel_break > 0 else before
        cut = (
            f"top {slopes[0]} from the face towards {before}, then {slopes[1]}; it turns {off} from the centre "
            f"line towards {side}"
        )
    return f"{cut}; {edges[0]} high at the face towards {before}, {edges[1]} at the face towards {after}"


def hole_list(layout: Layout, figures: Figures) -> list[str]:
    """List the holes: a table for every set of posts that share one story pole, and tables for each joint post."""
    poles: dict[tuple[object, ...], list[PlacedPost]] = {}
    for post in layout.posts:
        key = tuple(
            (hole.strand, hole.marked, hole.low_face, hole.high_face, hole.before_deg, hole.after_deg)
            for hole in post.holes
        )
        poles.setdefault((post.label, *key) if post.role == "joint" else key, []).append(post)
    lines = [
        *heading("HOLES"),
        *paragraph(
            "Plumb above the post's base, to the strand's centre. Posts named together share one story pole. The "
            "centre is on the post's centre line, the faces are where the strand enters and leaves. Drill is the "
            "tilt from level along the strand: positive where it rises as stations increase, negative where it falls."
        ),
    ]
    for posts in poles.values():
        lines += ["", *paragraph(_pole_name(posts))]
        lines += _joint_pole(posts[0], layout, figures) if posts[0].role == "joint" else _pole(posts[0], figures)
        lines += _caution(posts[0], layout, figures)
    return lines


def _pole_name(posts: Sequence[PlacedPost]) -> str:
    roles = " and ".join(dict.fromkeys(post.role for post in posts))
    plural = "s" if len(posts) > 1 else ""
    return f"{', '.join(post.label for post in posts)}: {roles} post{plural}"


def _pole(post: PlacedPost, figures: Figures) -> list[str]:
    rows = []
    for hole in post.holes:
        faces = [figures.tape(hole.low_face), figures.tape(hole.high_face)]
        rows.append([str(hole.strand), figures.tape(hole.marked), *faces, figures.degrees(hole.before_deg)])
    return table(["strand", "mark at centre", "lower face", "higher face", "drill"], rows, left=0)


def _joint_pole(post: PlacedPost, layout: Layout, figures: Figures) -> list[str]:
    """Strands that pass whole, then those that end at either face: each face is marked from its own table."""
    sides: dict[Side, list[Hole]] = {"whole": [], "before": [], "after": []}
    for hole in post.holes:
        sides[side_of(layout, post, hole)].append(hole)
    labels = neighbours(layout, post)
    lines = _whole(sides["whole"], post, layout, figures)
    for side, label in zip(FACES, labels, strict=True):
        lines += _ended(side, label, sides[side], post, layout, figures)
    return lines


def _whole(holes: Sequence[Hole], post: PlacedPost, layout: Layout, figures: Figures) -> list[str]:
    before, after = neighbours(layout, post)
    rows = []
    for hole in holes:
        faces = face_heights(layout, post, hole)
        sides = [(faces["before"], hole.before_deg), (faces["after"], hole.after_deg)]
        marks = [words for face, tilt in sides for words in (figures.tape(face), figures.degrees(tilt))]
        rows.append([str(hole.strand), figures.tape(hole.marked), *marks])
    heads = [words for label in (before, after) for words in (f"face to {label}", f"drill to {label}")]
    return table(["strand", "mark at centre", *heads], rows, left=0)


def _ended(
    side: Side, label: str, holes: Sequence[Hole], post: PlacedPost, layout: Layout, figures: Figures
) -> list[str]:
    if not holes:
        return []
    name = surface_names(layout)[holes[0].surfaces[0]]
    rows = [
        [
            str(hole.strand),
            figures.tape(face_heights(layout, post, hole)[side]),
            figures.degrees(hole.before_deg),
        ]
        for hole in holes
    ]
    return [
        *paragraph(f"Marks on the face towards {label}, where strands of {name} end:"),
        *table(["strand", "mark on face", "drill"], rows, left=0),
    ]


def _caution(post: PlacedPost, layout: Layout, figures: Figures) -> list[str]:
    close = list(close_holes(layout, post))
    if not close:
        return []
    least = layout.job.strand.diameter + layout.job.mark
    return [
        *paragraph(
            f"CAUTION: holes closer than a strand and a mark, {figures.limit(least)} {figures.unit}, plumb, centre "
            "to centre:"
        ),
        *listed(
            f"{_strand(pair.first)} and {_strand(pair.second)} {figures.decimal(pair.gap, least)} {figures.unit} "
            f"apart {pair.where}"
            for pair in close
        ),
    ]


def _strand(hole: Hole) -> str:
    return f"strand {hole.strand} of {' and '.join(f'surface {surface + 1}' for surface in hole.surfaces)}"


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
            _bevel(post, figures),
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
            f"All of {rail_section(layout, figures)}, depth square to the rail by width. "
            "Lengths along the slope; longest from long point to long point. A cut is told by its angle from "
            "square across the rail, and whether its long point is on top or under."
        ),
        *table(["rail", "count", "along top", "underside", "longest", "start cut", "end cut"], rails),
        *heading("CUT LIST: POSTS (plumb)"),
        *paragraph(
            "Top: its bevel from level, positive where it rises as stations increase. Two figures: it has two slopes."
        ),
        *table(["post", "count", "centre line", "long edge", "short edge", "top", "posts"], posts, words=True),
        *_turning_tops(layout, figures),
        *heading("CUT LIST: STRANDS (along the strand, take-ups off)"),
        *table(["strand", "count", "cut length", "strands"], strands, words=True),
        *paragraph(
            f"In all: {figures.tape(cuts.strand_total)} of strand, {figures.tape(cuts.rail_total)} of rail, "
            f"{cuts.terminals} terminals, {cuts.tensioners} tensioners, {cuts.angle_fittings} angle-change "
            f"fittings, {cuts.holes} holes."
        ),
    ]


def _turning_tops(layout: Layout, figures: Figures) -> list[str]:
    """Say where the tops of two slopes turn."""
    firsts = {cut.posts[0]: cut.label for cut in layout.cuts.posts}
    return [
        line
        for post in layout.posts
        if post.bevel_break and post.label in firsts
        for line in paragraph(f"{firsts[post.label]} ({post.label}): {_top(post, layout, figures)}.")
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
