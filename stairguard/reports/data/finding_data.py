"""Findings and inspections as plain data, ready for JSON, and as a table for a spreadsheet."""

from __future__ import annotations

from typing import Any, Final

from stairguard.model.findings import VERDICTS, Finding, Inspection, Verdict
from stairguard.reports.data.csv_text import CsvCell, spreadsheet
from stairguard.reports.data.encode import Encoder, Keys, Topic
from stairguard.reports.words.caution_words import caution_texts
from stairguard.reports.words.fix_words import fixes_words
from stairguard.reports.words.rules.finding_words import spot_words, subject_words
from stairguard.reports.words.rules.reason_words import conflict_words, reasons_words
from stairguard.reports.words.rules.rule_words import amendments_words


def counts(inspection: Inspection) -> dict[Verdict, int]:
    """How many findings there are of each verdict, the gravest first."""
    return {verdict: inspection.count(verdict) for verdict in VERDICTS}


def conflicts_data(inspection: Inspection) -> list[str]:
    """What no one figure can meet, in words."""
    return [conflict_words(one) for one in inspection.conflicts]


FINDINGS: Final[Topic] = {
    Finding: Keys(
        "verdict clause status binding quantity scope what surface=place.surface where "
        "station=place.station value kind limit unit margin guard_band why fix",
        left_out="fixes",  # told in the words of the fix
        or_null="where kind why fix",
        made={
            "what": lambda one: subject_words(one.what),
            "where": lambda one: spot_words(one.place.where),
            "why": lambda one: reasons_words(one.why),
            "fix": lambda one: fixes_words(one.fixes),
        },
    ),
    Inspection: Keys(
        "unit title rules=rules.name passes outcome counts findings conflicts amended cautions",
        made={
            "counts": counts,
            "conflicts": conflicts_data,
            "amended": lambda found: amendments_words(found.rules),
            "cautions": lambda found: list(caution_texts(found.cautions, found.unit)),
        },
        left_out="mark",
    ),
}
COLUMNS: Final = tuple(FINDINGS[Finding].of(Finding))
"""Of the spreadsheet, and keys of the data; surfaces are counted from 0 in data, from 1 in the spreadsheet."""

_encode: Final = Encoder(FINDINGS)


def inspection_result(inspection: Inspection) -> dict[str, Any]:
    """Put an inspection into plain data, ready for JSON.

    Parameters
    ----------
    inspection
        From `inspect`.

    Returns
    -------
    dict
        ``unit, title, rules, passes, outcome``; ``counts`` by verdict; ``findings``, the gravest first, as of a
        layout's result; ``conflicts`` that no one figure can meet, in words; what is ``amended`` of the pack;
        ``cautions``. Lengths are in ``unit``, surfaces counted from 0. ``outcome`` is "complies", "does not comply",
        "too close to call" or "incomplete": no height, or no opening, was measured of a surface whose rules ask for
        one.
    """
    return _encode.record(inspection)


def finding_data(one: Finding) -> dict[str, Any]:
    """One finding as plain data, as a layout's result has it."""
    return _encode.record(one)


def findings_csv(inspection: Inspection) -> str:
    """Findings as comma-separated values, a line each under one of headings; conflicts come as lines of their own."""
    rows: list[dict[str, CsvCell]] = [{"verdict": "conflict", "what": text} for text in conflicts_data(inspection)]
    for row in _encode(inspection.findings):
        counted = None if row["surface"] is None else row["surface"] + 1  # people count from 1
        rows.append({**row, "surface": counted})
    return spreadsheet(COLUMNS, rows)
