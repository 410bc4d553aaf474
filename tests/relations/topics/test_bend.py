import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.relations.formulas import scalars

PITCHES = st.floats(-89, 89)
TURNS = st.floats(-180, 180)


def directions(pitch_in: float, pitch_out: float, turn: float) -> tuple[np.ndarray, np.ndarray]:
    p, q, t = np.radians([pitch_in, pitch_out, turn])
    arriving = np.array([np.cos(p), 0, np.sin(p)])
    leaving = np.array([np.cos(q) * np.cos(t), np.cos(q) * np.sin(t), np.sin(q)])
    return arriving, leaving


@given(PITCHES, PITCHES, TURNS)
def test_bend_is_the_angle_between_two_unit_vectors(pitch_in, pitch_out, turn):
    """By the cross product, which the formula does not use."""
    arriving, leaving = directions(pitch_in, pitch_out, turn)
    want = math.degrees(math.atan2(np.linalg.norm(np.cross(arriving, leaving)), arriving @ leaving))
    assert scalars.bend(pitch_in, pitch_out, turn) == pytest.approx(want, abs=1e-9)


@given(PITCHES, PITCHES)
def test_without_a_turn_the_bend_is_the_difference_of_pitches(pitch_in, pitch_out):
    assert scalars.bend(pitch_in, pitch_out, 0) == pytest.approx(abs(pitch_in - pitch_out), abs=1e-12)


@given(PITCHES)
def test_straight_on_and_right_back_have_answers(pitch):
    assert scalars.bend(pitch, pitch, 0) == 0
    assert scalars.bend(pitch, -pitch, 180) == pytest.approx(180, abs=1e-12)


# Roof framing gives the same angle: between the normals of two roof planes, whose elevations are 90 less the
# pitches. It is the sum of the two backing angles. Published: geocities.ws/web_sketches/framing_math,
# Framing_Angle_Examples (10/12 and 8-1/2 over 12, eaves at 135 degrees: 20.73487 and 6.57434);
# timbertoolbox.com/Calcs/hipbackangle3.htm (8/12 and 10/12 at 90 degrees: 20.27 and 29.99);
# forums.jlconline.com 34221 (regular 10/12: 26.92 each).
@pytest.mark.parametrize(
    ("first", "second", "eaves", "backing", "tolerance"),
    [
        (10, 8.5, 135, 20.73487 + 6.57434, 1e-5),
        (8, 10, 90, 20.27 + 29.99, 0.01),
        (10, 10, 90, 26.92 + 26.92, 0.01),
    ],
)
def test_backing_angles_of_roofs(first, second, eaves, backing, tolerance):
    up = [90 - scalars.pitch(rise, 12) for rise in (first, second)]
    assert scalars.bend(*up, 180 - eaves) == pytest.approx(backing, abs=tolerance)


# Computed independently from unit vectors, not published.
@pytest.mark.parametrize(
    ("pitch_in", "pitch_out", "turn", "bend"),
    [
        (0, 0, 90, 90),
        (35, 0, 0, 35),
        (35, 0, 90, 90),
        (35, 0, 45, 54.604),
        (35, 35, 90, 70.793),
        (35, -35, 90, 109.207),
    ],
)
def test_bends_of_rails(pitch_in, pitch_out, turn, bend):
    assert scalars.bend(pitch_in, pitch_out, turn) == pytest.approx(bend, abs=5e-4)


@given(PITCHES, PITCHES, TURNS)
def test_mitre_halves_the_bend_on_the_plane_square_to_the_sum(pitch_in, pitch_out, turn):
    """Each piece meets the joint plane's normal, the sum of directions, at the mitre angle."""
    arriving, leaving = directions(pitch_in, pitch_out, turn)
    bend = scalars.bend(pitch_in, pitch_out, turn)
    normal = arriving + leaving
    if np.linalg.norm(normal) < 1e-6:
        return  # straight back: every plane through the line is as good
    normal /= np.linalg.norm(normal)
    for direction in (arriving, leaving):
        angle = math.degrees(math.atan2(np.linalg.norm(np.cross(direction, normal)), direction @ normal))
        assert scalars.mitre(bend) == pytest.approx(angle, abs=1e-6)


def test_long_point_of_a_plumb_cut():
    # A plumb cut's long point lies depth * rise/run past the short one: the cut repeats the step's triangle.
    for rise, run, depth in [(7, 11, 1.5), (7.75, 10, 3.5)]:
        assert scalars.mitre_point(depth, scalars.pitch(rise, run)) == pytest.approx(depth * rise / run, rel=1e-14)
