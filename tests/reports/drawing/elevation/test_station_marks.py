from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stairguard.reports.drawing.elevation import station_marks
from stairguard.reports.drawing.paper.scene import Line, Rect, Text, View, Window

PITCH = station_marks._PITCH  # what the words need; the band is laid out with it


BAND = Rect(0.0, 0.0, 300.0, 30.0)


def _drawn(places):
    marks = [station_marks.StationMark(f"P{i}", s, "1000", 100.0, 2) for i, s in enumerate(sorted(places))]
    view = View("ELEVATION", 1.0, "1:1", (Window(0.0, 300.0, 0.0, 0.0),))
    shown, step = station_marks.thinned(marks, view, BAND.width)
    return shown, step, station_marks.draw_stations(shown, view, BAND)


@settings(deadline=None)  # a busy machine is no fault
@given(st.lists(st.floats(1, 299), min_size=1, max_size=150))
def test_words_are_a_pitch_apart_in_order_inside_the_band(places):
    shown, step, parts = _drawn(places)
    texts = [p for p in parts if isinstance(p, Text)]
    middles = [(t.bounds().left + t.bounds().right) / 2 for t in texts]
    assert all(b - a > PITCH - 0.31 for a, b in pairwise(middles))
    assert all(t.bounds().left >= 0 and t.bounds().right <= 300 for t in texts)
    assert [t.words.split()[0] for t in texts] == [m.name for m in shown]
    assert (step > 1) == (len(shown) < len(places))


def test_words_stand_under_their_station_where_there_is_room():
    _, _, parts = _drawn([50.0, 120.0, 250.0])
    for line in (p for p in parts if isinstance(p, Line)):
        assert {round(p.x, 9) for p in line.points} == {round(line.points[0].x, 9)}


def test_three_that_crowd_spread_about_their_middle():
    """Least movement: equal shifts outwards, the middle one staying (least squares by hand)."""
    _, _, parts = _drawn([100.0, 101.0, 102.0])
    ends = [p.points[-1].x for p in parts if isinstance(p, Line)]
    assert ends == pytest.approx([101 - PITCH, 101, 101 + PITCH])


def test_where_there_is_no_room_for_all_but_line_posts_ends_alone_are_shown():
    ends = [station_marks.StationMark(f"E{k}", 100.0 * k, "1000", 100.0, 0) for k in range(4)]
    joints = [station_marks.StationMark(f"J{k}", 1.0 + k, "1000", 100.0, 1) for k in range(int(BAND.width / PITCH) + 1)]
    view = View("ELEVATION", 1.0, "1:1", (Window(0.0, 300.0, 0.0, 0.0),))
    shown, _ = station_marks.thinned([*ends, *joints], view, BAND.width)
    assert shown == tuple(ends)
