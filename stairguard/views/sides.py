"""A hole's place in its post as it is marked: the face a strand comes to, and holes that come too close."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations
from typing import Final, Literal, NamedTuple, TypeAlias

from stairguard.model.guard import Hole, Layout, PlacedPost

__all__ = ["FACES", "Close", "Side", "close_holes", "face_heights", "neighbours", "side_of"]

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


def neighbours(layout: Layout, post: PlacedPost) -> tuple[str, str]:
    """Labels of the posts before and after one that is not at an end of the guard."""
    place = layout.posts.index(post)
    return layout.posts[place - 1].label, layout.posts[place + 1].label


def side_of(layout: Layout, post: PlacedPost, hole: Hole) -> Side:
    """Tell at which face of a joint post a hole's strand ends; on other posts all pass whole."""
    if post.role != "joint" or len(hole.surfaces) > 1:
        return "whole"
    before, _ = next(joint.between for joint in layout.joints if joint.post == post.label)
    return "before" if hole.surfaces == (before,) else "after"


def face_heights(layout: Layout, post: PlacedPost, hole: Hole) -> dict[Side, Fraction]:
    """Heights above the base at which a strand's axis crosses the faces it comes to.

    A hole knows its lower and higher face; whoever marks it stands before one or the other.
    """
    side, half = side_of(layout, post, hole), post.width / 2
    slopes = {face: layout.line.surfaces[index].slope for face, index in zip(FACES, _ends(hole), strict=True)}
    heights: dict[Side, Fraction] = {
        "before": hole.height - half * slopes["before"],
        "after": hole.height + half * slopes["after"],
    }
    return heights if side == "whole" else {side: heights[side]}


def _ends(hole: Hole) -> tuple[int, int]:
    return hole.surfaces[0], hole.surfaces[-1]


def close_holes(layout: Layout, post: PlacedPost) -> Iterator[Close]:
    """Find pairs of holes nearer to each other, centre to centre, than one strand's diameter and one mark.

    Strands of one surface are parallel, so that those on one face are as far apart there as anywhere. Two that
    come from opposite sides are held against each other on the faces, where their terminals stand back to back,
    and on the centre line, where the holes meet if each is drilled half way.
    """
    least = layout.job.strand.diameter + layout.job.mark
    placed = [(hole, face_heights(layout, post, hole)) for hole in post.holes]
    for one, other in combinations(placed, 2):
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
