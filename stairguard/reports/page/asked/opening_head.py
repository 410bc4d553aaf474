"""The start of an opening's page: what came of it, the largest sphere beside its limit, and what to do."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from stairguard.reports.page.page_text import paragraph, underlined
from stairguard.reports.words.lengths import figure
from stairguard.reports.words.rules.verdict_words import UNJUDGED, outcome_head

if TYPE_CHECKING:  # rules are loaded only where there is something to mend, or to measure again
    from stairguard.model.asked.asked_opening import Opened
    from stairguard.model.job import Unit

_DIGITS: Final = 5
"""A head is read at the post: no more digits than tell a figure from its limit."""


def opening_head(answer: Opened) -> list[str]:
    """Start the page of one opening: its first line is the result."""
    unit = answer.unit
    sphere = f"largest sphere {figure(answer.sphere, unit, answer.limit, _DIGITS)}"
    if answer.outcome is None or answer.limit is None:
        touched = ", ".join(dict.fromkeys(answer.touches))
        text = f"{sphere[0].upper()}{sphere[1:]}, on {touched}. {UNJUDGED}: no limit was given, so nothing is judged."
        return [*underlined(text), ""]
    limit = figure(answer.limit, unit)
    text = f"{outcome_head(answer.outcome)}: {sphere}, where one of {limit} must not pass. {what_to_do(answer)}"
    return [*underlined(text), *_two_figures(answer), *_by_the_tape(answer, unit), ""]


def what_to_do(answer: Opened) -> str:
    """What to do about an opening, in a sentence or two; of one without a limit nothing."""
    if answer.outcome is None:
        return ""
    if answer.outcome == "complies":
        return "The authority having jurisdiction decides."
    from stairguard.reports.words.fix_words import settling_words

    u = answer.uncertainty
    if answer.outcome == "too close to call" and u is not None and u.settling is not None:
        told = _sentence(settling_words(u.settling, answer.unit))
        return told if u.settling.again else f"{told} {_fix(answer)}"
    return _fix(answer)


def _fix(answer: Opened) -> str:
    from stairguard.model.fixes import Advice, Fix
    from stairguard.reports.words.fix_words import fixes_words, how_words

    if answer.fixes:
        fixes = fixes_words(answer.fixes)
    elif answer.inverse is not None and answer.inverse.greatest is None:
        fixes = fixes_words([Fix((), advice=Advice.UPRIGHT_INFILL)])
    else:
        fixes = how_words("opening", "at most")
    return f"Fix: {fixes}."


def _two_figures(answer: Opened) -> list[str]:
    """How the two figures of a fix differ."""
    if not any(fix.to_be_sure for fix in answer.fixes):
        return []
    from stairguard.reports.page.guard.page_head import TO_BE_SURE

    return ["", *paragraph(TO_BE_SURE)]


def _by_the_tape(answer: Opened, unit: Unit) -> list[str]:
    """What the usual tape leaves in doubt, where what complies has no +- of the asker's own."""
    u = answer.uncertainty
    if answer.outcome != "complies" or answer.binding or u is None or u.settling is None:
        return []
    from stairguard.reports.words.fix_words import settling_words

    told = settling_words(u.settling, unit)
    return ["", *paragraph(f"CAUTION: with the error of a usual tape it is too near its limit to tell: {told}.")]


def _sentence(text: str) -> str:
    return f"{text[0].upper()}{text[1:]}."
