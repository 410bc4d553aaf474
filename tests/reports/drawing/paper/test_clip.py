from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon, box

from stairguard.reports.drawing.paper.clip import Bounds, clip_line, clip_polygon

# The outside witness is shapely's intersection.

BOUNDS = Bounds(-1.0, 2.0, -0.5, 1.5)
REGION = box(-1.0, -0.5, 2.0, 1.5)
numbers = st.floats(-5, 5).map(lambda x: round(x, 3))
points = st.tuples(numbers, numbers)


@settings(deadline=None)  # a busy machine is no fault
@given(st.lists(points, min_size=2, max_size=6, unique=True))
def test_lines_keep_what_lies_inside(line):
    length = sum(LineString(piece).length for piece in clip_line(line, BOUNDS))
    segments = (LineString(pair) for pair in pairwise(line))
    assert length == pytest.approx(sum(s.intersection(REGION).length for s in segments), abs=1e-9)


@settings(deadline=None)  # a busy machine is no fault
@given(st.lists(points, min_size=3, max_size=8, unique=True))
def test_outlines_keep_what_lies_inside(cloud):
    hull = LineString(cloud).convex_hull
    if not isinstance(hull, Polygon):
        return
    kept = clip_polygon(list(hull.exterior.coords)[:-1], BOUNDS)
    area = Polygon(kept).area if len(kept) > 2 else 0.0
    assert area == pytest.approx(hull.intersection(REGION).area, abs=1e-9)


def test_an_open_side_cuts_nothing():
    assert clip_line([(0.0, -100.0), (1.0, 100.0)], Bounds(0.0, 1.0)) == [[(0.0, -100.0), (1.0, 100.0)]]
