"""What a page starts with, in words: the result, each thing that does not comply with what mends it, what is tight."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from stairguard.model.findings import Finding, Inspection, Verdict
from stairguard.model.outcome import Outcome
from stairguard.reports.words.fix_words import fixes_words
from stairguard.reports.words.general_cautions import LARGER_SPHERE
from stairguard.reports.words.grouping import groups
from stairguard.reports.words.lengths import Figures, figure, rough
from stairguard.reports.words.one_line import clean
from stairguard.reports.words.rules.alike_findings import alike, brief_words, place_words, status_words
from stairguard.reports.words.rules.reason_words import reasons_words
from stairguard.reports.words.rules.verdict_words import HEAD_VERDICTS, outcome_head

_DIGITS: Final = 5
"""A head is read at the post: no more digits than tell a figure from its limit."""

_RULED_BY_NOBODY: Final = "none"
_NO_FIX: Final = "no one change is known that mends it: change the design there, or ask the authority"


@dataclass(frozen=True, slots=True, kw_only=True)
class Matter:
    """One thing that does not comply: by which ``clause``, ``where``, what was ``found`` and ``asked``, what to do."""

    head: str
    clause: str
    where: str
    found: str
    asked: str
    fix: str
    short: str = ""


def matters(inspection: Inspection) -> list[Matter]:
    """What fails, what is too close to call, and, where nothing else is amiss, what had to be measured and was not."""
    found = list(_matters(inspection, "fail")) + list(_matters(inspection, "too close to call"))
    return found or (list(_matters(inspection, "not checked")) if inspection.outcome == "incomplete" else [])


def _matters(inspection: Inspection, verdict: Verdict) -> Iterator[Matter]:
    for same in _told(inspection, verdict):
        one = same[0]
        fix = fixes_words(one.fixes) or (reasons_words(one.why) if verdict == "not checked" else _NO_FIX)
        short = one.margin is not None and one.margin < 0
        yield Matter(
            head=HEAD_VERDICTS[verdict],
            clause=status_words(one),
            where=place_words(same),
            found=_found(one),
            asked=_asked(one),
            fix=fix,
            short=figure(-one.margin, one.unit, digits=_DIGITS) if short and one.margin is not None else "",
        )


def _found(one: Finding) -> str:
    if one.value is not None:
        return figure(one.value, one.unit, one.limit, _DIGITS)
    return "nothing" if one.verdict == "not checked" else "not kept"


def _told(inspection: Inspection, verdict: Verdict) -> list[list[Finding]]:
    """Findings that bind, of one verdict, alike ones together; of what was not checked, what makes it incomplete."""
    found = (one for one in inspection.findings if one.verdict == verdict and one.binding)
    return alike(one for one in found if verdict != "not checked" or one.needed)


def _asked(one: Finding) -> str:
    return one.kind if one.limit is None else f"{one.kind} {figure(one.limit, one.unit)}".strip()


def inspection_result(inspection: Inspection, *, designed: bool) -> str:
    """What came of it, under which rules, and what to do next."""
    outcome, by = inspection.outcome, clean(inspection.rules.name)
    many = sum(1 for _ in _matters(inspection, "fail"))
    if inspection.rules.name == _RULED_BY_NOBODY:
        by = "the job's own limits, and no rules" if designed else "no rules"
    return f"{outcome_head(outcome)}{_WITH[outcome]} {by}{_next(outcome, many, designed)}"


_WITH: Final[dict[Outcome, str]] = {
    "complies": " with", "does not comply": " with", "too close to call": " under", "incomplete": " under",
}  # fmt: skip


def _next(outcome: Outcome, many: int, designed: bool) -> str:
    if outcome == "does not comply":
        then = "lay it out again" if designed else "measure again"
        return f": {many} thing{'' if many == 1 else 's'} to mend. Make the change told at each, then {then}."
    if outcome == "too close to call":
        return ": nothing fails. Measure again, and closer, or mend, what is listed first, as it says."
    if outcome == "incomplete" and designed:
        return ": nothing fails, but not every opening is solved under the push asked for: see UNDER A PUSH."
    if outcome == "incomplete":
        return ": nothing fails, but not enough was measured. Measure what is listed first."
    if designed:
        return ", so far as it is checked here. Build to the marks; the authority having jurisdiction decides."
    return ", so far as it was measured. The authority having jurisdiction decides."


def larger_sphere_caution(inspection: Inspection) -> str:
    """The caution on the step triangle's larger sphere, where a verdict uses it; else ""."""
    used = dict.fromkeys(
        one.clause
        for one in inspection.findings
        if one.scope == "step triangle" and one.quantity == "opening" and one.verdict != "not checked"
    )
    return f"CAUTION, {'; '.join(map(clean, used))}: {LARGER_SPHERE}" if used else ""


def tight_heading(inspection: Inspection) -> str:
    """What being tight means, with the mark that the guard is built to."""
    mark = Figures(inspection.unit, inspection.mark).tape(inspection.mark)
    return f"TIGHT: passes by less than one mark ({mark}); made a mark off, it would fail."


def tight_list(inspection: Inspection) -> list[str]:
    """What passes by less than one mark of the tape, the tightest of each limit: made one mark off, it fails."""
    found = groups(inspection.tight, lambda one: (one.clause, one.quantity, one.kind, one.limit))
    return [_tight_words(same) for same in found]


def _tight_words(same: Sequence[Finding]) -> str:
    tightest, *others = alike(sorted(same, key=lambda one: one.margin or 0.0))
    one = tightest[0]
    more = f", and {len(others)} more in FINDINGS" if others else ""
    return clean(
        f"{status_words(one)}: {brief_words(tightest)}: {_found(one)}, {_asked(one)}, {rough(one.margin or 0.0)} "
        f"{one.unit} to spare{more}"
    )
