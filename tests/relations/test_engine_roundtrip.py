from fractions import Fraction
from inspect import signature

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from stairguard.errors import GeometryError
from stairguard.relations import engine
from stairguard.relations.printed.catalogue import RELATIONS
from tests.relations.cases import NAMES, known, principal
from tests.relations.formulas import scalars


def _exactly(solution):
    """The answer as a Fraction where its closed form is one, else as a float."""
    try:
        return Fraction(solution.exact)
    except ValueError:
        return solution.value


@pytest.mark.parametrize("name", NAMES)
@settings(deadline=None, max_examples=3)
@given(data=st.data())
def test_solve_for_each_symbol_then_put_it_back(name, data):
    """Solve for the principal symbol, then for every other from that answer, and substitute."""
    info = RELATIONS[name]
    first = principal(info)
    function = getattr(scalars, info.functions[0])
    values = data.draw(known(info, first))
    try:
        answer = engine.solve(name, first, values)
        slopes = engine.partials(name, first, values)
    except GeometryError:
        assume(False)  # outside where the formula holds, or at a corner
    assert answer.value == pytest.approx(float(function(**values)), rel=1e-12, abs=1e-12)
    everything = {**values, first: _exactly(answer)}
    for find in values:
        others = {key: given for key, given in everything.items() if key != find}
        try:
            found = engine.solve(name, find, others)
        except GeometryError:
            if values[find] == 0:
                continue  # at the end of its domain: what the answer's last digit gives may lie beyond it
            # Nothing to find where the answer does not depend on it.
            assert slopes[find] == pytest.approx(0, abs=1e-9)
            continue
        back = function(**{**values, find: found.value})
        assert float(back) == pytest.approx(answer.value, rel=1e-9, abs=1e-9)
        if abs(slopes[find]) > 1e-3:  # else rounding of the answer moves the root too far to compare
            roots = (found.value, *found.others)
            assert min(abs(root - float(values[find])) for root in roots) < 1e-6 * max(1, abs(found.value))


@pytest.mark.parametrize("name", NAMES)
@settings(deadline=None, max_examples=3)
@given(data=st.data())
def test_partials_agree_with_the_printed_ones_and_with_finite_differences(name, data):
    info = RELATIONS[name]
    first = principal(info)
    values = data.draw(known(info, first))
    floats = {key: float(given) for key, given in values.items()}
    function = getattr(scalars, info.functions[0])
    try:
        implicit = engine.partials(name, first, values)
        explicit = getattr(scalars, info.functions[1])(**floats)
    except (GeometryError, ZeroDivisionError):
        assume(False)  # a corner, or outside where the formula holds
    assert dict(zip(signature(function).parameters, explicit, strict=True)) == pytest.approx(
        implicit, rel=1e-9, abs=1e-9
    )
    step = 1e-5
    for key in values:
        ahead, behind = ({**floats, key: floats[key] + sign * step} for sign in (1, -1))
        # A central difference errs by step**2 times the third derivative, and by rounding over step.
        assume(first != "bend" or 1 < function(**floats) < 179)  # the third derivative grows at the corner
        difference = (function(**ahead) - function(**behind)) / (2 * step)
        assert implicit[key] == pytest.approx(difference, rel=1e-4, abs=1e-5)
