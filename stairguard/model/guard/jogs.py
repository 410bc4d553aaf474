"""Ways to be rid of a jog: what to change, by which keys of the job file, and what else comes of it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, NamedTuple, TypeAlias

__all__ = ["Change", "Effect", "Remedy", "Setting"]

Change: TypeAlias = Literal[
    "post station", "landing rail height", "flight rail height", "ramp rail height", "riser offset", "level piece"
]


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


@dataclass(frozen=True, slots=True, kw_only=True)
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
