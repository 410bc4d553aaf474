"""What a relation is, as plain data: no sympy, so that listing and describing stay fast."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

SymbolKind: TypeAlias = Literal["length", "angle", "force", "number"]
"""What a symbol measures: a length or a force in any one unit, an angle in degrees, a plain number."""

_ARTICLE = {"length": "a length", "angle": "an angle in degrees", "force": "a force", "number": "a number"}


@dataclass(frozen=True, slots=True)
class Domain:
    """The values a symbol may take: an interval, each end closed or open, None where unbounded."""

    low: int | None
    low_open: bool
    high: int | None
    high_open: bool

    def holds(self, value: Fraction | float) -> bool:
        """Whether ``value`` lies in the interval; never for NaN or an infinity."""
        if value != value or value in (float("inf"), float("-inf")):
            return False
        above = self.low is None or value > self.low or (value == self.low and not self.low_open)
        below = self.high is None or value < self.high or (value == self.high and not self.high_open)
        return above and below

    def __str__(self) -> str:
        if None not in (self.low, self.high) and self.low_open == self.high_open:
            form = "between {} and {}" if self.low_open else "from {} to {}"
            return form.format(self.low, self.high)
        parts = []
        if self.low is not None:
            parts.append(f"more than {self.low}" if self.low_open else f"{self.low} or more")
        if self.high is not None:
            parts.append(f"less than {self.high}" if self.high_open else f"{self.high} or less")
        return " and ".join(parts) or "any finite value"


@dataclass(frozen=True, slots=True)
class SymbolInfo:
    """One symbol of a relation: its name, what it means, what it measures, what it may be."""

    name: str
    meaning: str
    kind: SymbolKind
    domain: Domain

    @property
    def must(self) -> str:
        """What a value must be, as an error says it."""
        limits = "" if str(self.domain) == "any finite value" else f", {self.domain}"
        return f"{_ARTICLE[self.kind]}{limits} ({self.meaning})"


@dataclass(frozen=True, slots=True, kw_only=True)
class RelationInfo:
    """One formula: ``equation`` is text with angles in degrees, ``functions`` are its printed names."""

    name: str
    title: str
    equation: str
    symbols: tuple[SymbolInfo, ...]
    validity: str
    source: str
    status: str
    functions: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Solution:
    """A relation solved for one symbol.

    ``exact`` is the closed form as text where every input was exact and one exists, else None. ``working``
    are lines to read; ``others`` the remaining valid values, in increasing order.
    """

    name: str
    find: str
    value: float
    exact: str | None
    working: tuple[str, ...]
    others: tuple[float, ...]
