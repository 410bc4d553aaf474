"""Cables under their own weight: two inclined lines, and two catenaries with known answers.

Inclined lines: textbooks of power transmission as coded in FOSSEE's Scilab collection, 2273/CH3/EX3.13 (inputs and
method read there) and 1055/CH7/EX7.4 (inputs read there); the results were worked out from them. Catenaries: FOSSEE's
FOT_Examples, fsolve/CatenaryCable_NLP.sce, after Chapra (problem read there, answer worked out), and a classic problem
of statics textbooks, from memory.
"""

from math import atan2, cosh, degrees, hypot, sinh

import pytest
from scipy.optimize import brentq

from stairguard.statics.strand_state import catenary_sag
from tests.relations.formulas import scalars


def lowest(span, rise, level, weight):
    """Level distance from the lower support to the lowest place, as coded there: L/2 - H h/(w L)."""
    return span / 2 - level * rise / (weight * span)


def middle_sag(span, rise, level, weight):
    """Sag of the middle under the chord by our parabola.

    Along the chord the tension is H over the cosine and weight is less by the cosine, as it is all told the same.
    """
    chord = hypot(span, rise)
    return scalars.strand_sag(weight * span / chord, chord, level * chord / span)


def test_inclined_line_of_300_m():
    """0.8 kg/m, 1500 kgf, one support 15 m higher: lowest 56.25 m out, 0.84375 and 15.84375 m under the supports."""
    weight, span, level, rise = 0.8, 300.0, 1500.0, 15.0
    out = lowest(span, rise, level, weight)
    under = [weight * x**2 / (2 * level) for x in (out, span - out)]
    assert [out, *under] == pytest.approx([56.25, 0.84375, 15.84375], rel=1e-12)
    assert under[1] - under[0] == pytest.approx(rise, rel=1e-12)
    # the same parabola seen from its chord: middle of the supports over the curve there
    middle = weight * (span / 2 - out) ** 2 / (2 * level)
    assert middle_sag(span, rise, level, weight) == pytest.approx(sum(under) / 2 - middle, rel=1e-12)


def test_inclined_line_over_300_m_between_towers_of_30_and_90_m():
    """1 kg/m, 2000 kgf: the lowest place would be 250 m outside, and the middle is 54.375 m up."""
    assert lowest(300.0, 60.0, 2000.0, 1.0) == pytest.approx(-250, rel=1e-12)
    assert (30 + 90) / 2 - middle_sag(300.0, 60.0, 2000.0, 1.0) == pytest.approx(54.375, rel=1e-12)


@pytest.mark.parametrize(("rise", "level", "weight"), [(15.0, 1500.0, 0.8), (60.0, 2000.0, 1.0)])
def test_inclined_parabola_is_near_its_catenary(rise, level, weight):
    """Weight along the curve, not along the level: the catenary of one weight on all chords, x^2/48 off at most."""
    chord = hypot(300.0, rise)
    along = weight * 300.0 / chord
    tension = level * chord / 300.0
    exact = float(catenary_sag(along, chord, tension, degrees(atan2(rise, 300.0))))
    off = (along * chord / tension) ** 2 / 48
    assert middle_sag(300.0, rise, level, weight) / exact == pytest.approx(1, abs=off)
    assert off < 6e-4


def test_catenary_from_5_to_15_in_50():
    """w 10: y = T/w cosh(w x/T) + 5 - T/w is 15 at 50 for T = 1266.3244."""
    assert catenary_sag(10, 100, 1266.3244) == pytest.approx(10, rel=1e-7)
    found = brentq(lambda tension: float(catenary_sag(10, 100, tension)) - 10, 500, 3000)
    assert found == pytest.approx(1266.3244, abs=6e-5)


def test_cable_of_500_ft_that_sags_100():
    """3 lb/ft: c 327.93 ft, least tension 983.8 lb, most 1283.8 lb, length 549.86 ft."""
    least = brentq(lambda tension: float(catenary_sag(3, 500, tension)) - 100, 300, 3000)
    c = least / 3
    assert c == pytest.approx(327.93, abs=0.006)
    assert least == pytest.approx(983.8, abs=0.06)
    assert least + 3 * 100 == pytest.approx(1283.8, abs=0.06)
    assert least * cosh(250 / c) == pytest.approx(least + 3 * 100, rel=1e-9)
    assert 2 * c * sinh(250 / c) == pytest.approx(549.86, abs=0.006)
    # so deep that the parabola is off by what is stated, x^2/48 = 4.8 %, to its next power
    off = (3 * 500 / least) ** 2 / 48
    assert scalars.strand_sag(3, 500, least) / 100 == pytest.approx(1 - off, abs=off**2)
