"""Ways to be rid of a jog: what to change, by which keys of the job file, and what else comes of it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, NamedTuple, TypeAlias

__all__ = [
    "Breaks",
    "Change",
    "EdgesApart",
    "Effect",
    "JogLeft",
    "NotLaidOut",
    "Remedy",
    "Setting",
    "Why",
    "WithinRules",
]

Change: TypeAlias = Literal[
    "post station", "landing rail height", "flight rail height", "ramp rail height", "riser offset", "level piece"
]


class Setting(NamedTuple):
    """A key of the job file, as `surface[2].rail_height`, and what to set it to: a length at a tape mark, or a flag."""

    key: str
    value: Fraction | bool


class Effect(NamedTuple):
    """What a remedy does besides: a jog of ``size`` at another joint (0: gone), or it ``breaks`` a rule.

    ``where`` is the joint's post, or what is broken there. ``tried_at`` is the post of the alike joint where that was
    tried, whose surfaces and posts ``where`` names; None where those are this joint's own.
    """

    what: Literal["jog", "breaks"]
    where: str
    size: Fraction | None = None
    tried_at: str | None = None


@dataclass(frozen=True, slots=True)
class EdgesApart:
    """The edges of both sides stand only so far apart, level, that they cannot come as much nearer."""

    by: Fraction


@dataclass(frozen=True, slots=True)
class NotLaidOut:
    """No guard can be laid out so, by the words of what is at fault."""

    error: str


@dataclass(frozen=True, slots=True)
class JogLeft:
    """A jog is then left, plumb, of this size."""

    size: Fraction


@dataclass(frozen=True, slots=True)
class Breaks:
    """A rule is then broken: the first of the effects that tell so."""

    effect: Effect


@dataclass(frozen=True, slots=True)
class WithinRules:
    """Nothing is broken that the rules of this name ask, None where none are asked for."""

    rules: str | None


Why: TypeAlias = (
    Literal["on the ground", "no landing between"] | EdgesApart | NotLaidOut | JogLeft | Breaks | WithinRules
)
"""Why a remedy is allowed or not; the rail would lie ``on the ground``, or no landing has a length to change."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy:
    """One way to be rid of a jog: change ``what`` to ``value``, which is exact, by ``settings``, which are at marks.

    ``surface`` is the index of the one whose rail changes, None where no rail does. ``allowed`` is found by carrying it
    out as set: that guard can be laid out, the jog is gone, and nothing fails that did not before; None where nobody
    has tried. ``why`` is the reason, ``effects`` are what else comes of it. ``tried_at`` is the post of the alike joint
    where it was tried, if ``why`` names surfaces or posts there.
    """

    what: Change
    value: Fraction
    allowed: bool | None
    why: Why | None
    surface: int | None = None
    settings: tuple[Setting, ...] = ()
    effects: tuple[Effect, ...] = ()
    tried_at: str | None = None
