"""How surely rules are known, and what a local file changes of a pack, a row a kind of change."""

from dataclasses import replace
from fractions import Fraction as F

import pytest

from stairguard.model.rules import Amendment, Rule, RuleSet
from stairguard.reports.words.rules.rule_words import amendments_words, known_words

RULE = Rule(
    quantity="riser", place="flight", kind="at most", value=F(8), clause="A", status="read", source="", note="",
    binding=True,
)  # fmt: skip
LOWER = replace(RULE, value=F("7.75"), clause="B")


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        (RULE, LOWER, "B (riser, flight): at most 7.75 in place of 8 by A"),
        (None, LOWER, "B (riser, flight): at most 7.75 added"),
        (RULE, None, "A (riser, flight) taken out"),
    ],
)
def test_one_change(old, new, words):
    rules = RuleSet(name="ours", title="ours", rules=(), amended=(Amendment("ours", "theirs", old, new),))
    assert amendments_words(rules) == [f"ours on theirs: {words}"]


def test_an_option_says_that_it_is_one():
    assert [known_words("read", binding) for binding in (True, False)] == ["read", "read, optional"]
