"""What is made, post by post: the report's lists of posts and holes; alike posts said once."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Hashable, Sequence
from fractions import Fraction

from stairguard.model.guard.passages import StrandSides
from stairguard.model.guard.pieces import PostCut
from stairguard.model.guard.placed_posts import CloseHoles, Hole, PlacedPost, label_parts
from stairguard.model.guard.rail_joints import Joint
from stairguard.model.guard.solved_layout import Layout
from stairguard.reports.page.page_text import heading, listed, paragraph, table
from stairguard.reports.words.grouping import Series, SeriesPlace, groups, in_steps, labels, series
from stairguard.reports.words.joints.joint_words import close_words
from stairguard.reports.words.lengths import Figures, degrees_words, stated
from stairguard.reports.words.names import repeats, surface_names


def _joint_at(layout: Layout, post: PlacedPost) -> Joint | None:
    """The joint that a post makes, alone or as one of two."""
    return None if post.joint is None else layout.joints[post.joint]


def _neighbours(layout: Layout, post: PlacedPost) -> tuple[str, str]:
    """Labels of the posts before and after one, "" where it is at an end of the guard; a closed line goes round."""
    posts, round_on = layout.posts, layout.job.closed
    place = bisect_left(posts, post.station, key=lambda other: other.station)
    near = [posts[i % len(posts)].label if round_on or 0 <= i < len(posts) else "" for i in (place - 1, place + 1)]
    return near[0], near[1]


def post_list(layout: Layout, figures: Figures) -> list[str]:
    """List the posts: each one's place from one datum, its length and its bevel."""
    found = series(layout.posts, lambda post: _post_key(layout, post), _place)
    own = any(post.support == "post" for post in layout.posts)
    rows = [_post_row(one, layout, figures) for one in found]
    head = ["post", "role", "station", "base", "length, plumb", "top bevel", "clear", "stands on"]
    tops = groups((p for p in layout.posts if p.joint is not None), lambda post: _top_key(layout, post))
    return [
        *heading("POSTS"),
        *paragraph(
            "Centres level from the start of surface 1, never from post to post; bases plumb from the same "
            "datum. Length plumb from base to the rail's underside, on the centre line. Bevel from level, "
            "positive where the top rises as stations increase. Clear: how far the foot is inside its tread or "
            "surface, level, at the nearer edge along the guard."
        ),
        *(paragraph(_mounting(layout, figures)) if layout.job.post.mount == "side" and own else []),
        *table(head, rows, left=2, words=True),
        *listed(repeats(found, 2, lambda members: labels(post.label for post in members), figures)),
        *(line for same in tops for line in _joint_top(same, layout, figures)),
    ]


def _mounting(layout: Layout, figures: Figures) -> str:
    post = layout.job.post
    return (
        f"Mounted on the stair's side: feet {figures.tape(post.drop)} plumb below the tread or surface named, strands "
        f"{figures.tape(post.offset)} level out from the side."
    )


def _post_key(layout: Layout, post: PlacedPost) -> Hashable:
    """All that is said of a post but its place; posts of one surface are never of one key."""
    holes = tuple((h.strand, h.marked, h.before_deg, h.after_deg, len(h.surfaces)) for h in post.holes)
    kind = layout.line.surfaces[post.stands_on].kind
    within = post.station - layout.line.surfaces[post.stands_on].start.s
    return post.role, post.support, post.length, post.bevels_deg, post.edges, post.clear, post.step, kind, within, holes


def _place(post: PlacedPost) -> SeriesPlace:
    return label_parts(post.label).number, post.stands_on, post.station, post.base


def _post_row(one: Series[PlacedPost], layout: Layout, figures: Figures) -> list[str]:
    post = one.first
    made = post.support == "post"
    return [
        post.label,
        post.role if made else post.support,
        figures.tape(post.station),
        figures.tape(post.base),
        figures.tape(post.length) if made else "-",
        bevel_text(post) if made else "-",
        "-" if post.clear is None or not made else figures.tape(post.clear),
        _stands_on(one, layout),
    ]


def _stands_on(one: Series[PlacedPost], layout: Layout) -> str:
    post, names = one.first, surface_names(layout)
    flights = sum(surface.kind == "flight" for surface in layout.line.surfaces)
    words = names[post.stands_on]
    if post.step is not None:
        words = f"tread {post.step}" if flights == 1 else f"tread {post.step} of surface {post.stands_on + 1}"
    elif (flight := layout.line.surfaces[post.stands_on]).kind == "flight" and post.support != "post":
        words = f"floor {'above' if post.base == max(flight.start.z, flight.end.z) else 'below'} {words}"
    elif layout.line.surfaces[post.stands_on].kind == "flight":
        words = f"landing at surface {post.stands_on + 1}"
    if layout.past_edge_of_turn(post):
        words += ", at its corner"
    elif post.clear is not None and post.clear < 0 and layout.job.post.mount == "surface" and post.support == "post":
        words += ", OVERHANGS"
    if len(one.members) > 1:
        words += f", {len(one.members)} alike"
    return words


def bevel_text(post: PlacedPost | PostCut) -> str:
    """Write a top's bevel, or its two."""
    before, after = (degrees_words(bevel) for bevel in post.bevels_deg)
    return before if before == after else f"{before} / {after}"


def _top_key(layout: Layout, post: PlacedPost) -> Hashable:
    joint = _joint_at(layout, post)
    mitred = joint is None or joint.mitred
    return mitred, post.length, post.bevels_deg, post.bevel_break, post.edges, _ends_on(layout, post)


def _ends_on(layout: Layout, post: PlacedPost) -> tuple[Fraction, ...]:
    """Heights of the rails' tops above the base, where they end on the post's two faces; empty where they do not."""
    joint = _joint_at(layout, post)
    if joint is None or joint.mitred or joint.second_post is not None:
        return ()
    ends = layout.rails[joint.between[0]].end, layout.rails[joint.between[1]].start
    return tuple(end.z - post.base for end in ends)


def _joint_top(same: Sequence[PlacedPost], layout: Layout, figures: Figures) -> list[str]:
    """Say how a joint post's top is cut, and how high it is at each face."""
    post = same[0]
    before, after = _neighbours(layout, post)
    alike = f" Alike: {labels(other.label for other in same[1:])}." if len(same) > 1 else ""
    tops = [figures.tape(top) for top in _ends_on(layout, post)]
    if tops:
        return paragraph(
            f"{post.label}: the rails end on its faces, their tops {tops[0]} high at the face towards {before}, "
            f"{tops[1]} at the face towards {after}; the post runs up past their undersides, as high as the higher "
            f"top.{alike}"
        )
    if post.bevels_deg == (0, 0):
        return []  # level and square: nothing more to say
    return paragraph(f"{post.label}: {top_text(post, layout, figures)}.{alike}")


def top_text(post: PlacedPost, layout: Layout, figures: Figures) -> str:
    """Tell a joint post's top from one face to the other."""
    before, after = _neighbours(layout, post)
    edges = [figures.tape(edge) for edge in post.edges]
    slopes = [degrees_words(bevel) for bevel in post.bevels_deg]
    cut = f"top {slopes[0]} throughout"
    if post.bevels_deg[0] != post.bevels_deg[1]:
        off, side = figures.tape(abs(post.bevel_break)), after if post.bevel_break > 0 else before
        where = f"{off} from the centre line towards {side}" if post.bevel_break else "on the centre line"
        cut = f"top {slopes[0]} from the face towards {before}, then {slopes[1]}; it turns {where}"
    return f"{cut}; {edges[0]} high at the face towards {before}, {edges[1]} at the face towards {after}"


def hole_list(layout: Layout, figures: Figures) -> list[str]:
    """List the holes: a table for every set of posts that share one story pole, a joint post's by its faces."""
    lines = [
        *heading("HOLES"),
        *paragraph(
            "Plumb above the post's base, to the strand's centre. Posts named together share one story pole. The "
            "centre is on the post's centre line, the faces are where the strand enters and leaves. Drill is the "
            "tilt from level along the strand, and toward what it rises; up the line is the way stations increase."
        ),
    ]
    for posts in groups(layout.posts, lambda post: _pole_key(layout, post)):
        lines += ["", *paragraph(_pole_name(posts))]
        if posts[0].joint is not None:
            lines += _joint_pole(posts[0], layout, figures)
        else:
            lines += [*_pole(posts, figures, layout), *_broken(posts)]
        lines += _caution(posts[0], layout, figures)
    return lines


def _pole_key(layout: Layout, post: PlacedPost) -> Hashable:
    first = post.holes[0].surfaces[0] if post.holes else 0
    joint = _joint_at(layout, post)
    base = first if joint is None else joint.between[0]
    holes = tuple(
        (h.strand, h.marked, h.low_face, h.high_face, h.before_deg, h.after_deg)
        + ((tuple(i - base for i in h.surfaces), h.passage.side, h.broken, h.bears) if joint else ())
        for h in post.holes
    )
    if joint is None:
        return post.support, holes
    return post.support, holes, joint.second_post is None, post.label == joint.second_post


def _pole_name(posts: Sequence[PlacedPost]) -> str:
    post = posts[0]
    if post.support != "post":
        return f"{', '.join(p.label for p in posts)}: {post.support}; anchors, above the surface at its foot"
    roles = " and ".join(dict.fromkeys(post.role for post in posts))
    plural = "s" if len(posts) > 1 else ""
    alike = f" (faces named as at {post.label})" if plural and post.joint is not None else ""
    return f"{labels(post.label for post in posts)}: {roles} post{plural}{alike}"


def _rising(angle: float, before: str = "", after: str = "") -> str:
    """Write a hole's angle and what it rises toward: the post before or after, or, without one, along the line."""
    text = degrees_words(abs(angle))
    if text == degrees_words(0):
        return text
    towards = after if angle > 0 else before
    if towards:
        return f"{text} up toward {towards}"
    return f"{text} {'up' if angle > 0 else 'down'} the line"


def _pole(posts: Sequence[PlacedPost], figures: Figures, layout: Layout) -> list[str]:
    post, rows = posts[0], []
    sides = _neighbours(layout, post) if len(posts) == 1 else ("", "")
    for hole in post.holes:
        faces = [figures.tape(hole.low_face), figures.tape(hole.high_face)] if post.width else []
        rows.append([str(hole.strand), figures.tape(hole.marked), *faces, _rising(hole.before_deg, *sides)])
    if not post.width:
        return table(["strand", "mark", "slope"], rows, left=0)
    return table(["strand", "mark at centre", "lower face", "higher face", "drill"], rows, left=0)


def _broken(posts: Sequence[PlacedPost]) -> list[str]:
    """Tell where runs end and the next begin in one hole."""
    lines: list[str] = []
    for same in groups(posts, lambda post: tuple(sorted({hole.strand for hole in post.holes if hole.broken}))):
        numbers = sorted({hole.strand for hole in same[0].holes if hole.broken})
        if numbers:
            lines += paragraph(
                f"At {labels(post.label for post in same)} strand{'s' if len(numbers) > 1 else ''} {in_steps(numbers)} "
                "end, and their next runs begin: each bears on the face it comes to."
            )
    return lines


def _joint_pole(post: PlacedPost, layout: Layout, figures: Figures) -> list[str]:
    """Strands that pass whole, then those that end at either face: each face is marked from its own table."""
    sides: dict[StrandSides, list[Hole]] = {"both": [], "before": [], "after": []}
    for hole in post.holes:
        sides[hole.passage.side].append(hole)
    before, after = _neighbours(layout, post)
    lines = _whole(sides["both"], post, layout, figures)
    lines += _ended(before, sides["before"], post, layout, figures)
    lines += _ended(after, sides["after"], post, layout, figures)
    return lines + _askew(sides["both"], post, layout) + _broken([post])


def _askew(holes: Sequence[Hole], post: PlacedPost, layout: Layout) -> list[str]:
    """Of one of a corner's two posts, how holes are drilled in plan on from its inner face."""
    joint = _joint_at(layout, post)
    if joint is None or joint.second_post is None:
        return []
    lines: list[str] = []
    for askews in dict.fromkeys(tuple(face.skew_deg for face in hole.crossed) for hole in holes):
        for label, askew in zip(_neighbours(layout, post), askews, strict=True):
            if askew:
                lines += paragraph(f"In plan, drilled {degrees_words(askew)} from square to the face to {label}.")
    return lines


def _whole(holes: Sequence[Hole], post: PlacedPost, layout: Layout, figures: Figures) -> list[str]:
    before, after = _neighbours(layout, post)
    rows = []
    for hole in holes:
        marks = [
            words
            for face in hole.crossed
            for words in (figures.tape(face.height), _rising(face.tilt_deg, before, after))
        ]
        rows.append([str(hole.strand), figures.tape(hole.marked), *marks])
    heads = [words for label in (before, after) for words in (f"face to {label}", f"drill to {label}")]
    return table(["strand", "mark at centre", *heads], rows, left=0)


def _ended(label: str, holes: Sequence[Hole], post: PlacedPost, layout: Layout, figures: Figures) -> list[str]:
    if not holes:
        return []
    name = surface_names(layout)[holes[0].surfaces[0]]
    lines: list[str] = []
    through = [hole for hole in holes if "outer face" in hole.bears]
    if through:
        lines += paragraph(f"Strands of {name} that end here, their fittings through the post:")
        lines += _whole(through, post, layout, figures)
    rows = [
        [
            str(hole.strand),
            figures.tape(face.height),
            _rising(face.tilt_deg, *_neighbours(layout, post)),
        ]
        for hole in holes
        if (face := hole.only_face) is not None
    ]
    if rows:
        lines += paragraph(f"Marks on the face towards {label}, where strands of {name} end:")
        lines += table(["strand", "mark on face", "drill"], rows, left=0)
    return lines


def _caution(post: PlacedPost, layout: Layout, figures: Figures) -> list[str]:
    if not post.close:
        return []
    least = layout.job.holes_apart
    return [
        *paragraph(
            f"CAUTION: holes closer than a strand and a mark, {stated(least)} {figures.unit}, plumb, centre to centre:"
        ),
        *listed(_pairs(same, layout, post, figures) for same in _same_gaps(post.close, least, figures)),
    ]


def _same_gaps(close: Sequence[CloseHoles], least: Fraction, figures: Figures) -> list[list[CloseHoles]]:
    """Gather pairs of like number that are equally close; others stay alone."""

    def key(pair: CloseHoles) -> Hashable:
        alike = pair.first.strand == pair.second.strand
        at = 0 if alike else (pair.first.strand, pair.second.strand)
        return pair.first.surfaces, pair.second.surfaces, figures.decimal(pair.gap, least), pair.where, at

    return groups(close, key)


def _pairs(same: Sequence[CloseHoles], layout: Layout, post: PlacedPost, figures: Figures) -> str:
    pair, least = same[0], layout.job.holes_apart
    joint = _joint_at(layout, post)
    where = close_words(pair, turns=joint is not None and bool(joint.turn_deg))
    gap = f"{figures.decimal(pair.gap, least)} {figures.unit} apart {where}"
    if len(same) == 1:
        return f"{_strand(pair.first)} and {_strand(pair.second)} {gap}"
    numbers = in_steps(each.first.strand for each in same)
    return f"strands {numbers} of {_over(pair.first)}, each from that of its number of {_over(pair.second)}, {gap}"


def _strand(hole: Hole) -> str:
    return f"strand {hole.strand} of {_over(hole)}"


def _over(hole: Hole) -> str:
    return " and ".join(f"surface {surface + 1}" for surface in hole.surfaces)
