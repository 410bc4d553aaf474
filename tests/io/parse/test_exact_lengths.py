"""Lengths in and out. The forms are the command contract's; an inch is 25.4 mm (international inch, 1959)."""

import math
from decimal import Decimal
from fractions import Fraction

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stairguard.errors import LengthError
from stairguard.geometry.marks import to_mark
from stairguard.io.parse.exact_lengths import LARGEST, format_length, parse_length
from stairguard.io.parse.quantities import bare_temperature, parse_angle, parse_force, parse_mass, parse_temperature
from stairguard.io.parse.weights import parse_stiffness, parse_weight

F = Fraction  # short, for the tables below
UNITS = pint.UnitRegistry()


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("7-3/4in", F(31, 4)),
        ("7 3/4 in", F(31, 4)),
        ('7.75"', F(31, 4)),
        ("3' 4-1/2\"", F(81, 2)),
        ("3'-4-1/2\"", F(81, 2)),
        ("3' 4''", 40),
        ("3ft 4.5in", F(81, 2)),
        ("3 feet 4 inches", 40),
        ("194mm", F(970, 127)),
        ("0.194 m", F(970, 127)),
        ("19.4cm", F(970, 127)),
        ("7.75", F(31, 4)),
        ("7", 7),
        (".5", F(1, 2)),
        ("7.", 7),
        ("3/8", F(3, 8)),
        ("-3/8 in", F(-3, 8)),
        ("\u2212 1 in", -1),
        ("+2", 2),
        ("7½\u2033", F(15, 2)),
        ("7 ½ in", F(15, 2)),
        ("½ in", F(1, 2)),
        ("3\u2032 4½\u2033", F(81, 2)),
        ("7 3\u20444 in", F(31, 4)),
        ("7\u00a03/4\u202fin", F(31, 4)),
        ("0' 0\"", 0),
        ("1E2 in", 100),
        ("5.6e-05", F(56, 1000000)),
        ("2 FT", 24),
        ("1.1999999999999in", F(11999999999999, 10000000000000)),
    ],
)
def test_every_form(text, inches):
    assert parse_length(text, "in") == inches
    if not text[-1].isdigit() and text[-1] != ".":  # a length with its unit is the same in any unit in force
        assert parse_length(text, "mm") == inches * F("25.4")


BAD_WORDS = """in nan inf -inf 1e999 1e-999 7--3/4 7-3/4-1/2 1/0 1/2/3 7,5 7-9/4in 0x10 1_000 --7 7*2 10000001
__import__('os') inche\u017f \u0130n 3inche\u017f 3\u0660 7inin 7in7in"""
BAD_TEXTS = ["", " ", "NaN in", "7-1/0 in", "3 furlongs", "3' 4", "4in 3ft", "9" * 5000, "1" * 21]
BAD_THINGS = [None, True, [], b"7", object(), 1j, math.nan, math.inf, 10**5000, F(10**9), np.ones(2)]
BAD_DECIMALS = [Decimal("1e999999999"), Decimal("-1e-999999999"), Decimal("NaN")]


@pytest.mark.parametrize(
    "bad", BAD_WORDS.split() + BAD_TEXTS + BAD_THINGS + BAD_DECIMALS, ids=lambda bad: type(bad).__name__
)
def test_what_is_no_length_is_one_clear_line(bad):
    with pytest.raises(LengthError) as caught:
        parse_length(bad, "in", where="--rise")
    line = str(caught.value)
    assert line.startswith("--rise: must be ")
    assert "\n" not in line
    assert len(line) < 250


@pytest.mark.parametrize("sign", ["positive", "nonnegative"])
def test_signs_are_refused_where_not_allowed(sign):
    with pytest.raises(LengthError):
        parse_length("-1/2 in", "in", sign=sign)
    assert parse_length("1/2 in", "in", sign=sign) == F(1, 2)


def test_zero_is_not_positive():
    assert parse_length(0, "in", sign="nonnegative") == 0
    with pytest.raises(LengthError, match="more than zero"):
        parse_length(0, "in", sign="positive")


def test_largest_is_allowed_and_no_more():
    assert parse_length(LARGEST, "mm") == LARGEST
    with pytest.raises(LengthError, match="no more than"):
        parse_length(-LARGEST - 1, "mm")


def test_unit_in_force_must_be_known():
    with pytest.raises(LengthError, match="unit"):
        parse_length("1", "yd")


@pytest.mark.parametrize("tenth", [0.1, np.float64(0.1), np.float32(0.1), Decimal("0.1"), F(1, 10), "0.1"])
def test_a_float_means_its_shortest_decimal(tenth):
    assert parse_length(tenth, "in") == F(1, 10)


def test_integers_of_numpy():
    assert parse_length(np.int64(7), "in") == 7


@given(st.floats(-1e6, 1e6).filter(lambda value: value == 0 or abs(value) >= 1e-30))  # smaller: no length, refused
def test_a_float_comes_back_as_itself(value):
    assert float(parse_length(value, "in")) == value


@pytest.mark.parametrize(
    ("quantity", "inches"),
    [
        (7.75 * UNITS.inch, F(31, 4)),
        (194 * UNITS.mm, F(970, 127)),
        (0.194 * UNITS.meter, F(970, 127)),
        (1 * UNITS.foot, 12),
        (1 * UNITS.yard, 36),
    ],
)
def test_pint_quantities(quantity, inches):
    assert parse_length(quantity, "in") == pytest.approx(inches, rel=1e-14)


def test_pint_quantities_of_known_units_are_exact():
    assert parse_length(0.1 * UNITS.inch, "mm") == F("2.54")


@pytest.mark.parametrize("wrong", [3 * UNITS.kilogram, [1, 2] * UNITS.inch, math.nan * UNITS.mm])
def test_pint_quantities_that_are_no_length(wrong):
    with pytest.raises(LengthError):
        parse_length(wrong, "in")


@pytest.mark.parametrize(
    ("value", "unit", "mark", "text"),
    [
        (3.999, "in", "1/16", '4"'),
        (-0.5, "in", "1/16", '-1/2"'),
        (-0.01, "in", "1/16", '0"'),
        (0, "mm", 1, "0 mm"),
        (11.99, "in", "1/16", "1' 0\""),
        (40.5, "in", "1/16", "3' 4-1/2\""),
        (-40.5, "in", "1/16", "-3' 4-1/2\""),
        (7.7, "in", "1/10", '7.7"'),
        (7.75, "in", "1/10", '7.8"'),  # 77.5 marks: even is 78
        (193.75, "mm", "0.5", "194 mm"),  # 387.5 marks: even is 388
        (193.4, "mm", 0.5, "193.5 mm"),
        (193.75, "mm", 1, "194 mm"),
        (10, "mm", "1/16in", "9.525 mm"),
        (1.3, "mm", "1/3", "1-1/3 mm"),
        ("1 in", "mm", 1, "25 mm"),
    ],
)
def test_format(value, unit, mark, text):
    assert format_length(value, unit, mark) == text


@pytest.mark.parametrize(("value", "mark"), [(1, 0), (1, -1), (math.nan, 1), ("x", 1), (1, "x")])
def test_format_refuses(value, mark):
    with pytest.raises(LengthError):
        format_length(value, "in", mark)


LENGTHS = st.fractions(-100_000, 100_000, max_denominator=10**9)
MARKS = st.sampled_from([F(1, 16), F(1, 32), F(1, 8), F(1, 10), F(1), F(1, 2), F(1, 3), F(127, 80), F(5)])


@given(LENGTHS, st.sampled_from(["in", "mm"]), MARKS)
def test_what_is_printed_reads_back_to_the_mark(value, unit, mark):
    assert parse_length(format_length(value, unit, mark), unit) == to_mark(value, mark)


@given(LENGTHS, MARKS)
def test_marks_are_nearest_and_ties_even(value, mark):
    marked = to_mark(value, mark)
    assert (marked / mark).denominator == 1
    assert abs(marked - value) <= mark / 2
    if abs(marked - value) == mark / 2:  # NIST Handbook 44, section 10.3
        assert (marked / mark) % 2 == 0


@pytest.mark.parametrize(
    ("value", "degrees"),
    [("32.5", F(65, 2)), ("32-1/2°", F(65, 2)), ("-30 deg", -30), (90, 90), (90 * UNITS.degree, 90)],
)
def test_angles(value, degrees):
    assert parse_angle(value) == degrees


@pytest.mark.parametrize("bad", ["", "1 rad", "nan", 361, math.inf, 3 * UNITS.mm, None])
def test_what_is_no_angle(bad):
    with pytest.raises(LengthError):
        parse_angle(bad)


def test_forces():
    # NIST SP 811 (2008), appendix B.8: 1 lbf = 4.448222 N
    assert float(parse_force("1 lbf", "N")) == pytest.approx(4.448222, abs=5e-7)
    assert parse_force("200 lbf", "lbf") == parse_force(200, "lbf") == 200
    assert float(parse_force(1 * UNITS.kilonewton, "N")) == pytest.approx(1000)
    for bad in ("-1 N", "1 kg", "", "nan"):
        with pytest.raises(LengthError):
            parse_force(bad, "N")


def test_temperatures():
    # water freezes at 32 °F and boils at 212 °F
    assert parse_temperature("0 °C", "degF") == 32
    assert parse_temperature("212F", "degC") == 100
    assert parse_temperature(20, "degC") == 20
    assert float(parse_temperature(UNITS.Quantity(300, "kelvin"), "degC")) == pytest.approx(26.85)
    for bad in ("-500 F", "", "1 K", "nan"):
        with pytest.raises(LengthError):
            parse_temperature(bad, "degC")


def test_bare_temperatures_take_the_unit_that_goes_with_the_lengths():
    assert (bare_temperature("in"), bare_temperature("mm")) == ("degF", "degC")
    assert parse_temperature(68, "degC", bare="degF") == parse_temperature("68", "degC", bare="degF") == 20
    assert parse_temperature("20 °C", "degC", bare="degF") == 20  # named, so not bare
    assert float(parse_temperature(UNITS.Quantity(68, "degF"), "degC", bare="degF")) == pytest.approx(20)
    assert parse_temperature("-273.15", "degC") == F("-273.15")
    for bad in ("-273.16", "-459.68 F"):
        with pytest.raises(LengthError, match="not below absolute zero"):
            parse_temperature(bad, "degC")


def test_masses_are_what_they_weigh():
    # the pound is 0.45359237 kg (1959 agreement), standard gravity 9.80665 m/s2: both by definition
    assert parse_mass("2 kg", "mm") == parse_mass(2, "mm") == F("19.6133")
    assert parse_mass("5 lb", "in") == parse_mass("5", "in") == 5
    assert parse_mass("1 lb", "mm") == F("0.45359237") * F("9.80665")
    assert parse_mass("0.45359237 kg", "in") == 1
    assert float(parse_mass(500 * UNITS.gram, "mm")) == pytest.approx(4.903325)
    for bad in (0, "-1 kg", "", "nan", "5 lbf", "2 N", 2 * UNITS.newton, None, True):
        with pytest.raises(LengthError, match="hung: must be a mass such as 2 kg or 5 lb, more than zero"):
            parse_mass(bad, "in", where="hung")


def test_stiffnesses():
    # NIST SP 811 (2008), appendix B.8, from memory: 1 lbf/in = 175.1268 N/m
    assert float(parse_stiffness("1 lbf/in", "mm")) == pytest.approx(0.1751268, abs=5e-8)
    assert parse_stiffness("90 N/mm", "mm") == parse_stiffness(90, "mm") == 90
    assert parse_stiffness("500", "in") == parse_stiffness("500 lbf/in", "in") == 500
    assert float(parse_stiffness(2 * UNITS.kilonewton / UNITS.meter, "mm")) == pytest.approx(2)
    assert float(parse_stiffness(500 * UNITS.force_pound / UNITS.inch, "in")) == pytest.approx(500)
    for bad in (0, "-1", "", "nan", "5 lbf", "5 lb/in", 5 * UNITS.newton, None):
        with pytest.raises(LengthError, match="a stiffness such as 500 lbf/in or 90 N/mm, more than zero"):
            parse_stiffness(bad, "in")


def test_weights():
    # NIST SP 811 (2008), appendix B.8, from memory: 1 lb/ft = 1.488164 kg/m
    assert float(parse_weight("1 lb/ft", "mm")) == pytest.approx(1.488164e-3, abs=5e-10)
    assert float(parse_weight(1488.164 * UNITS.gram / UNITS.meter, "in")) == pytest.approx(1 / 12, rel=1e-6)
    for bad in (0, "-1", "5 lb", 5 * UNITS.kilogram, "10001"):
        with pytest.raises(LengthError, match="a weight such as"):
            parse_weight(bad, "in")
