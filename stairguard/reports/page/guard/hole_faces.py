"""A hole's place in its post as it is marked: the face a strand comes to, and holes that come too close."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations
from typing import Final, Literal, NamedTuple, TypeAlias

from stairguard.model.guard.placed_posts import Hole, PlacedPost
from stairguard.model.guard.rail_joints import Joint
from stairguard.model.guard.solved_layout import Layout

__all__ = [
    "FACES",
    "Close",
    "Side",
    "close_holes",
    "face_askews",
    "face_heights",
    "face_slopes",
    "joint_at",
    "neighbours",
    "side_of",
]

Side: TypeAlias = Literal["whole", "before", "after"]
"""Whether a strand passes the post whole, or ends at the face that stations meet first, or at the other."""

FACES: Final[tuple[Side, Side]] = ("before", "after")
"""A post's faces in the order stations meet them."""

_Placed: TypeAlias = tuple[Hole, dict[Side, Fraction]]


class Close(NamedTuple):
    """Two holes of one post, how far apart plumb at their closest, and where that is."""

    first: Hole
    second: Hole
    gap: Fraction
    where: Literal["on one face", "on opposite faces", "on the centre line"]


def joint_at(layout: Layout, post: PlacedPost) -> Joint | None:
    """The joint that a post makes, alone or as one of two."""
    return None if post.joint is None else layout.joints[post.joint]


def neighbours(layout: Layout, post: PlacedPost) -> tuple[str, str]:
    """Labels of the posts before and after one, "" where it is at an end of the guard; a closed line goes round."""
    posts, round_on = layout.posts, layout.job.closed
    place = bisect_left(posts, post.station, key=lambda other: other.station)
    near = [posts[i % len(posts)].label if round_on or 0 <= i < len(posts) else "" for i in (place - 1, place + 1)]
    return near[0], near[1]


def side_of(layout: Layout, post: PlacedPost, hole: Hole) -> Side:
    """Tell at which face of a joint post a hole's strand ends; on other posts all pass whole."""
    joint = joint_at(layout, post)
    if joint is None or len(hole.surfaces) > 1:
        return "whole"
    if joint.second_post is None:
        return "before" if hole.surfaces == (joint.between[0],) else "after"
    passing = min(len(layout.fields[index].heights) for index in joint.between) if joint.through else 0
    if hole.strand <= passing:
        return "whole"
    return "before" if post.label == joint.post else "after"


def face_slopes(layout: Layout, post: PlacedPost, hole: Hole) -> tuple[Fraction, Fraction]:
    """Slopes of a strand, elevation per level length along stations, before and after its post."""
    slopes = layout.line.surfaces[hole.surfaces[0]].slope, layout.line.surfaces[hole.surfaces[-1]].slope
    joint = joint_at(layout, post)
    if joint is None or joint.chord is None or side_of(layout, post, hole) != "whole":
        return slopes
    return (slopes[0], joint.chord.slope) if post.label == joint.post else (joint.chord.slope, slopes[1])


def face_askews(layout: Layout, post: PlacedPost, hole: Hole) -> tuple[float, float]:
    """How far in plan a hole is drilled from square to the faces before and after, each as it is met by a strand."""
    before, after = (abs(askew) for askew in post.stance.askews_deg)
    joint = joint_at(layout, post)
    if joint is None or joint.chord is None or side_of(layout, post, hole) != "whole":
        return before, after
    return (before, joint.chord.skew_deg) if post.label == joint.post else (joint.chord.skew_deg, after)


def face_heights(layout: Layout, post: PlacedPost, hole: Hole) -> dict[Side, Fraction]:
    """Heights above the base at which a strand's axis crosses the faces it comes to, or its fitting goes through.

    A hole knows its lower and higher face; whoever marks it stands before one or the other. Between the two posts of a
    corner a strand crosses the face askew, and so later.
    """
    side, slopes = side_of(layout, post, hole), face_slopes(layout, post, hole)
    reach = {"before": post.half, "after": post.half}
    joint = joint_at(layout, post)
    if joint is not None and joint.chord is not None and side == "whole":
        inner = "after" if post.label == joint.post else "before"
        reach[inner] *= joint.chord.reach
    heights: dict[Side, Fraction] = {
        "before": hole.height - reach["before"] * slopes[0],
        "after": hole.height + reach["after"] * slopes[1],
    }
    return heights if side == "whole" or "outer face" in hole.bears else {side: heights[side]}


def close_holes(layout: Layout, post: PlacedPost) -> Iterator[Close]:
    """Find pairs of holes nearer to each other, centre to centre, than one strand's diameter and one mark.

    Strands of one surface are parallel, so that those on one face are as far apart there as anywhere. Two that
    come from opposite sides are held against each other on the faces, where their terminals stand back to back,
    and on the centre line, where the holes meet if each is drilled half way. The two ends of a strand that is broken at
    the post share one hole and are no such pair.
    """
    least = layout.job.strand.diameter + layout.job.mark
    placed = [(hole, face_heights(layout, post, hole)) for hole in post.holes]
    for one, other in combinations(placed, 2):
        if one[0].broken and other[0].broken and one[0].strand == other[0].strand:
            continue
        close = _closest(one, other)
        if close.gap < least:
            yield close


def _closest(one: _Placed, other: _Placed) -> Close:
    (first, faces), (second, others) = one, other
    shared = sorted(faces.keys() & others.keys())
    gaps = [Close(first, second, abs(faces[face] - others[face]), "on one face") for face in shared]
    if not shared:
        gap = abs(next(iter(faces.values())) - next(iter(others.values())))
        gaps.append(Close(first, second, gap, "on opposite faces"))
    gaps.append(Close(first, second, abs(first.height - second.height), "on the centre line"))
    return min(gaps, key=lambda close: close.gap)
