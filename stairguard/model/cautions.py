"""What a guard gives reason to say, besides what is said with every result: facts, put into words by `reports`.

One caution is of one place; alike ones are told together. Surfaces are counted from 0, lengths are in the job's unit.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
from fractions import Fraction
from typing import Literal, TypeAlias

from stairguard.model.guard.guard_openings import Unguarded
from stairguard.model.guard.surfaces import SurfaceKind
from stairguard.model.reasons import Reason
from stairguard.model.rules import Amendment, OtherOccupancy
from stairguard.model.subjects import Subject


class PlainCaution(Enum):
    """What is said without a figure or a place."""

    NO_RULES = auto()
    """No pack was asked for."""
    LARGER_SPHERE = auto()
    """A verdict uses the larger sphere of a step triangle."""
    NO_TAKE_UPS = auto()
    """Nothing is deducted from strands for fittings."""
    TAKEN_AS_EXACT = auto()
    """Figures of an inspection without a +-."""
    ONLY_MEASURED = auto()
    """An inspection holds to the rules what was measured, and no more."""


@dataclass(frozen=True, slots=True)
class PostCaution:
    """What is said of one post, by its label."""

    post: str


@dataclass(frozen=True, slots=True)
class SurfaceCaution:
    """What is said of one surface."""

    surface: int


# The rules themselves.


@dataclass(frozen=True, slots=True)
class Amended:
    """A local change of a pack."""

    change: Amendment


@dataclass(frozen=True, slots=True)
class PackSays:
    """What a pack itself has said with every result."""

    text: str


Unread: TypeAlias = Literal["from memory", "secondary"]


@dataclass(frozen=True, slots=True)
class NotRead:
    """Clauses that a guard was held to and whose document was not read."""

    status: Unread
    clauses: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LeaveUsed:
    """Clauses by whose leave larger spheres pass under the lowest strand."""

    clauses: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class UnmetFigure:
    """What a figure is of that does not meet a bound, which need not bind."""

    what: Subject
    value: float
    kind: str
    limit: float
    unit: str


@dataclass(frozen=True, slots=True)
class OptionUnmet:
    """An optional clause that would not be met, and by which figures."""

    clause: str
    figures: tuple[UnmetFigure, ...]


@dataclass(frozen=True, slots=True)
class PracticeUnmet:
    """A figure that common practice has otherwise, and ``why`` that is no failure."""

    figure: UnmetFigure
    why: tuple[Reason, ...]


# Rails.


@dataclass(frozen=True, slots=True)
class LowNeighbour(SurfaceCaution):
    """The rail of a neighbour runs on over a surface, as low as ``least`` where ``clause`` asks for ``asked``."""

    kind: SurfaceKind
    clause: str
    least: Fraction
    asked: Fraction


@dataclass(frozen=True, slots=True)
class JogLeft(PostCaution):
    """Rails that do not meet by a plumb ``jog``."""

    jog: Fraction


@dataclass(frozen=True, slots=True)
class RailsLap(PostCaution):
    """A turn so sharp that the rails of both legs lie along one another, or in one another, so ``far`` from it."""

    far: float
    mitred: bool


@dataclass(frozen=True, slots=True)
class Crossed(SurfaceCaution):
    """A landing over which its neighbours' rails run on at their slopes, ``height`` above it at the lowest."""

    height: Fraction


# Strands and stock.


@dataclass(frozen=True, slots=True)
class LowerNotReached:
    """The lowest strand over one flight stops ``by`` lower, square, though it was ``asked`` to be lower than that."""

    flight: int
    asked: Fraction
    by: float


@dataclass(frozen=True, slots=True)
class HoleOverEdge(PostCaution):
    """A corner post so askew that holes come out over the edge of its face."""


@dataclass(frozen=True, slots=True)
class TooLong:
    """Pieces, by their labels, that no stock of their kind is long enough for."""

    what: str
    labels: tuple[str, ...]


# Posts, and what the guard leaves.


@dataclass(frozen=True, slots=True)
class FootAtCorner(PostCaution):
    """A post at the corner of a landing and steps, part of which stands beyond the landing."""


@dataclass(frozen=True, slots=True)
class FootOverhangs(PostCaution):
    """A post whose foot is over the edge of its tread or surface, level: moved ``by`` so much it stands clear."""

    by: Fraction


@dataclass(frozen=True, slots=True)
class AcrossNosing(PostCaution):
    """A post beside the stair that covers a nosing: its foot is ``below`` the lower tread or floor there, plumb.

    Less than zero: it ends above that one, beside the higher alone.
    """

    below: Fraction


@dataclass(frozen=True, slots=True)
class MustBear:
    """What the line ends on, which bears the pull of all strands."""

    supports: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CornerPulled:
    """A plan turn, by its one post or two, that the strands of both sides pull inwards."""

    posts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class UnguardedEnd:
    """Walking surface of a ``kind`` at the end of the line that the guard does not stand beside."""

    stretch: Unguarded
    kind: SurfaceKind


# What was surveyed.


@dataclass(frozen=True, slots=True)
class LastRiseAssumed(SurfaceCaution):
    """A flight measured going down whose lowest rise was not given."""


Caution: TypeAlias = (
    PlainCaution | Amended | PackSays | NotRead | LeaveUsed | OptionUnmet | PracticeUnmet | LowNeighbour
    | JogLeft | RailsLap | Crossed | LowerNotReached | HoleOverEdge | TooLong | FootAtCorner | FootOverhangs
    | AcrossNosing | MustBear | CornerPulled | UnguardedEnd | LastRiseAssumed | OtherOccupancy
)  # fmt: skip
