"""Findings that come out alike, told once: what they are of, where, by which clause, and how many there are."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from dataclasses import replace
from typing import Final

from stairguard.model.apart_from_place import apart_from_place
from stairguard.model.findings import VERDICTS, Finding, Inspection, Verdict
from stairguard.model.guard.opening_kinds import Where
from stairguard.model.subjects import (
    AtPost,
    BetweenPosts,
    MeasuredDifferences,
    PastEnd,
    Size,
    Sphere,
    Spot,
    Subject,
)
from stairguard.reports.words.fix_words import fixes_words_anywhere
from stairguard.reports.words.grouping import groups, labels
from stairguard.reports.words.lengths import figure, solved
from stairguard.reports.words.names import surfaces_words
from stairguard.reports.words.rules.finding_words import alike_words, sphere_place, spots_words

_DIGITS: Final = 6


def counted(inspection: Inspection, verdict: Verdict) -> tuple[int, int]:
    """How many things of a verdict bind, as the start of a page tells them, and how many are but options."""
    found = [one for one in inspection.findings if one.verdict == verdict]
    binding, options = (alike(one for one in found if one.binding is binds) for binds in (True, False))
    return len(binding), len(options)


def tally(inspection: Inspection) -> str:
    """How many things are of each verdict, in words: of failures and doubts as many as the start of a page tells."""
    counts: list[tuple[int, str]] = []
    for verdict in VERDICTS:
        if verdict in ("fail", "too close to call"):
            bind, options = counted(inspection, verdict)
            counts += [(bind, verdict), (options, f"{verdict} in an option")]
        else:
            counts.append((inspection.count(verdict), verdict))
    return ", ".join(f"{count} {words}" for count, words in counts if count)


def alike(findings: Iterable[Finding]) -> list[list[Finding]]:
    """Gather findings that come out alike but for their surfaces, posts and treads."""
    return groups(findings, _key)


def place_words(same: Sequence[Finding]) -> str:
    """What findings that came out alike are about, and where."""
    station = same[0].place.station
    return findings_place(same) + ("" if station is None else f"; station {solved(station)}")


def brief_words(same: Sequence[Finding]) -> str:
    """What findings that came out alike are of and where, no longer than it takes to find them further down."""
    one = same[0]
    numbers = {other.place.surface + 1 for other in same if other.place.surface is not None}
    surfaces = surfaces_words(numbers) if numbers else ""
    return ", ".join(filter(None, (one.quantity, _brief_spot(same), surfaces)))


def _brief_spot(same: Sequence[Finding]) -> str:
    spheres = [one.what for one in same if isinstance(one.what, Sphere)]
    if spheres:
        return sphere_place(spheres)
    spots = [one.place.where for one in same]
    feet = [spot.post for spot in spots if isinstance(spot, AtPost)]
    return labels(feet) if feet and same[0].quantity == "foot of post" else spots_words(spots)


def status_words(one: Finding) -> str:
    """The clause, and how surely it is known."""
    return "the job's own limit" if one.clause == one.status == "job" else f"{one.clause} ({one.status})"


def findings_place(same: Sequence[Finding]) -> str:
    """What alike findings are of, and where, unless what they are of tells that; all their surfaces and posts named."""
    one, what = same[0], alike_words([each.what for each in same])
    spots = [each.place.where for each in same]
    where = f" at {spots_words(spots)}" if one.place.where and not _placed(one) else ""
    return what.rstrip(".") + where


def _placed(one: Finding) -> bool:
    if isinstance(one.what, BetweenPosts):
        return one.what.posts == one.place.where
    if isinstance(one.what, Size):
        return one.what.quantity != "post gap"
    return not isinstance(one.what, MeasuredDifferences)


def _key(one: Finding) -> tuple[object, ...]:
    """What is said of a finding but the numbers of its surface, posts and treads; figures as they are shown."""
    what, where, fix = _about(one.what), _about(one.place.where), fixes_words_anywhere(one.fixes)
    return one.verdict, one.clause, one.kind, what, found_figure(one.value, one.limit), one.limit, one.why, fix, where


def _about(fact: Subject | Spot) -> Hashable:
    """A subject or a spot but for its place."""
    if isinstance(fact, Where):
        fact = _of_any_tread(fact)
    if isinstance(fact, Sphere | PastEnd):
        fact = replace(fact, where=_of_any_tread(fact.where))
    return apart_from_place(fact)


def _of_any_tread(where: Where) -> Where:
    return where if where.kind == "open riser" else replace(where, step=None)


def found_figure(value: float | None, limit: float | None = None) -> str:
    """A figure beside its limit, as a list of findings has it."""
    return "" if value is None else figure(value, "", limit, _DIGITS)
