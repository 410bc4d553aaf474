"""Measured flights in English: how their figures are read, how far steps differ, and which straight rails there are."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Final

from stairguard.geometry.slope import pitch_deg
from stairguard.geometry.survey.straight_rails import NoBestRail, RailBand
from stairguard.geometry.survey.straightedge import Spread
from stairguard.model.guard.straight import StraightBand
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import MeasuredFlight
from stairguard.reports.words.grouping import in_steps
from stairguard.reports.words.lengths import Figures, degrees_words, fixed, stated
from stairguard.reports.words.one_line import clean

HOW_NUMBERED: Final = (
    "Nosings are numbered from the lower landing up; the last is the edge of the upper landing. The nosing line is the "
    "straightedge laid on them: none above it, and the sum of the gaps under it least. Stations and elevations as in "
    "NOSING LINE; rise and run to each nosing from the one below it."
)
_NO_BEST: Final[Mapping[NoBestRail, str]] = {
    "no limit": "no limit",
    "one limit": "one limit alone: the farther from it the better",
    "too narrow": "no straight rail keeps the limits",
    "contradiction": "the limits contradict each other",
}


def flight_words(name: str, surface: PlacedSurface, gaps: Sequence[Fraction]) -> str:
    """The pitch of a flight of this name, on which nosings the straightedge lies, and what is told of each nosing."""
    touching = in_steps(number for number, gap in enumerate(gaps, 1) if gap == 0)
    return (
        f"{name[0].upper()}{name[1:]}: pitch {degrees_words(surface.pitch_deg)}, the straightedge on nosings "
        f"{touching}. Gap: plumb from nosing to straightedge. Rail: plumb from nosing to its top, as laid out."
    )


def difference_words(what: str, spread: Spread, figures: Figures) -> str:
    """How far risers, or runs, differ: any two of a flight, and neighbours."""
    low, high = (index + 1 for index in spread.between)
    one, other = (index + 1 for index in spread.neighbours)
    if spread.largest == 0:
        return f"{what}s: all equal"
    return (
        f"{what}s, numbered from below: largest difference of any two {figures.between(spread.largest)} "
        f"({what} {low} the smallest, {high} the largest); of neighbours {figures.between(spread.adjacent)} "
        f"({one} and {other})"
    )


def why_no_best(rails: RailBand) -> str:
    """Why no straight rail is the best; "" where one is."""
    return "" if rails.why is None else _NO_BEST[rails.why]


def band_words(
    surface: PlacedSurface, band: StraightBand, tops: Sequence[Fraction], figures: Figures, *, optional: bool
) -> str:
    """Which straight rails a band of plumb heights allows over a flight, or which nosings forbid any.

    Parameters
    ----------
    surface
        The flight.
    band
        Its band, and the rails in it.
    tops
        How high the rail as laid out is over each nosing, plumb.
    figures
        How lengths are written.
    optional
        Whether the band is that of the optional rules too.
    """
    rails = band.rails
    where = " for the optional rules too" if optional else ""
    words = f"straight rails{where}, {_limits(band, figures)}: "
    if rails.blocking is not None:
        low, high = (_nosings(surface, places) for places in (rails.blocking.too_low, rails.blocking.too_high))
        return (
            f"{words}there is none. A rail high enough over {low} is too high over {high}: the "
            f"band would have to be {figures.between(rails.blocking.by)} wider"
        )
    laid_out = f"the rail as laid out is {figures.between(min(tops))} to {figures.between(max(tops))} over them"
    if rails.best is None:
        return f"{words}{why_no_best(rails)}; {laid_out}"
    best = rails.best
    low, high = (_nosings(surface, places) for places in (best.at_least, best.at_most))
    return (
        f"{words}{_ends(surface, band, figures)}. The best, farthest from both limits, keeps "
        f"{figures.between(best.margin)} from each: least over {low}, greatest over {high}; its "
        f"pitch is {fixed(pitch_deg(best.line.slope), 2)}°; {laid_out}"
    )


def _limits(band: StraightBand, figures: Figures) -> str:
    rails, words = band.rails, []
    if rails.least is not None:
        words.append(f"at least {stated(rails.least)}")
    if rails.most is not None:
        words.append(f"at most {stated(rails.most)}")
    if not words:
        return "over every nosing (no rule limits it)"
    clauses = "; ".join(dict.fromkeys(map(clean, band.clauses)))
    return f"{' and '.join(words)} {figures.unit}, plumb, over every nosing ({clauses})"


def _ends(surface: PlacedSurface, band: StraightBand, figures: Figures) -> str:
    """Say how far all those rails reach over the first and the last nosing."""
    reaches = (_number(surface, 0), band.rails.first), (_number(surface, len(surface.nosings) - 1), band.rails.last)
    words = []
    for number, reach in sorted(reaches, key=lambda one: one[0]):
        assert reach is not None  # a band with a best rail has ends
        low, high = reach
        assert low is not None  # both limits hold
        assert high is not None
        words.append(f"{figures.decimal(low)} to {figures.decimal(high)} over nosing {number}")
    return f"from {' and from '.join(words)}"


def _number(surface: PlacedSurface, index: int) -> int:
    """A nosing's number, by its place in order of stations."""
    assert isinstance(surface.given, MeasuredFlight)  # only they have straight rails found
    return len(surface.nosings) - index if surface.given.down else index + 1


def _nosings(surface: PlacedSurface, places: Sequence[int]) -> str:
    numbers = in_steps(_number(surface, index) for index in places)
    return f"nosing{'s' if not numbers.isdigit() else ''} {numbers}"
