"""A whole guard's give: the page of the command."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stairguard.model.guard.guard_loads import GuardReport
from stairguard.model.guard.solved_layout import Check, CheckedLayout
from stairguard.model.guard.strand_deflection import WIRE_TABLE, NamedTension
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
from stairguard.reports.words.deflection_words import NO_TABLE
from stairguard.reports.words.lengths import Figures, figure, solved
from stairguard.reports.words.one_line import clean
from stairguard.reports.words.rules.finding_words import subject_words
from stairguard.reports.words.rules.verdict_words import FAILS, passes_loudly, passes_words


def guard_text(checked: CheckedLayout, report: GuardReport, named: Sequence[NamedTension]) -> str:
    """Write a guard's give as one plain page, with what would hold the pushes that publications name."""
    layout = checked.layout
    figures = Figures(layout.job.unit, layout.job.mark)
    lines = [
        *guard_head(checked, report, checked.tabled),
        *underlined(f"Strand give: {clean(layout.job.title) or 'stair guard'}"),
        *paragraph(_verdict(report, checked.tabled)),
        *give_list(layout, named, figures),
        *(named_list(named, layout.job.unit) if layout.asks_push else []),
        *_tables(checked),
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


def _tables(checked: CheckedLayout) -> Iterator[str]:
    found, force = checked.tabled, force_unit(checked.layout.job.unit)
    if not found:
        if checked.layout.job.push.probe == "cone" and checked.layout.job.push.force is not None:
            yield from [*heading("BY A PUBLISHED TABLE"), *paragraph(NO_TABLE)]
        return
    yield from heading("BY A PUBLISHED TABLE")
    yield from paragraph(
        f"{WIRE_TABLE}, calibrated by pulling this cone through; strands on a slope are not in it. Hold to the greater "
        "of what it asks and what the push needs."
    )
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


def _verdict(report: GuardReport, tabled: Sequence[Check]) -> str:
    if report.passes is None:
        return (
            "Nothing is judged: that takes a force ([push] force), a tension ([strand] tension), and a rule on "
            "openings or a probe's size ([push] sphere)."
        )
    if report.passes and not all(check.passes for check in tabled):
        return f"Verdict under the push: {FAILS} by a published table; by the model it passes."
    if report.give.passes and not report.passes:
        return f"Verdict under the push: {FAILS} at the lowest tension to come; it passes at the tension as set."
    return f"Verdict under the push: {passes_loudly(report.passes)}."
