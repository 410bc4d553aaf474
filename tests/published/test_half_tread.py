"""Half a tread: International Correspondence Schools, Building Construction, vol. 3, section 44.

At a landing between flights, put the two landing risers half a tread from where the rails' centre lines
cross and the rail keeps the common pitch of both flights, with no ramp
(chestofbooks.com/architecture/Building-Construction-V3/Special-Forms-Of-Stairways-44-Quarter-Platform.html).
"""

from fractions import Fraction

import pytest

from stairguard.relations import engine
from tests.relations.formulas import scalars

STEPS = [(Fraction(31, 4), Fraction(10)), (Fraction(7), Fraction(11)), (Fraction(190), Fraction(250))]


@pytest.mark.parametrize(("rise", "run"), STEPS)
def test_risers_in_line_put_the_turn_half_a_tread_out(rise, run):
    found = engine.solve("half-turn", "upper", {"run": run, "lower": run / 2})
    assert Fraction(found.exact) == run / 2
    assert scalars.half_turn_upper(run, run / 2) == run / 2


@pytest.mark.parametrize(("rise", "run"), STEPS)
def test_rails_at_the_turn_are_level_with_each_other_half_a_rise_up(rise, run):
    """Both rails, each from its own flight: their heights over the landing at the turn agree."""
    height = Fraction(36) if run < 100 else Fraction(900)
    half = run / 2
    lower = scalars.landing_height_at_top(rise, run, height, half)
    upper = scalars.landing_height_at_bottom(rise, run, height, -half)
    assert lower == upper == height + rise / 2


@pytest.mark.parametrize("lower", [Fraction(0), Fraction(2), Fraction(13, 2), Fraction(11)])
def test_any_split_of_one_run_keeps_the_pitch(lower):
    rise, run, height = Fraction(7), Fraction(11), Fraction(36)
    upper = scalars.half_turn_upper(run, lower)
    assert scalars.landing_height_at_top(rise, run, height, lower) == scalars.landing_height_at_bottom(
        rise, run, height, -upper
    )


def test_any_other_place_cripples_the_rail():
    rise, run, height, half, out = Fraction(7), Fraction(11), Fraction(36), Fraction(11, 2), Fraction(1)
    lower = scalars.landing_height_at_top(rise, run, height, half + out)
    upper = scalars.landing_height_at_bottom(rise, run, height, -half - out)
    # Farther out by 1 in on each side the rail must drop 2 * 7/11.
    assert lower - upper == 2 * out * rise / run
