"""Gaps between strands and under the rail, and the rail's own depth."""

from __future__ import annotations

import sympy as sp

from stairguard.relations.declare import ANY, Closed, Relation, angle, cosd, length

_SPACING = length("spacing", "between the strands' centres, square")
_DIAMETER = length("diameter", "of the strand")
_GAP = length("gap", "clear gap, square, which a sphere just passes; negative where the two overlap", ANY)
_PLUMB = length("plumb", "from the rail's underside down to the strand's centre, plumb")
_PITCH = angle("pitch", "slope of rail and strands, up positive")
_DEPTH = length("depth", "of the rail, square to it")
_PLUMB_DEPTH = length("plumb_depth", "of the rail, plumb")

RELATIONS = (
    Relation(
        name="strand-gap",
        title="Clear gap between two strands",
        equation=sp.Eq(_GAP.symbol, _SPACING.symbol - _DIAMETER.symbol),
        symbols=(_SPACING, _DIAMETER, _GAP),
        closed=(Closed("strand_gap", "gap"), Closed("strand_spacing", "spacing")),
        validity="parallel strands of one diameter, no force on them",
        source="derived: half a diameter goes to each strand",
        status="derived",
    ),
    Relation(
        name="rail-gap",
        title="Clear gap between the rail and the strand under it",
        equation=sp.Eq(_GAP.symbol, _PLUMB.symbol * cosd(_PITCH.symbol) - _DIAMETER.symbol / 2),
        symbols=(_PLUMB, _PITCH, _DIAMETER, _GAP),
        closed=(Closed("rail_gap", "gap"), Closed("rail_gap_plumb", "plumb")),
        validity="strand parallel to the rail",
        source="derived: the plumb distance told square, less half the strand",
        status="derived",
    ),
    Relation(
        name="rail-plumb-depth",
        title="Plumb depth of a sloped rail",
        equation=sp.Eq(_PLUMB_DEPTH.symbol, _DEPTH.symbol / cosd(_PITCH.symbol)),
        symbols=(_DEPTH, _PITCH, _PLUMB_DEPTH),
        closed=(Closed("rail_plumb_depth", "plumb_depth"),),
        validity="straight rail of one depth",
        source="derived: right triangle",
        status="derived",
    ),
)
