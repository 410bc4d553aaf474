"""Strand give asked about one bay: read everything, answer, and what was asked besides."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from stairguard.errors import Fault, InputError
from stairguard.io.parse.arguments import read_unit
from stairguard.io.parse.types import texts
from stairguard.io.read.bay_arguments import BAY_KEYS, read_bay, read_changes, read_hung, read_weather
from stairguard.io.read.strand_tables import CLIMATE_KEYS
from stairguard.io.read.toml_table import Table, nearest

if TYPE_CHECKING:
    from stairguard.model.guard.guard_loads import GuardReport
    from stairguard.model.guard.solved_layout import CheckedLayout
    from stairguard.model.guard.strand_deflection import BayAnswer, BayQuestion, BayReport, PushCurve, Upkeep
    from stairguard.reports.drawing.paper.scene import Sheet

__all__ = ["KEYS", "bay_give", "data", "guard_asked", "page", "pictures", "write"]

_SPREAD = 2
"""Times the tension asked about: how far the curve of the push runs."""

_BESIDES = ("hang", "sinks", "lead", "post_width")
KEYS = (*BAY_KEYS, *CLIMATE_KEYS, *_BESIDES)
"""All that one bay may be asked by."""


def bay_give(given: Mapping[str, object], unit: object, compare: Sequence[str] = ()) -> BayReport:
    """Answer one bay; see `stairguard.strand_give`."""
    from stairguard.model.guard.strand_deflection import BayReport
    from stairguard.rules.measures.wire_checks import tabled
    from stairguard.solve.load.single_bay import answer, hung_answer, turns
    from stairguard.solve.load.tension_loss import bay_upkeep

    faults = [
        Fault(key, f'a known name (the nearest is "{nearest(key, KEYS)}")', "an unknown one")
        for key in given
        if key not in KEYS
    ]
    asked = _gathered(faults, read_bay, given, unit)
    hung = _gathered(faults, read_hung, given, unit)
    climate = _gathered(faults, read_weather, given, unit)
    compared = texts(compare, "compare", 'a list of texts, each "key=value,key=value"')
    others = [_gathered(faults, _changed, text, given, unit) for text in compared]
    besides = Table(
        {k: given[k] for k in ("lead", "post_width") if given.get(k) is not None}, "", read_unit(unit), faults
    )
    lead, width = besides.length_if_given("lead"), besides.length_if_given("post_width")
    if climate is not None and climate.wood is not None and width is None and not faults:
        faults.append(Fault("post_width", "the end posts' width, whose wood shrinks", ""))
    if faults:
        raise InputError(*faults)
    found = answer(asked)
    return BayReport(
        answer=found,
        turns=None if lead is None else turns(found, lead),
        hung=None if hung is None else hung_answer(asked, hung),
        upkeep=None if climate is None else bay_upkeep(asked, climate, width),
        compared=tuple((text.strip(), answer(other)) for text, other in zip(compared, others, strict=True)),
        table=tabled(asked.taut, asked.spacing, asked.bay, asked.push, asked.unit) if asked.strands == 2 else None,
        compared_upkeep=() if climate is None else tuple(bay_upkeep(other, climate, width) for other in others),
    )


def _changed(text: str, given: Mapping[str, object], unit: object) -> BayQuestion:
    return read_bay(read_changes(text, given), unit)


def _gathered(faults: list[Fault], read: Any, *args: Any) -> Any:  # any of the readers, each of its own type
    try:
        return read(*args)
    except InputError as error:
        faults += [fault for fault in error.faults if fault not in faults]
        return None


def guard_asked(
    checked: CheckedLayout, compared: Mapping[str, CheckedLayout] | None = None, fixes: bool = True
) -> GuardReport:
    """Answer a whole guard; see `stairguard.guard_give`."""
    from stairguard.rules.findings.designed import push_fixes
    from stairguard.solve.load.reactions import guard_report, variant

    others = compared or {}
    first = [variant("as asked", checked.layout, checked.passes)] if others else []
    report = guard_report(checked.layout, [*first, *(variant(k, o.layout, o.passes) for k, o in others.items())])
    return replace(report, fixes=push_fixes(checked)) if fixes else report


def page(answer: BayReport | CheckedLayout, guard: GuardReport | None) -> str:
    """Write the plain page; see `stairguard.give_report`."""
    from stairguard.model.guard.strand_deflection import BayReport

    if isinstance(answer, BayReport):
        from stairguard.reports.page.deflection.bay_page import give_text

        return give_text(answer)
    from stairguard.reports.page.deflection.guard_page import guard_text
    from stairguard.solve.load.named_forces import named_tensions

    return guard_text(answer, guard or guard_asked(answer), named_tensions(answer.layout))


def data(answer: BayReport | CheckedLayout, guard: GuardReport | None) -> dict[str, Any]:
    """Put it into plain data; see `stairguard.give_result`."""
    from stairguard.model.guard.strand_deflection import BayReport
    from stairguard.reports.data.deflection_data import give_data, guard_data

    if isinstance(answer, BayReport):
        return give_data(answer)
    return guard_data(answer, guard or guard_asked(answer, fixes=False))


def write(
    answer: BayReport | CheckedLayout, guard: GuardReport | None, folder: Path, date: str | None
) -> tuple[Path, ...]:
    """Write page, result and pictures into a new folder; see `stairguard.write_give`."""
    from stairguard.io.write.folder import read_date, write_folder
    from stairguard.reports.data.encode import json_text

    day = read_date(date)

    def fill(part: Path) -> None:
        from stairguard.io.write.render import save

        for stem, sheet in pictures(answer, guard, day):
            save((sheet,), part, stem)
        for name, text in (("give.txt", page(answer, guard)), ("give.json", json_text(data(answer, guard)))):
            part.joinpath(name).write_text(text, encoding="utf-8", newline="\n")

    return write_folder(folder, fill)


def pictures(answer: BayReport | CheckedLayout, guard: GuardReport | None, day: str) -> Iterator[tuple[str, Sheet]]:
    """Draw the pictures of a give, each with the stem of its file's name."""
    from stairguard.model.guard.strand_deflection import BayReport
    from stairguard.reports.drawing.chart.chart_sheet import chart_sheet
    from stairguard.reports.drawing.chart.deflection_charts import push_chart, section_sheet, temperature_chart

    said: list[str]
    compared: tuple[tuple[str, BayAnswer], ...] = ()
    more: tuple[Upkeep, ...] = ()
    if isinstance(answer, BayReport):
        unit, upkeep, push = answer.answer.asked.unit, answer.upkeep, answer.answer.asked.push
        named = [("as asked", answer.answer), *answer.compared]
        if upkeep is not None:
            compared, more = answer.compared, answer.compared_upkeep
    else:
        job = answer.layout.job
        unit, upkeep, push = job.unit, (guard or guard_asked(answer, fixes=False)).upkeep, job.push
        named = _bays_of(answer)
    if named:
        title, said = "Strand give: one bay", []
        if not isinstance(answer, BayReport):
            title = f"{answer.layout.job.title}: between strands, {named[0][0]}"
            said = [f"{title}, the weakest of its bays. Other openings may be weaker: see the page."]
        yield "push", chart_sheet(push_chart(_curves(named), named[0][1].holding.push, said), day, unit)
        section = section_sheet(named[0][1], day, title)
        if section is not None:
            yield "section", section
    if upkeep is not None:
        others = [(name, each) for (name, _), each in zip(compared, more, strict=True)]
        yield "temperature", chart_sheet(temperature_chart(upkeep, unit, push, others), day, unit)


def _curves(named: Sequence[tuple[str, BayAnswer]]) -> list[tuple[str, BayQuestion, PushCurve]]:
    """Each one's push over tensions, as far as any of them needs."""
    from stairguard.solve.load.single_bay import push_curve

    most = max(max(_SPREAD * float(one.asked.taut.tension), one.holding.needed.free or 0.0) for _, one in named)
    return [(name, one.asked, push_curve(one.asked, most or one.asked.taut.steel.breaking / 2)) for name, one in named]


def _bays_of(checked: CheckedLayout) -> list[tuple[str, BayAnswer]]:
    """The weakest bay of a guard, as one bay asked about."""
    from stairguard.solve.load.reactions import weakest_bay
    from stairguard.solve.load.single_bay import answer

    found = weakest_bay(checked.layout)
    return [] if found is None else [(found[0], answer(found[1]))]
