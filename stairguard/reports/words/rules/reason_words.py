"""Why a finding neither passes nor fails, or by what it passes, and what no figure can meet."""

from __future__ import annotations

from collections.abc import Sequence
from functools import singledispatch
from typing import Final

from stairguard.model.findings import Clash, Conflict, Unclosed
from stairguard.model.reasons import (
    ByLeave,
    DepthStatedBy,
    FallPastEnd,
    NoGuardAsked,
    Noted,
    NotMeasured,
    Option,
    Reason,
    Required,
    Unsaid,
    Why,
)
from stairguard.reports.words.fix_words import fixes_words
from stairguard.reports.words.general_cautions import LARGER_SPHERE
from stairguard.reports.words.lengths import stated
from stairguard.reports.words.names import surfaces_words
from stairguard.reports.words.rules.rule_words import condition_words

_REASONS: Final[dict[Why, str]] = {
    Why.ENGINEER: "a load: a licensed engineer designs posts, rails and anchors for it",
    Why.DROP_UNSTATED: "the drop is not stated ([site] greatest_drop): a guard is taken as required",
    Why.UNSTATED_HANDRAIL: "[handrail] does not state it",
    Why.UNTOLD_BY_JOB: "the job does not tell it",
    Why.UNTOLD_BY_FIGURES: "not to be told from these figures",
    Why.ROUND: "the handrail is round",
    Why.NOT_ROUND: "the handrail's section is not round",
    Why.DEPTH_UNSHOWN: "it lies at a turn, where the guard line does not show its depth in the direction of travel",
    Why.FOOT_AT_CORNER: "notched over the edge or let into the steps, it is fixed to the landing's side: a licensed "
    "engineer decides how",
    Why.LARGER_SPHERE: LARGER_SPHERE,
    Why.NEAR_LIMIT: "nearer to its limit than the guard band that its +- leaves",
    Why.PUSH_APART: "between a strand and the stair that it stands out from the push is not solved",
    Why.CONTACT_MAY_CHANGE: "the sphere may in truth touch something else",
    Why.ABOVE_GUARD: "it lies wholly above the height that a guard has to have here: many codes limit no opening there",
    Why.WITHIN_TAPE: "within what the tape can tell",
    Why.FEW_HEIGHTS: "fewer than two heights were measured",
    Why.STRANDS_CLIMBED: "strands may be climbed like a ladder",
    Why.MEMBERS_CLIMBED: "they may be climbed like a ladder",
    Why.NO_MEMBERS: "no heights of members were given",
    Why.NO_TOLERANCE: "no tolerance is printed",
}


def reasons_words(reasons: Sequence[Reason]) -> str:
    """Why a finding neither passes nor fails, or by what it passes; "" where nothing is to be said."""
    *first, last = [_reason(one) for one in reasons] or [""]
    return "; ".join([*(text.rstrip(".") for text in first), last])


@singledispatch
def _reason(reason: object) -> str:
    raise TypeError(reason)


@_reason.register(Why)
def _why(reason: Why) -> str:
    return _REASONS[reason]


@_reason.register(Noted)
def _noted(reason: Noted) -> str:
    return f"{_REASONS[reason.why]}. {reason.note}"


@_reason.register(Option)
def _option(reason: Option) -> str:
    if reason.practice:
        return f"common practice, no source: {reason.note.rstrip('.')}"
    return f"it may not bind here: {reason.note}"


@_reason.register(Unsaid)
def _unsaid(reason: Unsaid) -> str:
    return f"[site] does not say whether it binds here: {', '.join(map(condition_words, reason.conditions))}"


@_reason.register(NotMeasured)
def _not_measured(reason: NotMeasured) -> str:
    where = f" on {surfaces_words(index + 1 for index in reason.surfaces)}" if reason.surfaces else ""
    return f"not measured{where}"


@_reason.register(Required)
def _required(reason: Required) -> str:
    words = "a guard is required here, and there is one"
    if reason.within is None:
        return words
    return f"{words} (the drop taken as within {stated(reason.within)} {reason.unit} of the edge)"


@_reason.register(NoGuardAsked)
def _no_guard(reason: NoGuardAsked) -> str:
    cause = "a drop so far from the edge" if reason.far else "the drop stated"
    return f"{cause} asks for no guard by this clause; it is held to the rules all the same"


@_reason.register(FallPastEnd)
def _fall_past_end(reason: FallPastEnd) -> str:
    return (
        f"so far as the job tells the fall there is {stated(reason.drop)} {reason.unit}, which asks for no guard by "
        "this clause: if it is more, the guard is to go on to the end"
    )


@_reason.register(ByLeave)
def _by_leave(reason: ByLeave) -> str:
    return f"larger, by leave of {reason.clause} ({reason.status}): the lowest edge is low enough"


@_reason.register(DepthStatedBy)
def _depth_stated(reason: DepthStatedBy) -> str:
    if reason.surface is None:
        return "a landing between them that has length = 0 and level_piece = false states it by its depth"
    return f"surface[{reason.surface + 1}].depth states it"


def conflict_words(conflict: Conflict) -> str:
    """What no one figure can meet, and the smallest change that would let it be met."""
    return _clash(conflict) if isinstance(conflict, Clash) else _unclosed(conflict)


def _clash(clash: Clash) -> str:
    least, most, unit = clash.least, clash.most, clash.unit
    low, high = (f"{stated(rule.value)} {unit}" for rule in (least, most))
    words = f"Over a {clash.over}: {least.clause} asks at least {low}, {most.clause} at most {high}"
    if least.quantity == most.quantity:
        return f"{words}, of one {least.quantity}: no figure meets both. The authority decides which holds."
    by = least.value - most.value
    floor = "" if clash.floor is None else f"from {stated(clash.floor)} "
    return (
        f"{words}, of one rail: no height meets both, they are {stated(by)} {unit} apart. Smallest change: a handrail "
        f"of its own, {floor}to {high}, beside a guard of at least {low}."
    )


def _unclosed(conflict: Unclosed) -> str:
    one, given, unit = conflict.finding, conflict.given, conflict.unit
    sizes = f"rise {stated(given.rise)}, run {stated(given.run)}, nosing {stated(given.nosing)} {unit}"
    asked = f"{one.clause} ({one.kind} {stated(one.limit or 0.0, unit)})"
    return (
        f"The steps of surface {(one.place.surface or 0) + 1} ({sizes}) and {asked}: no strand clear of the nosings "
        f"stops that sphere. Smallest change: {fixes_words(one.fixes)}."
    )
