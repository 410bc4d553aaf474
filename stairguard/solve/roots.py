"""Roots of functions of one number, by Brent's method."""

from __future__ import annotations

from collections.abc import Callable

__all__ = ["root"]


def root(function: Callable[[float], float], low: float, high: float) -> float:
    """Where a function crosses zero between two numbers at which its signs differ, to twelve figures of the larger.

    ValueError where they do not differ.
    """
    from scipy.optimize import brentq  # takes longer to load than most answers take

    return float(brentq(function, low, high, xtol=1e-12 * max(abs(low), abs(high)), rtol=1e-13))
