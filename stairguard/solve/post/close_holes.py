"""Holes of one post that come too close for what passes through them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from stairguard.model.guard.placed_posts import CloseHoles, Face, Hole


def close_holes(holes: Sequence[Hole], least: Fraction) -> Iterator[tuple[int, int, CloseHoles]]:
    """Find pairs of holes nearer to each other, centre to centre, than ``least``, and their places among the holes.

    Strands of one surface are parallel, so that those on one face are as far apart there as anywhere. Two that
    come from opposite sides are held against each other on the faces, where their terminals stand back to back,
    and on the centre line, where the holes meet if each is drilled half way. The two ends of a strand that is broken at
    the post share one hole and are no such pair.

    Parameters
    ----------
    holes : of one post, from the top down
    least : a strand's diameter and a mark
    """
    # faces are no nearer to one another than the centres by more than this
    spread = 2 * max((abs(face.height - hole.height) for hole in holes for face in hole.crossed), default=Fraction(0))
    for i, one in enumerate(holes):
        for j in range(i + 1, len(holes)):
            other = holes[j]
            if one.height - other.height >= least + spread:
                break
            if one.broken and other.broken and one.strand == other.strand:
                continue
            close = _closest(one, other)
            if close.gap < least:
                yield i, j, close


def _closest(one: Hole, other: Hole) -> CloseHoles:
    """Two holes where they are closest."""
    shared = [(a, b) for a, b in zip(one.faces, other.faces, strict=True) if a is not None and b is not None]
    found = [CloseHoles(one, other, _apart(a, b), "one face") for a, b in shared]
    if not shared:
        found.append(CloseHoles(one, other, _apart(one.crossed[0], other.crossed[0]), "opposite faces"))
    found.append(CloseHoles(one, other, abs(one.height - other.height), "centre line"))
    return min(found, key=lambda close: close.gap)


def _apart(one: Face, other: Face) -> Fraction:
    return abs(one.height - other.height)
