"""The numeric search, on equations without a closed form that are no part of the product."""

from fractions import Fraction

import pytest
import sympy as sp

from stairguard.relations.declare import Closed, Relation, angle, length, number, sind
from stairguard.relations.records import Domain
from stairguard.relations.solving.inverse import candidates
from stairguard.relations.solving.search import _grid, roots
from stairguard.relations.solving.solver import solve

TURN = Domain(0, False, 360, False)
MEAN = angle("mean", "mean anomaly", TURN)
ECCENTRIC = angle("eccentric", "eccentric anomaly", TURN)
KEPLER = Relation(
    name="kepler",
    title="",
    equation=sp.Eq(MEAN.symbol, ECCENTRIC.symbol - 180 * sind(ECCENTRIC.symbol) / (10 * sp.pi)),
    symbols=(MEAN, ECCENTRIC),
    closed=(Closed("mean", "mean"),),
    validity="",
    source="",
    status="published",
)


def test_keplers_equation():
    # Meeus, Astronomical Algorithms, example 30.a: e = 0.1, M = 5 degrees, E = 5.554589 (from memory).
    found = solve(KEPLER, "eccentric", {"mean": Fraction(5)}, True)
    assert found.value == pytest.approx(5.554589, abs=5e-7)
    assert found.exact is None


def test_cubic_deflection_of_a_pre_tensioned_strand():
    # P = 4 T q/L + 8 EA q^3/L^3 at EA 782 kN, L 1 m, T 1000 N, P 150 N: q 21.643 mm, computed elsewhere.
    q = number("q", "deflection, m")
    equation = sp.Eq(150, 4 * 1000 * q.symbol + 8 * 782_000 * q.symbol**3)
    assert candidates(equation, q.symbol) is None
    (root,) = roots(equation.lhs - equation.rhs, q.symbol, q.info.domain, sp.Integer(1))
    assert float(root) == pytest.approx(0.021643, abs=5e-7)


@pytest.mark.parametrize(
    ("domain", "want"),
    [
        (Domain(0, True, None, False), [1.0]),
        (Domain(None, False, None, False), [1.0]),
        (Domain(None, False, 3, True), [1.0]),
        (Domain(2, True, None, False), []),
    ],
)
def test_search_without_bounds(domain, want):
    x = length("x", "", domain)
    got = roots(x.symbol * sp.exp(x.symbol) - sp.E, x.symbol, domain, sp.Integer(1))
    assert [float(root) for root in got] == pytest.approx(want, rel=1e-12)
    assert all(abs(root - 1) < sp.Float("1e-28", 30) for root in got)  # x e^x = e at 1: all of the 30 digits promised
    assert candidates(sp.Eq(x.symbol * sp.exp(x.symbol), sp.E), x.symbol) is None


def test_two_roots_of_unlike_square_roots_are_searched_for():
    x = length("x", "")
    equation = sp.Eq(sp.sqrt(x.symbol) + sp.sqrt(x.symbol + 5), 5)
    assert candidates(equation, x.symbol) is None
    (root,) = roots(equation.lhs - equation.rhs, x.symbol, x.info.domain, sp.Integer(5))
    assert float(root) == pytest.approx(4.0, rel=1e-12)


@pytest.mark.parametrize("scale", [1, 1000])
def test_roots_less_than_a_decade_apart_are_found_where_a_bound_is_missing(scale):
    # (ln x - ln 2)(ln x - ln 5) = 0: decades are searched in smaller steps, eight each way
    x = length("x", "", Domain(0, False, None, False))
    difference = (sp.log(x.symbol) - sp.log(2)) * (sp.log(x.symbol) - sp.log(5))
    got = roots(difference, x.symbol, x.info.domain, sp.Integer(scale))
    assert sorted(map(float, got)) == pytest.approx([2.0, 5.0], rel=1e-12)


@pytest.mark.parametrize("far", [Fraction(10) ** 7 * 3, Fraction(3, 10**7)])
def test_a_root_seven_decades_from_the_given_size_is_found(far):
    x = length("x", "", Domain(0, False, None, False))
    (got,) = roots(sp.log(x.symbol) - sp.log(sp.Rational(far)), x.symbol, x.info.domain, sp.Integer(1))
    assert float(got) == pytest.approx(float(far), rel=1e-12)


def test_the_search_goes_eight_decades_each_way_from_the_given_size():
    """Sixty steps to either end, each of the sixtieth root of 10^8; from a bound, or both ways from nothing."""
    out = [2 * 10 ** (8 * step / 60) for step in range(-60, 61)]
    for domain, want in (
        (Domain(0, True, None, False), [0, *out]),
        (Domain(5, True, None, False), [5, *(5 + at for at in out)]),
        (Domain(None, False, 5, True), [*(5 - at for at in reversed(out)), 5]),
        (Domain(None, False, None, False), [*(-at for at in reversed(out)), 0, *out]),
        (Domain(-3, True, 9, True), [-3 + step / 10 for step in range(121)]),
    ):
        assert [float(at) for at in _grid(domain, sp.Integer(2))] == pytest.approx(want, rel=1e-12, abs=1e-12)
