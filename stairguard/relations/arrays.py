"""Every closed form, on arrays.

Printed from the declarations by ``python -m stairguard.relations.printer``: change those, not this file.

The functions of `scalars` on arrays of floats, broadcast against each other. Lengths are in any one unit,
angles in degrees. Domains are not checked: outside them numpy gives nan or inf, with its own warnings.
"""
# Laid out by the printer and compared byte for byte.
# fmt: off

from __future__ import annotations

from typing import TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

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

Floats: TypeAlias = NDArray[np.float64]


def _spread(parts: tuple[ArrayLike, ...], *given: Floats) -> tuple[Floats, ...]:
    """Give every part the shape that the arguments have together."""
    shape = np.broadcast_shapes(*(item.shape for item in given))
    return tuple(np.array(np.broadcast_to(part, shape), dtype=np.float64) for part in parts)


def backing(pitch: ArrayLike, plan: ArrayLike) -> Floats:
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
    pitch = np.asarray(pitch, dtype=np.float64)
    plan = np.asarray(plan, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    plan_rad = np.radians(plan)
    return np.asarray(np.degrees(np.arcsin(np.sin(pitch_rad)*np.cos(plan_rad))))


def backing_partials(pitch: ArrayLike, plan: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `backing` by each argument, in its order."""
    pitch = np.asarray(pitch, dtype=np.float64)
    plan = np.asarray(plan, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    plan_rad = np.radians(plan)
    part0 = np.cos(plan_rad)
    part1 = np.sin(pitch_rad)
    part2 = 1/np.sqrt(1 - part0**2*part1**2)
    return _spread((part0*part2*np.cos(pitch_rad), -part1*part2*np.sin(plan_rad),), pitch, plan)


def bend(pitch_in: ArrayLike, pitch_out: ArrayLike, turn: ArrayLike) -> Floats:
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
    pitch_in = np.asarray(pitch_in, dtype=np.float64)
    pitch_out = np.asarray(pitch_out, dtype=np.float64)
    turn = np.asarray(turn, dtype=np.float64)
    pitch_in_rad = np.radians(pitch_in)
    pitch_out_rad = np.radians(pitch_out)
    turn_rad = np.radians(turn)
    part0 = pitch_in_rad/2
    part1 = pitch_out_rad/2
    part2 = turn_rad/2
    part3 = np.cos(pitch_in_rad)*np.cos(pitch_out_rad)
    return (
        np.asarray(np.degrees(2*np.arctan2(np.sqrt(part3*np.sin(part2)**2 + np.sin(part0 - part1)**2),
        np.sqrt(part3*np.cos(part2)**2 + np.sin(part0 + part1)**2))))
    )


def bend_partials(pitch_in: ArrayLike, pitch_out: ArrayLike, turn: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `bend` by each argument, in its order."""
    pitch_in = np.asarray(pitch_in, dtype=np.float64)
    pitch_out = np.asarray(pitch_out, dtype=np.float64)
    turn = np.asarray(turn, dtype=np.float64)
    pitch_in_rad = np.radians(pitch_in)
    pitch_out_rad = np.radians(pitch_out)
    turn_rad = np.radians(turn)
    degree = np.radians(1)
    part0 = np.cos(pitch_out_rad)
    part1 = part0*np.sin(pitch_in_rad)
    part2 = turn_rad/2
    part3 = np.cos(part2)
    part4 = part3**2
    part5 = degree/2
    part6 = part4*part5
    part7 = pitch_in_rad/2
    part8 = pitch_out_rad/2
    part9 = part7 + part8
    part10 = np.sin(part9)
    part11 = -degree*part10*np.cos(part9)/2
    part12 = np.cos(pitch_in_rad)
    part13 = part0*part12
    part14 = part10**2 + part13*part4
    part15 = part7 - part8
    part16 = np.sin(part15)
    part17 = np.sin(part2)
    part18 = part17**2
    part19 = part13*part18 + part16**2
    part20 = 1/(part14 + part19)
    part21 = np.sqrt(part14)
    part22 = np.sqrt(part19)
    part23 = part20*part22/part21
    part24 = 1/part22
    part25 = part18*part5
    part26 = part16*part5*np.cos(part15)
    part27 = 2/degree
    part28 = part12*np.sin(pitch_out_rad)
    part29 = part13*part17*part3*part5
    return (
        _spread((part27*(part20*part21*part24*(part26 - part1*part25) - part23*(-part1*part6 - part11)),
        part27*(part20*part21*part24*(-part25*part28 - part26) - part23*(-part11 - part28*part6)),
        part27*(part20*part21*part24*part29 + part23*part29),), pitch_in, pitch_out, turn)
    )


def dihedral(first_backing: ArrayLike, second_backing: ArrayLike) -> Floats:
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
    first_backing = np.asarray(first_backing, dtype=np.float64)
    second_backing = np.asarray(second_backing, dtype=np.float64)
    return np.asarray(180 - first_backing - second_backing)


def dihedral_of_planes(pitch: ArrayLike, other_pitch: ArrayLike, eaves: ArrayLike) -> Floats:
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
    pitch = np.asarray(pitch, dtype=np.float64)
    other_pitch = np.asarray(other_pitch, dtype=np.float64)
    eaves = np.asarray(eaves, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    other_pitch_rad = np.radians(other_pitch)
    eaves_rad = np.radians(eaves)
    part0 = other_pitch_rad/2
    part1 = pitch_rad/2
    part2 = eaves_rad/2
    part3 = np.sin(other_pitch_rad)*np.sin(pitch_rad)
    return (
        np.asarray(np.degrees(2*np.arctan2(np.sqrt(part3*np.sin(part2)**2 + np.cos(part0 + part1)**2),
        np.sqrt(part3*np.cos(part2)**2 + np.sin(part0 - part1)**2))))
    )


def dihedral_of_planes_partials(
    pitch: ArrayLike, other_pitch: ArrayLike, eaves: ArrayLike,
) -> tuple[Floats, ...]:
    """Differentiate `dihedral_of_planes` by each argument, in its order."""
    pitch = np.asarray(pitch, dtype=np.float64)
    other_pitch = np.asarray(other_pitch, dtype=np.float64)
    eaves = np.asarray(eaves, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    other_pitch_rad = np.radians(other_pitch)
    eaves_rad = np.radians(eaves)
    degree = np.radians(1)
    part0 = np.sin(other_pitch_rad)
    part1 = part0*np.cos(pitch_rad)
    part2 = eaves_rad/2
    part3 = np.cos(part2)
    part4 = part3**2
    part5 = degree/2
    part6 = part4*part5
    part7 = other_pitch_rad/2
    part8 = pitch_rad/2
    part9 = part7 - part8
    part10 = np.sin(part9)
    part11 = part10*part5*np.cos(part9)
    part12 = part7 + part8
    part13 = np.cos(part12)
    part14 = np.sin(part2)
    part15 = part14**2
    part16 = np.sin(pitch_rad)
    part17 = part0*part16
    part18 = part13**2 + part15*part17
    part19 = part10**2 + part17*part4
    part20 = 1/(part18 + part19)
    part21 = np.sqrt(part18)
    part22 = np.sqrt(part19)
    part23 = part20*part21/part22
    part24 = 1/part21
    part25 = part15*part5
    part26 = -part13*part5*np.sin(part12)
    part27 = 2/degree
    part28 = part16*np.cos(other_pitch_rad)
    part29 = part14*part17*part3*part5
    return (
        _spread((part27*(part20*part22*part24*(part1*part25 + part26) - part23*(part1*part6 - part11)),
        part27*(part20*part22*part24*(part25*part28 + part26) - part23*(part11 + part28*part6)),
        part27*(part20*part22*part24*part29 + part23*part29),), pitch, other_pitch, eaves)
    )


def dihedral_partials(first_backing: ArrayLike, second_backing: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `dihedral` by each argument, in its order."""
    first_backing = np.asarray(first_backing, dtype=np.float64)
    second_backing = np.asarray(second_backing, dtype=np.float64)
    return _spread((-1, -1,), first_backing, second_backing)


def fitting_force(tension: ArrayLike, bend: ArrayLike) -> Floats:
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
    tension = np.asarray(tension, dtype=np.float64)
    bend = np.asarray(bend, dtype=np.float64)
    bend_rad = np.radians(bend)
    return np.asarray(2*tension*np.sin(bend_rad/2))


def fitting_force_partials(tension: ArrayLike, bend: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `fitting_force` by each argument, in its order."""
    tension = np.asarray(tension, dtype=np.float64)
    bend = np.asarray(bend, dtype=np.float64)
    bend_rad = np.radians(bend)
    degree = np.radians(1)
    part0 = bend_rad/2
    return _spread((2*np.sin(part0), degree*tension*np.cos(part0),), tension, bend)


def flight_height_at_bottom(
    rise: ArrayLike, run: ArrayLike, landing_height: ArrayLike, station: ArrayLike,
) -> Floats:
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
    rise = np.asarray(rise, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    landing_height = np.asarray(landing_height, dtype=np.float64)
    station = np.asarray(station, dtype=np.float64)
    return np.asarray(landing_height - rise - rise*station/run)


def flight_height_at_top(
    rise: ArrayLike, run: ArrayLike, landing_height: ArrayLike, station: ArrayLike,
) -> Floats:
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
    rise = np.asarray(rise, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    landing_height = np.asarray(landing_height, dtype=np.float64)
    station = np.asarray(station, dtype=np.float64)
    return np.asarray(landing_height - rise*station/run)


def half_turn_lower(run: ArrayLike, upper: ArrayLike) -> Floats:
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
    run = np.asarray(run, dtype=np.float64)
    upper = np.asarray(upper, dtype=np.float64)
    return np.asarray(run - upper)


def half_turn_upper(run: ArrayLike, lower: ArrayLike) -> Floats:
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
    run = np.asarray(run, dtype=np.float64)
    lower = np.asarray(lower, dtype=np.float64)
    return np.asarray(run - lower)


def half_turn_upper_partials(run: ArrayLike, lower: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `half_turn_upper` by each argument, in its order."""
    run = np.asarray(run, dtype=np.float64)
    lower = np.asarray(lower, dtype=np.float64)
    return _spread((1, -1,), run, lower)


def hardest_contact(sphere: ArrayLike, diameter: ArrayLike, spacing: ArrayLike) -> Floats:
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
    sphere = np.asarray(sphere, dtype=np.float64)
    diameter = np.asarray(diameter, dtype=np.float64)
    spacing = np.asarray(spacing, dtype=np.float64)
    return np.asarray(np.degrees(np.arccos(spacing**(1/3)/(diameter + sphere)**(1/3))))


def hardest_contact_partials(
    sphere: ArrayLike, diameter: ArrayLike, spacing: ArrayLike,
) -> tuple[Floats, ...]:
    """Differentiate `hardest_contact` by each argument, in its order."""
    sphere = np.asarray(sphere, dtype=np.float64)
    diameter = np.asarray(diameter, dtype=np.float64)
    spacing = np.asarray(spacing, dtype=np.float64)
    degree = np.radians(1)
    part0 = diameter + sphere
    part1 = spacing**(2/3)
    part2 = 1/(3*degree*np.sqrt(1 - part1/part0**(2/3)))
    part3 = part2*spacing**(1/3)/part0**(4/3)
    return _spread((part3, part3, -part2/(part0**(1/3)*part1),), sphere, diameter, spacing)


def hip_plan(pitch: ArrayLike, other_pitch: ArrayLike, eaves: ArrayLike) -> Floats:
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
    pitch = np.asarray(pitch, dtype=np.float64)
    other_pitch = np.asarray(other_pitch, dtype=np.float64)
    eaves = np.asarray(eaves, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    other_pitch_rad = np.radians(other_pitch)
    eaves_rad = np.radians(eaves)
    part0 = np.tan(other_pitch_rad)
    return (
        np.asarray(np.degrees(np.arctan2(part0*np.sin(eaves_rad), part0*np.cos(eaves_rad) +
        np.tan(pitch_rad))))
    )


def hip_plan_partials(pitch: ArrayLike, other_pitch: ArrayLike, eaves: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `hip_plan` by each argument, in its order."""
    pitch = np.asarray(pitch, dtype=np.float64)
    other_pitch = np.asarray(other_pitch, dtype=np.float64)
    eaves = np.asarray(eaves, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    other_pitch_rad = np.radians(other_pitch)
    eaves_rad = np.radians(eaves)
    degree = np.radians(1)
    part0 = np.tan(other_pitch_rad)
    part1 = np.tan(pitch_rad)
    part2 = np.sin(eaves_rad)
    part3 = part0**2
    part4 = part2**2*part3
    part5 = part0*np.cos(eaves_rad)
    part6 = part1 + part5
    part7 = 1/(part4 + part6**2)
    part8 = part2*part7
    part9 = 1/degree
    part10 = degree*part8*(part3 + 1)
    part11 = degree*part7
    return (
        _spread((-part0*part8*(part1**2 + 1), part9*(part10*part6 - part10*part5), part9*(part11*part4 +
        part11*part5*part6),), pitch, other_pitch, eaves)
    )


def hip_slope(pitch: ArrayLike, plan: ArrayLike) -> Floats:
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
    pitch = np.asarray(pitch, dtype=np.float64)
    plan = np.asarray(plan, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    plan_rad = np.radians(plan)
    return np.asarray(np.degrees(np.arctan(np.sin(plan_rad)*np.tan(pitch_rad))))


def hip_slope_partials(pitch: ArrayLike, plan: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `hip_slope` by each argument, in its order."""
    pitch = np.asarray(pitch, dtype=np.float64)
    plan = np.asarray(plan, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    plan_rad = np.radians(plan)
    part0 = np.sin(plan_rad)
    part1 = np.tan(pitch_rad)
    part2 = part1**2
    part3 = 1/(part0**2*part2 + 1)
    return _spread((part0*part3*(part2 + 1), part1*part3*np.cos(plan_rad),), pitch, plan)


def hole_face(height: ArrayLike, across: ArrayLike, slope: ArrayLike) -> Floats:
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
    height = np.asarray(height, dtype=np.float64)
    across = np.asarray(across, dtype=np.float64)
    slope = np.asarray(slope, dtype=np.float64)
    return np.asarray(across*slope + height)


def hole_face_partials(height: ArrayLike, across: ArrayLike, slope: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `hole_face` by each argument, in its order."""
    height = np.asarray(height, dtype=np.float64)
    across = np.asarray(across, dtype=np.float64)
    slope = np.asarray(slope, dtype=np.float64)
    return _spread((1, slope, across,), height, across, slope)


def jack_side_cut(pitch: ArrayLike, plan: ArrayLike) -> Floats:
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
    pitch = np.asarray(pitch, dtype=np.float64)
    plan = np.asarray(plan, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    plan_rad = np.radians(plan)
    return np.asarray(np.degrees(np.arctan(np.cos(pitch_rad)*np.cos(plan_rad)/np.sin(plan_rad))))


def jack_side_cut_partials(pitch: ArrayLike, plan: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `jack_side_cut` by each argument, in its order."""
    pitch = np.asarray(pitch, dtype=np.float64)
    plan = np.asarray(plan, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    plan_rad = np.radians(plan)
    degree = np.radians(1)
    part0 = np.cos(plan_rad)
    part1 = np.sin(plan_rad)
    part2 = np.cos(pitch_rad)
    part3 = part0**2/part1**2
    part4 = 1/(part2**2*part3 + 1)
    part5 = degree*part2
    return (
        _spread((-part0*part4*np.sin(pitch_rad)/part1, part4*(-part3*part5 - part5)/degree,), pitch, plan)
    )


def jog_bottom(
    rise: ArrayLike, run: ArrayLike, flight_height: ArrayLike, landing_height: ArrayLike, station: ArrayLike,
) -> Floats:
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
    rise = np.asarray(rise, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    flight_height = np.asarray(flight_height, dtype=np.float64)
    landing_height = np.asarray(landing_height, dtype=np.float64)
    station = np.asarray(station, dtype=np.float64)
    return np.asarray(landing_height - flight_height - rise - rise*station/run)


def jog_bottom_partials(
    rise: ArrayLike, run: ArrayLike, flight_height: ArrayLike, landing_height: ArrayLike, station: ArrayLike,
) -> tuple[Floats, ...]:
    """Differentiate `jog_bottom` by each argument, in its order."""
    rise = np.asarray(rise, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    flight_height = np.asarray(flight_height, dtype=np.float64)
    landing_height = np.asarray(landing_height, dtype=np.float64)
    station = np.asarray(station, dtype=np.float64)
    part0 = 1/run
    return (
        _spread((-part0*station - 1, rise*station/run**2, -1, 1, -part0*rise,), rise, run, flight_height,
        landing_height, station)
    )


def jog_top(
    rise: ArrayLike, run: ArrayLike, flight_height: ArrayLike, landing_height: ArrayLike, station: ArrayLike,
) -> Floats:
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
    rise = np.asarray(rise, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    flight_height = np.asarray(flight_height, dtype=np.float64)
    landing_height = np.asarray(landing_height, dtype=np.float64)
    station = np.asarray(station, dtype=np.float64)
    return np.asarray(landing_height - flight_height - rise*station/run)


def jog_top_partials(
    rise: ArrayLike, run: ArrayLike, flight_height: ArrayLike, landing_height: ArrayLike, station: ArrayLike,
) -> tuple[Floats, ...]:
    """Differentiate `jog_top` by each argument, in its order."""
    rise = np.asarray(rise, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    flight_height = np.asarray(flight_height, dtype=np.float64)
    landing_height = np.asarray(landing_height, dtype=np.float64)
    station = np.asarray(station, dtype=np.float64)
    part0 = 1/run
    return (
        _spread((-part0*station, rise*station/run**2, -1, 1, -part0*rise,), rise, run, flight_height,
        landing_height, station)
    )


def landing_height_at_bottom(
    rise: ArrayLike, run: ArrayLike, flight_height: ArrayLike, station: ArrayLike,
) -> Floats:
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
    rise = np.asarray(rise, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    flight_height = np.asarray(flight_height, dtype=np.float64)
    station = np.asarray(station, dtype=np.float64)
    return np.asarray(flight_height + rise + rise*station/run)


def landing_height_at_top(
    rise: ArrayLike, run: ArrayLike, flight_height: ArrayLike, station: ArrayLike,
) -> Floats:
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
    rise = np.asarray(rise, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    flight_height = np.asarray(flight_height, dtype=np.float64)
    station = np.asarray(station, dtype=np.float64)
    return np.asarray(flight_height + rise*station/run)


def mitre(bend: ArrayLike) -> Floats:
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
    bend = np.asarray(bend, dtype=np.float64)
    return np.asarray(bend/2)


def mitre_partials(bend: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `mitre` by each argument, in its order."""
    bend = np.asarray(bend, dtype=np.float64)
    return _spread((1/2,), bend)


def mitre_point(depth: ArrayLike, mitre: ArrayLike) -> Floats:
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
    depth = np.asarray(depth, dtype=np.float64)
    mitre = np.asarray(mitre, dtype=np.float64)
    mitre_rad = np.radians(mitre)
    return np.asarray(depth*np.tan(mitre_rad))


def mitre_point_partials(depth: ArrayLike, mitre: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `mitre_point` by each argument, in its order."""
    depth = np.asarray(depth, dtype=np.float64)
    mitre = np.asarray(mitre, dtype=np.float64)
    mitre_rad = np.radians(mitre)
    degree = np.radians(1)
    part0 = np.tan(mitre_rad)
    return _spread((part0, degree*depth*(part0**2 + 1),), depth, mitre)


def pitch(rise: ArrayLike, run: ArrayLike) -> Floats:
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
    rise = np.asarray(rise, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    return np.asarray(np.degrees(np.arctan(rise/run)))


def pitch_partials(rise: ArrayLike, run: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `pitch` by each argument, in its order."""
    rise = np.asarray(rise, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    degree = np.radians(1)
    part0 = run**(-2)
    part1 = 1/(degree*(part0*rise**2 + 1))
    return _spread((part1/run, -part0*part1*rise,), rise, run)


def pitch_rise(run: ArrayLike, pitch: ArrayLike) -> Floats:
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
    run = np.asarray(run, dtype=np.float64)
    pitch = np.asarray(pitch, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    return np.asarray(run*np.tan(pitch_rad))


def plumb_of_square(square: ArrayLike, pitch: ArrayLike) -> Floats:
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
    square = np.asarray(square, dtype=np.float64)
    pitch = np.asarray(pitch, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    return np.asarray(square/np.cos(pitch_rad))


def plumb_plane_climb(width: ArrayLike, turn: ArrayLike, pitch: ArrayLike) -> Floats:
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
    width = np.asarray(width, dtype=np.float64)
    turn = np.asarray(turn, dtype=np.float64)
    pitch = np.asarray(pitch, dtype=np.float64)
    turn_rad = np.radians(turn)
    pitch_rad = np.radians(pitch)
    return np.asarray(width*np.tan(pitch_rad)*np.tan(turn_rad/2))


def plumb_plane_climb_partials(width: ArrayLike, turn: ArrayLike, pitch: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `plumb_plane_climb` by each argument, in its order."""
    width = np.asarray(width, dtype=np.float64)
    turn = np.asarray(turn, dtype=np.float64)
    pitch = np.asarray(pitch, dtype=np.float64)
    turn_rad = np.radians(turn)
    pitch_rad = np.radians(pitch)
    degree = np.radians(1)
    part0 = np.tan(pitch_rad)
    part1 = np.tan(turn_rad/2)
    part2 = degree*width
    return (
        _spread((part0*part1, part0*part2*(part1**2 + 1)/2, part1*part2*(part0**2 + 1),), width, turn,
        pitch)
    )


def plumb_plane_mitre(pitch: ArrayLike, turn: ArrayLike) -> Floats:
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
    pitch = np.asarray(pitch, dtype=np.float64)
    turn = np.asarray(turn, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    turn_rad = np.radians(turn)
    return np.asarray(np.degrees(np.arctan(np.tan(turn_rad/2)/np.cos(pitch_rad))))


def plumb_plane_mitre_partials(pitch: ArrayLike, turn: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `plumb_plane_mitre` by each argument, in its order."""
    pitch = np.asarray(pitch, dtype=np.float64)
    turn = np.asarray(turn, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    turn_rad = np.radians(turn)
    part0 = np.cos(pitch_rad)
    part1 = part0**(-2)
    part2 = np.tan(turn_rad/2)
    part3 = part2**2
    part4 = 1/(part1*part3 + 1)
    return _spread((part1*part2*part4*np.sin(pitch_rad), part4*(part3 + 1)/(2*part0),), pitch, turn)


def plumb_plane_tilt(pitch: ArrayLike, turn: ArrayLike) -> Floats:
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
    pitch = np.asarray(pitch, dtype=np.float64)
    turn = np.asarray(turn, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    turn_rad = np.radians(turn)
    return np.asarray(np.degrees(np.arcsin(np.sin(pitch_rad)*np.cos(turn_rad/2))))


def plumb_plane_tilt_partials(pitch: ArrayLike, turn: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `plumb_plane_tilt` by each argument, in its order."""
    pitch = np.asarray(pitch, dtype=np.float64)
    turn = np.asarray(turn, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    turn_rad = np.radians(turn)
    part0 = turn_rad/2
    part1 = np.cos(part0)
    part2 = np.sin(pitch_rad)
    part3 = 1/np.sqrt(1 - part1**2*part2**2)
    return _spread((part1*part3*np.cos(pitch_rad), -part2*part3*np.sin(part0)/2,), pitch, turn)


def post_bevel(width: ArrayLike, pitch: ArrayLike) -> Floats:
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
    width = np.asarray(width, dtype=np.float64)
    pitch = np.asarray(pitch, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    return np.asarray(width*np.tan(pitch_rad))


def post_bevel_partials(width: ArrayLike, pitch: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `post_bevel` by each argument, in its order."""
    width = np.asarray(width, dtype=np.float64)
    pitch = np.asarray(pitch, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    degree = np.radians(1)
    part0 = np.tan(pitch_rad)
    return _spread((part0, degree*width*(part0**2 + 1),), width, pitch)


def push_without_stretch(
    tension: ArrayLike, sphere: ArrayLike, diameter: ArrayLike, bay: ArrayLike, contact: ArrayLike,
) -> Floats:
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
    tension = np.asarray(tension, dtype=np.float64)
    sphere = np.asarray(sphere, dtype=np.float64)
    diameter = np.asarray(diameter, dtype=np.float64)
    bay = np.asarray(bay, dtype=np.float64)
    contact = np.asarray(contact, dtype=np.float64)
    contact_rad = np.radians(contact)
    return np.asarray(4*tension*(diameter + sphere)*np.sin(contact_rad)**3/bay)


def push_without_stretch_partials(
    tension: ArrayLike, sphere: ArrayLike, diameter: ArrayLike, bay: ArrayLike, contact: ArrayLike,
) -> tuple[Floats, ...]:
    """Differentiate `push_without_stretch` by each argument, in its order."""
    tension = np.asarray(tension, dtype=np.float64)
    sphere = np.asarray(sphere, dtype=np.float64)
    diameter = np.asarray(diameter, dtype=np.float64)
    bay = np.asarray(bay, dtype=np.float64)
    contact = np.asarray(contact, dtype=np.float64)
    contact_rad = np.radians(contact)
    degree = np.radians(1)
    part0 = 1/bay
    part1 = diameter + sphere
    part2 = part0*part1
    part3 = np.sin(contact_rad)
    part4 = 4*part3**3
    part5 = part4*tension
    part6 = part0*part5
    return (
        _spread((part2*part4, part6, part6, -part1*part5/bay**2,
        12*degree*part2*part3**2*tension*np.cos(contact_rad),), tension, sphere, diameter, bay, contact)
    )


def push_without_stretch_tension(
    sphere: ArrayLike, diameter: ArrayLike, bay: ArrayLike, push: ArrayLike, contact: ArrayLike,
) -> Floats:
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
    sphere = np.asarray(sphere, dtype=np.float64)
    diameter = np.asarray(diameter, dtype=np.float64)
    bay = np.asarray(bay, dtype=np.float64)
    push = np.asarray(push, dtype=np.float64)
    contact = np.asarray(contact, dtype=np.float64)
    contact_rad = np.radians(contact)
    return np.asarray(bay*push/(4*(diameter + sphere)*np.sin(contact_rad)**3))


def rail_gap(plumb: ArrayLike, diameter: ArrayLike, pitch: ArrayLike) -> Floats:
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
    plumb = np.asarray(plumb, dtype=np.float64)
    diameter = np.asarray(diameter, dtype=np.float64)
    pitch = np.asarray(pitch, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    return np.asarray(plumb*np.cos(pitch_rad) - diameter/2)


def rail_gap_partials(plumb: ArrayLike, diameter: ArrayLike, pitch: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `rail_gap` by each argument, in its order."""
    plumb = np.asarray(plumb, dtype=np.float64)
    diameter = np.asarray(diameter, dtype=np.float64)
    pitch = np.asarray(pitch, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    degree = np.radians(1)
    return _spread((np.cos(pitch_rad), -1/2, -degree*plumb*np.sin(pitch_rad),), plumb, diameter, pitch)


def rail_gap_plumb(diameter: ArrayLike, gap: ArrayLike, pitch: ArrayLike) -> Floats:
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
    diameter = np.asarray(diameter, dtype=np.float64)
    gap = np.asarray(gap, dtype=np.float64)
    pitch = np.asarray(pitch, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    return np.asarray((diameter + 2*gap)/(2*np.cos(pitch_rad)))


def rail_meets_bottom(
    rise: ArrayLike, run: ArrayLike, flight_height: ArrayLike, landing_height: ArrayLike,
) -> Floats:
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
    rise = np.asarray(rise, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    flight_height = np.asarray(flight_height, dtype=np.float64)
    landing_height = np.asarray(landing_height, dtype=np.float64)
    return np.asarray(run*(landing_height - flight_height - rise)/rise)


def rail_meets_bottom_partials(
    rise: ArrayLike, run: ArrayLike, flight_height: ArrayLike, landing_height: ArrayLike,
) -> tuple[Floats, ...]:
    """Differentiate `rail_meets_bottom` by each argument, in its order."""
    rise = np.asarray(rise, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    flight_height = np.asarray(flight_height, dtype=np.float64)
    landing_height = np.asarray(landing_height, dtype=np.float64)
    part0 = 1/rise
    part1 = part0*run
    part2 = landing_height - flight_height - rise
    return (
        _spread((-part1 - part2*run/rise**2, part0*part2, -part1, part1,), rise, run, flight_height,
        landing_height)
    )


def rail_meets_top(
    rise: ArrayLike, run: ArrayLike, flight_height: ArrayLike, landing_height: ArrayLike,
) -> Floats:
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
    rise = np.asarray(rise, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    flight_height = np.asarray(flight_height, dtype=np.float64)
    landing_height = np.asarray(landing_height, dtype=np.float64)
    return np.asarray(run*(landing_height - flight_height)/rise)


def rail_meets_top_partials(
    rise: ArrayLike, run: ArrayLike, flight_height: ArrayLike, landing_height: ArrayLike,
) -> tuple[Floats, ...]:
    """Differentiate `rail_meets_top` by each argument, in its order."""
    rise = np.asarray(rise, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    flight_height = np.asarray(flight_height, dtype=np.float64)
    landing_height = np.asarray(landing_height, dtype=np.float64)
    part0 = landing_height - flight_height
    part1 = 1/rise
    part2 = part1*run
    return (
        _spread((-part0*run/rise**2, part0*part1, -part2, part2,), rise, run, flight_height, landing_height)
    )


def rail_plumb_depth(depth: ArrayLike, pitch: ArrayLike) -> Floats:
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
    depth = np.asarray(depth, dtype=np.float64)
    pitch = np.asarray(pitch, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    return np.asarray(depth/np.cos(pitch_rad))


def rail_plumb_depth_partials(depth: ArrayLike, pitch: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `rail_plumb_depth` by each argument, in its order."""
    depth = np.asarray(depth, dtype=np.float64)
    pitch = np.asarray(pitch, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    degree = np.radians(1)
    part0 = np.cos(pitch_rad)
    return _spread((1/part0, degree*depth*np.sin(pitch_rad)/part0**2,), depth, pitch)


def section_twist(pitch_in: ArrayLike, pitch_out: ArrayLike, turn: ArrayLike) -> Floats:
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
    pitch_in = np.asarray(pitch_in, dtype=np.float64)
    pitch_out = np.asarray(pitch_out, dtype=np.float64)
    turn = np.asarray(turn, dtype=np.float64)
    pitch_in_rad = np.radians(pitch_in)
    pitch_out_rad = np.radians(pitch_out)
    turn_rad = np.radians(turn)
    part0 = turn_rad/2
    part1 = pitch_in_rad/2
    part2 = pitch_out_rad/2
    return (
        np.asarray(np.degrees(2*np.arctan2(np.sin(part0)*np.sin(part1 + part2), np.cos(part0)*np.cos(part1 -
        part2))))
    )


def section_twist_partials(
    pitch_in: ArrayLike, pitch_out: ArrayLike, turn: ArrayLike,
) -> tuple[Floats, ...]:
    """Differentiate `section_twist` by each argument, in its order."""
    pitch_in = np.asarray(pitch_in, dtype=np.float64)
    pitch_out = np.asarray(pitch_out, dtype=np.float64)
    turn = np.asarray(turn, dtype=np.float64)
    pitch_in_rad = np.radians(pitch_in)
    pitch_out_rad = np.radians(pitch_out)
    turn_rad = np.radians(turn)
    degree = np.radians(1)
    part0 = turn_rad/2
    part1 = np.sin(part0)
    part2 = part1**2
    part3 = pitch_in_rad/2
    part4 = pitch_out_rad/2
    part5 = part3 + part4
    part6 = np.sin(part5)
    part7 = np.cos(part0)
    part8 = part7**2
    part9 = part3 - part4
    part10 = np.cos(part9)
    part11 = 1/(part10**2*part8 + part2*part6**2)
    part12 = part1*part7
    part13 = degree*part11*part12*part6*np.sin(part9)/2
    part14 = np.cos(part5)
    part15 = degree*part10*part11/2
    part16 = 2/degree
    part17 = part15*part6
    return (
        _spread((part16*(part12*part14*part15 + part13), part16*(degree*part1*part10*part11*part14*part7/2 -
        part13), part16*(part17*part2 + part17*part8),), pitch_in, pitch_out, turn)
    )


def shortening_by_tension(
    before: ArrayLike, stiffness: ArrayLike, run: ArrayLike, after: ArrayLike,
) -> Floats:
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
    before = np.asarray(before, dtype=np.float64)
    stiffness = np.asarray(stiffness, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    after = np.asarray(after, dtype=np.float64)
    return np.asarray((before*run - after*run)/stiffness)


def slope_length(rise: ArrayLike, run: ArrayLike) -> Floats:
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
    rise = np.asarray(rise, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    return np.asarray(np.sqrt(rise**2 + run**2))


def slope_length_partials(rise: ArrayLike, run: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `slope_length` by each argument, in its order."""
    rise = np.asarray(rise, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    part0 = 1/np.sqrt(rise**2 + run**2)
    return _spread((part0*rise, part0*run,), rise, run)


def splayed_mitre(splay: ArrayLike, turn: ArrayLike) -> Floats:
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
    splay = np.asarray(splay, dtype=np.float64)
    turn = np.asarray(turn, dtype=np.float64)
    splay_rad = np.radians(splay)
    turn_rad = np.radians(turn)
    return np.asarray(np.degrees(np.arctan(np.cos(splay_rad)*np.tan(turn_rad/2))))


def splayed_mitre_partials(splay: ArrayLike, turn: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `splayed_mitre` by each argument, in its order."""
    splay = np.asarray(splay, dtype=np.float64)
    turn = np.asarray(turn, dtype=np.float64)
    splay_rad = np.radians(splay)
    turn_rad = np.radians(turn)
    part0 = np.tan(turn_rad/2)
    part1 = np.cos(splay_rad)
    part2 = part0**2
    part3 = 1/(part1**2*part2 + 1)
    return _spread((-part0*part3*np.sin(splay_rad), part1*part3*(part2 + 1)/2,), splay, turn)


def splayed_tilt(splay: ArrayLike, turn: ArrayLike) -> Floats:
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
    splay = np.asarray(splay, dtype=np.float64)
    turn = np.asarray(turn, dtype=np.float64)
    splay_rad = np.radians(splay)
    turn_rad = np.radians(turn)
    return np.asarray(np.degrees(np.arcsin(np.sin(splay_rad)*np.sin(turn_rad/2))))


def splayed_tilt_partials(splay: ArrayLike, turn: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `splayed_tilt` by each argument, in its order."""
    splay = np.asarray(splay, dtype=np.float64)
    turn = np.asarray(turn, dtype=np.float64)
    splay_rad = np.radians(splay)
    turn_rad = np.radians(turn)
    part0 = turn_rad/2
    part1 = np.sin(part0)
    part2 = np.sin(splay_rad)
    part3 = 1/np.sqrt(1 - part1**2*part2**2)
    return _spread((part1*part3*np.cos(splay_rad), part2*part3*np.cos(part0)/2,), splay, turn)


def square_of_plumb(plumb: ArrayLike, pitch: ArrayLike) -> Floats:
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
    plumb = np.asarray(plumb, dtype=np.float64)
    pitch = np.asarray(pitch, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    return np.asarray(plumb*np.cos(pitch_rad))


def square_of_plumb_partials(plumb: ArrayLike, pitch: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `square_of_plumb` by each argument, in its order."""
    plumb = np.asarray(plumb, dtype=np.float64)
    pitch = np.asarray(pitch, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    degree = np.radians(1)
    return _spread((np.cos(pitch_rad), -degree*plumb*np.sin(pitch_rad),), plumb, pitch)


def step_lift(rise: ArrayLike, run: ArrayLike, nosing: ArrayLike, sphere: ArrayLike) -> Floats:
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
    rise = np.asarray(rise, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    nosing = np.asarray(nosing, dtype=np.float64)
    sphere = np.asarray(sphere, dtype=np.float64)
    part0 = np.sqrt(rise**2 + run**2)
    part1 = 2*rise
    return np.asarray((part0*sphere + rise*sphere + run*sphere - nosing*part1 - part1*run)/(2*part0))


def step_nosing(rise: ArrayLike, run: ArrayLike, lift: ArrayLike, sphere: ArrayLike) -> Floats:
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
    rise = np.asarray(rise, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    lift = np.asarray(lift, dtype=np.float64)
    sphere = np.asarray(sphere, dtype=np.float64)
    part0 = np.sqrt(rise**2 + run**2)
    return np.asarray((part0*sphere + rise*sphere + run*sphere - 2*lift*part0 - 2*rise*run)/(2*rise))


def step_sphere(rise: ArrayLike, run: ArrayLike, nosing: ArrayLike, lift: ArrayLike) -> Floats:
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
    rise = np.asarray(rise, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    nosing = np.asarray(nosing, dtype=np.float64)
    lift = np.asarray(lift, dtype=np.float64)
    part0 = np.sqrt(rise**2 + run**2)
    part1 = 2*rise
    return np.asarray((2*lift*part0 + nosing*part1 + part1*run)/(part0 + rise + run))


def step_sphere_partials(
    rise: ArrayLike, run: ArrayLike, nosing: ArrayLike, lift: ArrayLike,
) -> tuple[Floats, ...]:
    """Differentiate `step_sphere` by each argument, in its order."""
    rise = np.asarray(rise, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    nosing = np.asarray(nosing, dtype=np.float64)
    lift = np.asarray(lift, dtype=np.float64)
    part0 = np.sqrt(rise**2 + run**2)
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
        _spread((part2*(2*lift*part6 + part3 + part4) + part8*(-part6 - 1), part2*(lift*part4*part5 + part9)
        + part8*(-part5*run - 1), part2*part9, part2*part7,), rise, run, nosing, lift)
    )


def strand_area(diameter: ArrayLike, fill: ArrayLike) -> Floats:
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
    diameter = np.asarray(diameter, dtype=np.float64)
    fill = np.asarray(fill, dtype=np.float64)
    degree = np.radians(1)
    return np.asarray(45*degree*diameter**2*fill)


def strand_area_partials(diameter: ArrayLike, fill: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `strand_area` by each argument, in its order."""
    diameter = np.asarray(diameter, dtype=np.float64)
    fill = np.asarray(fill, dtype=np.float64)
    degree = np.radians(1)
    return _spread((90*degree*diameter*fill, 45*degree*diameter**2,), diameter, fill)


def strand_bore(width: ArrayLike, pitch: ArrayLike) -> Floats:
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
    width = np.asarray(width, dtype=np.float64)
    pitch = np.asarray(pitch, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    return np.asarray(width/np.cos(pitch_rad))


def strand_bore_partials(width: ArrayLike, pitch: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `strand_bore` by each argument, in its order."""
    width = np.asarray(width, dtype=np.float64)
    pitch = np.asarray(pitch, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    degree = np.radians(1)
    part0 = np.cos(pitch_rad)
    return _spread((1/part0, degree*width*np.sin(pitch_rad)/part0**2,), width, pitch)


def strand_ellipse(diameter: ArrayLike, pitch: ArrayLike) -> Floats:
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
    diameter = np.asarray(diameter, dtype=np.float64)
    pitch = np.asarray(pitch, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    return np.asarray(diameter/np.cos(pitch_rad))


def strand_ellipse_partials(diameter: ArrayLike, pitch: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `strand_ellipse` by each argument, in its order."""
    diameter = np.asarray(diameter, dtype=np.float64)
    pitch = np.asarray(pitch, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    degree = np.radians(1)
    part0 = np.cos(pitch_rad)
    return _spread((1/part0, degree*diameter*np.sin(pitch_rad)/part0**2,), diameter, pitch)


def strand_elongation(tension: ArrayLike, stiffness: ArrayLike, run: ArrayLike) -> Floats:
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
    tension = np.asarray(tension, dtype=np.float64)
    stiffness = np.asarray(stiffness, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    return np.asarray(run*tension/stiffness)


def strand_elongation_partials(
    tension: ArrayLike, stiffness: ArrayLike, run: ArrayLike,
) -> tuple[Floats, ...]:
    """Differentiate `strand_elongation` by each argument, in its order."""
    tension = np.asarray(tension, dtype=np.float64)
    stiffness = np.asarray(stiffness, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    part0 = 1/stiffness
    return _spread((part0*run, -run*tension/stiffness**2, part0*tension,), tension, stiffness, run)


def strand_elongation_tension(stiffness: ArrayLike, run: ArrayLike, elongation: ArrayLike) -> Floats:
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
    stiffness = np.asarray(stiffness, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    elongation = np.asarray(elongation, dtype=np.float64)
    return np.asarray(elongation*stiffness/run)


def strand_force(
    tension: ArrayLike, stiffness: ArrayLike, bay: ArrayLike, run: ArrayLike, deflection: ArrayLike,
) -> Floats:
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
    tension = np.asarray(tension, dtype=np.float64)
    stiffness = np.asarray(stiffness, dtype=np.float64)
    bay = np.asarray(bay, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    deflection = np.asarray(deflection, dtype=np.float64)
    part0 = deflection**2
    part1 = np.sqrt(bay**2/4 + part0)
    return np.asarray(deflection*(4*part0*(stiffness + tension)/(run*(bay/2 + part1)) + 2*tension)/part1)


def strand_force_partials(
    tension: ArrayLike, stiffness: ArrayLike, bay: ArrayLike, run: ArrayLike, deflection: ArrayLike,
) -> tuple[Floats, ...]:
    """Differentiate `strand_force` by each argument, in its order."""
    tension = np.asarray(tension, dtype=np.float64)
    stiffness = np.asarray(stiffness, dtype=np.float64)
    bay = np.asarray(bay, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    deflection = np.asarray(deflection, dtype=np.float64)
    part0 = deflection**2
    part1 = 1/run
    part2 = bay**2/4 + part0
    part3 = np.sqrt(part2)
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
    part15 = part14/np.sqrt(part2)**3
    part16 = part4**(-2)
    part17 = 4*part11*part13
    return (
        _spread((part9*(part7 + 2), part11*part6, 4*part1*part10*part13*part16*part8*(-part12*part8 - 1/2) -
        deflection*part12*part15, -part17*part5/run**2, part14*part8 +
        part9*(8*deflection*part1*part13*part5 - part1*part16*part17) - part0*part15,), tension, stiffness,
        bay, run, deflection)
    )


def strand_force_small(
    tension: ArrayLike, stiffness: ArrayLike, bay: ArrayLike, run: ArrayLike, deflection: ArrayLike,
) -> Floats:
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
    tension = np.asarray(tension, dtype=np.float64)
    stiffness = np.asarray(stiffness, dtype=np.float64)
    bay = np.asarray(bay, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    deflection = np.asarray(deflection, dtype=np.float64)
    return np.asarray(4*deflection*tension/bay + 8*deflection**3*stiffness/(bay**2*run))


def strand_force_small_partials(
    tension: ArrayLike, stiffness: ArrayLike, bay: ArrayLike, run: ArrayLike, deflection: ArrayLike,
) -> tuple[Floats, ...]:
    """Differentiate `strand_force_small` by each argument, in its order."""
    tension = np.asarray(tension, dtype=np.float64)
    stiffness = np.asarray(stiffness, dtype=np.float64)
    bay = np.asarray(bay, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    deflection = np.asarray(deflection, dtype=np.float64)
    part0 = 4/bay
    part1 = deflection**3
    part2 = 1/run
    part3 = part1*part2
    part4 = bay**(-2)
    part5 = 8*part4
    return (
        _spread((deflection*part0, part3*part5, -4*deflection*part4*tension - 16*part3*stiffness/bay**3,
        -part1*part5*stiffness/run**2, 24*deflection**2*part2*part4*stiffness + part0*tension,), tension,
        stiffness, bay, run, deflection)
    )


def strand_force_small_tension(
    stiffness: ArrayLike, bay: ArrayLike, run: ArrayLike, deflection: ArrayLike, force: ArrayLike,
) -> Floats:
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
    stiffness = np.asarray(stiffness, dtype=np.float64)
    bay = np.asarray(bay, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    deflection = np.asarray(deflection, dtype=np.float64)
    force = np.asarray(force, dtype=np.float64)
    return np.asarray(bay*force/(4*deflection) - 2*deflection**2*stiffness/(bay*run))


def strand_force_tension(
    stiffness: ArrayLike, bay: ArrayLike, run: ArrayLike, deflection: ArrayLike, force: ArrayLike,
) -> Floats:
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
    stiffness = np.asarray(stiffness, dtype=np.float64)
    bay = np.asarray(bay, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    deflection = np.asarray(deflection, dtype=np.float64)
    force = np.asarray(force, dtype=np.float64)
    part0 = bay*run
    part1 = 4*deflection**2
    part2 = bay**2
    part3 = np.sqrt(part1 + part2)
    part4 = force*run
    return (
        np.asarray((force*part0*part3 + part1*part4 + part2*part4 -
        16*deflection**3*stiffness)/(4*deflection*(part0 + part1 + part3*run)))
    )


def strand_gap(spacing: ArrayLike, diameter: ArrayLike) -> Floats:
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
    spacing = np.asarray(spacing, dtype=np.float64)
    diameter = np.asarray(diameter, dtype=np.float64)
    return np.asarray(spacing - diameter)


def strand_gap_partials(spacing: ArrayLike, diameter: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `strand_gap` by each argument, in its order."""
    spacing = np.asarray(spacing, dtype=np.float64)
    diameter = np.asarray(diameter, dtype=np.float64)
    return _spread((1, -1,), spacing, diameter)


def strand_mass(area: ArrayLike, density: ArrayLike, lay_take_up: ArrayLike) -> Floats:
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
    area = np.asarray(area, dtype=np.float64)
    density = np.asarray(density, dtype=np.float64)
    lay_take_up = np.asarray(lay_take_up, dtype=np.float64)
    return np.asarray(area*density*(lay_take_up + 1))


def strand_mass_partials(area: ArrayLike, density: ArrayLike, lay_take_up: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `strand_mass` by each argument, in its order."""
    area = np.asarray(area, dtype=np.float64)
    density = np.asarray(density, dtype=np.float64)
    lay_take_up = np.asarray(lay_take_up, dtype=np.float64)
    part0 = lay_take_up + 1
    return _spread((density*part0, area*part0, area*density,), area, density, lay_take_up)


def strand_sag(weight: ArrayLike, bay: ArrayLike, tension: ArrayLike) -> Floats:
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
    weight = np.asarray(weight, dtype=np.float64)
    bay = np.asarray(bay, dtype=np.float64)
    tension = np.asarray(tension, dtype=np.float64)
    return np.asarray(bay**2*weight/(8*tension))


def strand_sag_partials(weight: ArrayLike, bay: ArrayLike, tension: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `strand_sag` by each argument, in its order."""
    weight = np.asarray(weight, dtype=np.float64)
    bay = np.asarray(bay, dtype=np.float64)
    tension = np.asarray(tension, dtype=np.float64)
    part0 = 1/tension
    part1 = bay**2/8
    return _spread((part0*part1, bay*part0*weight/4, -part1*weight/tension**2,), weight, bay, tension)


def strand_sag_tension(weight: ArrayLike, bay: ArrayLike, sag: ArrayLike) -> Floats:
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
    weight = np.asarray(weight, dtype=np.float64)
    bay = np.asarray(bay, dtype=np.float64)
    sag = np.asarray(sag, dtype=np.float64)
    return np.asarray(bay**2*weight/(8*sag))


def strand_slot(diameter: ArrayLike, width: ArrayLike, pitch: ArrayLike) -> Floats:
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
    diameter = np.asarray(diameter, dtype=np.float64)
    width = np.asarray(width, dtype=np.float64)
    pitch = np.asarray(pitch, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    return np.asarray(diameter/np.cos(pitch_rad) + width*np.tan(pitch_rad))


def strand_slot_partials(diameter: ArrayLike, width: ArrayLike, pitch: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `strand_slot` by each argument, in its order."""
    diameter = np.asarray(diameter, dtype=np.float64)
    width = np.asarray(width, dtype=np.float64)
    pitch = np.asarray(pitch, dtype=np.float64)
    pitch_rad = np.radians(pitch)
    degree = np.radians(1)
    part0 = np.cos(pitch_rad)
    part1 = np.tan(pitch_rad)
    return (
        _spread((1/part0, part1, degree*diameter*np.sin(pitch_rad)/part0**2 + degree*width*(part1**2 + 1),),
        diameter, width, pitch)
    )


def strand_spacing(diameter: ArrayLike, gap: ArrayLike) -> Floats:
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
    diameter = np.asarray(diameter, dtype=np.float64)
    gap = np.asarray(gap, dtype=np.float64)
    return np.asarray(diameter + gap)


def tension_by_shortening(
    before: ArrayLike, stiffness: ArrayLike, run: ArrayLike, shortening: ArrayLike,
) -> Floats:
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
    before = np.asarray(before, dtype=np.float64)
    stiffness = np.asarray(stiffness, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    shortening = np.asarray(shortening, dtype=np.float64)
    return np.asarray(before - shortening*stiffness/run)


def tension_by_shortening_before(
    stiffness: ArrayLike, run: ArrayLike, shortening: ArrayLike, after: ArrayLike,
) -> Floats:
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
    stiffness = np.asarray(stiffness, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    shortening = np.asarray(shortening, dtype=np.float64)
    after = np.asarray(after, dtype=np.float64)
    return np.asarray(after + shortening*stiffness/run)


def tension_by_shortening_partials(
    before: ArrayLike, stiffness: ArrayLike, run: ArrayLike, shortening: ArrayLike,
) -> tuple[Floats, ...]:
    """Differentiate `tension_by_shortening` by each argument, in its order."""
    before = np.asarray(before, dtype=np.float64)
    stiffness = np.asarray(stiffness, dtype=np.float64)
    run = np.asarray(run, dtype=np.float64)
    shortening = np.asarray(shortening, dtype=np.float64)
    part0 = 1/run
    return (
        _spread((1, -part0*shortening, shortening*stiffness/run**2, -part0*stiffness,), before, stiffness,
        run, shortening)
    )


def tension_by_temperature(
    before: ArrayLike, stiffness: ArrayLike, strand_rate: ArrayLike, frame_rate: ArrayLike, warming: ArrayLike,
) -> Floats:
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
    before = np.asarray(before, dtype=np.float64)
    stiffness = np.asarray(stiffness, dtype=np.float64)
    strand_rate = np.asarray(strand_rate, dtype=np.float64)
    frame_rate = np.asarray(frame_rate, dtype=np.float64)
    warming = np.asarray(warming, dtype=np.float64)
    return np.asarray(before - stiffness*warming*(strand_rate - frame_rate))


def tension_by_temperature_before(
    stiffness: ArrayLike, strand_rate: ArrayLike, frame_rate: ArrayLike, warming: ArrayLike, after: ArrayLike,
) -> Floats:
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
    stiffness = np.asarray(stiffness, dtype=np.float64)
    strand_rate = np.asarray(strand_rate, dtype=np.float64)
    frame_rate = np.asarray(frame_rate, dtype=np.float64)
    warming = np.asarray(warming, dtype=np.float64)
    after = np.asarray(after, dtype=np.float64)
    part0 = stiffness*warming
    return np.asarray(after + part0*strand_rate - frame_rate*part0)


def tension_by_temperature_partials(
    before: ArrayLike, stiffness: ArrayLike, strand_rate: ArrayLike, frame_rate: ArrayLike, warming: ArrayLike,
) -> tuple[Floats, ...]:
    """Differentiate `tension_by_temperature` by each argument, in its order."""
    before = np.asarray(before, dtype=np.float64)
    stiffness = np.asarray(stiffness, dtype=np.float64)
    strand_rate = np.asarray(strand_rate, dtype=np.float64)
    frame_rate = np.asarray(frame_rate, dtype=np.float64)
    warming = np.asarray(warming, dtype=np.float64)
    part0 = strand_rate - frame_rate
    part1 = stiffness*warming
    return (
        _spread((1, -part0*warming, -part1, part1, -part0*stiffness,), before, stiffness, strand_rate,
        frame_rate, warming)
    )


def tensioner_drawn(lead: ArrayLike, turns: ArrayLike) -> Floats:
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
    lead = np.asarray(lead, dtype=np.float64)
    turns = np.asarray(turns, dtype=np.float64)
    return np.asarray(lead*turns)


def tensioner_turns(drawn: ArrayLike, lead: ArrayLike) -> Floats:
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
    drawn = np.asarray(drawn, dtype=np.float64)
    lead = np.asarray(lead, dtype=np.float64)
    return np.asarray(drawn/lead)


def tensioner_turns_partials(drawn: ArrayLike, lead: ArrayLike) -> tuple[Floats, ...]:
    """Differentiate `tensioner_turns` by each argument, in its order."""
    drawn = np.asarray(drawn, dtype=np.float64)
    lead = np.asarray(lead, dtype=np.float64)
    return _spread((1/lead, -drawn/lead**2,), drawn, lead)
