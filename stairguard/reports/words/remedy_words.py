"""Remedies of jogs in English: the keys to set, why one is allowed or not, and what else comes of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import singledispatch
from typing import TYPE_CHECKING, Any, Final

from stairguard.geometry.marks import typed_text
from stairguard.model.guard.jogs import (
    Altered,
    Barred,
    Breaks,
    CheckFails,
    EdgesApart,
    Effect,
    JogElsewhere,
    JogStays,
    NoSuchGuard,
    OpeningFails,
    PushFails,
    Remedy,
    Setting,
    Within,
)
from stairguard.reports.words.lengths import stated
from stairguard.reports.words.opening_words import where_words
from stairguard.reports.words.rules.finding_words import subject_words

if TYPE_CHECKING:
    from stairguard.model.guard.rail_joints import Joint
    from stairguard.model.job import Unit
    from stairguard.reports.words.lengths import Formatter

_BARRED: Final[Mapping[Barred, str]] = {
    Barred.RAIL_ON_GROUND: "the rail would lie on the ground",
    Barred.NO_LANDING_BETWEEN: "no landing lies between whose length could change; it takes one without a level piece",
}

_ALTERED: Final[Mapping[Altered, str]] = {
    Altered.POST_STATION: "post station",
    Altered.LANDING_RAIL_HEIGHT: "landing rail height",
    Altered.FLIGHT_RAIL_HEIGHT: "flight rail height",
    Altered.RAMP_RAIL_HEIGHT: "ramp rail height",
    Altered.RISER_OFFSET: "riser offset",
    Altered.LEVEL_PIECE: "level piece",
}


def altered_words(remedy: Remedy) -> str:
    """Name what a remedy alters."""
    return _ALTERED[remedy.what]


def key_words(setting: Setting) -> str:
    """Name a key of the job file, as `surface[2].rail_height`: surfaces count from 1 there."""
    return f"surface[{setting.surface + 1}].{setting.key}"


def remedies_here(joint: Joint) -> tuple[Remedy, ...]:
    """A joint's remedies, surfaces counted from its first, no posts named: those of alike joints are equal."""
    first = joint.between[0]
    return tuple(
        replace(
            r,
            surface=None if r.surface is None else r.surface - first,
            settings=tuple(setting._replace(surface=setting.surface - first) for setting in r.settings),
            effects=tuple(replace(e, post="") if isinstance(e, JogElsewhere) else e for e in r.effects),
        )
        for r in joint.remedies
    )


def setting_words(setting: Setting, unit: Unit) -> str:
    """Write a key of the job file and its value as they are typed there."""
    value = setting.value
    return f"{key_words(setting)} = {str(value).lower() if isinstance(value, bool) else typed_text(value, unit)}"


_MEASURED: Final[dict[str, str]] = {
    "rail_height": "plumb",
    "start_post": "to the post's centre, level from the start of surface {} along the line, back negative",
    "length": "level",
    "level_piece": "a rail of its own over surface {}",
}


def measured_words(setting: Setting) -> str:
    """Say how a key's value is measured."""
    return _MEASURED[setting.key].format(setting.surface + 1)


def reason_words(remedy: Remedy) -> str:
    """Why a remedy is allowed or not; "" of one that nobody has tried."""
    return "" if remedy.why is None else f"{_fact_words(remedy.why)}{_tried(remedy)}"


def effects_words(remedy: Remedy, fmt: Formatter) -> str:
    """What a remedy does besides what its reason tells, "" where it does nothing more."""
    told = dict.fromkeys(_effect(one, remedy, fmt) for one in remedy.effects)
    if isinstance(remedy.why, Breaks):
        del told[_effect(remedy.why, remedy, fmt)]
    return "; ".join(told)


def effects_data(remedy: Remedy) -> list[dict[str, Any]]:
    """What else comes of a remedy, as plain data: ``what``, the post or what is broken, and a jog's ``size``."""
    told = [
        {"what": "jog", "where": one.post, "size": one.size}
        if isinstance(one, JogElsewhere)
        else {"what": "breaks", "where": f"{_fact_words(one.breach)}{_tried(remedy)}", "size": None}
        for one in remedy.effects
    ]
    return list({(one["what"], one["where"]): one for one in told}.values())


def _tried(remedy: Remedy) -> str:
    """Surfaces and posts that are named are those of the place where it was tried."""
    return f" (as tried at {remedy.tried_at}, which is alike)" if remedy.tried_at else ""


def _effect(one: Effect, remedy: Remedy, fmt: Formatter) -> str:
    if isinstance(one, Breaks):
        return f"breaks {_fact_words(one.breach)}{_tried(remedy)}"
    return f"leaves a jog of {fmt(one.size)} at {one.post}" if one.size else f"rids {one.post} of its jog"


@singledispatch
def _fact_words(fact: object) -> str:
    raise TypeError(fact)


@_fact_words.register(Within)
def _within_words(fact: Within) -> str:
    return f"within {fact.rules}" if fact.rules else "no rules asked for"


@_fact_words.register(Breaks)
def _breaks_words(fact: Breaks) -> str:
    return f"it breaks {_fact_words(fact.breach)}"


@_fact_words.register(JogStays)
def _jog_stays_words(fact: JogStays) -> str:
    return f"a jog of {stated(fact.size, fact.unit)} is then left"


@_fact_words.register(NoSuchGuard)
def _no_such_guard_words(fact: NoSuchGuard) -> str:
    return f"it cannot be laid out: {fact.said}"


@_fact_words.register(EdgesApart)
def _edges_apart_words(fact: EdgesApart) -> str:
    return f"the edges of both sides stand only {stated(fact.between, fact.unit)} apart"


@_fact_words.register(Barred)
def _barred_words(fact: Barred) -> str:
    return _BARRED[fact]


@_fact_words.register(CheckFails)
def _check_fails_words(fact: CheckFails) -> str:
    bound = f"{fact.kind} {stated(fact.limit)}"
    return f"{fact.clause}, {subject_words(fact.what)}: {stated(fact.value)}, {bound}"


@_fact_words.register(OpeningFails)
def _opening_fails_words(fact: OpeningFails) -> str:
    return f"{fact.clause}, {where_words(fact.where)}: {stated(fact.sphere)}"


@_fact_words.register(PushFails)
def _push_fails_words(fact: PushFails) -> str:
    return "the push asked for"
