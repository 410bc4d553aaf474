"""One bay under a push in words: what was asked, why the figures are right, and what comes of it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from stairguard.model.guard.strand_deflection import BayAnswer, BayQuestion, BayReport, HungAnswer
from stairguard.model.published.known_figure import force_unit
from stairguard.reports.words.deflection.deflection_words import NO_TABLE, SOURCES, VERDICTS
from stairguard.reports.words.lengths import brief, figure, fixed, percent, rough, solved
from stairguard.reports.words.rules.verdict_words import FAILS

if TYPE_CHECKING:
    from stairguard.model.job import Push, Unit
    from stairguard.reports.words.lengths import Formatter


def bounds_words(asked: BayQuestion) -> str:
    """How the two bounds stand to one another."""
    if asked.run == asked.bay:
        return "The run is taken as this bay alone, so both are one: in a longer run the strand slides and gives more."
    return "The truth lies between: posts grip a strand, but not wholly. The verdict goes by the strand that slides."


def asked_words(answer: BayAnswer) -> Iterator[str]:
    """What was asked: probe, place, strands, bay, tension and what gives besides."""
    asked, unit = answer.asked, answer.asked.unit
    steel, push = asked.taut.steel, asked.push
    probe, between = probe_words(push, unit, "cone that ends in a cylinder"), between_words(asked)
    where = "mid-bay" if asked.at is None else f"{figure(asked.at, unit)} from a post"
    yield (
        f"A {probe} pushed at {where}, square to the guard, between {between}: a clear gap of "
        f"{figure(answer.gap, unit)} at rest. Strand {figure(steel.diameter, unit)}, {steel.construction}, "
        f"{steel.material}; bay {figure(asked.bay, unit)} clear along the strand; run {figure(asked.run, unit)}."
    )
    yield tension_words(asked)
    if push.friction:
        yield f"Friction {figure(push.friction, '')}: each contact rubs."
    for what, value in (("posts", push.post_stiffness), ("anchors", push.anchor_stiffness)):
        if value is not None:
            yield f"Stiffness of {what}: {figure(value, force_unit(unit))} for one {unit}."


def tension_words(asked: BayQuestion) -> str:
    """The tension at rest with its source."""
    force = figure(asked.taut.tension, force_unit(asked.unit))
    share = percent(asked.taut.of_breaking, 1)
    return f"Tension at rest {force} ({share} of the breaking force), {SOURCES[asked.taut.source]}."


def probe_words(push: Push, unit: Unit, cone: str = "cone to a cylinder") -> str:
    """What is pushed, and its size: its own, or that of each opening's limit."""
    size = "of each opening's own limit" if push.sphere is None else f"of {figure(push.sphere, unit)}"
    return f"{push.probe if push.probe == 'sphere' else cone} {size}"


def between_words(asked: BayQuestion) -> str:
    """What a probe is pushed between, and how far apart that is."""
    size = figure(asked.spacing, asked.unit)
    if asked.strands == 2:
        return f"two strands {size} apart, centre to centre, square"
    return f"a rigid edge and a strand whose centre is {size} from it, square"


def between_briefly(asked: BayQuestion, tape: Formatter) -> str:
    """What a probe is pushed between, in few words."""
    size = tape(asked.spacing)
    return f"strands {size} apart" if asked.strands == 2 else f"a rigid edge and a strand {size} from it"


def weakest_words(answer: BayAnswer) -> Iterator[str]:
    """Where along the bay the sphere passes most easily."""
    unit, force = answer.asked.unit, force_unit(answer.asked.unit)
    if not answer.weakest:
        return
    where = "mid-bay" if answer.weakest_at_middle else f"{brief(answer.weakest_at, unit)} from a post"
    yield (
        f"The weakest place along the bay is {where}: {brief(answer.weakest, force)}, sliding"
        f"{f', which {FAILS}: a probe will find it' if answer.weaker_elsewhere else ''}."
    )


def why_words(answer: BayAnswer) -> Iterator[str]:
    """The working at the hardest place of the way, for the strand that slides."""
    asked, found = answer.asked, answer.holding
    unit, force = asked.unit, force_unit(asked.unit)
    push, contact, q, tension = (b.free for b in (found.push, found.contact_deg, found.deflection, found.tension))
    if push is None or not push or contact is None or q is None or tension is None:
        return
    about = "" if asked.push.probe == "sphere" else " (the cone's shoulder)"
    rub = ", turned on by the friction's angle" if asked.push.friction else ""
    several = "both strands" if asked.strands == 2 else "the strand"
    yield (
        f"Why, sliding: probe and strand reach {figure(answer.reach, unit)}{about}. Where it is hardest they touch at "
        f"{brief(contact)} deg from the strands' plane and the strand has moved {brief(q, unit)} along the contact"
        f"{rub}. Its two straight parts are longer than the bay; over the run that stretches it from "
        f"{figure(asked.taut.tension, force)} to {solved(tension, force)}. The parts' pull across the strand, of "
        f"{several}, along the probe's way: {brief(push, force)}."
    )


def bay_verdict(answer: BayAnswer) -> str:
    """Whether the force asked for is held; without one, that nothing is judged."""
    asked, found = answer.asked, answer.holding
    if asked.push.force is None:
        if found.verdict == "passes untouched":
            return "The probe passes between strands at rest: no tension stops it."
        return (
            "No force was asked for (--force), so nothing is judged. No single force is the law everywhere: "
            "stairguard says which publications name one with a guard's page."
        )
    verdict = "" if found.verdict is None else VERDICTS[found.verdict]
    return f"Force asked for: {figure(asked.push.force, force_unit(asked.unit))}. {verdict}."


def table_words(report: BayReport) -> Iterator[str]:
    """What a published table asks, beside the model."""
    found, unit = report.table, report.answer.asked.unit
    if found is None:
        if report.answer.asked.push.probe == "cone" and report.answer.asked.push.force is not None:
            yield NO_TABLE
        return
    size = f"up to a spacing of {figure(found.spacing, unit)} and a bay of {figure(found.bay, unit)}"
    if found.tension is None:
        yield f"{found.clause}: {FAILS}: {size} the table does not permit this strand, at any tension."
        return
    met = "met" if found.met else FAILS
    yield (
        f"{found.clause} asks at least {figure(found.tension, force_unit(unit))} {size}: {met}. It was calibrated by "
        "pulling this cone through; by the model, strand held at every post would often do with less. Hold to the "
        "greater."
    )


def stretch_words(report: BayReport) -> Iterator[str]:
    """How far the strand is stretched to reach its tension, what it loses again, and how far it sags."""
    answer, asked = report.answer, report.answer.asked
    unit = asked.unit
    turns = "" if report.turns is None else f", {fixed(report.turns, 2)} turns of the tensioner"
    yield (
        f"To reach it the strand is stretched by {brief(answer.elongation, unit)} over its run{turns}. A new strand "
        f"settles besides, once, by {rough(answer.settles[0])} to {rough(answer.settles[1], unit)} (from memory), and "
        f"loses {_lost(answer)} unless it is drawn in again: do so after the first days."
    )
    if answer.sag is None:
        yield "A slack strand hangs: no sag is given."
    else:
        yield f"It sags under its own weight by {rough(answer.sag, unit)} at mid-bay, plumb, on any pitch."


def _lost(answer: BayAnswer) -> str:
    """How much tension settling takes, of what there is."""
    least, most = answer.loses
    return "all of it" if answer.loses_all else f"{rough(least)} to {rough(most, force_unit(answer.asked.unit))}"


def hung_words(found: HungAnswer, asked: BayQuestion) -> Iterator[str]:
    """How far a mass takes the strand down, and what tension one measured says."""
    unit, force = asked.unit, force_unit(asked.unit)
    low, high = (brief(value or 0.0, unit) for value in (found.expected.held, found.expected.free))
    yield (
        f"A mass that weighs {figure(found.hung.weight, force)}, hung at mid-bay of a level strand, takes it down "
        f"there by {low} if both posts hold it, by {high} if it slides: a check of the tension without a gauge."
    )
    if found.hung.sinks is not None:
        held, free = found.tension.held or 0.0, found.tension.free or 0.0
        slack = " Less than nothing says that it was slack." if found.slack else ""
        yield (
            f"Measured {figure(found.hung.sinks, unit)}: a tension at rest of {brief(held, force)} if held, "
            f"{brief(free, force)} if it slides. Reckon with the lower.{slack}"
        )
