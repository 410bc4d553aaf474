"""Compound cuts: hips between two sloping planes, and sloped rails that turn in plan.

Two frames of words meet here. A roof's plane slopes from its eave and a hip runs up between two of them; a rail
slopes along itself, its sides plumb. Mitres are told from square across the piece, tilts of the saw from square to
the face it stands on.
"""

from __future__ import annotations

import sympy as sp

from stairguard.relations.declare import ANY, Closed, Expr, Relation, angle, cosd, length, sind, tand
from stairguard.relations.records import Domain

_ACUTE = Domain(0, True, 90, True)
_OBTUSE = Domain(0, True, 180, True)
_TURNS = Domain(-180, True, 180, True)

_WEB = "geocities.ws/web_sketches/framing_math"

_PITCH = angle("pitch", "slope of the plane, square to its eave in plan", _ACUTE)
_OTHER = angle("other_pitch", "slope of the plane on the other side of the hip", _ACUTE)
_EAVES = angle("eaves", "inside angle in plan between the two eaves", _OBTUSE)
_PLAN = angle("plan", "angle in plan between the plane's eave and the hip", _OBTUSE)
_HIP = angle("hip", "slope of the hip", _ACUTE)
_SIDE_CUT = angle("side_cut", "on the plane's face, between the hip and square to the eave")
_BACKING = angle("backing", "bevel of the hip's top, from square to its sides, to lie in the plane")
_FIRST = angle("first_backing", "backing angle on one side of the hip")
_SECOND = angle("second_backing", "backing angle on its other side")
_DIHEDRAL = angle("dihedral", "between the two planes, inside, square to the hip", Domain(0, True, 360, True))
_BETWEEN = angle("dihedral", "between the two planes, inside, square to the hip", _OBTUSE)

_SLOPE = angle("pitch", "slope of the rail, up positive")
_IN = angle("pitch_in", "pitch of the rail that arrives, up positive")
_OUT = angle("pitch_out", "pitch of the rail that leaves, up positive")
_TURN = angle("turn", "turn in plan, left positive", _TURNS)
_MITRE = angle("mitre", "across the rail's top, from square; positive with a left turn")
_TILT = angle("tilt", "of the saw from square to the rail's top; the slope's sign")
_TWIST = angle("twist", "roll of the leaving rail about itself to match the other, its left side falling", _TURNS)
_WIDTH = length("width", "of the rail's top, level and square to it in plan")
_CLIMB = length("climb", "plumb, along the cut's top edge, from left to right of the rail that arrives", ANY)

_SPLAY = angle("splay", "slope of the boards from level, square to their run", Domain(0, False, 90, False))
_BOARD_MITRE = angle("mitre", "across the board's face, from square to its edge")
_BOARD_TILT = angle("tilt", "of the saw from square to the board's face", Domain(-90, False, 90, False))


def _plan_in_its_quadrant() -> Expr:
    """Angle between eave and hip, past 90 too, where a flat plane meets a steep one at a wide corner."""
    p, q, w = tand(_PITCH.symbol), tand(_OTHER.symbol), _EAVES.symbol
    return 180 * sp.atan2(q * sind(w), p + q * cosd(w)) / sp.pi


def _between_from_half_angles() -> Expr:
    """Dihedral by the half angle's tangent, which keeps its digits where the planes are nearly one."""
    p, q, w = _PITCH.symbol, _OTHER.symbol, _EAVES.symbol
    both = sind(p) * sind(q)
    sine = sp.sqrt(cosd((p + q) / 2) ** 2 + both * sind(w / 2) ** 2)
    cosine = sp.sqrt(sind((p - q) / 2) ** 2 + both * cosd(w / 2) ** 2)
    return 360 * sp.atan2(sine, cosine) / sp.pi


def _twist_from_half_angles() -> Expr:
    """Twist by its half's tangent, with an answer at a half-turn."""
    p, q, t = _IN.symbol, _OUT.symbol, _TURN.symbol
    return 360 * sp.atan2(sind(t / 2) * sind((p + q) / 2), cosd(t / 2) * cosd((p - q) / 2)) / sp.pi


_HIPS = (
    Relation(
        name="hip-plan",
        title="Plan angle of a hip between unlike planes",
        equation=sp.Eq(
            tand(_PLAN.symbol),
            tand(_OTHER.symbol)
            * sind(_EAVES.symbol)
            / (tand(_PITCH.symbol) + tand(_OTHER.symbol) * cosd(_EAVES.symbol)),
        ),
        symbols=(_PITCH, _OTHER, _EAVES, _PLAN),
        closed=(Closed("hip_plan", "plan", _plan_in_its_quadrant()),),
        validity="level eaves at one height; swap the pitches for the other side",
        source=f"{_WEB}/hip_valley_dimensioning/angle_descriptions.html",
        status="published",
    ),
    Relation(
        name="hip-slope",
        title="Slope of a hip",
        equation=sp.Eq(tand(_HIP.symbol), tand(_PITCH.symbol) * sind(_PLAN.symbol)),
        symbols=(_PITCH, _PLAN, _HIP),
        closed=(Closed("hip_slope", "hip"),),
        validity="a line in the sloping plane; level eave",
        source=f"{_WEB}/hip_valley_formulas.html",
        status="published",
    ),
    Relation(
        name="jack-side-cut",
        title="Side cut of a jack, on the plane's face",
        equation=sp.Eq(tand(_SIDE_CUT.symbol), cosd(_PITCH.symbol) * cosd(_PLAN.symbol) / sind(_PLAN.symbol)),
        symbols=(_PITCH, _PLAN, _SIDE_CUT),
        closed=(Closed("jack_side_cut", "side_cut"),),
        validity="pieces square to the eave; the sheathing's cut, told from the eave, is 90 less it",
        source=f"{_WEB}/hip_valley_formulas.html",
        status="published",
    ),
    Relation(
        name="backing",
        title="Backing angle of a hip",
        equation=sp.Eq(sind(_BACKING.symbol), sind(_PITCH.symbol) * cosd(_PLAN.symbol)),
        symbols=(_PITCH, _PLAN, _BACKING),
        closed=(Closed("backing", "backing"),),
        validity="hip with plumb sides; its tangent is sin(hip)/tan(plan)",
        source=f"{_WEB}/sleeper_bevel/square_fascia90/fascia_wedges.html",
        status="published",
    ),
    Relation(
        name="dihedral",
        title="Angle between two planes, from their backing angles",
        equation=sp.Eq(_DIHEDRAL.symbol, 180 - _FIRST.symbol - _SECOND.symbol),
        symbols=(_FIRST, _SECOND, _DIHEDRAL),
        closed=(Closed("dihedral", "dihedral"),),
        validity="both backing angles on one hip with plumb sides",
        source="derived: the backings are what the two planes fall away from square to the hip's sides",
        status="derived",
    ),
    Relation(
        name="dihedral-of-planes",
        title="Angle between two sloping planes",
        equation=sp.Eq(
            cosd(_BETWEEN.symbol),
            sind(_PITCH.symbol) * sind(_OTHER.symbol) * cosd(_EAVES.symbol) - cosd(_PITCH.symbol) * cosd(_OTHER.symbol),
        ),
        symbols=(_PITCH, _OTHER, _EAVES, _BETWEEN),
        closed=(Closed("dihedral_of_planes", "dihedral", _between_from_half_angles()),),
        validity="planes that rise inwards from level eaves (a hip)",
        source="derived: scalar product of the two planes' normals",
        status="derived",
    ),
)

_RAILS = (
    Relation(
        name="plumb-plane-mitre",
        title="Mitre of a sloped rail cut in the plumb plane that halves a turn, rail flat on the saw",
        equation=sp.Eq(tand(_MITRE.symbol), tand(_TURN.symbol / 2) / cosd(_SLOPE.symbol)),
        symbols=(_SLOPE, _TURN, _MITRE),
        closed=(Closed("plumb_plane_mitre", "mitre"),),
        validity="plumb-sided rail; on its side instead the mitre is the pitch",
        source="derived: the plane's normal in the rail's own frame; the form is the sheathing cut's",
        status="derived",
    ),
    Relation(
        name="plumb-plane-tilt",
        title="Tilt of the saw for a sloped rail cut in the plumb plane that halves a turn, rail flat on the saw",
        equation=sp.Eq(sind(_TILT.symbol), sind(_SLOPE.symbol) * cosd(_TURN.symbol / 2)),
        symbols=(_SLOPE, _TURN, _TILT),
        closed=(Closed("plumb_plane_tilt", "tilt"),),
        validity="plumb-sided rail; on its side instead the tilt is half the turn",
        source="derived: the plane's normal in the rail's own frame; the form is the backing angle's",
        status="derived",
    ),
    Relation(
        name="plumb-plane-climb",
        title="Climb of a sloped rail's top edge across its cut at a turn",
        equation=sp.Eq(_CLIMB.symbol, _WIDTH.symbol * tand(_TURN.symbol / 2) * tand(_SLOPE.symbol)),
        symbols=(_WIDTH, _TURN, _SLOPE, _CLIMB),
        closed=(Closed("plumb_plane_climb", "climb"),),
        validity="cut in the plumb plane that halves the turn; of the rail that leaves it is from right to left",
        source="derived: right triangle in plan, then along the slope",
        status="derived",
    ),
    Relation(
        name="section-twist",
        title="Twist between the sections of two plumb-sided rails at their true mitre",
        # tan(twist/2) and tan(turn/2) by whole angles, so that every symbol has a closed form
        equation=sp.Eq(
            sind(_TWIST.symbol) / (1 + cosd(_TWIST.symbol)),
            sind(_TURN.symbol)
            * (sind(_IN.symbol) + sind(_OUT.symbol))
            / (
                (1 + cosd(_TURN.symbol))
                * (1 + cosd(_IN.symbol) * cosd(_OUT.symbol) + sind(_IN.symbol) * sind(_OUT.symbol))
            ),
        ),
        symbols=(_IN, _OUT, _TURN, _TWIST),
        closed=(Closed("section_twist", "twist", _twist_from_half_angles()),),
        validity="joint plane square to the sum of the two directions; they mate flush only at zero",
        source="derived: the turn less the area of the spherical triangle of both directions and plumb; "
        "tan(twist/2) = tan(turn/2)*sin((pitch_in + pitch_out)/2)/cos((pitch_in - pitch_out)/2)",
        status="derived",
    ),
)

_BOARDS = (
    Relation(
        name="splayed-mitre",
        title="Mitre of splayed boards at a corner, board flat on the saw",
        equation=sp.Eq(tand(_BOARD_MITRE.symbol), cosd(_SPLAY.symbol) * tand(_TURN.symbol / 2)),
        symbols=(_SPLAY, _TURN, _BOARD_MITRE),
        closed=(Closed("splayed_mitre", "mitre"),),
        validity="equal boards with level edges; the turn at each corner of a box of n sides is 360/n",
        source="derived: the plumb plane that halves the corner, in the board's own frame",
        status="derived",
    ),
    Relation(
        name="splayed-tilt",
        title="Tilt of the saw for splayed boards at a corner, board flat on the saw",
        equation=sp.Eq(sind(_BOARD_TILT.symbol), sind(_SPLAY.symbol) * sind(_TURN.symbol / 2)),
        symbols=(_SPLAY, _TURN, _BOARD_TILT),
        closed=(Closed("splayed_tilt", "tilt"),),
        validity="equal boards with level edges; the turn at each corner of a box of n sides is 360/n",
        source="derived: the plumb plane that halves the corner, in the board's own frame",
        status="derived",
    ),
)

RELATIONS = (*_HIPS, *_RAILS, *_BOARDS)
