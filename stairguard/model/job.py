"""The job: what a person asks for, checked and exact, before any geometry.

A rise typed in a job file becomes an exact length once, in `io`, and is never parsed again.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal, TypeAlias

from stairguard.model.site import NOWHERE, Site

Unit: TypeAlias = Literal["in", "mm"]
Sign: TypeAlias = Literal["any", "nonnegative", "positive"]
"""What a length may be."""
USUAL_MARK: Final[dict[Unit, Fraction]] = {"in": Fraction(1, 16), "mm": Fraction(1)}
"""The smallest mark of a tape that nothing is said of."""
Crossing: TypeAlias = Literal["through", "break"]
RailsMeet: TypeAlias = Literal["as-given", "flight-height"]
Ending: TypeAlias = Literal["post", "wall", "newel"]
Mount: TypeAlias = Literal["surface", "side"]
Hand: TypeAlias = Literal["left", "right"]
CornerPosts: TypeAlias = Literal["one", "two"]
BearingFace: TypeAlias = Literal["outer face", "inner face"]
CornerSquare: TypeAlias = Literal["halving line", "rails"]
Construction: TypeAlias = Literal["1x19", "7x7", "7x19"]
StrandMaterial: TypeAlias = Literal["316", "304", "galvanized"]
TensionSource: TypeAlias = Literal["measured", "set", "assumed"]
ProbeKind: TypeAlias = Literal["sphere", "cone"]
Frame: TypeAlias = Literal["steel", "stainless", "aluminium", "wood", "concrete", "rigid"]
WoodSpecies: TypeAlias = Literal[
    "white oak",
    "Douglas-fir, coast",
    "Douglas-fir, interior north",
    "Douglas-fir, interior west",
    "western redcedar",
    "loblolly pine",
    "longleaf pine",
    "shortleaf pine",
    "slash pine",
    "ipe",
]
Grain: TypeAlias = Literal["radial", "tangential"]
Seated: TypeAlias = Literal["inner face", "centre"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rail:
    """The top rail.

    Heights are plumb, to the top of the rail: ``height`` from nosing line or ramp, ``landing_height``
    from a landing. ``depth`` is square to the rail. ``meet`` says what gives where rails of the given
    heights cannot meet at a post: nothing (``"as-given"``, the jog is stated) or the flight's height
    (``"flight-height"``, solved so that no jog is left; ``height`` is then where the search starts).
    ``weight`` is of one unit of length, in pounds or kilograms by the job's unit; None where not known.
    """

    height: Fraction
    landing_height: Fraction
    depth: Fraction
    width: Fraction
    meet: RailsMeet
    weight: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Handrail:
    """What hands hold, each length None where not stated.

    ``height`` is plumb, over nosing line or ramp, of a handrail apart from the top rail, ``landing_height`` over
    landings (both None: the top rail is what hands hold). ``diameter`` is a round one's; ``perimeter`` and ``across``,
    its greatest width, are those of any other section. ``clearance`` is to whatever stands beside it.
    """

    height: Fraction | None = None
    landing_height: Fraction | None = None
    diameter: Fraction | None = None
    perimeter: Fraction | None = None
    across: Fraction | None = None
    clearance: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Strand:
    """The infill: ``spacing`` is the largest centre distance, square. Take-ups are per fitting.

    ``longest_run`` between two terminals and ``angle_changes`` in one run limit how strands are split; None and
    the figure zero are kept apart (zero: every run is straight). ``largest_bend`` is the most, in degrees, that the
    job's pass-through fittings turn a strand. ``tensioner_travel`` is how far one tensioner draws the strand in,
    ``lead`` by how much in one turn (None where not known). ``lower`` is by how much, square, a flight's lowest strand
    stands lower than its opening at rest allows: what it takes to hold a push. ``shortest`` is the least cut length
    that hand and press tool can make into a strand with its two fittings (None: no limit).

    ``tension`` at rest is a force (lbf or N by the job's unit), None where nothing is known of it, and never used
    without its ``source``. ``stiffness`` (EA), ``breaking_force`` and ``weight`` (pounds or kilograms of one unit of
    length) stand in for what the construction and material give, where not None.
    """

    diameter: Fraction
    spacing: Fraction
    at_joints: Crossing
    terminal_take_up: Fraction
    tensioner_take_up: Fraction
    longest_run: Fraction | None = None
    angle_changes: int | None = None
    largest_bend: float = 60.0
    tensioner_travel: Fraction = Fraction(0)
    lead: Fraction | None = None
    lower: Fraction = Fraction(0)
    construction: Construction = "1x19"
    material: StrandMaterial = "316"
    stiffness: Fraction | None = None
    breaking_force: Fraction | None = None
    weight: Fraction | None = None
    tension: Fraction | None = None
    source: TensionSource = "assumed"
    shortest: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Post:
    """Posts: ``width`` along the guard, ``max_gap`` clear along the strands, ``setback`` behind a nosing.

    ``mount`` says what carries them: the walking surface, on which they stand wholly, or the stair's side, where
    their foot is ``drop`` below the surface, plumb, and the strands' plane ``offset`` out from the side, level.
    ``hand`` is the side of the walk on which the guard stands, as the surfaces are listed: so far out, the guard is
    longer or shorter than the stair's edge at every plan turn (None: not stated, which a straight line can do without).
    ``corner`` is how many posts make a plan turn, each of two ``corner_offset`` from the corner along its own leg. One
    stands square to what ``corner_square`` says: the line that halves the turn, or as nearly as may be both rails.
    ``sleeves`` line the holes, ``sleeve_diameter`` across their outside (None: twice the strand). ``weight`` is as in
    `Rail`. ``bearing`` is the face that the fittings at strands' ends bear on: away from the strand, through the post,
    or the one it comes to (None: the outer one of posts that end the line, the inner one of all others).
    """

    width: Fraction
    max_gap: Fraction
    setback: Fraction
    mount: Mount = "surface"
    drop: Fraction = Fraction(0)
    offset: Fraction = Fraction(0)
    corner: CornerPosts = "one"
    corner_offset: Fraction = Fraction(0)
    sleeves: bool = False
    weight: Fraction | None = None
    sleeve_diameter: Fraction | None = None
    bearing: BearingFace | None = None
    corner_square: CornerSquare = "halving line"
    hand: Hand | None = None

    @property
    def out(self) -> Fraction:
        """How far the strands' plane stands out from the edge of the stair, level."""
        return self.offset if self.mount == "side" else Fraction(0)

    @property
    def handed(self) -> bool:
        """Whether it is told on which hand a guard on the stair's side stands: then its corners are known in space."""
        return self.mount == "side" and self.hand is not None

    @property
    def aside(self) -> Fraction:
        """The same to the left of the stair's edge as one walks, negative to its right; 0 where no hand is stated."""
        return {"left": self.out, "right": -self.out, None: Fraction(0)}[self.hand]


@dataclass(frozen=True, slots=True, kw_only=True)
class Push:
    """The force that must not open the guard, and what it is applied with.

    ``force`` is a force, None where the job asks for none: then openings are judged with strands at rest. The probe is
    a sphere of diameter ``sphere`` (None: each opening's own limit) or a cone that ends in a cylinder of that diameter.
    ``friction`` is the coefficient between it and what it touches. ``post_stiffness`` and ``anchor_stiffness`` are the
    forces that bring one post, and the anchor of one strand, nearer by one unit of length (None: rigid).
    """

    force: Fraction | None = None
    probe: ProbeKind = "sphere"
    sphere: Fraction | None = None
    friction: Fraction = Fraction(0)
    post_stiffness: Fraction | None = None
    anchor_stiffness: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Climate:
    """What slackens strands: temperatures in degrees Celsius, moistures of wood in percent of its dry weight.

    The strand has the job's tension at ``now``. ``frame`` is what holds the posts apart along the guard, each material
    with its share of the length, which add up to 1. ``wood`` is the posts' species (None: they do not shrink), whose
    widths change along the guard across their ``grain`` from one moisture to the other; ``seated`` says what of an end
    post stays put as it shrinks, its inner face against a rail fitted between the posts, or its centre. ``settling`` is
    the part of its length by which a strand stretches once for all after the tension was set.
    """

    now: Fraction
    coldest: Fraction
    warmest: Fraction
    frame: tuple[tuple[Frame, Fraction], ...]
    wood: str | None = None
    grain: Grain = "tangential"
    moisture_from: Fraction = Fraction(0)
    moisture_to: Fraction = Fraction(0)
    seated: Seated = "inner face"
    settling: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Stock:
    """Lengths that rails, posts and strands are bought in, and what one cut wastes. Empty: no plan asked for."""

    rail: tuple[Fraction, ...] = ()
    post: tuple[Fraction, ...] = ()
    strand: tuple[Fraction, ...] = ()
    kerf: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Landing:
    """A level surface; ``turn`` is the plan turn made at its start, degrees, left positive.

    On every surface: ``rail_height`` is its own rail's height in place of the job's; ``posts`` are the level
    distances from its start to the centres of its line posts (None: the layout places them); ``start_post`` the
    same of the joint or end post at its start. Without a ``level_piece`` the rails and strands of the surfaces before
    and after run on over the landing and meet there; it may then have no ``length`` along the line, at a corner post
    where both flights start. ``depth`` is its own, in the direction of travel, where the guard line does not show it
    (None: not stated).
    """

    length: Fraction
    turn: float
    rail_height: Fraction | None = None
    posts: tuple[Fraction, ...] | None = None
    start_post: Fraction | None = None
    level_piece: bool = True
    depth: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Flight:
    """Equal steps. ``rise`` is positive also when ``down``; ``tread`` is the nosing's thickness."""

    risers: int
    rise: Fraction
    run: Fraction
    nosing: Fraction
    tread: Fraction
    open_risers: bool
    down: bool
    turn: float
    rail_height: Fraction | None = None
    posts: tuple[Fraction, ...] | None = None
    start_post: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredFlight:
    """Steps as surveyed: ``nosings`` are (level, plumb) from the end of the surface before, in station order.

    They climb, or fall where ``down``; the highest is the edge of the upper landing. ``last_rise`` is, of a flight
    that goes down, the plumb distance from its lowest nosing to the lower landing (None: the mean of its other rises).
    """

    nosings: tuple[tuple[Fraction, Fraction], ...]
    nosing: Fraction
    tread: Fraction
    open_risers: bool
    down: bool
    turn: float
    last_rise: Fraction | None = None
    rail_height: Fraction | None = None
    posts: tuple[Fraction, ...] | None = None
    start_post: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Ramp:
    """A sloping surface: level ``length`` and signed ``rise`` (negative goes down)."""

    length: Fraction
    rise: Fraction
    turn: float
    rail_height: Fraction | None = None
    posts: tuple[Fraction, ...] | None = None
    start_post: Fraction | None = None


Surface: TypeAlias = Landing | Flight | MeasuredFlight | Ramp


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One guard line to lay out. ``mark`` is the smallest tape mark, ``rules`` the pack asked for.

    ``site`` is what it states of its place and use, for the rules' conditions. ``start`` and ``end`` say how the line
    ends there: on a post of its own, at a wall, or on a newel that stands. Where it is ``closed`` it has no ends: the
    last surface comes back to the first one's start, at a corner. ``handrail`` is what hands hold.
    """

    title: str
    unit: Unit
    mark: Fraction
    rules: str
    rail: Rail
    strand: Strand
    post: Post
    surfaces: tuple[Surface, ...]
    start: Ending = "post"
    end: Ending = "post"
    stock: Stock = Stock()
    push: Push = Push()
    climate: Climate | None = None
    site: Site = NOWHERE
    handrail: Handrail = Handrail()
    closed: bool = False

    @property
    def holes_apart(self) -> Fraction:
        """How near two holes of a post may come, centre to centre: one strand and one mark, else they may meet."""
        return self.strand.diameter + self.mark
