"""A rule pack in English: what it is called, where it holds, what it amends, and what each clause asks."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from stairguard.model.job import Unit
from stairguard.model.rules import Rule, RuleSet
from stairguard.reports.words.lengths import UNIT_WORDS, stated
from stairguard.reports.words.one_line import clean
from stairguard.reports.words.rules.rule_words import amendments_words, condition_words, known_words


def rules_words(rules: RuleSet) -> str:
    """Name the pack, with its edition and where it holds, so far as it says, and whether it was amended."""
    words = [f"Rules: {clean(rules.name)} ({clean(rules.title)})."]
    words += [
        f"{what}: {clean(text).rstrip('.')}."
        for what, text in (("Edition", rules.edition), ("Jurisdiction", rules.jurisdiction))
        if text
    ]
    if rules.amended:
        words.append(f"Amended locally in {len(rules.amended)} clauses: see the cautions.")
    return " ".join(words)


def measured_words(unit: Unit) -> str:
    """What an inspection's page is of, and how its figures are read."""
    return f"The guard as measured. Lengths in {UNIT_WORDS[unit]}; heights plumb."


def findings_words(tally: str) -> str:
    """How many findings there are of each verdict."""
    return f"Findings: {tally or 'none'}."


def pack_words(pack: RuleSet) -> Iterator[str]:
    """A pack's edition, where it holds, and how its clauses are numbered, a paragraph each."""
    yield f"Edition: {clean(pack.edition)}. Holds in: {clean(pack.jurisdiction)}."
    if pack.numbering:
        yield f"Numbering: {clean(pack.numbering)}"


def amended_words(pack: RuleSet) -> Iterator[str]:
    """Each change that a local file makes of a pack."""
    return (f"Amended: {clean(change)}" for change in amendments_words(pack))


def clause_words(rule: Rule, unit: str) -> str:
    """A clause: what it limits, where, how, how surely that is known, and when it binds."""
    where = "" if rule.place == "any" else f", {rule.place}"
    return f"{clean(rule.clause)}: {rule.quantity}{where}: {_limit_words(rule, unit)}. {_remarks(rule, unit)}"


def _limit_words(rule: Rule, unit: str) -> str:
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
