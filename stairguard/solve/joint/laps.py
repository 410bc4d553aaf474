"""At a sharp turn the rails of both legs lie along or in one another: how far from the corner.

Seen from above each leg's rail is a strip as wide as the rail. Their inner edges cross half a width times the tangent
of half the turn from the corner: so long is a mitre, and so far rails that end at the joint lie in one another. At a
quarter-turn that is half a width, as wide as a rail's end is: the joint itself. Where the two climb unlike, height
parts them sooner.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, radians, sin
from typing import Final, TypeAlias

from stairguard.geometry.slope import secant
from stairguard.relations.printed import scalars
from stairguard.relations.printed.by_slope import rail_plumb_depth
from stairguard.solve.joint.rail_meeting import HALF_TURN, Meeting, Rails

_Point: TypeAlias = tuple[float, float]
_Side: TypeAlias = tuple[float, float, float]
"""What lies on one side of a line: a x + b y is no more than c."""

_ROUNDED: Final = 1e-9  # of a rail's width
_LARGEST_MITRE: Final = 60
"""Degrees from square, about as far as mitre saws turn: common practice, no source."""


def lap(rails: Rails, meeting: Meeting, ends: Sequence[float], mitred: bool) -> float:
    """How far from a corner, level along a leg, the rails of both legs lie in one another; 0 where they do not.

    Mitred rails lie side by side so far, and point as far beyond the corner: told of a mitre that no saw cuts. A
    half-turn, whose legs lie in one line, is told as such. A leg counts as far as its surface.

    Parameters
    ----------
    ends : stations where the two rails end
    """
    turn, width = abs(meeting.turn_deg), float(rails.job.rail.width)
    if not 0 < turn < HALF_TURN:
        return 0.0
    corner = float(meeting.station)
    legs = corner - float(meeting.before.start.s), float(meeting.after.end.s) - corner
    if mitred:
        return scalars.mitre_point(width / 2, turn / 2) if turn / 2 > _LARGEST_MITRE else 0.0
    within = _lapped(rails, meeting, (corner - ends[0], ends[1] - corner), legs)
    away = radians(HALF_TURN - turn)
    reach = max((max(x, x * cos(away) + y * sin(away)) for x, y in within), default=0.0)
    return reach if reach > width / 2 + float(rails.job.mark) else 0.0


def _lapped(rails: Rails, meeting: Meeting, starts: tuple[float, float], legs: tuple[float, float]) -> Sequence[_Point]:
    """Where both rails are, seen from above: x along the leg before from the corner, y to the side of the leg after."""
    half = float(rails.job.rail.width) / 2
    away = radians(HALF_TURN - abs(meeting.turn_deg))
    ux, uy = cos(away), sin(away)
    first, second = meeting.before, meeting.after
    # what the first rail's top stands above the second's: over the corner, and more by x and y
    over = float(rails.top(first, meeting.station) - rails.top(second, meeting.station))
    falls, climbs = float(first.slope), float(second.slope)
    by_x, by_y = -falls - climbs * ux, -climbs * uy
    deep = [rail_plumb_depth(float(rails.job.rail.depth), float(secant(surface.slope))) for surface in (first, second)]
    outline: list[_Point] = [(starts[0], -half), (legs[0], -half), (legs[0], half), (starts[0], half)]
    for side in (
        (-ux, -uy, -starts[1]), (ux, uy, legs[1]), (-uy, ux, half), (uy, -ux, half),
        (by_x, by_y, deep[0] - over), (-by_x, -by_y, deep[1] + over),
    ):  # fmt: skip
        outline = _cut(outline, side)
    wide = [max(at[axis] for at in outline) - min(at[axis] for at in outline) for axis in (0, 1)] if outline else [0.0]
    return outline if min(wide) > _ROUNDED * half else ()


def _cut(outline: Sequence[_Point], side: _Side) -> list[_Point]:
    """A convex outline's part on one side of a line."""
    a, b, c = side
    if a == b == 0:  # level rails, of which one lies wholly over the other: what only touches is apart
        return list(outline) if c > _ROUNDED else []
    kept: list[_Point] = []
    for k, (x, y) in enumerate(outline):
        before, here = a * outline[k - 1][0] + b * outline[k - 1][1] - c, a * x + b * y - c
        if before * here < 0:
            part = before / (before - here)
            (px, py) = outline[k - 1]
            kept.append((px + part * (x - px), py + part * (y - py)))
        if here <= 0:
            kept.append((x, y))
    return kept
