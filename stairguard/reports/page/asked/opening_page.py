"""An opening's answer in words that say why the figure is right."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from stairguard.reports.page.page_text import heading, listed, paragraph, paragraphs, table, underlined
from stairguard.reports.words.asked.inverse_words import how_far
from stairguard.reports.words.asked.largest_words import (
    ALL_ALIKE,
    MOST_LISTED,
    OTHER_POCKETS,
    counted_words,
    edge_contacts,
    edge_reason,
    edge_words,
    more_shares,
    outline_contacts,
    outline_reason,
    outline_words,
    pocket_words,
    step_contacts,
    step_reason,
    step_words,
    sureness_words,
)
from stairguard.reports.words.asked.opening_answer_words import TITLES
from stairguard.reports.words.general_cautions import ALWAYS
from stairguard.reports.words.lengths import brief, figure, fixed, percent

if TYPE_CHECKING:
    from stairguard.model.asked.asked_opening import Opened, Uncertainty
    from stairguard.model.job import Unit


def opening_report(opened: Opened) -> str:
    """Write an opening in words: the sphere, why it is right, what limits and uncertainty make of it.

    Parameters
    ----------
    opened
        From any of the functions that find one.

    Returns
    -------
    str
        At most 100 columns, ending in a line break; its first line is the result.
    """
    from stairguard.reports.page.asked.opening_head import opening_head

    lines = [*opening_head(opened), *underlined(TITLES[opened.form])]
    lines += (
        _edge_lines(opened)
        if opened.form == "edge"
        else _step_lines(opened)
        if opened.of_step
        else _outline_lines(opened)
    )
    lines += paragraphs(counted_words(opened))
    if opened.uncertainty is not None:
        lines += _uncertainty_lines(opened, opened.uncertainty)
    if opened.inverse is not None:
        lines += [*heading("The other way round"), *paragraph(how_far(opened, opened.inverse, opened.unit))]
    lines += [*heading("Cautions"), *listed(ALWAYS)]
    return "\n".join(lines) + "\n"


def _step_lines(answer: Opened) -> Iterator[str]:
    yield from paragraphs(step_words(answer))
    yield from listed(step_contacts(answer))
    yield from paragraph(step_reason(answer))


def _edge_lines(answer: Opened) -> Iterator[str]:
    yield from paragraphs(edge_words(answer))
    yield from listed(edge_contacts(answer))
    yield from paragraph(edge_reason(answer))


def _outline_lines(answer: Opened) -> Iterator[str]:
    yield from paragraphs(outline_words(answer))
    yield from listed(outline_contacts(answer))
    yield from paragraph(outline_reason(answer))
    if len(answer.pockets) > 1:
        yield from paragraph(OTHER_POCKETS)
        yield from listed(pocket_words(answer))


def _uncertainty_lines(answer: Opened, u: Uncertainty) -> Iterator[str]:
    yield from heading("How sure that is")
    yield from paragraphs([answer.assumed, ALL_ALIKE])
    yield ""
    yield from _share_table(u, answer.unit)
    yield ""
    yield from paragraphs(sureness_words(answer, u))


def _share_table(u: Uncertainty, unit: Unit) -> list[str]:
    rows = [
        [
            s.measurement.name,
            figure(s.measurement.value, unit),
            brief(s.measurement.plus_minus),
            fixed(s.derivative, 4),
            percent(s.percent, 1),
        ]
        for s in u.shares[:MOST_LISTED]
    ]
    lines = table(["measurement", "value", "+-", "sphere grows by, per unit", "share of variance"], rows)
    rest = len(u.shares) - MOST_LISTED
    return lines + (paragraph(more_shares(rest)) if rest > 0 else [])
