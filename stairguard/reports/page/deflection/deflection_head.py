"""The start of a page on give: whether the push is held, and each place where it is not, with what would hold it."""

from __future__ import annotations

from stairguard.model.guard.guard_loads import GuardReport
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.strand_deflection import BayReport
from stairguard.reports.page.guard.page_head import matter_lines, result_lines
from stairguard.reports.words.deflection.push_matters import bay_matters, bay_result, guard_matters, guard_result


def guard_head(layout: Layout, report: GuardReport) -> list[str]:
    """Start a guard's page: the result first, then every opening that gives way, the table and what is to come."""
    found = guard_matters(layout, report)
    return [*result_lines(guard_result(report, len(found))), *matter_lines(found), ""]


def bay_head(report: BayReport) -> list[str]:
    """Start one bay's page: the result first, then each thing that fails and what would hold it."""
    return [*result_lines(bay_result(report)), *matter_lines(bay_matters(report)), ""]
