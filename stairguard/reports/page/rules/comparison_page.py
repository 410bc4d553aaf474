"""The same guard under several rule packs: a row a matter, a column a pack."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from stairguard.model.comparison import Anew, RulesCompared, SurfaceStrands
from stairguard.model.findings import Inspection
from stairguard.reports.page.guard.page_head import matter_lines, result_lines
from stairguard.reports.page.page_text import WIDTH, heading, listed, paragraph, table, underlined
from stairguard.reports.words.caution_words import caution_texts
from stairguard.reports.words.lengths import fixed, over_words, solved
from stairguard.reports.words.names import counted_surface
from stairguard.reports.words.one_line import clean
from stairguard.reports.words.rules.alike_findings import counted
from stairguard.reports.words.rules.compared_matters import gravest, matter_words
from stairguard.reports.words.rules.comparison_words import (
    LAID_OUT_ANEW,
    compared_words,
    limit_kept,
    not_laid_out,
    of_pack,
    results_words,
    under_pack,
)
from stairguard.reports.words.rules.matter_words import matters
from stairguard.reports.words.rules.reason_words import conflict_words
from stairguard.reports.words.rules.verdict_words import COLUMN_VERDICTS, UNSOLVED, outcome_short, passes_words

_COLUMNS: Final = (3, 2, 1)  # packs side by side on a page, as many as fit


def comparison_report(compared: RulesCompared) -> str:
    """Write a comparison of packs as a plain page.

    Parameters
    ----------
    compared
        From `compare_rules`.

    Returns
    -------
    str
        At most 100 columns, ending in a line break.
    """
    lines = [
        *_head(compared),
        *underlined(clean(compared.title) or "Stair guard"),
        *paragraph(compared_words(compared)),
        *heading("VERDICTS"),
        *table(["pack", "verdict", *COLUMN_VERDICTS.values()], [_verdicts(each) for each in compared.inspections]),
    ]
    lines += next(_matters(compared.inspections, columns) for columns in _COLUMNS if _fits(compared, columns))
    conflicts = [
        of_pack(each.rules.name, conflict_words(one)) for each in compared.inspections for one in each.conflicts
    ]
    if conflicts:
        lines += [*heading("CONFLICTS"), *listed(conflicts)]
    if compared.anew:
        lines += _anew(compared.anew)
    return "\n".join([*lines, *heading("CAUTIONS"), *listed(_cautions(compared.inspections))]) + "\n"


def _head(compared: RulesCompared) -> list[str]:
    """The result under each pack, and what fails or cannot be called, pack by pack."""
    lines = result_lines(results_words(compared.inspections))
    for each in compared.inspections:
        found = [replace(one, head=under_pack(one.head, each.rules.name)) for one in matters(each)]
        lines += matter_lines(found)
    return [*lines, ""]


def _fits(compared: RulesCompared, columns: int) -> bool:
    """Whether a page holds so many packs side by side; one at a time it has to."""
    return columns == 1 or max(map(len, _matters(compared.inspections, columns))) <= WIDTH


def _matters(inspections: Sequence[Inspection], columns: int) -> list[str]:
    """Of each matter the gravest finding under each pack, so many packs side by side."""
    worst = [gravest(each) for each in inspections]
    matters = sorted(dict.fromkeys(matter for each in worst for matter in each))
    lines: list[str] = []
    for start in range(0, len(inspections), columns):
        part = range(start, min(start + columns, len(inspections)))
        names = [clean(inspections[k].rules.name) for k in part]
        rows = [[matter_words(m), *(limit_kept(worst[k].get(m)) for k in part)] for m in matters]
        told = [row for row in rows if any(row[1:])]
        if told:
            lines += [*heading("MATTER BY MATTER"), *table(["matter", *names], told, left=len(names) + 1)]
    return lines


def _cautions(inspections: Sequence[Inspection]) -> Iterator[str]:
    """Cautions that hold under every pack, then each pack's own."""
    said = [caution_texts(each.cautions, each.unit) for each in inspections]
    shared = [text for text in said[0] if all(text in texts for texts in said)]
    yield from map(clean, shared)
    for each, texts in zip(inspections, said, strict=True):
        yield from (of_pack(each.rules.name, text) for text in texts if text not in shared)


def _verdicts(each: Inspection) -> list[str]:
    told = ("fail", "too close to call")  # as many as the start of the page tells
    counts = [str(counted(each, v)[0] if v in told else each.count(v)) for v in COLUMN_VERDICTS]
    return [clean(each.rules.name), outcome_short(each.outcome), *counts]


def _anew(anew: Sequence[Anew]) -> list[str]:
    rows = [
        [clean(each.rules), passes_words(each.passes, UNSOLVED), counted_surface(s.surface, s.kind), *_figures(s)]
        for each in anew
        for s in each.surfaces
    ]
    return [
        *heading("LAID OUT ANEW UNDER EACH"),
        *paragraph(LAID_OUT_ANEW),
        *table(["pack", "verdict", "surface", "rail", "strands", "spacing, square", "lowest, plumb"], rows, left=3),
        *listed(not_laid_out(each) for each in anew if each.why),
    ]


def _figures(s: SurfaceStrands) -> list[str]:
    return [solved(s.rail_height), str(s.count), fixed(s.spacing, 4), over_words(s.lowest, 4)]
