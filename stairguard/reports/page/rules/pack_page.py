"""Rule packs in words: which there are, what each says, how surely, and what a job must state for an exception."""

from __future__ import annotations

from collections.abc import Sequence

from stairguard.model.rules import RuleSet
from stairguard.reports.page.page_text import heading, listed, paragraphs, table, underlined
from stairguard.reports.words.one_line import clean
from stairguard.reports.words.rules.pack_words import amended_words, clause_words, pack_words


def packs_text(packs: Sequence[RuleSet]) -> str:
    """List packs: name, edition, how many clauses, and how many of them were read, or are from memory."""
    rows = [[pack.name, *_counts(pack), f"{clean(pack.title)}, {clean(pack.edition)}"] for pack in packs]
    head = ["pack", "rules", "read", "secondary", "memory", "what"]
    return "\n".join(table(head, rows, words=True)) + "\n"


def _counts(pack: RuleSet) -> list[str]:
    statuses = [rule.status for rule in pack.rules]
    return [str(len(statuses)), *(str(statuses.count(status)) for status in ("read", "secondary", "from memory"))]


def pack_text(pack: RuleSet, unit: str) -> str:
    """Show one pack: the figure of every clause, its status, what it asks of the site, what the reader must judge."""
    lines = [
        *underlined(f"{pack.name}: {clean(pack.title)}"),
        *paragraphs(pack_words(pack)),
        *listed(amended_words(pack)),
        *heading("RULES"),
        *listed(clause_words(rule, unit) for rule in pack.rules),
        *heading("CAUTIONS"),
        *listed(clean(caution) for caution in pack.cautions),
    ]
    return "\n".join(lines) + "\n"
