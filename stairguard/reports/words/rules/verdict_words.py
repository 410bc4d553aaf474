"""What verdicts and outcomes are called where they are shown: in tables, at the heads of pages, in title blocks."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from stairguard.model.findings import Verdict
from stairguard.model.outcome import Outcome

FAILS: Final = "FAILS"
UNJUDGED: Final = "NOT CHECKED"
"""Of an answer: nothing was asked that it could be held to."""
UNSOLVED: Final = "NOT SOLVED"
"""Of a push: no figure is given for it, and nothing is said to hold."""
UNRULED: Final = "NOTHING CHECKED"
"""Of a sheet: neither a rule nor a limit of the job's own speaks to the guard."""

_PASSES: Final = "passes"
_CLOSE: Final = "TOO CLOSE"

HOW_FINDINGS_READ: Final = (
    "One line a rule and place: what was found against what is asked, and the margin. What is to decide, the "
    "authority having jurisdiction does, or the reader: it neither passes nor fails. What is not checked does not pass."
)

LIST_VERDICTS: Final[Mapping[Verdict, str]] = {
    "fail": FAILS,
    "too close to call": _CLOSE,
    "needs a decision": "decide",
    "not checked": "not checked",
    "pass": _PASSES,
}
"""In the list of all findings."""

COLUMN_VERDICTS: Final[Mapping[Verdict, str]] = {
    "pass": _PASSES,
    "fail": FAILS,
    "too close to call": _CLOSE,
    "needs a decision": "decide",
    "not checked": "unchecked",
}
"""Beside one another, a column each, what passes first."""

HEAD_VERDICTS: Final[Mapping[Verdict, str]] = {
    "fail": FAILS,
    "too close to call": "TOO CLOSE TO CALL",
    "not checked": "NOT MEASURED",
}
"""At the head of each matter that a page starts with."""

_SHORT: Final[Mapping[Outcome, str]] = {
    "does not comply": FAILS,
    "too close to call": _CLOSE,
    "incomplete": "INCOMPLETE",
    "complies": _PASSES,
}


def passes_words(passes: bool | None, unruled: str = "") -> str:
    """Whether one thing passes, in a row of a table; ``unruled`` where nothing rules it."""
    return unruled if passes is None else _PASSES if passes else FAILS


def outcome_loudly(outcome: Outcome) -> str:
    """What came of the whole, where it is told apart from its parts."""
    return _SHORT[outcome].upper()


def outcome_head(outcome: Outcome | None) -> str:
    """What came of a whole question, as the first word of its page or sheet."""
    return UNJUDGED if outcome is None else outcome.upper()


def outcome_short(outcome: Outcome) -> str:
    """What came of a whole question, in a row of a table."""
    return _SHORT[outcome]
