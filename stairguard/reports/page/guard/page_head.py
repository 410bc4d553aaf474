"""The start of a page: what came of it and what to do, each failure with what mends it, then what is tight."""

from __future__ import annotations

from collections.abc import Sequence

from stairguard.model.findings import Inspection
from stairguard.reports.page.page_text import listed, paragraph, underlined
from stairguard.reports.words.general_cautions import EXAMPLE, TO_BE_SURE
from stairguard.reports.words.one_line import clean
from stairguard.reports.words.rules.matter_words import (
    Matter,
    inspection_result,
    larger_sphere_caution,
    matters,
    tight_heading,
    tight_list,
)
from stairguard.reports.words.settle_words import decisions


def inspection_head(
    inspection: Inspection, *, designed: bool, example: bool = False, left: tuple[str, ...] = ()
) -> list[str]:
    """Start the page of a guard as designed, or as measured: its first line is the result.

    ``left`` is what a design leaves open besides what its findings tell.
    """
    first = f"{EXAMPLE} " if example else ""
    return [
        *result_lines(first + inspection_result(inspection, designed=designed)),
        *matter_lines(matters(inspection)),
        *_two_figures(inspection),
        *_to_settle(inspection, left),
        *_larger_sphere(inspection),
        *_tight(inspection),
        "",
    ]


def result_lines(text: str) -> list[str]:
    """The first lines of a page."""
    return underlined(text)


def matter_lines(found: Sequence[Matter]) -> list[str]:
    """Tell each: clause, place, found, asked, and what to do."""
    lines: list[str] = []
    for one in found:
        lines += ["", *paragraph(f"{one.head}: {clean(one.clause)}")]
        facts = [("where", one.where), ("found", one.found), ("asked", one.asked), ("short by", one.short)]
        for name, text in (*facts, ("fix", one.fix)):
            lines += listed([f"{name}: {clean(text)}"]) if text else []
    return lines


def _two_figures(inspection: Inspection) -> list[str]:
    """How the two figures of a fix differ, said once."""
    told = (fix.to_be_sure for one in inspection.findings if one.verdict == "fail" for fix in one.fixes)
    return ["", *paragraph(TO_BE_SURE)] if any(told) else []


def _to_settle(inspection: Inspection, more: tuple[str, ...]) -> list[str]:
    """One line a class, ``more`` first: how many, the worst, and where the page goes on about it."""
    texts = [*more, *decisions(inspection)]
    return ["", *paragraph("TO SETTLE, though no clause fails by it:"), *listed(map(clean, texts))] if texts else []


def _larger_sphere(inspection: Inspection) -> list[str]:
    caution = larger_sphere_caution(inspection)
    return ["", *paragraph(caution)] if caution else []


def _tight(inspection: Inspection) -> list[str]:
    found = tight_list(inspection)
    return ["", *paragraph(tight_heading(inspection)), *listed(found)] if found else []
