"""What is said of rules: how surely they are known, when they bind, and what a local file changes of a pack."""

from __future__ import annotations

from stairguard.geometry.marks import figure_text
from stairguard.model.rules import Amendment, Rule, RuleSet
from stairguard.model.site import Condition
from stairguard.reports.words.lengths import stated


def known_words(status: str, binding: bool) -> str:
    """How surely a rule is known, and whether it is but an option."""
    return status if binding else f"{status}, optional"


def condition_words(one: Condition) -> str:
    """One condition under which a rule binds, by what a job states of its site."""
    if one.key == "has_handrail":
        return "top is handrail or another is"
    words = one.key.replace("_", " ")
    if isinstance(one.value, tuple):
        return f"{words} {' or '.join(one.value)}"
    if isinstance(one.value, bool):
        return words if one.value else f"not {words}"
    return f"{words} {figure_text(one.value)}"


def amendment_words(one: Amendment) -> str:
    """One change: a limit in place of another, one added, or a clause taken out."""
    return f"{one.local} on {one.base}: {_change(one.old, one.new)}"


def amendments_words(rules: RuleSet) -> list[str]:
    """All that was amended of a pack, in its order."""
    return [amendment_words(one) for one in rules.amended]


def _change(old: Rule | None, new: Rule | None) -> str:
    if new is None:
        assert old is not None  # one of both there is
        return f"{_matter(old)} taken out"
    limit = f"{_matter(new)}: {new.kind} {stated(new.value)}"
    return f"{limit} added" if old is None else f"{limit} in place of {stated(old.value)} by {old.clause}"


def _matter(rule: Rule) -> str:
    return f"{rule.clause} ({rule.quantity}, {rule.place})"
