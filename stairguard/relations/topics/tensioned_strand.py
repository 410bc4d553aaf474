"""How a tensioned strand gives: force and stretch, sag, temperature, the push that no stretch resists.

Forces are in any one unit, and so is the axial stiffness EA: the force that would double a strand's length if it stayed
elastic. Weight is force on one unit of length.
"""

from __future__ import annotations

import sympy as sp

from stairguard.relations.declare import (
    ANY,
    NOT_NEGATIVE,
    POSITIVE,
    Closed,
    Expr,
    Relation,
    angle,
    cosd,
    force,
    length,
    number,
    sind,
)
from stairguard.relations.records import Domain

_TENSION = force("tension", "of the strand at rest", NOT_NEGATIVE)
_PULL = force("tension", "of the strand at rest")
_EA = force("stiffness", "EA of the strand, its effective modulus times its metallic area")
_BAY = length("bay", "clear between two posts, along the strand")
_RUN = length("run", "of strand that stretches: the bay where it is held at both posts, else from anchor to anchor")
_DEFLECTION = length("deflection", "of the strand's middle in the bay, square to the strand")
_FORCE = force("force", "at mid-bay, square to the strand", NOT_NEGATIVE)
_SPHERE = length("sphere", "diameter of the sphere pushed between the two strands")
_DIAMETER = length("diameter", "of the strand", NOT_NEGATIVE)
_SPACING = length("spacing", "between the strands' centres at rest, square")
_CONTACT = angle("contact", "from the strands' plane to where they touch the sphere", Domain(0, False, 90, True))
_PUSH = force("push", "greatest on the sphere's way through, square to the guard", NOT_NEGATIVE)
_ELONGATION = length("elongation", "of the strand by its tension", NOT_NEGATIVE)
_LEAD = length("lead", "by which one turn of the tensioner draws the strand in")
_TURNS = number("turns", "of the tensioner", NOT_NEGATIVE)
_DRAWN = length("drawn", "in by the tensioner", NOT_NEGATIVE)
_WEIGHT = number("weight", "of the strand, force on one unit of its length", POSITIVE)
_SAG = length("sag", "of the strand's middle below the straight line between its supports, plumb", NOT_NEGATIVE)
_BEFORE = force("before", "tension before")
_AFTER = force("after", "tension after; a strand that would be left with less than none is slack", NOT_NEGATIVE)
_STRAND_RATE = number("strand_rate", "thermal expansion of the strand, per degree of temperature", NOT_NEGATIVE)
_FRAME_RATE = number("frame_rate", "thermal expansion of the frame along the strand, per the same degree", NOT_NEGATIVE)
_WARMING = number("warming", "by how many degrees it grows warmer; cooling is negative", ANY)
_SHORTENING = length("shortening", "by which the anchors' seats come nearer to each other; negative apart", ANY)
_BEND = angle("bend", "of the strand at the fitting, 0 where it runs straight on", Domain(0, False, 180, False))
_ON_FITTING = force("force", "on the fitting, along the line that halves the bend", NOT_NEGATIVE)

_T, _E, _L, _R, _Q = _TENSION.symbol, _EA.symbol, _BAY.symbol, _RUN.symbol, _DEFLECTION.symbol
_HALF = sp.sqrt(_L**2 / 4 + _Q**2)


def _lengthening() -> Expr:
    """What the two halves are longer than the bay, kept exact where the deflection is small beside it."""
    return 2 * _Q**2 / (_HALF + _L / 2)


RELATIONS = (
    Relation(
        name="strand-force",
        title="Force that deflects a tensioned strand at mid-bay",
        equation=sp.Eq(_FORCE.symbol, 2 * (_T + (_E + _T) * _lengthening() / _R) * _Q / _HALF),
        symbols=(_TENSION, _EA, _BAY, _RUN, _DEFLECTION, _FORCE),
        closed=(Closed("strand_force", "force"), Closed("strand_force_tension", "tension")),
        validity="elastic strand without weight; two straight halves; it stretches alike over the whole run",
        source="derived: the halves' true lengthening over the unstretched run gives the tension along them",
        status="derived",
    ),
    Relation(
        name="strand-force-small",
        title="The same where the deflection is small beside the bay",
        equation=sp.Eq(_FORCE.symbol, 4 * _T * _Q / _L + 8 * _E * _Q**3 / (_L**2 * _R)),
        symbols=(_TENSION, _EA, _BAY, _RUN, _DEFLECTION, _FORCE),
        closed=(Closed("strand_force_small", "force"), Closed("strand_force_small_tension", "tension")),
        validity="deflection small beside the bay: 1 % of it is off by some hundredths of a per cent",
        source="derived: first two powers of the deflection; its limit without tension is in textbooks of physics",
        status="derived",
    ),
    Relation(
        name="hardest-contact",
        title="Contact angle at which a sphere is hardest to push between two strands",
        equation=sp.Eq(cosd(_CONTACT.symbol), sp.cbrt(_SPACING.symbol / (_SPHERE.symbol + _DIAMETER.symbol))),
        symbols=(_SPHERE, _DIAMETER, _SPACING, _CONTACT),
        closed=(Closed("hardest_contact", "contact"),),
        validity="sphere larger than the clear gap; tension that stays as it is, no friction, small deflection",
        source="derived: the greatest of deflection times the contact angle's sine along the sphere's way",
        status="derived",
    ),
    Relation(
        name="push-without-stretch",
        title="Push of a sphere between two strands whose tension stays as it is",
        equation=sp.Eq(
            _PUSH.symbol,
            4 * _T * (_SPHERE.symbol + _DIAMETER.symbol) * sind(_CONTACT.symbol) ** 3 / _L,
        ),
        symbols=(_TENSION, _SPHERE, _DIAMETER, _BAY, _CONTACT, _PUSH),
        closed=(Closed("push_without_stretch", "push"), Closed("push_without_stretch_tension", "tension")),
        validity="at the hardest contact; stretch only adds to it, so that it is the least push at mid-bay",
        source="derived: there the deflection is the sine squared of what sphere and strand reach together",
        status="derived",
    ),
    Relation(
        name="strand-elongation",
        title="Stretch of a strand under tension",
        equation=sp.Eq(_ELONGATION.symbol, _PULL.symbol * _R / _E),
        symbols=(_PULL, _EA, _RUN, _ELONGATION),
        closed=(Closed("strand_elongation", "elongation"), Closed("strand_elongation_tension", "tension")),
        validity="elastic strand whose first settling is over; supports that do not move",
        source="derived: Hooke's law",
        status="derived",
    ),
    Relation(
        name="tensioner-turns",
        title="Turns of a tensioner",
        equation=sp.Eq(_TURNS.symbol, _DRAWN.symbol / _LEAD.symbol),
        symbols=(_DRAWN, _LEAD, _TURNS),
        closed=(Closed("tensioner_turns", "turns"), Closed("tensioner_drawn", "drawn")),
        validity="one turn draws in one lead; where threads of two hands work together it is both leads",
        source="derived: a screw's advance",
        status="derived",
    ),
    Relation(
        name="strand-sag",
        title="Sag of a strand under its own weight",
        equation=sp.Eq(_SAG.symbol, _WEIGHT.symbol * _L**2 / (8 * _PULL.symbol)),
        symbols=(_WEIGHT, _BAY, _PULL, _SAG),
        closed=(Closed("strand_sag", "sag"), Closed("strand_sag_tension", "tension")),
        validity=(
            "sag small beside the bay; on any pitch, the bay measured along the strand: the load square to it and the "
            "plumb sag over the square one cancel"
        ),
        source="derived: a parabola; textbooks of statics have the level case",
        status="derived",
    ),
    Relation(
        name="tension-by-temperature",
        title="Tension after a change of temperature",
        equation=sp.Eq(
            _AFTER.symbol, _BEFORE.symbol - _E * (_STRAND_RATE.symbol - _FRAME_RATE.symbol) * _WARMING.symbol
        ),
        symbols=(_BEFORE, _EA, _STRAND_RATE, _FRAME_RATE, _WARMING, _AFTER),
        closed=(Closed("tension_by_temperature", "after"), Closed("tension_by_temperature_before", "before")),
        validity="straight strand, taut at both temperatures, whose frame moves freely and does not bend",
        source="derived: Hooke's law on the difference of two expansions",
        status="derived",
    ),
    Relation(
        name="tension-by-shortening",
        title="Tension after its anchors have come nearer",
        equation=sp.Eq(_AFTER.symbol, _BEFORE.symbol - _E * _SHORTENING.symbol / _R),
        symbols=(_BEFORE, _EA, _RUN, _SHORTENING, _AFTER),
        closed=(
            Closed("tension_by_shortening", "after"),
            Closed("tension_by_shortening_before", "before"),
            Closed("shortening_by_tension", "shortening"),
        ),
        validity="straight strand, taut before and after",
        source="derived: Hooke's law",
        status="derived",
    ),
    Relation(
        name="fitting-force",
        title="Force of a strand on a fitting that turns it",
        equation=sp.Eq(_ON_FITTING.symbol, 2 * _PULL.symbol * sind(_BEND.symbol / 2)),
        symbols=(_PULL, _BEND, _ON_FITTING),
        closed=(Closed("fitting_force", "force"),),
        validity="one tension on both sides, no friction in the fitting",
        source="derived: sum of two equal pulls",
        status="derived",
    ),
)
