"""Pitch, and lengths told plumb, square and along a slope."""

from __future__ import annotations

import sympy as sp

from stairguard.relations.declare import (
    ANY,
    Closed,
    Relation,
    angle,
    cosd,
    length,
    tand,
)

_ELEMENTARY = "derived: right triangle"

_RISE = length("rise", "rise of a step; negative goes down", ANY)
_RUN = length("run", "run of a step, level")
_PITCH = angle("pitch", "slope from level, up positive")
_LENGTH = length("length", "along the slope")
_PLUMB = length("plumb", "plumb (vertical) distance between two lines", ANY)
_SQUARE = length("square", "distance between the same two lines, square (perpendicular) to the slope", ANY)

_PITCH_RELATION = Relation(
    name="pitch",
    title="Pitch of a flight or ramp",
    equation=sp.Eq(tand(_PITCH.symbol), _RISE.symbol / _RUN.symbol),
    symbols=(_RISE, _RUN, _PITCH),
    closed=(Closed("pitch", "pitch"), Closed("pitch_rise", "rise")),
    validity="run level and plumb rise of the same step, ramp or nosing line",
    source=f"{_ELEMENTARY}; checked against the stair pitch table of WAC 296-24-76511, Table D-1",
    status="derived",
)

_SLOPE_LENGTH = Relation(
    name="slope-length",
    title="Length along a slope",
    equation=sp.Eq(_LENGTH.symbol, sp.sqrt(_RISE.symbol**2 + _RUN.symbol**2)),
    symbols=(_RISE, _RUN, _LENGTH),
    closed=(Closed("slope_length", "length"),),
    validity="rise plumb, run level, both between the same two points",
    source=_ELEMENTARY,
    status="derived",
)

_PLUMB_SQUARE = Relation(
    name="plumb-square",
    title="A plumb distance told square to the slope",
    equation=sp.Eq(_SQUARE.symbol, _PLUMB.symbol * cosd(_PITCH.symbol)),
    symbols=(_PLUMB, _PITCH, _SQUARE),
    closed=(Closed("square_of_plumb", "square"), Closed("plumb_of_square", "plumb")),
    validity="between two lines of one pitch",
    source=_ELEMENTARY,
    status="derived",
)

RELATIONS = (_PITCH_RELATION, _SLOPE_LENGTH, _PLUMB_SQUARE)
