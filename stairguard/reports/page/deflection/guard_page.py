"""A whole guard's give: the page of the command."""

from __future__ import annotations

from collections.abc import Iterator

from stairguard.model.guard.guard_loads import GuardReport
from stairguard.model.guard.solved_layout import CheckedLayout
from stairguard.model.job import Job
from stairguard.model.published.known_figure import force_unit
from stairguard.reports.page.deflection.deflection_head import guard_head
from stairguard.reports.page.deflection.deflection_list import (
    bay_list,
    give_list,
    load_list,
    named_list,
    upkeep_list,
    variant_list,
)
from stairguard.reports.page.deflection.strand_sections import strand_lines
from stairguard.reports.page.page_text import heading, listed, paragraph, table, underlined
from stairguard.reports.words.caution_words import push_cautions
from stairguard.reports.words.deflection.deflection_words import NO_TABLE
from stairguard.reports.words.deflection.give_words import TABLE_NOTE
from stairguard.reports.words.lengths import Figures, figure, solved
from stairguard.reports.words.one_line import clean
from stairguard.reports.words.rules.finding_words import subject_words
from stairguard.reports.words.rules.verdict_words import passes_words


def guard_text(checked: CheckedLayout, report: GuardReport) -> str:
    """Write a guard's give as one plain page, with what would hold the pushes that publications name."""
    layout = checked.layout
    figures = Figures(layout.job.unit, layout.job.mark)
    lines = [
        *guard_head(layout, report),
        *underlined(f"Strand give: {clean(layout.job.title) or 'stair guard'}"),
        *give_list(layout, report.named, figures),
        *(named_list(report.named, layout.job.unit) if layout.asks_push else []),
        *_tables(layout.job, report),
        *bay_list(layout, report, figures),
        *load_list(layout, report),
        *upkeep_list(layout, report),
        *variant_list(report.compared, layout.job.unit),
        *heading("THE STRAND"),
        *strand_lines(report.steel),
        *heading("CAUTIONS"),
        *listed(map(clean, push_cautions(checked, report))),
    ]
    return "\n".join(lines) + "\n"


def _tables(job: Job, report: GuardReport) -> Iterator[str]:
    found, force = report.tabled, force_unit(job.unit)
    if not found:
        if job.push.probe == "cone" and job.push.force is not None:
            yield from [*heading("BY A PUBLISHED TABLE"), *paragraph(NO_TABLE)]
        return
    yield from heading("BY A PUBLISHED TABLE")
    yield from paragraph(TABLE_NOTE)
    rows = [
        [
            passes_words(c.passes),
            figure(c.value, force, c.limit, 5),
            solved(c.limit, force),
            subject_words(c.what),
        ]
        for c in found
    ]
    yield from table(["verdict", "tension", "at least", "what"], rows, words=True)
