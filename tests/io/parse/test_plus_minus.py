from fractions import Fraction as F

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stairguard.errors import LengthError
from stairguard.io.parse.plus_minus import Read, measurements, read_measured


def parts(text, unit="in"):
    read = read_measured(text, unit, where="rise")
    return read.value, read.plus_minus


@pytest.mark.parametrize(
    ("text", "unit", "value", "plus_minus"),
    [
        ("7-3/4in +- 1/32in", "in", F(31, 4), F(1, 32)),
        ("7-3/4in ± 1/32in", "in", F(31, 4), F(1, 32)),
        ("7-3/4 +/- 1/32", "in", F(31, 4), F(1, 32)),
        ("7 3/4 +- 1/32in", "in", F(31, 4), F(1, 32)),  # inches are in force: nothing is in doubt
        ("194±1", "mm", F(194), F(1)),
        ("194mm +- 0.5", "mm", F(194), F(1, 2)),
        ("194 +\u2212 1", "mm", F(194), F(1)),  # the minus sign proper
        ("19.4cm +- 1mm", "in", F(194) / F("25.4"), 1 / F("25.4")),
        ('3\' 4-1/2" +- 1/16"', "in", F(81, 2), F(1, 16)),
        ("-2 +- 0", "in", F(-2), F(0)),
        ("7-3/4in", "in", F(31, 4), None),
        (7.75, "in", F(31, 4), None),
        ((7.75, "1/32"), "in", F(31, 4), F(1, 32)),
    ],
)
def test_read(text, unit, value, plus_minus):
    assert parts(text, unit) == (value, plus_minus)


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("7 +- 1mm", "in"),  # seven what?
        ("194mm +- 1/32", "in"),
        ("7in +- 1", "mm"),
        ("7in +- -1in", "in"),
        ("7in +- x", "in"),
        ("7in +-", "in"),
        ("+- 1in", "in"),
        ("7 +- 1 +- 1", "in"),
        ("7in +- nan", "in"),
        ("x +- 1", "in"),
        ("7" * 300, "in"),
    ],
)
def test_refused(text, unit):
    with pytest.raises(LengthError) as caught:
        parts(text, unit)
    assert str(caught.value).startswith("rise")
    assert len(caught.value.faults) == 1


@given(st.fractions(0, 100, max_denominator=64), st.fractions(0, 1, max_denominator=64))
def test_round_trip(value, plus_minus):
    assert parts(f"{value}in ± {plus_minus}in") == (value, plus_minus)


def test_what_stands_in_for_a_plus_minus():
    bare, own = Read("a", F(10), None, True), Read("b", F(10), F(1, 4), True)
    thick = Read("strand", F(1, 8), None, False)

    def spreads(tape, unit, *reads):
        made, words, uncertain = measurements(reads, tape, unit)
        return [m.plus_minus for m in made], uncertain, words

    assert spreads(None, "in", bare)[:2] == ([0], False)  # nothing said: exact
    assert spreads(None, "in", bare, own, thick)[:2] == ([F(1, 32), F(1, 4), 0], True)
    assert spreads(None, "mm", bare, own)[:2] == ([F(1, 2), F(1, 4)], True)
    assert spreads("none", "in", bare, own)[:2] == ([0, F(1, 4)], True)
    assert spreads("eu-3", "mm", bare)[:2] == ([1], True)
    assert "from memory" in spreads("eu-3", "mm", bare)[2]
    with pytest.raises(LengthError, match="a: must be within the lengths of NIST"):
        measurements([Read("a", F(1300), None, True)], "us", "in")


def test_a_strand_s_diameter_that_is_taken_as_exact_is_said_to_be():
    strand = read_measured("1/8in", "in", where="strand_diameter", taped=False)
    spacing = read_measured("3in", "in", where="spacing")
    made, words, _ = measurements([spacing, strand], "us", "in")
    assert [one.plus_minus > 0 for one in made] == [True, False]
    assert words.count("A strand's diameter without a +- is taken as exact") == 1
    own = read_measured("1/8in +- 1/64in", "in", where="strand_diameter", taped=False)
    for reads in ([spacing, own], [spacing]):
        assert "A strand's diameter" not in measurements(reads, "us", "in")[1]
