"""Slopes as exact ratios: elevation per unit of station."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from math import isqrt

from stairguard.relations.printed import scalars


@lru_cache(maxsize=1024)  # a line has few slopes, and asks for each at every surface and opening
def secant(slope: Fraction) -> Fraction:
    """Length along a slope per unit of station, 1/cos(pitch).

    Exact where it is rational (a 3-4-5 stair), else the nearest double taken as a rational: positions a layout
    chooses are rational numbers, so every verdict on them can be exact.
    """
    square = 1 + slope * slope
    top, bottom = isqrt(square.numerator), isqrt(square.denominator)
    if top * top == square.numerator and bottom * bottom == square.denominator:
        return Fraction(top, bottom)
    return Fraction(scalars.slope_length(slope, Fraction(1)))


@lru_cache(maxsize=1024)
def pitch_deg(slope: Fraction) -> float:
    """The angle from level in degrees, with the slope's sign."""
    return scalars.pitch(slope, Fraction(1))
