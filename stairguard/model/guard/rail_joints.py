"""Where the rails of two surfaces meet, and how each strand comes to the post there."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

from stairguard.geometry.mitre import MirrorJoint
from stairguard.model.guard.passages import Bar, Ended
from stairguard.model.guard.pieces import Fitting, Pass
from stairguard.model.guard.rails_and_strands import Chord
from stairguard.model.guard.surfaces import Point

if TYPE_CHECKING:  # few guards have a jog
    from stairguard.model.guard.jogs import Remedy

Unmitred: TypeAlias = Literal["turned back", "different heights", "different lines", "half-turn", "twisted"]
"""Why rails end on the post: they turn back on themselves, come to its faces at two heights, or at one height but not
to one line, make a half-turn, or their sections would be twisted by the true mitre."""

_NOWHERE: Final = Point(Fraction(0), Fraction(0))


@dataclass(frozen=True, slots=True)
class JointNosing:
    """The nosing of a flight at a joint: its ``number`` on its surface, uphill from 1, and its ``station``.

    ``way`` is 1 where the flight climbs along stations, -1 where it falls.
    """

    surface: int
    number: int
    station: Fraction
    way: Literal[1, -1]

    def uphill(self, station: Fraction) -> Fraction:
        """How far uphill of it a station lies, level; negative downhill."""
        return (station - self.station) * self.way


@dataclass(frozen=True, slots=True, kw_only=True)
class JointStrand:
    """A strand at a joint post: where its line is at the post's centre; why it has ``ended`` there, None: it passes.

    ``surfaces`` are those it lies over: two where it passes, one where it ends at the post. ``fitting`` is what carries
    it through, or through each of two posts, or ends it; ``slopes_deg`` and ``skews_deg`` are its slope from level
    (signed, up along stations) and its angle in plan from square, at the post's faces before and after, None where it
    is not there. Of two posts those are the outer faces; what is between them is the joint's ``chord``. ``passed`` is
    what carries one through the post of its own leg that ends at the corner's other post, None of any that does not:
    it bends at its own post by ``bend_deg``, on to the chord, and comes to the other's inner face ``end_skew_deg`` from
    square in plan, None of any that does not. ``pull`` is the force on what carries it through a joint's one post, as a
    part of its tension.
    """

    number: int
    station: Fraction
    elevation: Fraction
    bend_deg: float
    ended: Ended | None
    surfaces: tuple[int, ...]
    fitting: Fitting
    slopes_deg: tuple[float | None, float | None]
    skews_deg: tuple[float | None, float | None]
    passed: Pass | None = None
    end_skew_deg: float | None = None
    pull: float = 0.0

    @property
    def whole(self) -> bool:
        """Whether it passes unbroken."""
        return self.ended is None


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """Where the rails of two surfaces meet.

    ``between`` are the surfaces, ``boundary`` the station of the nosing or edge between them, or of the plan turn.
    ``meets`` is where the tops of the two rails, produced in the developed elevation, cross; None where they run
    parallel and apart. ``nosing`` is the flight's at this joint, of two flights the first's, None where no flight
    meets. ``ends`` are the ends of both rails' tops. ``jog`` is how far the end of the gentler
    one's stands above the other's (of two of one pitch, the second's above the first's), and ``higher`` the surface
    whose rail is the higher; zero and None where there is none: what is less than half a mark is none, and ``apart`` is
    by how much the rail after then stands above the one before where they are mitred as one height. ``cut`` is the true
    mitre in space, None where there is none; ``unmitred`` is why the rails are not cut to it and end on the post's
    faces, None where they are mitred. Where two posts make a plan turn ``station`` is the corner's, ``second_post``
    the other's label and ``chord`` how strands run between them. ``barred`` is why all strands end there, None where
    they may pass. ``lap`` is how far from a corner, level along a leg, the rails of both legs lie in one
    another, so sharp is the turn, or mitred side by side, longer than a saw cuts; 0 where they do not.
    """

    between: tuple[int, int]
    boundary: Fraction
    turn_deg: float
    bend_deg: float
    mitre_deg: float
    meets: Point | None
    nosing: JointNosing | None
    post: str
    station: Fraction
    jog: Fraction
    cut: MirrorJoint | None
    unmitred: Unmitred | None
    remedies: tuple[Remedy, ...]
    barred: Bar | None
    strands: tuple[JointStrand, ...]
    second_post: str | None = None
    chord: Chord | None = None
    ends: tuple[Point, Point] = (_NOWHERE, _NOWHERE)
    higher: int | None = None
    apart: Fraction = Fraction(0)
    lap: float = 0.0

    @property
    def mitred(self) -> bool:
        """Whether the rails are cut to the true mitre."""
        return self.unmitred is None

    @property
    def from_nosing(self) -> Fraction | None:
        """How far uphill of the nosing the rails meet, level, negative downhill; None without either."""
        return None if self.nosing is None or self.meets is None else self.nosing.uphill(self.meets.s)

    @property
    def edge(self) -> Fraction:
        """Station of the nosing there, else of the edge or plan turn."""
        return self.boundary if self.nosing is None else self.nosing.station

    @property
    def by_height(self) -> tuple[int, int]:
        """At a jog, the surface whose rail is the higher, and the other."""
        before, after = self.between
        return (before, after) if self.higher == before else (after, before)

    @property
    def closes(self) -> bool:
        """Whether the line closes there."""
        return self.between[1] < self.between[0]

    @property
    def through(self) -> bool:
        """Whether strands may pass it."""
        return self.barred is None

    @property
    def labels(self) -> tuple[str, ...]:
        """Labels of its post, or its two, as one comes to them."""
        return (self.post,) if self.second_post is None else (self.post, self.second_post)

    @property
    def whole(self) -> tuple[JointStrand, ...]:
        """The strands that pass it."""
        return tuple(strand for strand in self.strands if strand.whole)

    @property
    def ended(self) -> tuple[JointStrand, ...]:
        """The strands that end there."""
        return tuple(strand for strand in self.strands if not strand.whole)

    def side_of(self, strand: JointStrand) -> Literal[0, 1]:
        """On which side a strand that ends there lies: 0 before, 1 after."""
        return 0 if strand.surfaces[0] == self.between[0] else 1

    def own_post(self, strand: JointStrand) -> str:
        """Label of the post of a strand's own leg, of two the one that its first surface comes to."""
        return self.labels[-1] if self.side_of(strand) else self.post

    def end_post(self, strand: JointStrand) -> str:
        """Label of the post where a strand that is not whole ends."""
        own = self.own_post(strand)
        if strand.passed is None or self.second_post is None:
            return own
        return self.second_post if own == self.post else self.post
