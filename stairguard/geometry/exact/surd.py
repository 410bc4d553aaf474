"""Exact signs of numbers built from rationals with + - * / and square roots.

A verdict at a tie cannot come from floats. Here a number is a small expression over the integers, evaluated in
interval arithmetic at rising precision until its sign shows, or until the interval is so small that only zero
is left: an algebraic integer whose conjugates are all at most U in size and whose degree is at most D is zero
or at least ``U**(1 - D)`` (the product of the conjugates of a non-zero algebraic integer is a non-zero integer).
"""

from __future__ import annotations

from fractions import Fraction
from math import isqrt
from typing import TypeAlias

_Interval: TypeAlias = tuple[int, int]


class _Node:
    """An algebraic integer: a leaf, a sum, a product or a root of two others.

    ``bits`` bounds the size of it and of all its conjugates, as a power of two; ``roots`` are the distinct
    square roots below, so its degree is at most two to their number.
    """

    __slots__ = ("_cache", "bits", "kind", "left", "right", "roots", "value")

    def __init__(self, kind: str, left: _Node | None, right: _Node | None, value: int, bits: int) -> None:
        self.kind, self.left, self.right, self.value, self.bits = kind, left, right, value, bits
        below = frozenset[int]().union(*(n.roots for n in (left, right) if n is not None))
        self.roots: frozenset[int] = below | {id(self)} if kind == "root" else below
        self._cache: tuple[int, _Interval] | None = None

    def interval(self, p: int) -> _Interval:
        """Integers lo, hi with lo <= value * 2**p <= hi."""
        if self._cache is None or self._cache[0] != p:
            self._cache = (p, self._evaluate(p))
        return self._cache[1]

    def _evaluate(self, p: int) -> _Interval:
        if self.left is None:
            return self.value << p, self.value << p
        lo, hi = self.left.interval(p)
        if self.kind == "root":
            return isqrt(max(lo, 0) << p), isqrt(max(hi, 0) << p) + 1
        assert self.right is not None
        lo2, hi2 = self.right.interval(p)
        if self.kind == "sum":
            return lo + lo2, hi + hi2
        products = (lo * lo2, lo * hi2, hi * lo2, hi * hi2)
        return min(products) >> p, -(-max(products) >> p)

    def sign(self) -> int:
        if self.left is None:
            return (self.value > 0) - (self.value < 0)
        enough = ((1 << len(self.roots)) - 1) * self.bits + 2
        p = 64
        while True:
            lo, hi = self.interval(p)
            if lo > 0:
                return 1
            if hi < 0:
                return -1
            if p > enough and max(-lo, hi).bit_length() <= p - enough + 2:
                return 0
            p *= 2


def _leaf(value: int) -> _Node:
    return _Node("leaf", None, None, value, abs(value).bit_length())


def _add(a: _Node, b: _Node) -> _Node:
    if a.left is None and b.left is None:
        return _leaf(a.value + b.value)
    if a.left is None and a.value == 0:
        return b
    if b.left is None and b.value == 0:
        return a
    return _Node("sum", a, b, 0, max(a.bits, b.bits) + 1)


def _mul(a: _Node, b: _Node) -> _Node:
    if a.left is None and b.left is None:
        return _leaf(a.value * b.value)
    for one, other in ((a, b), (b, a)):
        if one.left is None and one.value in (0, 1):
            return other if one.value else one
    if a is b and a.kind == "root" and a.left is not None:
        return a.left
    return _Node("product", a, b, 0, a.bits + b.bits)


class Surd:
    """A real number made from rationals with ``+ - * /`` and `sqrt`; comparisons are exact.

    Roots that are the same number should be the same object: the work grows with the number of different ones.

    >>> k = sqrt(2)
    >>> k * k == 2, k + 1 > Fraction(24142135623730950, 10**16)
    (True, True)
    """

    __slots__ = ("_den", "_num")

    def __init__(self, value: Fraction | int = 0) -> None:
        value = Fraction(value)
        self._num, self._den = _leaf(value.numerator), _leaf(value.denominator)

    @classmethod
    def _of(cls, num: _Node, den: _Node) -> Surd:
        made = cls.__new__(cls)
        made._num, made._den = num, den
        return made

    def __add__(self, other: Surd | Fraction | int) -> Surd:
        other = _surd(other)
        num = _add(_mul(self._num, other._den), _mul(other._num, self._den))
        return Surd._of(num, _mul(self._den, other._den))

    def __neg__(self) -> Surd:
        return Surd._of(_mul(_leaf(-1), self._num), self._den)

    def __sub__(self, other: Surd | Fraction | int) -> Surd:
        return self + -_surd(other)

    def __mul__(self, other: Surd | Fraction | int) -> Surd:
        other = _surd(other)
        return Surd._of(_mul(self._num, other._num), _mul(self._den, other._den))

    def __truediv__(self, other: Surd | Fraction | int) -> Surd:
        other = _surd(other)
        sign = other._num.sign()
        if sign == 0:
            raise ZeroDivisionError("division by a surd that is zero")
        flip = _leaf(sign)
        num = _mul(flip, _mul(self._num, other._den))
        return Surd._of(num, _mul(flip, _mul(self._den, other._num)))

    __radd__ = __add__
    __rmul__ = __mul__

    def __rsub__(self, other: Fraction | int) -> Surd:
        return _surd(other) - self

    def sign(self) -> int:
        """-1, 0 or 1, exactly."""
        return self._num.sign()

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, (Surd, Fraction, int)):
            return NotImplemented
        return (self - other).sign() == 0

    def __hash__(self) -> int:
        return hash(float(self))

    def __lt__(self, other: Surd | Fraction | int) -> bool:
        return (self - other).sign() < 0

    def __gt__(self, other: Surd | Fraction | int) -> bool:
        return (self - other).sign() > 0

    def __le__(self, other: Surd | Fraction | int) -> bool:
        return (self - other).sign() <= 0

    def __ge__(self, other: Surd | Fraction | int) -> bool:
        return (self - other).sign() >= 0

    def __float__(self) -> float:
        if self.sign() == 0:
            return 0.0
        p = 128
        while True:
            lo, hi = self._num.interval(p)
            low, high = self._den.interval(p)
            if lo * hi > 0 and low > 0:
                width = Fraction(hi - lo, min(abs(lo), abs(hi))) + Fraction(high - low, low)
                if width < Fraction(1, 1 << 56):
                    return float(Fraction(lo + hi, low + high))
            p *= 2

    def __repr__(self) -> str:
        return f"Surd(≈{float(self)!r})"


def _surd(value: Surd | Fraction | int) -> Surd:
    return value if isinstance(value, Surd) else Surd(value)


def sqrt(value: Surd | Fraction | int) -> Surd:
    """The exact square root; rational where the value is the square of a rational.

    Raises
    ------
    ValueError
        The value is negative.
    """
    value = _surd(value)
    if value.sign() < 0:
        raise ValueError("square root of a negative number")
    num, den = value._num, value._den
    if num.left is None and den.left is None:
        exact = Fraction(num.value, den.value)
        top, bottom = isqrt(exact.numerator), isqrt(exact.denominator)
        if top * top == exact.numerator and bottom * bottom == exact.denominator:
            return Surd(Fraction(top, bottom))
        num, den = _leaf(exact.numerator), _leaf(exact.denominator)
    inside = _mul(num, den)
    return Surd._of(_Node("root", inside, None, 0, inside.bits // 2 + 1), den)
