"""Measured flights on the page: the straightedge on their nosings, and the straight rails these allow."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import atan, degrees

from stairguard.geometry.survey.straightedge import Spread
from stairguard.model.grouping import in_steps
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.straight import StraightBand, StraightRail
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import MeasuredFlight
from stairguard.reports.drawing.paper.metrics import clean
from stairguard.reports.page.page_text import Figures, heading, listed, paragraph, table
from stairguard.reports.words.names import surface_names
from stairguard.solve.line.surveyed_flight import largest_steps, rail_over_nosings, rises, runs

__all__ = ["survey_list"]


def survey_list(layout: Layout, figures: Figures) -> list[str]:
    """Tell every measured flight: its nosings, what lies between them and the straightedge, its straight rails."""
    if not layout.straight:
        return []
    lines = [
        *heading("MEASURED FLIGHTS"),
        *paragraph(
            "Nosings are numbered from the lower landing up; the last is the edge of the upper landing. The nosing "
            "line is the straightedge laid on them: none above it, and the sum of the gaps under it least. Stations "
            "and elevations as in NOSING LINE; rise and run to each nosing from the one below it."
        ),
    ]
    for straight in layout.straight:
        lines += _flight(layout, layout.line.surfaces[straight.surface], straight, figures)
    return lines


def _uphill(surface: PlacedSurface, values: Sequence[Fraction]) -> Sequence[Fraction]:
    assert isinstance(surface.given, MeasuredFlight)  # only they have straight rails found
    return values[::-1] if surface.given.down else values


def _number(surface: PlacedSurface, index: int) -> int:
    """A nosing's number, by its place in order of stations."""
    assert isinstance(surface.given, MeasuredFlight)  # only they have straight rails found
    return len(surface.nosings) - index if surface.given.down else index + 1


def _flight(layout: Layout, surface: PlacedSurface, straight: StraightRail, figures: Figures) -> list[str]:
    height = layout.rails[surface.index].height
    nosings = surface.nosings[::-1] if surface.given.down else surface.nosings  # type: ignore[union-attr]  # a flight
    gaps = _uphill(surface, rail_over_nosings(surface, Fraction(0)))
    tops = _uphill(surface, rail_over_nosings(surface, height))
    ideals = _uphill(surface, _best_heights(straight))
    best: Sequence[Fraction | None] = ideals or [None] * len(nosings)
    steps = zip(nosings, rises(surface), [None, *runs(surface)], gaps, tops, best, strict=True)
    rows = [
        [
            str(number),
            figures.tape(nosing.s),
            figures.tape(nosing.z),
            figures.tape(rise),
            "-" if run is None else figures.tape(run),
            figures.decimal(gap),
            figures.tape(top),
            *([] if ideal is None else [figures.tape(ideal)]),
        ]
        for number, (nosing, rise, run, gap, top, ideal) in enumerate(steps, 1)
    ]
    touching = in_steps(number for number, gap in enumerate(gaps, 1) if gap == 0)
    name = surface_names(layout)[surface.index]
    head = ["nosing", "station", "elevation", "rise", "run", "gap, plumb", "rail, plumb"]
    head += ["best rail"] if ideals else []
    return [
        "",
        *paragraph(
            f"{name[0].upper()}{name[1:]}: pitch {figures.degrees(surface.pitch_deg)}, the straightedge on nosings "
            f"{touching}. Gap: plumb from nosing to straightedge. Rail: plumb from nosing to its top, as laid out."
        ),
        *table(head, rows, left=0),
        *listed([*_differences(surface, figures), *_straight(layout, surface, straight, figures)]),
    ]


def _best_heights(straight: StraightRail) -> tuple[Fraction, ...]:
    """Heights of the best straight rail, that of the optional rules' band where the binding ones have none."""
    if straight.required.heights or straight.optional is None:
        return straight.required.heights
    return straight.optional.heights


def _differences(surface: PlacedSurface, figures: Figures) -> list[str]:
    steps = largest_steps(surface)
    found = []
    # a rise is named by the nosing it leads to, like a riser; run n lies between nosings n and n + 1
    for what, spread in (("riser", steps.rises), ("run", steps.runs)):
        if spread is not None:
            found.append(_difference(what, spread, figures))
    return found


def _difference(what: str, spread: Spread, figures: Figures) -> str:
    low, high = (index + 1 for index in spread.between)
    one, other = (index + 1 for index in spread.neighbours)
    if spread.largest == 0:
        return f"{what}s: all equal"
    return (
        f"{what}s, numbered from below: largest difference of any two {_exact(spread.largest, figures)} "
        f"({what} {low} the smallest, {high} the largest); of neighbours {_exact(spread.adjacent, figures)} "
        f"({one} and {other})"
    )


def _exact(length: Fraction, figures: Figures) -> str:
    """Write a length that is not marked: off the tape if a mark is there, else in decimals, which tell it from none."""
    if length % figures.mark == 0:
        return figures.tape(length)
    return f"{figures.decimal(length, 0)} {figures.unit}"


def _straight(layout: Layout, surface: PlacedSurface, straight: StraightRail, figures: Figures) -> list[str]:
    height = layout.rails[surface.index].height
    found = [_band(surface, straight.required, height, "", figures)]
    if straight.optional is not None:
        found.append(_band(surface, straight.optional, height, " for the optional rules too", figures))
    return found


def _band(surface: PlacedSurface, band: StraightBand, height: Fraction, where: str, figures: Figures) -> str:
    rails = band.rails
    words = f"straight rails{where}, {_limits(band, figures)}: "
    if rails.blocking is not None:
        low, high = (_numbers(surface, places) for places in (rails.blocking.too_low, rails.blocking.too_high))
        return (
            f"{words}there is none. A rail high enough over {_nosings(low)} is too high over {_nosings(high)}: the "
            f"band would have to be {_exact(rails.blocking.by, figures)} wider"
        )
    if rails.best is None:
        return f"{words}{clean(rails.why)}; {_laid_out(surface, height, figures)}"
    best = rails.best
    low, high = (_numbers(surface, places) for places in (best.at_least, best.at_most))
    return (
        f"{words}{_ends(surface, band, figures)}. The best, farthest from both limits, keeps "
        f"{_exact(best.margin, figures)} from each: least over {_nosings(low)}, greatest over {_nosings(high)}; its "
        f"pitch is {degrees(atan(best.line.slope)):.2f}°; {_laid_out(surface, height, figures)}"
    )


def _laid_out(surface: PlacedSurface, height: Fraction, figures: Figures) -> str:
    heights = rail_over_nosings(surface, height)
    return f"the rail as laid out is {_exact(min(heights), figures)} to {_exact(max(heights), figures)} over them"


def _limits(band: StraightBand, figures: Figures) -> str:
    rails, words = band.rails, []
    if rails.least is not None:
        words.append(f"at least {figures.limit(rails.least)}")
    if rails.most is not None:
        words.append(f"at most {figures.limit(rails.most)}")
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


def _numbers(surface: PlacedSurface, places: Sequence[int]) -> str:
    return in_steps(_number(surface, index) for index in places)


def _nosings(numbers: str) -> str:
    return f"nosing{'s' if not numbers.isdigit() else ''} {numbers}"
