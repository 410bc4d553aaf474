"""The inspection of a guard as it stands: a page an official can read."""

from __future__ import annotations

from stairguard.model.findings import Inspection
from stairguard.model.rules import RuleSet
from stairguard.reports.page.guard.page_head import inspection_head
from stairguard.reports.page.page_text import heading, listed, paragraph, underlined
from stairguard.reports.page.rules.finding_list import findings_list
from stairguard.reports.words.caution_words import caution_texts
from stairguard.reports.words.lengths import UNIT_WORDS
from stairguard.reports.words.one_line import clean
from stairguard.reports.words.rules.alike_findings import tally


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
    unit = UNIT_WORDS[inspection.unit]
    lines = [
        *inspection_head(inspection, designed=False),
        *underlined(clean(inspection.title) or "Stair guard"),
        *paragraph(f"The guard as measured. Lengths in {unit}; heights plumb."),
        *paragraph(rules_words(inspection.rules)),
        *paragraph(f"Findings: {tally(inspection) or 'none'}."),
        *findings_list(inspection),
        *heading("CAUTIONS"),
        *listed(map(clean, caution_texts(inspection.cautions, inspection.unit))),
    ]
    return "\n".join(lines) + "\n"


def rules_words(rules: RuleSet) -> str:
    """Name the pack, with its edition and where it holds, so far as it says, and whether it was amended."""
    words = [f"Rules: {clean(rules.name)} ({clean(rules.title)})."]
    words += [
        f"{what}: {clean(text).rstrip('.')}."
        for what, text in (("Edition", rules.edition), ("Jurisdiction", rules.jurisdiction))
        if text
    ]
    if rules.amended:
        words.append(f"Amended locally in {len(rules.amended)} clauses: see the cautions.")
    return " ".join(words)
