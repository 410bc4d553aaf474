"""Where the foot of a post stands partly beyond what carries it."""

from __future__ import annotations

from stairguard.model.guard.placed_posts import PlacedPost
from stairguard.model.guard.solved_layout import Layout

__all__ = ["at_edge_of_turn"]


def at_edge_of_turn(layout: Layout, post: PlacedPost) -> bool:
    """Whether a post alone makes a plan turn at the edge of steps and stands partly beyond it."""
    if post.joint is None or post.clear is None or post.clear >= 0 or layout.job.post.mount != "surface":
        return False
    joint = layout.joints[post.joint]
    return bool(joint.turn_deg) and joint.second_post is None
