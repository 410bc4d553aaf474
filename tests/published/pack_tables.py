"""Packs as tables: what a document says of every rule, written beside its source, and how a pack is held to it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import NamedTuple

from stairguard.model.rules import Rule
from stairguard.reports.words.rules.rule_words import condition_words
from stairguard.rules.pack.reader import read_rules

MEMORY = "MEMORY"
"""Source of what was read in no document."""


class Row(NamedTuple):
    """One rule: ``noted`` is a word in its note; ``holds`` empty, "option", a condition, or both, a comma between."""

    quantity: str
    place: str
    kind: str
    value: str
    clause: str
    source: str
    noted: str
    holds: str


@dataclass(frozen=True)
class PackTable:
    """A pack's rules, one a line of ``text``, cells as of `Row` with ``|`` between, in the pack's order.

    ``sources`` has for each a word by which the pack names it, a part of its address, and the status that it earns.
    ``when`` has longer conditions by the short names that stand in the table. Lengths are in ``unit``.
    """

    pack: str
    unit: str
    sources: Mapping[str, tuple[str, str, str]]
    text: str
    when: Mapping[str, str] = field(default_factory=dict)

    @property
    def rows(self) -> list[Row]:
        return [Row(*(cell.strip() for cell in line.split("|"))) for line in self.text.strip().splitlines()]

    @property
    def rules(self) -> tuple[Rule, ...]:
        return read_rules(self.pack, self.unit).rules

    def hold(self, rule: Rule, row: Row) -> None:
        """Hold a rule to its row: figures, source, status, datum or exception in the note, and what it binds under."""
        found = rule.quantity, rule.place, rule.kind, rule.value, rule.clause
        assert found == (row.quantity, row.place, row.kind, Fraction(row.value), row.clause)
        word, address, status = self.sources[row.source]
        assert word in rule.source
        assert address in rule.address
        assert row.noted in rule.note
        remembered = row.source == MEMORY
        assert (rule.status, bool(rule.address)) == (status, not remembered)
        assert rule.source.startswith("from memory") == remembered
        assert rule.binding == (not row.holds.startswith("option"))
        condition = row.holds.removeprefix("option").removeprefix(",").strip()
        assert "; ".join(map(condition_words, rule.when)) == self.when.get(condition, condition)
