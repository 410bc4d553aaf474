"""Short answers in words: one transition, one formula; each with the reason for its figure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from stairguard.model.published.known_figure import kind_unit
from stairguard.reports.page.page_text import paragraph, paragraphs, table, underlined
from stairguard.reports.words.asked.formula_words import basis_words, found_words
from stairguard.reports.words.asked.transition_words import transition_result, transition_title, transition_words

if TYPE_CHECKING:  # the whole job's classes come with its unit
    from stairguard.model.asked.rail_transition import Transition
    from stairguard.model.job import Unit
    from stairguard.relations.records import RelationInfo, Solution, SymbolKind


def transition_report(found: Transition) -> str:
    """Write a transition in words: what jog is left and what to set, where the rails meet and how they bend.

    Parameters
    ----------
    found
        From `transition`.

    Returns
    -------
    str
        At most 100 columns, ending in a line break; its first line is the result.

    Examples
    --------
    >>> from stairguard import transition
    >>> print(transition_report(transition(7, 10.5, 36, 44, "bottom")).splitlines()[0])
    NO JOG with a post 1-1/2" level uphill of nosing 1: there the two rails meet.
    """
    lines = [
        *underlined(transition_result(found)),
        "",
        *underlined(transition_title(found)),
        *paragraphs(transition_words(found)),
    ]
    return "\n".join(lines) + "\n"


def relations_text(relations: Sequence[RelationInfo]) -> str:
    """List formulas by name."""
    return "\n".join(table(["name", "what"], [[one.name, one.title] for one in relations], left=2)) + "\n"


def relation_text(one: RelationInfo, unit: Unit) -> str:
    """Show one formula: equation, symbols, validity, source."""
    rows = [[symbol.name, kind_unit(symbol.kind, unit), f"{symbol.meaning}; {symbol.domain}"] for symbol in one.symbols]
    lines = [
        *underlined(f"{one.name}: {one.title}"),
        *paragraph(one.equation),
        "",
        *table(["symbol", "unit", "meaning; values"], rows, left=3),
        "",
        *paragraphs(basis_words(one)),
    ]
    return "\n".join(lines) + "\n"


def solution_text(found: Solution, kind: SymbolKind, unit: Unit) -> str:
    """Show a solution with its working."""
    lines = [
        *underlined(found.name),
        *paragraphs(found.working),
        "",
        *paragraphs(found_words(found, kind, unit)),
    ]
    return "\n".join(lines) + "\n"
