"""Round numbers along an axis."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import count
from math import ceil, floor, log10
from typing import Final

from stairguard.reports.words.lengths import fixed


@dataclass(frozen=True, slots=True)
class Axis:
    """An axis from ``low`` to ``high``, both ticks, which are values divided by ten to the ``power``."""

    low: float
    high: float
    ticks: tuple[float, ...]
    labels: tuple[str, ...]
    power: int

    def share(self, value: float) -> float:
        """Where a value lies: 0 at the axis' start, 1 at its end."""
        return (value / 10.0**self.power - self.low) / (self.high - self.low)


def axis(values: Sequence[float], most: int) -> Axis:
    """Return the axis with the finest round steps that covers values in at most so many of them.

    Parameters
    ----------
    values
        Finite; without any the axis runs from 0 to 1.
    most
        Steps, two or more.

    Notes
    -----
    Steps are 1, 2, 2.5 or 5 times a power of ten. Nought is on the axis where it is not far off, and where all values
    are one and the same to a millionth.
    """
    peak = max(map(abs, values), default=0.0)
    power = _power(peak) if peak >= _LEAST else 0
    low, high = reach([value / 10.0**power for value in values]) if peak >= _LEAST else (0.0, 1.0)
    step = next(s for s in _steps(high - low) if _last(high, s) - _first(low, s) <= most)
    first, last = _first(low, step), _last(high, step)
    places = max(0, -int(step.normalize().as_tuple().exponent))
    ticks = [k * step for k in range(first, last + 1)]
    marks = tuple(map(float, ticks))
    return Axis(marks[0], marks[-1], marks, tuple(fixed(mark, places) for mark in marks), power)


_PLAIN: Final = (-3, 6)
"""Powers of ten that are written out; others are taken out of the numbers, by thousands."""
_LEAST: Final = 1e-290
"""What is less is nought: near the smallest floats steps would not be round."""
_SAME: Final = 1e-6
_NEAR_NOUGHT: Final = 0.5
_GRAIN: Final = 1e-9
"""Of a step: a value so little past a tick, by rounding, asks for no further one."""


def _power(peak: float) -> int:
    digits = floor(log10(peak))
    return 0 if _PLAIN[0] <= digits < _PLAIN[1] else 3 * (digits // 3)


def reach(values: Sequence[float]) -> tuple[float, float]:
    """Return the ends of what an axis has to cover: the least and greatest value, or nought where that is near."""
    if not values:
        return 0.0, 1.0
    low, high = min(values), max(values)
    if high - low <= _SAME * max(abs(low), abs(high)):
        low, high = min(low, 0.0), max(high, 0.0)
    if 0 < low <= _NEAR_NOUGHT * high:
        low = 0.0
    if 0 > high >= _NEAR_NOUGHT * low:
        high = 0.0
    return (low, high) if high > low else (0.0, 1.0)


def _steps(span: float) -> Iterator[Decimal]:
    """Round steps from far too fine up."""
    for power in count(floor(log10(span)) - 3):
        yield from (Decimal(digits).scaleb(power - 1) for digits in (10, 20, 25, 50))


def _first(low: float, step: Decimal) -> int:
    return floor(low / float(step) + _GRAIN)


def _last(high: float, step: Decimal) -> int:
    return ceil(high / float(step) - _GRAIN)
