"""Published compound cuts: framing-square examples of hips, and the four-sided splayed box.

Each is asserted to its printed digits. Figures from memory say so; figures that were printed loosely are recorded as
printed, with what the same inputs give.
"""

import math

import pytest

from tests.relations.formulas import scalars

# geocities.ws/web_sketches/framing_math/Framing_Angle_Examples.html: 10/12 and 8-1/2 over 12, eaves at 135 degrees.
UNLIKE = [
    (10, 8.5, {"pitch": 39.80557, "plan": 56.42456, "hip": 34.77220, "jack": 27.01842, "backing": 20.73487}),
    (8.5, 10, {"pitch": 35.31121, "plan": 78.57544, "hip": 34.77220, "jack": 9.36400, "backing": 6.57434}),
]


def angles(rise, other, eaves):
    pitch, other_pitch = scalars.pitch(rise, 12), scalars.pitch(other, 12)
    plan = scalars.hip_plan(pitch, other_pitch, eaves)
    return {
        "pitch": pitch,
        "plan": plan,
        "hip": scalars.hip_slope(pitch, plan),
        "jack": scalars.jack_side_cut(pitch, plan),
        "backing": scalars.backing(pitch, plan),
    }


@pytest.mark.parametrize(("rise", "other", "printed"), UNLIKE)
def test_unlike_pitches_at_135_degrees(rise, other, printed):
    assert angles(rise, other, 135) == pytest.approx(printed, abs=5.01e-6)


def test_both_ways_to_the_dihedral_agree():
    # The page prints the two backing angles, each rounded by up to 5e-6; their sum is 27.30921.
    want = 180 - (20.73487 + 6.57434)
    assert scalars.dihedral(20.73487, 6.57434) == pytest.approx(want, abs=1e-12)
    got = scalars.dihedral_of_planes(scalars.pitch(10, 12), scalars.pitch(8.5, 12), 135)
    assert got == pytest.approx(want, abs=1e-5)


# timbertoolbox.com/Calcs/hipbackangle3.htm: 8/12 and 10/12, eaves at 90 degrees.
def test_unlike_pitches_at_a_square_corner():
    first, second = angles(8, 10, 90), angles(10, 8, 90)
    # Printed 38.659 and 51.34, cut off after the last digit, not rounded: 38.6598 and 51.3402.
    assert math.floor(second["plan"] * 1000) / 1000 == 38.659
    assert first["plan"] == pytest.approx(51.34, abs=0.005)
    assert first["backing"] == pytest.approx(20.27, abs=0.005)
    assert second["backing"] == pytest.approx(29.99, abs=0.005)


def test_its_hip_is_printed_loosely():
    """The page has 27.498; its own pitches give 27.5005."""
    hip = angles(8, 10, 90)["hip"]
    assert hip == pytest.approx(27.5005, abs=5e-5)
    assert hip == pytest.approx(angles(10, 8, 90)["hip"], abs=1e-12)
    assert hip - 27.498 == pytest.approx(0.0025, abs=5e-5)


# forums.jlconline.com 34221: regular 10/12.
def test_regular_ten_in_twelve():
    got = angles(10, 10, 90)
    assert got["hip"] == pytest.approx(30.51, abs=0.005)
    assert got["backing"] == pytest.approx(26.92, abs=0.005)


# From memory, no page read: the regular 12/12 hip roof of every framing table.
def test_regular_twelve_in_twelve():
    got = angles(12, 12, 90)
    assert got["hip"] == pytest.approx(35.264, abs=5e-4)
    assert got["backing"] == pytest.approx(30, abs=1e-9)
    assert scalars.dihedral(got["backing"], got["backing"]) == pytest.approx(120, abs=1e-9)
    assert scalars.dihedral_of_planes(45, 45, 90) == pytest.approx(120, abs=1e-9)


# From memory, no page read: the four-sided box with sides at 45 degrees. The general formula, crosscut
# atan(cos b * tan(180/n)) and blade asin(sin b * sin(180/n)), was read in a newsgroup's text.
def test_four_sided_box_at_45_degrees():
    assert scalars.splayed_mitre(45, 90) == pytest.approx(35.26, abs=0.005)
    assert scalars.splayed_tilt(45, 90) == pytest.approx(30, abs=0.005)


@pytest.mark.parametrize("sides", [3, 4, 5, 6, 8, 12])
@pytest.mark.parametrize("splay", [10, 45, 60, 82.5])
def test_boxes_of_many_sides(sides, splay):
    mitre = math.atan(math.cos(math.radians(splay)) * math.tan(math.pi / sides))
    blade = math.asin(math.sin(math.radians(splay)) * math.sin(math.pi / sides))
    assert scalars.splayed_mitre(splay, 360 / sides) == pytest.approx(math.degrees(mitre), abs=1e-10)
    assert scalars.splayed_tilt(splay, 360 / sides) == pytest.approx(math.degrees(blade), abs=1e-10)
