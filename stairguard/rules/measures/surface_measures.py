"""What rules may limit on a surface, measured: of a surveyed flight at every nosing and every step."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final, Literal

from stairguard.geometry.survey.straightedge import Spread
from stairguard.model.guard.rails_and_strands import RailLine
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Flight, Handrail, Landing, MeasuredFlight, Ramp
from stairguard.model.rules import BoundKind, Quantity
from stairguard.model.subjects import (
    Differences,
    Each,
    GripQuantity,
    Height,
    Nth,
    Numbered,
    Size,
    SizeQuantity,
    Spot,
    Subject,
    WholeGuard,
)
from stairguard.rules.measures.landing_depths import Depth
from stairguard.solve.line.surveyed_flight import largest_steps, rail_over_nosings, rises, runs

NO_HANDRAIL: Final = Handrail()


@dataclass(frozen=True, slots=True)
class Reading:
    """One figure and what it is of. A pitch is given as its slope.

    ``where`` and ``station`` narrow down its surface, where it is measured at one nosing or step.
    """

    value: Fraction
    what: Subject
    where: Spot = ""
    station: float | None = None


@dataclass(frozen=True, slots=True)
class Measure:
    """The least and the greatest reading of one quantity on one surface: what a rule's limit has to hold for."""

    least: Reading
    greatest: Reading

    def against(self, kind: BoundKind) -> Reading:
        """The reading that decides: the least where the rule says at least, else the greatest."""
        return self.least if kind == "at least" else self.greatest


def on(surface: PlacedSurface) -> Numbered:
    """A surface, as what is measured on it names it."""
    return Numbered(surface.index, surface.kind)


def measures(
    surface: PlacedSurface, rail: RailLine, depth: Depth | None = None, handrail: Handrail = NO_HANDRAIL
) -> dict[Quantity, Measure]:
    """Measure what rules may limit on a surface; ``depth`` is a landing's.

    A flight of equal steps has one height, one riser, one run. A measured one is read nosing by nosing and step by
    step, numbered from the lower landing up; its rail is its own line, taken from the first nosing to the last.
    """
    return {**_rails(surface, rail, handrail), **steps(surface, depth)}


def _rails(surface: PlacedSurface, rail: RailLine, handrail: Handrail) -> dict[Quantity, Measure]:
    """Heights of the top rail and of the handrail, which is the same rail unless the job has one apart."""
    apart = handrail.landing_height if surface.kind == "landing" else handrail.height
    held = Height(on(surface), "top rail as handrail" if apart is None else "handrail")
    return {
        "guard height": _height(surface, Height(on(surface), "top rail"), rail.height),
        "handrail height": _height(surface, held, apart or rail.height),
    }


def _height(surface: PlacedSurface, what: Height, height: Fraction) -> Measure:
    if not isinstance(surface.given, MeasuredFlight):
        return _one(height, what)
    over = rail_over_nosings(surface, height)
    over = over[::-1] if surface.given.down else over
    return _most(over, lambda k: replace(what, nosing=k), surface, "nosing")


def grips(handrail: Handrail) -> dict[Quantity, Measure]:
    """What a job says of the section that hands hold, and what is clear beside it."""
    stated: dict[GripQuantity, Fraction | None] = {
        "handrail size": handrail.diameter, "handrail perimeter": handrail.perimeter,
        "handrail across": handrail.across, "handrail clearance": handrail.clearance,
    }  # fmt: skip
    return {quantity: _one(value, WholeGuard(quantity)) for quantity, value in stated.items() if value is not None}


def steps(surface: PlacedSurface, depth: Depth | None = None) -> dict[Quantity, Measure]:
    """Measure what rules may limit on a surface whatever stands on it; of a landing what is known of its ``depth``."""
    given, place = surface.given, on(surface)
    if isinstance(given, MeasuredFlight):
        return _surveyed(surface, given)
    if isinstance(given, Landing):
        depth = depth or Depth(given.length, True)
        return {"landing length": _one(depth.least, Size(place, "landing depth" if depth.stated else "landing length"))}
    if isinstance(given, Ramp):
        return _sizes(place, {"ramp slope": abs(surface.slope), "ramp rise": abs(given.rise)})
    return {
        **_sizes(place, {"riser": given.rise, "run": given.run, "step comfort": 2 * given.rise + given.run}),
        "riser difference": _one(Fraction(0), Differences(place, "riser")),
        "run difference": _one(Fraction(0), Differences(place, "run")),
        "nosing difference": _one(Fraction(0), Differences(place, "nosing projection")),
        **_whole(surface, given),
    }


def _sizes(place: Numbered, found: Mapping[SizeQuantity, Fraction]) -> dict[Quantity, Measure]:
    return {quantity: _one(value, Size(place, quantity)) for quantity, value in found.items()}


def _surveyed(surface: PlacedSurface, given: MeasuredFlight) -> dict[Quantity, Measure]:
    place = on(surface)
    found: dict[Quantity, Measure] = {
        "riser": _most(rises(surface), lambda k: Size(place, "riser", k), surface, "riser"),
        "run": _most(runs(surface), lambda k: Size(place, "run", k), surface, "run"),
        "step comfort": _most(_comforts(surface), lambda k: Size(place, "step comfort", k), surface, "step"),
        **_whole(surface, given),
    }
    largest = largest_steps(surface)
    if largest.rises is not None:
        found["riser difference"] = _difference(largest.rises, "riser", place)
    if largest.runs is not None:
        found["run difference"] = _difference(largest.runs, "run", place)
    return found


def _comforts(surface: PlacedSurface) -> tuple[Fraction, ...]:
    """Twice the rise and the run of each step between two nosings, from the lowest up."""
    return tuple(2 * rise + run for rise, run in zip(rises(surface)[1:], runs(surface), strict=True))


def _whole(surface: PlacedSurface, given: Flight | MeasuredFlight) -> dict[Quantity, Measure]:
    """What a flight of either kind has but one of."""
    rise = abs(surface.end.z - surface.start.z)
    return _sizes(on(surface), {"nosing projection": given.nosing, "pitch": abs(surface.slope), "flight rise": rise})


def _one(value: Fraction, what: Subject) -> Measure:
    reading = Reading(value, what)
    return Measure(reading, reading)


def _most(values: Sequence[Fraction], what: Callable[[int], Subject], surface: PlacedSurface, each: Each) -> Measure:
    """Least and greatest of several, numbered from 1, from the lowest up; of several alike the first."""
    uphill = sorted(surface.nosings, key=lambda nosing: nosing.z)

    def reading(value: Fraction) -> Reading:
        k = values.index(value)
        return Reading(value, what(k + 1), Nth(each, k + 1), float(uphill[min(k, len(uphill) - 1)].s))

    return Measure(reading(min(values)), reading(max(values)))


def _difference(steps: Spread, each: Literal["riser", "run"], place: Numbered) -> Measure:
    low, high = steps.between
    return _one(steps.largest, Differences(place, each, (low + 1, high + 1)))
