"""Plumb posts under a slope: tops, hole heights, and what a strand needs to pass through."""

from __future__ import annotations

import sympy as sp

from stairguard.relations.declare import (
    ANY,
    Closed,
    Relation,
    angle,
    cosd,
    length,
    number,
    tand,
)
from stairguard.relations.records import Domain

_WIDTH = length("width", "of the post's face, along the guard")
_PITCH = angle("pitch", "slope of rail and strands, up positive")
_TILT = angle("pitch", "slope of the strand from square to the post's face", Domain(0, False, 90, True))
_DIAMETER = length("diameter", "of the strand")
_DIFFERENCE = length("difference", "plumb, between the post's two faces, uphill positive", ANY)
_HEIGHT = length("height", "of the hole on the post's centre line, plumb", ANY)
_ACROSS = length("across", "level, from the post's centre line to the face, uphill positive", ANY)
_SLOPE = number("slope", "rise of the strand for one of level run, uphill positive")
_FACE = length("face", "height of the hole at that face, plumb, from where the height is taken", ANY)
_BORE = length("bore", "along the strand, from face to face")
_ELLIPSE = length("long_axis", "of the hole's ellipse on the face, plumb")
_SLOT = length("slot", "height of the level slot, plumb")

RELATIONS = (
    Relation(
        name="post-bevel",
        title="Difference across a post's width, of its bevelled top or of a strand through it",
        equation=sp.Eq(_DIFFERENCE.symbol, _WIDTH.symbol * tand(_PITCH.symbol)),
        symbols=(_WIDTH, _PITCH, _DIFFERENCE),
        closed=(Closed("post_bevel", "difference"),),
        validity="plumb post, faces square to the guard line in plan",
        source="derived: right triangle",
        status="derived",
    ),
    Relation(
        name="hole-faces",
        title="Hole height at a face of a post",
        equation=sp.Eq(_FACE.symbol, _HEIGHT.symbol + _ACROSS.symbol * _SLOPE.symbol),
        symbols=(_HEIGHT, _ACROSS, _SLOPE, _FACE),
        closed=(Closed("hole_face", "face"),),
        validity="plumb post; straight strand from centre line to face",
        source="derived: right triangle",
        status="derived",
    ),
    Relation(
        name="strand-bore",
        title="Length of a strand's hole through a post",
        equation=sp.Eq(_BORE.symbol, _WIDTH.symbol / cosd(_TILT.symbol)),
        symbols=(_WIDTH, _TILT, _BORE),
        closed=(Closed("strand_bore", "bore"),),
        validity="plumb post, faces square to the guard line in plan",
        source="derived: right triangle",
        status="derived",
    ),
    Relation(
        name="strand-ellipse",
        title="Long axis of a strand's section in a post's face",
        equation=sp.Eq(_ELLIPSE.symbol, _DIAMETER.symbol / cosd(_TILT.symbol)),
        symbols=(_DIAMETER, _TILT, _ELLIPSE),
        closed=(Closed("strand_ellipse", "long_axis"),),
        validity="round strand; the short axis is the diameter",
        source="derived: a plane section of a cylinder; so also mathforum.org, Dr. Math 63463",
        status="derived",
    ),
    Relation(
        name="strand-slot",
        title="Level slot that clears a sloped strand",
        equation=sp.Eq(_SLOT.symbol, _DIAMETER.symbol / cosd(_TILT.symbol) + _WIDTH.symbol * tand(_TILT.symbol)),
        symbols=(_DIAMETER, _WIDTH, _TILT, _SLOT),
        closed=(Closed("strand_slot", "slot"),),
        validity="slot bored straight through, square to the face, that just clears the strand",
        source="derived: the strand's ellipse moved by its offset through the post",
        status="derived",
    ),
)
