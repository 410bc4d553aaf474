"""Angles where two slopes join: the bend in space, and the mitre that halves it."""

from __future__ import annotations

import sympy as sp

from stairguard.relations.declare import (
    NOT_NEGATIVE,
    Closed,
    Expr,
    Relation,
    angle,
    cosd,
    length,
    sind,
    tand,
)
from stairguard.relations.records import Domain

_IN = angle("pitch_in", "pitch of the part that arrives, up positive")
_OUT = angle("pitch_out", "pitch of the part that leaves, up positive")
_TURN = angle("turn", "turn in plan, left positive", Domain(-180, False, 180, False))
_BEND = angle("bend", "angle between the two directions, 0 where they run straight on", Domain(0, False, 180, False))
_MITRE = angle("mitre", "cut of each piece, from square across it", Domain(0, False, 90, False))
_CUT = angle("mitre", "cut of each piece, from square across it", Domain(0, False, 90, True))
_DEPTH = length("depth", "of the rail, square to it")
_OFFSET = length("offset", "from the short point to the long point, along the piece", NOT_NEGATIVE)


def _bend_from_half_angles() -> Expr:
    """Bend by the half angle's tangent.

    The arc cosine loses half its digits near 0 and 180 degrees and can be handed a number past 1. Here
    both roots hold sums of terms that cannot be negative, so every pair of pitches has an answer.
    """
    p, q, t = _IN.symbol, _OUT.symbol, _TURN.symbol
    both = cosd(p) * cosd(q)
    sine = sp.sqrt(sind((p - q) / 2) ** 2 + both * sind(t / 2) ** 2)
    cosine = sp.sqrt(sind((p + q) / 2) ** 2 + both * cosd(t / 2) ** 2)
    return 360 * sp.atan2(sine, cosine) / sp.pi


RELATIONS = (
    Relation(
        name="bend",
        title="Bend between two slopes that turn in plan",
        equation=sp.Eq(
            cosd(_BEND.symbol),
            cosd(_IN.symbol) * cosd(_OUT.symbol) * cosd(_TURN.symbol) + sind(_IN.symbol) * sind(_OUT.symbol),
        ),
        symbols=(_IN, _OUT, _TURN, _BEND),
        closed=(Closed("bend", "bend", _bend_from_half_angles()),),
        validity="straight lines each side of the joint",
        source="derived: scalar product of the two unit directions",
        status="derived",
    ),
    Relation(
        name="mitre",
        title="True mitre at a bend",
        equation=sp.Eq(_MITRE.symbol, _BEND.symbol / 2),
        symbols=(_BEND, _MITRE),
        closed=(Closed("mitre", "mitre"),),
        validity="equal pieces; the joint plane halves the bend",
        source="derived: the joint plane's normal is the sum of the two unit directions",
        status="derived",
    ),
    Relation(
        name="mitre-point",
        title="Long point of an end cut",
        equation=sp.Eq(_OFFSET.symbol, _DEPTH.symbol * tand(_CUT.symbol)),
        symbols=(_DEPTH, _CUT, _OFFSET),
        closed=(Closed("mitre_point", "offset"),),
        validity="plane cut across a straight piece; a plumb cut's angle is the pitch",
        source="derived: right triangle",
        status="derived",
    ),
)
