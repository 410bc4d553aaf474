"""Measured flights on the page: the straightedge on their nosings, and the straight rails these allow."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.straight import StepSpread, StraightRail
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.reports.page.page_text import heading, listed, paragraph, table
from stairguard.reports.words.lengths import Figures
from stairguard.reports.words.lists.survey_words import HOW_NUMBERED, band_words, difference_words, flight_words
from stairguard.reports.words.names import surface_names


def survey_list(layout: Layout, figures: Figures) -> list[str]:
    """Tell every measured flight: its nosings, what lies between them and the straightedge, its straight rails."""
    if not layout.straight:
        return []
    lines = [*heading("MEASURED FLIGHTS"), *paragraph(HOW_NUMBERED)]
    for straight in layout.straight:
        lines += _flight(layout, layout.line.surfaces[straight.surface], straight, figures)
    return lines


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
    name = surface_names(layout)[surface.index]
    head = ["nosing", "station", "elevation", "rise", "run", "gap, plumb", "rail, plumb"]
    head += ["best rail"] if ideals else []
    return [
        "",
        *paragraph(flight_words(name, surface, found.gaps)),
        *table(head, rows, left=0),
        *listed([*_differences(found.spread, figures), *_straight(surface, straight, figures)]),
    ]


def _differences(steps: StepSpread, figures: Figures) -> list[str]:
    found = []
    # a rise is named by the nosing it leads to, like a riser; run n lies between nosings n and n + 1
    for what, spread in (("riser", steps.rises), ("run", steps.runs)):
        if spread is not None:
            found.append(difference_words(what, spread, figures))
    return found


def _straight(surface: PlacedSurface, straight: StraightRail, figures: Figures) -> list[str]:
    tops = straight.steps.tops
    found = [band_words(surface, straight.required, tops, figures, optional=False)]
    if straight.optional is not None:
        found.append(band_words(surface, straight.optional, tops, figures, optional=True))
    return found
