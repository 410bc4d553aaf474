"""What came of one opening and what to do about it, in words; what it is called, and lengths as they were given."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Final

from stairguard.reports.words.lengths import exact_words, figure
from stairguard.reports.words.rules.verdict_words import UNJUDGED, outcome_head

if TYPE_CHECKING:  # fixes are loaded only where there is something to mend, or to measure again
    from stairguard.model.asked.asked_opening import Form, Measurement, Opened
    from stairguard.model.job import Unit

TITLES: Final[dict[Form, str]] = {
    "closed step": "Step triangle, closed riser",
    "open step": "Step triangle, open riser",
    "edge": "Under the lowest strand at an edge",
    "points": "Opening by its corner points",
    "sides": "Opening by its sides",
    "lengths": "Opening by its sides and diagonals",
    "strands": "Gap between two parallel strands",
}

_DIGITS: Final = 5
"""A head is read at the post: no more digits than tell a figure from its limit."""


def result_words(answer: Opened) -> str:
    """The result: the largest sphere beside its limit, and what to do."""
    sphere = f"largest sphere {figure(answer.sphere, answer.unit, answer.limit, _DIGITS)}"
    if answer.outcome is None or answer.limit is None:
        touched = ", ".join(dict.fromkeys(answer.touches))
        return f"{sphere[0].upper()}{sphere[1:]}, on {touched}. {UNJUDGED}: no limit was given, so nothing is judged."
    limit = figure(answer.limit, answer.unit)
    return f"{outcome_head(answer.outcome)}: {sphere}, where one of {limit} must not pass. {what_to_do(answer)}"


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


def tape_caution(answer: Opened) -> str:
    """What the usual tape leaves in doubt, where what complies has no +- of the asker's own; else ""."""
    u = answer.uncertainty
    if answer.outcome != "complies" or answer.binding or u is None or u.settling is None:
        return ""
    from stairguard.reports.words.fix_words import settling_words

    told = settling_words(u.settling, answer.unit)
    return f"CAUTION: with the error of a usual tape it is too near its limit to tell: {told}."


def not_shown_words(answer: Opened) -> str:
    """What a picture of an opening, seen square to the guard, cannot show; "" of one in one plane, or in a section."""
    if answer.beside is None or answer.form == "edge":
        return ""
    out = figure(answer.beside.out, answer.unit, digits=_DIGITS)
    if not answer.of_step:
        return f"How far out things are: the edges stand in two planes. The sphere's centre is at y {out}."
    return (
        "How far out things are: the strands stand in another plane than the stair's side. The sphere's centre is "
        f"{out} out, so that it passes behind what it seems to cover."
    )


def given_length(one: Measurement, unit: Unit) -> str:
    """A length as it was given, with its +- if it has one."""
    exact = exact_words(one.value, unit)
    return f"{exact} ± {exact_words(one.plus_minus, unit)}" if one.plus_minus else exact


def spacing_label(one: Measurement, unit: Unit) -> str:
    """The spacing of two strands, written along one of them."""
    return f"spacing {given_length(one, unit)} square"


def lift_label(one: Measurement, unit: Unit) -> str:
    """How far a round member stands over the nosing line, written along it."""
    return f"lift {given_length(one, unit)} square"


def across_words(one: Measurement, unit: Unit) -> str:
    """A measured length that is no edge's, in a sentence."""
    return _sentence(f"{one.name} {exact_words(one.value, unit)}")


def limit_rule(limit: Fraction, unit: Unit) -> str:
    """What is asked of an opening whose figures are taken as exact."""
    return f"A sphere of {exact_words(limit, unit)} must not pass; one of exactly that size counts as going through."


def _sentence(text: str) -> str:
    return f"{text[0].upper()}{text[1:]}."
