"""The guard as it is solved, stage by stage: surface line, layout, checked layout.

Frame: station s level along the guard line, increasing as the job lists its surfaces; elevation z up.
Stations, elevations and plumb heights are exact rationals in the job's unit. Lengths that involve a
square root (along or square to a slope) are floats in the same unit; angles are degrees.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, NamedTuple, TypeAlias

from stairguard.model.job import Job, Surface
from stairguard.model.rules import Rule, RuleSet

__all__ = [
    "Change",
    "Check",
    "CheckedLayout",
    "Cuts",
    "EndCut",
    "Field",
    "Hole",
    "Joint",
    "JointStrand",
    "Layout",
    "LongPoint",
    "Opening",
    "PlacedPost",
    "PlacedSurface",
    "Point",
    "PostCut",
    "RailCut",
    "RailLine",
    "Remedy",
    "Run",
    "StrandCut",
    "SurfaceLine",
]

Role: TypeAlias = Literal["end", "line", "joint"]
LongPoint: TypeAlias = Literal["top", "underside", "neither"]
Change: TypeAlias = Literal["post station", "landing rail height", "flight rail height"]


class Point(NamedTuple):
    """A place in the developed elevation: station and elevation, exact."""

    s: Fraction
    z: Fraction


@dataclass(frozen=True, slots=True)
class PlacedSurface:
    """One surface in the frame.

    ``nosings`` are in station order and empty but on flights. The datum is the nosing line on a flight,
    the surface itself elsewhere: the line through ``origin`` with ``slope`` (elevation per station, signed).
    """

    index: int
    kind: Literal["landing", "flight", "ramp"]
    given: Surface
    start: Point
    end: Point
    origin: Point
    slope: Fraction
    pitch_deg: float
    nosings: tuple[Point, ...]

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
    line's ends.
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


@dataclass(frozen=True, slots=True)
class Remedy:
    """One way to be rid of a jog: change ``what`` to ``value``; ``allowed`` and ``why`` as rules and room say."""

    what: Change
    value: Fraction
    allowed: bool
    why: str


@dataclass(frozen=True, slots=True)
class JointStrand:
    """A strand at a joint post: where its line is at the post's centre; ``whole`` if it passes unbroken.

    ``surfaces`` are those it lies over: two where it is whole, one where it ends at the post.
    """

    number: int
    station: Fraction
    elevation: Fraction
    bend_deg: float
    whole: bool
    surfaces: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Joint:
    """Where two surfaces' rails meet.

    ``meets`` is where the two rails' tops, produced, cross. ``from_nosing`` is its level distance from
    the flight's nosing at this joint, uphill positive. ``jog`` is how far the landing's rail stands above
    the flight's at the post (zero when the post is at ``meets``). ``through`` is false where all strands
    end, with ``reason`` saying why.
    """

    between: tuple[int, int]
    turn_deg: float
    bend_deg: float
    mitre_deg: float
    meets: Point
    from_nosing: Fraction | None
    post: str
    station: Fraction
    jog: Fraction
    remedies: tuple[Remedy, ...]
    through: bool
    reason: str
    strands: tuple[JointStrand, ...]


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole for one strand, heights plumb above the post's base.

    ``height`` on the post's centre line, ``marked`` the same rounded to the tape; ``low_face`` and
    ``high_face`` where the strand's axis crosses the post's two faces, the lower first. ``drill_deg`` is
    the tilt from level; at a joint post ``before_deg`` and ``after_deg`` (signed, uphill positive in
    the direction of stations) tell the two sides apart. ``surfaces`` are those whose strand uses it.
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


@dataclass(frozen=True, slots=True)
class PlacedPost:
    """A plumb post: centre ``station``, ``base`` elevation, ``length`` to the rail's underside on its centre.

    ``bevels_deg`` are the signed slopes of its top before and after ``bevel_break``, the level distance from the
    centre line, along stations, at which the underside of mitred rails turns (zero where the top is one plane).
    ``edges`` are the top's heights above the base at the faces before and after. ``stands_on`` is the surface's
    index; ``step`` the number of the tread, 1 next above the lower landing, or None on a landing.
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


@dataclass(frozen=True, slots=True)
class Opening:
    """The largest sphere through one opening, seen square to the guard.

    ``where`` in the trade's words; ``sphere`` its diameter as designed, ``sphere_as_marked`` with every
    hole at its tape mark (never the kinder of the two at a tie: each verdict is exact).
    ``touches`` names what the sphere touches; ``contacts`` are the touched points, same order.
    ``passes`` is None where no rule applies.
    """

    where: str
    surface: int
    sphere: float
    sphere_as_marked: float
    rule: Rule | None
    passes: bool | None
    touches: tuple[str, ...]
    contacts: tuple[tuple[float, float], ...]
    centre: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Run:
    """One strand from terminal to terminal: ``length`` between bearing faces, ``cut_length`` less take-ups."""

    strand: int
    surfaces: tuple[int, ...]
    posts: tuple[str, ...]
    angle_changes: int
    length: float
    cut_length: float


@dataclass(frozen=True, slots=True)
class EndCut:
    """How a rail piece ends: ``angle_deg`` is from square across the rail (a plumb cut's equals the pitch)."""

    kind: Literal["square", "plumb", "mitre"]
    angle_deg: float
    long_point: LongPoint


@dataclass(frozen=True, slots=True)
class RailCut:
    """Equal rail pieces: ``length`` along the top, ``underside`` along the bottom, ``longest`` point to point."""

    label: str
    count: int
    surfaces: tuple[int, ...]
    length: float
    underside: float
    longest: float
    start_cut: EndCut
    end_cut: EndCut


@dataclass(frozen=True, slots=True)
class PostCut:
    """Equal posts. ``long_edge`` and ``short_edge`` differ by the top's bevel across the width."""

    label: str
    count: int
    posts: tuple[str, ...]
    length: Fraction
    bevels_deg: tuple[float, float]
    long_edge: Fraction
    short_edge: Fraction


@dataclass(frozen=True, slots=True)
class StrandCut:
    """Equal strands, cut to ``length`` (take-ups off)."""

    label: str
    count: int
    strands: tuple[str, ...]
    length: float


@dataclass(frozen=True, slots=True)
class Cuts:
    """Everything to be cut, grouped, and what the counts come to."""

    rails: tuple[RailCut, ...]
    posts: tuple[PostCut, ...]
    strands: tuple[StrandCut, ...]
    strand_total: float
    rail_total: float
    terminals: int
    tensioners: int
    angle_fittings: int
    holes: int


@dataclass(frozen=True, slots=True)
class Layout:
    """A solved guard: everything placed, every opening measured."""

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


@dataclass(frozen=True, slots=True)
class Check:
    """One rule applied: ``value`` and ``limit`` in the job's unit, degrees for angles."""

    clause: str
    what: str
    value: float
    limit: float
    kind: str
    unit: str
    passes: bool
    status: str


@dataclass(frozen=True, slots=True)
class CheckedLayout:
    """A layout with every rule of its pack applied. ``passes`` is true when no check and no opening fails."""

    layout: Layout
    checks: tuple[Check, ...]
    cautions: tuple[str, ...]
    passes: bool
