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
    PushVerdict,
    Taut,
)
from stairguard.model.job import Push, Unit
from stairguard.model.published.known_figure import force_unit
from stairguard.reports.page.deflection.strand_sections import upkeep_lines
from stairguard.reports.page.page_text import heading, paragraph, table
from stairguard.reports.words.deflection.bay_words import probe_words
from stairguard.reports.words.deflection.deflection_words import SOURCES, closer_words
from stairguard.reports.words.grouping import groups, in_steps
from stairguard.reports.words.lengths import (
    UNIT_WORDS,
    Figures,
    at_least,
    brief,
    degrees_words,
    figure,
    rough,
    solved,
    stated,
)
from stairguard.reports.words.names import alike_openings_words, others_words, surface_names
from stairguard.reports.words.rules.verdict_words import FAILS, passes_words

_SHORT: Final[dict[PushVerdict | None, str]] = {
    "holds": "holds",
    "between": FAILS,
    "gives way": FAILS,
    "passes untouched": FAILS,
    "no answer": FAILS,
    "turned aside": "holds",
    "rigid": "rigid",
    None: "not judged",
}
_WHY: Final[dict[PushVerdict | None, str]] = {
    "between": "it holds only where every post grips the strand",
    "passes untouched": "the probe passes strands at rest",
    "no answer": "friction would drag the strand along",
    "turned aside": "the strand leads the probe to the next opening",
    "rigid": "rigid parts alone stop it",
}
_ORDER: Final = ("passes untouched", "no answer", "gives way", "between", None, "holds", "turned aside", "rigid")


def give_list(layout: Layout, named: Sequence[NamedTension], figures: Figures) -> list[str]:
    """Hold every opening to the job's push; without one, say that the verdicts are rigid and what would hold it."""
    give = layout.give
    if give is None or not layout.asks_push:
        return [
            *heading("UNDER A PUSH"),
            *paragraph(
                "The verdicts on openings above are RIGID: strands at rest, nothing pushing. No force was asked for. "
                + ("" if give is None or give.taut is None else _known(give.taut, layout.job.unit))
            ),
            *named_list(named, layout.job.unit),
        ]
    unit = layout.job.unit
    lines = [*heading("UNDER A PUSH"), *paragraph(_asked(give.push, unit))]
    if give.taut is None:
        lines += paragraph(
            "No tension is given, so the verdicts on openings above are RIGID; the table says what tension would hold."
        )
    else:
        lines += paragraph(_known(give.taut, unit))
    if not give.openings:
        return [
            *lines,
            *paragraph("Nothing to push at: no rule sizes an opening, and the job gives no probe ([push] sphere)."),
        ]
    lines += table(
        ["verdict", "push: held", "sliding", "tension: held", "sliding", "count", "where; why"],
        list(_rows(layout, give, figures)),
        words=True,
    )
    return [*lines, *paragraph(_READ)]


_READ: Final = (
    "Push: the greatest force on the probe's way, with the strand held at both posts and sliding over its run; the "
    "verdict goes by the strand that slides. Tension: what would hold the force asked for; none where no tension short "
    "of breaking does. Openings as the tape marks make them, each in its weakest bay."
)


def _known(taut: Taut, unit: Unit) -> str:
    return f"Tension at rest {figure(taut.tension, force_unit(unit))}, {SOURCES[taut.source]}."


def _asked(push: Push, unit: Unit) -> str:
    rub = f", friction {stated(push.friction)}" if push.friction else ""
    force = "" if push.force is None else figure(push.force, force_unit(unit))
    probe = probe_words(push, unit)
    return f"Asked for: {force} on a {probe}, square to the guard{rub}. No single force is the law everywhere."


def _rows(layout: Layout, give: GuardGive, figures: Figures) -> Iterator[list[str]]:
    alike = groups(give.openings, lambda one: (_figures(one), _place(layout, one)))
    for same in sorted(alike, key=lambda same: (_ORDER.index(same[0].verdict), _weak(same[0]))):
        one = same[0]
        yield [_SHORT[one.verdict], *_figures(one)[1:], str(len(same)), _words(layout, same, figures)]


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


def _words(layout: Layout, same: Sequence[OpeningGive], figures: Figures) -> str:
    one = same[0]
    words = alike_openings_words(layout, [layout.openings[each.opening] for each in same])
    words += f"; probe {stated(one.probe)}"
    if one.posts:
        words += f", bay {one.posts[0]}-{one.posts[1]}"
    if one.verdict in _WHY:
        words += f"; {_WHY[one.verdict]}"
    closer = closer_words(one, figures)
    return f"{words}; {closer}" if closer else words


def named_list(named: Sequence[NamedTension], unit: Unit) -> list[str]:
    """What tension would hold the pushes that publications name, where that was worked out."""
    if not named:
        return []
    force = force_unit(unit)
    rows = [[one.push.standing, brief(one.force, force), _needed(one, force), one.push.title] for one in named]
    return [
        *paragraph(
            "Forces that publications name, and the tension at which strands would hold them: for the openings that a "
            "tension can hold, with the strand sliding, but for so many that none short of breaking does. "
            "A cone is reckoned as a sphere here but for Australia's, whose shape is known."
        ),
        *table(["standing", "force", "tension", "publication"], rows, left=3, words=True),
    ]


def _needed(one: NamedTension, force: str) -> str:
    if not one.sized:
        return "no size to hold to"
    if one.tension is None:
        return "none does" if one.beyond else "none needed"
    return f"{_enough(one.tension)} {force}" + (f", but for {one.beyond}" if one.beyond else "")


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
        *paragraph(
            f"Clear length along the strand and its run, in {UNIT_WORDS[unit]}; forces in {force_unit(unit)}. Push: of "
            "the probe between two strands at mid-bay. Sinks: how far a mass that weighs "
            f"{figure(report.mass, force_unit(unit))}, hung at mid-bay, takes the strand down, square to it, held and "
            "sliding: a check of the tension without a gauge."
        ),
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
    force = force_unit(unit)
    if not report.ends:
        return []
    ends = [
        [f"{same[0].post}{others_words(same)}", same[0].side, in_steps(same[0].numbers), *_end_figures(same[0])]
        for same in groups(report.ends, lambda end: (end.side, end.numbers, _end_figures(end)))
    ]
    lines = [
        *heading("LOADS HANDED ON"),
        *paragraph(
            f"For the engineer: sizing posts, rails and anchors is licensed work. Forces in {force}, heights in "
            f"{UNIT_WORDS[unit]}, plumb above the post's base, moments in {force} {unit}. Strands come to the post "
            "from the side before or after it as stations increase; where both have strands their level pulls oppose "
            "each other. Rail: what it takes, level, if the post may turn at its base; less if it is fixed there. A "
            "push adds to these, and so does cold weather."
        ),
        *table(["post", "from", "strands", "pull", "level", "plumb", "acts at", "moment", "rail"], ends, left=3),
        *_at_highest(report, force),
    ]
    if report.fittings:
        turned = [
            [f"{same[0].post}{others_words(same)}", in_steps(same[0].numbers), *_fitting_figures(same[0])]
            for same in groups(report.fittings, lambda one: (one.numbers, _fitting_figures(one)))
        ]
        lines += [
            *paragraph(
                f"Each strand that is turned, and what it presses on a wooden hole with, {force} on a square {unit}: "
                "on the bare edges, taken over one strand diameter of each (no source: wood gives until more of it "
                "bears), and with a sleeve, its mean over the post's width."
            ),
            *table(["post", "strands", "bend", "force", "bare edge", "sleeve"], turned, left=2),
        ]
    return lines


def _at_highest(report: GuardReport, force: str) -> list[str]:
    """How much more all loads are at the highest tension to come: they grow with it."""
    times, greatest = report.loads_at_highest, report.greatest_at_highest
    if report.upkeep is None or times is None or greatest is None:
        return []
    pull, moment = greatest
    return paragraph(
        f"At the highest tension to come, {brief(report.upkeep.highest.most, force)} a strand, every load is "
        f"{rough(times)} times this: the greatest pull {solved(pull)}, the greatest moment {solved(moment)}."
    )


def _end_figures(end: EndLoad) -> tuple[str, ...]:
    forces = end.pull, end.level, end.plumb, end.height, end.moment, end.compression
    return tuple(solved(value) if value else "0" for value in forces)


def _fitting_figures(one: FittingLoad) -> tuple[str, ...]:
    return (degrees_words(one.bend_deg), *(brief(value) for value in (one.force, one.edge, one.sleeve)))


def upkeep_list(layout: Layout, report: GuardReport) -> list[str]:
    """What temperature and wood do to the run that comes down lowest."""
    if report.upkeep is None or report.upkeep_run is None:
        return []
    first, last = report.upkeep_run
    passing = sum(one.verdict == "passes untouched" for one in report.give.openings)
    return [
        *heading("UPKEEP"),
        *(
            paragraph(f"{passing} openings let the probe pass strands at rest: what follows is of the others.")
            if passing
            else []
        ),
        *paragraph(
            f"Of the run that comes down lowest, {first} to {last}; the weakest opening is held to what it has left."
        ),
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
        ["verdict", *(passes_words(v.passes) for v in variants)],
    ]
    return [*heading("SIDE BY SIDE"), *table(["", *(v.changed for v in variants)], rows)]
