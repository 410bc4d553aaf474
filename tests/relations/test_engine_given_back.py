"""Every answer can be given back: found for one symbol of a relation, it is taken as a value to find another."""

from fractions import Fraction as F

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import stairguard
from stairguard.errors import GeometryError
from stairguard.relations import engine
from stairguard.relations.printed.catalogue import RELATIONS
from tests.relations.cases import NAMES, known

ALL = [(name, symbol.name) for name in NAMES for symbol in RELATIONS[name].symbols]


@pytest.mark.parametrize(("name", "find"), ALL)
@settings(deadline=None, max_examples=1, derandomize=True, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_an_answer_is_taken_back(name, find, data):
    values = data.draw(known(RELATIONS[name], find))
    other = data.draw(st.sampled_from(sorted(values)))
    try:
        answer = stairguard.solve_relation(name, find, values)
    except GeometryError:
        return  # refused with a reason: there is nothing to give back
    rest = {key: kept for key, kept in values.items() if key != other}
    try:
        found = stairguard.solve_relation(name, other, {**rest, find: answer.value})
    except GeometryError as error:
        refused = error
    else:
        refused = None
    if refused is not None:
        # never for the value itself: it hardly tells the other symbol, or leaves it at the end of its domain
        assert all(fault.where != find for fault in refused.faults)
        assert _hardly_told(name, find, other, values)
        return
    if not _hardly_told(name, find, other, values):
        roots = (found.value, *found.others)
        assert min(abs(root - float(values[other])) for root in roots) < 1e-6 * max(1, abs(float(values[other])))


def _hardly_told(name, find, other, values):
    """Whether the answer's last digits move the other symbol far, or it stands at the end of its domain."""
    try:
        slope = engine.partials(name, find, values)[other]
    except GeometryError:
        return True
    low = next(s for s in RELATIONS[name].symbols if s.name == other).domain.low
    return abs(slope) * max(1.0, *(abs(float(v)) for v in values.values())) < 1e-4 or values[other] == low


def test_a_tension_below_nothing_is_told_as_slack():
    """Found as -316 lbf on 0.5.0, which it then refused as a value."""
    shrunk = {"before": F(100), "stiffness": F(200000), "run": F(120), "shortening": F(1, 4)}
    with pytest.raises(GeometryError) as refused:
        stairguard.solve_relation("tension-by-shortening", "after", shrunk)
    assert "slack" in str(refused.value)
