"""The words on a drawing, the trade's own: lengths, spheres, joints; plumb and square always told apart."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from stairguard.geometry.marks import typed_text
from stairguard.model.guard.guard_openings import Opening
from stairguard.model.guard.jogs import (
    Breaks,
    EdgesApart,
    Effect,
    JogLeft,
    NotLaidOut,
    Remedy,
    Setting,
    Why,
    WithinRules,
)
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Unit
from stairguard.reports.words.lengths import Formatter, marked, stated

__all__ = [
    "count",
    "effects_words",
    "first_few",
    "limit_words",
    "measured_words",
    "place_words",
    "setting_words",
    "surface_name",
    "why_words",
]


def limit_words(opening: Opening, unit: Unit) -> str:
    """Write the limit an opening answers to, or a hyphen."""
    if opening.rule is None:
        return "-"
    return marked(opening.rule.value, unit)


def first_few(names: Sequence[str], most: int) -> str:
    """Write the first few names, and how many more there are."""
    text = ", ".join(names[:most])
    return text if len(names) <= most else f"{text} and {len(names) - most} more"


def count(number: int, thing: str) -> str:
    """Write a number of things: 1 riser, 2 risers."""
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"


def surface_name(layout: Layout, surface: PlacedSurface) -> str:
    """Name a surface for its place beside the flight: lower landing, upper landing, flight."""
    if surface.kind != "landing":
        alone = sum(s.kind == surface.kind for s in layout.line.surfaces) == 1
        return surface.kind if alone else f"{surface.kind} {surface.index + 1}"
    heights = [float(s.start.z) for s in layout.line.surfaces if s.kind == "landing"]
    if len(layout.line.surfaces) == _LANDING_TO_LANDING and len(heights) == 2 and heights[0] != heights[1]:
        return "lower landing" if float(surface.start.z) == min(heights) else "upper landing"
    return f"landing {surface.index + 1}"


_LANDING_TO_LANDING: Final = 3
"""Surfaces of a line from one landing to the next, where "lower" and "upper" say which is which."""


def setting_words(setting: Setting, unit: Unit) -> str:
    """Write a key of the job file and its value as they are typed there."""
    value = setting.value
    return f"{setting.key} = {str(value).lower() if isinstance(value, bool) else typed_text(value, unit)}"


_MEASURED: Final[dict[str, str]] = {
    "rail_height": "plumb",
    "start_post": "to the post's centre, level from the start of surface {} along the line, back negative",
    "length": "level",
    "level_piece": "a rail of its own over surface {}",
}


def measured_words(setting: Setting) -> str:
    """Say how a key's value is measured."""
    place, name = setting.key.removeprefix("surface[").split("].")
    return _MEASURED[name].format(place)


def effects_words(remedy: Remedy, fmt: Formatter) -> str:
    """Say what a remedy does besides what its `why` tells, "" where it does nothing more."""
    told = remedy.why.effect.where if isinstance(remedy.why, Breaks) else None
    more = (effect for effect in remedy.effects if effect.what != "breaks" or effect.where != told)
    return "; ".join(_effect(effect, fmt) for effect in more)


def place_words(effect: Effect) -> str:
    """Where a remedy does something besides, or what it breaks there."""
    return f"{effect.where}{_as_at(effect.tried_at)}"


def _as_at(tried_at: str | None) -> str:
    """Say of what is broken, or cannot be, where it was tried: its surfaces and posts are not this joint's."""
    return "" if tried_at is None else f" (as tried at {tried_at}, which is alike)"


def why_words(remedy: Remedy, unit: Unit) -> str:
    """Say why a remedy is allowed or not, "" where nobody has tried."""
    return "" if remedy.why is None else f"{_why(remedy.why, unit)}{_as_at(remedy.tried_at)}"


_NEVER: Final = {
    "on the ground": "the rail would lie on the ground",
    "no landing between": "no landing lies between whose length could change; it takes one without a level piece",
}


def _why(why: Why, unit: Unit) -> str:
    if isinstance(why, EdgesApart):
        return f"the edges of both sides stand only {stated(why.by)} {unit} apart"
    if isinstance(why, NotLaidOut):
        return f"it cannot be laid out: {why.error}"
    if isinstance(why, JogLeft):
        return f"a jog of {stated(why.size)} {unit} is then left"
    if isinstance(why, Breaks):
        return f"it breaks {why.effect.where}"
    if isinstance(why, WithinRules):
        return "no rules asked for" if why.rules is None else f"within {why.rules}"
    return _NEVER[why]


def _effect(effect: Effect, fmt: Formatter) -> str:
    if effect.what == "breaks":
        return f"breaks {place_words(effect)}"
    return f"leaves a jog of {fmt(effect.size)} at {effect.where}" if effect.size else f"rids {effect.where} of its jog"
