import math
import time
from fractions import Fraction

import pytest
from scipy.optimize import brentq

from stairguard.errors import GeometryError, InputError
from stairguard.relations import engine
from stairguard.relations.printed.catalogue import RELATIONS
from tests.relations.formulas import scalars

F = Fraction
STEP = {"rise": F(15, 2), "run": F(10), "nosing": F(0), "lift": F(6, 5), "sphere": F(6)}


def _without(values, find):
    return {key: value for key, value in values.items() if key != find}


# A 3-4-5 slope: the triangle's own incircle is 5 in at 7.5 by 10 (rise + run - hypotenuse), and by similar
# triangles a lift of 6/5 enlarges it by 6/5 exactly. Done by hand.
@pytest.mark.parametrize(
    ("find", "exact"), [("lift", "6/5"), ("sphere", "6"), ("rise", "15/2"), ("run", "10"), ("nosing", "0")]
)
def test_three_four_five_step_is_exact_for_every_symbol(find, exact):
    found = engine.solve("step-sphere", find, _without(STEP, find))
    assert found.exact == exact
    assert found.value == float(STEP[find])


def test_incircle_of_the_bare_step_is_legs_less_hypotenuse():
    found = engine.solve("step-sphere", "sphere", {"rise": F(7), "run": F(11), "nosing": F(0), "lift": F(0)})
    assert found.value == pytest.approx(7 + 11 - math.sqrt(170), rel=1e-15)
    assert "sqrt(170)" in found.exact


def test_exact_pitch_is_an_arc_tangent_in_degrees():
    assert engine.solve("pitch", "pitch", {"rise": F(15, 2), "run": F(10)}).exact == "180*atan(3/4)/pi"
    assert engine.solve("pitch", "pitch", {"rise": F(5), "run": F(5)}).exact == "45"


def test_a_float_anywhere_leaves_no_exact_text():
    found = engine.solve("step-sphere", "lift", {**_without(STEP, "lift"), "run": 10.0})
    assert found.exact is None
    assert found.value == pytest.approx(1.2, rel=1e-15)


def test_working_shows_equation_numbers_and_answer():
    working = engine.solve("step-sphere", "lift", _without(STEP, "lift")).working
    assert working[0] == engine.describe("step-sphere").equation
    assert working[1] == "with rise = 15/2, run = 10, nosing = 0, sphere = 6"
    assert "(15/2)^2/10^2" in working[2]
    assert working[3] == "6 = 5*lift/6 + 5"
    assert working[4] == "lift = 6/5 = 1.2"


def test_of_two_valid_roots_the_one_not_negative_is_taken_and_the_other_listed():
    found = engine.solve("bend", "pitch_in", {"pitch_out": F(0), "turn": F(0), "bend": F(35)})
    assert found.value == 35
    assert found.others == (-35.0,)
    assert "also valid: pitch_in = -35.0" in found.working


def test_nought_is_taken_before_a_larger_root():
    found = engine.solve("bend", "pitch_in", {"pitch_out": F(10), "turn": F(0), "bend": F(10)})
    assert found.value == pytest.approx(0, abs=1e-9)
    assert found.others == (pytest.approx(20),)


def test_roots_outside_their_domain_are_shown_and_do_not_count():
    given = {"rise": F(31, 4), "nosing": F(1), "lift": F(3, 10), "sphere": F(35, 6)}
    found = engine.solve("step-sphere", "run", given)
    assert found.value > 0
    assert found.others == ()
    assert any(line.startswith("does not count: run = -") for line in found.working)


@pytest.mark.parametrize("find", ["rise", "run", "nosing", "lift"])
def test_inverses_agree_with_a_general_root_finder(find):
    """Bracketed root of the printed function by scipy; every one of these grows or shrinks steadily."""
    given = {"rise": 7.0, "run": 11.0, "nosing": 1.0, "lift": 0.5}
    sphere = scalars.step_sphere(**given) * 1.01
    want = brentq(lambda x: scalars.step_sphere(**{**given, find: x}) - sphere, given[find] * 0.7, given[find] * 1.5)
    found = engine.solve("step-sphere", find, {**_without(given, find), "sphere": sphere})
    assert found.value == pytest.approx(want, rel=1e-9)


def test_any_value_and_no_value():
    given = {"rise": F(7), "flight_height": F(36), "landing_height": F(36)}
    with pytest.raises(GeometryError, match="any value"):
        engine.solve("rail-meets-top", "run", {**given, "station": F(0)})
    with pytest.raises(GeometryError, match="no part in it: 1 = 0"):
        engine.solve("rail-meets-top", "run", {**given, "station": F(1)})


def test_no_real_root_is_a_geometry_error():
    # Two slopes of 35 and 5 degrees differ by 30 at least, however they turn.
    with pytest.raises(GeometryError, match="real number"):
        engine.solve("bend", "turn", {"pitch_in": F(35), "pitch_out": F(5), "bend": F(29)})
    found = engine.solve("bend", "turn", {"pitch_in": F(35), "pitch_out": F(5), "bend": F(30)})
    assert found.value == 0


def test_only_root_out_of_domain_is_a_geometry_error():
    with pytest.raises(GeometryError, match=r"more than 0.*only -"):
        engine.solve("strand-gap", "spacing", {"diameter": F(1, 8), "gap": F(-3)})


@pytest.mark.parametrize(
    ("lift", "why"),
    [(F(20), "higher than the riser"), (F(7), "touches the nosing above it")],
)
def test_step_formula_is_refused_where_it_does_not_hold(lift, why):
    with pytest.raises(GeometryError, match=why):
        engine.solve("step-sphere", "sphere", {"rise": F(7), "run": F(11), "nosing": F(4), "lift": lift})


@pytest.mark.parametrize(
    "bad", [F(0), F(-1), 0.0, math.nan, math.inf, -math.inf, True, None, "7", 1j, "__import__('os')"]
)
def test_bad_values_are_named_with_what_they_must_be(bad):
    with pytest.raises(InputError, match=r"rise: must be a length, more than 0 \(rise of a step\)"):
        engine.solve("step-sphere", "lift", {**_without(STEP, "lift"), "rise": bad})


@pytest.mark.parametrize(
    ("absurd", "must"),
    [(1e300, "1e12"), (F(10) ** 400, "1e12"), (1e-300, "1e12"), (F(1, 3) + F(1, 10**45), "40 digits")],
)
def test_absurd_sizes_are_refused(absurd, must):
    with pytest.raises(InputError, match=f"rise: must be .*{must}"):
        engine.solve("step-sphere", "lift", {**_without(STEP, "lift"), "rise": absurd})


@pytest.mark.parametrize("size", [F(1, 10**12), F(10**12)])
def test_the_least_and_the_largest_size_are_taken(size):
    assert engine.solve("plumb-square", "square", {"plumb": size, "pitch": 0}).value == float(size)


def test_every_fault_is_told_at_once_with_the_nearest_name():
    with pytest.raises(InputError) as caught:
        engine.solve("step-sphere", "lift", {"rize": F(7), "lift": F(1), "nosing": F(-1), "sphere": F(4)})
    assert [fault.where for fault in caught.value.faults] == ["rize", "lift", "nosing", "rise", "run"]
    assert 'nearest is "rise"' in str(caught.value)


def test_unknown_relation_and_symbol():
    with pytest.raises(InputError, match='nearest is "step-sphere"'):
        engine.describe("step-spher")
    with pytest.raises(InputError, match='nearest is "lift"'):
        engine.solve("step-sphere", "lft", STEP)
    with pytest.raises(InputError, match="the nearest is"):  # however far
        engine.describe("zzz")


def test_hard_numbers_end_soon():
    """The unknown under the root, with inputs no closed form likes; a second each at the very most."""
    odd = {
        "rise": F(7_654_321, 1_000_003),
        "run": F(10_000_019, 999_983),
        "nosing": F(1, 7),
        "lift": F(123, 457),
    }
    odd["sphere"] = F(scalars.step_sphere(*map(float, odd.values())))
    for find in odd:
        start = time.perf_counter()
        found = engine.solve("step-sphere", find, _without(odd, find))
        assert time.perf_counter() - start < 5  # a hang, not a slow machine, is what this is for
        assert found.value == pytest.approx(float(odd[find]), rel=1e-9)


def test_huge_and_tiny_lengths_scale():
    for scale in (F(10) ** 9, F(1, 10**9)):
        given = {key: value * scale for key, value in _without(STEP, "rise").items()}
        assert engine.solve("step-sphere", "rise", given).value == pytest.approx(7.5 * float(scale), rel=1e-12)


def test_partials_of_an_inverse_by_hand():
    # gap = spacing - diameter, so spacing grows one for one with both.
    got = engine.partials("strand-gap", "spacing", {"diameter": F(1, 8), "gap": F(3)})
    assert got == {"diameter": 1.0, "gap": 1.0}
    # 3-4-5 step: sphere = 5 + 5*lift/6 as its working shows.
    assert engine.partials("step-sphere", "lift", _without(STEP, "lift"))["sphere"] == pytest.approx(6 / 5)


def test_no_partials_at_a_corner():
    with pytest.raises(GeometryError, match="derivative"):
        engine.partials("bend", "bend", {"pitch_in": F(20), "pitch_out": F(20), "turn": F(0)})


def test_names_keep_the_catalogue_order():
    assert engine.names() == tuple(RELATIONS)
