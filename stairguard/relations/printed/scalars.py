"""The closed forms that the package calls, on single numbers.

Printed from the declarations by ``python -m stairguard.relations.printer``: change those, not this file.

Lengths are in any one unit, angles in degrees. Partial derivatives count per degree. Rational
formulas given Fractions answer in Fractions; the others take Fractions too and answer in floats. Domains are
not checked: outside them, and at a corner for a derivative, the arithmetic raises ZeroDivisionError or
ValueError, or gives a number without meaning. NaN gives NaN.
"""
# Laid out by the printer and compared byte for byte.
# fmt: off

from __future__ import annotations

import math
from fractions import Fraction
from typing import TypeAlias, TypeVar

__all__ = [
    "bend",
    "fitting_force",
    "hole_face",
    "jog_bottom",
    "jog_top",
    "landing_height_at_bottom",
    "landing_height_at_top",
    "mitre",
    "mitre_point",
    "pitch",
    "pitch_rise",
    "post_bevel",
    "rail_meets_bottom",
    "rail_meets_top",
    "section_twist",
    "slope_length",
    "step_lift",
    "step_sphere",
    "step_sphere_partials",
    "strand_area",
    "strand_bore",
    "strand_ellipse",
    "strand_elongation",
    "strand_mass",
    "strand_sag",
    "strand_spacing",
    "tension_by_shortening",
    "tensioner_turns",
]

Number = TypeVar("Number", Fraction, float)
Real: TypeAlias = Fraction | float


def bend(pitch_in: Real, pitch_out: Real, turn: Real) -> float:
    """Find ``bend``: angle between the two directions, 0 where they run straight on.

    From ``cos(bend) = sin(pitch_in)*sin(pitch_out) + cos(pitch_in)*cos(pitch_out)*cos(turn)`` (``bend``).

    Parameters
    ----------
    pitch_in : angle
        Pitch of the part that arrives, up positive. Between -90 and 90.
    pitch_out : angle
        Pitch of the part that leaves, up positive. Between -90 and 90.
    turn : angle
        Turn in plan, left positive. From -180 to 180.

    Returns
    -------
    bend : angle
        Angle between the two directions, 0 where they run straight on. From 0 to 180.

    Notes
    -----
    Valid for: straight lines each side of the joint.
    Source: derived: scalar product of the two unit directions.
    """
    pitch_in_rad = math.radians(pitch_in)
    pitch_out_rad = math.radians(pitch_out)
    turn_rad = math.radians(turn)
    part0 = pitch_in_rad/2
    part1 = pitch_out_rad/2
    part2 = turn_rad/2
    part3 = math.cos(pitch_in_rad)*math.cos(pitch_out_rad)
    return (
        math.degrees(2*math.atan2(math.sqrt(part3*math.sin(part2)**2 + math.sin(part0 - part1)**2),
        math.sqrt(part3*math.cos(part2)**2 + math.sin(part0 + part1)**2)))
    )


def fitting_force(tension: Real, bend: Real) -> float:
    """Find ``force``: on the fitting, along the line that halves the bend.

    From ``force = 2*tension*sin((bend/2))`` (``fitting-force``).

    Parameters
    ----------
    tension : force
        Of the strand at rest. More than 0.
    bend : angle
        Of the strand at the fitting, 0 where it runs straight on. From 0 to 180.

    Returns
    -------
    force : force
        On the fitting, along the line that halves the bend. 0 or more.

    Notes
    -----
    Valid for: one tension on both sides, no friction in the fitting.
    Source: derived: sum of two equal pulls.
    """
    bend_rad = math.radians(bend)
    return 2*tension*math.sin(bend_rad/2)


def hole_face(height: Number, across: Number, slope: Number) -> Number:
    """Find ``face``: height of the hole at that face, plumb, from where the height is taken.

    From ``face = across*slope + height`` (``hole-faces``).

    Parameters
    ----------
    height : length
        Of the hole on the post's centre line, plumb. Any finite value.
    across : length
        Level, from the post's centre line to the face, uphill positive. Any finite value.
    slope : number
        Rise of the strand for one of level run, uphill positive. Any finite value.

    Returns
    -------
    face : length
        Height of the hole at that face, plumb, from where the height is taken. Any finite value.

    Notes
    -----
    Valid for: plumb post; straight strand from centre line to face.
    Source: derived: right triangle.
    """
    return across*slope + height


def jog_bottom(
    rise: Number, run: Number, flight_height: Number, landing_height: Number, station: Number,
) -> Number:
    """Find ``jog``: how far the landing's rail stands above the flight's at the station, plumb.

    From ``jog = landing_height - flight_height - rise - rise*station/run`` (``jog-bottom``).

    Parameters
    ----------
    rise : length
        Rise of a step. More than 0.
    run : length
        Run of a step, level. More than 0.
    flight_height : length
        Rail over the flight, plumb above the nosing line. More than 0.
    landing_height : length
        Rail over the landing, plumb above it, to the same line of the rail. More than 0.
    station : length
        Level, from nosing 1 uphill positive, out over the lower landing negative. Any finite value.

    Returns
    -------
    jog : length
        How far the landing's rail stands above the flight's at the station, plumb. Any finite value.

    Notes
    -----
    Valid for: level landing, straight flight of equal steps, both heights to the same line of the rail.
    Source: derived: the flight's rail is its nosing line moved up plumb.
    """
    return landing_height - flight_height - rise - rise*station/run


def jog_top(
    rise: Number, run: Number, flight_height: Number, landing_height: Number, station: Number,
) -> Number:
    """Find ``jog``: how far the landing's rail stands above the flight's at the station, plumb.

    From ``jog = landing_height - flight_height - rise*station/run`` (``jog-top``).

    Parameters
    ----------
    rise : length
        Rise of a step. More than 0.
    run : length
        Run of a step, level. More than 0.
    flight_height : length
        Rail over the flight, plumb above the nosing line. More than 0.
    landing_height : length
        Rail over the landing, plumb above it, to the same line of the rail. More than 0.
    station : length
        Level, from the top nosing onto the upper landing positive. Any finite value.

    Returns
    -------
    jog : length
        How far the landing's rail stands above the flight's at the station, plumb. Any finite value.

    Notes
    -----
    Valid for: level landing, straight flight of equal steps, both heights to the same line of the rail.
    Source: derived: the flight's rail is its nosing line moved up plumb.
    """
    return landing_height - flight_height - rise*station/run


def landing_height_at_bottom(rise: Number, run: Number, flight_height: Number, station: Number) -> Number:
    """Find ``landing_height``: rail over the landing, plumb above it, to the same line of the rail.

    From ``station = run*(landing_height - flight_height - rise)/rise`` (``rail-meets-bottom``).

    Parameters
    ----------
    rise : length
        Rise of a step. More than 0.
    run : length
        Run of a step, level. More than 0.
    flight_height : length
        Rail over the flight, plumb above the nosing line. More than 0.
    station : length
        Level, from nosing 1 uphill positive, out over the lower landing negative. Any finite value.

    Returns
    -------
    landing_height : length
        Rail over the landing, plumb above it, to the same line of the rail. More than 0.

    Notes
    -----
    Valid for: level landing, straight flight of equal steps, both heights to the same line of the rail.
    Source: derived: the flight's rail is its nosing line moved up plumb.
    """
    return flight_height + rise + rise*station/run


def landing_height_at_top(rise: Number, run: Number, flight_height: Number, station: Number) -> Number:
    """Find ``landing_height``: rail over the landing, plumb above it, to the same line of the rail.

    From ``station = run*(landing_height - flight_height)/rise`` (``rail-meets-top``).

    Parameters
    ----------
    rise : length
        Rise of a step. More than 0.
    run : length
        Run of a step, level. More than 0.
    flight_height : length
        Rail over the flight, plumb above the nosing line. More than 0.
    station : length
        Level, from the top nosing onto the upper landing positive. Any finite value.

    Returns
    -------
    landing_height : length
        Rail over the landing, plumb above it, to the same line of the rail. More than 0.

    Notes
    -----
    Valid for: level landing, straight flight of equal steps, both heights to the same line of the rail.
    Source: derived: the flight's rail is its nosing line moved up plumb.
    """
    return flight_height + rise*station/run


def mitre(bend: Number) -> Number:
    """Find ``mitre``: cut of each piece, from square across it.

    From ``mitre = bend/2`` (``mitre``).

    Parameters
    ----------
    bend : angle
        Angle between the two directions, 0 where they run straight on. From 0 to 180.

    Returns
    -------
    mitre : angle
        Cut of each piece, from square across it. From 0 to 90.

    Notes
    -----
    Valid for: equal pieces; the joint plane halves the bend.
    Source: derived: the joint plane's normal is the sum of the two unit directions.
    """
    return bend/2


def mitre_point(depth: Real, mitre: Real) -> float:
    """Find ``offset``: from the short point to the long point, along the piece.

    From ``offset = depth*tan(mitre)`` (``mitre-point``).

    Parameters
    ----------
    depth : length
        Of the rail, square to it. More than 0.
    mitre : angle
        Cut of each piece, from square across it. 0 or more and less than 90.

    Returns
    -------
    offset : length
        From the short point to the long point, along the piece. 0 or more.

    Notes
    -----
    Valid for: plane cut across a straight piece; a plumb cut's angle is the pitch.
    Source: derived: right triangle.
    """
    mitre_rad = math.radians(mitre)
    return depth*math.tan(mitre_rad)


def pitch(rise: Real, run: Real) -> float:
    """Find ``pitch``: slope from level, up positive.

    From ``tan(pitch) = rise/run`` (``pitch``).

    Parameters
    ----------
    rise : length
        Rise of a step; negative goes down. Any finite value.
    run : length
        Run of a step, level. More than 0.

    Returns
    -------
    pitch : angle
        Slope from level, up positive. Between -90 and 90.

    Notes
    -----
    Valid for: run level and plumb rise of the same step, ramp or nosing line.
    Source: derived: right triangle; checked against the stair pitch table of WAC 296-24-76511, Table D-1.
    """
    return math.degrees(math.atan(rise/run))


def pitch_rise(run: Real, pitch: Real) -> float:
    """Find ``rise``: rise of a step; negative goes down.

    From ``tan(pitch) = rise/run`` (``pitch``).

    Parameters
    ----------
    run : length
        Run of a step, level. More than 0.
    pitch : angle
        Slope from level, up positive. Between -90 and 90.

    Returns
    -------
    rise : length
        Rise of a step; negative goes down. Any finite value.

    Notes
    -----
    Valid for: run level and plumb rise of the same step, ramp or nosing line.
    Source: derived: right triangle; checked against the stair pitch table of WAC 296-24-76511, Table D-1.
    """
    pitch_rad = math.radians(pitch)
    return run*math.tan(pitch_rad)


def post_bevel(width: Real, pitch: Real) -> float:
    """Find ``difference``: plumb, between the post's two faces, uphill positive.

    From ``difference = width*tan(pitch)`` (``post-bevel``).

    Parameters
    ----------
    width : length
        Of the post's face, along the guard. More than 0.
    pitch : angle
        Slope of rail and strands, up positive. Between -90 and 90.

    Returns
    -------
    difference : length
        Plumb, between the post's two faces, uphill positive. Any finite value.

    Notes
    -----
    Valid for: plumb post, faces square to the guard line in plan.
    Source: derived: right triangle.
    """
    pitch_rad = math.radians(pitch)
    return width*math.tan(pitch_rad)


def rail_meets_bottom(rise: Number, run: Number, flight_height: Number, landing_height: Number) -> Number:
    """Find ``station``: level, from nosing 1 uphill positive, out over the lower landing negative.

    From ``station = run*(landing_height - flight_height - rise)/rise`` (``rail-meets-bottom``).

    Parameters
    ----------
    rise : length
        Rise of a step. More than 0.
    run : length
        Run of a step, level. More than 0.
    flight_height : length
        Rail over the flight, plumb above the nosing line. More than 0.
    landing_height : length
        Rail over the landing, plumb above it, to the same line of the rail. More than 0.

    Returns
    -------
    station : length
        Level, from nosing 1 uphill positive, out over the lower landing negative. Any finite value.

    Notes
    -----
    Valid for: level landing, straight flight of equal steps, both heights to the same line of the rail.
    Source: derived: the flight's rail is its nosing line moved up plumb.
    """
    return run*(landing_height - flight_height - rise)/rise


def rail_meets_top(rise: Number, run: Number, flight_height: Number, landing_height: Number) -> Number:
    """Find ``station``: level, from the top nosing onto the upper landing positive.

    From ``station = run*(landing_height - flight_height)/rise`` (``rail-meets-top``).

    Parameters
    ----------
    rise : length
        Rise of a step. More than 0.
    run : length
        Run of a step, level. More than 0.
    flight_height : length
        Rail over the flight, plumb above the nosing line. More than 0.
    landing_height : length
        Rail over the landing, plumb above it, to the same line of the rail. More than 0.

    Returns
    -------
    station : length
        Level, from the top nosing onto the upper landing positive. Any finite value.

    Notes
    -----
    Valid for: level landing, straight flight of equal steps, both heights to the same line of the rail.
    Source: derived: the flight's rail is its nosing line moved up plumb.
    """
    return run*(landing_height - flight_height)/rise


def section_twist(pitch_in: Real, pitch_out: Real, turn: Real) -> float:
    """Find ``twist``: roll of the leaving rail about itself to match the other, its left side falling.

    From ``sin(twist)/(cos(twist) + 1) = (sin(pitch_in) + sin(pitch_out))*sin(turn)/((cos(turn) +
    1)*(sin(pitch_in)*sin(pitch_out) + cos(pitch_in)*cos(pitch_out) + 1))`` (``section-twist``).

    Parameters
    ----------
    pitch_in : angle
        Pitch of the rail that arrives, up positive. Between -90 and 90.
    pitch_out : angle
        Pitch of the rail that leaves, up positive. Between -90 and 90.
    turn : angle
        Turn in plan, left positive. Between -180 and 180.

    Returns
    -------
    twist : angle
        Roll of the leaving rail about itself to match the other, its left side falling. Between -180 and
        180.

    Notes
    -----
    Valid for: joint plane square to the sum of the two directions; they mate flush only at zero.
    Source: derived: the turn less the area of the spherical triangle of both directions and plumb;
    tan(twist/2) = tan(turn/2)*sin((pitch_in + pitch_out)/2)/cos((pitch_in - pitch_out)/2).
    """
    pitch_in_rad = math.radians(pitch_in)
    pitch_out_rad = math.radians(pitch_out)
    turn_rad = math.radians(turn)
    part0 = turn_rad/2
    part1 = pitch_in_rad/2
    part2 = pitch_out_rad/2
    return (
        math.degrees(2*math.atan2(math.sin(part0)*math.sin(part1 + part2), math.cos(part0)*math.cos(part1 -
        part2)))
    )


def slope_length(rise: Real, run: Real) -> float:
    """Find ``length``: along the slope.

    From ``length = sqrt(rise^2 + run^2)`` (``slope-length``).

    Parameters
    ----------
    rise : length
        Rise of a step; negative goes down. Any finite value.
    run : length
        Run of a step, level. More than 0.

    Returns
    -------
    length : length
        Along the slope. More than 0.

    Notes
    -----
    Valid for: rise plumb, run level, both between the same two points.
    Source: derived: right triangle.
    """
    return math.sqrt(rise**2 + run**2)


def step_lift(rise: Real, run: Real, nosing: Real, sphere: Real) -> float:
    """Find ``lift``: square, from the nosing line up to the underside of the lowest member.

    From ``sphere = (2*lift*sqrt(rise^2/run^2 + 1) + 2*rise*(nosing/run + 1))/(rise/run + sqrt(rise^2/run^2
    + 1) + 1)`` (``step-sphere``).

    Parameters
    ----------
    rise : length
        Rise of a step. More than 0.
    run : length
        Run of a step, nosing to nosing, level. More than 0.
    nosing : length
        Nosing projection beyond the riser's face below it. 0 or more.
    sphere : length
        Diameter of the largest sphere that passes. More than 0.

    Returns
    -------
    lift : length
        Square, from the nosing line up to the underside of the lowest member. Any finite value.

    Notes
    -----
    Valid for: closed riser; the circle touches tread, riser face and member. Tread thickness is unknown
    here: a thick tread or a long nosing may be touched first, and then the true outline decides.
    Source: derived: a circle tangent to tread, riser face and the member's straight underside; checked
    against the largest circle found by brute force and by a general geometry library.
    """
    part0 = math.sqrt(rise**2 + run**2)
    part1 = 2*rise
    return (part0*sphere + rise*sphere + run*sphere - nosing*part1 - part1*run)/(2*part0)


def step_sphere(rise: Real, run: Real, nosing: Real, lift: Real) -> float:
    """Find ``sphere``: diameter of the largest sphere that passes.

    From ``sphere = (2*lift*sqrt(rise^2/run^2 + 1) + 2*rise*(nosing/run + 1))/(rise/run + sqrt(rise^2/run^2
    + 1) + 1)`` (``step-sphere``).

    Parameters
    ----------
    rise : length
        Rise of a step. More than 0.
    run : length
        Run of a step, nosing to nosing, level. More than 0.
    nosing : length
        Nosing projection beyond the riser's face below it. 0 or more.
    lift : length
        Square, from the nosing line up to the underside of the lowest member. Any finite value.

    Returns
    -------
    sphere : length
        Diameter of the largest sphere that passes. More than 0.

    Notes
    -----
    Valid for: closed riser; the circle touches tread, riser face and member. Tread thickness is unknown
    here: a thick tread or a long nosing may be touched first, and then the true outline decides.
    Source: derived: a circle tangent to tread, riser face and the member's straight underside; checked
    against the largest circle found by brute force and by a general geometry library.
    """
    part0 = math.sqrt(rise**2 + run**2)
    part1 = 2*rise
    return (2*lift*part0 + nosing*part1 + part1*run)/(part0 + rise + run)


def step_sphere_partials(rise: Real, run: Real, nosing: Real, lift: Real) -> tuple[float, ...]:
    """Differentiate ``sphere`` by each argument, in order: diameter of the largest sphere that passes.

    From ``sphere = (2*lift*sqrt(rise^2/run^2 + 1) + 2*rise*(nosing/run + 1))/(rise/run + sqrt(rise^2/run^2
    + 1) + 1)`` (``step-sphere``).

    Parameters
    ----------
    rise : length
        Rise of a step. More than 0.
    run : length
        Run of a step, nosing to nosing, level. More than 0.
    nosing : length
        Nosing projection beyond the riser's face below it. 0 or more.
    lift : length
        Square, from the nosing line up to the underside of the lowest member. Any finite value.

    Returns
    -------
    tuple of numbers
        One an argument: by how much sphere grows for one of it.

    Notes
    -----
    Valid for: closed riser; the circle touches tread, riser face and member. Tread thickness is unknown
    here: a thick tread or a long nosing may be touched first, and then the true outline decides.
    Source: derived: a circle tangent to tread, riser face and the member's straight underside; checked
    against the largest circle found by brute force and by a general geometry library.
    """
    part0 = math.sqrt(rise**2 + run**2)
    part1 = part0 + rise + run
    part2 = 1/part1
    part3 = 2*nosing
    part4 = 2*run
    part5 = 1/part0
    part6 = part5*rise
    part7 = 2*part0
    part8 = (lift*part7 + part3*rise + part4*rise)/part1**2
    part9 = 2*rise
    return (
        part2*(2*lift*part6 + part3 + part4) + part8*(-part6 - 1), part2*(lift*part4*part5 + part9) +
        part8*(-part5*run - 1), part2*part9, part2*part7,
    )


def strand_area(diameter: Real, fill: Real) -> float:
    """Find ``area``: of the wires' metal, in squares of the diameter's unit.

    From ``area = pi*diameter^2*fill/4`` (``strand-area``).

    Parameters
    ----------
    diameter : length
        Of the strand, over its outer wires. More than 0.
    fill : number
        Part of the circle over the wires that is metal. More than 0 and 1 or less.

    Returns
    -------
    area : number
        Of the wires' metal, in squares of the diameter's unit. More than 0.

    Notes
    -----
    Valid for: round wires; 1x19 of equal wires, five across the strand: fill 19/25.
    Source: derived: area of a circle, and of 19 circles a fifth as wide.
    """
    degree = math.radians(1)
    return 45*degree*diameter**2*fill


def strand_bore(width: Real, pitch: Real) -> float:
    """Find ``bore``: along the strand, from face to face.

    From ``bore = width/cos(pitch)`` (``strand-bore``).

    Parameters
    ----------
    width : length
        Of the post's face, along the guard. More than 0.
    pitch : angle
        Slope of the strand from square to the post's face. 0 or more and less than 90.

    Returns
    -------
    bore : length
        Along the strand, from face to face. More than 0.

    Notes
    -----
    Valid for: plumb post, faces square to the guard line in plan.
    Source: derived: right triangle.
    """
    pitch_rad = math.radians(pitch)
    return width/math.cos(pitch_rad)


def strand_ellipse(diameter: Real, pitch: Real) -> float:
    """Find ``long_axis``: of the hole's ellipse on the face, plumb.

    From ``long_axis = diameter/cos(pitch)`` (``strand-ellipse``).

    Parameters
    ----------
    diameter : length
        Of the strand. More than 0.
    pitch : angle
        Slope of the strand from square to the post's face. 0 or more and less than 90.

    Returns
    -------
    long_axis : length
        Of the hole's ellipse on the face, plumb. More than 0.

    Notes
    -----
    Valid for: round strand; the short axis is the diameter.
    Source: derived: a plane section of a cylinder; so also mathforum.org, Dr. Math 63463.
    """
    pitch_rad = math.radians(pitch)
    return diameter/math.cos(pitch_rad)


def strand_elongation(tension: Number, stiffness: Number, run: Number) -> Number:
    """Find ``elongation``: of the strand by its tension.

    From ``elongation = run*tension/stiffness`` (``strand-elongation``).

    Parameters
    ----------
    tension : force
        Of the strand at rest. More than 0.
    stiffness : force
        EA of the strand, its effective modulus times its metallic area. More than 0.
    run : length
        Of strand that stretches: the bay where it is held at both posts, else from anchor to anchor. More
        than 0.

    Returns
    -------
    elongation : length
        Of the strand by its tension. 0 or more.

    Notes
    -----
    Valid for: elastic strand whose first settling is over; supports that do not move.
    Source: derived: Hooke's law.
    """
    return run*tension/stiffness


def strand_mass(area: Number, density: Number, lay_take_up: Number) -> Number:
    """Find ``mass``: of one unit of the strand's length.

    From ``mass = area*density*(lay_take_up + 1)`` (``strand-mass``).

    Parameters
    ----------
    area : number
        Of the wires' metal, in squares of the diameter's unit. More than 0.
    density : number
        Of the wires, mass in one cube of the unit of length. More than 0.
    lay_take_up : number
        How much longer the wires are than the strand, as a part of it. 0 or more.

    Returns
    -------
    mass : number
        Of one unit of the strand's length. More than 0.

    Notes
    -----
    Valid for: wires of one density; the lay makes every wire a helix longer than the strand.
    Source: derived: volume of the wires times their density.
    """
    return area*density*(lay_take_up + 1)


def strand_sag(weight: Number, bay: Number, tension: Number) -> Number:
    """Find ``sag``: of the strand's middle below the straight line between its supports, plumb.

    From ``sag = bay^2*weight/(8*tension)`` (``strand-sag``).

    Parameters
    ----------
    weight : number
        Of the strand, force on one unit of its length. More than 0.
    bay : length
        Clear between two posts, along the strand. More than 0.
    tension : force
        Of the strand at rest. More than 0.

    Returns
    -------
    sag : length
        Of the strand's middle below the straight line between its supports, plumb. 0 or more.

    Notes
    -----
    Valid for: sag small beside the bay; on any pitch, the bay measured along the strand: the load square to
    it and the plumb sag over the square one cancel.
    Source: derived: a parabola; textbooks of statics have the level case.
    """
    return bay**2*weight/(8*tension)


def strand_spacing(diameter: Number, gap: Number) -> Number:
    """Find ``spacing``: between the strands' centres, square.

    From ``gap = spacing - diameter`` (``strand-gap``).

    Parameters
    ----------
    diameter : length
        Of the strand. More than 0.
    gap : length
        Clear gap, square, which a sphere just passes; negative where the two overlap. Any finite value.

    Returns
    -------
    spacing : length
        Between the strands' centres, square. More than 0.

    Notes
    -----
    Valid for: parallel strands of one diameter, no force on them.
    Source: derived: half a diameter goes to each strand.
    """
    return diameter + gap


def tension_by_shortening(before: Number, stiffness: Number, run: Number, shortening: Number) -> Number:
    """Find ``after``: tension after; a strand that would be left with less than none is slack.

    From ``after = before - shortening*stiffness/run`` (``tension-by-shortening``).

    Parameters
    ----------
    before : force
        Tension before. More than 0.
    stiffness : force
        EA of the strand, its effective modulus times its metallic area. More than 0.
    run : length
        Of strand that stretches: the bay where it is held at both posts, else from anchor to anchor. More
        than 0.
    shortening : length
        By which the anchors' seats come nearer to each other; negative apart. Any finite value.

    Returns
    -------
    after : force
        Tension after; a strand that would be left with less than none is slack. 0 or more.

    Notes
    -----
    Valid for: straight strand, taut before and after.
    Source: derived: Hooke's law.
    """
    return before - shortening*stiffness/run


def tensioner_turns(drawn: Number, lead: Number) -> Number:
    """Find ``turns``: of the tensioner.

    From ``turns = drawn/lead`` (``tensioner-turns``).

    Parameters
    ----------
    drawn : length
        In by the tensioner. 0 or more.
    lead : length
        By which one turn of the tensioner draws the strand in. More than 0.

    Returns
    -------
    turns : number
        Of the tensioner. 0 or more.

    Notes
    -----
    Valid for: one turn draws in one lead; where threads of two hands work together it is both leads.
    Source: derived: a screw's advance.
    """
    return drawn/lead
