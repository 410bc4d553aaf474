"""What would make a step triangle stop a sphere that it lets through: a lower member, or else other steps."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from functools import lru_cache
from typing import Final

from stairguard.errors import GeometryError
from stairguard.model.asked.asked_opening import StepMend, StepSize
from stairguard.solve.load.root_finding import held_up_to
from stairguard.solve.sphere.inverse_opening import greatest_lift
from stairguard.solve.sphere.step_opening import step_opening

_LEAST: Final = 0.2  # of a rise or run: a step smaller than a fifth is no answer


@lru_cache(maxsize=64)  # asked of every triangle of a flight
def step_mends(
    rise: Fraction, run: Fraction, nosing: Fraction, tread: Fraction, open_riser: bool, lift: Fraction,
    least_lift: Fraction, limit: Fraction,
) -> tuple[StepMend, ...]:  # fmt: skip
    """Changes of one length each by which a sphere of the limit is stopped, the smallest first.

    Parameters
    ----------
    rise, run, nosing, tread, open_riser, lift, limit : as of `stairguard.solve.sphere.step_opening.step_opening`
    least_lift : how low the member may be set, square from the nosing line
    """
    greatest = greatest_lift(rise, run, nosing, tread, open_riser, limit).greatest
    if greatest is not None and greatest > least_lift:
        return (StepMend("lift", greatest, float(lift) - greatest),)
    step = {"rise": rise, "run": run, "nosing": nosing}
    bounds = {"rise": tread, "run": nosing, "nosing": Fraction(0)}
    lowered = min(lift, least_lift)
    also = lowered if lowered < lift else None

    def sphere(what: str, value: float) -> float:
        sizes = {**step, what: Fraction(value)}
        try:
            return step_opening(
                **sizes, tread=min(tread, sizes["rise"]), lift=lowered, open_riser=open_riser, limit=None
            ).sphere
        except GeometryError:  # the member leaves nothing open
            return 0.0

    found = (StepMend(what, value, by, also) for what, value, by in _sizes(step, bounds, sphere, float(limit)))
    return tuple(sorted(found, key=lambda mend: mend.by))


def _sizes(
    step: Mapping[str, Fraction], bounds: Mapping[str, Fraction], sphere: Callable[[str, float], float], limit: float
) -> Iterator[tuple[StepSize, float, float]]:
    """Each length below which a step stops the sphere, and how much less that is; ``bounds`` is what each is above."""
    whats: tuple[StepSize, ...] = ("rise", "run", "nosing")
    for what in whats:
        now, bound = float(step[what]), float(bounds[what])
        least = 0.0 if what == "nosing" else max(_LEAST * now, bound)
        if now > least and sphere(what, least) < limit <= sphere(what, now):
            value = held_up_to(lambda size, what=what: sphere(what, size) - limit, least, now)  # type: ignore[misc]  # bound now
            yield what, value, now - value
