"""What a guard is made from: runs of strand, pieces to cut, fittings, and what they come to.

Lengths that involve a square root are floats in the job's unit; angles are degrees.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

from stairguard.model.guard.passages import Ended

Pass: TypeAlias = Literal["straight", "one plane", "compound"]
"""What carries a strand through a post: straight on, or by an angle in one plane or in two."""
Fitting: TypeAlias = Pass | Literal["terminal", "tensioner"]

CutKind: TypeAlias = Literal["square", "plumb", "mitre", "plan mitre", "compound"]
LongPoint: TypeAlias = Literal["top", "underside", "neither", "outside", "inside"]
BearsOn: TypeAlias = Literal["outer face", "inner face", "wall", "newel"]
"""What an end of a strand bears on: the post's face away from it, the one it comes to, or the wall or newel itself."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StrandRun:
    """One strand from terminal to terminal: ``length`` between bearing faces, ``cut_length`` less take-ups.

    ``ends`` are why it starts and ends where it does. ``tensioner`` is the label of the post that holds the
    tensioner, at the end nearer to the longest bay; ``longest_bay`` is that bay's clear length along the strand,
    ``bays`` are all, from post to post. ``bears`` is what its fittings bear on at its two ends.
    """

    strand: int
    surfaces: tuple[int, ...]
    posts: tuple[str, ...]
    angle_changes: int
    length: float
    cut_length: float
    ends: tuple[Ended, Ended]
    bears: tuple[BearsOn, BearsOn]
    tensioner: str
    longest_bay: float
    bays: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Travel:
    """The longest run, and the ``percent`` of it that one tensioner draws in: of any other it is more."""

    run: StrandRun
    percent: float


@dataclass(frozen=True, slots=True, kw_only=True)
class EndCut:
    """How a rail piece ends: ``angle_deg`` is from square across the rail (a plumb cut's equals the pitch).

    A ``mitre`` leans in the rail's plumb plane, a ``plan mitre`` of a level corner across its top. A ``compound`` cut
    does both: with the rail laid flat ``angle_deg`` is the mitre across its top and ``tilt_deg`` the blade's tilt. They
    make a mitre, or an end that bears on the face of a post that stands askew. The long point of these two is outside
    the turn, or inside: on that ``side`` of the rail, seen along stations, and of a compound cut at that ``edge``.
    """

    kind: CutKind
    angle_deg: float
    long_point: LongPoint
    tilt_deg: float = 0.0
    side: Literal["left", "right", ""] = ""
    edge: Literal["top", "underside", ""] = ""

    @property
    def across(self) -> bool:
        """Whether it turns across the rail's top."""
        return self.kind in ("plan mitre", "compound")


@dataclass(frozen=True, slots=True, kw_only=True)
class RailCut:
    """Equal rail pieces: ``length`` along the top, ``underside`` along the bottom, ``longest`` point to point.

    ``marked`` is the longest at its tape mark: totals and stock count every piece by what is marked.
    """

    label: str
    count: int
    surfaces: tuple[int, ...]
    length: float
    underside: float
    longest: float
    start_cut: EndCut
    end_cut: EndCut
    marked: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class PostCut:
    """Equal posts. ``long_edge`` and ``short_edge`` are the most and least of its length anywhere under its top.

    They are at its edges, at the ridge or valley of a top of two slopes, and where mitred rails climb through a plan
    turn at its corners, the post taken as deep as it is wide. ``marked`` is the long edge at its tape mark.
    """

    label: str
    count: int
    posts: tuple[str, ...]
    length: Fraction
    bevels_deg: tuple[float, float]
    long_edge: Fraction
    short_edge: Fraction
    marked: Fraction


@dataclass(frozen=True, slots=True)
class StrandPiece:
    """A piece of a strand, by its number: from the first to the second of its ``posts``; of a sleeve, in its one."""

    strand: int
    posts: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StrandCut:
    """Equal strands, cut to ``length`` (take-ups off), which is ``marked`` on the tape; or sleeves."""

    label: str
    count: int
    strands: tuple[StrandPiece, ...]
    length: float
    marked: Fraction


@dataclass(frozen=True, slots=True)
class FittingCount:
    """Fittings of one kind, and how many."""

    kind: Fitting
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Cuts:
    """Everything to be cut, grouped, and what the counts come to. Totals add up the marked lengths.

    ``sleeve_total`` is the length of sleeves, one a hole that a strand goes through, and zero where none are asked
    for. Weights are in pounds or kilograms by the job's unit, None where the job does not give the weight of a length.
    """

    rails: tuple[RailCut, ...]
    posts: tuple[PostCut, ...]
    strands: tuple[StrandCut, ...]
    strand_total: Fraction
    rail_total: Fraction
    post_total: Fraction
    terminals: int
    tensioners: int
    angle_fittings: int
    holes: int
    fittings: tuple[FittingCount, ...]
    sleeves: tuple[StrandCut, ...]
    sleeve_total: Fraction
    strand_weight: float
    rail_weight: float | None
    post_weight: float | None

    def rail_over(self, surface: int) -> RailCut:
        """The rail piece over a surface that has one."""
        return next(rail for rail in self.rails if surface in rail.surfaces)


@dataclass(frozen=True, slots=True, kw_only=True)
class WayTotals:
    """What one way at the joints comes to: counts, and the total of the strands' cut lengths as marked."""

    at_joints: str
    strands: int
    runs: int
    terminals: int
    tensioners: int
    angle_fittings: int
    holes: int
    strand_total: Fraction


@dataclass(frozen=True, slots=True)
class Comparison:
    """Strands whole through joints against strands that end there; ``chosen`` is the job's.

    A way that cannot be laid out is None, and ``why`` says so.
    """

    through: WayTotals | None
    ended: WayTotals | None
    chosen: str
    why: str
