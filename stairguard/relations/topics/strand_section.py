"""The strand's own steel: area of its wires, and the mass of a length of it."""

from __future__ import annotations

import sympy as sp

from stairguard.relations.declare import NOT_NEGATIVE, POSITIVE, Closed, Relation, length, number
from stairguard.relations.records import Domain

_DIAMETER = length("diameter", "of the strand, over its outer wires")
_FILL = number("fill", "part of the circle over the wires that is metal", Domain(0, True, 1, False))
_AREA = number("area", "of the wires' metal, in squares of the diameter's unit", POSITIVE)
_DENSITY = number("density", "of the wires, mass in one cube of the unit of length", POSITIVE)
_TAKE_UP = number("lay_take_up", "how much longer the wires are than the strand, as a part of it", NOT_NEGATIVE)
_MASS = number("mass", "of one unit of the strand's length", POSITIVE)

RELATIONS = (
    Relation(
        name="strand-area",
        title="Metallic area of a strand",
        equation=sp.Eq(_AREA.symbol, _FILL.symbol * sp.pi * _DIAMETER.symbol**2 / 4),
        symbols=(_DIAMETER, _FILL, _AREA),
        closed=(Closed("strand_area", "area"),),
        validity="round wires; 1x19 of equal wires, five across the strand: fill 19/25",
        source="derived: area of a circle, and of 19 circles a fifth as wide",
        status="derived",
    ),
    Relation(
        name="strand-mass",
        title="Mass of a unit of a strand's length",
        equation=sp.Eq(_MASS.symbol, _AREA.symbol * _DENSITY.symbol * (1 + _TAKE_UP.symbol)),
        symbols=(_AREA, _DENSITY, _TAKE_UP, _MASS),
        closed=(Closed("strand_mass", "mass"),),
        validity="wires of one density; the lay makes every wire a helix longer than the strand",
        source="derived: volume of the wires times their density",
        status="derived",
    ),
)
