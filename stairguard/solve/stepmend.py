"""What would make a step triangle stop a sphere that it lets through: a lower member, or else other steps."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Final, Literal, TypeAlias

from stairguard.errors import GeometryError
from stairguard.solve.inverse import greatest_lift
from stairguard.solve.roots import root
from stairguard.solve.step import step_opening

__all__ = ["StepMend", "step_mends"]

Changed: TypeAlias = Literal["lift", "rise", "run", "nosing"]

_LEAST: Final = 0.2  # of a rise or run: a step smaller than a fifth is no answer


@dataclass(frozen=True, slots=True)
class StepMend:
    """One length of a step to change, to less than ``value``, by more than ``by``."""

    what: Changed
    value: float
    by: float


@lru_cache(maxsize=64)  # asked of every triangle of a flight
def step_mends(
    rise: Fraction, run: Fraction, nosing: Fraction, tread: Fraction, open_riser: bool, lift: Fraction,
    least_lift: Fraction, limit: Fraction,
) -> tuple[StepMend, ...]:  # fmt: skip
    """Changes of one length each by which a sphere of the limit is stopped, the smallest first.

    Parameters
    ----------
    rise, run, nosing, tread, open_riser, lift, limit : as of `stairguard.solve.step.step_opening`
    least_lift : how low the member may be set, square from the nosing line
    """
    greatest = greatest_lift(rise, run, nosing, tread, open_riser, limit).greatest
    if greatest is not None and greatest > least_lift:
        return (StepMend("lift", greatest, float(lift) - greatest),)
    step = {"rise": rise, "run": run, "nosing": nosing}
    lowered = min(lift, least_lift)

    def sphere(what: str, value: float) -> float:
        sizes = {**step, what: Fraction(value)}
        try:
            return step_opening(
                **sizes, tread=min(tread, sizes["rise"]), lift=lowered, open_riser=open_riser, limit=None
            ).sphere
        except GeometryError:  # the member leaves nothing open
            return 0.0

    return tuple(sorted(_mends(step, sphere, float(limit)), key=lambda mend: mend.by))


def _mends(step: dict[str, Fraction], sphere: Callable[[str, float], float], limit: float) -> Iterator[StepMend]:
    whats: tuple[Changed, ...] = ("rise", "run", "nosing")
    for what in whats:
        now = float(step[what])
        least = 0.0 if what == "nosing" else _LEAST * now
        if now > least and sphere(what, least) < limit <= sphere(what, now):
            value = root(lambda size, what=what: sphere(what, size) - limit, least, now)  # type: ignore[misc]  # bound now
            yield StepMend(what, value, now - value)
