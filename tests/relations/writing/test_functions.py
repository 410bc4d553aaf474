import inspect
import math
from collections.abc import Callable
from fractions import Fraction
from functools import cache
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stairguard.geometry.exact.surd import Surd, sqrt
from stairguard.relations.printed import by_slope
from stairguard.relations.writing.functions import FORMS, by_slope_module
from tests.relations.formulas import scalars

SLOPES = st.fractions(-2, 2, max_denominator=64)


@cache
def function(name: str) -> Callable[..., Any]:
    room: dict[str, Any] = {}
    exec(by_slope_module([FORMS[name]], "For a test."), room)
    return room[name]


def angled(form) -> list[str]:
    return [item.info.name for item in form.relation.symbols if item.info.kind == "angle"]


@pytest.mark.parametrize(
    "name",
    [*by_slope.__all__, "rail_gap", "rail_gap_plumb", "post_bevel", "mitre_point", "strand_bore", "strand_slot",
     "pitch_rise"],
)  # fmt: skip
@given(slope=SLOPES, first=st.fractions(1, 50, max_denominator=32), second=st.fractions(1, 50, max_denominator=32))
def test_by_its_slope_a_formula_answers_as_by_its_angle(name, slope, first, second):
    ours, theirs = function(name), getattr(scalars, name)
    wanted = [key for key in inspect.signature(theirs).parameters if key not in angled(FORMS[name])]
    lengths = dict(zip(wanted, (first, second), strict=False))
    by = {"slope": slope, "sec": Fraction(math.hypot(1, slope))}
    (angle,) = angled(FORMS[name])
    got = ours(**lengths, **{key: by[key] for key in inspect.signature(ours).parameters if key in by})
    want = theirs(**lengths, **{angle: math.degrees(math.atan(slope))})
    assert isinstance(got, Fraction)
    assert float(got) == pytest.approx(want, rel=1e-12, abs=1e-12)


def test_fractions_stay_exact_on_a_three_four_five_slope():
    assert by_slope.plumb_of_square(Fraction(3), Fraction(5, 4)) == Fraction(15, 4)
    assert by_slope.square_of_plumb(Fraction(15, 4), Fraction(5, 4)) == 3


def test_surds_stay_exact_on_a_slope_of_one():
    sec = sqrt(2)
    assert by_slope.square_of_plumb(Surd(3), sec) * sec == 3


@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("bend", "no function of one angle"),
        ("strand_gap", "no function of one angle"),
        ("mitre", "not rational in its angle's slope and secant"),
        ("square_of_plumb_partials", "not rational in its angle's slope and secant"),  # they count per degree
        ("fitting_force", "not rational in its angle's slope and secant"),
    ],
)
def test_what_is_more_than_a_slope_is_refused(name, why):
    with pytest.raises(ValueError, match=why):
        by_slope_module([FORMS[name]], "For a test.")
