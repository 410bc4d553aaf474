"""What verdicts and outcomes are called, a row each."""

import pytest

from stairguard.model.findings import VERDICTS
from stairguard.model.outcome import OUTCOMES
from stairguard.reports.words.rules.verdict_words import (
    COLUMN_VERDICTS,
    HEAD_VERDICTS,
    LIST_VERDICTS,
    outcome_head,
    outcome_loudly,
    outcome_short,
    passes_words,
)


def test_verdicts_in_the_list_and_side_by_side():
    assert [LIST_VERDICTS[one] for one in VERDICTS] == ["FAILS", "TOO CLOSE", "decide", "not checked", "passes"]
    assert [COLUMN_VERDICTS[one] for one in VERDICTS] == ["FAILS", "TOO CLOSE", "decide", "unchecked", "passes"]
    assert list(HEAD_VERDICTS.values()) == ["FAILS", "TOO CLOSE TO CALL", "NOT MEASURED"]


def test_outcomes_at_the_head_and_in_a_row():
    heads = [outcome_head(one) for one in (*OUTCOMES, None)]
    assert heads == ["DOES NOT COMPLY", "TOO CLOSE TO CALL", "INCOMPLETE", "COMPLIES", "NOT CHECKED"]
    assert [outcome_short(one) for one in OUTCOMES] == ["FAILS", "TOO CLOSE", "INCOMPLETE", "passes"]


@pytest.mark.parametrize(("passes", "words"), [(True, "passes"), (False, "FAILS"), (None, "no rule")])
def test_one_thing_that_passes_or_not(passes, words):
    assert passes_words(passes, "no rule") == words


def test_the_whole():
    assert list(map(outcome_loudly, ("complies", "does not comply", "incomplete"))) == ["PASSES", "FAILS", "INCOMPLETE"]
