"""A measured flight's own figures: its true rises and runs, and the straight rails that its nosings allow."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from itertools import pairwise
from typing import TypeVar

from stairguard.geometry.survey.straight_rails import rail_band
from stairguard.geometry.survey.straightedge import Straight, heights_over, spread
from stairguard.model.guard.straight import MeasuredSteps, StepSpread, StraightBand, StraightRail
from stairguard.model.guard.surfaces import PlacedSurface, Point
from stairguard.model.job import Flight, MeasuredFlight
from stairguard.model.rules import Rule, RuleSet

T = TypeVar("T")


def straightest(surface: PlacedSurface, height: Fraction, rules: RuleSet) -> StraightRail:
    """A measured flight's steps, and the straight rails over it that keep the rules' heights at every nosing.

    Parameters
    ----------
    surface : the flight, of two nosings or more
    height : of its rail's top as laid out, plumb over the nosing line
    rules : their guard and handrail heights on flights make the band; lengths in the nosings' unit
    """
    heights = [*rules.of("guard height", "flight"), *rules.of("handrail height", "flight")]
    required = _limits(rule for rule in heights if rule.binding)
    every = _limits(heights)
    same = _values(required) == _values(every)
    nosings = surface.nosings
    return StraightRail(
        surface.index, _steps(surface, height), _band(nosings, required), None if same else _band(nosings, every)
    )


def _steps(surface: PlacedSurface, height: Fraction) -> MeasuredSteps:
    gaps, tops = (_from_below(surface, rail_over_nosings(surface, above)) for above in (Fraction(0), height))
    return MeasuredSteps(rises(surface), runs(surface), gaps, tops, largest_steps(surface))


def rises(surface: PlacedSurface) -> tuple[Fraction, ...]:
    """Plumb rises of a flight from the lower landing up: the first to the lowest nosing, then nosing to nosing."""
    uphill = _from_below(surface, surface.nosings)
    floor = min(surface.start.z, surface.end.z)
    return tuple(high - low for low, high in pairwise([floor, *(p.z for p in uphill)]))


def runs(surface: PlacedSurface) -> tuple[Fraction, ...]:
    """Level runs of a flight between its nosings, from the lowest up."""
    return tuple(abs(b.s - a.s) for a, b in pairwise(_from_below(surface, surface.nosings)))


def smallest_run(surface: PlacedSurface) -> Fraction | None:
    """The smallest run of a flight; None of other surfaces."""
    if isinstance(surface.given, Flight):
        return surface.given.run
    return min(runs(surface)) if isinstance(surface.given, MeasuredFlight) else None


def largest_steps(surface: PlacedSurface) -> StepSpread:
    """Largest differences of a flight's rises and of its runs, of any two and of neighbours."""
    return StepSpread(spread(rises(surface)), spread(runs(surface)))


def rail_over_nosings(surface: PlacedSurface, height: Fraction, slope: Fraction | None = None) -> tuple[Fraction, ...]:
    """Plumb heights of a rail over each nosing of a flight, in station order.

    Parameters
    ----------
    surface : a flight
    height : of the rail's top over the nosing line, at the surface's origin
    slope : of the rail, elevation per station; that of the nosing line if not given
    """
    line = Straight(surface.origin.s, surface.origin.z + height, surface.slope if slope is None else slope)
    return heights_over(surface.nosings, line)


def _from_below(surface: PlacedSurface, of_nosings: tuple[T, ...]) -> tuple[T, ...]:
    """What a flight has at each nosing, turned from the order of stations to that from the lower landing up."""
    assert isinstance(surface.given, Flight | MeasuredFlight)  # only flights have nosings
    return of_nosings[::-1] if surface.given.down else of_nosings


def _limits(rules: Iterable[Rule]) -> tuple[Rule | None, Rule | None]:
    """The rules that set the tightest band: the highest of the least, the lowest of the most."""
    given = tuple(rules)
    least = max((r for r in given if r.kind == "at least"), key=lambda r: r.value, default=None)
    most = min((r for r in given if r.kind == "at most"), key=lambda r: r.value, default=None)
    return least, most


def _values(limits: tuple[Rule | None, Rule | None]) -> list[Fraction | None]:
    return [None if rule is None else rule.value for rule in limits]


def _band(nosings: tuple[Point, ...], limits: tuple[Rule | None, Rule | None]) -> StraightBand:
    rails = rail_band(nosings, *_values(limits))
    heights = () if rails.best is None else heights_over(nosings, rails.best.line)
    return StraightBand(tuple(rule.clause for rule in limits if rule is not None), rails, heights)
