"""Findings as lines of a page."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Final

from stairguard.model.findings import VERDICTS, Finding, Inspection, Verdict
from stairguard.model.grouping import groups, in_steps
from stairguard.reports.page.page_text import figure, heading, listed, paragraph, table
from stairguard.reports.words.one_line import clean

__all__ = ["alike", "brief_words", "counted", "findings_list", "place_words", "status_words", "tally"]

_SHOWN: Final = {
    "fail": "FAILS", "too close to call": "TOO CLOSE", "needs a decision": "decide", "not checked": "not checked",
    "pass": "passes",
}  # fmt: skip
_DIGITS: Final = 6
_NUMBERS: Final = re.compile(r"(?:, and \d+ like it)|(?:surface |P|tread )\d+")
_SURFACE: Final = re.compile(r"surface (\d+)(?= \()")


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


def findings_list(inspection: Inspection) -> list[str]:
    """All findings, the gravest first, with what would mend each; those that pass in a table."""
    lines = heading("FINDINGS, THE GRAVEST FIRST")
    lines += paragraph(
        "One line a rule and place: what was found against what is asked, and the margin. What is to decide, the "
        "authority having jurisdiction does, or the reader: it neither passes nor fails. What is not checked does not "
        "pass."
    )
    if inspection.conflicts:
        lines += ["", *listed(f"CONFLICT. {clean(text)}" for text in inspection.conflicts)]
    rows = [_row(same[0], _places(same)) for same in alike(inspection.findings)]
    lines += ["", *table(["verdict", "value", "limit", "margin", "what; clause (status)"], rows, words=True)]
    return lines


def alike(findings: Iterable[Finding]) -> list[list[Finding]]:
    """Gather findings that come out alike but for their surfaces, posts and treads."""
    return groups(findings, _key)


def place_words(same: Sequence[Finding]) -> str:
    """What findings that came out alike are about, and where."""
    one = same[0]
    station = "" if one.place.station is None else f"; station {one.place.station:.5g}"
    return f"{_where(one, _places(same))}{station}"


def brief_words(same: Sequence[Finding]) -> str:
    """What findings that came out alike are of and where, no longer than it takes to find them further down."""
    one = same[0]
    numbers = {other.place.surface + 1 for other in same if other.place.surface is not None}
    surfaces = f"surface{'s' if len(numbers) > 1 else ''} {in_steps(numbers)}" if numbers else ""
    where = one.place.where.removeprefix("post ") if one.quantity == "foot of post" else one.place.where
    return ", ".join(filter(None, (one.quantity, where, surfaces)))


def status_words(one: Finding) -> str:
    """The clause, and how surely it is known."""
    return "the job's own limit" if one.clause == one.status == "job" else f"{one.clause} ({one.status})"


def _where(one: Finding, what: str) -> str:
    where = f" at {one.place.where}" if one.place.where and one.place.where not in one.what else ""
    return what.rstrip(".") + where


def _key(one: Finding) -> tuple[object, ...]:
    """What is said of a finding but the numbers of its surface, posts and treads; figures as they are shown."""
    what, fix, where = (_NUMBERS.sub("", text) for text in (one.what, one.fix, one.place.where))
    return one.verdict, one.clause, one.kind, what, _number(one.value, one.limit), one.limit, one.why, fix, where


def _places(same: Sequence[Finding]) -> str:
    """What findings that came out alike are of, all their surfaces named."""
    found = [_SURFACE.search(one.what) for one in same]
    numbers = {int(place[1]) for place in found if place is not None}
    return _SURFACE.sub(f"surfaces {in_steps(numbers)}", same[0].what) if len(numbers) > 1 else same[0].what


def _row(one: Finding, what: str) -> list[str]:
    own = "" if one.unit in ("in", "mm") else f" {one.unit}"
    limit = f"{one.kind} {_number(one.limit)}{own}".strip()
    return [_SHOWN[one.verdict], _number(one.value, one.limit), limit, _margin(one.margin, one.unit), _words(one, what)]


def _number(value: float | None, limit: float | None = None) -> str:
    return "" if value is None else figure(value, "", limit, _DIGITS)


def _margin(margin: float | None, unit: str) -> str:
    return "" if margin is None else f"{margin:+.4g} {unit}".rstrip()


def _words(one: Finding, what: str) -> str:
    parts = [_where(one, what), status_words(one)]
    if one.place.station is not None and one.verdict != "pass":
        parts.append(f"station {one.place.station:.5g}")
    if one.guard_band:
        parts.append(f"guard band {one.guard_band:.3g} {one.unit}")
    if one.why:
        parts.append(one.why)
    if one.fix:
        parts.append(f"FIX: {one.fix}")
    return clean("; ".join(part.rstrip(".") for part in parts))
