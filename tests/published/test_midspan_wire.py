"""A wire with a mass at its middle: NCERT, Physics for class XI, exercise 9.19.

Steel wire of 1.0 m between two pillars, 0.50e-2 cm2, 100 g hung from its middle: by how much it goes down. Answers were
read as 0.0106 m (idealhometuition.com) and as 1.074 cm (careers360, mcqoptions), by way of (L/2) (P/EA)^(1/3) with
2e11 Pa. Both are rounded on the way, by about 1 %: nothing tighter may be asserted against them.
"""

import pytest
from scipy.optimize import brentq

from stairguard.statics.strand_state import hung_deflection, tension_from_deflection
from tests.relations.formulas import scalars

EA = 2e11 * 0.50e-6


def sinks(gravity):
    return float(hung_deflection(0.1 * gravity, 0.0, EA, 1.0, 1.0))


@pytest.mark.parametrize("published", [0.0106, 0.01074])
@pytest.mark.parametrize("gravity", [9.8, 9.80665])
def test_published_within_its_rounding(published, gravity):
    assert sinks(gravity) == pytest.approx(published, rel=0.01)


@pytest.mark.parametrize(("gravity", "millimetres", "by_cubic"), [(9.8, 10.701, 10.700), (10, 10.773, 10.772)])
def test_digits_worked_out_by_another_hand(gravity, millimetres, by_cubic):
    """Exact triangle, and the cubic that the answers use, both to a micrometre."""
    assert 1000 * sinks(gravity) == pytest.approx(millimetres, abs=6e-4)
    assert 500 * (0.1 * gravity / EA) ** (1 / 3) == pytest.approx(by_cubic, abs=6e-4)
    cubic = brentq(lambda q: scalars.strand_force_small(0.0, EA, 1.0, 1.0, q) - 0.1 * gravity, 1e-4, 1)
    assert 1000 * cubic == pytest.approx(by_cubic, abs=6e-4)


def test_hung_mass_tells_that_the_wire_was_not_tensioned():
    """The published answers, taken as measured: within a newton of none, as 1 % of a deflection is 3 % of a stretch."""
    for published in (0.0106, 0.01074):
        assert tension_from_deflection(0.98, published, EA, 1.0, 1.0) == pytest.approx(0, abs=1)
