"""The true mitre against reflections and sections built in numpy."""

import math
from fractions import Fraction as F

import numpy as np
import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st
from scipy.optimize import lsq_linear

from stairguard.errors import GeometryError
from stairguard.geometry.mitre import cosine, direction, mirror_joint, nearest_square

SLOPES = st.fractions(min_value=-3, max_value=3, max_denominator=12)
TURNS = st.integers(-1440, 1440).map(lambda eighths: eighths / 8)
WIDTH, DEPTH = 3.5, 1.5


def slope(degrees):
    return F(math.tan(math.radians(degrees)))


def unit(vector):
    return vector / np.linalg.norm(vector)


def frame(slope, heading):
    """Axis, left side and top of a plumb-sided stick, by cross products with plumb."""
    h = math.radians(heading)
    axis = unit(np.array([math.cos(h), math.sin(h), float(slope)]))
    side = unit(np.cross([0, 0, 1], axis))
    return axis, side, np.cross(axis, side)


def folds_back(slope_in, slope_out, turn):
    return abs(turn) == 180 and slope_in == -slope_out


def normals(cut, sticks):
    """The joint plane's normal twice: from the cut made flat, and from the cut made on edge."""
    axis, side, up = sticks
    m, t = math.radians(cut.flat_mitre), math.radians(cut.flat_tilt)
    flat = math.cos(t) * (math.cos(m) * axis + math.sin(m) * side) + math.sin(t) * up
    m, t = math.radians(cut.edge_mitre), math.radians(cut.edge_tilt)
    edge = math.cos(t) * (math.cos(m) * axis + math.sin(m) * up) + math.sin(t) * side
    return flat, edge


# Computed apart from this package, from unit vectors; none is published. Each stick has flat mitre and tilt, edge
# mitre and tilt, sizes only.
SAW_SETTINGS = [
    (0, 0, 90, 90, (45, 0, 0, 45), (45, 0, 0, 45), 0),
    (35, 0, 0, 35, (0, 17.5, 17.5, 0), (0, 17.5, 17.5, 0), 0),
    (35, 0, 90, 90, (45, 0, 0, 45), (39.323, 23.927, 29.838, 35.396), 35),
    (F(7, 11), 0, 90, 90, (45, 0, 0, 45), (40.153, 22.311, 28.230, 36.624), 32.471),
    (F(1, 12), 0, 90, 90, (45, 0, 0, 45), (44.901, 3.366, 4.747, 44.802), 4.764),
    (35, 0, 45, 54.604, (24.121, 13.192, 14.404, 23.445), (20.142, 18.829, 19.961, 19.021), 14.882),
    (35, 35, 90, 70.793, (31.649, 16.750, 19.470, 30.162), (31.649, 16.750, 19.470, 30.162), 59.675),
    (35, -35, 90, 109.207, (50.677, 23.927, 35, 45), (50.677, 23.927, 35, 45), 0),
]


@pytest.mark.parametrize(("pitch_in", "pitch_out", "turn", "bend", "first", "second", "twist"), SAW_SETTINGS)
def test_saw_settings(pitch_in, pitch_out, turn, bend, first, second, twist):
    slopes = [p if isinstance(p, F) else slope(p) for p in (pitch_in, pitch_out)]
    joint = mirror_joint(*slopes, turn)
    got = [joint.bend_deg, joint.mitre_deg, joint.twist_deg]
    assert got == pytest.approx([bend, bend / 2, twist], abs=5.01e-4)
    for cut, want in ((joint.first, first), (joint.second, second)):
        sizes = [abs(cut.flat_mitre), abs(cut.flat_tilt), abs(cut.edge_mitre), abs(cut.edge_tilt)]
        assert sizes == pytest.approx(want, abs=5.01e-4)
    assert joint.flush == (twist == 0)


@given(SLOPES, st.floats(-720, 720))
def test_direction_has_unit_length_its_heading_and_its_slope(slope, heading):
    got = np.array(direction(slope, heading))
    assert got == pytest.approx(frame(slope, heading)[0], abs=1e-12)
    assert np.linalg.norm(got) == pytest.approx(1, abs=1e-15)


@pytest.mark.parametrize(
    ("heading", "want"), [(0, (1, 0)), (90, (0, 1)), (180, (-1, 0)), (-90, (0, -1)), (450, (0, 1))]
)
def test_quarter_turns_are_exact(heading, want):
    assert direction(0, heading) == (*want, 0)


@given(SLOPES, SLOPES, TURNS)
@example(F(1, 2), F(1, 2), 180.0)
@example(F(1, 2), F(0), -180.0)
@example(F(3), F(-3), 179.875)
def test_the_cuts_of_both_sticks_are_one_plane_and_it_mirrors_the_path(slope_in, slope_out, turn):
    assume(not folds_back(slope_in, slope_out, turn))
    joint = mirror_joint(slope_in, slope_out, turn)
    first, second = frame(slope_in, 0), frame(slope_out, turn)
    planes = [*normals(joint.first, first), *normals(joint.second, second)]
    for plane in planes[1:]:
        assert plane == pytest.approx(planes[0], abs=1e-9)
    mirror = np.eye(3) - 2 * np.outer(planes[0], planes[0])
    assert mirror @ first[0] == pytest.approx(-second[0], abs=1e-9)
    # The bend, by the cross product; the mitre is each axis against the normal.
    bend = math.degrees(math.atan2(np.linalg.norm(np.cross(first[0], second[0])), first[0] @ second[0]))
    assert joint.bend_deg == pytest.approx(bend, abs=1e-9)
    for axis in (first[0], second[0]):
        assert math.cos(math.radians(joint.mitre_deg)) == pytest.approx(axis @ planes[0], abs=1e-12)


def section(sticks, normal, roll_deg):
    """Corners of a rectangular stick, rolled so that its left side falls, where its edges meet the joint plane."""
    axis, side, up = sticks
    roll = math.radians(roll_deg)
    side, up = (math.cos(roll) * side - math.sin(roll) * up, math.sin(roll) * side + math.cos(roll) * up)
    corners = [i * WIDTH / 2 * side + j * DEPTH / 2 * up for i, j in ((1, 1), (-1, 1), (-1, -1), (1, -1))]
    return np.array([c - (c @ normal) / (axis @ normal) * axis for c in corners])


def apart(one, other):
    """Largest distance of a corner from the other quadrilateral's like corner, in the better of two half-turns."""
    return min(np.abs(one - np.roll(other, by, axis=0)).max() for by in (0, 2))


@given(SLOPES, SLOPES, TURNS)
@example(F(7, 11), F(7, 11), 90.0)
@example(F(7, 11), F(-7, 11), 90.0)
@example(F(7, 11), F(7, 11), 180.0)
@example(F(0), F(1, 2), -180.0)
@example(F(0), F(0), 90.0)
@example(F(0), F(0), 0.0)
@example(F(3), F(3), 170.0)
def test_sections_coincide_exactly_where_flush_and_where_rolled_by_the_twist(slope_in, slope_out, turn):
    assume(not folds_back(slope_in, slope_out, turn))
    joint = mirror_joint(slope_in, slope_out, turn)
    first, second = frame(slope_in, 0), frame(slope_out, turn)
    normal = unit(first[0] + second[0])
    size = 1 / math.cos(math.radians(joint.mitre_deg))  # how much a steep joint plane stretches a section
    fixed = section(first, normal, 0)
    assert apart(fixed, section(second, normal, joint.twist_deg)) < 1e-9 * size**2
    # The least twist drawn here is about 1.5e-4 degrees: it parts the sections a thousand times farther than this.
    # At a half-turn they coincide upside down, top to underside: no twist, and yet not flush.
    upside_down = abs(turn) == 180
    assert (apart(fixed, section(second, normal, 0)) < 1e-9 * size**2) == (joint.flush or upside_down)
    assert joint.flush == (joint.twist_deg == 0 and not upside_down)
    assert -90 <= joint.twist_deg <= 90


@given(SLOPES, SLOPES, TURNS)
def test_walking_the_path_the_other_way_swaps_the_sticks(slope_in, slope_out, turn):
    assume(not folds_back(slope_in, slope_out, turn))
    there, back = mirror_joint(slope_in, slope_out, turn), mirror_joint(-slope_out, -slope_in, -turn)
    assert back.bend_deg == pytest.approx(there.bend_deg, abs=1e-9)
    assert back.flush == there.flush
    # Left and right change, and so does the normal's sense: its leaning to the left stays, to the top turns about.
    for one, other in ((there.first, back.second), (there.second, back.first)):
        want = (one.flat_mitre, -one.flat_tilt, -one.edge_mitre, one.edge_tilt)
        assert (other.flat_mitre, other.flat_tilt, other.edge_mitre, other.edge_tilt) == pytest.approx(want, abs=1e-9)
    off = back.twist_deg - there.twist_deg  # a quarter roll may be told either way
    assert abs(math.remainder(off, 180)) < 1e-9


@given(SLOPES, SLOPES, TURNS)
def test_a_mirrored_stair_mirrors_its_joint(slope_in, slope_out, turn):
    assume(not folds_back(slope_in, slope_out, turn))
    left, right = mirror_joint(slope_in, slope_out, turn), mirror_joint(slope_in, slope_out, -turn)
    for one, other in ((left.first, right.first), (left.second, right.second)):
        want = (-one.flat_mitre, one.flat_tilt, one.edge_mitre, -one.edge_tilt)
        assert (other.flat_mitre, other.flat_tilt, other.edge_mitre, other.edge_tilt) == pytest.approx(want, abs=1e-9)
    assert abs(math.remainder(left.twist_deg + right.twist_deg, 180)) < 1e-9


@given(SLOPES)
def test_straight_on_is_cut_square(slope):
    joint = mirror_joint(slope, slope, 0)
    assert (joint.bend_deg, joint.mitre_deg, joint.twist_deg, joint.flush) == (0, 0, 0, True)
    for cut in (joint.first, joint.second):
        assert [cut.flat_mitre, cut.flat_tilt, cut.edge_mitre, cut.edge_tilt] == pytest.approx([0] * 4, abs=1e-12)


@pytest.mark.parametrize("turn", [180, -180])
def test_half_turn_of_one_pitch_is_cut_level(turn):
    # 3-4-5: a level plane meets a stick of pitch p at 90 - p from square, all of it on the edge.
    joint = mirror_joint(F(3, 4), F(3, 4), turn)
    pitch = math.degrees(math.asin(3 / 5))
    assert joint.bend_deg == pytest.approx(180 - 2 * pitch, abs=1e-12)
    assert not joint.flush  # top to underside
    assert joint.twist_deg == 0
    for cut in (joint.first, joint.second):
        assert cut.flat_mitre == pytest.approx(0, abs=1e-12)
        assert cut.edge_tilt == pytest.approx(0, abs=1e-12)
        assert cut.edge_mitre == pytest.approx(90 - pitch, abs=1e-12)
        assert cut.flat_tilt == pytest.approx(90 - pitch, abs=1e-12)


@pytest.mark.parametrize("turn", [180, -180])
@pytest.mark.parametrize("slope", [F(0), F(7, 11), F(-1, 12)])
def test_a_path_that_folds_back_on_itself_has_no_joint_plane(slope, turn):
    with pytest.raises(GeometryError, match="straight back"):
        mirror_joint(slope, -slope, turn)


def test_flush_is_decided_exactly():
    a, hair = F(7, 11), F(1, 10**30)  # far below what a float can tell apart
    assert mirror_joint(a, -a, 90).flush
    assert not mirror_joint(a, -a + hair, 90).flush
    assert not mirror_joint(F(0), hair, 90).flush
    assert mirror_joint(a, a + 1, 0).flush


@given(SLOPES, SLOPES, TURNS, st.fractions(-3, 3, max_denominator=64), st.fractions(F(1, 2), 3, max_denominator=16))
def test_how_near_two_lines_through_one_plumb_line_come(slope, other, turn, rise, half):
    """A bounded least-squares problem in the two places along them, as scipy solves it."""
    ways = ((slope, 0.0), (other, math.radians(turn)))
    first, second = (np.array([math.cos(a), math.sin(a), float(s)]) for s, a in ways)
    span = float(half) * np.ones(2)
    worst = lsq_linear(np.column_stack([first, -second]), np.array([0, 0, float(rise)]), (-span, span), tol=1e-14).cost
    assert float(nearest_square((slope, other), cosine(turn), rise, half)) == pytest.approx(
        2 * worst, rel=1e-6, abs=1e-9
    )
