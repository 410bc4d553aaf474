"""What rules may limit on a surface, measured: of a surveyed flight at every nosing and every step."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from stairguard.geometry.straightedge import Spread
from stairguard.model.guard import PlacedSurface, RailLine
from stairguard.model.job import Flight, Landing, MeasuredFlight, Ramp
from stairguard.model.rules import Kind, Quantity
from stairguard.solve.straightest import largest_steps, rail_over_nosings, rises, runs

__all__ = ["Measure", "Reading", "measures", "smallest_run"]

_DATUM: Final = {
    "landing": "the walking surface",
    "flight": "the nosing line",
    "ramp": "the surface",
}
_RAIL: Final[dict[Quantity, str]] = {"guard height": "rail height", "handrail height": "rail as handrail"}


@dataclass(frozen=True, slots=True)
class Reading:
    """One figure and what it is of, in words. A pitch is given as its slope."""

    value: Fraction
    what: str


@dataclass(frozen=True, slots=True)
class Measure:
    """The least and the greatest reading of one quantity on one surface: what a rule's limit has to hold for."""

    least: Reading
    greatest: Reading

    def against(self, kind: Kind) -> Reading:
        """The reading that decides: the least where the rule says at least, else the greatest."""
        return self.least if kind == "at least" else self.greatest


def measures(place: str, surface: PlacedSurface, rail: RailLine) -> dict[Quantity, Measure]:
    """Measure what rules may limit on a surface; ``place`` names it in words.

    A flight of equal steps has one height, one riser, one run. A measured one is read nosing by nosing and step by
    step, numbered from the lower landing up; its rail is its own line, taken from the first nosing to the last.
    """
    given = surface.given
    if isinstance(given, MeasuredFlight):
        return _surveyed(place, surface, given, rail)
    found = {quantity: _one(rail.height, _over(quantity, place, _DATUM[surface.kind])) for quantity in _RAIL}
    if isinstance(given, Landing):
        return found | {"landing length": _one(given.length, f"length of {place}")}
    if isinstance(given, Ramp):
        return found | {
            "ramp slope": _one(abs(surface.slope), f"rise over level length of {place}"),
            "ramp rise": _one(abs(given.rise), f"rise of {place}"),
        }
    return found | {
        "riser": _one(given.rise, f"riser of {place}"),
        "run": _one(given.run, f"run of {place}"),
        "step comfort": _one(2 * given.rise + given.run, f"two rises and a run of {place}"),
        **_whole(place, surface, given),
    }


def smallest_run(surface: PlacedSurface) -> Fraction | None:
    """The smallest run of a flight; None of other surfaces."""
    if isinstance(surface.given, Flight):
        return surface.given.run
    return min(runs(surface)) if isinstance(surface.given, MeasuredFlight) else None


def _surveyed(place: str, surface: PlacedSurface, given: MeasuredFlight, rail: RailLine) -> dict[Quantity, Measure]:
    over = rail_over_nosings(surface, rail.height)
    over = over[::-1] if given.down else over
    found = {
        **{quantity: _most(over, _over(quantity, place, "nosing {}")) for quantity in _RAIL},
        "riser": _most(rises(surface), f"riser {{}} of {place}"),
        "run": _most(runs(surface), f"run {{}} of {place}"),
        **_whole(place, surface, given),
    }
    steps = largest_steps(surface)
    if steps.rises is not None:
        found["riser difference"] = _difference(steps.rises, "risers", place)
    if steps.runs is not None:
        found["run difference"] = _difference(steps.runs, "runs", place)
    return found


def _whole(place: str, surface: PlacedSurface, given: Flight | MeasuredFlight) -> dict[Quantity, Measure]:
    """What a flight of either kind has but one of."""
    return {
        "nosing projection": _one(given.nosing, f"nosing projection of {place}"),
        "pitch": _one(abs(surface.slope), f"pitch of {place}"),
        "flight rise": _one(abs(surface.end.z - surface.start.z), f"total rise of {place}"),
    }


def _over(quantity: Quantity, place: str, datum: str) -> str:
    return f"{_RAIL[quantity]} over {place}, plumb from {datum} to the top of the rail"


def _one(value: Fraction, what: str) -> Measure:
    reading = Reading(value, what)
    return Measure(reading, reading)


def _most(values: Sequence[Fraction], what: str) -> Measure:
    """Least and greatest of several, numbered from 1 in ``what``; of several alike the first."""
    least, greatest = (Reading(v, what.format(values.index(v) + 1)) for v in (min(values), max(values)))
    return Measure(least, greatest)


def _difference(steps: Spread, of: str, place: str) -> Measure:
    low, high = (index + 1 for index in steps.between)
    return _one(steps.largest, f"largest difference of {of} of {place} (numbers {low} and {high})")
