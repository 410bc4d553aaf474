"""What fabricators commonly keep to, held against a layout: never a failure, and no document says so."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, NamedTuple

from stairguard.model.findings import Finding, Location
from stairguard.model.guard.pieces import StrandRun
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.subjects import AtPosts, AtStrand, BetweenPosts, Subject, WholeGuard
from stairguard.rules.findings.site_findings import optional
from stairguard.rules.pack.reader import read_practice


class _Widest(NamedTuple):
    """The largest figure of its kind on a guard."""

    value: float
    what: Subject
    place: Location


def practised(layout: Layout) -> Iterator[Finding]:
    """Post gap, strand spacing, and length and changes of angle of a run: of each the largest, where there is one."""
    found = dict(_figures(layout))
    for rule in read_practice(layout.job.unit).rules:
        if rule.quantity not in found:
            continue
        value, what, place = found[rule.quantity]
        limit = float(rule.value)
        passes = value <= limit
        yield Finding.of(
            rule,
            "pass" if passes else "needs a decision",
            what,
            place,
            value=value,
            limit=limit,
            unit=rule.limit_unit(layout.job.unit),
            margin=limit - value,
            why=() if passes else (optional(rule),),
        )


def _figures(layout: Layout) -> Iterator[tuple[str, _Widest]]:
    fields = [field for field in layout.fields if len(field.heights) > 1]
    if fields:
        widest = max(fields, key=lambda field: field.square_spacing)
        yield "strand spacing", _Widest(widest.square_spacing, WholeGuard("strand spacing"), Location(widest.surface))
    runs = layout.runs
    if not runs:
        return
    gap = max(run.longest_bay for run in runs)
    yield "post gap", _Widest(gap, WholeGuard("post gap"), Location())
    longest = max(runs, key=lambda run: run.length)
    yield "strand run", _Widest(longest.length, _of_run(longest, "longest run"), _at(longest))
    bent = max(runs, key=lambda run: run.angle_changes)
    yield "run bends", _Widest(float(bent.angle_changes), _of_run(bent, "most bends"), _at(bent))


def _of_run(run: StrandRun, of: Literal["longest run", "most bends"]) -> BetweenPosts:
    return BetweenPosts(AtPosts(run.posts[0], run.posts[-1]), of)


def _at(run: StrandRun) -> Location:
    return Location(None, AtStrand(run.strand))
