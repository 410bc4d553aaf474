"""Every function that a relation lists, made from its declaration: on arrays as on single numbers."""

import inspect
import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

import stairguard
from stairguard.errors import InputError
from stairguard.relations.printed.catalogue import RELATIONS
from tests.relations.cases import value
from tests.relations.formulas import arrays, scalars

FUNCTIONS = [(name, function) for name, info in RELATIONS.items() for function in info.functions]


def _symbols(relation, function):
    by_name = {symbol.name: symbol for symbol in RELATIONS[relation].symbols}
    return [by_name[name] for name in inspect.signature(getattr(scalars, function)).parameters]


def _scalar(function, row):
    """Scalar answer, or None where the arithmetic has none (a corner, past an edge)."""
    try:
        return getattr(scalars, function)(*row)
    except (ValueError, ZeroDivisionError):
        return None


@pytest.mark.parametrize(("relation", "function"), FUNCTIONS)
@settings(deadline=None, max_examples=20)
@given(data=st.data())
def test_arrays_answer_as_scalars_do(relation, function, data):
    symbols = _symbols(relation, function)
    rows = data.draw(st.lists(st.tuples(*map(value, symbols)), min_size=1, max_size=5))
    rows = [row for row in rows if _scalar(function, row) is not None]
    assume(rows)
    columns = [np.array([float(row[k]) for row in rows]) for k in range(len(symbols))]
    got = getattr(arrays, function)(*columns)
    want = [_scalar(function, tuple(map(float, row))) for row in rows]
    # The two libraries' sines may differ in the last digit.
    if function.endswith("_partials"):
        assert all(part.shape == (len(rows),) for part in got)
        np.testing.assert_allclose(np.array(got).T, np.array(want), rtol=1e-11, atol=1e-9)
    else:
        np.testing.assert_allclose(got, np.array(want, dtype=float), rtol=1e-12, atol=1e-12)


@pytest.mark.parametrize(("relation", "function"), FUNCTIONS)
def test_empty_arrays_give_empty_arrays(relation, function):
    empty = [np.empty(0) for _ in _symbols(relation, function)]
    got = getattr(arrays, function)(*empty)
    for part in got if isinstance(got, tuple) else (got,):
        assert part.shape == (0,)
        assert part.dtype == np.float64


@pytest.mark.parametrize(("relation", "function"), FUNCTIONS)
def test_arrays_broadcast(relation, function):
    symbols = _symbols(relation, function)
    first, *rest = symbols
    column = np.linspace(3.0, 4.0, 3)[:, None] if first.kind != "angle" else np.array([[5.0], [20.0], [35.0]])
    row = np.array([10.0, 11.0])
    others = [row if k == 0 else 12.0 for k in range(len(rest))]
    got = getattr(arrays, function)(column, *others)
    shape = (3, 2) if rest else (3, 1)
    for part in got if isinstance(got, tuple) else (got,):
        assert part.shape == shape


@pytest.mark.parametrize(("relation", "function"), FUNCTIONS)
def test_nan_in_nan_out_without_a_warning(relation, function):
    if function.endswith("_partials"):
        function = function.removesuffix("_partials")
    symbols = _symbols(relation, function)
    for place in range(len(symbols)):
        row = [math.nan if k == place else 5.0 for k in range(len(symbols))]
        assert math.isnan(getattr(scalars, function)(*row))
        assert np.isnan(getattr(arrays, function)(*row))


def test_rational_formulas_keep_fractions():
    half = Fraction(1, 2)
    assert scalars.rail_meets_top(Fraction(7), Fraction(11), Fraction(34), Fraction(36)) == Fraction(22, 7)
    assert scalars.hole_face(Fraction(20), half, Fraction(7, 11)) == Fraction(447, 22)
    assert isinstance(scalars.jog_bottom(*map(Fraction, (7, 11, 34, 36, -2))), Fraction)
    assert isinstance(scalars.step_sphere(*map(Fraction, (7, 11, 1, 0))), float)


def test_a_function_is_made_once_and_tells_its_formula():
    made = stairguard.relation_arrays("step_lift")
    assert made is stairguard.relation_arrays("step_lift")
    assert list(inspect.signature(made).parameters) == ["rise", "run", "nosing", "sphere"]
    for words in ("Find ``lift``", "From ``sphere = ", "rise : array of length", "lift : array of length", "Source: "):
        assert words in made.__doc__
    assert "tuple of arrays" in stairguard.relation_arrays("step_sphere_partials").__doc__


@pytest.mark.parametrize("bad", ["step_spher", "", "__import__('os')", "step-sphere"])
def test_an_unknown_function_is_refused_with_the_nearest(bad):
    with pytest.raises(InputError, match="function: must be a function that a relation lists") as refused:
        stairguard.relation_arrays(bad)
    if bad.startswith("step"):
        assert 'nearest is "step_sphere"' in str(refused.value)
