"""Plumb and square against distances measured by shapely."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Point

from tests.relations.formulas import scalars

RISE = st.floats(-12, 12)
RUN = st.floats(5, 15)
PLUMB = st.floats(0.1, 50)


@given(RISE, RUN, PLUMB)
def test_square_is_the_shortest_distance_to_the_slope(rise, run, plumb):
    line = LineString([(-100 * run, -100 * rise), (100 * run, 100 * rise)])
    pitch = scalars.pitch(rise, run)
    square = scalars.square_of_plumb(plumb, pitch)
    assert square == pytest.approx(line.distance(Point(0, plumb)), rel=1e-9)
    assert scalars.plumb_of_square(square, pitch) == pytest.approx(plumb, rel=1e-12)
    # A rail that deep shows that much plumb.
    assert scalars.rail_plumb_depth(square, pitch) == pytest.approx(plumb, rel=1e-12)


@given(RISE, RUN)
def test_slope_length_is_the_distance_between_its_ends(rise, run):
    assert scalars.slope_length(rise, run) == pytest.approx(Point(0, 0).distance(Point(run, rise)), rel=1e-12)


@given(RISE, RUN)
def test_pitch_down_mirrors_pitch_up(rise, run):
    assert scalars.pitch(-rise, run) == -scalars.pitch(rise, run)
    assert scalars.pitch_rise(run, scalars.pitch(rise, run)) == pytest.approx(rise, abs=1e-12)


# Trade journal: jlconline.com, quick layout for stair rails: 10 in run, 7-5/8 in rise is 37.3 degrees.
# US Access Board checklist for polling places: 1 in 12 is 4.76 degrees.
@pytest.mark.parametrize(("rise", "run", "degrees", "places"), [(7.625, 10, 37.3, 0.05), (1, 12, 4.76, 0.005)])
def test_published_pitches(rise, run, degrees, places):
    assert scalars.pitch(rise, run) == pytest.approx(degrees, abs=places)


# Computed independently, not published: 3 in square at 7-3/4 by 10 is 3.80 in plumb; cosines to 3 places.
def test_plumb_spacing_of_three_inches_square():
    assert scalars.plumb_of_square(3, scalars.pitch(7.75, 10)) == pytest.approx(3.80, abs=0.005)
    for rise, run, cosine in [(7.75, 10, 0.790), (7.5, 10, 0.800), (7, 11, 0.844)]:
        assert scalars.square_of_plumb(1, scalars.pitch(rise, run)) == pytest.approx(cosine, abs=5e-4)


@given(st.floats(2, 6), st.floats(0.05, 0.5), RISE, RUN)
def test_gaps_by_distance_between_strand_edges(spacing, diameter, rise, run):
    """Two strands as thick lines; the rail's underside as a bare one."""
    slope = rise / run
    plumb = scalars.plumb_of_square(spacing, scalars.pitch(rise, run))
    lower = LineString([(-200, -200 * slope), (200, 200 * slope)])
    point = Point(0, plumb)
    between = lower.distance(point) - 2 * diameter / 2
    assert scalars.strand_gap(spacing, diameter) == pytest.approx(between, abs=1e-9)
    under_rail = lower.distance(point) - diameter / 2
    assert scalars.rail_gap(plumb, diameter, scalars.pitch(rise, run)) == pytest.approx(under_rail, abs=1e-9)
    assert scalars.strand_spacing(diameter, between) == pytest.approx(spacing, abs=1e-9)
    assert math.isclose(scalars.rail_gap_plumb(diameter, under_rail, scalars.pitch(rise, run)), plumb, rel_tol=1e-9)
