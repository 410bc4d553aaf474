"""A rail transition in words: what jog is left, what to set so that there is none, where the rails meet and bend."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from stairguard.geometry.marks import tape_text
from stairguard.reports.words.lengths import brief, figure

if TYPE_CHECKING:  # the whole job's classes come with its unit
    from stairguard.model.asked.rail_transition import Transition
    from stairguard.model.job import Unit

_DIGITS: Final = 5
"""Of a first line: no more than a tape has use for."""


def transition_result(answer: Transition) -> str:
    """What jog is left, and what to set so that there is none."""
    post, unit = answer.asked.post_at, answer.asked.unit
    height, jog = answer.landing_height_for_post, answer.jog
    meets = _from_nosing(answer.meets, answer)
    if post is None or height is None or jog is None:
        return f"NO JOG with a post {meets}: there the two rails meet."
    if answer.higher is None:
        return f"NO JOG: the two rails meet at the post, {meets}."
    if not answer.made:
        left = figure(abs(jog), unit, digits=_DIGITS)
        return f"NO JOG to make at the post, {_from_nosing(post, answer)}: the {left} left is less than half a mark."
    stands = f"the landing's rail stands {'above' if answer.higher == 'landing' else 'below'} the flight's"
    text = f"JOG of {_marked(abs(jog), unit, answer.mark)} at the post: {stands}. "
    text += f"For none, move the post to where they meet, {meets}"
    if height > 0:
        text += f"; or make the landing's rail {_marked(height, unit, answer.mark)} high, plumb"
    return f"{text}."


def transition_title(answer: Transition) -> str:
    """At which end of the flight the rails meet."""
    return f"Rail transition at the {answer.asked.at} of the flight"


def transition_words(answer: Transition) -> Iterator[str]:
    """What was asked, where the rails meet and how they bend, and what a post placed elsewhere makes of it."""
    asked, unit = answer.asked, answer.asked.unit
    rise = "" if asked.at == "top" else " - R"
    yield (
        f"Rise {figure(asked.rise, unit)} plumb, run {figure(asked.run, unit)} level. Tops of "
        f"rail, plumb: flight {figure(asked.flight_height, unit)} above the nosing line, landing "
        f"{figure(asked.landing_height, unit)} above its surface."
    )
    yield (
        f"The rails meet {_from_nosing(answer.meets, answer)}: x = (hl - hf{rise}) G/R, uphill positive; hl landing "
        "height, hf flight height, R rise, G run."
    )
    yield f"Bend {brief(answer.bend_deg)}°: each piece is mitred {brief(answer.mitre_deg)}° from square across."
    if asked.post_at is not None and answer.landing_height_for_post is not None and answer.jog is not None:
        yield (
            f"A post {_from_nosing(asked.post_at, answer)} keeps the rail unbroken if the landing's rail is "
            f"{_marked(answer.landing_height_for_post, unit, answer.mark)} high, plumb. As given it stands "
            f"{_off(answer, answer.jog)}"
        )


def _off(answer: Transition, jog: Fraction) -> str:
    """By how much the landing's rail, as given, misses the height that keeps the rail unbroken."""
    unit = answer.asked.unit
    way = "below" if answer.higher == "flight" else "above"
    if answer.made or not jog:
        return f"{_marked(abs(jog), unit, answer.mark)} {way} that: the jog."
    return f"{figure(abs(jog), unit, digits=_DIGITS)} {way} that, less than half a mark: no jog to make."


def _from_nosing(x: Fraction, answer: Transition) -> str:
    """Where a place is from the flight's end nosing."""
    nosing = "the top nosing" if answer.asked.at == "top" else "nosing 1"
    if not x:
        return f"at {nosing}"
    way = "uphill" if x > 0 else "downhill"
    return f"{_marked(abs(x), answer.asked.unit, answer.mark)} level {way} of {nosing}"


def _marked(value: Fraction, unit: Unit, mark: Fraction) -> str:
    """Write a length in full, and at its tape mark where that says something else."""
    if value % mark == 0:
        return tape_text(value, unit, mark)
    return f"{tape_text(value, unit, mark)} at the nearest mark ({figure(value, unit)})"
