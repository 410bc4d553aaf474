"""The guard as it is solved, stage by stage: surface line, layout, checked layout.

Frame: station s level along the guard line, increasing as the job lists its surfaces; elevation z up.
Stations, elevations and plumb heights are exact rationals in the job's unit. Lengths that involve a
square root (along or square to a slope) are floats in the same unit; angles are degrees.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import TYPE_CHECKING, Final, Literal, NamedTuple, TypeAlias

from stairguard.geometry.mitre import MirrorJoint
from stairguard.model.findings import ANYWHERE, Place
from stairguard.model.guard.opening_kinds import Touch, Where
from stairguard.model.guard.pieces import BearsOn, Comparison, Cuts, Run
from stairguard.model.guard.stance import SQUARE, Stance
from stairguard.model.guard.stock import StockPlan
from stairguard.model.guard.straight import StraightRail
from stairguard.model.guard.strand_deflection import GuardGive
from stairguard.model.job import Ending, Job, Landing, Surface
from stairguard.model.rules import Rule, RuleSet

if TYPE_CHECKING:  # pockets load numpy
    from stairguard.geometry.clearance.outline import Outline
    from stairguard.geometry.clearance.pockets import Pocket

__all__ = [
    "Change",
    "Check",
    "CheckedLayout",
    "Chord",
    "Drawn",
    "Effect",
    "Field",
    "Gap",
    "Hole",
    "Joint",
    "JointStrand",
    "Kind",
    "Layout",
    "Opening",
    "PlacedPost",
    "PlacedSurface",
    "PlanPoint",
    "Point",
    "RailLine",
    "Remedy",
    "Section",
    "Setting",
    "SurfaceLine",
    "Unguarded",
    "walked",
]

Role: TypeAlias = Literal["end", "line", "joint"]
Change: TypeAlias = Literal[
    "post station", "landing rail height", "flight rail height", "ramp rail height", "riser offset", "level piece"
]
Kind: TypeAlias = Literal["landing", "flight", "ramp"]


class Point(NamedTuple):
    """A place in the developed elevation: station and elevation, exact."""

    s: Fraction
    z: Fraction


_NOWHERE: Final = Point(Fraction(0), Fraction(0))


class PlanPoint(NamedTuple):
    """A place in plan, seen from above: x along the first surface, y to its left."""

    x: float
    y: float


@dataclass(frozen=True, slots=True)
class PlacedSurface:
    """One surface in the frame.

    ``nosings`` are in station order and empty but on flights. The datum is the nosing line on a flight,
    the surface itself elsewhere: the line through ``origin`` with ``slope`` (elevation per station, signed).
    ``heading_deg`` is its direction in plan from the first surface's, left positive, ``plan_start`` and ``plan_end``
    where it lies. ``edged`` says whether it is a ramp, or a landing next to one, whose edges are to be protected.
    """

    index: int
    kind: Kind
    given: Surface
    start: Point
    end: Point
    origin: Point
    slope: Fraction
    pitch_deg: float
    nosings: tuple[Point, ...]
    heading_deg: float
    plan_start: PlanPoint
    plan_end: PlanPoint
    edged: bool = False

    @property
    def carries(self) -> bool:
        """Whether a rail of its own runs over it: over a landing without a level piece the neighbours' rails do."""
        return not isinstance(self.given, Landing) or self.given.level_piece

    def datum(self, station: Fraction) -> Fraction:
        """Elevation of the nosing line, or of the surface, at a station."""
        return self.origin.z + (station - self.origin.s) * self.slope


@dataclass(frozen=True, slots=True)
class SurfaceLine:
    """All surfaces in place, end to end."""

    surfaces: tuple[PlacedSurface, ...]


@dataclass(frozen=True, slots=True)
class RailLine:
    """The rail over one surface: plumb heights above its datum, of top and underside, and where it runs.

    ``start`` and ``end`` are on the top of the rail: joint meeting points, post faces at a jog, or the
    line's ends. Over a landing without a level piece there is none: it starts and ends where the neighbours' rails
    meet, and its heights are the least there is over that landing.
    """

    surface: int
    height: Fraction
    underside: Fraction
    start: Point
    end: Point


@dataclass(frozen=True, slots=True)
class Field:
    """The strands over one surface: plumb heights of their centres above its datum, highest first.

    Strand number k (1 next under the rail) is ``heights[k - 1]``. A single strand has spacing zero.
    """

    surface: int
    heights: tuple[Fraction, ...]
    plumb_spacing: Fraction
    square_spacing: float


class Setting(NamedTuple):
    """A key of the job file, as `surface[2].rail_height`, and what to set it to: a length at a tape mark, or a flag."""

    key: str
    value: Fraction | bool


class Effect(NamedTuple):
    """What a remedy does besides: a jog of ``size`` at another joint (0: gone), or it ``breaks`` a rule.

    ``where`` is the joint's post, or what is broken there.
    """

    what: Literal["jog", "breaks"]
    where: str
    size: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Remedy:
    """One way to be rid of a jog: change ``what`` to ``value``, which is exact, by ``settings``, which are at marks.

    ``surface`` is the index of the one whose rail changes, None where no rail does. ``allowed`` is found by carrying it
    out as set: that guard can be laid out, the jog is gone, and nothing fails that did not before; None where nobody
    has tried. ``why`` is the reason, ``effects`` are what else comes of it; ``laid_out``: such a guard is.
    """

    what: Change
    value: Fraction
    allowed: bool | None
    why: str
    surface: int | None = None
    settings: tuple[Setting, ...] = ()
    effects: tuple[Effect, ...] = ()
    laid_out: bool = True


@dataclass(frozen=True, slots=True)
class Chord:
    """The way of strands between the two posts of a corner, straight from centre to centre and all parallel.

    ``level`` is its length in plan, ``length`` its own, ``sec`` length over level, ``slope`` what it climbs for one of
    level, along stations. In plan it is ``skew_deg`` from square to the posts' inner faces and comes out of a post
    ``reach`` half-widths from its centre, level along it, posts taken as deep as they are wide. ``bends_deg`` are the
    bends in space at the two posts. ``clear`` is what is between the posts, level along it, 0 where they touch.
    """

    level: float
    length: float
    sec: float
    slope: Fraction
    pitch_deg: float
    skew_deg: float
    reach: Fraction
    bends_deg: tuple[float, float]
    clear: Fraction


@dataclass(frozen=True, slots=True)
class JointStrand:
    """A strand at a joint post: where its line is at the post's centre; ``whole`` if it passes unbroken.

    ``surfaces`` are those it lies over: two where it is whole, one where it ends at the post. ``fitting`` says in plain
    words what carries it through or ends it; ``slopes_deg`` and ``skews_deg`` are its slope from level (signed, up
    along stations) and its angle in plan from square, at the post's faces before and after, None where it is not there.
    Of two posts those are the outer faces; what is between them is the joint's ``chord``. ``passed`` is what carries
    one through the post of its own leg that ends at the corner's other post, "" of any that does not: it bends at its
    own post by ``bend_deg``, on to the chord, and comes to the other's inner face ``end_skew_deg`` from square in plan,
    None of any that does not.
    """

    number: int
    station: Fraction
    elevation: Fraction
    bend_deg: float
    whole: bool
    surfaces: tuple[int, ...]
    fitting: str
    slopes_deg: tuple[float | None, float | None]
    skews_deg: tuple[float | None, float | None]
    passed: str = ""
    end_skew_deg: float | None = None


@dataclass(frozen=True, slots=True)
class Joint:
    """Where the rails of two surfaces meet.

    ``between`` are the surfaces, ``boundary`` the station of the nosing or edge between them, or of the plan turn.
    ``meets`` is where the tops of the two rails, produced in the developed elevation, cross; None where they run
    parallel and apart. ``from_nosing`` is its level distance from the flight's nosing at this joint, uphill positive
    (of two flights, the first). ``ends`` are the ends of both rails' tops. ``jog`` is how far the end of the gentler
    one's stands above the other's (of two of one pitch, the second's above the first's), and ``higher`` the surface
    whose rail is the higher; zero and None where there is none: what is less than half a mark is none, and ``apart`` is
    by how much the rail after then stands above the one before where they are mitred as one height. ``cut`` is the true
    mitre in space, None where there is none; ``mitred`` says whether the rails are cut to it, else they end on the
    post's faces, and ``advice`` says why. Where two posts make a plan turn ``station`` is the corner's, ``second_post``
    the other's label and ``chord`` how strands run between them. ``through`` is false where all strands end, with
    ``reason`` saying why. ``lap`` is how far from a corner, level along a leg, the rails of both legs lie in one
    another, so sharp is the turn, or mitred side by side, longer than a saw cuts; 0 where they do not.
    """

    between: tuple[int, int]
    boundary: Fraction
    turn_deg: float
    bend_deg: float
    mitre_deg: float
    meets: Point | None
    from_nosing: Fraction | None
    post: str
    station: Fraction
    jog: Fraction
    cut: MirrorJoint | None
    mitred: bool
    advice: str
    remedies: tuple[Remedy, ...]
    through: bool
    reason: str
    strands: tuple[JointStrand, ...]
    second_post: str | None = None
    chord: Chord | None = None
    ends: tuple[Point, Point] = (_NOWHERE, _NOWHERE)
    higher: int | None = None
    apart: Fraction = Fraction(0)
    lap: float = 0.0

    def own_post(self, strand: JointStrand) -> str:
        """Label of the post of a strand's own leg, of two the one that its first surface comes to."""
        return self.post if strand.surfaces[0] == self.between[0] else self.second_post or self.post

    def end_post(self, strand: JointStrand) -> str:
        """Label of the post where a strand that is not whole ends."""
        own = self.own_post(strand)
        if not strand.passed or self.second_post is None:
            return own
        return self.second_post if own == self.post else self.post


@dataclass(frozen=True, slots=True)
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


@dataclass(frozen=True, slots=True)
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


@dataclass(frozen=True, slots=True)
class Gap:
    """An opening of one width all along: between two strands, by their numbers, or between one and something rigid."""

    strands: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Drawn:
    """What bounds an opening, strands alone with a radius, and its pockets, the largest first."""

    outline: Outline
    pockets: tuple[Pocket, ...]


@dataclass(frozen=True, slots=True)
class Section:
    """An opening under one strand, by its number, drawn as designed and as marked: to be asked about other spheres.

    The frame is one that like openings share: x level, z up, from anywhere; ``way`` is 1 where x runs along stations,
    -1 against them.
    """

    strand: int
    way: int
    designed: Drawn
    marked: Drawn


@dataclass(frozen=True, slots=True)
class Opening:
    """The largest sphere through one opening, seen square to the guard.

    ``sphere`` is its diameter as designed, ``sphere_as_marked`` with every
    hole at its tape mark (never the kinder of the two at a tie: each verdict is exact).
    ``touches`` is what the sphere touches; ``contacts`` are the touched points, same order.
    ``passes`` is None where no rule applies; ``leave`` is the rule by whose leave it passes though its sphere is
    larger, None elsewhere. ``others`` are rules no stricter that speak to it too, with verdicts. ``bounds`` are what a
    strand that gives has to do with it, None where all around it is rigid. ``corner`` is the index of the joint whose
    two posts it is between, None elsewhere.
    """

    where: Where
    surface: int
    sphere: float
    sphere_as_marked: float
    rule: Rule | None
    passes: bool | None
    touches: tuple[Touch, ...]
    contacts: tuple[tuple[float, float], ...]
    centre: tuple[float, float]
    bounds: Gap | Section | None = field(default=None, repr=False, compare=False)
    corner: int | None = None
    leave: Rule | None = None
    others: tuple[tuple[Rule, bool], ...] = ()


@dataclass(frozen=True, slots=True)
class Unguarded:
    """Walking surface between an end post and the end of the line, beside which no part of the guard stands.

    It runs level from ``face``, the post's outer one, to ``edge``, both stations. ``marked`` is its length with the
    post at its mark, ``high`` the elevation of its highest tread or surface, ``drop`` how far that stands over the
    lowest of the line, or over where the greatest drop that the job states is. ``asked`` says whether the rules ask for
    a guard beside so much; where they do it is among the openings too, under the same ``where``.
    """

    where: Where
    surface: int
    post: str
    face: Fraction
    edge: Fraction
    marked: Fraction
    high: Fraction
    drop: Fraction
    asked: bool

    @property
    def length(self) -> Fraction:
        """How long it is, level."""
        return abs(self.edge - self.face)


@dataclass(frozen=True, slots=True)
class Layout:
    """A solved guard: everything placed, every opening measured.

    ``straight`` has, of each measured flight, the straight rails its nosings allow; ``stock`` a plan for each of
    ``"rail"``, ``"post"`` and ``"strand"`` that the job gives stock lengths for; ``give`` how every opening stands
    under the push, where the job gives one or a tension. ``closing`` is, where one post closes the line, the first post
    once more at the line's end, with the strands that come to it there. ``pack`` is what ``rules`` were picked from,
    for the site; ``laid_by`` the pack that decided the guard, None where that is the one it is held to.
    ``unguarded`` is what the guard leaves at the ends of its line.
    """

    job: Job
    rules: RuleSet
    line: SurfaceLine
    rails: tuple[RailLine, ...]
    fields: tuple[Field, ...]
    joints: tuple[Joint, ...]
    posts: tuple[PlacedPost, ...]
    openings: tuple[Opening, ...]
    runs: tuple[Run, ...]
    cuts: Cuts
    comparison: Comparison
    straight: tuple[StraightRail, ...]
    stock: tuple[tuple[str, StockPlan], ...]
    give: GuardGive | None = None
    closing: PlacedPost | None = None
    pack: RuleSet | None = None
    laid_by: RuleSet | None = None
    unguarded: tuple[Unguarded, ...] = ()

    @property
    def along(self) -> tuple[PlacedPost, ...]:
        """The posts as one walks past them: the one that a closed line starts and ends at twice."""
        return walked(self.posts, self.closing)


def walked(posts: tuple[PlacedPost, ...], closing: PlacedPost | None) -> tuple[PlacedPost, ...]:
    """Posts as one walks past them; ``closing`` is the first again where the line closes, with the strands there."""
    if closing is None:
        return posts
    first = posts[0]
    leaving = tuple(hole for hole in first.holes if hole not in closing.holes)
    return (replace(first, holes=leaving), *posts[1:], closing)


@dataclass(frozen=True, slots=True)
class Check:
    """One rule applied: ``value`` and ``limit`` in the job's unit, degrees for angles.

    ``quantity`` is what the rule is about in a pack's words, or in the job's ("post gap", "foot of post"); ``place`` is
    where it was found.
    """

    clause: str
    what: str
    value: float
    limit: float
    kind: str
    unit: str
    passes: bool
    status: str
    quantity: str = ""
    place: Place = ANYWHERE


@dataclass(frozen=True, slots=True)
class CheckedLayout:
    """A layout with every rule of its pack applied. ``passes``: no check or opening fails, and none gives way."""

    layout: Layout
    checks: tuple[Check, ...]
    cautions: tuple[str, ...]
    passes: bool
