"""A corner of a guard beside the stair, seen from above: the edge, the guard's own line so far out, and its posts.

Places are level: x along the walk of the surface before the corner, y to its left, from the corner of the guard's line.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from math import cos, hypot, radians, sin
from typing import Final, TypeAlias

from stairguard.model.guard.guard_openings import Opening
from stairguard.model.guard.opening_kinds import Where
from stairguard.model.guard.placed_posts import PlacedPost
from stairguard.model.guard.rail_joints import Joint
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface, PlanPoint
from stairguard.reports.words.grouping import groups

LevelPlace: TypeAlias = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerLeg:
    """One leg of a corner: its surface, and places from the corner outward.

    ``edge`` and ``line`` are the ends of the stair's edge and of the guard's line, that at the corner first; ``away``
    is the unit vector along the leg from the corner, ``outward`` the one from the edge to the line. ``nosings`` are
    where a flight's nosings come to its edge.
    """

    surface: PlacedSurface
    edge: tuple[LevelPlace, LevelPlace]
    line: tuple[LevelPlace, LevelPlace]
    away: LevelPlace
    outward: LevelPlace
    nosings: tuple[LevelPlace, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerPost:
    """A post at a corner: its label, its corners, and how far its centre is from the guard's, along its leg."""

    label: str
    centre: LevelPlace
    corners: tuple[LevelPlace, ...]
    along: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SideCorner:
    """A corner, the joints that are alike (the first is drawn), its two legs and its post or posts.

    ``outer`` says whether the guard is on the outside of the turn. ``past`` is how far the guard's corner is from the
    square beside the edge's, along either leg. ``opening`` is what it leaves round the corner, where that is more than
    along the legs, and ``centre`` its sphere's.
    """

    alike: tuple[Joint, ...]
    legs: tuple[CornerLeg, CornerLeg]
    posts: tuple[CornerPost, ...]
    outer: bool
    past: float
    opening: Opening | None
    centre: LevelPlace

    @property
    def joint(self) -> Joint:
        """The one that is drawn."""
        return self.alike[0]


def side_corners(layout: Layout) -> tuple[SideCorner, ...]:
    """The different corners of a guard that stands out from the stair on a stated hand; none of any other guard."""
    found = [_corner(layout, joint) for joint in layout.joints if joint.turn_deg and not joint.closes]
    beside = [corner for corner in found if corner.legs[0].surface.aside]
    return tuple(_together(same) for same in groups(beside, _likeness))


def _together(same: list[SideCorner]) -> SideCorner:
    first = same[0]
    return replace(first, alike=tuple(corner.joint for corner in same))


def _likeness(corner: SideCorner) -> tuple[object, ...]:
    kinds = tuple(leg.surface.kind for leg in corner.legs)
    feet = tuple((round(p.along, _DIGITS), *(round(v, _DIGITS) for at in p.corners for v in at)) for p in corner.posts)
    sphere = 0.0 if corner.opening is None else round(corner.opening.sphere, _DIGITS)
    return round(corner.joint.turn_deg, _DIGITS), corner.outer, kinds, feet, sphere


_DIGITS: Final = 6


def _corner(layout: Layout, joint: Joint) -> SideCorner:
    before, after = (layout.line.surfaces[index] for index in joint.between)
    turn = radians(before.heading_deg)
    at = before.plan_end

    def level(point: PlanPoint) -> LevelPlace:
        dx, dy = point.x - at.x, point.y - at.y
        return dx * cos(turn) + dy * sin(turn), dy * cos(turn) - dx * sin(turn)

    (first, last), (start, end) = before.edge_in_plan, after.edge_in_plan
    legs = (
        _leg(before, level, (last, first), (before.plan_end, before.plan_start), -1.0),
        _leg(after, level, (start, end), (after.plan_start, after.plan_end), 1.0),
    )
    opening = next((o for o in layout.openings if o.where == Where("round corner", surface=after.index)), None)
    return SideCorner(
        alike=(joint,),
        legs=legs,
        posts=tuple(_posts(layout, joint, legs)),
        outer=before.past > 0,
        past=float(before.past),
        opening=opening,
        centre=(0.0, 0.0) if opening is None else _beside(legs, opening),
    )


def _beside(legs: tuple[CornerLeg, CornerLeg], opening: Opening) -> LevelPlace:
    """The centre of a sphere, told by its station and how far out from the edge it is."""
    along = opening.centre[0] - float(legs[0].surface.end.s)
    leg = legs[0] if along < 0 else legs[1]
    inside = abs(float(leg.surface.aside)) - opening.out
    return (
        abs(along) * leg.away[0] - inside * leg.outward[0],
        abs(along) * leg.away[1] - inside * leg.outward[1],
    )


def _leg(
    surface: PlacedSurface,
    level: Callable[[PlanPoint], LevelPlace],
    edge: tuple[PlanPoint, PlanPoint],
    line: tuple[PlanPoint, PlanPoint],
    way: float,
) -> CornerLeg:
    """A leg; ``way`` is 1 where the walk goes away from the corner, -1 where it comes to it."""
    (ax, ay), (bx, by) = places = level(line[0]), level(line[1])
    length = hypot(bx - ax, by - ay)
    away = (bx - ax) / length, (by - ay) / length
    left = -way * away[1], way * away[0]
    side = 1.0 if surface.aside > 0 else -1.0
    corner = level(edge[0])
    stations = [float(point.s) for point in surface.nosings]
    begin = float(surface.edge_start.s if way > 0 else surface.edge_end.s)
    tips = tuple((corner[0] + abs(s - begin) * away[0], corner[1] + abs(s - begin) * away[1]) for s in stations)
    return CornerLeg(
        surface=surface,
        edge=(corner, level(edge[1])),
        line=places,
        away=away,
        outward=(side * left[0], side * left[1]),
        nosings=tips,
    )


def _posts(layout: Layout, joint: Joint, legs: tuple[CornerLeg, CornerLeg]) -> Iterator[CornerPost]:
    corner = float(legs[0].surface.end.s)
    for post in layout.posts_of(joint):
        along = float(post.station) - corner
        leg = legs[0] if along < 0 else legs[1]
        centre = abs(along) * leg.away[0], abs(along) * leg.away[1]
        yield CornerPost(label=post.label, centre=centre, corners=_square(post, joint, centre, along), along=abs(along))


def _square(post: PlacedPost, joint: Joint, centre: LevelPlace, along: float) -> tuple[LevelPlace, ...]:
    """Corners of a post, which is turned from square to the surface before it."""
    half = float(post.width) / 2
    turned = radians(post.stance.turned_deg + (joint.turn_deg if along > 0 else 0.0))
    c, s = half * cos(turned), half * sin(turned)
    x, y = centre
    return tuple((x + a * c - b * s, y + a * s + b * c) for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1)))
