"""A length as measured."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import sqrt

__all__ = ["Measurement"]


@dataclass(frozen=True, slots=True)
class Measurement:
    """A length as measured: the true one lies within ``plus_minus`` of ``value``; any one unit."""

    name: str
    value: Fraction
    plus_minus: Fraction

    @property
    def standard(self) -> float:
        """Standard uncertainty of a rectangular distribution (JCGM 100, 4.3.7; from memory)."""
        return float(self.plus_minus) / sqrt(3)
