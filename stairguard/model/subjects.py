"""What a figure is of, and at which spot of a guard: facts, put into words by `reports`.

Surfaces are counted from 0 here; nosings, risers, runs and steps from 1, the lowest first; strands from 1, the topmost
first.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal, TypeAlias

from stairguard.model.apart_from_place import LABEL, PLACE
from stairguard.model.guard.opening_kinds import Where
from stairguard.model.guard.surfaces import SurfaceKind

SizeQuantity: TypeAlias = Literal[
    "landing length", "ramp slope", "ramp rise", "riser", "run", "step comfort", "nosing projection", "pitch",
    "flight rise", "post gap", "strand spacing", "lowest edge", "handrail height",
]  # fmt: skip
"""Rules' quantities that are one figure of one surface."""
OfOne: TypeAlias = SizeQuantity | Literal["landing depth"]
GripQuantity: TypeAlias = Literal["handrail size", "handrail perimeter", "handrail across", "handrail clearance"]
"""Rules' quantities of the section that hands hold, and of the room beside it."""
OfWhole: TypeAlias = GripQuantity | Literal["handrail heights", "push", "post gap", "strand spacing"]
OfPosts: TypeAlias = Literal["corner gap", "corner spacing", "longest run", "most bends"]
RailMeant: TypeAlias = Literal["top rail", "top rail as handrail", "handrail"]
SeveralOf: TypeAlias = Literal["riser", "run", "nosing projection"]
"""What a flight has several of, that may differ."""
Each: TypeAlias = Literal["nosing", "riser", "run", "step"]


@dataclass(frozen=True, slots=True)
class Numbered:
    """A surface as it is named: by its number and kind."""

    index: int = field(metadata=PLACE)
    kind: SurfaceKind


# Spots: where on a surface, or on the guard, a figure was found.


@dataclass(frozen=True, slots=True)
class Nth:
    """One nosing, riser, run or step of a flight, from the lowest up."""

    each: Each
    number: int


@dataclass(frozen=True, slots=True)
class AtPost:
    """One post, by its label."""

    post: str = field(metadata=LABEL)


@dataclass(frozen=True, slots=True)
class AtPosts:
    """Two posts and what lies between them."""

    first: str = field(metadata=LABEL)
    last: str = field(metadata=LABEL)


@dataclass(frozen=True, slots=True)
class AtStrand:
    """One strand, counted from the rail down."""

    number: int


@dataclass(frozen=True, slots=True)
class TakenAt:
    """Where an inspector says that a figure was taken, in his own words; a difference was taken at two such places."""

    places: tuple[str, ...]


# Subjects: what a figure is of.


@dataclass(frozen=True, slots=True)
class OfSurface:
    """What is measured of one surface; None where an inspector says of none."""

    surface: Numbered | None


@dataclass(frozen=True, slots=True)
class Size(OfSurface):
    """One figure that a surface has; ``number`` where it is one riser, run or step of several.

    A landing's ``"landing length"`` is its length along the line, its ``"landing depth"`` what the job states or what
    cannot be told of it. A ``"post gap"`` is the widest clear one over the surface, a ``"handrail height"`` one that is
    stated, not measured.
    """

    quantity: OfOne
    number: int | None = None


@dataclass(frozen=True, slots=True)
class Height(OfSurface):
    """Plumb height of a rail over a surface, or over one nosing of a measured flight."""

    rail: RailMeant
    nosing: int | None = None


@dataclass(frozen=True, slots=True)
class Differences(OfSurface):
    """The largest difference of a flight's steps, and the numbers of the two; None of steps given as equal."""

    each: SeveralOf
    between: tuple[int, int] | None = None


@dataclass(frozen=True, slots=True)
class Extension(OfSurface):
    """How far the rail runs on past the top or the bottom of a slope: at that slope, or on the level."""

    top: bool
    sloping: bool


@dataclass(frozen=True, slots=True)
class Sphere(OfSurface):
    """The largest sphere through an opening of a guard as designed, and how many openings are alike."""

    where: Where
    count: int = field(metadata=PLACE)


@dataclass(frozen=True, slots=True)
class PastEnd(OfSurface):
    """A stretch past the end of the guard, so long on the level."""

    where: Where
    length: Fraction
    unit: str


@dataclass(frozen=True, slots=True)
class MeasuredSphere(OfSurface):
    """The largest sphere through an opening as measured; ``place`` as a pack has it, ``at`` as the inspector says."""

    place: str
    at: str


@dataclass(frozen=True, slots=True)
class TakenFigure(OfSurface):
    """A figure taken on site; ``place`` as a pack has it, ``at`` as the inspector says, either may be empty."""

    quantity: str
    place: str
    at: str


@dataclass(frozen=True, slots=True)
class MeasuredDifferences(OfSurface):
    """The largest difference of several figures of one kind that were taken on a flight."""

    each: SeveralOf


@dataclass(frozen=True, slots=True)
class WholeGuard:
    """What is told of the guard as a whole, or of its handrail: the section that hands hold, the room beside it."""

    of: OfWhole


@dataclass(frozen=True, slots=True)
class BetweenPosts:
    """What is told of two posts: the gap or strands' spacing between a corner's, or a run from one to the other."""

    posts: AtPosts
    of: OfPosts


@dataclass(frozen=True, slots=True)
class Foot:
    """How far inside its surface a post stands: the nearest of all to an edge, or one at a landing's corner."""

    post: AtPost
    corner: bool = False


@dataclass(frozen=True, slots=True)
class LowestHole:
    """The lowest hole of a post, over its foot."""

    post: AtPost


@dataclass(frozen=True, slots=True)
class BetweenFlights:
    """The level depth between two flights that follow one another, by the indices of their surfaces."""

    first: int
    second: int


@dataclass(frozen=True, slots=True)
class ShortStrands:
    """Strands between two posts that are cut to fit between their fittings."""

    strands: tuple[int, ...]
    posts: AtPosts


@dataclass(frozen=True, slots=True)
class LevelWires:
    """The tension of level strands by a wire table's cell: up to a spacing and a bay; not ``permitted``: by none."""

    spacing: Fraction
    bay: Fraction
    unit: str
    permitted: bool


@dataclass(frozen=True, slots=True)
class StrandsInBand:
    """Strands between two heights; ``within`` are how many, and the surfaces over which so many are.

    ``low`` None is the surface, ``high`` None the rail.
    """

    low: Fraction | None
    high: Fraction | None
    unit: str
    within: tuple[tuple[int, tuple[int, ...]], ...]


@dataclass(frozen=True, slots=True)
class MembersInBand:
    """Members measured between two heights, each with where it is; ``high`` None is the rail."""

    low: Fraction
    high: Fraction | None
    unit: str
    within: tuple[tuple[Fraction, str], ...]


@dataclass(frozen=True, slots=True)
class Fall:
    """The plumb fall beside the guard, where an inspector says it was measured, or ""."""

    at: str


@dataclass(frozen=True, slots=True)
class Openings:
    """A kind of opening, as a pack has it, none of which was measured."""

    place: str


@dataclass(frozen=True, slots=True)
class RuledQuantity:
    """What a rule is about, where nothing was measured for it."""

    quantity: str
    place: str


@dataclass(frozen=True, slots=True)
class RuledLoad:
    """A load that a rule asks for, as its pack words it."""

    note: str


Spot: TypeAlias = Nth | AtPost | AtPosts | AtStrand | TakenAt | BetweenFlights | ShortStrands | Where | Literal[""]
"""Where on a surface, or on the guard, a figure was found; "" where nothing is said."""

Subject: TypeAlias = (
    Size | Height | Differences | Extension | Sphere | PastEnd | MeasuredSphere
    | TakenFigure | MeasuredDifferences | WholeGuard | BetweenPosts | Foot | LowestHole
    | BetweenFlights | ShortStrands | LevelWires | StrandsInBand | MembersInBand | Fall | Openings | RuledQuantity
    | RuledLoad
)  # fmt: skip
