from pathlib import Path

import matplotlib as mpl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from matplotlib.ft2font import FT2Font

from stairguard.reports.drawing.paper import metrics

# The outside witness is the face itself, DejaVuSans.ttf as matplotlib ships it.


@pytest.fixture(scope="module")
def face():
    font = FT2Font(str(Path(mpl.get_data_path()) / "fonts" / "ttf" / "DejaVuSans.ttf"))
    font.set_size(metrics.EM, 72)  # one pixel to the design unit
    return font


def test_the_table_is_the_faces_own(face):
    wrong = {
        character: (advance, face.load_char(ord(character)).linearHoriAdvance / 65536)
        for character, advance in metrics.ADVANCES.items()
        if abs(face.load_char(ord(character)).linearHoriAdvance / 65536 - advance) > 0.51
    }
    assert face.units_per_EM == metrics.EM
    assert not wrong
    assert all(face.get_char_index(ord(c)) for c in metrics.ADVANCES)


def test_the_table_holds_what_drawings_use():
    assert set("0123456789'\"-/.,:;()°⌀… ABCabc") <= set(metrics.ADVANCES)


def test_nothing_in_the_face_is_wider_than_the_fallback(face):
    widest = max(face.load_char(code).linearHoriAdvance for code in face.get_charmap()) / 65536
    assert widest <= metrics.WIDEST + 0.5


def test_cap_height_and_reach(face):
    face.load_char(ord("H"))
    assert face.get_path()[0][:, 1].max() == pytest.approx(metrics.CAP, abs=1)
    letters = [c for c in metrics.ADVANCES if c.isalnum() or c in "()[]{}|,;@$"]
    for character in letters:
        face.load_char(ord(character))
        heights = face.get_path()[0][:, 1]
        if len(heights):
            assert heights.max() <= metrics.ASCENT * metrics.CAP
            assert heights.min() >= -metrics.DESCENT * metrics.CAP


@settings(deadline=None)  # a busy machine is no fault
@given(st.text(max_size=60), st.floats(3, 100))
def test_shortened_text_fits(words, room):
    short = metrics.shorten(words, 2.5, room)
    assert metrics.width(short, 2.5) <= room
    assert short == words or short.endswith("…") or room < metrics.width("…", 2.5)


@settings(deadline=None)  # a busy machine is no fault
@given(st.text(max_size=200), st.floats(5, 100))
def test_wrapped_lines_fit_and_keep_every_short_word(words, room):
    lines = metrics.wrap(words, 2.5, room)
    assert all(metrics.width(line, 2.5) <= room for line in lines)
    if all(metrics.width(word, 2.5) <= room for word in words.split()):
        assert " ".join(lines) == " ".join(words.split())
