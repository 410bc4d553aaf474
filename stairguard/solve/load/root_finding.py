"""Roots of functions of one number, by Brent's method."""

from __future__ import annotations

import math
from collections.abc import Callable


def root(function: Callable[[float], float], low: float, high: float) -> float:
    """Where a function crosses zero between two numbers at which its signs differ, to twelve figures of the larger.

    ValueError where they do not differ.
    """
    from scipy.optimize import brentq  # takes longer to load than most answers take

    return float(brentq(function, low, high, xtol=1e-12 * max(abs(low), abs(high)), rtol=1e-13))


def held_up_to(function: Callable[[float], float], safe: float, past: float) -> float:
    """A root taken from its ``safe`` side: there the function has not yet the sign it has at ``past``.

    What is told to suffice has to when it is asked of the function again, digit by digit. ValueError as of `root`.
    """
    wrong = function(past) > 0
    found = root(function, safe, past)
    step = math.copysign(math.ulp(found), safe - past)
    while function(found) and (function(found) > 0) is wrong and (safe - found) * step > 0:
        found += step
        step *= 2
    return found
