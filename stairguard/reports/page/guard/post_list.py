"""What is made, post by post: the report's lists of posts and holes; alike posts said once."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from fractions import Fraction

from stairguard.model.guard.passages import StrandSides
from stairguard.model.guard.placed_posts import CloseHoles, Hole, PlacedPost, label_parts
from stairguard.model.guard.solved_layout import Layout
from stairguard.reports.page.page_text import heading, listed, paragraph, paragraphs, table
from stairguard.reports.words.grouping import Series, SeriesPlace, groups, labels, series
from stairguard.reports.words.lengths import Figures
from stairguard.reports.words.lists.hole_words import (
    HOLES_TOLD,
    askew_words,
    broken_words,
    close_holes,
    ended_face_words,
    ended_through_words,
    face_heads,
    pole_words,
    rising_words,
    too_close_words,
)
from stairguard.reports.words.lists.post_words import (
    POSTS_TOLD,
    bevel_text,
    joint_top_words,
    mounting_words,
    stands_on,
)
from stairguard.reports.words.names import repeats, surface_names


def post_list(layout: Layout, figures: Figures) -> list[str]:
    """List the posts: each one's place from one datum, its length and its bevel."""
    found = series(layout.posts, lambda post: _post_key(layout, post), _place)
    own = any(post.support == "post" for post in layout.posts)
    rows = [_post_row(one, layout, figures) for one in found]
    head = ["post", "role", "station", "base", "length, plumb", "top bevel", "clear", "stands on"]
    tops = groups((p for p in layout.posts if p.joint is not None), lambda post: _top_key(layout, post))
    return [
        *heading("POSTS"),
        *paragraph(POSTS_TOLD),
        *(paragraph(mounting_words(layout, figures)) if layout.job.post.mount == "side" and own else []),
        *table(head, rows, left=2, words=True),
        *listed(repeats(found, 2, lambda members: labels(post.label for post in members), figures)),
        *paragraphs(words for same in tops for words in joint_top_words(same, layout, figures)),
    ]


def _post_key(layout: Layout, post: PlacedPost) -> Hashable:
    """All that is said of a post but its place; posts of one surface are never of one key."""
    holes = tuple((h.strand, h.marked, h.before_deg, h.after_deg, len(h.surfaces)) for h in post.holes)
    kind = layout.line.surfaces[post.stands_on].kind
    within = post.station - layout.line.surfaces[post.stands_on].edge_start.s
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
        stands_on(one, layout),
    ]


def _top_key(layout: Layout, post: PlacedPost) -> Hashable:
    joint = layout.joint_of(post)
    mitred = joint is None or joint.mitred
    return mitred, post.length, post.bevels_deg, post.bevel_break, post.edges, layout.rail_tops_at(post)


def hole_list(layout: Layout, figures: Figures) -> list[str]:
    """List the holes: a table for every set of posts that share one story pole, a joint post's by its faces."""
    lines = [
        *heading("HOLES"),
        *paragraph(HOLES_TOLD),
    ]
    for posts in groups(layout.posts, lambda post: _pole_key(layout, post)):
        lines += ["", *paragraph(pole_words(posts))]
        if posts[0].joint is not None:
            lines += _joint_pole(posts[0], layout, figures)
        else:
            lines += [*_pole(posts, figures, layout), *_broken(posts)]
        lines += _caution(posts[0], layout, figures)
    return lines


def _pole_key(layout: Layout, post: PlacedPost) -> Hashable:
    first = post.holes[0].surfaces[0] if post.holes else 0
    joint = layout.joint_of(post)
    base = first if joint is None else joint.between[0]
    holes = tuple(
        (h.strand, h.marked, h.low_face, h.high_face, h.before_deg, h.after_deg)
        + ((tuple(i - base for i in h.surfaces), h.passage.side, h.broken, h.bears) if joint else ())
        for h in post.holes
    )
    if joint is None:
        return post.support, holes
    return post.support, holes, joint.second_post is None, post.label == joint.second_post


def _pole(posts: Sequence[PlacedPost], figures: Figures, layout: Layout) -> list[str]:
    post, rows = posts[0], []
    sides = layout.neighbours(post) if len(posts) == 1 else ("", "")
    for hole in post.holes:
        faces = [figures.tape(hole.low_face), figures.tape(hole.high_face)] if post.width else []
        rows.append([str(hole.strand), figures.tape(hole.marked), *faces, rising_words(hole.before_deg, *sides)])
    if not post.width:
        return table(["strand", "mark", "slope"], rows, left=0)
    return table(["strand", "mark at centre", "lower face", "higher face", "drill"], rows, left=0)


def _broken(posts: Sequence[PlacedPost]) -> list[str]:
    """Tell where runs end and the next begin in one hole."""
    lines: list[str] = []
    for same in groups(posts, lambda post: tuple(sorted({hole.strand for hole in post.holes if hole.broken}))):
        numbers = sorted({hole.strand for hole in same[0].holes if hole.broken})
        if numbers:
            lines += paragraph(broken_words(same, numbers))
    return lines


def _joint_pole(post: PlacedPost, layout: Layout, figures: Figures) -> list[str]:
    """Strands that pass whole, then those that end at either face: each face is marked from its own table."""
    sides: dict[StrandSides, list[Hole]] = {"both": [], "before": [], "after": []}
    for hole in post.holes:
        sides[hole.passage.side].append(hole)
    before, after = layout.neighbours(post)
    lines = _whole(sides["both"], post, layout, figures)
    lines += _ended(before, sides["before"], post, layout, figures)
    lines += _ended(after, sides["after"], post, layout, figures)
    return lines + _askew(sides["both"], post, layout) + _broken([post])


def _askew(holes: Sequence[Hole], post: PlacedPost, layout: Layout) -> list[str]:
    """Of one of a corner's two posts, how holes are drilled in plan on from its inner face."""
    joint = layout.joint_of(post)
    if joint is None or joint.second_post is None:
        return []
    lines: list[str] = []
    for askews in dict.fromkeys(tuple(face.skew_deg for face in hole.crossed) for hole in holes):
        for label, askew in zip(layout.neighbours(post), askews, strict=True):
            if askew:
                lines += paragraph(askew_words(askew, label))
    return lines


def _whole(holes: Sequence[Hole], post: PlacedPost, layout: Layout, figures: Figures) -> list[str]:
    before, after = layout.neighbours(post)
    rows = []
    for hole in holes:
        marks = [
            words
            for face in hole.crossed
            for words in (figures.tape(face.height), rising_words(face.tilt_deg, before, after))
        ]
        rows.append([str(hole.strand), figures.tape(hole.marked), *marks])
    heads = [words for label in (before, after) for words in face_heads(label)]
    return table(["strand", "mark at centre", *heads], rows, left=0)


def _ended(label: str, holes: Sequence[Hole], post: PlacedPost, layout: Layout, figures: Figures) -> list[str]:
    if not holes:
        return []
    name = surface_names(layout)[holes[0].surfaces[0]]
    lines: list[str] = []
    through = [hole for hole in holes if "outer face" in hole.bears]
    if through:
        lines += paragraph(ended_through_words(name))
        lines += _whole(through, post, layout, figures)
    rows = [
        [
            str(hole.strand),
            figures.tape(face.height),
            rising_words(face.tilt_deg, *layout.neighbours(post)),
        ]
        for hole in holes
        if (face := hole.only_face) is not None
    ]
    if rows:
        lines += paragraph(ended_face_words(name, label))
        lines += table(["strand", "mark on face", "drill"], rows, left=0)
    return lines


def _caution(post: PlacedPost, layout: Layout, figures: Figures) -> list[str]:
    if not post.close:
        return []
    least = layout.job.holes_apart
    return [
        *paragraph(too_close_words(least, figures)),
        *listed(close_holes(same, layout, post, figures) for same in _same_gaps(post.close, least, figures)),
    ]


def _same_gaps(close: Sequence[CloseHoles], least: Fraction, figures: Figures) -> list[list[CloseHoles]]:
    """Gather pairs of like number that are equally close; others stay alone."""

    def key(pair: CloseHoles) -> Hashable:
        alike = pair.first.strand == pair.second.strand
        at = 0 if alike else (pair.first.strand, pair.second.strand)
        return pair.first.surfaces, pair.second.surfaces, figures.decimal(pair.gap, least), pair.where, at

    return groups(close, key)
