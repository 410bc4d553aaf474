"""Sums of rational multiples of products of a few square roots, kept flat: no deeper for all that is done with them."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import isqrt, lcm
from typing import TypeAlias

from stairguard.geometry.exact.surd import Surd, sqrt

RootSum: TypeAlias = dict[int, Fraction]
"""Factors by bit masks: bit k of a mask stands for root k."""

GRAIN = Fraction(1, 10**60)
"""What rounded numbers of the size of one are off by at most."""
_MOST_ROOTS = 2
"""With more, an exact verdict at a tie would take minutes."""
_BITS = 512
"""Of a rounded root or sum: far beyond `GRAIN`, to leave room for what flat triangles add to an error."""


class Roots:
    """The different square roots in a figure's coordinates, and sums of their products by rationals.

    A sum maps bit masks to factors: bit k of a mask stands for root k. No root is a rational multiple of another.
    """

    def __init__(self, values: Iterable[Fraction]) -> None:
        self.squares: list[int] = []
        self.of: list[tuple[Fraction, int | None]] = [self._find(value) for value in values]
        self.rounded = len(self.squares) > _MOST_ROOTS
        self._exact = [] if self.rounded else [sqrt(square) for square in self.squares]
        self._near = [Fraction(isqrt(square << 2 * _BITS), 1 << _BITS) for square in self.squares]

    def _find(self, value: Fraction) -> tuple[Fraction, int | None]:
        """The root of a value as a factor of one of the roots, or of none."""
        square = value.numerator * value.denominator
        factor = _rational_root(Fraction(square))
        if factor is not None:
            return factor / value.denominator, None
        for k, known in enumerate(self.squares):
            factor = _rational_root(Fraction(square, known))
            if factor is not None:
                return factor / value.denominator, k
        self.squares.append(square)
        return Fraction(1, value.denominator), len(self.squares) - 1

    def times(self, a: RootSum, factor: Fraction, root: int | None) -> RootSum:
        """A sum by a factor and a root."""
        if root is None:
            return {mask: factor * value for mask, value in a.items()}
        if self.rounded:
            return {mask: factor * value * self._near[root] for mask, value in a.items()}
        bit = 1 << root
        return {mask ^ bit: factor * value * (self.squares[root] if mask & bit else 1) for mask, value in a.items()}

    def number(self, a: RootSum) -> Fraction | Surd:
        """The sum as one number, over one denominator."""
        below = lcm(*(value.denominator for value in a.values()))
        if a.keys() <= {0}:
            return a.get(0, Fraction(0))
        total = Surd(0)
        for mask, value in a.items():
            term = Surd(value.numerator * (below // value.denominator))
            for k, root in enumerate(self._exact):
                if mask >> k & 1:
                    term = term * root
            total = total + term
        return total / below

    def tidy(self, a: RootSum) -> RootSum:
        """Without what is nothing; rounded where all is."""
        if self.rounded:
            value = sum(a.values(), Fraction(0))
            return {0: Fraction(round(value * (1 << _BITS)), 1 << _BITS)}
        return {mask: value for mask, value in a.items() if value}


def plus(a: RootSum, b: RootSum, sign: int = 1) -> RootSum:
    """One sum and another, or less it where ``sign`` is -1."""
    total = dict(a)
    for mask, value in b.items():
        total[mask] = total.get(mask, Fraction(0)) + sign * value
    return total


def _rational_root(value: Fraction) -> Fraction | None:
    top, bottom = isqrt(value.numerator), isqrt(value.denominator)
    return Fraction(top, bottom) if top * top == value.numerator and bottom * bottom == value.denominator else None
