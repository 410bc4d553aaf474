"""Findings as lines of a page."""

from __future__ import annotations

from collections.abc import Sequence

from stairguard.model.findings import Finding, Inspection
from stairguard.reports.page.page_text import heading, listed, paragraph, table
from stairguard.reports.words.fix_words import fixes_words
from stairguard.reports.words.lengths import margin_words, rough, solved
from stairguard.reports.words.one_line import clean
from stairguard.reports.words.rules.alike_findings import alike, findings_place, found_figure, status_words
from stairguard.reports.words.rules.reason_words import conflict_words, reasons_words
from stairguard.reports.words.rules.verdict_words import HOW_FINDINGS_READ, LIST_VERDICTS


def findings_list(inspection: Inspection) -> list[str]:
    """All findings, the gravest first, with what would mend each; those that pass in a table."""
    lines = heading("FINDINGS, THE GRAVEST FIRST")
    lines += paragraph(HOW_FINDINGS_READ)
    if inspection.conflicts:
        lines += ["", *listed(f"CONFLICT. {clean(conflict_words(one))}" for one in inspection.conflicts)]
    rows = [_row(same) for same in alike(inspection.findings)]
    lines += ["", *table(["verdict", "value", "limit", "margin", "what; clause (status)"], rows, words=True)]
    return lines


def _row(same: Sequence[Finding]) -> list[str]:
    one = same[0]
    own = "" if one.unit in ("in", "mm") else f" {one.unit}"
    limit = f"{one.kind} {found_figure(one.limit)}{own}".strip()
    return [
        LIST_VERDICTS[one.verdict],
        found_figure(one.value, one.limit),
        limit,
        _margin(one.margin, one.unit),
        _words(same),
    ]


def _margin(margin: float | None, unit: str) -> str:
    return "" if margin is None else margin_words(margin, unit)


def _words(same: Sequence[Finding]) -> str:
    one = same[0]
    parts = [findings_place(same), status_words(one)]
    if one.place.station is not None and one.verdict != "pass":
        parts.append(f"station {solved(one.place.station)}")
    if one.guard_band:
        parts.append(f"guard band {rough(one.guard_band, one.unit)}")
    if one.why:
        parts.append(reasons_words(one.why))
    if one.fixes:
        parts.append(f"FIX: {fixes_words(one.fixes)}")
    return clean("; ".join(part.rstrip(".") for part in parts))
