"""Every way to write a figure: its digits, and on which side of a limit it reads."""

import ast
from fractions import Fraction as F
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import stairguard
from stairguard.reports.words import lengths
from stairguard.reports.words.lengths import (
    Figures,
    at_least,
    at_most,
    brief,
    charted,
    counted,
    degrees_words,
    diameter_words,
    exact_words,
    figure,
    fixed,
    given_words,
    length_words,
    margin_words,
    marked,
    percent,
    ratio_words,
    rough,
    slight,
    solved,
    sphere_words,
    stated,
    typed,
)  # fmt: skip


def test_to_digits():
    third = F(100, 3)
    ways = (slight, rough, brief, solved, stated, counted)
    assert [way(third) for way in ways] == ["33", "33.3", "33.33", "33.333", "33.3333", "33.33333"]
    assert brief(200.0, "lbf") == "200 lbf"
    assert typed(third) == "33.33333333"
    assert marked(F(36), "in") == '36"'
    assert (marked(38.25, "deg"), marked(0.125, ""), marked(third, "mm", 3)) == ("38.25°", "0.125", "33.3 mm")


def test_to_decimals():
    assert (fixed(0.005, 1), fixed(-0.01, 1), fixed(F(1, 8), 2)) == ("0.0", "0.0", "0.12")
    assert percent(99.5, 1) == "99.5 %"
    assert degrees_words(-0.0001) == "0.0°"
    assert (ratio_words(2.5), ratio_words(1, 20)) == ("2.5:1", "1:20")
    assert (margin_words(0.25, "in"), margin_words(-2, digits=3)) == ("+0.25 in", "-2")


def test_spheres_read_on_their_own_side_of_a_limit():
    assert sphere_words(3.99999, 4.0, "in") == '3.99999"'
    assert sphere_words(4.0, 4.0, "in") == '4.00"'
    assert sphere_words(101.6, 100.0, "mm") == "101.6 mm"
    assert sphere_words(0.0, 4.0, "in") == "none"
    assert diameter_words(0.0001234, None, "in") == '0.000123"'


def test_lengths_that_no_tape_shows():
    job = stairguard.built_in_job()
    figures = Figures(job.unit, job.mark)
    assert given_words(job, figures.tape)(F(36)) == "3' 0\""
    assert given_words(job, figures.tape)(F(361, 10)) == '36.1"'
    assert (figures.given(F(361, 10)), figures.between(F(1, 3000))) == ("36.1 in", "0.0003 in")
    assert (length_words(0.001, "in", figures.tape), length_words(0.5, "in", figures.tape)) == ('0.001"', '1/2"')


@given(st.floats(1e-6, 1e9), st.integers(2, 8))
def test_what_is_to_be_acted_on_is_never_on_the_wrong_side(value, digits):
    close = 1e-12 * value  # as near as the solver itself is taken
    assert float(at_most(value, digits)) <= value + close
    assert float(at_least(value, digits)) >= value - close


@given(st.floats(0, 1e4))
def test_enough_is_never_too_little(length):
    assert float(Figures("in", F(1, 16)).enough(length)) >= length


def test_nothing_else_in_the_reports_decides_on_digits():
    reports = Path(lengths.__file__).parent.parent
    for path in reports.rglob("*.py"):
        if path != Path(lengths.__file__):
            specs = [n.format_spec for n in ast.walk(ast.parse(path.read_text())) if isinstance(n, ast.FormattedValue)]
            assert not [ast.unparse(spec) for spec in specs if spec is not None], path


def test_decimals_never_meet_their_limit_unless_they_are_it():
    figures = Figures("in", F(1, 16))
    assert figures.decimal(3.9999996, 4) == "3.9999996"
    assert figures.decimal(4.00001, F(4)) == "4.00001"
    assert figures.decimal(4, 4) == "4.000"
    assert figures.decimal(3.2, 4) == "3.200"


def test_given_lengths_are_written_as_given():
    assert exact_words(F(1, 8), "in") == '1/8"'
    assert exact_words(F("4.375"), "in") == '4-3/8"'
    assert exact_words(F("4.1"), "in") == '4.1"'
    assert exact_words(F(40), "in") == "3' 4\""
    assert exact_words(F("3.2"), "mm") == "3.2 mm"


@pytest.mark.parametrize(
    ("value", "words"),
    [(0, "0"), (1780, "1780"), (16.5, "16.5"), (0.05, "0.05"), (-212.349, "-212"), (9.996, "10"), (1e9, "1e+09")],
)
def test_numbers_have_three_figures_or_are_whole(value, words):
    assert charted(value) == words


@pytest.mark.parametrize(
    ("value", "limit", "shown"),
    [(36.0, 36.0, "36"), (35.75, 36.0, "35.75"), (6.66093750001, 6.0, "6.6609"), (36 - 1e-5, 36.0, "35.99999"),
     (36 - 2.4e-6, 36.0, "35.999998")],
)  # fmt: skip
def test_as_many_digits_as_tell_it_from_its_limit(value, limit, shown):
    text = figure(value, "", limit, 5)
    assert text.startswith(shown)
    assert (float(text) == limit) is (value == limit)


@pytest.mark.parametrize(
    ("value", "limit", "shown"),
    [(36 - 1e-12, 36.0, "less than 36 in by <0.000001 in"), (6 + 4e-15, 6.0, "more than 6 in by <0.000001 in"),
     (100 - 5.9e-7, 100.0, "less than 100 in by <0.000001 in")],
)  # fmt: skip
def test_what_is_next_to_its_limit_is_told_by_its_side(value, limit, shown):
    """Told on 0.6.0 as "99.999999407311719"."""
    assert figure(value, "in", limit, 5) == shown
