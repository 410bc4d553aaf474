"""What would mend a figure that is past its limit, in words, with the least that it takes."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Final

__all__ = ["amount", "by_tape", "mend", "settled"]

_DIGITS: Final[Mapping[str, int]] = {"in": 3, "mm": 1, "deg": 2, "": 4}

_FINEST: Final[Mapping[str, float]] = {"in": 1 / 64, "mm": 0.5}
"""What a tape can be read to at the best: common practice, no source."""

# by quantity: what to do where there is too little of it, and where there is too much
_MENDS: Final[Mapping[str, tuple[str, str]]] = {
    "guard height": ("raise the rail by {}", "lower the rail by {}"),
    "handrail height": ("raise the handrail by {}", "lower the handrail by {}"),
    "riser": ("make each riser {} higher: fewer of them", "make each riser {} lower: more of them"),
    "run": ("make each run {} longer", "make each run {} shorter"),
    "nosing projection": ("let the nosing project {} more", "cut the nosing's projection by {}"),
    "pitch": ("make the flight steeper by {}", "make the flight flatter by {}: longer runs or lower risers"),
    "flight rise": ("let the flight rise {} more", "divide the flight by a landing: it rises {} too far"),
    "landing length": ("make the landing {} longer", "make the landing {} shorter"),
    "ramp slope": ("", "make the ramp flatter by {} of rise to length"),
    "ramp rise": ("", "divide the ramp by a landing: it rises {} too far"),
    "handrail extension": ("run the rail {} farther on", ""),
    "riser difference": ("", "even out the risers: {} too much between two of them"),
    "run difference": ("", "even out the runs: {} too much between two of them"),
    "nosing difference": ("", "even out the nosings: {} too much between two of them"),
    "step comfort": ("lengthen two rises and a run by {} together", "shorten two rises and a run by {} together"),
    "handrail size": ("a round rail {} thicker", "a round rail {} thinner"),
    "handrail perimeter": ("a section {} more around", "a section {} less around"),
    "handrail across": ("a section {} wider", "a section {} narrower"),
    "handrail clearance": ("set the handrail {} farther out", ""),
    "opening width": ("", "bring what bounds it nearer by {}"),
    "lowest edge": ("", "lower the lowest edge by {}, plumb"),
    "post gap": ("", "stand the posts {} nearer, or one more between"),
    "strand spacing": ("", "set the strands {} nearer"),
    "strand length": ("set the two posts {} farther apart, or fill between them with something rigid", ""),
    "strand run": ("", "divide the run: it is {} too long"),
    "foot of post": ("move the post {} in from the edge", ""),
    "hole": ("raise the lowest strand's hole by {}, or lower the post's foot", ""),
}


def amount(size: float, unit: str) -> str:
    """A size rounded up, so that a change by it suffices."""
    digits = _DIGITS.get(unit, 3)
    up = math.ceil(size * 10**digits - 1e-6) / 10**digits
    return f"{up:.{digits}f} {unit}".strip()


def mend(quantity: str, kind: str, past: float, unit: str) -> str:
    """Say what to change, and by how much, for a bound to be kept; "" where nothing general can be said."""
    words = _MENDS.get(quantity)
    text = "" if words is None else words[0 if kind == "at least" else 1]
    return text.format(amount(past, unit))


def settled(what: str, margin: float, ratio: float, unit: str) -> str:
    """Say how well one length must be measured for its verdict to be clear, if a tape can.

    ``ratio`` is that of its guard band to twice the standard uncertainty of a single figure.
    """
    plus_minus = abs(margin) * math.sqrt(3) / (2 * ratio) if ratio else 0.0
    return by_tape(what, plus_minus, unit)


def by_tape(what: str, plus_minus: float, unit: str) -> str:
    """Say to what +- something must be measured, or that no tape tells so little."""
    if plus_minus < _FINEST[unit]:
        return "no tape tells a figure so near its limit: mend it"
    return f"measure {what} to +- {plus_minus:.2g} {unit} to settle it"
