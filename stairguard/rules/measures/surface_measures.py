"""What rules may limit on a surface, measured: of a surveyed flight at every nosing and every step."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from stairguard.geometry.survey.straightedge import Spread
from stairguard.model.guard.rails_and_strands import RailLine
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Flight, Handrail, Landing, MeasuredFlight, Ramp
from stairguard.model.rules import Kind, Quantity
from stairguard.rules.measures.landing_depths import Depth
from stairguard.solve.line.surveyed_flight import largest_steps, rail_over_nosings, rises, runs

__all__ = ["Measure", "Reading", "grips", "measures", "steps"]

_DATUM: Final = {
    "landing": "the walking surface",
    "flight": "the nosing line",
    "ramp": "the surface",
}
NO_HANDRAIL: Final = Handrail()
_RAIL: Final[dict[Quantity, str]] = {"guard height": "rail height", "handrail height": "rail as handrail"}
_GRIP: Final[dict[Quantity, str]] = {
    "handrail size": "outside diameter of the round handrail",
    "handrail perimeter": "perimeter of the handrail's section, which is not round",
    "handrail across": "greatest width of the handrail's section, which is not round",
    "handrail clearance": "clear space between the handrail and what stands beside it",
}


@dataclass(frozen=True, slots=True)
class Reading:
    """One figure and what it is of, in words. A pitch is given as its slope.

    ``where`` and ``station`` narrow down its surface, where it is measured at one nosing or step.
    """

    value: Fraction
    what: str
    where: str = ""
    station: float | None = None


@dataclass(frozen=True, slots=True)
class Measure:
    """The least and the greatest reading of one quantity on one surface: what a rule's limit has to hold for."""

    least: Reading
    greatest: Reading

    def against(self, kind: Kind) -> Reading:
        """The reading that decides: the least where the rule says at least, else the greatest."""
        return self.least if kind == "at least" else self.greatest


def measures(
    place: str, surface: PlacedSurface, rail: RailLine, depth: Depth | None = None, handrail: Handrail = NO_HANDRAIL
) -> dict[Quantity, Measure]:
    """Measure what rules may limit on a surface; ``place`` names it in words, ``depth`` is a landing's.

    A flight of equal steps has one height, one riser, one run. A measured one is read nosing by nosing and step by
    step, numbered from the lower landing up; its rail is its own line, taken from the first nosing to the last.
    """
    return {**_rails(place, surface, rail, handrail), **steps(place, surface, depth)}


def _rails(place: str, surface: PlacedSurface, rail: RailLine, handrail: Handrail) -> dict[Quantity, Measure]:
    """Heights of the top rail and of the handrail, which is the same rail unless the job has one apart."""
    apart = handrail.landing_height if surface.kind == "landing" else handrail.height
    found: dict[Quantity, Measure] = {}
    heights: dict[Quantity, Fraction] = {"guard height": rail.height, "handrail height": apart or rail.height}
    for quantity, height in heights.items():
        of = "handrail" if quantity == "handrail height" and apart is not None else _RAIL[quantity]
        if isinstance(surface.given, MeasuredFlight):
            over = rail_over_nosings(surface, height)
            over = over[::-1] if surface.given.down else over
            found[quantity] = _most(over, _over(of, place, "nosing {}"), surface, "nosing")
        else:
            found[quantity] = _one(height, _over(of, place, _DATUM[surface.kind]))
    return found


def grips(handrail: Handrail) -> dict[Quantity, Measure]:
    """What a job says of the section that hands hold, and what is clear beside it."""
    stated: dict[Quantity, Fraction | None] = {
        "handrail size": handrail.diameter, "handrail perimeter": handrail.perimeter,
        "handrail across": handrail.across, "handrail clearance": handrail.clearance,
    }  # fmt: skip
    return {quantity: _one(value, _GRIP[quantity]) for quantity, value in stated.items() if value is not None}


def steps(place: str, surface: PlacedSurface, depth: Depth | None = None) -> dict[Quantity, Measure]:
    """Measure what rules may limit on a surface whatever stands on it; of a landing what is known of its ``depth``."""
    given = surface.given
    if isinstance(given, MeasuredFlight):
        return _surveyed(place, surface, given)
    if isinstance(given, Landing):
        depth = depth or Depth(given.length, True)
        return {"landing length": _one(depth.least, f"{'depth' if depth.stated else 'length'} of {place}")}
    if isinstance(given, Ramp):
        return {
            "ramp slope": _one(abs(surface.slope), f"rise over level length of {place}"),
            "ramp rise": _one(abs(given.rise), f"rise of {place}"),
        }
    return {
        "riser": _one(given.rise, f"riser of {place}"),
        "run": _one(given.run, f"run of {place}"),
        "step comfort": _one(2 * given.rise + given.run, f"two rises and a run of {place}"),
        "riser difference": _one(Fraction(0), f"largest difference of risers of {place}, given as equal"),
        "run difference": _one(Fraction(0), f"largest difference of runs of {place}, given as equal"),
        "nosing difference": _one(Fraction(0), f"largest difference of nosing projections of {place}, given as equal"),
        **_whole(place, surface, given),
    }


def _surveyed(place: str, surface: PlacedSurface, given: MeasuredFlight) -> dict[Quantity, Measure]:
    found: dict[Quantity, Measure] = {
        "riser": _most(rises(surface), f"riser {{}} of {place}", surface, "riser"),
        "run": _most(runs(surface), f"run {{}} of {place}", surface, "run"),
        "step comfort": _most(_comforts(surface), f"two rises and a run of step {{}} of {place}", surface, "step"),
        **_whole(place, surface, given),
    }
    largest = largest_steps(surface)
    if largest.rises is not None:
        found["riser difference"] = _difference(largest.rises, "risers", place)
    if largest.runs is not None:
        found["run difference"] = _difference(largest.runs, "runs", place)
    return found


def _comforts(surface: PlacedSurface) -> tuple[Fraction, ...]:
    """Twice the rise and the run of each step between two nosings, from the lowest up."""
    return tuple(2 * rise + run for rise, run in zip(rises(surface)[1:], runs(surface), strict=True))


def _whole(place: str, surface: PlacedSurface, given: Flight | MeasuredFlight) -> dict[Quantity, Measure]:
    """What a flight of either kind has but one of."""
    return {
        "nosing projection": _one(given.nosing, f"nosing projection of {place}"),
        "pitch": _one(abs(surface.slope), f"pitch of {place}"),
        "flight rise": _one(abs(surface.end.z - surface.start.z), f"total rise of {place}"),
    }


def _over(of: str, place: str, datum: str) -> str:
    return f"{of} over {place}, plumb from {datum} to the top of the rail"


def _one(value: Fraction, what: str) -> Measure:
    reading = Reading(value, what)
    return Measure(reading, reading)


def _most(values: Sequence[Fraction], what: str, surface: PlacedSurface, each: str) -> Measure:
    """Least and greatest of several, numbered from 1 in ``what``, from the lowest up; of several alike the first."""
    uphill = sorted(surface.nosings, key=lambda nosing: nosing.z)

    def reading(value: Fraction) -> Reading:
        k = values.index(value)
        return Reading(value, what.format(k + 1), f"{each} {k + 1}", float(uphill[min(k, len(uphill) - 1)].s))

    return Measure(reading(min(values)), reading(max(values)))


def _difference(steps: Spread, of: str, place: str) -> Measure:
    low, high = (index + 1 for index in steps.between)
    return _one(steps.largest, f"largest difference of {of} of {place} (numbers {low} and {high})")
