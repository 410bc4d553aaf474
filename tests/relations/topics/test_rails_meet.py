"""Rails drawn as lines and crossed by shapely."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString

from stairguard.relations import engine
from tests.relations.formulas import scalars

RISE = st.integers(64, 150).map(lambda n: Fraction(n, 16))
RUN = st.integers(100, 240).map(lambda n: Fraction(n, 16))
HEIGHT = st.integers(500, 720).map(lambda n: Fraction(n, 16))


def crossing(rise, run, nosing, landing, flight_height, landing_height):
    """Station where the flight's rail crosses the landing's; nosing line through (0, nosing)."""
    far = 200
    slope = float(rise / run)
    start = float(nosing + flight_height)
    flight = LineString([(-far, start - far * slope), (far, start + far * slope)])
    level = float(landing + landing_height)
    return flight.intersection(LineString([(-far, level), (far, level)])).x


@given(RISE, RUN, HEIGHT, HEIGHT)
def test_top_rails_cross_where_the_formula_says(rise, run, flight_height, landing_height):
    want = crossing(rise, run, 0, 0, flight_height, landing_height)
    got = scalars.rail_meets_top(rise, run, flight_height, landing_height)
    assert float(got) == pytest.approx(want, abs=1e-9)
    assert scalars.jog_top(rise, run, flight_height, landing_height, got) == 0
    assert scalars.landing_height_at_top(rise, run, flight_height, got) == landing_height
    assert scalars.flight_height_at_top(rise, run, landing_height, got) == flight_height


@given(RISE, RUN, HEIGHT, HEIGHT)
def test_bottom_rails_cross_where_the_formula_says(rise, run, flight_height, landing_height):
    # Nosing 1 stands one rise above the lower landing.
    want = crossing(rise, run, rise, 0, flight_height, landing_height)
    got = scalars.rail_meets_bottom(rise, run, flight_height, landing_height)
    assert float(got) == pytest.approx(want, abs=1e-9)
    assert scalars.jog_bottom(rise, run, flight_height, landing_height, got) == 0
    assert scalars.landing_height_at_bottom(rise, run, flight_height, got) == landing_height
    assert scalars.flight_height_at_bottom(rise, run, landing_height, got) == flight_height


def test_jog_is_positive_where_the_landing_rail_stands_higher():
    # Equal 36 in rails meet on the top nosing; 3 in onto the landing the flight's has climbed 3*7/11.
    assert scalars.jog_top(*map(Fraction, (7, 11, 36, 36, 3))) == -Fraction(21, 11)
    # At nosing 1 the flight's rail stands a whole rise above the lower landing's.
    assert scalars.jog_bottom(*map(Fraction, (7, 11, 36, 36, 0))) == -7


def test_meeting_is_exact():
    given = {"rise": Fraction(31, 4), "run": Fraction(10), "flight_height": Fraction(34)}
    found = engine.solve("rail-meets-top", "station", {**given, "landing_height": Fraction(36)})
    assert found.exact == "80/31"
