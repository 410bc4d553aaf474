"""One guard under several rule packs as plain data, ready for JSON, and as a table for a spreadsheet."""

from __future__ import annotations

from typing import Any, Final

from stairguard.model.comparison import Anew, RulesCompared, SurfaceStrands
from stairguard.model.findings import Inspection
from stairguard.reports.data.csv_text import CsvCell, spreadsheet
from stairguard.reports.data.encode import Encoder, Keys, Topic
from stairguard.reports.data.finding_data import FINDINGS, conflicts_data, counts, finding_data
from stairguard.reports.words.caution_words import caution_texts
from stairguard.reports.words.rules.compared_matters import gravest, matter_words
from stairguard.reports.words.rules.rule_words import amendments_words


def _cautions(compared: RulesCompared) -> dict[str, None]:
    """Of all packs, each once."""
    return dict.fromkeys(text for each in compared.inspections for text in caution_texts(each.cautions, each.unit))


COMPARISON: Final[Topic] = {
    RulesCompared: Keys(
        "unit title made_by packs=inspections anew cautions",
        or_null="made_by",
        made={"cautions": lambda compared: list(_cautions(compared))},
    ),
    Inspection: Keys(
        "rules=rules.name passes outcome counts findings conflicts amended",
        made={"counts": counts, "conflicts": conflicts_data, "amended": lambda found: amendments_words(found.rules)},
        left_out="title unit mark cautions",  # all but the mark are told of the whole
    ),
    Anew: Keys("rules passes why surfaces", or_null="why"),
    SurfaceStrands: Keys("surface kind rail_height strands=count square_spacing=spacing lowest"),
}

_encode: Final = Encoder(FINDINGS, COMPARISON)


def comparison_result(compared: RulesCompared) -> dict[str, Any]:
    """Put a comparison of packs into plain data, ready for JSON.

    Parameters
    ----------
    compared
        From `compare_rules`.

    Returns
    -------
    dict
        ``unit, title``, the pack it was ``made_by`` (null: as measured), and of all ``packs`` ``rules, passes, outcome,
        counts, findings, conflicts, amended`` as of an inspection; ``anew``, the job laid out under each: its
        ``rules``, whether it ``passes``, or ``why`` it cannot be laid out, and its ``surfaces``: the index of the
        ``surface``, its ``kind``, ``rail_height``, how many ``strands``, their ``square_spacing``, the ``lowest`` one's
        plumb height; and the ``cautions`` of all packs. Lengths are in ``unit``, surfaces counted from 0.
    """
    return _encode.record(compared)


def comparison_table(compared: RulesCompared) -> str:
    """Write a comparison as comma-separated values: a line a pack and matter, its gravest finding.

    Parameters
    ----------
    compared
        From `compare_rules`.

    Returns
    -------
    str
        A head line and a line a finding; the ``unit`` of each figure stands beside it.
    """
    head = ("rules", "matter", "verdict", "clause", "status", "value", "kind", "limit", "unit", "margin", "what", "fix")
    rows: list[dict[str, CsvCell]] = []
    for each in compared.inspections:
        for matter, one in gravest(each).items():
            told = finding_data(one)
            of_it = {"rules": each.rules.name, "matter": matter_words(matter)}
            rows.append(of_it | {key: told[key] for key in head if key not in of_it})
    return spreadsheet(head, rows)
