"""The page a carpenter works from: plain text, every length plumb, square, level or along, and said so."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from stairguard.model.guard.guard_openings import Opening
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.told import ToldLayout
from stairguard.reports.page.deflection.deflection_list import give_list
from stairguard.reports.page.guard.cut_list import cut_list, stock_list
from stairguard.reports.page.guard.joint_list import joint_list
from stairguard.reports.page.guard.page_head import inspection_head
from stairguard.reports.page.guard.post_list import hole_list, post_list
from stairguard.reports.page.guard.run_list import comparison_list, run_list
from stairguard.reports.page.guard.surface_list import rail_list, strand_list, surface_list
from stairguard.reports.page.guard.survey_list import survey_list
from stairguard.reports.page.page_text import heading, listed, paragraph, table, underlined
from stairguard.reports.page.rules.finding_list import findings_list
from stairguard.reports.words.caution_words import caution_texts
from stairguard.reports.words.grouping import groups
from stairguard.reports.words.lengths import UNIT_WORDS, Figures, stated
from stairguard.reports.words.names import alike_openings_words
from stairguard.reports.words.one_line import clean
from stairguard.reports.words.opening_words import touch_words
from stairguard.reports.words.rules.alike_findings import tally
from stairguard.reports.words.rules.pack_words import rules_words
from stairguard.reports.words.rules.verdict_words import passes_loudly, passes_words
from stairguard.reports.words.settle_words import left_open


def report(told: ToldLayout, *, example: bool = False) -> str:
    """Write the whole result as one plain page of at most 100 columns, ending in a line break.

    Its first line is the result; of an ``example``, the job that ships with the package, it says so.
    """
    layout, inspection = told.layout, told.inspection
    figures = Figures(layout.job.unit, layout.job.mark)
    lines = [
        *inspection_head(inspection, designed=True, example=example, left=left_open(layout)),
        *_head(told, figures),
        *surface_list(layout, figures),
        *survey_list(layout, figures),
        *rail_list(layout, figures),
        *strand_list(layout, figures),
        *joint_list(layout, figures),
        *post_list(layout, figures),
        *hole_list(layout, figures),
        *_openings(layout, figures),
        *give_list(layout, told.named, figures),
        *run_list(layout, figures),
        *comparison_list(layout, figures),
        *cut_list(layout, figures),
        *stock_list(layout, figures),
        *findings_list(inspection),
        *heading("CAUTIONS"),
        *listed(map(clean, caution_texts(inspection.cautions, inspection.unit))),
    ]
    return "\n".join(lines) + "\n"


def report_head(told: ToldLayout, *, example: bool = False) -> str:
    """The start of that page alone."""
    left = left_open(told.layout)
    return "\n".join(inspection_head(told.inspection, designed=True, example=example, left=left))


def _head(told: ToldLayout, figures: Figures) -> list[str]:
    checked, layout = told.checked, told.layout
    failed = sum(not check.passes for check in checked.checks)
    open_failed = sum(opening.passes is False for opening in layout.openings)
    weak = 0 if layout.give is None else len(layout.give.yielding)
    counts = "" if checked.passes else f": {failed} of the checks and {open_failed} of the openings fail"
    counts += f", and {weak} openings do not hold the push" if weak else ""
    return [
        *underlined(clean(layout.job.title) or "Stair guard"),
        *paragraph(
            f"Lengths in {UNIT_WORDS[figures.unit]}. What is to be marked is rounded to "
            f"{figures.tape(figures.mark)}. Stations and heights run from one datum each, so that no "
            "rounding adds up."
        ),
        *paragraph(rules_words(layout.rules)),
        *paragraph(f"Verdict: {passes_loudly(checked.passes)}{counts}. Findings: {tally(told.inspection)}."),
    ]


def _openings(layout: Layout, figures: Figures) -> list[str]:
    alike = groups(layout.openings, lambda opening: _opening_key(layout, opening, figures))
    rows = [
        [
            passes_words(opening.passes, "no rule"),
            figures.decimal(opening.sphere, _limit(opening)),
            figures.decimal(opening.sphere_as_marked, _limit(opening)),
            "" if opening.rule is None else stated(opening.rule.value),
            str(len(same)),
            _opening_words(layout, same),
        ]
        for same in sorted(alike, key=lambda same: _urgency(same[0]))
        for opening in same[:1]
    ]
    return [
        *heading("OPENINGS, WORST FIRST"),
        *paragraph(
            "The largest sphere, square to the guard, by its diameter: as designed and with every hole at "
            "its mark. Equal ones are counted together. A limit marked < stops a sphere of exactly its "
            "size; one marked <= lets exactly its size pass."
        ),
        *table(
            ["verdict", "sphere", "as marked", "limit", "count", "where; what it touches; clause"],
            rows,
            words=True,
        ),
    ]


def _opening_key(layout: Layout, opening: Opening, figures: Figures) -> tuple[object, ...]:
    """What is said of an opening but its place. Spheres by their figures, so that rounding tells no two apart."""
    same = (
        figures.decimal(opening.sphere, _limit(opening)),
        figures.decimal(opening.sphere_as_marked, _limit(opening)),
    )
    return layout.line.surfaces[opening.surface].kind, opening.rule, opening.passes, opening.touches, *same


def _limit(opening: Opening) -> Fraction | None:
    return None if opening.rule is None else opening.rule.value


def _opening_words(layout: Layout, same: Sequence[Opening]) -> str:
    opening, clause = same[0], ""
    if opening.rule is not None:
        sign = "<=" if opening.rule.inclusive else "<"
        clause = f"; {clean(opening.rule.clause)} ({sign})"
        clause += ", the larger sphere: see CAUTION above" if opening.rule.place == "step triangle" else ""
    if opening.leave is not None:
        clause += f"; larger, by leave of {clean(opening.leave.clause)}"
    touched = ", ".join(map(touch_words, opening.touches))
    return f"{alike_openings_words(layout, same)}; {touched}{clause}"


def _urgency(opening: Opening) -> tuple[int, float]:
    """Sort key: failing first, then by the share of the limit that is used up; without a rule last."""
    if opening.rule is None:
        return 2, -opening.sphere
    used = max(opening.sphere, opening.sphere_as_marked) / float(opening.rule.value)
    return (0 if opening.passes is False else 1), -used
