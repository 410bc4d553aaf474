import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.relations.formulas import scalars

WIDTH = st.floats(0.5, 8)
PITCH = st.floats(0, 60)
DIAMETER = st.floats(0.05, 0.5)


# Computed independently to four places, not published: width, pitch, diameter, offset, ellipse, bore.
@pytest.mark.parametrize(
    ("width", "pitch", "diameter", "offset", "ellipse", "bore"),
    [
        (3.5, 35, 0.125, 2.4507, 0.1526, 4.2727),
        (3.5, 32.471, 0.1875, 2.2273, 0.2222, 4.1486),
        (1.5, 4.7636, 0.125, 0.1250, 0.12543, 1.5052),
    ],
)
def test_strand_through_a_post(width, pitch, diameter, offset, ellipse, bore):
    assert scalars.post_bevel(width, pitch) == pytest.approx(offset, abs=6e-5)
    assert scalars.strand_ellipse(diameter, pitch) == pytest.approx(ellipse, abs=6e-5)
    assert scalars.strand_bore(width, pitch) == pytest.approx(bore, abs=6e-5)
    assert scalars.strand_slot(diameter, width, pitch) == pytest.approx(offset + ellipse, abs=1.2e-4)


@given(WIDTH, PITCH, DIAMETER)
def test_ellipse_and_slot_by_points_on_the_strands_surface(width, pitch, diameter):
    """Follow the strand's surface lines to the post's two faces and measure where they come out."""
    p = math.radians(pitch)
    axis = np.array([math.cos(p), math.sin(p)])
    square = np.array([-math.sin(p), math.cos(p)])
    heights = []
    for face in (-width / 2, width / 2):
        for side in (-1, 1):
            start = side * diameter / 2 * square
            heights.append(start[1] + (face - start[0]) / axis[0] * axis[1])
    low, high = heights[:2], heights[2:]
    assert scalars.strand_ellipse(diameter, pitch) == pytest.approx(low[1] - low[0], abs=1e-9)
    assert scalars.strand_slot(diameter, width, pitch) == pytest.approx(max(high) - min(low), abs=1e-9)
    assert scalars.post_bevel(width, pitch) == pytest.approx(high[0] - low[0], abs=1e-9)


@given(WIDTH, PITCH)
def test_bore_is_the_hypotenuse_of_width_and_bevel(width, pitch):
    assert scalars.strand_bore(width, pitch) == pytest.approx(
        math.hypot(width, scalars.post_bevel(width, pitch)), rel=1e-12
    )


@given(WIDTH, st.floats(1, 9), st.floats(8, 14))
def test_hole_faces_differ_by_the_bevel(width, rise, run):
    slope = rise / run
    difference = scalars.hole_face(20.0, width / 2, slope) - scalars.hole_face(20.0, -width / 2, slope)
    assert difference == pytest.approx(scalars.post_bevel(width, scalars.pitch(rise, run)), rel=1e-9)
