"""A guard solved whole, and then held to its rules."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from stairguard.geometry.slope import secant
from stairguard.model.findings import ANYWHERE, Location
from stairguard.model.guard.opening_kinds import OF_THE_GUARD
from stairguard.model.guard.placed_posts import PlacedPost, walked
from stairguard.model.outcome import Outcome, of_passes
from stairguard.relations.printed.by_slope import square_of_plumb

if TYPE_CHECKING:  # loaded by whatever makes them: few guards have all
    from fractions import Fraction

    from stairguard.model.cautions import Caution
    from stairguard.model.guard.guard_openings import Opening, Unguarded
    from stairguard.model.guard.pieces import Comparison, Cuts, StrandRun, Travel
    from stairguard.model.guard.rail_joints import Joint
    from stairguard.model.guard.rails_and_strands import Field, RailLine
    from stairguard.model.guard.stock import StockPlan
    from stairguard.model.guard.straight import StraightRail
    from stairguard.model.guard.strand_deflection import GuardGive
    from stairguard.model.guard.surfaces import SurfaceLine
    from stairguard.model.job import Job
    from stairguard.model.rules import RuleSet
    from stairguard.model.subjects import Subject

WIRE_TABLE: Final = "NCC wire table (D2.16a; 3.9.2.1 to 2019)"
"""The clause of the published table of tensions."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """A solved guard: everything placed, every opening measured.

    ``straight`` has, of each measured flight, the straight rails its nosings allow; ``stock`` a plan for each of
    ``"rail"``, ``"post"`` and ``"strand"`` that the job gives stock lengths for; ``give`` how every opening stands
    under the push, where the job gives one or a tension. ``closing`` is, where one post closes the line, the first post
    once more at the line's end, with the strands that come to it there. ``pack`` is what ``rules`` were picked from,
    for the site; ``laid_by`` the pack that decided the guard, None where that is the one it is held to.
    ``unguarded`` is what the guard leaves at the ends of its line. ``travel`` is how far tensioners draw the longest
    run in, where the job says how far they draw.
    """

    job: Job
    rules: RuleSet
    line: SurfaceLine
    rails: tuple[RailLine, ...]
    fields: tuple[Field, ...]
    joints: tuple[Joint, ...]
    posts: tuple[PlacedPost, ...]
    openings: tuple[Opening, ...]
    runs: tuple[StrandRun, ...]
    cuts: Cuts
    comparison: Comparison
    straight: tuple[StraightRail, ...]
    stock: tuple[tuple[str, StockPlan], ...]
    give: GuardGive | None = None
    closing: PlacedPost | None = None
    pack: RuleSet | None = None
    laid_by: RuleSet | None = None
    unguarded: tuple[Unguarded, ...] = ()
    travel: Travel | None = None

    @property
    def along(self) -> tuple[PlacedPost, ...]:
        """The posts as one walks past them: the one that a closed line starts and ends at twice."""
        return walked(self.posts, self.closing)

    @property
    def asks_push(self) -> bool:
        """Whether the job names a force that openings are to hold."""
        return self.give is not None and self.give.push.force is not None

    def lift(self, surface: int) -> Fraction:
        """How far over its datum the underside of the lowest strand of a surface that has strands stands, square."""
        low, slope = self.fields[surface].heights[-1], self.line.surfaces[surface].slope
        return square_of_plumb(low, secant(slope)) - self.job.strand.diameter / 2

    def apart(self, opening: Opening) -> bool:
        """Whether what bounds an opening is not in one plane: part of the stair, and strands that stand out from it."""
        return bool(self.job.post.out) and any(touch.part not in OF_THE_GUARD for touch in opening.touches)

    def posts_of(self, joint: Joint) -> tuple[PlacedPost, ...]:
        """The post that makes a joint, or the two of a corner, as one comes to them."""
        found = {post.label: post for post in self.posts}
        return tuple(found[label] for label in joint.labels)

    def past_edge_of_turn(self, post: PlacedPost) -> bool:
        """Whether a post alone makes a plan turn at the edge of steps and stands partly beyond it."""
        if post.joint is None or post.clear is None or post.clear >= 0 or self.job.post.mount != "surface":
            return False
        joint = self.joints[post.joint]
        return bool(joint.turn_deg) and joint.second_post is None

    def joint_of(self, post: PlacedPost) -> Joint | None:
        """The joint that a post makes, alone or as one of two."""
        return None if post.joint is None else self.joints[post.joint]

    def neighbours(self, post: PlacedPost) -> tuple[str, str]:
        """Labels of the posts before and after one, "" where it is at an end of the guard; a closed line goes round."""
        posts, round_on = self.posts, self.job.closed
        place = bisect_left(posts, post.station, key=lambda other: other.station)
        near = [posts[i % len(posts)].label if round_on or 0 <= i < len(posts) else "" for i in (place - 1, place + 1)]
        return near[0], near[1]

    def rail_tops_at(self, post: PlacedPost) -> tuple[Fraction, ...]:
        """Heights of the rails' tops above a post's base, where they end on its two faces; empty where they do not."""
        joint = self.joint_of(post)
        if joint is None or joint.mitred or joint.second_post is not None:
            return ()
        ends = self.rails[joint.between[0]].end, self.rails[joint.between[1]].start
        return tuple(end.z - post.base for end in ends)


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One rule applied to ``what`` a figure is of: ``value`` and ``limit`` in the job's unit, degrees for angles.

    ``quantity`` is what the rule is about in a pack's words, or in the job's ("post gap", "foot of post"); ``place`` is
    where it was found. One that is not ``binding`` is an option, which no guard fails by.
    """

    clause: str
    what: Subject
    value: float
    limit: float
    kind: str
    unit: str
    passes: bool
    status: str
    quantity: str = ""
    place: Location = ANYWHERE
    binding: bool = True


@dataclass(frozen=True, slots=True)
class CheckedLayout:
    """A layout with every rule of its pack applied.

    ``passes``: no check or opening fails, and none gives way; None where nothing fails, but the push that the job asks
    for is not solved at every opening.
    """

    layout: Layout
    checks: tuple[Check, ...]
    cautions: tuple[Caution, ...]
    passes: bool | None

    @property
    def outcome(self) -> Outcome:
        """What came of it."""
        return "incomplete" if self.passes is None else of_passes(self.passes)

    @property
    def tabled(self) -> tuple[Check, ...]:
        """The checks by a published table of tensions."""
        return tuple(check for check in self.checks if check.clause == WIRE_TABLE)
