"""Compound cuts against unit vectors and planes in numpy.

Published examples are in tests/published/test_compound_angles.py; arrays against scalars, empty and NaN included, in
test_compiled.py, which takes every relation.
"""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from stairguard.relations import engine
from tests.relations.formulas import scalars

PITCHES = st.floats(1, 85)
SLOPES = st.floats(-85, 85)
EAVES = st.floats(5, 175)
TURNS = st.floats(-170, 170)
UP = np.array([0.0, 0.0, 1.0])


def level(heading):
    return np.array([math.cos(math.radians(heading)), math.sin(math.radians(heading)), 0.0])


def unit(vector):
    return vector / np.linalg.norm(vector)


def between(a, b):
    return math.degrees(math.atan2(np.linalg.norm(np.cross(a, b)), a @ b))


def planes(pitch, other, eaves):
    """Upward normals of two planes whose eaves leave the corner at headings 0 and ``eaves``, and the hip."""
    inward, other_inward = level(90), level(eaves - 90)
    rising = [math.cos(math.radians(p)) * i + math.sin(math.radians(p)) * UP for p, i in
              ((pitch, inward), (other, other_inward))]  # fmt: skip
    normals = np.cross(level(0), rising[0]), np.cross(rising[1], level(eaves))
    hip = unit(np.cross(*normals))
    return *normals, hip if hip[2] > 0 else -hip


@given(PITCHES, PITCHES, EAVES)
def test_hip_is_where_two_planes_meet(pitch, other, eaves):
    normal, other_normal, hip = planes(pitch, other, eaves)
    plan = scalars.hip_plan(pitch, other, eaves)
    assert plan == pytest.approx(math.degrees(math.atan2(hip[1], hip[0])), abs=1e-7)
    assert plan + scalars.hip_plan(other, pitch, eaves) == pytest.approx(eaves, abs=1e-9)
    slope = math.degrees(math.asin(hip[2]))
    assert scalars.hip_slope(pitch, plan) == pytest.approx(slope, abs=1e-6)
    assert scalars.hip_slope(other, eaves - plan) == pytest.approx(slope, abs=1e-6)
    # The side cut, on the plane's face, against the line straight up the plane.
    straight_up = unit(np.cross(normal, level(0)))
    assert abs(scalars.jack_side_cut(pitch, plan)) == pytest.approx(between(hip, straight_up), abs=1e-6)
    assert np.sign(scalars.jack_side_cut(pitch, plan)) == np.sign(hip[0])
    assert between(normal, other_normal) == pytest.approx(
        180 - scalars.dihedral_of_planes(pitch, other, eaves), abs=1e-7
    )


@given(PITCHES, PITCHES, EAVES)
def test_backing_is_the_plane_seen_along_the_hip(pitch, other, eaves):
    """A plane's normal seen end on leans from the hip's own upright by the backing angle."""
    normal, _, hip = planes(pitch, other, eaves)
    assume(hip[2] < 0.999)
    plan = scalars.hip_plan(pitch, other, eaves)
    upright = unit(UP - hip[2] * hip)
    got = scalars.backing(pitch, plan)
    assert abs(got) == pytest.approx(between(normal, upright), abs=1e-6)
    slope = math.radians(scalars.hip_slope(pitch, plan))
    assert math.tan(math.radians(got)) == pytest.approx(math.sin(slope) / math.tan(math.radians(plan)), abs=1e-9)
    second = scalars.backing(other, eaves - plan)
    assert scalars.dihedral(got, second) == pytest.approx(scalars.dihedral_of_planes(pitch, other, eaves), abs=1e-6)


@given(PITCHES, EAVES)
def test_like_planes_share_the_corner_and_their_backings_alike(pitch, eaves):
    plan = scalars.hip_plan(pitch, pitch, eaves)
    assert plan == pytest.approx(eaves / 2, abs=1e-10)
    once = scalars.backing(pitch, plan)
    assert scalars.dihedral_of_planes(pitch, pitch, eaves) == pytest.approx(180 - 2 * once, abs=1e-6)


def test_planes_a_hair_from_one_keep_their_digits():
    # Two planes of pitch p whose eaves are nearly in line bend by (180 - eaves) * sin(p), to first order.
    out = 1e-7
    assert 180 - scalars.dihedral_of_planes(30, 30, 180 - out) == pytest.approx(out / 2, rel=1e-6)


def stick(pitch, heading):
    """Axis, left side and top of a plumb-sided rail."""
    axis = math.cos(math.radians(pitch)) * level(heading) + math.sin(math.radians(pitch)) * UP
    side = level(heading + 90)
    return axis, side, np.cross(axis, side)


@given(SLOPES, TURNS)
def test_plumb_plane_cut_from_the_planes_normal(pitch, turn):
    axis, side, top = stick(pitch, 0)
    normal = level(turn / 2)  # plumb plane that halves the turn
    mitre, tilt = scalars.plumb_plane_mitre(pitch, turn), scalars.plumb_plane_tilt(pitch, turn)
    # Line of the cut on the rail's top, and the cut's lean from square to that top.
    line = unit(np.cross(normal, top))
    assert abs(mitre) == pytest.approx(min(between(line, side), between(line, -side)), abs=1e-6)
    assert abs(tilt) == pytest.approx(abs(90 - between(normal, top)), abs=1e-6)
    # On its side: the pitch and half the turn.
    on_side = unit(np.cross(normal, side))
    assert min(between(on_side, top), between(on_side, -top)) == pytest.approx(abs(pitch), abs=1e-6)
    assert abs(90 - between(normal, side)) == pytest.approx(abs(turn) / 2, abs=1e-6)
    assert mitre * turn >= 0
    assert tilt * pitch >= 0
    if abs(turn) > 1e-6:
        assert (normal @ side) * (normal @ axis) * mitre > 0


@given(SLOPES, TURNS, st.floats(0.5, 6))
def test_climb_of_the_cut_by_its_two_corners(pitch, turn, width):
    axis, side, _ = stick(pitch, 0)
    normal = level(turn / 2)
    left, right = (start - (start @ normal) / (axis @ normal) * axis for start in (side * width / 2, -side * width / 2))
    climb = scalars.plumb_plane_climb(width, turn, pitch)
    assert climb == pytest.approx(right[2] - left[2], rel=1e-9, abs=1e-9)
    # The rail that leaves, with its own pitch, climbs from right to left.
    leaving, leaving_side, _ = stick(pitch, turn)
    left, right = (
        start - (start @ normal) / (leaving @ normal) * leaving
        for start in (leaving_side * width / 2, -leaving_side * width / 2)
    )
    assert climb == pytest.approx(left[2] - right[2], rel=1e-9, abs=1e-9)


# Computed apart from the relations, from the normal of the plumb plane; none is published.
@pytest.mark.parametrize(
    ("pitch", "turn", "mitre", "tilt"),
    [
        (math.degrees(math.atan(1 / 12)), 90, 45.099, 3.366),
        (30, 90, 49.107, 20.705),
        (math.degrees(math.atan(7 / 11)), 90, 49.847, 22.311),
        (35, 90, 50.677, 23.927),
        (37, 90, 51.388, 25.185),
        (45, 90, 54.736, 30.000),
        (30, 45, 25.561, 27.512),
        (35, 45, 26.824, 32.000),
    ],
)
def test_plumb_plane_cut_values(pitch, turn, mitre, tilt):
    assert scalars.plumb_plane_mitre(pitch, turn) == pytest.approx(mitre, abs=5e-4)
    assert scalars.plumb_plane_tilt(pitch, turn) == pytest.approx(tilt, abs=5e-4)


def test_climb_at_a_quarter_turn_repeats_the_slope():
    # tan(45) = 1: the edge climbs the rail's width times rise over run, 0.70 of the width at 35 degrees.
    assert scalars.plumb_plane_climb(1, 90, 35) == pytest.approx(0.70, abs=0.005)
    assert scalars.plumb_plane_climb(3.5, 90, scalars.pitch(7, 11)) == pytest.approx(3.5 * 7 / 11, rel=1e-14)


@given(SLOPES, SLOPES, TURNS)
def test_twist_rolls_the_leaving_section_onto_the_mirrored_one(pitch_in, pitch_out, turn):
    axis, side, top = stick(pitch_in, 0)
    leaving, own_side, own_top = stick(pitch_out, turn)
    normal = axis + leaving
    assume(np.linalg.norm(normal) > 1e-3)
    mirror = np.eye(3) - 2 * np.outer(unit(normal), unit(normal))
    assert mirror @ axis == pytest.approx(-leaving, abs=1e-9)
    twist = -math.radians(scalars.section_twist(pitch_in, pitch_out, turn))  # the left side falls
    assert math.cos(twist) * own_side + math.sin(twist) * own_top == pytest.approx(mirror @ side, abs=1e-9)
    assert math.cos(twist) * own_top - math.sin(twist) * own_side == pytest.approx(mirror @ top, abs=1e-9)


@given(SLOPES, SLOPES, TURNS)
def test_twist_is_the_turn_less_a_spherical_triangles_area(pitch_in, pitch_out, turn):
    """Area by its three angles, each from great circles; the triangle is plumb, arriving, leaving."""
    assume(abs(turn) > 0.1)
    corners = [UP, stick(pitch_in, 0)[0], stick(pitch_out, turn)[0]]
    assume(all(1e-3 < between(a, b) < 179.9 for a, b in ((corners[0], corners[1]), (corners[1], corners[2]))))
    angles = [between(np.cross(corners[k], corners[k - 1]), np.cross(corners[k], corners[k - 2])) for k in range(3)]
    area = sum(angles) - 180
    want = math.copysign(angles[0] - area, turn * (pitch_in + pitch_out))
    got = scalars.section_twist(pitch_in, pitch_out, turn)
    assert abs(got) == pytest.approx(abs(angles[0] - area), abs=1e-5)
    assert got == pytest.approx(want, abs=1e-5)


@given(SLOPES, SLOPES, TURNS)
def test_no_twist_without_a_turn_at_level_corners_and_at_opposite_slopes(pitch, other, turn):
    assert scalars.section_twist(pitch, other, 0) == 0
    assert scalars.section_twist(pitch, -pitch, turn) == 0
    assert scalars.section_twist(0, 0, turn) == 0


@pytest.mark.parametrize(
    ("pitch_in", "pitch_out", "turn", "twist"),  # computed apart from the relation, from the mirrored frame
    [(35, 0, 90, 35), (35, 0, 45, 14.882), (35, 35, 90, 59.675), (35, -35, 90, 0)],
)
def test_twist_values(pitch_in, pitch_out, turn, twist):
    assert scalars.section_twist(pitch_in, pitch_out, turn) == pytest.approx(twist, abs=5e-4)


@given(st.floats(0, 89), st.floats(1, 179))
def test_splayed_boards_from_their_corner(splay, turn):
    """Boards rise outwards from level edges at headings 0 and ``turn``; a plumb plane halves the corner."""
    outward = level(-90)
    rising = math.cos(math.radians(splay)) * outward + math.sin(math.radians(splay)) * UP
    face = np.cross(level(0), rising)
    normal = level(turn / 2)
    line = unit(np.cross(normal, face))
    mitre, tilt = scalars.splayed_mitre(splay, turn), scalars.splayed_tilt(splay, turn)
    assert abs(mitre) == pytest.approx(min(between(line, rising), between(line, -rising)), abs=1e-6)
    assert abs(tilt) == pytest.approx(abs(90 - between(normal, face)), abs=1e-6)


def test_upright_and_flat_boards():
    # A picture frame lies flat: 45 and no tilt. Its box stands upright: no mitre and a tilt of 45.
    assert scalars.splayed_mitre(0, 90) == pytest.approx(45, abs=1e-12)
    assert scalars.splayed_tilt(0, 90) == 0
    assert scalars.splayed_mitre(90, 90) == pytest.approx(0, abs=1e-12)
    assert scalars.splayed_tilt(90, 90) == pytest.approx(45, abs=1e-12)


def test_exact_answers():
    # A regular 45 degree roof: backing 30, dihedral 120, hip atan(1/sqrt 2); the classroom's closed forms.
    assert engine.solve("backing", "backing", {"pitch": 45, "plan": 45}).exact == "30"
    assert engine.solve("dihedral-of-planes", "dihedral", {"pitch": 45, "other_pitch": 45, "eaves": 90}).exact == "120"
    assert engine.solve("hip-slope", "hip", {"pitch": 45, "plan": 45}).exact == "180*atan(sqrt(2)/2)/pi"
