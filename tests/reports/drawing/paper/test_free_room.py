from hypothesis import given, settings
from hypothesis import strategies as st

from stairguard.reports.drawing.paper.free_room import Space
from stairguard.reports.drawing.paper.scene import Place, Rect

ROOM = Rect(10.0, 20.0, 50.0, 45.0)


def _box(x, y, w, h):
    return Rect(x, y, x + w, y + h)


boxes = st.builds(_box, st.floats(10, 45), st.floats(20, 42), st.floats(0.5, 15), st.floats(0.5, 8))


def _apart(a, b):
    return a.right <= b.left or b.right <= a.left or a.top <= b.bottom or b.top <= a.bottom


@settings(deadline=None)  # a busy machine is no fault
@given(st.lists(boxes, max_size=8), st.floats(1, 20), st.floats(1, 10), st.floats(0, 60), st.floats(0, 60))
def test_candidates_touch_no_words_and_stay_in_the_room(taken, width, height, x, y):
    space = Space(ROOM)
    for box in taken:
        space.words_at(box)
    for _, found in space.candidates(width, height, Place(x, y), clear=False):
        assert all(_apart(found, box) for box in taken)
        assert ROOM.left <= found.left <= found.right <= ROOM.right
        assert ROOM.bottom <= found.bottom <= found.top <= ROOM.top
        assert space.free(found)


@settings(deadline=None)  # a busy machine is no fault
@given(st.lists(boxes, max_size=3))
def test_a_free_row_is_found(taken):
    """Brute force on the same grid finds room in a row exactly where the shifts do."""
    space = Space(ROOM)
    for box in taken:
        space.words_at(box)
    width, height = 6.4, 3.2
    cells = [[any(not _apart(_box(10 + c, 20 + r, 1, 1), b) for b in taken) for c in range(40)] for r in range(25)]
    rows = {
        r
        for r in range(25 - 5 + 1)
        for c in range(40 - 8 + 1)
        if not any(cells[r + i][c + k] for i in range(5) for k in range(8))
    }
    found = {round(b.bottom - 20.5) for _, b in space.candidates(width, height, Place(30, 30), clear=False)}
    assert found == rows


def test_lines_are_avoided_while_there_is_room_elsewhere():
    space = Space(ROOM)
    space.line_at((Place(10, 30), Place(50, 30)))
    _, nearest = next(space.candidates(10, 3, Place(30, 30), clear=True))
    assert nearest.top < 30 or nearest.bottom > 30
    _, onto = next(space.candidates(10, 3, Place(30, 30), clear=False))
    assert onto.bottom <= 30 <= onto.top
    assert space.crossings((Place(30, 25), Place(30, 40)), 1.0) >= 1


def test_a_box_larger_than_the_room_has_no_place():
    assert not list(Space(ROOM).candidates(41, 3, Place(30, 30), clear=False))
