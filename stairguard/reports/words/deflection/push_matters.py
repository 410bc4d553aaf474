"""What comes of a push, in words, and each place where it is not held, with what would hold it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from stairguard.model.guard.guard_loads import GuardReport
from stairguard.model.guard.solved_layout import Check, Layout
from stairguard.model.guard.strand_deflection import (
    STOPPED,
    BayAnswer,
    BayReport,
    HeldAndFree,
    Holding,
    OpeningGive,
    Upkeep,
)
from stairguard.model.published.known_figure import force_unit
from stairguard.reports.words.fix_words import fixes_words
from stairguard.reports.words.grouping import groups
from stairguard.reports.words.lengths import at_least, at_most, brief, figure, solved
from stairguard.reports.words.names import alike_openings_words
from stairguard.reports.words.rules.finding_words import subject_words
from stairguard.reports.words.rules.matter_words import Matter
from stairguard.reports.words.rules.verdict_words import FAILS, UNJUDGED, outcome_head

_HOLDS: Final = outcome_head("complies")
_YIELDS: Final = outcome_head("does not comply")
_FORCE: Final = "the push asked for (force)"
_NOT_JUDGED: Final = (
    f"{UNJUDGED}: nothing is judged. Give a force ([push] force), a tension ([strand] tension), and rules on openings "
    "or a probe's size ([push] sphere)."
)
_SET: Final = 5
"""Digits of what is to be set: more than a gauge reads, or a tape."""
_NO_TENSION: Final = "no tension short of breaking holds it: set the strands nearer, or the posts, or fill it in"


def guard_result(report: GuardReport, failing: int) -> str:
    """What came of the push on a guard, with so many things to mend."""
    unsolved = len(report.give.unsolved)
    if report.passes is None:
        return _not_solved(unsolved) if unsolved else _NOT_JUDGED
    if report.passes:
        return f"{_HOLDS} with the push asked for. Set the tension told here, measure it, and look after it."
    many = f"{failing} thing{'' if failing == 1 else 's'}"
    besides = f" Besides, {_unsolved(unsolved)}." if unsolved else ""
    return f"{_YIELDS} with the push asked for: {many} to mend. Make the change told at each, and ask again.{besides}"


def _not_solved(unsolved: int) -> str:
    return (
        f"{outcome_head('incomplete')} with the push asked for: {_unsolved(unsolved)}, and is not judged there. "
        "Elsewhere it is held."
    )


def _unsolved(unsolved: int) -> str:
    """At how many openings the push is not solved."""
    openings = "1 opening" if unsolved == 1 else f"{unsolved} openings"
    return f"the push is not solved at {openings} between a strand and the stair that it stands out from"


def guard_matters(layout: Layout, report: GuardReport) -> list[Matter]:
    """Every opening that gives way, what a table asks, and what is to come; nothing of a guard that does not fail."""
    if report.passes is not False:
        return []
    return [
        *_openings(layout, report),
        *_tabled(layout, report.tabled),
        *_to_come(report.upkeep, report.give.push.force, force_unit(layout.job.unit)),
    ]


def bay_result(report: BayReport) -> str:
    """What came of the push on one bay."""
    if not report.passes:
        return f"{_YIELDS}. Make the change told at each, and ask again."
    if report.answer.asked.push.force is None:
        return f"{UNJUDGED}: no force was asked for (--force), so nothing is judged."
    return f"{_HOLDS}: the bay holds the force asked for. Measure the tension as set."


def bay_matters(report: BayReport) -> list[Matter]:
    """Each thing that fails of one bay; nothing of one that does not fail."""
    if report.passes:
        return []
    asked = report.answer.asked
    upkeep = _to_come(report.upkeep, asked.push.force, force_unit(asked.unit))
    return [*_bay(report.answer), *_by_table(report), *upkeep]


def _push_words(found: Holding, unit: str) -> str:
    """The push that a place takes, of the strand that slides; or that nothing is taken."""
    pushes = found.withstood
    return "none: it passes untouched" if pushes.free is None else f"{solved(pushes.free, unit)}, the strand sliding"


def _bay(answer: BayAnswer) -> Iterator[Matter]:
    """Whether the bay holds where it is pushed, and where it is weakest."""
    asked, found = answer.asked, answer.holding
    force, unit = asked.push.force, force_unit(asked.unit)
    if force is None:
        return
    wanted = f"at least {figure(force, unit)}"
    if found.verdict not in STOPPED:
        spread = "a spacing of" if asked.strands == 2 else "a strand from the edge by"
        # cut on the safe side: what is printed holds when it is typed
        ways = (
            ("a tension at rest of", found.needed.free, at_least, f"{unit} or more"),
            (spread, answer.widest.free, at_most, f"{asked.unit} or less"),
            ("a bay of", answer.longest.free, at_most, f"{asked.unit} or less"),
        )
        fix = "; or ".join(f"{what} {cut(value, _SET)} {more}" for what, value, cut, more in ways if value)
        yield Matter(
            head=FAILS,
            clause=_FORCE,
            where="where it is pushed",
            found=_push_words(found, unit),
            asked=wanted,
            fix=fix or _NO_TENSION,
        )
    elif answer.weaker_elsewhere and answer.weakest is not None:
        where = (
            f"the weakest place of the bay, {brief(answer.weakest_at, asked.unit)} from a post: a probe will find it"
        )
        fix = "ask there (--at), and make what it tells"
        yield Matter(
            head=FAILS,
            clause=_FORCE,
            where=where,
            found=f"{solved(answer.weakest, unit)}, the strand sliding",
            asked=wanted,
            fix=fix,
        )


def _by_table(report: BayReport) -> Iterator[Matter]:
    table, asked = report.table, report.answer.asked
    if table is None or table.met:
        return
    unit = force_unit(asked.unit)
    wanted = "a strand that the table permits at this spacing and bay"
    fix = "strands or posts nearer, as far as the table permits this strand"
    if table.tension is not None:
        wanted = f"at least {figure(table.tension, unit)}"
        fix = f"a tension at rest of {figure(table.tension, unit)} or more"
    yield Matter(
        head=FAILS,
        clause=table.clause,
        where="tension at rest",
        found=figure(asked.taut.tension, unit),
        asked=wanted,
        fix=fix,
    )


def _openings(layout: Layout, report: GuardReport) -> Iterator[Matter]:
    force = report.give.push.force
    if force is None:
        return
    unit = force_unit(layout.job.unit)
    for same in groups(report.give.yielding, lambda one: _key(layout, one)):
        one = same[0]
        found = "none: it passes untouched" if one.holding is None else _push_words(one.holding, unit)
        yield Matter(
            head=FAILS,
            clause=_FORCE,
            where=_where(layout, same),
            found=found,
            asked=f"at least {figure(force, unit)}",
            fix=_fix(layout, one, report),
        )


def _key(layout: Layout, one: OpeningGive) -> tuple[object, ...]:
    opening = layout.openings[one.opening]
    needed = HeldAndFree(None, None) if one.holding is None else one.holding.needed
    push = None if one.holding is None else one.holding.withstood.free
    rounded = tuple("" if value is None else brief(value) for value in (push, needed.free, one.nearer))
    return layout.line.surfaces[opening.surface].kind, opening.where.at_any_step, one.verdict, rounded


def _where(layout: Layout, same: Sequence[OpeningGive]) -> str:
    posts = same[0].posts
    bay = f", bay {posts[0]}-{posts[1]}" if posts else ""
    return alike_openings_words(layout, [layout.openings[each.opening] for each in same]) + bay


def _fix(layout: Layout, one: OpeningGive, report: GuardReport) -> str:
    """What holds every opening, as the job's keys; else the tension that holds this one, or that none does."""
    if any(fix.steps for fix in report.fixes):
        every = "every opening that is solved" if report.give.unsolved else "every opening"
        return f"for {every} at once, {fixes_words(report.fixes)}"
    needed = None if one.holding is None else one.holding.needed.free
    if needed is not None:
        tension = f"{at_least(needed, _SET)} {force_unit(layout.job.unit)}"
        told = f'strand.tension = "{tension}" or more holds this one; {fixes_words(report.fixes)}'
        return told.rstrip("; ")
    return fixes_words(report.fixes) or _NO_TENSION


def _tabled(layout: Layout, tabled: Sequence[Check]) -> Iterator[Matter]:
    unit = force_unit(layout.job.unit)
    for check in tabled:
        if not check.passes:
            asked = f"at least {solved(check.limit, unit)}"
            least = at_least(check.limit, _SET)
            fix = f"a tension at rest of {least} {unit} or more; or strands or posts nearer, by the table"
            yield Matter(
                head=FAILS,
                clause=check.clause,
                where=subject_words(check.what),
                found=figure(check.value, unit, check.limit, 5),
                asked=asked,
                fix=fix,
            )


def _to_come(upkeep: Upkeep | None, force: Fraction | None, unit: str) -> Iterator[Matter]:
    """What temperature and drying do to strands that hold today."""
    if upkeep is None:
        return
    if force is not None and upkeep.holding.verdict not in STOPPED:
        set_to = upkeep.to_set.free
        fix = _NO_TENSION if set_to is None else f"set {at_least(set_to, _SET)} {unit} today"
        where = f"every bay, at {brief(upkeep.lowest.temperature)} °C, the lowest tension to come"
        clause = f"{_FORCE}, at the lowest tension to come"
        yield Matter(
            head=FAILS,
            clause=clause,
            where=where,
            found=_push_words(upkeep.holding, unit),
            asked=f"at least {figure(force, unit)}",
            fix=fix,
        )
    if upkeep.breaks:
        where = f"at {brief(upkeep.highest.temperature)} °C, the highest tension to come"
        found, asked = solved(upkeep.highest.most, unit), "less than the strand's breaking force"
        yield Matter(
            head=FAILS,
            clause="the strand's breaking force",
            where=where,
            found=found,
            asked=asked,
            fix="set less tension, or a thicker strand",
        )
