"""The inspection of a guard as it stands: a page an official can read."""

from __future__ import annotations

from stairguard.model.findings import Inspection
from stairguard.reports.page.guard.page_head import inspection_head
from stairguard.reports.page.page_text import heading, listed, paragraph, underlined
from stairguard.reports.page.rules.finding_list import findings_list
from stairguard.reports.words.caution_words import caution_texts
from stairguard.reports.words.one_line import clean
from stairguard.reports.words.rules.alike_findings import tally
from stairguard.reports.words.rules.pack_words import findings_words, measured_words, rules_words


def inspection_report(inspection: Inspection) -> str:
    """Write an inspection as a plain page.

    Parameters
    ----------
    inspection
        From `inspect`.

    Returns
    -------
    str
        At most 100 columns, ending in a line break; its first line is the result.
    """
    lines = [
        *inspection_head(inspection, designed=False),
        *underlined(clean(inspection.title) or "Stair guard"),
        *paragraph(measured_words(inspection.unit)),
        *paragraph(rules_words(inspection.rules)),
        *paragraph(findings_words(tally(inspection))),
        *findings_list(inspection),
        *heading("CAUTIONS"),
        *listed(map(clean, caution_texts(inspection.cautions, inspection.unit))),
    ]
    return "\n".join(lines) + "\n"
