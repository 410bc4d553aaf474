"""A guard's give on the page: openings under the push, bays, loads handed on, upkeep, and the guard otherwise."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from stairguard.model.guard.guard_loads import BayGive, EndLoad, FittingLoad, GuardReport, Variant
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.strand_deflection import (
    GuardGive,
    HeldAndFree,
    NamedTension,
    OpeningGive,
)
from stairguard.model.job import Unit
from stairguard.model.published.known_figure import force_unit
from stairguard.reports.page.deflection.strand_sections import upkeep_lines
from stairguard.reports.page.page_text import heading, paragraph, paragraphs, table
from stairguard.reports.words.deflection.give_words import (
    GIVE_TABLE_NOTE,
    NAMED_FORCES_NOTE,
    NO_TENSION,
    NOTHING_TO_PUSH_AT,
    VERDICTS_BRIEFLY,
    alike_words,
    asked_of_guard,
    bays_note,
    known_tension,
    loads_at_highest,
    loads_note,
    lowest_run_words,
    rigid_words,
    tension_needed,
    turned_strands_note,
)
from stairguard.reports.words.grouping import groups, in_steps
from stairguard.reports.words.lengths import (
    Figures,
    at_least,
    brief,
    degrees_words,
    figure,
    solved,
)
from stairguard.reports.words.names import others_words, surface_names
from stairguard.reports.words.rules.verdict_words import UNSOLVED, passes_words

_ORDER: Final = (
    "passes untouched", "no answer", "gives way", "between", "not solved", None, "holds", "turned aside", "rigid",
)  # fmt: skip


def give_list(layout: Layout, named: Sequence[NamedTension], figures: Figures) -> list[str]:
    """Hold every opening to the job's push; without one, say that the verdicts are rigid and what would hold it."""
    give = layout.give
    if give is None or not layout.asks_push:
        return [
            *heading("UNDER A PUSH"),
            *paragraph(rigid_words(None if give is None else give.taut, layout.job.unit)),
            *named_list(named, layout.job.unit),
        ]
    unit = layout.job.unit
    lines = [*heading("UNDER A PUSH"), *paragraph(asked_of_guard(give.push, unit))]
    lines += paragraph(NO_TENSION if give.taut is None else known_tension(give.taut, unit))
    if not give.openings:
        return [*lines, *paragraph(NOTHING_TO_PUSH_AT)]
    lines += table(
        ["verdict", "push: held", "sliding", "tension: held", "sliding", "count", "where; why"],
        list(_rows(layout, give, figures)),
        words=True,
    )
    return [*lines, *paragraph(GIVE_TABLE_NOTE)]


def _rows(layout: Layout, give: GuardGive, figures: Figures) -> Iterator[list[str]]:
    alike = groups(give.openings, lambda one: (_figures(one), _place(layout, one)))
    for same in sorted(alike, key=lambda same: (_ORDER.index(same[0].verdict), _weak(same[0]))):
        one = same[0]
        yield [VERDICTS_BRIEFLY[one.verdict], *_figures(one)[1:], str(len(same)), alike_words(layout, same, figures)]


def _weak(one: OpeningGive) -> float:
    push = None if one.holding is None else one.holding.push.free
    return float("inf") if push is None else push


def _place(layout: Layout, one: OpeningGive) -> tuple[object, ...]:
    opening = layout.openings[one.opening]
    return layout.line.surfaces[opening.surface].kind, opening.where.at_any_step, one.probe


def _figures(one: OpeningGive) -> tuple[str, ...]:
    """Verdict, push and tension as they are shown: what comes out alike is told once."""
    push = HeldAndFree(None, None) if one.holding is None else one.holding.push
    needed = HeldAndFree(None, None) if one.holding is None else one.holding.needed
    return str(one.verdict), *_pair(push), *(_enough(value) for value in (needed.held, needed.free))


def _pair(bounds: HeldAndFree) -> tuple[str, str]:
    return _number(bounds.held), _number(bounds.free)


def _enough(value: float | None) -> str:
    return "-" if value is None else at_least(value, 4)


def _number(value: float | None) -> str:
    return "-" if value is None else brief(value)


def named_list(named: Sequence[NamedTension], unit: Unit) -> list[str]:
    """What tension would hold the pushes that publications name, where that was worked out."""
    if not named:
        return []
    force = force_unit(unit)
    rows = [[one.push.standing, brief(one.force, force), tension_needed(one, force), one.push.title] for one in named]
    return [
        *paragraph(NAMED_FORCES_NOTE),
        *table(["standing", "force", "tension", "publication"], rows, left=3, words=True),
    ]


def bay_list(layout: Layout, report: GuardReport, figures: Figures) -> list[str]:
    """List every bay: its clear length, the push between two of its strands, sag, and the check with a hung mass."""
    names = surface_names(layout)
    rows = []
    for same in groups(report.bays, lambda bay: (bay.surface, bay.numbers, _bay_figures(bay, figures))):
        bay = same[0]
        where = f"{bay.posts[0]}-{bay.posts[1]}{others_words(same)}, {names[bay.surface]}"
        rows.append([in_steps(bay.numbers), *_bay_figures(bay, figures), where])
    unit = layout.job.unit
    return [
        *heading("BAYS"),
        *paragraph(bays_note(report, unit)),
        *table(
            ["strands", "clear", "run", "push: held", "sliding", "sag", "sinks: held", "sliding", "posts; surface"],
            rows, words=True,
        ),
    ]  # fmt: skip


def _bay_figures(bay: BayGive, figures: Figures) -> tuple[str, ...]:
    push = HeldAndFree(None, None) if bay.holding is None else bay.holding.push
    return (
        figures.decimal(bay.length), figures.decimal(bay.run), *_pair(push), _number(bay.sag), *_pair(bay.sinks),
    )  # fmt: skip


def load_list(layout: Layout, report: GuardReport) -> list[str]:
    """List what strands hand on to end posts, the rail and fittings: figures for an engineer."""
    unit = layout.job.unit
    if not report.ends:
        return []
    ends = [
        [f"{same[0].post}{others_words(same)}", same[0].side, in_steps(same[0].numbers), *_end_figures(same[0])]
        for same in groups(report.ends, lambda end: (end.side, end.numbers, _end_figures(end)))
    ]
    lines = [
        *heading("LOADS HANDED ON"),
        *paragraph(loads_note(unit)),
        *table(["post", "from", "strands", "pull", "level", "plumb", "acts at", "moment", "rail"], ends, left=3),
        *paragraphs(loads_at_highest(report, unit)),
    ]
    if report.fittings:
        turned = [
            [f"{same[0].post}{others_words(same)}", in_steps(same[0].numbers), *_fitting_figures(same[0])]
            for same in groups(report.fittings, lambda one: (one.numbers, _fitting_figures(one)))
        ]
        lines += [
            *paragraph(turned_strands_note(unit)),
            *table(["post", "strands", "bend", "force", "bare edge", "sleeve"], turned, left=2),
        ]
    return lines


def _end_figures(end: EndLoad) -> tuple[str, ...]:
    forces = end.pull, end.level, end.plumb, end.height, end.moment, end.compression
    return tuple(solved(value) if value else "0" for value in forces)


def _fitting_figures(one: FittingLoad) -> tuple[str, ...]:
    return (degrees_words(one.bend_deg), *(brief(value) for value in (one.force, one.edge, one.sleeve)))


def upkeep_list(layout: Layout, report: GuardReport) -> list[str]:
    """What temperature and wood do to the run that comes down lowest."""
    if report.upkeep is None or report.upkeep_run is None:
        return []
    return [
        *heading("UPKEEP"),
        *paragraphs(lowest_run_words(report.give, report.upkeep_run)),
        *upkeep_lines(report.upkeep, layout.job.unit, layout.job.push),
    ]


def variant_list(variants: Sequence[Variant], unit: Unit) -> list[str]:
    """Hold the guard against itself otherwise."""
    if len(variants) < 2:
        return []
    force = force_unit(unit)

    def known(value: float | None, of: str) -> str:
        return "-" if value is None else brief(value, of)

    rows = [
        ["strand", *(f"{figure(v.diameter, unit)} {v.construction}" for v in variants)],
        ["spacing, at most", *(figure(v.spacing, unit) for v in variants)],
        ["post gap, at most", *(figure(v.max_gap, unit) for v in variants)],
        ["tension at rest", *(known(v.tension, force) for v in variants)],
        ["how that is known", *("-" if v.tension is None else v.source for v in variants)],
        ["strands, at most over a surface", *(str(v.strands) for v in variants)],
        ["largest sphere at rest", *(known(v.worst_sphere, unit) for v in variants)],
        ["weakest push, held", *(known(v.weakest.held, force) for v in variants)],
        ["weakest push, sliding", *(known(v.weakest.free, force) for v in variants)],
        ["tension for the force", *(known(v.needed.free, force) for v in variants)],
        ["openings held", *(f"{v.held} of {v.openings}" for v in variants)],
        ["greatest level pull on an end", *(known(v.end_pull, force) for v in variants)],
        ["weight of the strands", *(known(v.weight, force) for v in variants)],
        ["sag of the longest bay", *(known(v.sag, unit) for v in variants)],
        ["verdict", *(passes_words(v.passes, UNSOLVED) for v in variants)],
    ]
    return [*heading("SIDE BY SIDE"), *table(["", *(v.changed for v in variants)], rows)]
