"""Measured flights on the page: the straightedge on their nosings, and the straight rails these allow."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from stairguard.geometry.slope import pitch_deg
from stairguard.geometry.survey.straightedge import Spread
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.straight import StepSpread, StraightBand, StraightRail
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import MeasuredFlight
from stairguard.reports.page.page_text import heading, listed, paragraph, table
from stairguard.reports.words.grouping import in_steps
from stairguard.reports.words.lengths import Figures, degrees_words, fixed, stated
from stairguard.reports.words.names import surface_names
from stairguard.reports.words.one_line import clean


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


def _number(surface: PlacedSurface, index: int) -> int:
    """A nosing's number, by its place in order of stations."""
    assert isinstance(surface.given, MeasuredFlight)  # only they have straight rails found
    return len(surface.nosings) - index if surface.given.down else index + 1


def _flight(layout: Layout, surface: PlacedSurface, straight: StraightRail, figures: Figures) -> list[str]:
    found, from_below = straight.steps, slice(None, None, -1 if surface.slope < 0 else 1)
    nosings, ideals = surface.nosings[from_below], straight.best_heights[from_below]
    best: Sequence[Fraction | None] = ideals or [None] * len(nosings)
    steps = zip(nosings, found.rises, [None, *found.runs], found.gaps, found.tops, best, strict=True)
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
    touching = in_steps(number for number, gap in enumerate(found.gaps, 1) if gap == 0)
    name = surface_names(layout)[surface.index]
    head = ["nosing", "station", "elevation", "rise", "run", "gap, plumb", "rail, plumb"]
    head += ["best rail"] if ideals else []
    return [
        "",
        *paragraph(
            f"{name[0].upper()}{name[1:]}: pitch {degrees_words(surface.pitch_deg)}, the straightedge on nosings "
            f"{touching}. Gap: plumb from nosing to straightedge. Rail: plumb from nosing to its top, as laid out."
        ),
        *table(head, rows, left=0),
        *listed([*_differences(found.spread, figures), *_straight(surface, straight, figures)]),
    ]


def _differences(steps: StepSpread, figures: Figures) -> list[str]:
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
        f"{what}s, numbered from below: largest difference of any two {figures.between(spread.largest)} "
        f"({what} {low} the smallest, {high} the largest); of neighbours {figures.between(spread.adjacent)} "
        f"({one} and {other})"
    )


def _straight(surface: PlacedSurface, straight: StraightRail, figures: Figures) -> list[str]:
    tops = straight.steps.tops
    found = [_band(surface, straight.required, tops, "", figures)]
    if straight.optional is not None:
        found.append(_band(surface, straight.optional, tops, " for the optional rules too", figures))
    return found


def _band(surface: PlacedSurface, band: StraightBand, tops: Sequence[Fraction], where: str, figures: Figures) -> str:
    rails = band.rails
    words = f"straight rails{where}, {_limits(band, figures)}: "
    if rails.blocking is not None:
        low, high = (_numbers(surface, places) for places in (rails.blocking.too_low, rails.blocking.too_high))
        return (
            f"{words}there is none. A rail high enough over {_nosings(low)} is too high over {_nosings(high)}: the "
            f"band would have to be {figures.between(rails.blocking.by)} wider"
        )
    if rails.best is None:
        return f"{words}{clean(rails.why)}; {_laid_out(tops, figures)}"
    best = rails.best
    low, high = (_numbers(surface, places) for places in (best.at_least, best.at_most))
    return (
        f"{words}{_ends(surface, band, figures)}. The best, farthest from both limits, keeps "
        f"{figures.between(best.margin)} from each: least over {_nosings(low)}, greatest over {_nosings(high)}; its "
        f"pitch is {fixed(pitch_deg(best.line.slope), 2)}°; {_laid_out(tops, figures)}"
    )


def _laid_out(tops: Sequence[Fraction], figures: Figures) -> str:
    return f"the rail as laid out is {figures.between(min(tops))} to {figures.between(max(tops))} over them"


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


def _numbers(surface: PlacedSurface, places: Sequence[int]) -> str:
    return in_steps(_number(surface, index) for index in places)


def _nosings(numbers: str) -> str:
    return f"nosing{'s' if not numbers.isdigit() else ''} {numbers}"
