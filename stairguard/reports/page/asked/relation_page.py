"""Short answers in words: one transition, one formula; each with the reason for its figure."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from stairguard.geometry.marks import tape_text
from stairguard.model.published.known_figure import kind_unit
from stairguard.reports.page.page_text import paragraph, table, underlined
from stairguard.reports.words.lengths import brief, figure

if TYPE_CHECKING:  # the whole job's classes come with its unit
    from stairguard.model.asked.rail_transition import Transition
    from stairguard.model.job import Unit
    from stairguard.relations.records import RelationInfo, Solution, SymbolKind

_DIGITS: Final = 5
"""Of a first line: no more than a tape has use for."""


def _marked(value: Fraction, unit: Unit, mark: Fraction) -> str:
    """Write a length in full, and at its tape mark where that says something else."""
    if value % mark == 0:
        return tape_text(value, unit, mark)
    return f"{tape_text(value, unit, mark)} at the nearest mark ({figure(value, unit)})"


def transition_report(found: Transition) -> str:
    """Write a transition in words: what jog is left and what to set, where the rails meet and how they bend.

    Parameters
    ----------
    found
        From `transition`.

    Returns
    -------
    str
        At most 100 columns, ending in a line break; its first line is the result.

    Examples
    --------
    >>> from stairguard import transition
    >>> print(transition_report(transition(7, 10.5, 36, 44, "bottom")).splitlines()[0])
    NO JOG with a post 1-1/2" level uphill of nosing 1: there the two rails meet.
    """
    asked, unit = found.asked, found.asked.unit
    nosing, rise = ("the top nosing", "") if asked.at == "top" else ("nosing 1", " - R")

    def from_nosing(x: Fraction) -> str:
        return (
            f"{_marked(abs(x), unit, found.mark)} level {'uphill' if x >= 0 else 'downhill'} of {nosing}"
            if x
            else f"at {nosing}"
        )

    lines = [
        *underlined(_transition_result(found, from_nosing)),
        "",
        *underlined(f"Rail transition at the {asked.at} of the flight"),
        *paragraph(
            f"Rise {figure(asked.rise, unit)} plumb, run {figure(asked.run, unit)} level. Tops of "
            f"rail, plumb: flight {figure(asked.flight_height, unit)} above the nosing line, landing "
            f"{figure(asked.landing_height, unit)} above its surface."
        ),
        *paragraph(
            f"The rails meet {from_nosing(found.meets)}: x = (hl - hf{rise}) G/R, uphill positive; hl landing height, "
            "hf flight height, R rise, G run."
        ),
        *paragraph(
            f"Bend {brief(found.bend_deg)}°: each piece is mitred {brief(found.mitre_deg)}° from square across."
        ),
    ]
    if asked.post_at is not None and found.landing_height_for_post is not None and found.jog is not None:
        way = "below" if found.higher == "flight" else "above"
        if found.made or not found.jog:
            off = f"{_marked(abs(found.jog), unit, found.mark)} {way} that: the jog."
        else:
            off = f"{figure(abs(found.jog), unit, digits=_DIGITS)} {way} that, less than half a mark: no jog to make."
        lines += paragraph(
            f"A post {from_nosing(asked.post_at)} keeps the rail unbroken if the landing's rail is "
            f"{_marked(found.landing_height_for_post, unit, found.mark)} high, plumb. As given it stands {off}"
        )
    return "\n".join(lines) + "\n"


def _transition_result(answer: Transition, from_nosing: Callable[[Fraction], str]) -> str:
    """What jog is left, and what to set so that there is none."""
    post, unit = answer.asked.post_at, answer.asked.unit
    height, jog = answer.landing_height_for_post, answer.jog
    meets = from_nosing(answer.meets)
    if post is None or height is None or jog is None:
        return f"NO JOG with a post {meets}: there the two rails meet."
    if answer.higher is None:
        return f"NO JOG: the two rails meet at the post, {meets}."
    if not answer.made:
        left = figure(abs(jog), unit, digits=_DIGITS)
        return f"NO JOG to make at the post, {from_nosing(post)}: the {left} left is less than half a mark."
    stands = f"the landing's rail stands {'above' if answer.higher == 'landing' else 'below'} the flight's"
    text = f"JOG of {_marked(abs(jog), unit, answer.mark)} at the post: {stands}. "
    text += f"For none, move the post to where they meet, {meets}"
    if height > 0:
        text += f"; or make the landing's rail {_marked(height, unit, answer.mark)} high, plumb"
    return f"{text}."


def relations_text(relations: Sequence[RelationInfo]) -> str:
    """List formulas by name."""
    return "\n".join(table(["name", "what"], [[one.name, one.title] for one in relations], left=2)) + "\n"


def relation_text(one: RelationInfo, unit: Unit) -> str:
    """Show one formula: equation, symbols, validity, source."""
    rows = [[symbol.name, kind_unit(symbol.kind, unit), f"{symbol.meaning}; {symbol.domain}"] for symbol in one.symbols]
    lines = [
        *underlined(f"{one.name}: {one.title}"),
        *paragraph(one.equation),
        "",
        *table(["symbol", "unit", "meaning; values"], rows, left=3),
        "",
        *paragraph(f"Valid: {one.validity}"),
        *paragraph(f"Source: {one.source} ({one.status})"),
    ]
    return "\n".join(lines) + "\n"


def solution_text(found: Solution, kind: SymbolKind, unit: Unit) -> str:
    """Show a solution with its working."""
    of = kind_unit(kind, unit)
    lines = [*underlined(found.name), *(line for step in found.working for line in paragraph(step)), ""]
    if found.exact is not None:
        lines += paragraph(f"{found.find} = {found.exact} {of}".rstrip() + ", exact")
    lines += paragraph(f"{found.find} = {figure(found.value, of)}")
    if found.others:
        lines += paragraph("Also valid: " + ", ".join(figure(other, of) for other in found.others))
    return "\n".join(lines) + "\n"
