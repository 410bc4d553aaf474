"""Every closed form, on single numbers.

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
    "backing",
    "backing_partials",
    "bend",
    "bend_partials",
    "dihedral",
    "dihedral_of_planes",
    "dihedral_of_planes_partials",
    "dihedral_partials",
    "fitting_force",
    "fitting_force_partials",
    "flight_height_at_bottom",
    "flight_height_at_top",
    "half_turn_lower",
    "half_turn_upper",
    "half_turn_upper_partials",
    "hardest_contact",
    "hardest_contact_partials",
    "hip_plan",
    "hip_plan_partials",
    "hip_slope",
    "hip_slope_partials",
    "hole_face",
    "hole_face_partials",
    "jack_side_cut",
    "jack_side_cut_partials",
    "jog_bottom",
    "jog_bottom_partials",
    "jog_top",
    "jog_top_partials",
    "landing_height_at_bottom",
    "landing_height_at_top",
    "mitre",
    "mitre_partials",
    "mitre_point",
    "mitre_point_partials",
    "pitch",
    "pitch_partials",
    "pitch_rise",
    "plumb_of_square",
    "plumb_plane_climb",
    "plumb_plane_climb_partials",
    "plumb_plane_mitre",
    "plumb_plane_mitre_partials",
    "plumb_plane_tilt",
    "plumb_plane_tilt_partials",
    "post_bevel",
    "post_bevel_partials",
    "push_without_stretch",
    "push_without_stretch_partials",
    "push_without_stretch_tension",
    "rail_gap",
    "rail_gap_partials",
    "rail_gap_plumb",
    "rail_meets_bottom",
    "rail_meets_bottom_partials",
    "rail_meets_top",
    "rail_meets_top_partials",
    "rail_plumb_depth",
    "rail_plumb_depth_partials",
    "section_twist",
    "section_twist_partials",
    "shortening_by_tension",
    "slope_length",
    "slope_length_partials",
    "splayed_mitre",
    "splayed_mitre_partials",
    "splayed_tilt",
    "splayed_tilt_partials",
    "square_of_plumb",
    "square_of_plumb_partials",
    "step_lift",
    "step_nosing",
    "step_sphere",
    "step_sphere_partials",
    "strand_area",
    "strand_area_partials",
    "strand_bore",
    "strand_bore_partials",
    "strand_ellipse",
    "strand_ellipse_partials",
    "strand_elongation",
    "strand_elongation_partials",
    "strand_elongation_tension",
    "strand_force",
    "strand_force_partials",
    "strand_force_small",
    "strand_force_small_partials",
    "strand_force_small_tension",
    "strand_force_tension",
    "strand_gap",
    "strand_gap_partials",
    "strand_mass",
    "strand_mass_partials",
    "strand_sag",
    "strand_sag_partials",
    "strand_sag_tension",
    "strand_slot",
    "strand_slot_partials",
    "strand_spacing",
    "tension_by_shortening",
    "tension_by_shortening_before",
    "tension_by_shortening_partials",
    "tension_by_temperature",
    "tension_by_temperature_before",
    "tension_by_temperature_partials",
    "tensioner_drawn",
    "tensioner_turns",
    "tensioner_turns_partials",
]

Number = TypeVar("Number", Fraction, float)
Real: TypeAlias = Fraction | float


def backing(pitch: Real, plan: Real) -> float:
    """Bevel of the hip's top, from square to its sides, to lie in the plane.

    From ``sin(backing) = sin(pitch)*cos(plan)`` (``backing``).

    Parameters
    ----------
    pitch : angle
        Slope of the plane, square to its eave in plan. Between 0 and 90.
    plan : angle
        Angle in plan between the plane's eave and the hip. Between 0 and 180.

    Returns
    -------
    backing : angle
        Bevel of the hip's top, from square to its sides, to lie in the plane. Between -90 and 90.

    Notes
    -----
    Valid for: hip with plumb sides; its tangent is sin(hip)/tan(plan).
    Source: geocities.ws/web_sketches/framing_math/sleeper_bevel/square_fascia90/fascia_wedges.html.
    """
    pitch_rad = math.radians(pitch)
    plan_rad = math.radians(plan)
    return math.degrees(math.asin(math.sin(pitch_rad)*math.cos(plan_rad)))


def backing_partials(pitch: Real, plan: Real) -> tuple[float, ...]:
    """Differentiate `backing` by each argument, in its order."""
    pitch_rad = math.radians(pitch)
    plan_rad = math.radians(plan)
    part0 = math.cos(plan_rad)
    part1 = math.sin(pitch_rad)
    part2 = 1/math.sqrt(1 - part0**2*part1**2)
    return (part0*part2*math.cos(pitch_rad), -part1*part2*math.sin(plan_rad),)


def bend(pitch_in: Real, pitch_out: Real, turn: Real) -> float:
    """Angle between the two directions, 0 where they run straight on.

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


def bend_partials(pitch_in: Real, pitch_out: Real, turn: Real) -> tuple[float, ...]:
    """Differentiate `bend` by each argument, in its order."""
    pitch_in_rad = math.radians(pitch_in)
    pitch_out_rad = math.radians(pitch_out)
    turn_rad = math.radians(turn)
    degree = math.radians(1)
    part0 = math.cos(pitch_out_rad)
    part1 = part0*math.sin(pitch_in_rad)
    part2 = turn_rad/2
    part3 = math.cos(part2)
    part4 = part3**2
    part5 = degree/2
    part6 = part4*part5
    part7 = pitch_in_rad/2
    part8 = pitch_out_rad/2
    part9 = part7 + part8
    part10 = math.sin(part9)
    part11 = -degree*part10*math.cos(part9)/2
    part12 = math.cos(pitch_in_rad)
    part13 = part0*part12
    part14 = part10**2 + part13*part4
    part15 = part7 - part8
    part16 = math.sin(part15)
    part17 = math.sin(part2)
    part18 = part17**2
    part19 = part13*part18 + part16**2
    part20 = 1/(part14 + part19)
    part21 = math.sqrt(part14)
    part22 = math.sqrt(part19)
    part23 = part20*part22/part21
    part24 = 1/part22
    part25 = part18*part5
    part26 = part16*part5*math.cos(part15)
    part27 = 2/degree
    part28 = part12*math.sin(pitch_out_rad)
    part29 = part13*part17*part3*part5
    return (
        part27*(part20*part21*part24*(part26 - part1*part25) - part23*(-part1*part6 - part11)),
        part27*(part20*part21*part24*(-part25*part28 - part26) - part23*(-part11 - part28*part6)),
        part27*(part20*part21*part24*part29 + part23*part29),
    )


def dihedral(first_backing: Number, second_backing: Number) -> Number:
    """Between the two planes, inside, square to the hip.

    From ``dihedral = 180 - first_backing - second_backing`` (``dihedral``).

    Parameters
    ----------
    first_backing : angle
        Backing angle on one side of the hip. Between -90 and 90.
    second_backing : angle
        Backing angle on its other side. Between -90 and 90.

    Returns
    -------
    dihedral : angle
        Between the two planes, inside, square to the hip. Between 0 and 360.

    Notes
    -----
    Valid for: both backing angles on one hip with plumb sides.
    Source: derived: the backings are what the two planes fall away from square to the hip's sides.
    """
    return 180 - first_backing - second_backing


def dihedral_of_planes(pitch: Real, other_pitch: Real, eaves: Real) -> float:
    """Between the two planes, inside, square to the hip.

    From ``cos(dihedral) = sin(other_pitch)*sin(pitch)*cos(eaves) - cos(other_pitch)*cos(pitch)``
    (``dihedral-of-planes``).

    Parameters
    ----------
    pitch : angle
        Slope of the plane, square to its eave in plan. Between 0 and 90.
    other_pitch : angle
        Slope of the plane on the other side of the hip. Between 0 and 90.
    eaves : angle
        Inside angle in plan between the two eaves. Between 0 and 180.

    Returns
    -------
    dihedral : angle
        Between the two planes, inside, square to the hip. Between 0 and 180.

    Notes
    -----
    Valid for: planes that rise inwards from level eaves (a hip).
    Source: derived: scalar product of the two planes' normals.
    """
    pitch_rad = math.radians(pitch)
    other_pitch_rad = math.radians(other_pitch)
    eaves_rad = math.radians(eaves)
    part0 = other_pitch_rad/2
    part1 = pitch_rad/2
    part2 = eaves_rad/2
    part3 = math.sin(other_pitch_rad)*math.sin(pitch_rad)
    return (
        math.degrees(2*math.atan2(math.sqrt(part3*math.sin(part2)**2 + math.cos(part0 + part1)**2),
        math.sqrt(part3*math.cos(part2)**2 + math.sin(part0 - part1)**2)))
    )


def dihedral_of_planes_partials(pitch: Real, other_pitch: Real, eaves: Real) -> tuple[float, ...]:
    """Differentiate `dihedral_of_planes` by each argument, in its order."""
    pitch_rad = math.radians(pitch)
    other_pitch_rad = math.radians(other_pitch)
    eaves_rad = math.radians(eaves)
    degree = math.radians(1)
    part0 = math.sin(other_pitch_rad)
    part1 = part0*math.cos(pitch_rad)
    part2 = eaves_rad/2
    part3 = math.cos(part2)
    part4 = part3**2
    part5 = degree/2
    part6 = part4*part5
    part7 = other_pitch_rad/2
    part8 = pitch_rad/2
    part9 = part7 - part8
    part10 = math.sin(part9)
    part11 = part10*part5*math.cos(part9)
    part12 = part7 + part8
    part13 = math.cos(part12)
    part14 = math.sin(part2)
    part15 = part14**2
    part16 = math.sin(pitch_rad)
    part17 = part0*part16
    part18 = part13**2 + part15*part17
    part19 = part10**2 + part17*part4
    part20 = 1/(part18 + part19)
    part21 = math.sqrt(part18)
    part22 = math.sqrt(part19)
    part23 = part20*part21/part22
    part24 = 1/part21
    part25 = part15*part5
    part26 = -part13*part5*math.sin(part12)
    part27 = 2/degree
    part28 = part16*math.cos(other_pitch_rad)
    part29 = part14*part17*part3*part5
    return (
        part27*(part20*part22*part24*(part1*part25 + part26) - part23*(part1*part6 - part11)),
        part27*(part20*part22*part24*(part25*part28 + part26) - part23*(part11 + part28*part6)),
        part27*(part20*part22*part24*part29 + part23*part29),
    )


def dihedral_partials(first_backing: Number, second_backing: Number) -> tuple[Number | int, ...]:
    """Differentiate `dihedral` by each argument, in its order."""
    return (-1, -1,)


def fitting_force(tension: Real, bend: Real) -> float:
    """On the fitting, along the line that halves the bend.

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


def fitting_force_partials(tension: Real, bend: Real) -> tuple[float, ...]:
    """Differentiate `fitting_force` by each argument, in its order."""
    bend_rad = math.radians(bend)
    degree = math.radians(1)
    part0 = bend_rad/2
    return (2*math.sin(part0), degree*tension*math.cos(part0),)


def flight_height_at_bottom(rise: Number, run: Number, landing_height: Number, station: Number) -> Number:
    """Rail over the flight, plumb above the nosing line.

    From ``station = run*(landing_height - flight_height - rise)/rise`` (``rail-meets-bottom``).

    Parameters
    ----------
    rise : length
        Rise of a step. More than 0.
    run : length
        Run of a step, level. More than 0.
    landing_height : length
        Rail over the landing, plumb above it, to the same line of the rail. More than 0.
    station : length
        Level, from nosing 1 uphill positive, out over the lower landing negative. Any finite value.

    Returns
    -------
    flight_height : length
        Rail over the flight, plumb above the nosing line. More than 0.

    Notes
    -----
    Valid for: level landing, straight flight of equal steps, both heights to the same line of the rail.
    Source: derived: the flight's rail is its nosing line moved up plumb.
    """
    return landing_height - rise - rise*station/run


def flight_height_at_top(rise: Number, run: Number, landing_height: Number, station: Number) -> Number:
    """Rail over the flight, plumb above the nosing line.

    From ``station = run*(landing_height - flight_height)/rise`` (``rail-meets-top``).

    Parameters
    ----------
    rise : length
        Rise of a step. More than 0.
    run : length
        Run of a step, level. More than 0.
    landing_height : length
        Rail over the landing, plumb above it, to the same line of the rail. More than 0.
    station : length
        Level, from the top nosing onto the upper landing positive. Any finite value.

    Returns
    -------
    flight_height : length
        Rail over the flight, plumb above the nosing line. More than 0.

    Notes
    -----
    Valid for: level landing, straight flight of equal steps, both heights to the same line of the rail.
    Source: derived: the flight's rail is its nosing line moved up plumb.
    """
    return landing_height - rise*station/run


def half_turn_lower(run: Number, upper: Number) -> Number:
    """Run of the lower flight's rail past its top nosing, to the turn.

    From ``lower + upper = run`` (``half-turn``).

    Parameters
    ----------
    run : length
        Run of a step, level. More than 0.
    upper : length
        Run of the upper flight's rail before its nosing 1, from the turn. Any finite value.

    Returns
    -------
    lower : length
        Run of the lower flight's rail past its top nosing, to the turn. Any finite value.

    Notes
    -----
    Valid for: equal rise and run, rails at one height, no level piece; half each where risers line up.
    Source: derived: the flight's rail is its nosing line moved up plumb; risers in line it is the
    half-a-tread rule of the International Correspondence Schools' Building Construction, vol. 3, section
    44.
    """
    return run - upper


def half_turn_upper(run: Number, lower: Number) -> Number:
    """Run of the upper flight's rail before its nosing 1, from the turn.

    From ``lower + upper = run`` (``half-turn``).

    Parameters
    ----------
    run : length
        Run of a step, level. More than 0.
    lower : length
        Run of the lower flight's rail past its top nosing, to the turn. Any finite value.

    Returns
    -------
    upper : length
        Run of the upper flight's rail before its nosing 1, from the turn. Any finite value.

    Notes
    -----
    Valid for: equal rise and run, rails at one height, no level piece; half each where risers line up.
    Source: derived: the flight's rail is its nosing line moved up plumb; risers in line it is the
    half-a-tread rule of the International Correspondence Schools' Building Construction, vol. 3, section
    44.
    """
    return run - lower


def half_turn_upper_partials(run: Number, lower: Number) -> tuple[Number | int, ...]:
    """Differentiate `half_turn_upper` by each argument, in its order."""
    return (1, -1,)


def hardest_contact(sphere: Real, diameter: Real, spacing: Real) -> float:
    """From the strands' plane to where they touch the sphere.

    From ``cos(contact) = spacing^(1/3)/(diameter + sphere)^(1/3)`` (``hardest-contact``).

    Parameters
    ----------
    sphere : length
        Diameter of the sphere pushed between the two strands. More than 0.
    diameter : length
        Of the strand. 0 or more.
    spacing : length
        Between the strands' centres at rest, square. More than 0.

    Returns
    -------
    contact : angle
        From the strands' plane to where they touch the sphere. 0 or more and less than 90.

    Notes
    -----
    Valid for: sphere larger than the clear gap; tension that stays as it is, no friction, small deflection.
    Source: derived: the greatest of deflection times the contact angle's sine along the sphere's way.
    """
    return math.degrees(math.acos(spacing**(1/3)/(diameter + sphere)**(1/3)))


def hardest_contact_partials(sphere: Real, diameter: Real, spacing: Real) -> tuple[float, ...]:
    """Differentiate `hardest_contact` by each argument, in its order."""
    degree = math.radians(1)
    part0 = diameter + sphere
    part1 = spacing**(2/3)
    part2 = 1/(3*degree*math.sqrt(1 - part1/part0**(2/3)))
    part3 = part2*spacing**(1/3)/part0**(4/3)
    return (part3, part3, -part2/(part0**(1/3)*part1),)


def hip_plan(pitch: Real, other_pitch: Real, eaves: Real) -> float:
    """Angle in plan between the plane's eave and the hip.

    From ``tan(plan) = sin(eaves)*tan(other_pitch)/(cos(eaves)*tan(other_pitch) + tan(pitch))``
    (``hip-plan``).

    Parameters
    ----------
    pitch : angle
        Slope of the plane, square to its eave in plan. Between 0 and 90.
    other_pitch : angle
        Slope of the plane on the other side of the hip. Between 0 and 90.
    eaves : angle
        Inside angle in plan between the two eaves. Between 0 and 180.

    Returns
    -------
    plan : angle
        Angle in plan between the plane's eave and the hip. Between 0 and 180.

    Notes
    -----
    Valid for: level eaves at one height; swap the pitches for the other side.
    Source: geocities.ws/web_sketches/framing_math/hip_valley_dimensioning/angle_descriptions.html.
    """
    pitch_rad = math.radians(pitch)
    other_pitch_rad = math.radians(other_pitch)
    eaves_rad = math.radians(eaves)
    part0 = math.tan(other_pitch_rad)
    return (
        math.degrees(math.atan2(part0*math.sin(eaves_rad), part0*math.cos(eaves_rad) + math.tan(pitch_rad)))
    )


def hip_plan_partials(pitch: Real, other_pitch: Real, eaves: Real) -> tuple[float, ...]:
    """Differentiate `hip_plan` by each argument, in its order."""
    pitch_rad = math.radians(pitch)
    other_pitch_rad = math.radians(other_pitch)
    eaves_rad = math.radians(eaves)
    degree = math.radians(1)
    part0 = math.tan(other_pitch_rad)
    part1 = math.tan(pitch_rad)
    part2 = math.sin(eaves_rad)
    part3 = part0**2
    part4 = part2**2*part3
    part5 = part0*math.cos(eaves_rad)
    part6 = part1 + part5
    part7 = 1/(part4 + part6**2)
    part8 = part2*part7
    part9 = 1/degree
    part10 = degree*part8*(part3 + 1)
    part11 = degree*part7
    return (
        -part0*part8*(part1**2 + 1), part9*(part10*part6 - part10*part5), part9*(part11*part4 +
        part11*part5*part6),
    )


def hip_slope(pitch: Real, plan: Real) -> float:
    """Slope of the hip.

    From ``tan(hip) = sin(plan)*tan(pitch)`` (``hip-slope``).

    Parameters
    ----------
    pitch : angle
        Slope of the plane, square to its eave in plan. Between 0 and 90.
    plan : angle
        Angle in plan between the plane's eave and the hip. Between 0 and 180.

    Returns
    -------
    hip : angle
        Slope of the hip. Between 0 and 90.

    Notes
    -----
    Valid for: a line in the sloping plane; level eave.
    Source: geocities.ws/web_sketches/framing_math/hip_valley_formulas.html.
    """
    pitch_rad = math.radians(pitch)
    plan_rad = math.radians(plan)
    return math.degrees(math.atan(math.sin(plan_rad)*math.tan(pitch_rad)))


def hip_slope_partials(pitch: Real, plan: Real) -> tuple[float, ...]:
    """Differentiate `hip_slope` by each argument, in its order."""
    pitch_rad = math.radians(pitch)
    plan_rad = math.radians(plan)
    part0 = math.sin(plan_rad)
    part1 = math.tan(pitch_rad)
    part2 = part1**2
    part3 = 1/(part0**2*part2 + 1)
    return (part0*part3*(part2 + 1), part1*part3*math.cos(plan_rad),)


def hole_face(height: Number, across: Number, slope: Number) -> Number:
    """Height of the hole at that face, plumb, from where the height is taken.

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


def hole_face_partials(height: Number, across: Number, slope: Number) -> tuple[Number | int, ...]:
    """Differentiate `hole_face` by each argument, in its order."""
    return (1, slope, across,)


def jack_side_cut(pitch: Real, plan: Real) -> float:
    """On the plane's face, between the hip and square to the eave.

    From ``tan(side_cut) = cos(pitch)*cos(plan)/sin(plan)`` (``jack-side-cut``).

    Parameters
    ----------
    pitch : angle
        Slope of the plane, square to its eave in plan. Between 0 and 90.
    plan : angle
        Angle in plan between the plane's eave and the hip. Between 0 and 180.

    Returns
    -------
    side_cut : angle
        On the plane's face, between the hip and square to the eave. Between -90 and 90.

    Notes
    -----
    Valid for: pieces square to the eave; the sheathing's cut, told from the eave, is 90 less it.
    Source: geocities.ws/web_sketches/framing_math/hip_valley_formulas.html.
    """
    pitch_rad = math.radians(pitch)
    plan_rad = math.radians(plan)
    return math.degrees(math.atan(math.cos(pitch_rad)*math.cos(plan_rad)/math.sin(plan_rad)))


def jack_side_cut_partials(pitch: Real, plan: Real) -> tuple[float, ...]:
    """Differentiate `jack_side_cut` by each argument, in its order."""
    pitch_rad = math.radians(pitch)
    plan_rad = math.radians(plan)
    degree = math.radians(1)
    part0 = math.cos(plan_rad)
    part1 = math.sin(plan_rad)
    part2 = math.cos(pitch_rad)
    part3 = part0**2/part1**2
    part4 = 1/(part2**2*part3 + 1)
    part5 = degree*part2
    return (-part0*part4*math.sin(pitch_rad)/part1, part4*(-part3*part5 - part5)/degree,)


def jog_bottom(
    rise: Number, run: Number, flight_height: Number, landing_height: Number, station: Number,
) -> Number:
    """How far the landing's rail stands above the flight's at the station, plumb.

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


def jog_bottom_partials(
    rise: Number, run: Number, flight_height: Number, landing_height: Number, station: Number,
) -> tuple[Number | int, ...]:
    """Differentiate `jog_bottom` by each argument, in its order."""
    part0 = 1/run
    return (-part0*station - 1, rise*station/run**2, -1, 1, -part0*rise,)


def jog_top(
    rise: Number, run: Number, flight_height: Number, landing_height: Number, station: Number,
) -> Number:
    """How far the landing's rail stands above the flight's at the station, plumb.

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


def jog_top_partials(
    rise: Number, run: Number, flight_height: Number, landing_height: Number, station: Number,
) -> tuple[Number | int, ...]:
    """Differentiate `jog_top` by each argument, in its order."""
    part0 = 1/run
    return (-part0*station, rise*station/run**2, -1, 1, -part0*rise,)


def landing_height_at_bottom(rise: Number, run: Number, flight_height: Number, station: Number) -> Number:
    """Rail over the landing, plumb above it, to the same line of the rail.

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
    """Rail over the landing, plumb above it, to the same line of the rail.

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
    """Cut of each piece, from square across it.

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


def mitre_partials(bend: Real) -> tuple[float, ...]:
    """Differentiate `mitre` by each argument, in its order."""
    return (1/2,)


def mitre_point(depth: Real, mitre: Real) -> float:
    """From the short point to the long point, along the piece.

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


def mitre_point_partials(depth: Real, mitre: Real) -> tuple[float, ...]:
    """Differentiate `mitre_point` by each argument, in its order."""
    mitre_rad = math.radians(mitre)
    degree = math.radians(1)
    part0 = math.tan(mitre_rad)
    return (part0, degree*depth*(part0**2 + 1),)


def pitch(rise: Real, run: Real) -> float:
    """Slope from level, up positive.

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


def pitch_partials(rise: Real, run: Real) -> tuple[float, ...]:
    """Differentiate `pitch` by each argument, in its order."""
    degree = math.radians(1)
    part0 = run**(-2)
    part1 = 1/(degree*(part0*rise**2 + 1))
    return (part1/run, -part0*part1*rise,)


def pitch_rise(run: Real, pitch: Real) -> float:
    """Rise of a step; negative goes down.

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


def plumb_of_square(square: Real, pitch: Real) -> float:
    """Plumb (vertical) distance between two lines.

    From ``square = plumb*cos(pitch)`` (``plumb-square``).

    Parameters
    ----------
    square : length
        Distance between the same two lines, square (perpendicular) to the slope. Any finite value.
    pitch : angle
        Slope from level, up positive. Between -90 and 90.

    Returns
    -------
    plumb : length
        Plumb (vertical) distance between two lines. Any finite value.

    Notes
    -----
    Valid for: between two lines of one pitch.
    Source: derived: right triangle.
    """
    pitch_rad = math.radians(pitch)
    return square/math.cos(pitch_rad)


def plumb_plane_climb(width: Real, turn: Real, pitch: Real) -> float:
    """Plumb, along the cut's top edge, from left to right of the rail that arrives.

    From ``climb = width*tan(pitch)*tan((turn/2))`` (``plumb-plane-climb``).

    Parameters
    ----------
    width : length
        Of the rail's top, level and square to it in plan. More than 0.
    turn : angle
        Turn in plan, left positive. Between -180 and 180.
    pitch : angle
        Slope of the rail, up positive. Between -90 and 90.

    Returns
    -------
    climb : length
        Plumb, along the cut's top edge, from left to right of the rail that arrives. Any finite value.

    Notes
    -----
    Valid for: cut in the plumb plane that halves the turn; of the rail that leaves it is from right to
    left.
    Source: derived: right triangle in plan, then along the slope.
    """
    turn_rad = math.radians(turn)
    pitch_rad = math.radians(pitch)
    return width*math.tan(pitch_rad)*math.tan(turn_rad/2)


def plumb_plane_climb_partials(width: Real, turn: Real, pitch: Real) -> tuple[float, ...]:
    """Differentiate `plumb_plane_climb` by each argument, in its order."""
    turn_rad = math.radians(turn)
    pitch_rad = math.radians(pitch)
    degree = math.radians(1)
    part0 = math.tan(pitch_rad)
    part1 = math.tan(turn_rad/2)
    part2 = degree*width
    return (part0*part1, part0*part2*(part1**2 + 1)/2, part1*part2*(part0**2 + 1),)


def plumb_plane_mitre(pitch: Real, turn: Real) -> float:
    """Across the rail's top, from square; positive with a left turn.

    From ``tan(mitre) = tan((turn/2))/cos(pitch)`` (``plumb-plane-mitre``).

    Parameters
    ----------
    pitch : angle
        Slope of the rail, up positive. Between -90 and 90.
    turn : angle
        Turn in plan, left positive. Between -180 and 180.

    Returns
    -------
    mitre : angle
        Across the rail's top, from square; positive with a left turn. Between -90 and 90.

    Notes
    -----
    Valid for: plumb-sided rail; on its side instead the mitre is the pitch.
    Source: derived: the plane's normal in the rail's own frame; the form is the sheathing cut's.
    """
    pitch_rad = math.radians(pitch)
    turn_rad = math.radians(turn)
    return math.degrees(math.atan(math.tan(turn_rad/2)/math.cos(pitch_rad)))


def plumb_plane_mitre_partials(pitch: Real, turn: Real) -> tuple[float, ...]:
    """Differentiate `plumb_plane_mitre` by each argument, in its order."""
    pitch_rad = math.radians(pitch)
    turn_rad = math.radians(turn)
    part0 = math.cos(pitch_rad)
    part1 = part0**(-2)
    part2 = math.tan(turn_rad/2)
    part3 = part2**2
    part4 = 1/(part1*part3 + 1)
    return (part1*part2*part4*math.sin(pitch_rad), part4*(part3 + 1)/(2*part0),)


def plumb_plane_tilt(pitch: Real, turn: Real) -> float:
    """Of the saw from square to the rail's top; the slope's sign.

    From ``sin(tilt) = sin(pitch)*cos((turn/2))`` (``plumb-plane-tilt``).

    Parameters
    ----------
    pitch : angle
        Slope of the rail, up positive. Between -90 and 90.
    turn : angle
        Turn in plan, left positive. Between -180 and 180.

    Returns
    -------
    tilt : angle
        Of the saw from square to the rail's top; the slope's sign. Between -90 and 90.

    Notes
    -----
    Valid for: plumb-sided rail; on its side instead the tilt is half the turn.
    Source: derived: the plane's normal in the rail's own frame; the form is the backing angle's.
    """
    pitch_rad = math.radians(pitch)
    turn_rad = math.radians(turn)
    return math.degrees(math.asin(math.sin(pitch_rad)*math.cos(turn_rad/2)))


def plumb_plane_tilt_partials(pitch: Real, turn: Real) -> tuple[float, ...]:
    """Differentiate `plumb_plane_tilt` by each argument, in its order."""
    pitch_rad = math.radians(pitch)
    turn_rad = math.radians(turn)
    part0 = turn_rad/2
    part1 = math.cos(part0)
    part2 = math.sin(pitch_rad)
    part3 = 1/math.sqrt(1 - part1**2*part2**2)
    return (part1*part3*math.cos(pitch_rad), -part2*part3*math.sin(part0)/2,)


def post_bevel(width: Real, pitch: Real) -> float:
    """Plumb, between the post's two faces, uphill positive.

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


def post_bevel_partials(width: Real, pitch: Real) -> tuple[float, ...]:
    """Differentiate `post_bevel` by each argument, in its order."""
    pitch_rad = math.radians(pitch)
    degree = math.radians(1)
    part0 = math.tan(pitch_rad)
    return (part0, degree*width*(part0**2 + 1),)


def push_without_stretch(tension: Real, sphere: Real, diameter: Real, bay: Real, contact: Real) -> float:
    """Greatest on the sphere's way through, square to the guard.

    From ``push = 4*tension*(diameter + sphere)*sin(contact)^3/bay`` (``push-without-stretch``).

    Parameters
    ----------
    tension : force
        Of the strand at rest. 0 or more.
    sphere : length
        Diameter of the sphere pushed between the two strands. More than 0.
    diameter : length
        Of the strand. 0 or more.
    bay : length
        Clear between two posts, along the strand. More than 0.
    contact : angle
        From the strands' plane to where they touch the sphere. 0 or more and less than 90.

    Returns
    -------
    push : force
        Greatest on the sphere's way through, square to the guard. 0 or more.

    Notes
    -----
    Valid for: at the hardest contact; stretch only adds to it, so that it is the least push at mid-bay.
    Source: derived: there the deflection is the sine squared of what sphere and strand reach together.
    """
    contact_rad = math.radians(contact)
    return 4*tension*(diameter + sphere)*math.sin(contact_rad)**3/bay


def push_without_stretch_partials(
    tension: Real, sphere: Real, diameter: Real, bay: Real, contact: Real,
) -> tuple[float, ...]:
    """Differentiate `push_without_stretch` by each argument, in its order."""
    contact_rad = math.radians(contact)
    degree = math.radians(1)
    part0 = 1/bay
    part1 = diameter + sphere
    part2 = part0*part1
    part3 = math.sin(contact_rad)
    part4 = 4*part3**3
    part5 = part4*tension
    part6 = part0*part5
    return (
        part2*part4, part6, part6, -part1*part5/bay**2,
        12*degree*part2*part3**2*tension*math.cos(contact_rad),
    )


def push_without_stretch_tension(
    sphere: Real, diameter: Real, bay: Real, push: Real, contact: Real,
) -> float:
    """Of the strand at rest.

    From ``push = 4*tension*(diameter + sphere)*sin(contact)^3/bay`` (``push-without-stretch``).

    Parameters
    ----------
    sphere : length
        Diameter of the sphere pushed between the two strands. More than 0.
    diameter : length
        Of the strand. 0 or more.
    bay : length
        Clear between two posts, along the strand. More than 0.
    push : force
        Greatest on the sphere's way through, square to the guard. 0 or more.
    contact : angle
        From the strands' plane to where they touch the sphere. 0 or more and less than 90.

    Returns
    -------
    tension : force
        Of the strand at rest. 0 or more.

    Notes
    -----
    Valid for: at the hardest contact; stretch only adds to it, so that it is the least push at mid-bay.
    Source: derived: there the deflection is the sine squared of what sphere and strand reach together.
    """
    contact_rad = math.radians(contact)
    return bay*push/(4*(diameter + sphere)*math.sin(contact_rad)**3)


def rail_gap(plumb: Real, diameter: Real, pitch: Real) -> float:
    """Clear gap, square, which a sphere just passes; negative where the two overlap.

    From ``gap = plumb*cos(pitch) - diameter/2`` (``rail-gap``).

    Parameters
    ----------
    plumb : length
        From the rail's underside down to the strand's centre, plumb. More than 0.
    diameter : length
        Of the strand. More than 0.
    pitch : angle
        Slope of rail and strands, up positive. Between -90 and 90.

    Returns
    -------
    gap : length
        Clear gap, square, which a sphere just passes; negative where the two overlap. Any finite value.

    Notes
    -----
    Valid for: strand parallel to the rail.
    Source: derived: the plumb distance told square, less half the strand.
    """
    pitch_rad = math.radians(pitch)
    return plumb*math.cos(pitch_rad) - diameter/2


def rail_gap_partials(plumb: Real, diameter: Real, pitch: Real) -> tuple[float, ...]:
    """Differentiate `rail_gap` by each argument, in its order."""
    pitch_rad = math.radians(pitch)
    degree = math.radians(1)
    return (math.cos(pitch_rad), -1/2, -degree*plumb*math.sin(pitch_rad),)


def rail_gap_plumb(diameter: Real, gap: Real, pitch: Real) -> float:
    """From the rail's underside down to the strand's centre, plumb.

    From ``gap = plumb*cos(pitch) - diameter/2`` (``rail-gap``).

    Parameters
    ----------
    diameter : length
        Of the strand. More than 0.
    gap : length
        Clear gap, square, which a sphere just passes; negative where the two overlap. Any finite value.
    pitch : angle
        Slope of rail and strands, up positive. Between -90 and 90.

    Returns
    -------
    plumb : length
        From the rail's underside down to the strand's centre, plumb. More than 0.

    Notes
    -----
    Valid for: strand parallel to the rail.
    Source: derived: the plumb distance told square, less half the strand.
    """
    pitch_rad = math.radians(pitch)
    return (diameter + 2*gap)/(2*math.cos(pitch_rad))


def rail_meets_bottom(rise: Number, run: Number, flight_height: Number, landing_height: Number) -> Number:
    """Level, from nosing 1 uphill positive, out over the lower landing negative.

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


def rail_meets_bottom_partials(
    rise: Number, run: Number, flight_height: Number, landing_height: Number,
) -> tuple[Number | int, ...]:
    """Differentiate `rail_meets_bottom` by each argument, in its order."""
    part0 = 1/rise
    part1 = part0*run
    part2 = landing_height - flight_height - rise
    return (-part1 - part2*run/rise**2, part0*part2, -part1, part1,)


def rail_meets_top(rise: Number, run: Number, flight_height: Number, landing_height: Number) -> Number:
    """Level, from the top nosing onto the upper landing positive.

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


def rail_meets_top_partials(
    rise: Number, run: Number, flight_height: Number, landing_height: Number,
) -> tuple[Number | int, ...]:
    """Differentiate `rail_meets_top` by each argument, in its order."""
    part0 = landing_height - flight_height
    part1 = 1/rise
    part2 = part1*run
    return (-part0*run/rise**2, part0*part1, -part2, part2,)


def rail_plumb_depth(depth: Real, pitch: Real) -> float:
    """Of the rail, plumb.

    From ``plumb_depth = depth/cos(pitch)`` (``rail-plumb-depth``).

    Parameters
    ----------
    depth : length
        Of the rail, square to it. More than 0.
    pitch : angle
        Slope of rail and strands, up positive. Between -90 and 90.

    Returns
    -------
    plumb_depth : length
        Of the rail, plumb. More than 0.

    Notes
    -----
    Valid for: straight rail of one depth.
    Source: derived: right triangle.
    """
    pitch_rad = math.radians(pitch)
    return depth/math.cos(pitch_rad)


def rail_plumb_depth_partials(depth: Real, pitch: Real) -> tuple[float, ...]:
    """Differentiate `rail_plumb_depth` by each argument, in its order."""
    pitch_rad = math.radians(pitch)
    degree = math.radians(1)
    part0 = math.cos(pitch_rad)
    return (1/part0, degree*depth*math.sin(pitch_rad)/part0**2,)


def section_twist(pitch_in: Real, pitch_out: Real, turn: Real) -> float:
    """Roll of the leaving rail about itself to match the other, its left side falling.

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


def section_twist_partials(pitch_in: Real, pitch_out: Real, turn: Real) -> tuple[float, ...]:
    """Differentiate `section_twist` by each argument, in its order."""
    pitch_in_rad = math.radians(pitch_in)
    pitch_out_rad = math.radians(pitch_out)
    turn_rad = math.radians(turn)
    degree = math.radians(1)
    part0 = turn_rad/2
    part1 = math.sin(part0)
    part2 = part1**2
    part3 = pitch_in_rad/2
    part4 = pitch_out_rad/2
    part5 = part3 + part4
    part6 = math.sin(part5)
    part7 = math.cos(part0)
    part8 = part7**2
    part9 = part3 - part4
    part10 = math.cos(part9)
    part11 = 1/(part10**2*part8 + part2*part6**2)
    part12 = part1*part7
    part13 = degree*part11*part12*part6*math.sin(part9)/2
    part14 = math.cos(part5)
    part15 = degree*part10*part11/2
    part16 = 2/degree
    part17 = part15*part6
    return (
        part16*(part12*part14*part15 + part13), part16*(degree*part1*part10*part11*part14*part7/2 - part13),
        part16*(part17*part2 + part17*part8),
    )


def shortening_by_tension(before: Number, stiffness: Number, run: Number, after: Number) -> Number:
    """By which the anchors' seats come nearer to each other; negative apart.

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
    after : force
        Tension after; a strand that would be left with less than none is slack. 0 or more.

    Returns
    -------
    shortening : length
        By which the anchors' seats come nearer to each other; negative apart. Any finite value.

    Notes
    -----
    Valid for: straight strand, taut before and after.
    Source: derived: Hooke's law.
    """
    return (before*run - after*run)/stiffness


def slope_length(rise: Real, run: Real) -> float:
    """Along the slope.

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


def slope_length_partials(rise: Real, run: Real) -> tuple[float, ...]:
    """Differentiate `slope_length` by each argument, in its order."""
    part0 = 1/math.sqrt(rise**2 + run**2)
    return (part0*rise, part0*run,)


def splayed_mitre(splay: Real, turn: Real) -> float:
    """Across the board's face, from square to its edge.

    From ``tan(mitre) = cos(splay)*tan((turn/2))`` (``splayed-mitre``).

    Parameters
    ----------
    splay : angle
        Slope of the boards from level, square to their run. From 0 to 90.
    turn : angle
        Turn in plan, left positive. Between -180 and 180.

    Returns
    -------
    mitre : angle
        Across the board's face, from square to its edge. Between -90 and 90.

    Notes
    -----
    Valid for: equal boards with level edges; the turn at each corner of a box of n sides is 360/n.
    Source: derived: the plumb plane that halves the corner, in the board's own frame.
    """
    splay_rad = math.radians(splay)
    turn_rad = math.radians(turn)
    return math.degrees(math.atan(math.cos(splay_rad)*math.tan(turn_rad/2)))


def splayed_mitre_partials(splay: Real, turn: Real) -> tuple[float, ...]:
    """Differentiate `splayed_mitre` by each argument, in its order."""
    splay_rad = math.radians(splay)
    turn_rad = math.radians(turn)
    part0 = math.tan(turn_rad/2)
    part1 = math.cos(splay_rad)
    part2 = part0**2
    part3 = 1/(part1**2*part2 + 1)
    return (-part0*part3*math.sin(splay_rad), part1*part3*(part2 + 1)/2,)


def splayed_tilt(splay: Real, turn: Real) -> float:
    """Of the saw from square to the board's face.

    From ``sin(tilt) = sin(splay)*sin((turn/2))`` (``splayed-tilt``).

    Parameters
    ----------
    splay : angle
        Slope of the boards from level, square to their run. From 0 to 90.
    turn : angle
        Turn in plan, left positive. Between -180 and 180.

    Returns
    -------
    tilt : angle
        Of the saw from square to the board's face. From -90 to 90.

    Notes
    -----
    Valid for: equal boards with level edges; the turn at each corner of a box of n sides is 360/n.
    Source: derived: the plumb plane that halves the corner, in the board's own frame.
    """
    splay_rad = math.radians(splay)
    turn_rad = math.radians(turn)
    return math.degrees(math.asin(math.sin(splay_rad)*math.sin(turn_rad/2)))


def splayed_tilt_partials(splay: Real, turn: Real) -> tuple[float, ...]:
    """Differentiate `splayed_tilt` by each argument, in its order."""
    splay_rad = math.radians(splay)
    turn_rad = math.radians(turn)
    part0 = turn_rad/2
    part1 = math.sin(part0)
    part2 = math.sin(splay_rad)
    part3 = 1/math.sqrt(1 - part1**2*part2**2)
    return (part1*part3*math.cos(splay_rad), part2*part3*math.cos(part0)/2,)


def square_of_plumb(plumb: Real, pitch: Real) -> float:
    """Distance between the same two lines, square (perpendicular) to the slope.

    From ``square = plumb*cos(pitch)`` (``plumb-square``).

    Parameters
    ----------
    plumb : length
        Plumb (vertical) distance between two lines. Any finite value.
    pitch : angle
        Slope from level, up positive. Between -90 and 90.

    Returns
    -------
    square : length
        Distance between the same two lines, square (perpendicular) to the slope. Any finite value.

    Notes
    -----
    Valid for: between two lines of one pitch.
    Source: derived: right triangle.
    """
    pitch_rad = math.radians(pitch)
    return plumb*math.cos(pitch_rad)


def square_of_plumb_partials(plumb: Real, pitch: Real) -> tuple[float, ...]:
    """Differentiate `square_of_plumb` by each argument, in its order."""
    pitch_rad = math.radians(pitch)
    degree = math.radians(1)
    return (math.cos(pitch_rad), -degree*plumb*math.sin(pitch_rad),)


def step_lift(rise: Real, run: Real, nosing: Real, sphere: Real) -> float:
    """Square, from the nosing line up to the underside of the lowest member.

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


def step_nosing(rise: Real, run: Real, lift: Real, sphere: Real) -> float:
    """Nosing projection beyond the riser's face below it.

    From ``sphere = (2*lift*sqrt(rise^2/run^2 + 1) + 2*rise*(nosing/run + 1))/(rise/run + sqrt(rise^2/run^2
    + 1) + 1)`` (``step-sphere``).

    Parameters
    ----------
    rise : length
        Rise of a step. More than 0.
    run : length
        Run of a step, nosing to nosing, level. More than 0.
    lift : length
        Square, from the nosing line up to the underside of the lowest member. Any finite value.
    sphere : length
        Diameter of the largest sphere that passes. More than 0.

    Returns
    -------
    nosing : length
        Nosing projection beyond the riser's face below it. 0 or more.

    Notes
    -----
    Valid for: closed riser; the circle touches tread, riser face and member. Tread thickness is unknown
    here: a thick tread or a long nosing may be touched first, and then the true outline decides.
    Source: derived: a circle tangent to tread, riser face and the member's straight underside; checked
    against the largest circle found by brute force and by a general geometry library.
    """
    part0 = math.sqrt(rise**2 + run**2)
    return (part0*sphere + rise*sphere + run*sphere - 2*lift*part0 - 2*rise*run)/(2*rise)


def step_sphere(rise: Real, run: Real, nosing: Real, lift: Real) -> float:
    """Diameter of the largest sphere that passes.

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
    """Differentiate `step_sphere` by each argument, in its order."""
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
    """Of the wires' metal, in squares of the diameter's unit.

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


def strand_area_partials(diameter: Real, fill: Real) -> tuple[float, ...]:
    """Differentiate `strand_area` by each argument, in its order."""
    degree = math.radians(1)
    return (90*degree*diameter*fill, 45*degree*diameter**2,)


def strand_bore(width: Real, pitch: Real) -> float:
    """Along the strand, from face to face.

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


def strand_bore_partials(width: Real, pitch: Real) -> tuple[float, ...]:
    """Differentiate `strand_bore` by each argument, in its order."""
    pitch_rad = math.radians(pitch)
    degree = math.radians(1)
    part0 = math.cos(pitch_rad)
    return (1/part0, degree*width*math.sin(pitch_rad)/part0**2,)


def strand_ellipse(diameter: Real, pitch: Real) -> float:
    """Of the hole's ellipse on the face, plumb.

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


def strand_ellipse_partials(diameter: Real, pitch: Real) -> tuple[float, ...]:
    """Differentiate `strand_ellipse` by each argument, in its order."""
    pitch_rad = math.radians(pitch)
    degree = math.radians(1)
    part0 = math.cos(pitch_rad)
    return (1/part0, degree*diameter*math.sin(pitch_rad)/part0**2,)


def strand_elongation(tension: Number, stiffness: Number, run: Number) -> Number:
    """Of the strand by its tension.

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


def strand_elongation_partials(tension: Number, stiffness: Number, run: Number) -> tuple[Number | int, ...]:
    """Differentiate `strand_elongation` by each argument, in its order."""
    part0 = 1/stiffness
    return (part0*run, -run*tension/stiffness**2, part0*tension,)


def strand_elongation_tension(stiffness: Number, run: Number, elongation: Number) -> Number:
    """Of the strand at rest.

    From ``elongation = run*tension/stiffness`` (``strand-elongation``).

    Parameters
    ----------
    stiffness : force
        EA of the strand, its effective modulus times its metallic area. More than 0.
    run : length
        Of strand that stretches: the bay where it is held at both posts, else from anchor to anchor. More
        than 0.
    elongation : length
        Of the strand by its tension. 0 or more.

    Returns
    -------
    tension : force
        Of the strand at rest. More than 0.

    Notes
    -----
    Valid for: elastic strand whose first settling is over; supports that do not move.
    Source: derived: Hooke's law.
    """
    return elongation*stiffness/run


def strand_force(tension: Real, stiffness: Real, bay: Real, run: Real, deflection: Real) -> float:
    """At mid-bay, square to the strand.

    From ``force = deflection*(4*deflection^2*(stiffness + tension)/(run*(bay/2 + sqrt(bay^2/4 +
    deflection^2))) + 2*tension)/sqrt(bay^2/4 + deflection^2)`` (``strand-force``).

    Parameters
    ----------
    tension : force
        Of the strand at rest. 0 or more.
    stiffness : force
        EA of the strand, its effective modulus times its metallic area. More than 0.
    bay : length
        Clear between two posts, along the strand. More than 0.
    run : length
        Of strand that stretches: the bay where it is held at both posts, else from anchor to anchor. More
        than 0.
    deflection : length
        Of the strand's middle in the bay, square to the strand. More than 0.

    Returns
    -------
    force : force
        At mid-bay, square to the strand. 0 or more.

    Notes
    -----
    Valid for: elastic strand without weight; two straight halves; it stretches alike over the whole run.
    Source: derived: the halves' true lengthening over the unstretched run gives the tension along them.
    """
    part0 = deflection**2
    part1 = math.sqrt(bay**2/4 + part0)
    return deflection*(4*part0*(stiffness + tension)/(run*(bay/2 + part1)) + 2*tension)/part1


def strand_force_partials(
    tension: Real, stiffness: Real, bay: Real, run: Real, deflection: Real,
) -> tuple[float, ...]:
    """Differentiate `strand_force` by each argument, in its order."""
    part0 = deflection**2
    part1 = 1/run
    part2 = bay**2/4 + part0
    part3 = math.sqrt(part2)
    part4 = bay/2 + part3
    part5 = 1/part4
    part6 = 4*part1*part5
    part7 = part0*part6
    part8 = 1/part3
    part9 = deflection*part8
    part10 = deflection**3
    part11 = part10*part8
    part12 = bay/4
    part13 = stiffness + tension
    part14 = part13*part7 + 2*tension
    part15 = part14/math.sqrt(part2)**3
    part16 = part4**(-2)
    part17 = 4*part11*part13
    return (
        part9*(part7 + 2), part11*part6, 4*part1*part10*part13*part16*part8*(-part12*part8 - 1/2) -
        deflection*part12*part15, -part17*part5/run**2, part14*part8 +
        part9*(8*deflection*part1*part13*part5 - part1*part16*part17) - part0*part15,
    )


def strand_force_small(
    tension: Number, stiffness: Number, bay: Number, run: Number, deflection: Number,
) -> Number:
    """At mid-bay, square to the strand.

    From ``force = 4*deflection*tension/bay + 8*deflection^3*stiffness/(bay^2*run)``
    (``strand-force-small``).

    Parameters
    ----------
    tension : force
        Of the strand at rest. 0 or more.
    stiffness : force
        EA of the strand, its effective modulus times its metallic area. More than 0.
    bay : length
        Clear between two posts, along the strand. More than 0.
    run : length
        Of strand that stretches: the bay where it is held at both posts, else from anchor to anchor. More
        than 0.
    deflection : length
        Of the strand's middle in the bay, square to the strand. More than 0.

    Returns
    -------
    force : force
        At mid-bay, square to the strand. 0 or more.

    Notes
    -----
    Valid for: deflection small beside the bay: 1 % of it is off by some hundredths of a per cent.
    Source: derived: first two powers of the deflection; its limit without tension is in textbooks of
    physics.
    """
    return 4*deflection*tension/bay + 8*deflection**3*stiffness/(bay**2*run)


def strand_force_small_partials(
    tension: Number, stiffness: Number, bay: Number, run: Number, deflection: Number,
) -> tuple[Number | int, ...]:
    """Differentiate `strand_force_small` by each argument, in its order."""
    part0 = 4/bay
    part1 = deflection**3
    part2 = 1/run
    part3 = part1*part2
    part4 = bay**(-2)
    part5 = 8*part4
    return (
        deflection*part0, part3*part5, -4*deflection*part4*tension - 16*part3*stiffness/bay**3,
        -part1*part5*stiffness/run**2, 24*deflection**2*part2*part4*stiffness + part0*tension,
    )


def strand_force_small_tension(
    stiffness: Number, bay: Number, run: Number, deflection: Number, force: Number,
) -> Number:
    """Of the strand at rest.

    From ``force = 4*deflection*tension/bay + 8*deflection^3*stiffness/(bay^2*run)``
    (``strand-force-small``).

    Parameters
    ----------
    stiffness : force
        EA of the strand, its effective modulus times its metallic area. More than 0.
    bay : length
        Clear between two posts, along the strand. More than 0.
    run : length
        Of strand that stretches: the bay where it is held at both posts, else from anchor to anchor. More
        than 0.
    deflection : length
        Of the strand's middle in the bay, square to the strand. More than 0.
    force : force
        At mid-bay, square to the strand. 0 or more.

    Returns
    -------
    tension : force
        Of the strand at rest. 0 or more.

    Notes
    -----
    Valid for: deflection small beside the bay: 1 % of it is off by some hundredths of a per cent.
    Source: derived: first two powers of the deflection; its limit without tension is in textbooks of
    physics.
    """
    return bay*force/(4*deflection) - 2*deflection**2*stiffness/(bay*run)


def strand_force_tension(stiffness: Real, bay: Real, run: Real, deflection: Real, force: Real) -> float:
    """Of the strand at rest.

    From ``force = deflection*(4*deflection^2*(stiffness + tension)/(run*(bay/2 + sqrt(bay^2/4 +
    deflection^2))) + 2*tension)/sqrt(bay^2/4 + deflection^2)`` (``strand-force``).

    Parameters
    ----------
    stiffness : force
        EA of the strand, its effective modulus times its metallic area. More than 0.
    bay : length
        Clear between two posts, along the strand. More than 0.
    run : length
        Of strand that stretches: the bay where it is held at both posts, else from anchor to anchor. More
        than 0.
    deflection : length
        Of the strand's middle in the bay, square to the strand. More than 0.
    force : force
        At mid-bay, square to the strand. 0 or more.

    Returns
    -------
    tension : force
        Of the strand at rest. 0 or more.

    Notes
    -----
    Valid for: elastic strand without weight; two straight halves; it stretches alike over the whole run.
    Source: derived: the halves' true lengthening over the unstretched run gives the tension along them.
    """
    part0 = bay*run
    part1 = 4*deflection**2
    part2 = bay**2
    part3 = math.sqrt(part1 + part2)
    part4 = force*run
    return (
        (force*part0*part3 + part1*part4 + part2*part4 - 16*deflection**3*stiffness)/(4*deflection*(part0 +
        part1 + part3*run))
    )


def strand_gap(spacing: Number, diameter: Number) -> Number:
    """Clear gap, square, which a sphere just passes; negative where the two overlap.

    From ``gap = spacing - diameter`` (``strand-gap``).

    Parameters
    ----------
    spacing : length
        Between the strands' centres, square. More than 0.
    diameter : length
        Of the strand. More than 0.

    Returns
    -------
    gap : length
        Clear gap, square, which a sphere just passes; negative where the two overlap. Any finite value.

    Notes
    -----
    Valid for: parallel strands of one diameter, no force on them.
    Source: derived: half a diameter goes to each strand.
    """
    return spacing - diameter


def strand_gap_partials(spacing: Number, diameter: Number) -> tuple[Number | int, ...]:
    """Differentiate `strand_gap` by each argument, in its order."""
    return (1, -1,)


def strand_mass(area: Number, density: Number, lay_take_up: Number) -> Number:
    """Of one unit of the strand's length.

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


def strand_mass_partials(area: Number, density: Number, lay_take_up: Number) -> tuple[Number | int, ...]:
    """Differentiate `strand_mass` by each argument, in its order."""
    part0 = lay_take_up + 1
    return (density*part0, area*part0, area*density,)


def strand_sag(weight: Number, bay: Number, tension: Number) -> Number:
    """Of the strand's middle below the straight line between its supports, plumb.

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


def strand_sag_partials(weight: Number, bay: Number, tension: Number) -> tuple[Number | int, ...]:
    """Differentiate `strand_sag` by each argument, in its order."""
    part0 = 1/tension
    part1 = bay**2/8
    return (part0*part1, bay*part0*weight/4, -part1*weight/tension**2,)


def strand_sag_tension(weight: Number, bay: Number, sag: Number) -> Number:
    """Of the strand at rest.

    From ``sag = bay^2*weight/(8*tension)`` (``strand-sag``).

    Parameters
    ----------
    weight : number
        Of the strand, force on one unit of its length. More than 0.
    bay : length
        Clear between two posts, along the strand. More than 0.
    sag : length
        Of the strand's middle below the straight line between its supports, plumb. 0 or more.

    Returns
    -------
    tension : force
        Of the strand at rest. More than 0.

    Notes
    -----
    Valid for: sag small beside the bay; on any pitch, the bay measured along the strand: the load square to
    it and the plumb sag over the square one cancel.
    Source: derived: a parabola; textbooks of statics have the level case.
    """
    return bay**2*weight/(8*sag)


def strand_slot(diameter: Real, width: Real, pitch: Real) -> float:
    """Height of the level slot, plumb.

    From ``slot = diameter/cos(pitch) + width*tan(pitch)`` (``strand-slot``).

    Parameters
    ----------
    diameter : length
        Of the strand. More than 0.
    width : length
        Of the post's face, along the guard. More than 0.
    pitch : angle
        Slope of the strand from square to the post's face. 0 or more and less than 90.

    Returns
    -------
    slot : length
        Height of the level slot, plumb. More than 0.

    Notes
    -----
    Valid for: slot bored straight through, square to the face, that just clears the strand.
    Source: derived: the strand's ellipse moved by its offset through the post.
    """
    pitch_rad = math.radians(pitch)
    return diameter/math.cos(pitch_rad) + width*math.tan(pitch_rad)


def strand_slot_partials(diameter: Real, width: Real, pitch: Real) -> tuple[float, ...]:
    """Differentiate `strand_slot` by each argument, in its order."""
    pitch_rad = math.radians(pitch)
    degree = math.radians(1)
    part0 = math.cos(pitch_rad)
    part1 = math.tan(pitch_rad)
    return (1/part0, part1, degree*diameter*math.sin(pitch_rad)/part0**2 + degree*width*(part1**2 + 1),)


def strand_spacing(diameter: Number, gap: Number) -> Number:
    """Between the strands' centres, square.

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
    """Tension after; a strand that would be left with less than none is slack.

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


def tension_by_shortening_before(
    stiffness: Number, run: Number, shortening: Number, after: Number,
) -> Number:
    """Tension before.

    From ``after = before - shortening*stiffness/run`` (``tension-by-shortening``).

    Parameters
    ----------
    stiffness : force
        EA of the strand, its effective modulus times its metallic area. More than 0.
    run : length
        Of strand that stretches: the bay where it is held at both posts, else from anchor to anchor. More
        than 0.
    shortening : length
        By which the anchors' seats come nearer to each other; negative apart. Any finite value.
    after : force
        Tension after; a strand that would be left with less than none is slack. 0 or more.

    Returns
    -------
    before : force
        Tension before. More than 0.

    Notes
    -----
    Valid for: straight strand, taut before and after.
    Source: derived: Hooke's law.
    """
    return after + shortening*stiffness/run


def tension_by_shortening_partials(
    before: Number, stiffness: Number, run: Number, shortening: Number,
) -> tuple[Number | int, ...]:
    """Differentiate `tension_by_shortening` by each argument, in its order."""
    part0 = 1/run
    return (1, -part0*shortening, shortening*stiffness/run**2, -part0*stiffness,)


def tension_by_temperature(
    before: Number, stiffness: Number, strand_rate: Number, frame_rate: Number, warming: Number,
) -> Number:
    """Tension after; a strand that would be left with less than none is slack.

    From ``after = before - stiffness*warming*(strand_rate - frame_rate)`` (``tension-by-temperature``).

    Parameters
    ----------
    before : force
        Tension before. More than 0.
    stiffness : force
        EA of the strand, its effective modulus times its metallic area. More than 0.
    strand_rate : number
        Thermal expansion of the strand, per degree of temperature. 0 or more.
    frame_rate : number
        Thermal expansion of the frame along the strand, per the same degree. 0 or more.
    warming : number
        By how many degrees it grows warmer; cooling is negative. Any finite value.

    Returns
    -------
    after : force
        Tension after; a strand that would be left with less than none is slack. 0 or more.

    Notes
    -----
    Valid for: straight strand, taut at both temperatures, whose frame moves freely and does not bend.
    Source: derived: Hooke's law on the difference of two expansions.
    """
    return before - stiffness*warming*(strand_rate - frame_rate)


def tension_by_temperature_before(
    stiffness: Number, strand_rate: Number, frame_rate: Number, warming: Number, after: Number,
) -> Number:
    """Tension before.

    From ``after = before - stiffness*warming*(strand_rate - frame_rate)`` (``tension-by-temperature``).

    Parameters
    ----------
    stiffness : force
        EA of the strand, its effective modulus times its metallic area. More than 0.
    strand_rate : number
        Thermal expansion of the strand, per degree of temperature. 0 or more.
    frame_rate : number
        Thermal expansion of the frame along the strand, per the same degree. 0 or more.
    warming : number
        By how many degrees it grows warmer; cooling is negative. Any finite value.
    after : force
        Tension after; a strand that would be left with less than none is slack. 0 or more.

    Returns
    -------
    before : force
        Tension before. More than 0.

    Notes
    -----
    Valid for: straight strand, taut at both temperatures, whose frame moves freely and does not bend.
    Source: derived: Hooke's law on the difference of two expansions.
    """
    part0 = stiffness*warming
    return after + part0*strand_rate - frame_rate*part0


def tension_by_temperature_partials(
    before: Number, stiffness: Number, strand_rate: Number, frame_rate: Number, warming: Number,
) -> tuple[Number | int, ...]:
    """Differentiate `tension_by_temperature` by each argument, in its order."""
    part0 = strand_rate - frame_rate
    part1 = stiffness*warming
    return (1, -part0*warming, -part1, part1, -part0*stiffness,)


def tensioner_drawn(lead: Number, turns: Number) -> Number:
    """In by the tensioner.

    From ``turns = drawn/lead`` (``tensioner-turns``).

    Parameters
    ----------
    lead : length
        By which one turn of the tensioner draws the strand in. More than 0.
    turns : number
        Of the tensioner. 0 or more.

    Returns
    -------
    drawn : length
        In by the tensioner. 0 or more.

    Notes
    -----
    Valid for: one turn draws in one lead; where threads of two hands work together it is both leads.
    Source: derived: a screw's advance.
    """
    return lead*turns


def tensioner_turns(drawn: Number, lead: Number) -> Number:
    """Of the tensioner.

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


def tensioner_turns_partials(drawn: Number, lead: Number) -> tuple[Number | int, ...]:
    """Differentiate `tensioner_turns` by each argument, in its order."""
    return (1/lead, -drawn/lead**2,)
