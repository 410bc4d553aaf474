"""How low, or how near, a member beside the stair has to be to stop a sphere: every figure by substitution."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Final

from stairguard.model.asked.asked_opening import Inverse, StepMend
from stairguard.solve.load.root_finding import held_up_to
from stairguard.solve.sphere.beside_step import start_lift
from stairguard.solve.sphere.step_outline import step_pockets, step_profile

_DEEP: Final = 4
"""Rises and runs below the nosing line that a member is looked for; past them the stair's side alone is left."""
_CLOSE: Final = 1e-9
"""Of the limit: a sphere there that is no nearer grows at one blow past it."""


def widest(step: Mapping[str, Fraction], open_riser: bool) -> float:
    """Diameter of the largest sphere past the member; not of what passes between two treads."""
    return max((found.pocket.diameter for found in step_pockets(step, open_riser)), default=0.0)


def greatest_lift_beside(step: Mapping[str, Fraction], open_riser: bool, limit: Fraction) -> Inverse:
    """How high a member beside the stair may stand, square from the nosing line to its underside.

    Negative below the nosing line: beside the stair it can be there.

    Parameters
    ----------
    step : rise, run, nosing, tread, offset and strand_diameter; any one unit
    """
    if open_riser and step["rise"] - step["tread"] >= limit:
        return Inverse("lift", None, None, "open between treads")
    if step["offset"] >= limit + step["strand_diameter"] / 2:  # it drops between the stair's side and the member
        return Inverse("lift", None, None, "open beside")

    def over(lift: float) -> float:
        return widest({**step, "lift": Fraction(lift)}, open_riser) - float(limit)

    size = float(step["rise"] + step["run"])
    profile, _ = step_profile({**step, "lift": Fraction(0)}, open_riser)
    start = start_lift(profile, limit, step["strand_diameter"] / 2)
    low, high, by = start, start, size / 16
    while over(low) >= 0:
        if low < -_DEEP * size:
            return Inverse("lift", None, None, "open below nosing")
        low, by = low - by, 2 * by
    by = size / 16
    while over(high) < 0:
        if high > start + _DEEP * size:
            return Inverse("lift", None, None, "no lift stops it")
        high, by = high + by, 2 * by
    return _told(over, low, high, limit)


def _told(over: Callable[[float], float], low: float, high: float, limit: Fraction) -> Inverse:
    greatest = held_up_to(over, low, high)
    sphere = over(greatest) + float(limit)
    grows = abs(sphere - float(limit)) > _CLOSE * float(limit)
    return Inverse("lift", greatest, sphere, "grows at once" if grows else None)


def greatest_offset(step: Mapping[str, Fraction], open_riser: bool, limit: Fraction) -> float | None:
    """How far out a member as low as it is may stand; None where it is to be lower however near it is.

    Parameters
    ----------
    step : rise, run, nosing, tread, lift, offset, past which it is not looked for, and strand_diameter; any one unit
    """

    def over(offset: float) -> float:
        return widest({**step, "offset": Fraction(offset)}, open_riser) - float(limit)

    if over(0.0) >= 0 or over(float(step["offset"])) < 0:
        return None
    return held_up_to(over, 0.0, float(step["offset"]))


def beside_mends(step: Mapping[str, Fraction], open_riser: bool, limit: Fraction) -> tuple[StepMend, ...]:
    """The other way than a lower member: one nearer the stair, as low as it is."""
    if open_riser and step["rise"] - step["tread"] >= limit:
        return ()
    most = greatest_offset(step, open_riser, limit)
    return () if most is None else (StepMend("offset", most, float(step["offset"]) - most),)
