"""Exact signs against sympy's own number theory and against decimal expansions."""

import itertools
from fractions import Fraction

import pytest
import sympy
from hypothesis import given, settings
from hypothesis import strategies as st

from stairguard.geometry.exact.surd import Surd, sqrt

small = st.fractions(min_value=-20, max_value=20, max_denominator=30)
positive = st.fractions(min_value=Fraction(1, 30), max_value=50, max_denominator=30)


def test_denesting_identity_is_exactly_zero():
    # sqrt(5 + 2 sqrt 6) = sqrt 2 + sqrt 3: textbook denesting
    assert sqrt(Surd(5) + 2 * sqrt(6)) == sqrt(2) + sqrt(3)


def test_ramanujan_like_near_miss_is_told_apart():
    # sqrt 75025 is within 2e-8 of phi**24/sqrt 5 style neighbours; a near miss of 1e-40 must still have a sign
    root = sqrt(2)
    near = Fraction(sympy.Integer(sympy.floor(sympy.sqrt(2) * 10**40)).p, 10**40)
    assert (root - near).sign() == 1
    assert (root - near - Fraction(1, 10**40)).sign() == -1


def test_squares_collapse_to_rationals():
    assert sqrt(Fraction(25, 16)) == Fraction(5, 4)
    assert float(sqrt(Fraction(25, 16))) == 1.25


def test_negative_root_and_zero_division_are_refused():
    with pytest.raises(ValueError, match="negative"):
        sqrt(Surd(1) - sqrt(2))
    with pytest.raises(ZeroDivisionError):
        Surd(1) / (sqrt(2) * sqrt(2) - 2)


@given(small, positive, small, positive, positive)
@settings(max_examples=150, deadline=None)
def test_sign_and_value_agree_with_sympy(a, p, b, q, c):
    mine = (a + b * sqrt(p)) / c - sqrt(q + sqrt(p))
    r = [sympy.Rational(v.numerator, v.denominator) for v in (a, p, b, q, c)]
    theirs = (r[0] + r[2] * sympy.sqrt(r[1])) / r[4] - sympy.sqrt(r[3] + sympy.sqrt(r[1]))
    value = theirs.evalf(60)
    if abs(value) > sympy.Float("1e-40"):
        assert mine.sign() == int(sympy.sign(value))
        assert float(mine) == pytest.approx(float(value), rel=1e-15)
    else:
        assert theirs.equals(0) == (mine.sign() == 0)


@given(st.lists(positive, min_size=2, max_size=5, unique=True))
@settings(max_examples=60, deadline=None)
def test_ordering_is_total_and_matches_squares(values):
    roots = sorted(range(len(values)), key=lambda k: float(sqrt(values[k])))
    for i, j in itertools.pairwise(roots):
        assert sqrt(values[i]) < sqrt(values[j])
        assert sqrt(values[j]) >= sqrt(values[i])
