"""Find roots by number where no closed form is at hand, in a bounded number of steps."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import sympy as sp

from stairguard.relations.declare import Expr
from stairguard.relations.records import Domain
from stairguard.relations.solving.inverse import polynomial

_DIGITS = 30
_POINTS = 120
_STEPS = 110  # in a bracket: as many halvings reach 30 digits, and it takes fewer
_DECADES = 8  # searched each way from the size of the given numbers


def roots(difference: Expr, symbol: Expr, domain: Domain, scale: Expr) -> tuple[Expr, ...]:
    """Return real roots of ``difference`` in ``symbol`` as floats of 30 digits.

    All of them for a polynomial. Otherwise those in ``domain`` where the sign changes between neighbouring
    points of a grid: even steps between two bounds, decades around ``scale`` where a bound is missing. Two
    roots between neighbours, or one that only touches zero, are missed.

    Parameters
    ----------
    difference : sympy.Expr
        Left side less right side of an equation, numbers in place of all other symbols.
    symbol : sympy.Symbol
        Present in it.
    domain : Domain
        Where roots are looked for; those of a polynomial may lie outside.
    scale : sympy number
        Size of the largest number at hand.
    """
    poly = polynomial(difference, symbol)
    if poly is not None:
        return tuple(root for root in poly.nroots(n=_DIGITS, maxsteps=200) if root.is_real)

    def value(at: Expr) -> Expr:
        return sp.N(difference.subs(symbol, at), _DIGITS)

    return tuple(_crossings(value, list(_grid(domain, scale))))


def _grid(domain: Domain, scale: Expr) -> Iterator[Expr]:
    if domain.low is not None and domain.high is not None:
        for step in range(_POINTS + 1):
            yield sp.Float(domain.low + sp.Rational(step * (domain.high - domain.low), _POINTS), _DIGITS)
        return
    powers = [
        scale * sp.Float(10, _DIGITS) ** sp.Rational(_DECADES * step, _POINTS // 2)
        for step in range(-_POINTS // 2, _POINTS // 2 + 1)
    ]
    middle = sp.Integer(domain.low if domain.low is not None else domain.high or 0)
    if domain.low is None:
        yield from (middle - power for power in reversed(powers))
    yield middle
    if domain.high is None:
        yield from (middle + power for power in powers)


def _crossings(value: Callable[[Expr], Expr], grid: list[Expr]) -> Iterator[Expr]:
    values = [value(at) for at in grid]
    for low, high, at_low, at_high in zip(grid, grid[1:], values, values[1:], strict=False):
        if at_low == 0:
            yield sp.N(low, _DIGITS)
        elif at_low.is_finite and at_high.is_finite and at_low * at_high < 0:
            yield _closed_in(value, low, high, at_low, at_high)


def _closed_in(value: Callable[[Expr], Expr], low: Expr, high: Expr, at_low: Expr, at_high: Expr) -> Expr:
    """Close a bracket by chords; an end that stays put counts half, so both move (Illinois rule)."""
    moved = 0
    for _ in range(_STEPS):
        middle = (low * at_high - high * at_low) / (at_high - at_low)
        at_middle = value(middle)
        if at_middle == 0 or not low < middle < high:
            return middle
        if (at_middle > 0) == (at_low > 0):
            low, at_low, at_high = middle, at_middle, at_high / (2 if moved < 0 else 1)
            moved = -1
        else:
            high, at_high, at_low = middle, at_middle, at_low / (2 if moved > 0 else 1)
            moved = 1
    return (low + high) / 2
