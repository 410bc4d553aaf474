"""Openings of a guard, the sphere that each lets through, and what no part of the guard stands beside."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import TYPE_CHECKING

from stairguard.model.guard.opening_kinds import Touch, Where
from stairguard.model.rules import Rule

if TYPE_CHECKING:  # pockets load numpy
    from stairguard.geometry.clearance.outline import Outline
    from stairguard.geometry.clearance.pockets import Pocket


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """The largest sphere through one opening, seen square to the guard.

    ``sphere`` is its diameter as designed, ``sphere_as_marked`` with every
    hole at its tape mark (never the kinder of the two at a tie: each verdict is exact).
    ``touches`` is what the sphere touches; ``contacts`` are the touched points, same order.
    ``passes`` is None where no rule applies; ``leave`` is the rule by whose leave it passes though its sphere is
    larger, None elsewhere. ``others`` are rules no stricter that speak to it too, with verdicts. ``bounds`` are what a
    strand that gives has to do with it, None where all around it is rigid. ``corner`` is the index of the joint whose
    two posts it is between, None elsewhere. Where strands stand out from the stair the sphere is the largest that finds
    a way past edge and strands, told where that way is narrowest: its centre is ``out`` from the stair's side, level,
    and ``sphere`` at most ``error`` too large where no parts hold it there and a search has the last word.
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
    out: float = 0.0
    error: float = 0.0
    others: tuple[tuple[Rule, bool], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
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
