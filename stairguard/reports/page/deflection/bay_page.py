"""One bay's give in words that say why the figures are right."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final

from stairguard.model.guard.strand_deflection import BayAnswer, BayReport, HeldAndFree
from stairguard.model.published.known_figure import force_unit
from stairguard.reports.page.deflection.deflection_head import bay_head
from stairguard.reports.page.deflection.strand_sections import strand_lines, upkeep_lines
from stairguard.reports.page.page_text import heading, listed, paragraph, paragraphs, table, underlined
from stairguard.reports.words.caution_words import deflection_cautions
from stairguard.reports.words.deflection.bay_words import (
    asked_words,
    bay_verdict,
    bounds_words,
    hung_words,
    stretch_words,
    table_words,
    weakest_words,
    why_words,
)
from stairguard.reports.words.deflection.deflection_words import WAYS
from stairguard.reports.words.lengths import at_least, at_most, brief, figure, solved


def give_text(report: BayReport) -> str:
    """Write one bay for people: the push that opens it, between its bounds, and all that was asked besides."""
    answer, asked = report.answer, report.answer.asked
    lines = [
        *bay_head(report),
        *underlined("Strand give: one bay"),
        *paragraphs(asked_words(answer)),
        *table(["", WAYS["held"], WAYS["free"]], list(_rows(answer)), left=1),
        *paragraph(bounds_words(asked)),
        *paragraphs(weakest_words(answer)),
        *paragraphs(why_words(answer)),
        *paragraph(bay_verdict(answer)),
        *paragraphs(table_words(report)),
        *heading("Tension"),
        *paragraphs(stretch_words(report)),
    ]
    if report.hung is not None:
        lines += [*heading("A mass hung at mid-bay"), *paragraphs(hung_words(report.hung, asked))]
    if report.upkeep is not None:
        lines += [*heading("Upkeep"), *upkeep_lines(report.upkeep, asked.unit, asked.push)]
    if report.compared:
        lines += [*heading("Side by side"), *_compared(report)]
    lines += [*heading("The strand"), *strand_lines(asked.taut.steel)]
    lines += [*heading("Cautions"), *listed(deflection_cautions(asked.taut.steel))]
    return "\n".join(lines) + "\n"


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
