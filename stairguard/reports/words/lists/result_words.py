"""What a layout comes to, in English: how its figures are read, its verdict, and each opening that is listed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from stairguard.model.guard.guard_openings import Opening
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.told import ToldLayout
from stairguard.reports.words.lengths import UNIT_WORDS, Figures
from stairguard.reports.words.names import alike_openings_words
from stairguard.reports.words.one_line import clean
from stairguard.reports.words.opening_words import out_of_side_words, touch_words
from stairguard.reports.words.rules.alike_findings import tally
from stairguard.reports.words.rules.verdict_words import outcome_loudly

_SPHERES_TOLD: Final = (
    "The largest sphere, square to the guard, by its diameter: as designed and with every hole at "
    "its mark. Equal ones are counted together. A limit marked < stops a sphere of exactly its "
    "size; one marked <= lets exactly its size pass."
)


def spheres_words(layout: Layout, figures: Figures) -> str:
    """How the table of openings is read, and what their spheres get past where strands stand out from the stair."""
    out = layout.job.post.out
    if not out:
        return _SPHERES_TOLD
    return (
        f"{_SPHERES_TOLD} Strands stand {figures.tape(out)} out from the side of the stair: between it and them the "
        "sphere is the largest that finds a way out past both, told where that is narrowest."
    )


def figures_words(figures: Figures) -> str:
    """In which unit lengths are, how marks are rounded, and from where they run."""
    return (
        f"Lengths in {UNIT_WORDS[figures.unit]}. What is to be marked is rounded to "
        f"{figures.tape(figures.mark)}. Stations and heights run from one datum each, so that no "
        "rounding adds up."
    )


def verdict_words(told: ToldLayout) -> str:
    """The verdict, how many checks and openings fail, and the findings counted."""
    checked, layout = told.checked, told.layout
    failed = sum(not check.passes for check in checked.checks)
    open_failed = sum(opening.passes is False for opening in layout.openings)
    weak = 0 if layout.give is None else len(layout.give.yielding)
    counts = f": {failed} of the checks and {open_failed} of the openings fail" if checked.passes is False else ""
    counts += f", and {weak} openings do not hold the push" if weak else ""
    unsolved = 0 if layout.give is None else len(layout.give.unsolved)
    counts += f"{', and' if counts else ':'} the push is not solved at {unsolved} openings" if unsolved else ""
    return f"Verdict: {outcome_loudly(checked.outcome)}{counts}. Findings: {tally(told.inspection)}."


def alike_words(layout: Layout, same: Sequence[Opening], figures: Figures) -> str:
    """Where openings that are told together are, what their sphere touches, and the clause they answer to."""
    opening, clause = same[0], ""
    if opening.rule is not None:
        sign = "<=" if opening.rule.inclusive else "<"
        clause = f"; {clean(opening.rule.clause)} ({sign})"
        clause += ", the larger sphere: see CAUTION above" if opening.rule.place == "step triangle" else ""
    if opening.leave is not None:
        clause += f"; larger, by leave of {clean(opening.leave.clause)}"
    touched = ", ".join(map(touch_words, opening.touches))
    touched += out_of_side_words(opening, figures)
    return f"{alike_openings_words(layout, same)}; {touched}{clause}"
