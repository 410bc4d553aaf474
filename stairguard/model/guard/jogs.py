"""Ways to be rid of a jog: what to change, by which keys of the job file, and what else comes of it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
from fractions import Fraction
from typing import Literal, NamedTuple, TypeAlias

from stairguard.model.guard.opening_kinds import Where
from stairguard.model.subjects import Subject


class Altered(Enum):
    """What a remedy alters about the guard, or the stair."""

    POST_STATION = auto()
    LANDING_RAIL_HEIGHT = auto()
    FLIGHT_RAIL_HEIGHT = auto()
    RAMP_RAIL_HEIGHT = auto()
    RISER_OFFSET = auto()
    LEVEL_PIECE = auto()


class Setting(NamedTuple):
    """A key of one surface of the job file, the surface by its index, and its value: at a tape mark, or a flag."""

    surface: int
    key: Literal["start_post", "rail_height", "length", "level_piece"]
    value: Fraction | bool


@dataclass(frozen=True, slots=True)
class CheckFails:
    """A check that fails: of ``what``, against a bound of its ``kind``."""

    clause: str
    what: Subject
    value: float
    kind: str
    limit: float


@dataclass(frozen=True, slots=True)
class OpeningFails:
    """An opening through which too large a ``sphere`` passes, as marked."""

    clause: str
    where: Where
    sphere: float


@dataclass(frozen=True, slots=True)
class PushFails:
    """The push that the job asks for is not held."""


Breach: TypeAlias = CheckFails | OpeningFails | PushFails


@dataclass(frozen=True, slots=True)
class JogElsewhere:
    """Besides, a jog of ``size`` is left at another joint's post; 0: the one that was there is gone."""

    post: str
    size: Fraction


@dataclass(frozen=True, slots=True)
class Breaks:
    """Something fails that did not before."""

    breach: Breach


@dataclass(frozen=True, slots=True)
class Within:
    """Nothing fails that did not before, by this pack; "": by none."""

    rules: str


@dataclass(frozen=True, slots=True)
class JogStays:
    """A jog of this size is left at the joint itself."""

    size: Fraction
    unit: str


@dataclass(frozen=True, slots=True)
class NoSuchGuard:
    """The guard cannot be laid out, and what the solver says of it."""

    said: str


@dataclass(frozen=True, slots=True)
class EdgesApart:
    """The edges of both sides stand only so far apart."""

    between: Fraction
    unit: str


class Barred(Enum):
    """Why nobody need try."""

    RAIL_ON_GROUND = auto()
    NO_LANDING_BETWEEN = auto()
    """Without one, crossed by its neighbours' rails, there is no length to change."""


Effect: TypeAlias = JogElsewhere | Breaks
RemedyReason: TypeAlias = Within | Breaks | JogStays | NoSuchGuard | EdgesApart | Barred


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy:
    """One way to be rid of a jog: alter ``what`` to ``value``, which is exact, by ``settings``, which are at marks.

    ``surface`` is the index of the one whose rail changes, None where no rail does. ``allowed`` is found by carrying it
    out as set: that guard can be laid out, the jog is gone, and nothing fails that did not before; None where nobody
    has tried. ``why`` is the reason, ``effects`` are what else comes of it. ``tried_at`` is the
    post of a joint alike, where what is told names surfaces and posts as tried there; "" else.
    """

    what: Altered
    value: Fraction
    allowed: bool | None
    why: RemedyReason | None
    surface: int | None = None
    settings: tuple[Setting, ...] = ()
    effects: tuple[Effect, ...] = ()
    tried_at: str = ""
