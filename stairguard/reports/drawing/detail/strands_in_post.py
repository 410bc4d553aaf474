"""Strands inside a joint's post: where they, or their fittings, go through, and on which face their ends bear."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from stairguard.model.guard.placed_posts import Hole, PlacedPost
from stairguard.model.guard.rail_joints import Joint
from stairguard.model.guard.solved_layout import Layout
from stairguard.reports.drawing.paper.clip import Pair
from stairguard.reports.drawing.paper.drafting import lines_on
from stairguard.reports.drawing.paper.scene import INK, Circle, Part, Rect, View


def strands_in_post(layout: Layout, joint: Joint, post: PlacedPost, view: View, room: Rect) -> Iterator[Part]:
    """Draw strands inside a post: dashed where they, or their fittings, go through, a dot on the face an end bears on.

    Those that pass the corner come to both faces of each of its two posts, and may end at one of them.
    """
    for hole in post.holes:
        centre = float(post.station), float(post.base + hole.height)
        faces = _faces(layout, joint, post, hole)
        if "inner face" not in hole.bears:
            for face in faces.values():
                yield from lines_on(view, "dashed", (centre, face), f"strand {hole.strand} in {post.label}", room)
        for side in faces:
            bears = hole.bears[side]
            if bears is None:
                continue
            at = view.to_paper(*faces[1 - side if bears == "outer face" else side])
            if at is not None and room.bottom + 1 < at.y < room.top - 1:
                across = _leads_across(joint, post, hole, side)
                over = "across the corner" if across else f"of surface {hole.surfaces[0] + 1}"
                yield Circle(at, 0.8, None, INK, f"strand {hole.strand} {over} ends at {post.label}")


def _faces(layout: Layout, joint: Joint, post: PlacedPost, hole: Hole) -> dict[int, Pair]:
    """Where a hole's axis is at each face it crosses, 0 before and 1 after; of a corner's two posts its leg's first.

    What leads from one of the two to the other does so as it is drawn, unrolled.
    """
    found = {}
    for side in (1, 0) if post.label == joint.second_post else (0, 1):
        face, out = hole.faces[side], post.half if side else -post.half
        if face is not None:
            across = _leads_across(joint, post, hole, side)
            height = hole.height + out * _drawn_slope(layout, joint, post, hole) if across else face.height
            found[side] = float(post.station + out), float(post.base + height)
    return found


def _leads_across(joint: Joint, post: PlacedPost, hole: Hole, side: int) -> bool:
    """Whether a strand leaves a post on that side for the other post of its corner."""
    if joint.second_post is None or hole.passage.side != "both":
        return False
    return side == (0 if post.label == joint.second_post else 1)


def _drawn_slope(layout: Layout, joint: Joint, post: PlacedPost, hole: Hole) -> Fraction:
    """What a strand between the two posts of a corner climbs along stations as it is drawn, from centre to centre."""
    other = next(one for one in layout.posts_of(joint) if one != post)
    beyond = next(one for one in other.holes if one.strand == hole.strand)
    return (other.base + beyond.height - post.base - hole.height) / (other.station - post.station)
