"""What is said of the uncertainty of a sphere: the rule it is judged by, how sure it is, what would settle it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stairguard.reports.words.lengths import brief, figure, percent, rough

if TYPE_CHECKING:
    from stairguard.model.asked.asked_opening import Uncertainty
    from stairguard.model.job import Unit
    from stairguard.model.outcome import Settling


def rule_words(u: Uncertainty, unit: Unit) -> str:
    """The decision rule in words."""
    doubled = ", doubled since what the sphere touches may change," if u.contact_may_change and u.guard_band else ""
    return (
        f"guard band w = {figure(u.ratio, '')} x 2 u{doubled} = {brief(u.guard_band, unit)}: complies if the sphere "
        "plus w is less than the limit, does not comply if the sphere less w is not, between them too close to call "
        "(guarded acceptance and guarded rejection, JCGM 106)"
    )


def rule_sentence(u: Uncertainty, unit: Unit) -> str:
    """The decision rule as a sentence of its own."""
    words = rule_words(u, unit)
    return f"{words[0].upper()}{words[1:]}."


def sure_words(u: Uncertainty, unit: Unit) -> str:
    """How sure a sphere is, in a sentence or two."""
    words = f"Standard uncertainty of the sphere {rough(u.standard, unit)}"
    if u.probability is not None:
        words += f"; complies with a probability of {percent_words(u.probability)}"
    words += ". What it touches may change within that: indicative." if u.contact_may_change else "."
    if u.settling is not None:
        words += f" {settle_words(u.settling, unit)}"
    return words


def percent_words(probability: float) -> str:
    """A probability, none told as more sure than it is."""
    if probability in (0, 1):
        return percent(100 * probability, 0)
    return (
        "more than 99.9 %"
        if probability > 0.999
        else "less than 0.1 %"
        if probability < 0.001
        else percent(100 * probability, 1)
    )


def settle_words(found: Settling, unit: Unit) -> str:
    """What would settle it; that holds only if the sphere comes out the same."""
    from stairguard.reports.words.fix_words import settling_words

    words = settling_words(found, unit)
    return f"{words[0].upper()}{words[1:]}{', if it comes out the same' if found.again else ''}."
