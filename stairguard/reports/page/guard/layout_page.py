"""The page a carpenter works from: plain text, every length plumb, square, level or along, and said so."""

from __future__ import annotations

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
from stairguard.reports.words.lengths import Figures, stated
from stairguard.reports.words.lists.result_words import alike_words, figures_words, spheres_words, verdict_words
from stairguard.reports.words.one_line import clean
from stairguard.reports.words.opening_words import out_of_side_words
from stairguard.reports.words.rules.pack_words import rules_words
from stairguard.reports.words.rules.verdict_words import passes_words
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
    layout = told.layout
    return [
        *underlined(clean(layout.job.title) or "Stair guard"),
        *paragraph(figures_words(figures)),
        *paragraph(rules_words(layout.rules)),
        *paragraph(verdict_words(told)),
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
            alike_words(layout, same, figures),
        ]
        for same in sorted(alike, key=lambda same: _urgency(same[0]))
        for opening in same[:1]
    ]
    return [
        *heading("OPENINGS, WORST FIRST"),
        *paragraph(spheres_words(layout, figures)),
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
        out_of_side_words(opening, figures),
    )
    return layout.line.surfaces[opening.surface].kind, opening.rule, opening.passes, opening.touches, *same


def _limit(opening: Opening) -> Fraction | None:
    return None if opening.rule is None else opening.rule.value


def _urgency(opening: Opening) -> tuple[int, float]:
    """Sort key: failing first, then by the share of the limit that is used up; without a rule last."""
    if opening.rule is None:
        return 2, -opening.sphere
    used = max(opening.sphere, opening.sphere_as_marked) / float(opening.rule.value)
    return (0 if opening.passes is False else 1), -used
