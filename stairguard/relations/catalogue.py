"""Every relation as plain data, for lists and descriptions.

Printed from the declarations by ``python -m stairguard.relations.printer``: change those, not this file.

Loads no sympy. Angles are degrees.
"""
# Laid out by the printer and compared byte for byte.
# fmt: off

from __future__ import annotations

from stairguard.relations.records import Domain, RelationInfo, SymbolInfo

__all__ = ["RELATIONS"]

RELATIONS: dict[str, RelationInfo] = {
    "step-sphere": RelationInfo(
        name="step-sphere",
        title="Largest sphere through the step triangle",
        equation=(
            "sphere = (2*lift*sqrt(rise^2/run^2 + 1) + 2*rise*(nosing/run + 1))/(rise/run + "
            "sqrt(rise^2/run^2 + 1) + 1)"
        ),
        symbols=(
            SymbolInfo(
                "rise",
                "rise of a step",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "run",
                "run of a step, nosing to nosing, level",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "nosing",
                "nosing projection beyond the riser's face below it",
                "length",
                Domain(0, False, None, False),
            ),
            SymbolInfo(
                "lift",
                "square, from the nosing line up to the underside of the lowest member",
                "length",
                Domain(None, False, None, False),
            ),
            SymbolInfo(
                "sphere",
                "diameter of the largest sphere that passes",
                "length",
                Domain(0, True, None, False),
            ),
        ),
        validity=(
            "closed riser; the circle touches tread, riser face and member. Tread thickness is "
            "unknown here: a thick tread or a long nosing may be touched first, and then the true "
            "outline decides"
        ),
        source=(
            "derived: a circle tangent to tread, riser face and the member's straight underside; "
            "checked against the largest circle found by brute force and by a general geometry "
            "library"
        ),
        status="derived",
        functions=(
            "step_sphere",
            "step_sphere_partials",
            "step_lift",
            "step_nosing",
        ),
    ),
    "pitch": RelationInfo(
        name="pitch",
        title="Pitch of a flight or ramp",
        equation="tan(pitch) = rise/run",
        symbols=(
            SymbolInfo(
                "rise",
                "rise of a step; negative goes down",
                "length",
                Domain(None, False, None, False),
            ),
            SymbolInfo(
                "run",
                "run of a step, level",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "pitch",
                "slope from level, up positive",
                "angle",
                Domain(-90, True, 90, True),
            ),
        ),
        validity="run level and plumb rise of the same step, ramp or nosing line",
        source=(
            "derived: right triangle; checked against the stair pitch table of WAC 296-24-76511, "
            "Table D-1"
        ),
        status="derived",
        functions=(
            "pitch",
            "pitch_partials",
            "pitch_rise",
        ),
    ),
    "slope-length": RelationInfo(
        name="slope-length",
        title="Length along a slope",
        equation="length = sqrt(rise^2 + run^2)",
        symbols=(
            SymbolInfo(
                "rise",
                "rise of a step; negative goes down",
                "length",
                Domain(None, False, None, False),
            ),
            SymbolInfo(
                "run",
                "run of a step, level",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "length",
                "along the slope",
                "length",
                Domain(0, True, None, False),
            ),
        ),
        validity="rise plumb, run level, both between the same two points",
        source="derived: right triangle",
        status="derived",
        functions=(
            "slope_length",
            "slope_length_partials",
        ),
    ),
    "plumb-square": RelationInfo(
        name="plumb-square",
        title="A plumb distance told square to the slope",
        equation="square = plumb*cos(pitch)",
        symbols=(
            SymbolInfo(
                "plumb",
                "plumb (vertical) distance between two lines",
                "length",
                Domain(None, False, None, False),
            ),
            SymbolInfo(
                "pitch",
                "slope from level, up positive",
                "angle",
                Domain(-90, True, 90, True),
            ),
            SymbolInfo(
                "square",
                "distance between the same two lines, square (perpendicular) to the slope",
                "length",
                Domain(None, False, None, False),
            ),
        ),
        validity="between two lines of one pitch",
        source="derived: right triangle",
        status="derived",
        functions=(
            "square_of_plumb",
            "square_of_plumb_partials",
            "plumb_of_square",
        ),
    ),
    "strand-gap": RelationInfo(
        name="strand-gap",
        title="Clear gap between two strands",
        equation="gap = spacing - diameter",
        symbols=(
            SymbolInfo(
                "spacing",
                "between the strands' centres, square",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "diameter",
                "of the strand",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "gap",
                "clear gap, square, which a sphere just passes; negative where the two overlap",
                "length",
                Domain(None, False, None, False),
            ),
        ),
        validity="parallel strands of one diameter, no force on them",
        source="derived: half a diameter goes to each strand",
        status="derived",
        functions=(
            "strand_gap",
            "strand_gap_partials",
            "strand_spacing",
        ),
    ),
    "rail-gap": RelationInfo(
        name="rail-gap",
        title="Clear gap between the rail and the strand under it",
        equation="gap = plumb*cos(pitch) - diameter/2",
        symbols=(
            SymbolInfo(
                "plumb",
                "from the rail's underside down to the strand's centre, plumb",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "pitch",
                "slope of rail and strands, up positive",
                "angle",
                Domain(-90, True, 90, True),
            ),
            SymbolInfo(
                "diameter",
                "of the strand",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "gap",
                "clear gap, square, which a sphere just passes; negative where the two overlap",
                "length",
                Domain(None, False, None, False),
            ),
        ),
        validity="strand parallel to the rail",
        source="derived: the plumb distance told square, less half the strand",
        status="derived",
        functions=(
            "rail_gap",
            "rail_gap_partials",
            "rail_gap_plumb",
        ),
    ),
    "rail-plumb-depth": RelationInfo(
        name="rail-plumb-depth",
        title="Plumb depth of a sloped rail",
        equation="plumb_depth = depth/cos(pitch)",
        symbols=(
            SymbolInfo(
                "depth",
                "of the rail, square to it",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "pitch",
                "slope of rail and strands, up positive",
                "angle",
                Domain(-90, True, 90, True),
            ),
            SymbolInfo(
                "plumb_depth",
                "of the rail, plumb",
                "length",
                Domain(0, True, None, False),
            ),
        ),
        validity="straight rail of one depth",
        source="derived: right triangle",
        status="derived",
        functions=(
            "rail_plumb_depth",
            "rail_plumb_depth_partials",
        ),
    ),
    "rail-meets-top": RelationInfo(
        name="rail-meets-top",
        title="Where a flight's rail meets the rail of its top landing",
        equation="station = run*(landing_height - flight_height)/rise",
        symbols=(
            SymbolInfo(
                "rise",
                "rise of a step",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "run",
                "run of a step, level",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "flight_height",
                "rail over the flight, plumb above the nosing line",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "landing_height",
                "rail over the landing, plumb above it, to the same line of the rail",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "station",
                "level, from the top nosing onto the upper landing positive",
                "length",
                Domain(None, False, None, False),
            ),
        ),
        validity="level landing, straight flight of equal steps, both heights to the same line of the rail",
        source="derived: the flight's rail is its nosing line moved up plumb",
        status="derived",
        functions=(
            "rail_meets_top",
            "rail_meets_top_partials",
            "landing_height_at_top",
            "flight_height_at_top",
        ),
    ),
    "jog-top": RelationInfo(
        name="jog-top",
        title="Jog of the rail at a post near the top of a flight",
        equation="jog = landing_height - flight_height - rise*station/run",
        symbols=(
            SymbolInfo(
                "rise",
                "rise of a step",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "run",
                "run of a step, level",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "flight_height",
                "rail over the flight, plumb above the nosing line",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "landing_height",
                "rail over the landing, plumb above it, to the same line of the rail",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "station",
                "level, from the top nosing onto the upper landing positive",
                "length",
                Domain(None, False, None, False),
            ),
            SymbolInfo(
                "jog",
                "how far the landing's rail stands above the flight's at the station, plumb",
                "length",
                Domain(None, False, None, False),
            ),
        ),
        validity="level landing, straight flight of equal steps, both heights to the same line of the rail",
        source="derived: the flight's rail is its nosing line moved up plumb",
        status="derived",
        functions=(
            "jog_top",
            "jog_top_partials",
        ),
    ),
    "rail-meets-bottom": RelationInfo(
        name="rail-meets-bottom",
        title="Where a flight's rail meets the rail of its bottom landing",
        equation="station = run*(landing_height - flight_height - rise)/rise",
        symbols=(
            SymbolInfo(
                "rise",
                "rise of a step",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "run",
                "run of a step, level",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "flight_height",
                "rail over the flight, plumb above the nosing line",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "landing_height",
                "rail over the landing, plumb above it, to the same line of the rail",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "station",
                "level, from nosing 1 uphill positive, out over the lower landing negative",
                "length",
                Domain(None, False, None, False),
            ),
        ),
        validity="level landing, straight flight of equal steps, both heights to the same line of the rail",
        source="derived: the flight's rail is its nosing line moved up plumb",
        status="derived",
        functions=(
            "rail_meets_bottom",
            "rail_meets_bottom_partials",
            "landing_height_at_bottom",
            "flight_height_at_bottom",
        ),
    ),
    "jog-bottom": RelationInfo(
        name="jog-bottom",
        title="Jog of the rail at a post near the bottom of a flight",
        equation="jog = landing_height - flight_height - rise - rise*station/run",
        symbols=(
            SymbolInfo(
                "rise",
                "rise of a step",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "run",
                "run of a step, level",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "flight_height",
                "rail over the flight, plumb above the nosing line",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "landing_height",
                "rail over the landing, plumb above it, to the same line of the rail",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "station",
                "level, from nosing 1 uphill positive, out over the lower landing negative",
                "length",
                Domain(None, False, None, False),
            ),
            SymbolInfo(
                "jog",
                "how far the landing's rail stands above the flight's at the station, plumb",
                "length",
                Domain(None, False, None, False),
            ),
        ),
        validity="level landing, straight flight of equal steps, both heights to the same line of the rail",
        source="derived: the flight's rail is its nosing line moved up plumb",
        status="derived",
        functions=(
            "jog_bottom",
            "jog_bottom_partials",
        ),
    ),
    "half-turn": RelationInfo(
        name="half-turn",
        title="Rails of two flights meeting at a half-turn without a level piece",
        equation="lower + upper = run",
        symbols=(
            SymbolInfo(
                "run",
                "run of a step, level",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "lower",
                "run of the lower flight's rail past its top nosing, to the turn",
                "length",
                Domain(None, False, None, False),
            ),
            SymbolInfo(
                "upper",
                "run of the upper flight's rail before its nosing 1, from the turn",
                "length",
                Domain(None, False, None, False),
            ),
        ),
        validity="equal rise and run, rails at one height, no level piece; half each where risers line up",
        source=(
            "derived: the flight's rail is its nosing line moved up plumb; risers in line it is the "
            "half-a-tread rule of the International Correspondence Schools' Building Construction, "
            "vol. 3, section 44"
        ),
        status="derived",
        functions=(
            "half_turn_upper",
            "half_turn_upper_partials",
            "half_turn_lower",
        ),
    ),
    "bend": RelationInfo(
        name="bend",
        title="Bend between two slopes that turn in plan",
        equation="cos(bend) = sin(pitch_in)*sin(pitch_out) + cos(pitch_in)*cos(pitch_out)*cos(turn)",
        symbols=(
            SymbolInfo(
                "pitch_in",
                "pitch of the part that arrives, up positive",
                "angle",
                Domain(-90, True, 90, True),
            ),
            SymbolInfo(
                "pitch_out",
                "pitch of the part that leaves, up positive",
                "angle",
                Domain(-90, True, 90, True),
            ),
            SymbolInfo(
                "turn",
                "turn in plan, left positive",
                "angle",
                Domain(-180, False, 180, False),
            ),
            SymbolInfo(
                "bend",
                "angle between the two directions, 0 where they run straight on",
                "angle",
                Domain(0, False, 180, False),
            ),
        ),
        validity="straight lines each side of the joint",
        source="derived: scalar product of the two unit directions",
        status="derived",
        functions=(
            "bend",
            "bend_partials",
        ),
    ),
    "mitre": RelationInfo(
        name="mitre",
        title="True mitre at a bend",
        equation="mitre = bend/2",
        symbols=(
            SymbolInfo(
                "bend",
                "angle between the two directions, 0 where they run straight on",
                "angle",
                Domain(0, False, 180, False),
            ),
            SymbolInfo(
                "mitre",
                "cut of each piece, from square across it",
                "angle",
                Domain(0, False, 90, False),
            ),
        ),
        validity="equal pieces; the joint plane halves the bend",
        source="derived: the joint plane's normal is the sum of the two unit directions",
        status="derived",
        functions=(
            "mitre",
            "mitre_partials",
        ),
    ),
    "mitre-point": RelationInfo(
        name="mitre-point",
        title="Long point of an end cut",
        equation="offset = depth*tan(mitre)",
        symbols=(
            SymbolInfo(
                "depth",
                "of the rail, square to it",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "mitre",
                "cut of each piece, from square across it",
                "angle",
                Domain(0, False, 90, True),
            ),
            SymbolInfo(
                "offset",
                "from the short point to the long point, along the piece",
                "length",
                Domain(0, False, None, False),
            ),
        ),
        validity="plane cut across a straight piece; a plumb cut's angle is the pitch",
        source="derived: right triangle",
        status="derived",
        functions=(
            "mitre_point",
            "mitre_point_partials",
        ),
    ),
    "hip-plan": RelationInfo(
        name="hip-plan",
        title="Plan angle of a hip between unlike planes",
        equation="tan(plan) = sin(eaves)*tan(other_pitch)/(cos(eaves)*tan(other_pitch) + tan(pitch))",
        symbols=(
            SymbolInfo(
                "pitch",
                "slope of the plane, square to its eave in plan",
                "angle",
                Domain(0, True, 90, True),
            ),
            SymbolInfo(
                "other_pitch",
                "slope of the plane on the other side of the hip",
                "angle",
                Domain(0, True, 90, True),
            ),
            SymbolInfo(
                "eaves",
                "inside angle in plan between the two eaves",
                "angle",
                Domain(0, True, 180, True),
            ),
            SymbolInfo(
                "plan",
                "angle in plan between the plane's eave and the hip",
                "angle",
                Domain(0, True, 180, True),
            ),
        ),
        validity="level eaves at one height; swap the pitches for the other side",
        source="geocities.ws/web_sketches/framing_math/hip_valley_dimensioning/angle_descriptions.html",
        status="published",
        functions=(
            "hip_plan",
            "hip_plan_partials",
        ),
    ),
    "hip-slope": RelationInfo(
        name="hip-slope",
        title="Slope of a hip",
        equation="tan(hip) = sin(plan)*tan(pitch)",
        symbols=(
            SymbolInfo(
                "pitch",
                "slope of the plane, square to its eave in plan",
                "angle",
                Domain(0, True, 90, True),
            ),
            SymbolInfo(
                "plan",
                "angle in plan between the plane's eave and the hip",
                "angle",
                Domain(0, True, 180, True),
            ),
            SymbolInfo(
                "hip",
                "slope of the hip",
                "angle",
                Domain(0, True, 90, True),
            ),
        ),
        validity="a line in the sloping plane; level eave",
        source="geocities.ws/web_sketches/framing_math/hip_valley_formulas.html",
        status="published",
        functions=(
            "hip_slope",
            "hip_slope_partials",
        ),
    ),
    "jack-side-cut": RelationInfo(
        name="jack-side-cut",
        title="Side cut of a jack, on the plane's face",
        equation="tan(side_cut) = cos(pitch)*cos(plan)/sin(plan)",
        symbols=(
            SymbolInfo(
                "pitch",
                "slope of the plane, square to its eave in plan",
                "angle",
                Domain(0, True, 90, True),
            ),
            SymbolInfo(
                "plan",
                "angle in plan between the plane's eave and the hip",
                "angle",
                Domain(0, True, 180, True),
            ),
            SymbolInfo(
                "side_cut",
                "on the plane's face, between the hip and square to the eave",
                "angle",
                Domain(-90, True, 90, True),
            ),
        ),
        validity="pieces square to the eave; the sheathing's cut, told from the eave, is 90 less it",
        source="geocities.ws/web_sketches/framing_math/hip_valley_formulas.html",
        status="published",
        functions=(
            "jack_side_cut",
            "jack_side_cut_partials",
        ),
    ),
    "backing": RelationInfo(
        name="backing",
        title="Backing angle of a hip",
        equation="sin(backing) = sin(pitch)*cos(plan)",
        symbols=(
            SymbolInfo(
                "pitch",
                "slope of the plane, square to its eave in plan",
                "angle",
                Domain(0, True, 90, True),
            ),
            SymbolInfo(
                "plan",
                "angle in plan between the plane's eave and the hip",
                "angle",
                Domain(0, True, 180, True),
            ),
            SymbolInfo(
                "backing",
                "bevel of the hip's top, from square to its sides, to lie in the plane",
                "angle",
                Domain(-90, True, 90, True),
            ),
        ),
        validity="hip with plumb sides; its tangent is sin(hip)/tan(plan)",
        source="geocities.ws/web_sketches/framing_math/sleeper_bevel/square_fascia90/fascia_wedges.html",
        status="published",
        functions=(
            "backing",
            "backing_partials",
        ),
    ),
    "dihedral": RelationInfo(
        name="dihedral",
        title="Angle between two planes, from their backing angles",
        equation="dihedral = 180 - first_backing - second_backing",
        symbols=(
            SymbolInfo(
                "first_backing",
                "backing angle on one side of the hip",
                "angle",
                Domain(-90, True, 90, True),
            ),
            SymbolInfo(
                "second_backing",
                "backing angle on its other side",
                "angle",
                Domain(-90, True, 90, True),
            ),
            SymbolInfo(
                "dihedral",
                "between the two planes, inside, square to the hip",
                "angle",
                Domain(0, True, 360, True),
            ),
        ),
        validity="both backing angles on one hip with plumb sides",
        source="derived: the backings are what the two planes fall away from square to the hip's sides",
        status="derived",
        functions=(
            "dihedral",
            "dihedral_partials",
        ),
    ),
    "dihedral-of-planes": RelationInfo(
        name="dihedral-of-planes",
        title="Angle between two sloping planes",
        equation="cos(dihedral) = sin(other_pitch)*sin(pitch)*cos(eaves) - cos(other_pitch)*cos(pitch)",
        symbols=(
            SymbolInfo(
                "pitch",
                "slope of the plane, square to its eave in plan",
                "angle",
                Domain(0, True, 90, True),
            ),
            SymbolInfo(
                "other_pitch",
                "slope of the plane on the other side of the hip",
                "angle",
                Domain(0, True, 90, True),
            ),
            SymbolInfo(
                "eaves",
                "inside angle in plan between the two eaves",
                "angle",
                Domain(0, True, 180, True),
            ),
            SymbolInfo(
                "dihedral",
                "between the two planes, inside, square to the hip",
                "angle",
                Domain(0, True, 180, True),
            ),
        ),
        validity="planes that rise inwards from level eaves (a hip)",
        source="derived: scalar product of the two planes' normals",
        status="derived",
        functions=(
            "dihedral_of_planes",
            "dihedral_of_planes_partials",
        ),
    ),
    "plumb-plane-mitre": RelationInfo(
        name="plumb-plane-mitre",
        title="Mitre of a sloped rail cut in the plumb plane that halves a turn, rail flat on the saw",
        equation="tan(mitre) = tan((turn/2))/cos(pitch)",
        symbols=(
            SymbolInfo(
                "pitch",
                "slope of the rail, up positive",
                "angle",
                Domain(-90, True, 90, True),
            ),
            SymbolInfo(
                "turn",
                "turn in plan, left positive",
                "angle",
                Domain(-180, True, 180, True),
            ),
            SymbolInfo(
                "mitre",
                "across the rail's top, from square; positive with a left turn",
                "angle",
                Domain(-90, True, 90, True),
            ),
        ),
        validity="plumb-sided rail; on its side instead the mitre is the pitch",
        source="derived: the plane's normal in the rail's own frame; the form is the sheathing cut's",
        status="derived",
        functions=(
            "plumb_plane_mitre",
            "plumb_plane_mitre_partials",
        ),
    ),
    "plumb-plane-tilt": RelationInfo(
        name="plumb-plane-tilt",
        title=(
            "Tilt of the saw for a sloped rail cut in the plumb plane that halves a turn, rail flat "
            "on the saw"
        ),
        equation="sin(tilt) = sin(pitch)*cos((turn/2))",
        symbols=(
            SymbolInfo(
                "pitch",
                "slope of the rail, up positive",
                "angle",
                Domain(-90, True, 90, True),
            ),
            SymbolInfo(
                "turn",
                "turn in plan, left positive",
                "angle",
                Domain(-180, True, 180, True),
            ),
            SymbolInfo(
                "tilt",
                "of the saw from square to the rail's top; the slope's sign",
                "angle",
                Domain(-90, True, 90, True),
            ),
        ),
        validity="plumb-sided rail; on its side instead the tilt is half the turn",
        source="derived: the plane's normal in the rail's own frame; the form is the backing angle's",
        status="derived",
        functions=(
            "plumb_plane_tilt",
            "plumb_plane_tilt_partials",
        ),
    ),
    "plumb-plane-climb": RelationInfo(
        name="plumb-plane-climb",
        title="Climb of a sloped rail's top edge across its cut at a turn",
        equation="climb = width*tan(pitch)*tan((turn/2))",
        symbols=(
            SymbolInfo(
                "width",
                "of the rail's top, level and square to it in plan",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "turn",
                "turn in plan, left positive",
                "angle",
                Domain(-180, True, 180, True),
            ),
            SymbolInfo(
                "pitch",
                "slope of the rail, up positive",
                "angle",
                Domain(-90, True, 90, True),
            ),
            SymbolInfo(
                "climb",
                "plumb, along the cut's top edge, from left to right of the rail that arrives",
                "length",
                Domain(None, False, None, False),
            ),
        ),
        validity=(
            "cut in the plumb plane that halves the turn; of the rail that leaves it is from right to"
            " left"
        ),
        source="derived: right triangle in plan, then along the slope",
        status="derived",
        functions=(
            "plumb_plane_climb",
            "plumb_plane_climb_partials",
        ),
    ),
    "section-twist": RelationInfo(
        name="section-twist",
        title="Twist between the sections of two plumb-sided rails at their true mitre",
        equation=(
            "sin(twist)/(cos(twist) + 1) = (sin(pitch_in) + sin(pitch_out))*sin(turn)/((cos(turn) + "
            "1)*(sin(pitch_in)*sin(pitch_out) + cos(pitch_in)*cos(pitch_out) + 1))"
        ),
        symbols=(
            SymbolInfo(
                "pitch_in",
                "pitch of the rail that arrives, up positive",
                "angle",
                Domain(-90, True, 90, True),
            ),
            SymbolInfo(
                "pitch_out",
                "pitch of the rail that leaves, up positive",
                "angle",
                Domain(-90, True, 90, True),
            ),
            SymbolInfo(
                "turn",
                "turn in plan, left positive",
                "angle",
                Domain(-180, True, 180, True),
            ),
            SymbolInfo(
                "twist",
                "roll of the leaving rail about itself to match the other, its left side falling",
                "angle",
                Domain(-180, True, 180, True),
            ),
        ),
        validity="joint plane square to the sum of the two directions; they mate flush only at zero",
        source=(
            "derived: the turn less the area of the spherical triangle of both directions and plumb; "
            "tan(twist/2) = tan(turn/2)*sin((pitch_in + pitch_out)/2)/cos((pitch_in - pitch_out)/2)"
        ),
        status="derived",
        functions=(
            "section_twist",
            "section_twist_partials",
        ),
    ),
    "splayed-mitre": RelationInfo(
        name="splayed-mitre",
        title="Mitre of splayed boards at a corner, board flat on the saw",
        equation="tan(mitre) = cos(splay)*tan((turn/2))",
        symbols=(
            SymbolInfo(
                "splay",
                "slope of the boards from level, square to their run",
                "angle",
                Domain(0, False, 90, False),
            ),
            SymbolInfo(
                "turn",
                "turn in plan, left positive",
                "angle",
                Domain(-180, True, 180, True),
            ),
            SymbolInfo(
                "mitre",
                "across the board's face, from square to its edge",
                "angle",
                Domain(-90, True, 90, True),
            ),
        ),
        validity="equal boards with level edges; the turn at each corner of a box of n sides is 360/n",
        source="derived: the plumb plane that halves the corner, in the board's own frame",
        status="derived",
        functions=(
            "splayed_mitre",
            "splayed_mitre_partials",
        ),
    ),
    "splayed-tilt": RelationInfo(
        name="splayed-tilt",
        title="Tilt of the saw for splayed boards at a corner, board flat on the saw",
        equation="sin(tilt) = sin(splay)*sin((turn/2))",
        symbols=(
            SymbolInfo(
                "splay",
                "slope of the boards from level, square to their run",
                "angle",
                Domain(0, False, 90, False),
            ),
            SymbolInfo(
                "turn",
                "turn in plan, left positive",
                "angle",
                Domain(-180, True, 180, True),
            ),
            SymbolInfo(
                "tilt",
                "of the saw from square to the board's face",
                "angle",
                Domain(-90, False, 90, False),
            ),
        ),
        validity="equal boards with level edges; the turn at each corner of a box of n sides is 360/n",
        source="derived: the plumb plane that halves the corner, in the board's own frame",
        status="derived",
        functions=(
            "splayed_tilt",
            "splayed_tilt_partials",
        ),
    ),
    "post-bevel": RelationInfo(
        name="post-bevel",
        title="Difference across a post's width, of its bevelled top or of a strand through it",
        equation="difference = width*tan(pitch)",
        symbols=(
            SymbolInfo(
                "width",
                "of the post's face, along the guard",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "pitch",
                "slope of rail and strands, up positive",
                "angle",
                Domain(-90, True, 90, True),
            ),
            SymbolInfo(
                "difference",
                "plumb, between the post's two faces, uphill positive",
                "length",
                Domain(None, False, None, False),
            ),
        ),
        validity="plumb post, faces square to the guard line in plan",
        source="derived: right triangle",
        status="derived",
        functions=(
            "post_bevel",
            "post_bevel_partials",
        ),
    ),
    "hole-faces": RelationInfo(
        name="hole-faces",
        title="Hole height at a face of a post",
        equation="face = across*slope + height",
        symbols=(
            SymbolInfo(
                "height",
                "of the hole on the post's centre line, plumb",
                "length",
                Domain(None, False, None, False),
            ),
            SymbolInfo(
                "across",
                "level, from the post's centre line to the face, uphill positive",
                "length",
                Domain(None, False, None, False),
            ),
            SymbolInfo(
                "slope",
                "rise of the strand for one of level run, uphill positive",
                "number",
                Domain(None, False, None, False),
            ),
            SymbolInfo(
                "face",
                "height of the hole at that face, plumb, from where the height is taken",
                "length",
                Domain(None, False, None, False),
            ),
        ),
        validity="plumb post; straight strand from centre line to face",
        source="derived: right triangle",
        status="derived",
        functions=(
            "hole_face",
            "hole_face_partials",
        ),
    ),
    "strand-bore": RelationInfo(
        name="strand-bore",
        title="Length of a strand's hole through a post",
        equation="bore = width/cos(pitch)",
        symbols=(
            SymbolInfo(
                "width",
                "of the post's face, along the guard",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "pitch",
                "slope of the strand from square to the post's face",
                "angle",
                Domain(0, False, 90, True),
            ),
            SymbolInfo(
                "bore",
                "along the strand, from face to face",
                "length",
                Domain(0, True, None, False),
            ),
        ),
        validity="plumb post, faces square to the guard line in plan",
        source="derived: right triangle",
        status="derived",
        functions=(
            "strand_bore",
            "strand_bore_partials",
        ),
    ),
    "strand-ellipse": RelationInfo(
        name="strand-ellipse",
        title="Long axis of a strand's section in a post's face",
        equation="long_axis = diameter/cos(pitch)",
        symbols=(
            SymbolInfo(
                "diameter",
                "of the strand",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "pitch",
                "slope of the strand from square to the post's face",
                "angle",
                Domain(0, False, 90, True),
            ),
            SymbolInfo(
                "long_axis",
                "of the hole's ellipse on the face, plumb",
                "length",
                Domain(0, True, None, False),
            ),
        ),
        validity="round strand; the short axis is the diameter",
        source="derived: a plane section of a cylinder; so also mathforum.org, Dr. Math 63463",
        status="derived",
        functions=(
            "strand_ellipse",
            "strand_ellipse_partials",
        ),
    ),
    "strand-slot": RelationInfo(
        name="strand-slot",
        title="Level slot that clears a sloped strand",
        equation="slot = diameter/cos(pitch) + width*tan(pitch)",
        symbols=(
            SymbolInfo(
                "diameter",
                "of the strand",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "width",
                "of the post's face, along the guard",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "pitch",
                "slope of the strand from square to the post's face",
                "angle",
                Domain(0, False, 90, True),
            ),
            SymbolInfo(
                "slot",
                "height of the level slot, plumb",
                "length",
                Domain(0, True, None, False),
            ),
        ),
        validity="slot bored straight through, square to the face, that just clears the strand",
        source="derived: the strand's ellipse moved by its offset through the post",
        status="derived",
        functions=(
            "strand_slot",
            "strand_slot_partials",
        ),
    ),
    "strand-area": RelationInfo(
        name="strand-area",
        title="Metallic area of a strand",
        equation="area = pi*diameter^2*fill/4",
        symbols=(
            SymbolInfo(
                "diameter",
                "of the strand, over its outer wires",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "fill",
                "part of the circle over the wires that is metal",
                "number",
                Domain(0, True, 1, False),
            ),
            SymbolInfo(
                "area",
                "of the wires' metal, in squares of the diameter's unit",
                "number",
                Domain(0, True, None, False),
            ),
        ),
        validity="round wires; 1x19 of equal wires, five across the strand: fill 19/25",
        source="derived: area of a circle, and of 19 circles a fifth as wide",
        status="derived",
        functions=(
            "strand_area",
            "strand_area_partials",
        ),
    ),
    "strand-mass": RelationInfo(
        name="strand-mass",
        title="Mass of a unit of a strand's length",
        equation="mass = area*density*(lay_take_up + 1)",
        symbols=(
            SymbolInfo(
                "area",
                "of the wires' metal, in squares of the diameter's unit",
                "number",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "density",
                "of the wires, mass in one cube of the unit of length",
                "number",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "lay_take_up",
                "how much longer the wires are than the strand, as a part of it",
                "number",
                Domain(0, False, None, False),
            ),
            SymbolInfo(
                "mass",
                "of one unit of the strand's length",
                "number",
                Domain(0, True, None, False),
            ),
        ),
        validity="wires of one density; the lay makes every wire a helix longer than the strand",
        source="derived: volume of the wires times their density",
        status="derived",
        functions=(
            "strand_mass",
            "strand_mass_partials",
        ),
    ),
    "strand-force": RelationInfo(
        name="strand-force",
        title="Force that deflects a tensioned strand at mid-bay",
        equation=(
            "force = deflection*(4*deflection^2*(stiffness + tension)/(run*(bay/2 + sqrt(bay^2/4 + "
            "deflection^2))) + 2*tension)/sqrt(bay^2/4 + deflection^2)"
        ),
        symbols=(
            SymbolInfo(
                "tension",
                "of the strand at rest",
                "force",
                Domain(0, False, None, False),
            ),
            SymbolInfo(
                "stiffness",
                "EA of the strand, its effective modulus times its metallic area",
                "force",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "bay",
                "clear between two posts, along the strand",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "run",
                (
                    "of strand that stretches: the bay where it is held at both posts, else from anchor to "
                    "anchor"
                ),
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "deflection",
                "of the strand's middle in the bay, square to the strand",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "force",
                "at mid-bay, square to the strand",
                "force",
                Domain(0, False, None, False),
            ),
        ),
        validity=(
            "elastic strand without weight; two straight halves; it stretches alike over the whole "
            "run"
        ),
        source=(
            "derived: the halves' true lengthening over the unstretched run gives the tension along "
            "them"
        ),
        status="derived",
        functions=(
            "strand_force",
            "strand_force_partials",
            "strand_force_tension",
        ),
    ),
    "strand-force-small": RelationInfo(
        name="strand-force-small",
        title="The same where the deflection is small beside the bay",
        equation="force = 4*deflection*tension/bay + 8*deflection^3*stiffness/(bay^2*run)",
        symbols=(
            SymbolInfo(
                "tension",
                "of the strand at rest",
                "force",
                Domain(0, False, None, False),
            ),
            SymbolInfo(
                "stiffness",
                "EA of the strand, its effective modulus times its metallic area",
                "force",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "bay",
                "clear between two posts, along the strand",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "run",
                (
                    "of strand that stretches: the bay where it is held at both posts, else from anchor to "
                    "anchor"
                ),
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "deflection",
                "of the strand's middle in the bay, square to the strand",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "force",
                "at mid-bay, square to the strand",
                "force",
                Domain(0, False, None, False),
            ),
        ),
        validity="deflection small beside the bay: 1 % of it is off by some hundredths of a per cent",
        source=(
            "derived: first two powers of the deflection; its limit without tension is in textbooks "
            "of physics"
        ),
        status="derived",
        functions=(
            "strand_force_small",
            "strand_force_small_partials",
            "strand_force_small_tension",
        ),
    ),
    "hardest-contact": RelationInfo(
        name="hardest-contact",
        title="Contact angle at which a sphere is hardest to push between two strands",
        equation="cos(contact) = spacing^(1/3)/(diameter + sphere)^(1/3)",
        symbols=(
            SymbolInfo(
                "sphere",
                "diameter of the sphere pushed between the two strands",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "diameter",
                "of the strand",
                "length",
                Domain(0, False, None, False),
            ),
            SymbolInfo(
                "spacing",
                "between the strands' centres at rest, square",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "contact",
                "from the strands' plane to where they touch the sphere",
                "angle",
                Domain(0, False, 90, True),
            ),
        ),
        validity=(
            "sphere larger than the clear gap; tension that stays as it is, no friction, small "
            "deflection"
        ),
        source=(
            "derived: the greatest of deflection times the contact angle's sine along the sphere's "
            "way"
        ),
        status="derived",
        functions=(
            "hardest_contact",
            "hardest_contact_partials",
        ),
    ),
    "push-without-stretch": RelationInfo(
        name="push-without-stretch",
        title="Push of a sphere between two strands whose tension stays as it is",
        equation="push = 4*tension*(diameter + sphere)*sin(contact)^3/bay",
        symbols=(
            SymbolInfo(
                "tension",
                "of the strand at rest",
                "force",
                Domain(0, False, None, False),
            ),
            SymbolInfo(
                "sphere",
                "diameter of the sphere pushed between the two strands",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "diameter",
                "of the strand",
                "length",
                Domain(0, False, None, False),
            ),
            SymbolInfo(
                "bay",
                "clear between two posts, along the strand",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "contact",
                "from the strands' plane to where they touch the sphere",
                "angle",
                Domain(0, False, 90, True),
            ),
            SymbolInfo(
                "push",
                "greatest on the sphere's way through, square to the guard",
                "force",
                Domain(0, False, None, False),
            ),
        ),
        validity="at the hardest contact; stretch only adds to it, so that it is the least push at mid-bay",
        source=(
            "derived: there the deflection is the sine squared of what sphere and strand reach "
            "together"
        ),
        status="derived",
        functions=(
            "push_without_stretch",
            "push_without_stretch_partials",
            "push_without_stretch_tension",
        ),
    ),
    "strand-elongation": RelationInfo(
        name="strand-elongation",
        title="Stretch of a strand under tension",
        equation="elongation = run*tension/stiffness",
        symbols=(
            SymbolInfo(
                "tension",
                "of the strand at rest",
                "force",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "stiffness",
                "EA of the strand, its effective modulus times its metallic area",
                "force",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "run",
                (
                    "of strand that stretches: the bay where it is held at both posts, else from anchor to "
                    "anchor"
                ),
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "elongation",
                "of the strand by its tension",
                "length",
                Domain(0, False, None, False),
            ),
        ),
        validity="elastic strand whose first settling is over; supports that do not move",
        source="derived: Hooke's law",
        status="derived",
        functions=(
            "strand_elongation",
            "strand_elongation_partials",
            "strand_elongation_tension",
        ),
    ),
    "tensioner-turns": RelationInfo(
        name="tensioner-turns",
        title="Turns of a tensioner",
        equation="turns = drawn/lead",
        symbols=(
            SymbolInfo(
                "drawn",
                "in by the tensioner",
                "length",
                Domain(0, False, None, False),
            ),
            SymbolInfo(
                "lead",
                "by which one turn of the tensioner draws the strand in",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "turns",
                "of the tensioner",
                "number",
                Domain(0, False, None, False),
            ),
        ),
        validity="one turn draws in one lead; where threads of two hands work together it is both leads",
        source="derived: a screw's advance",
        status="derived",
        functions=(
            "tensioner_turns",
            "tensioner_turns_partials",
            "tensioner_drawn",
        ),
    ),
    "strand-sag": RelationInfo(
        name="strand-sag",
        title="Sag of a strand under its own weight",
        equation="sag = bay^2*weight/(8*tension)",
        symbols=(
            SymbolInfo(
                "weight",
                "of the strand, force on one unit of its length",
                "number",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "bay",
                "clear between two posts, along the strand",
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "tension",
                "of the strand at rest",
                "force",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "sag",
                "of the strand's middle below the straight line between its supports, plumb",
                "length",
                Domain(0, False, None, False),
            ),
        ),
        validity=(
            "sag small beside the bay; on any pitch, the bay measured along the strand: the load "
            "square to it and the plumb sag over the square one cancel"
        ),
        source="derived: a parabola; textbooks of statics have the level case",
        status="derived",
        functions=(
            "strand_sag",
            "strand_sag_partials",
            "strand_sag_tension",
        ),
    ),
    "tension-by-temperature": RelationInfo(
        name="tension-by-temperature",
        title="Tension after a change of temperature",
        equation="after = before - stiffness*warming*(strand_rate - frame_rate)",
        symbols=(
            SymbolInfo(
                "before",
                "tension before",
                "force",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "stiffness",
                "EA of the strand, its effective modulus times its metallic area",
                "force",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "strand_rate",
                "thermal expansion of the strand, per degree of temperature",
                "number",
                Domain(0, False, None, False),
            ),
            SymbolInfo(
                "frame_rate",
                "thermal expansion of the frame along the strand, per the same degree",
                "number",
                Domain(0, False, None, False),
            ),
            SymbolInfo(
                "warming",
                "by how many degrees it grows warmer; cooling is negative",
                "number",
                Domain(None, False, None, False),
            ),
            SymbolInfo(
                "after",
                "tension after; a strand that would be left with less than none is slack",
                "force",
                Domain(0, False, None, False),
            ),
        ),
        validity="straight strand, taut at both temperatures, whose frame moves freely and does not bend",
        source="derived: Hooke's law on the difference of two expansions",
        status="derived",
        functions=(
            "tension_by_temperature",
            "tension_by_temperature_partials",
            "tension_by_temperature_before",
        ),
    ),
    "tension-by-shortening": RelationInfo(
        name="tension-by-shortening",
        title="Tension after its anchors have come nearer",
        equation="after = before - shortening*stiffness/run",
        symbols=(
            SymbolInfo(
                "before",
                "tension before",
                "force",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "stiffness",
                "EA of the strand, its effective modulus times its metallic area",
                "force",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "run",
                (
                    "of strand that stretches: the bay where it is held at both posts, else from anchor to "
                    "anchor"
                ),
                "length",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "shortening",
                "by which the anchors' seats come nearer to each other; negative apart",
                "length",
                Domain(None, False, None, False),
            ),
            SymbolInfo(
                "after",
                "tension after; a strand that would be left with less than none is slack",
                "force",
                Domain(0, False, None, False),
            ),
        ),
        validity="straight strand, taut before and after",
        source="derived: Hooke's law",
        status="derived",
        functions=(
            "tension_by_shortening",
            "tension_by_shortening_partials",
            "tension_by_shortening_before",
            "shortening_by_tension",
        ),
    ),
    "fitting-force": RelationInfo(
        name="fitting-force",
        title="Force of a strand on a fitting that turns it",
        equation="force = 2*tension*sin((bend/2))",
        symbols=(
            SymbolInfo(
                "tension",
                "of the strand at rest",
                "force",
                Domain(0, True, None, False),
            ),
            SymbolInfo(
                "bend",
                "of the strand at the fitting, 0 where it runs straight on",
                "angle",
                Domain(0, False, 180, False),
            ),
            SymbolInfo(
                "force",
                "on the fitting, along the line that halves the bend",
                "force",
                Domain(0, False, None, False),
            ),
        ),
        validity="one tension on both sides, no friction in the fitting",
        source="derived: sum of two equal pulls",
        status="derived",
        functions=(
            "fitting_force",
            "fitting_force_partials",
        ),
    ),
}
