"""Where a rail over a flight meets a level rail: a table of derived values, not published.

Computed apart from this package from the two straight lines; to a hundredth of an inch, a tenth of a
millimetre. Published only in words: the two lines of a 34 in flight rail and a 36 in level rail meet
behind the landing newel (jlconline.com, installing an over-the-post handrail, part II).
"""

from fractions import Fraction

import pytest

from stairguard.relations import engine
from tests.relations.formulas import scalars

TABLE = [
    ("7.75", "10", "34", "36", 2.58, -7.42, 0.01),
    ("7.75", "10", "36", "42", 7.74, -2.26, 0.01),
    ("7.75", "10", "34", "42", 10.32, 0.32, 0.01),
    ("7.5", "10", "34", "36", 2.67, -7.33, 0.01),
    ("7", "11", "34", "36", 3.14, -7.86, 0.01),
    ("7", "11", "36", "42", 9.43, -1.57, 0.01),
    ("7", "11", "38", "42", 6.29, -4.71, 0.01),
    ("6.5", "12", "34", "36", 3.69, -8.31, 0.01),
    ("190", "250", "865", "1000", 177.6, -72.4, 0.1),
    ("220", "220", "900", "1100", 200.0, -20.0, 0.1),
    ("190", "280", "900", "1000", 147.4, -132.6, 0.1),
    ("180", "250", "900", "1070", 236.1, -13.9, 0.1),
]


@pytest.mark.parametrize(("rise", "run", "flight", "landing", "top", "bottom", "place"), TABLE)
def test_table(rise, run, flight, landing, top, bottom, place):
    given = tuple(map(Fraction, (rise, run, flight, landing)))
    assert float(scalars.rail_meets_top(*given)) == pytest.approx(top, abs=place / 2 + 1e-9)
    assert float(scalars.rail_meets_bottom(*given)) == pytest.approx(bottom, abs=place / 2 + 1e-9)


def test_equal_heights_meet_at_the_top_nosing_and_one_run_before_nosing_1():
    # So a sloped extension of one tread's depth ends exactly at rail height over the lower floor.
    given = tuple(map(Fraction, ("7.75", "10", "36", "36")))
    assert scalars.rail_meets_top(*given) == 0
    assert scalars.rail_meets_bottom(*given) == -10


def test_34_over_a_flight_and_36_over_a_landing_meet_behind_the_newel():
    # A 3-1/2 in newel (common practice, no source) centred on the riser line ends 1-3/4 in past it.
    for rise, run in [("7.75", "10"), ("7", "11")]:
        found = engine.solve(
            "rail-meets-top",
            "station",
            {
                "rise": Fraction(rise),
                "run": Fraction(run),
                "flight_height": Fraction(34),
                "landing_height": Fraction(36),
            },
        )
        assert found.value > 1.75
