"""One bay's give in words that say why the figures are right."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Final

from stairguard.model.guard.strand_deflection import BayAnswer, BayQuestion, BayReport, HeldAndFree, HungAnswer
from stairguard.model.published.known_figure import force_unit
from stairguard.reports.page.deflection.deflection_head import bay_head
from stairguard.reports.page.deflection.strand_sections import strand_lines, upkeep_lines
from stairguard.reports.page.page_text import heading, listed, paragraph, table, underlined
from stairguard.reports.words.caution_words import deflection_cautions
from stairguard.reports.words.deflection_words import (
    NO_TABLE,
    SOURCES,
    VERDICTS,
)
from stairguard.reports.words.lengths import at_least, at_most, brief, figure, fixed, percent, rough, solved
from stairguard.reports.words.rules.verdict_words import FAILS

if TYPE_CHECKING:
    from stairguard.model.job import Push, Unit


def give_text(report: BayReport) -> str:
    """Write one bay for people: the push that opens it, between its bounds, and all that was asked besides."""
    answer, asked = report.answer, report.answer.asked
    lines = [
        *bay_head(report),
        *underlined("Strand give: one bay"),
        *_asked_words(answer),
        *table(["", "held at both posts", "sliding over its run"], list(_rows(answer)), left=1),
        *paragraph(_between(asked)),
        *_along(answer),
        *_why(answer),
        *_verdict(answer),
        *_table_words(report),
        *heading("Tension"),
        *_tension(report),
    ]
    if report.hung is not None:
        lines += [*heading("A mass hung at mid-bay"), *_hung_words(report.hung, asked)]
    if report.upkeep is not None:
        lines += [*heading("Upkeep"), *upkeep_lines(report.upkeep, asked.unit, asked.push)]
    if report.compared:
        lines += [*heading("Side by side"), *_compared(report)]
    lines += [*heading("The strand"), *strand_lines(asked.taut.steel)]
    lines += [*heading("Cautions"), *listed(deflection_cautions(asked.taut.steel))]
    return "\n".join(lines) + "\n"


def _between(asked: BayQuestion) -> str:
    if asked.run == asked.bay:
        return "The run is taken as this bay alone, so both are one: in a longer run the strand slides and gives more."
    return "The truth lies between: posts grip a strand, but not wholly. The verdict goes by the strand that slides."


def _asked_words(answer: BayAnswer) -> Iterator[str]:
    asked, unit = answer.asked, answer.asked.unit
    steel, push = asked.taut.steel, asked.push
    between = (
        f"two strands {figure(asked.spacing, unit)} apart, centre to centre, square"
        if asked.strands == 2
        else f"a rigid edge and a strand whose centre is {figure(asked.spacing, unit)} from it, square"
    )
    where = "mid-bay" if asked.at is None else f"{figure(asked.at, unit)} from a post"
    yield from paragraph(
        f"{_probe(push, unit)} pushed at {where}, square to the guard, between {between}: a clear gap of "
        f"{figure(answer.gap, unit)} at rest. Strand {figure(steel.diameter, unit)}, {steel.construction}, "
        f"{steel.material}; bay {figure(asked.bay, unit)} clear along the strand; run {figure(asked.run, unit)}."
    )
    yield from paragraph(_known(asked))
    if push.friction:
        yield from paragraph(f"Friction {figure(push.friction, '')}: each contact rubs.")
    for what, value in (("posts", push.post_stiffness), ("anchors", push.anchor_stiffness)):
        if value is not None:
            yield from paragraph(f"Stiffness of {what}: {figure(value, force_unit(unit))} for one {unit}.")


def _known(asked: BayQuestion) -> str:
    """The tension at rest with its source."""
    force = figure(asked.taut.tension, force_unit(asked.unit))
    share = percent(asked.taut.of_breaking, 1)
    return f"Tension at rest {force} ({share} of the breaking force), {SOURCES[asked.taut.source]}."


def _probe(push: Push, unit: Unit) -> str:
    size = "" if push.sphere is None else figure(push.sphere, unit)
    return f"A sphere of {size}" if push.probe == "sphere" else f"A cone that ends in a cylinder of {size}"


def _rows(answer: BayAnswer) -> Iterator[list[str]]:
    asked, found = answer.asked, answer.holding
    unit, force = asked.unit, force_unit(asked.unit)
    yield ["greatest push on its way", *_pair(found.push, force)]
    if found.breaking != HeldAndFree(None, None):
        yield ["the strand breaks at a push of", *_pair(found.breaking, force)]
    yield ["there: strand moved by", *_pair(found.deflection, unit)]
    yield ["there: contact, from the strands' plane", *_pair(found.contact_deg, "deg")]
    yield ["there: tension in the strand", *_pair(found.tension, force)]
    if asked.push.force is not None:
        yield [f"tension at rest for {figure(asked.push.force, force)}", *_bounds(found.needed, force, at_least)]
        what = "spacing" if asked.strands == 2 else "distance from the edge"
        yield [f"widest {what} for it", *_bounds(answer.widest, unit, at_most)]
        yield ["longest bay for it", *_bounds(answer.longest, unit, at_most)]


def _pair(bounds: HeldAndFree, unit: str) -> list[str]:
    return ["none" if value is None else solved(value, unit) for value in (bounds.held, bounds.free)]


def _bounds(bounds: HeldAndFree, unit: str, way: Callable[[float, int], str]) -> list[str]:
    """Figures to come up to, or to stay within, on the safe side of what was solved for."""
    return ["none" if value is None else f"{way(value, 5)} {unit}" for value in (bounds.held, bounds.free)]


def _along(answer: BayAnswer) -> list[str]:
    """Where along the bay the sphere passes most easily."""
    unit, force = answer.asked.unit, force_unit(answer.asked.unit)
    if not answer.weakest:
        return []
    middle = answer.weakest_at == float(answer.asked.bay) / 2
    where = "mid-bay" if middle else f"{brief(answer.weakest_at, unit)} from a post"
    return paragraph(
        f"The weakest place along the bay is {where}: {brief(answer.weakest, force)}, sliding"
        f"{f', which {FAILS}: a probe will find it' if answer.weaker_elsewhere else ''}."
    )


def _why(answer: BayAnswer) -> Iterator[str]:
    """The working at the hardest place of the way, for the strand that slides."""
    asked, found = answer.asked, answer.holding
    unit, force = asked.unit, force_unit(asked.unit)
    push, contact, q, tension = (b.free for b in (found.push, found.contact_deg, found.deflection, found.tension))
    if push is None or not push or contact is None or q is None or tension is None:
        return
    reach = (found.place.probe + float(asked.diameter)) / 2
    about = "" if asked.push.probe == "sphere" else " (the cone's shoulder)"
    rub = ", turned on by the friction's angle" if asked.push.friction else ""
    several = "both strands" if asked.strands == 2 else "the strand"
    yield from paragraph(
        f"Why, sliding: probe and strand reach {figure(reach, unit)}{about}. Where it is hardest they touch at "
        f"{brief(contact)} deg from the strands' plane and the strand has moved {brief(q, unit)} along the contact"
        f"{rub}. Its two straight parts are longer than the bay; over the run that stretches it from "
        f"{figure(asked.taut.tension, force)} to {solved(tension, force)}. The parts' pull across the strand, of "
        f"{several}, along the probe's way: {brief(push, force)}."
    )


def _verdict(answer: BayAnswer) -> list[str]:
    asked, found = answer.asked, answer.holding
    if asked.push.force is None:
        if found.verdict == "passes untouched":
            return paragraph("The probe passes between strands at rest: no tension stops it.")
        return paragraph(
            "No force was asked for (--force), so nothing is judged. No single force is the law everywhere: "
            "stairguard says which publications name one with a guard's page."
        )
    verdict = "" if found.verdict is None else VERDICTS[found.verdict]
    return paragraph(f"Force asked for: {figure(asked.push.force, force_unit(asked.unit))}. {verdict}.")


def _table_words(report: BayReport) -> Iterator[str]:
    """What a published table asks, beside the model."""
    found, unit = report.table, report.answer.asked.unit
    if found is None:
        if report.answer.asked.push.probe == "cone" and report.answer.asked.push.force is not None:
            yield from paragraph(NO_TABLE)
        return
    size = f"up to a spacing of {figure(found.spacing, unit)} and a bay of {figure(found.bay, unit)}"
    if found.tension is None:
        yield from paragraph(f"{found.clause}: {FAILS}: {size} the table does not permit this strand, at any tension.")
        return
    met = "met" if found.met else FAILS
    yield from paragraph(
        f"{found.clause} asks at least {figure(found.tension, force_unit(unit))} {size}: {met}. It was calibrated by "
        "pulling this cone through; by the model, strand held at every post would often do with less. Hold to the "
        "greater."
    )


def _tension(report: BayReport) -> Iterator[str]:
    answer, asked = report.answer, report.answer.asked
    unit = asked.unit
    turns = "" if report.turns is None else f", {fixed(report.turns, 2)} turns of the tensioner"
    yield from paragraph(
        f"To reach it the strand is stretched by {brief(answer.elongation, unit)} over its run{turns}. A new strand "
        f"settles besides, once, by {rough(answer.settles[0])} to {rough(answer.settles[1], unit)} (from memory), and "
        f"loses {_lost(answer)} unless it is drawn in again: do so after the first days."
    )
    if answer.sag is None:
        yield from paragraph("A slack strand hangs: no sag is given.")
    else:
        yield from paragraph(
            f"It sags under its own weight by {rough(answer.sag, unit)} at mid-bay, plumb, on any pitch."
        )


def _lost(answer: BayAnswer) -> str:
    """How much tension settling takes, of what there is."""
    least, most = answer.loses
    whole = least == float(answer.asked.taut.tension)
    return "all of it" if whole else f"{rough(least)} to {rough(most, force_unit(answer.asked.unit))}"


def _hung_words(found: HungAnswer, asked: BayQuestion) -> Iterator[str]:
    unit, force = asked.unit, force_unit(asked.unit)
    low, high = (brief(value or 0.0, unit) for value in (found.expected.held, found.expected.free))
    yield from paragraph(
        f"A mass that weighs {figure(found.hung.weight, force)}, hung at mid-bay of a level strand, takes it down "
        f"there by {low} if both posts hold it, by {high} if it slides: a check of the tension without a gauge."
    )
    if found.hung.sinks is not None:
        held, free = found.tension.held or 0.0, found.tension.free or 0.0
        slack = " Less than nothing says that it was slack." if min(held, free) < 0 else ""
        yield from paragraph(
            f"Measured {figure(found.hung.sinks, unit)}: a tension at rest of {brief(held, force)} if held, "
            f"{brief(free, force)} if it slides. Reckon with the lower.{slack}"
        )


_SIDE_BY_SIDE: Final[tuple[tuple[str, Callable[[BayAnswer], str]], ...]] = (
    ("strand", lambda a: f"{figure(a.asked.diameter, a.asked.unit)} {a.asked.taut.steel.construction}"),
    ("spacing", lambda a: figure(a.asked.spacing, a.asked.unit)),
    ("bay", lambda a: figure(a.asked.bay, a.asked.unit)),
    ("tension at rest", lambda a: figure(a.asked.taut.tension, force_unit(a.asked.unit))),
    ("how that is known", lambda a: a.asked.taut.source),
    ("clear gap", lambda a: figure(a.gap, a.asked.unit)),
    ("push, held", lambda a: _pair(a.holding.push, force_unit(a.asked.unit))[0]),
    ("push, sliding", lambda a: _pair(a.holding.push, force_unit(a.asked.unit))[1]),
    ("tension for the force", lambda a: _bounds(a.holding.needed, force_unit(a.asked.unit), at_least)[1]),
    ("verdict", lambda a: "not judged" if a.holding.verdict is None else a.holding.verdict),
    ("pull on an end, per strand", lambda a: figure(a.asked.taut.tension, force_unit(a.asked.unit))),
    ("weight of the run", lambda a: brief(a.asked.taut.steel.weight * float(a.asked.run), force_unit(a.asked.unit))),
    ("stretch", lambda a: brief(a.elongation, a.asked.unit)),
    ("sag", lambda a: "none" if a.sag is None else brief(a.sag, a.asked.unit)),
)


def _compared(report: BayReport) -> list[str]:
    answers = [report.answer, *(other for _, other in report.compared)]
    heads = ["", "as asked", *(changed for changed, _ in report.compared)]
    return table(heads, [[what, *(words(one) for one in answers)] for what, words in _SIDE_BY_SIDE])
