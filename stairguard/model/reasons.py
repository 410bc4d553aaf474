"""Why a finding neither passes nor fails, or by what it passes: facts, put into words by `reports`."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
from fractions import Fraction
from typing import TypeAlias

from stairguard.model.site import Condition


class Why(Enum):
    """Reasons that say all there is; of a few a rule's own note goes on: `Noted`."""

    ENGINEER = auto()
    """A load: nothing here designs for it."""
    DROP_UNSTATED = auto()
    UNSTATED_HANDRAIL = auto()
    UNTOLD_BY_JOB = auto()
    UNTOLD_BY_FIGURES = auto()
    ROUND = auto()
    NOT_ROUND = auto()
    DEPTH_UNSHOWN = auto()
    """A landing at a turn, of which the guard line does not show how deep it is in the direction of travel."""
    FOOT_AT_CORNER = auto()
    LARGER_SPHERE = auto()
    """The larger sphere of a step triangle was used."""
    NEAR_LIMIT = auto()
    CONTACT_MAY_CHANGE = auto()
    PUSH_APART = auto()
    """Strands stand out from the stair: between them and it the probe's way and its push are not in one plane."""
    ABOVE_GUARD = auto()
    """An opening wholly above the height that a guard has to have."""
    WITHIN_TAPE = auto()
    FEW_HEIGHTS = auto()
    STRANDS_CLIMBED = auto()
    MEMBERS_CLIMBED = auto()
    NO_MEMBERS = auto()
    NO_TOLERANCE = auto()


@dataclass(frozen=True, slots=True)
class Noted:
    """A reason that a rule's note goes on."""

    why: Why
    note: str


@dataclass(frozen=True, slots=True)
class Option:
    """A rule that is but an option, or ``practice`` that no document asks for, with what its note says."""

    note: str
    practice: bool


@dataclass(frozen=True, slots=True)
class Unsaid:
    """The site does not state what it turns on whether a rule binds."""

    conditions: tuple[Condition, ...]


@dataclass(frozen=True, slots=True)
class NotMeasured:
    """Nothing was measured, on these surfaces or, without any, of the whole guard."""

    surfaces: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Required:
    """A drop asks for a guard; ``within`` is the reach that it is taken to lie in, where none is stated."""

    within: Fraction | None
    unit: str


@dataclass(frozen=True, slots=True)
class NoGuardAsked:
    """A drop asks for no guard: it is not deep enough, or too ``far`` from the edge."""

    far: bool


@dataclass(frozen=True, slots=True)
class FallPastEnd:
    """The fall past the end of a guard, as far as the job tells, which asks for none."""

    drop: Fraction
    unit: str


@dataclass(frozen=True, slots=True)
class ByLeave:
    """A sphere passes though it is larger, by leave of a clause of this status: the lowest edge is low enough."""

    clause: str
    status: str


@dataclass(frozen=True, slots=True)
class DepthStatedBy:
    """By what a job would state the depth of a landing: the key of this surface; None: of one that is to be added."""

    surface: int | None


Reason: TypeAlias = (
    Why | Noted | Option | Unsaid | NotMeasured | Required | NoGuardAsked | FallPastEnd | ByLeave | DepthStatedBy
)
