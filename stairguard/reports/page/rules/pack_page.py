"""Rule packs in words: which there are, what each says, how surely, and what a job must state for an exception."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from stairguard.model.rules import Rule, RuleSet
from stairguard.reports.page.page_text import heading, listed, paragraph, table, underlined
from stairguard.reports.words.lengths import stated
from stairguard.reports.words.one_line import clean
from stairguard.reports.words.rules.rule_words import amendments_words, condition_words, known_words


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
        *paragraph(f"Edition: {clean(pack.edition)}. Holds in: {clean(pack.jurisdiction)}."),
    ]
    if pack.numbering:
        lines += paragraph(f"Numbering: {clean(pack.numbering)}")
    lines += listed(f"Amended: {clean(change)}" for change in amendments_words(pack))
    lines += [
        *heading("RULES"),
        *listed(_rule_words(rule, unit) for rule in pack.rules),
        *heading("CAUTIONS"),
        *listed(clean(caution) for caution in pack.cautions),
    ]
    return "\n".join(lines) + "\n"


def _rule_words(rule: Rule, unit: str) -> str:
    where = "" if rule.place == "any" else f", {rule.place}"
    return f"{clean(rule.clause)}: {rule.quantity}{where}: {limit_words(rule, unit)}. {_remarks(rule, unit)}"


def limit_words(rule: Rule, unit: str) -> str:
    """A rule's limit as it is said: a bound, a sphere, a band, a load."""
    if rule.quantity == "climbable band":
        return f"avoid, {_band(rule, unit)}"
    if rule.quantity == "handrail uniformity":
        return rule.kind
    value = stated(rule.value, "runs" if rule.in_runs else rule.limit_unit(unit))
    band = f", {_band(rule, unit)}" if rule.banded else ""
    reach = "" if rule.within is None else f" within {_length(rule.within, unit)}"
    return f"{rule.kind} {value}{reach}{band}"


def _band(rule: Rule, unit: str) -> str:
    low = "" if rule.from_height is None else f"from {_length(rule.from_height, unit)}"
    high = "" if rule.to_height is None else f"to {_length(rule.to_height, unit)}"
    return " ".join(part for part in (low, high) if part)


def _length(length: Fraction, unit: str) -> str:
    return stated(length, unit)


def _remarks(rule: Rule, unit: str) -> str:
    words = [known_words(rule.status, rule.binding)]
    if rule.when:
        words.append(f"where {', '.join(map(condition_words, rule.when))}")
    if rule.when_run_below is not None:
        words.append(f"where a run is less than {_length(rule.when_run_below, unit)}")
    if rule.serves:
        words.append(f"landings at a {rule.serves}")
    if rule.quantity == "load":
        words.append("for the engineer: not checked here")
    return f"({'; '.join(words)}) {clean(rule.note)}"
