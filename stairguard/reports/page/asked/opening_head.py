"""The start of an opening's page: what came of it, the largest sphere beside its limit, and what to do."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stairguard.reports.page.page_text import paragraph, underlined
from stairguard.reports.words.asked.opening_answer_words import result_words, tape_caution
from stairguard.reports.words.general_cautions import TO_BE_SURE

if TYPE_CHECKING:
    from stairguard.model.asked.asked_opening import Opened


def opening_head(answer: Opened) -> list[str]:
    """Start the page of one opening: its first line is the result."""
    caution = tape_caution(answer)
    return [
        *underlined(result_words(answer)),
        *_two_figures(answer),
        *(["", *paragraph(caution)] if caution else []),
        "",
    ]


def _two_figures(answer: Opened) -> list[str]:
    """How the two figures of a fix differ."""
    if answer.outcome is None or not any(fix.to_be_sure for fix in answer.fixes):
        return []
    return ["", *paragraph(TO_BE_SURE)]
