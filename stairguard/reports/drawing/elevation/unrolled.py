"""A closed line unrolled past its end, so that the joint where it closes has both its sides beside one another."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from stairguard.model.guard.placed_posts import PlacedPost
from stairguard.model.guard.rail_joints import Joint
from stairguard.model.guard.rails_and_strands import RailLine
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface, Point, SurfaceLine


def unrolled(layout: Layout, joint: Joint) -> tuple[Layout, Joint]:
    """The layout with all of its first surface moved on to the line's end, where the line closes at the joint.

    The joint as well: the rail that leaves it starts there.
    """
    if not joint.closes:
        return layout, joint
    first, *others = layout.line.surfaces
    by = layout.line.surfaces[-1].end.s - first.start.s
    rail, *rails = layout.rails
    kept = tuple(_moved(post, by) if post.station <= first.end.s else post for post in layout.posts)
    comes, leaves = joint.ends
    moved = replace(
        layout,
        line=SurfaceLine((_on(first, by), *others)),
        rails=(_rail_on(rail, by), *rails),
        posts=tuple(sorted(kept, key=lambda post: post.station)),
        closing=None,
    )
    return moved, replace(joint, ends=(comes, Point(leaves.s + by, leaves.z)))


def _on(surface: PlacedSurface, by: Fraction) -> PlacedSurface:
    start, end, origin = (Point(p.s + by, p.z) for p in (surface.start, surface.end, surface.origin))
    return replace(surface, start=start, end=end, origin=origin)


def _rail_on(rail: RailLine, by: Fraction) -> RailLine:
    return replace(rail, start=Point(rail.start.s + by, rail.start.z), end=Point(rail.end.s + by, rail.end.z))


def _moved(post: PlacedPost, by: Fraction) -> PlacedPost:
    return replace(post, station=post.station + by)
