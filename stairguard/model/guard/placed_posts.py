"""Posts where they stand, and the holes in them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal, TypeAlias

from stairguard.model.guard.pieces import BearsOn
from stairguard.model.guard.stance import SQUARE, Stance
from stairguard.model.job import Ending

__all__ = ["Hole", "PlacedPost", "by_surface", "walked"]

Role: TypeAlias = Literal["end", "line", "joint"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """A hole for one strand, heights plumb above the post's base.

    ``height`` on the post's centre line, ``marked`` the same rounded to the tape; ``low_face`` and
    ``high_face`` where the strand's axis crosses the post's two faces, the lower first. ``drill_deg`` is
    the tilt from level, positive where the strand rises in the direction of stations; at a joint post ``before_deg``
    and ``after_deg``, signed alike, tell the two sides apart, and it is the steeper's (the first of two as steep).
    ``surfaces`` are those whose strand uses it. ``broken`` where one run ends and the next begins. ``bears`` is what
    the end of a run bears on that comes to the post from before, and what that of one that leaves it, along stations;
    None where there is no such end.
    """

    strand: int
    height: Fraction
    marked: Fraction
    drill_deg: float
    before_deg: float
    after_deg: float
    low_face: Fraction
    high_face: Fraction
    surfaces: tuple[int, ...]
    broken: bool = False
    bears: tuple[BearsOn | None, BearsOn | None] = (None, None)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedPost:
    """A plumb post: centre ``station``, ``base`` elevation, ``length`` to the rail's underside on its centre.

    ``bevels_deg`` are the signed slopes of its top before and after ``bevel_break``, the level distance from the
    centre line, along stations, at which the underside of mitred rails turns (zero where the top is one plane).
    ``edges`` are the top's heights above the base at the faces before and after. ``stands_on`` is the surface's
    index; ``step`` the number of the tread, 1 next above the lower landing, or None on a landing and of a wall or newel
    at an end of a flight, whose base is the floor there. ``clear`` is how far
    its foot is inside the surface it stands on, level, at the nearer of the two edges along the guard (negative: it
    overhangs), None where no edge is near. ``joint`` is the index of the joint it makes, if any. ``support`` is what
    it is: a post of ours, or the wall or standing newel that the line ends on (then there is nothing to cut).
    ``stance`` is how it stands in plan; its faces, as said above, are where what comes to it meets its sides.
    """

    label: str
    role: Role
    station: Fraction
    base: Fraction
    width: Fraction
    length: Fraction
    bevels_deg: tuple[float, float]
    bevel_break: Fraction
    edges: tuple[Fraction, Fraction]
    stands_on: int
    step: int | None
    holes: tuple[Hole, ...]
    clear: Fraction | None = None
    joint: int | None = None
    support: Ending = "post"
    stance: Stance = SQUARE

    @property
    def half(self) -> Fraction:
        """From its centre to its faces, level along what comes to it."""
        return self.width / 2 * self.stance.reach


def walked(posts: tuple[PlacedPost, ...], closing: PlacedPost | None) -> tuple[PlacedPost, ...]:
    """Posts as one walks past them; ``closing`` is the first again where the line closes, with the strands there."""
    if closing is None:
        return posts
    first = posts[0]
    leaving = tuple(hole for hole in first.holes if hole not in closing.holes)
    return (replace(first, holes=leaving), *posts[1:], closing)


def by_surface(posts: tuple[PlacedPost, ...]) -> dict[int, list[PlacedPost]]:
    """Posts that hold strands of each surface, in station order."""
    found: dict[int, list[PlacedPost]] = {}
    for post in posts:
        for index in sorted({i for hole in post.holes for i in hole.surfaces}):
            found.setdefault(index, []).append(post)
    return found
