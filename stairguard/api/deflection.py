"""Public functions: how strands give under a push."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from stairguard.model.guard.guard_loads import GuardReport
    from stairguard.model.guard.solved_layout import CheckedLayout
    from stairguard.model.guard.strand_deflection import BayAnswer, BayQuestion, BayReport, PushCurve, Upkeep
    from stairguard.reports.drawing.paper.scene import Sheet

_SPREAD: Final = 2
"""Times the tension asked about: how far the curve of the push runs."""


def strand_give(*, unit: str = "in", compare: Sequence[str] = (), **given: object) -> BayReport:
    """Find the push that opens a gap between two strands, or a strand and a rigid edge, in one bay.

    Parameters
    ----------
    unit
        ``"in"`` or ``"mm"``, of bare lengths and of the answer; forces go with it, lbf or N.
    compare
        The same bay otherwise: ``"spacing=2.5in,bay=36in"``, each beside what was asked.
    given
        By name, as of the command ``give``. Needed: ``diameter``, ``spacing`` (centre to centre, square) or ``edge``
        (from a rigid edge to the strand's centre), ``bay`` (clear, along the strand), ``tension`` (at rest). Of the
        strand: ``run_length``, ``tension_source``, ``construction``, ``material``, ``stiffness``, ``breaking_force``,
        ``weight``, ``lead`` of its tensioner. Of the push: ``sphere``, ``probe``, ``force``, ``friction``, ``at``,
        ``post_stiffness``, ``anchor_stiffness``. A mass: ``hang``, ``sinks``. Upkeep: ``frame``, ``now``, ``coldest``,
        ``warmest``, ``wood``, ``grain``, ``moisture_from``, ``moisture_to``, ``seated``, ``post_width``, ``settling``.

    Returns
    -------
    BayReport
        Its ``answer.holding.push`` is the force that opens the gap to the probe, with the strand ``held`` at both posts
        and ``free`` to slide over its run; what was asked besides is beside it, None where it was not.

    Raises
    ------
    InputError
        One fault for every value that is unknown, missing or cannot be used.
    JobError
        The tension is the strand's breaking force or more.

    Examples
    --------
    >>> found = strand_give(diameter="1/8in", spacing=3, bay=42, run_length="20ft", tension="200 lbf", sphere="4in")
    >>> round(found.answer.holding.push.held, 2), round(found.answer.holding.push.free, 2)
    (7.66, 6.75)
    """
    from stairguard.io.read.bay_arguments import read_asked
    from stairguard.model.guard.strand_deflection import BayReport
    from stairguard.rules.measures.wire_checks import tabled
    from stairguard.solve.load.single_bay import answer, hung_answer, turns
    from stairguard.solve.load.tension_loss import bay_upkeep

    asked = read_asked(given, unit, compare)
    bay, climate, width = asked.bay, asked.climate, asked.post_width
    found = answer(bay)
    return BayReport(
        answer=found,
        turns=None if asked.lead is None else turns(found, asked.lead),
        hung=None if asked.hung is None else hung_answer(bay, asked.hung),
        upkeep=None if climate is None else bay_upkeep(bay, climate, width),
        compared=tuple((text, answer(other)) for text, other in asked.compared),
        table=tabled(bay.taut, bay.spacing, bay.bay, bay.push, bay.unit) if bay.strands == 2 else None,
        compared_upkeep=()
        if climate is None
        else tuple(bay_upkeep(each, climate, width) for _, each in asked.compared),
    )


def guard_give(
    checked: CheckedLayout,
    compared: Mapping[str, CheckedLayout] | None = None,
    *,
    fixes: bool = True,
    named: bool = True,
) -> GuardReport:
    """Find what a whole guard's strands do under its job's push: every opening and bay, loads handed on, upkeep.

    Parameters
    ----------
    checked
        From `lay_out`; its job says the tension, the push and the climate, so far as they are known.
    compared
        The guard otherwise, by what is changed.
    fixes
        Whether to look for what would hold the push where it is not held: the page tells it, the data do not.
    named
        Whether to work out what would hold the pushes that publications name: the page tells it, the data do not.

    Returns
    -------
    GuardReport
        Forces in lbf or N, lengths in the job's unit; a strand's two bounds, held and free, of every push.

    Raises
    ------
    JobError
        The tension is the strand's breaking force or more.
    """
    from dataclasses import replace

    from stairguard.rules.findings.designed import push_fixes
    from stairguard.solve.load.named_forces import named_tensions
    from stairguard.solve.load.reactions import guard_report, variant

    others = compared or {}
    first = [variant("as asked", checked.layout, checked.passes)] if others else []
    report = guard_report(checked.layout, [*first, *(variant(k, o.layout, o.passes) for k, o in others.items())])
    return replace(
        report,
        tabled=checked.tabled,
        fixes=push_fixes(checked) if fixes else (),
        named=named_tensions(checked.layout) if named else (),
    )


def give_report(answer: BayReport | CheckedLayout, guard: GuardReport | None = None) -> str:
    """Write a bay's give, or a checked guard's, as a plain page.

    Parameters
    ----------
    answer
        From `strand_give`, or from `lay_out`.
    guard
        Of a layout, its `guard_give` where that was asked for; else it is found here.

    Returns
    -------
    str
        At most 100 columns, ending in a line break; its first line is the result.
    """
    from stairguard.model.guard.strand_deflection import BayReport

    if isinstance(answer, BayReport):
        from stairguard.reports.page.deflection.bay_page import give_text

        return give_text(answer)
    from stairguard.reports.page.deflection.guard_page import guard_text

    return guard_text(answer, guard or guard_give(answer))


def give_result(answer: BayReport | CheckedLayout, guard: GuardReport | None = None) -> dict[str, Any]:
    """Put a bay's give, or a checked guard's, into plain data, ready for JSON.

    Parameters
    ----------
    answer, guard
        As of `give_report`.

    Returns
    -------
    dict
        The keys that `stairguard.reports.data.deflection_data` lists, of a guard `guard_load_data` there; lengths and
        forces in its ``unit`` and ``force_unit``.
    """
    from stairguard.model.guard.strand_deflection import BayReport
    from stairguard.reports.data.deflection_data import give_data
    from stairguard.reports.data.guard_load_data import guard_data

    if isinstance(answer, BayReport):
        return give_data(answer)
    return guard_data(answer, guard or guard_give(answer, fixes=False, named=False))


def write_give(
    answer: BayReport | CheckedLayout,
    folder: str | Path,
    guard: GuardReport | None = None,
    *,
    date: str | None = None,
) -> tuple[Path, ...]:
    """Write page, result and pictures of a give into a new folder, complete or not at all.

    Parameters
    ----------
    answer, guard
        As of `give_report`.
    folder, date
        As of `write`; the date goes on the pictures.

    Returns
    -------
    tuple of Path
        The files, sorted by name.

    Raises
    ------
    InputError
        The date is none.
    OutputError
        The folder is in use or cannot be written; nothing was left behind.
    """
    from stairguard.io.write.folder import read_date, write_folder
    from stairguard.reports.data.encode import json_text

    day = read_date(date)

    def fill(part: Path) -> None:
        from stairguard.io.write.render import save

        for stem, sheet in pictures(answer, guard, day):
            save((sheet,), part, stem)
        texts = {"give.txt": give_report(answer, guard), "give.json": json_text(give_result(answer, guard))}
        for name, text in texts.items():
            part.joinpath(name).write_text(text, encoding="utf-8", newline="\n")

    return write_folder(Path(folder), fill)


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
        unit, upkeep, push = job.unit, (guard or guard_give(answer, fixes=False, named=False)).upkeep, job.push
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
