"""The words on a drawing, the trade's own: lengths, spheres, joints; plumb and square always told apart."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from stairguard.geometry.marks import typed_text
from stairguard.model.guard.guard_openings import Opening
from stairguard.model.guard.jogs import Effect, Remedy, Setting
from stairguard.model.guard.rail_joints import Joint, JointStrand
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Unit
from stairguard.reports.words.lengths import Formatter, degrees_words, marked, stated

__all__ = [
    "count",
    "effects_words",
    "first_few",
    "fitting_words",
    "joint_words",
    "limit_words",
    "measured_words",
    "setting_words",
    "surface_name",
    "turn_words",
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


def nosing_at(layout: Layout, joint: Joint) -> tuple[int, Fraction] | None:
    """Return number and station of the flight's nosing at a joint; None where no flight meets."""
    for index in joint.between:
        surface = layout.line.surfaces[index]
        if surface.nosings:
            at_start = index == joint.between[1]
            nosing = surface.nosings[0 if at_start else -1]
            lowest = at_start == (surface.slope > 0)
            return (1 if lowest else len(surface.nosings)), nosing.s
    return None


def fitting_words(joint: Joint, strand: JointStrand) -> str:
    """What carries a strand through a joint or ends it there; at a corner of two posts, what at which of them."""
    if not strand.passed:
        return strand.fitting
    return f"{strand.fitting} at {joint.end_post(strand)}, {strand.passed} at {joint.own_post(strand)}"


def onto_chord(joint: Joint, strand: JointStrand) -> str:
    """How a strand that passes one of two posts bends there, and how askew it runs on to where it ends."""
    if strand.end_skew_deg is None or joint.chord is None:
        return ""
    return (
        f"; bend {degrees_words(strand.bend_deg)} at {joint.own_post(strand)}, then slope "
        f"{degrees_words(joint.chord.pitch_deg)} and {degrees_words(strand.end_skew_deg)} askew in plan to the inner "
        f"faces of both posts"
    )


def joint_words(layout: Layout, joint: Joint, fmt: Formatter) -> tuple[str, ...]:
    """Say where two rails meet, how they are cut there, and the jog if they miss each other at the post."""
    lines = []
    nosing = nosing_at(layout, joint)
    if nosing is not None and joint.from_nosing is not None:
        way = 1 if layout.line.surfaces[_flight_of(layout, joint)].slope > 0 else -1
        stands = (joint.station - nosing[1]) * way
        meets = joint.ends[0].s if joint.mitred or joint.meets is None else joint.meets.s
        if meets == joint.station:
            lines.append(f"rails meet over its centre, {_offset(stands, fmt)} nosing {nosing[0]}")
        else:
            lines.append(f"rails meet {_offset(joint.from_nosing, fmt)} nosing {nosing[0]}")
            lines.append(f"post centre {_offset(stands, fmt)} nosing {nosing[0]}")
    if joint.jog:
        if joint.turn_deg:
            lines.append(turn_words(joint))
        lines.append(f"JOG {fmt(abs(joint.jog))} plumb, {_of_jog(layout, joint)}")
    else:
        lines.append(_bend_words(joint))
    return tuple(lines)


def turn_words(joint: Joint) -> str:
    """Say a plan turn as it is walked."""
    return f"turn {stated(abs(joint.turn_deg))}° {'left' if joint.turn_deg > 0 else 'right'}"


_SAME_ANGLE: Final = 1e-6


def _bend_words(joint: Joint) -> str:
    """Say how far the rails turn, in plan and in all, and how they are cut for it."""
    if joint.mitred and not joint.bend_deg:
        return "rails straight on"
    words = f"bend {degrees_words(joint.bend_deg)}"
    if joint.turn_deg:
        level = abs(joint.bend_deg - abs(joint.turn_deg)) < _SAME_ANGLE
        words = turn_words(joint) if level else f"{turn_words(joint)}, {words}"
    if not joint.mitred:
        return f"{words}, rails end on the post"
    return f"{words}, mitre {degrees_words(joint.mitre_deg)} each"


def _of_jog(layout: Layout, joint: Joint) -> str:
    """Which rail stands above which where they end."""
    surfaces = [layout.line.surfaces[i] for i in joint.between]
    high, low = surfaces if joint.higher == joint.between[0] else surfaces[::-1]
    if high.kind == low.kind:
        return f"rail over surface {high.index + 1} above that over surface {low.index + 1}"
    return f"{high.kind} rail above {low.kind} rail"


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
    more = (e for e in remedy.effects if not (e.what == "breaks" and remedy.why.endswith(e.where)))
    return "; ".join(_effect(effect, fmt) for effect in more)


def _effect(effect: Effect, fmt: Formatter) -> str:
    if effect.what == "breaks":
        return f"breaks {effect.where}"
    return f"leaves a jog of {fmt(effect.size)} at {effect.where}" if effect.size else f"rids {effect.where} of its jog"


def _flight_of(layout: Layout, joint: Joint) -> int:
    return next(i for i in joint.between if layout.line.surfaces[i].kind == "flight")


def _offset(value: Fraction, fmt: Formatter) -> str:
    if value == 0:
        return "plumb over"
    return f"{fmt(abs(value))} level {'uphill' if value > 0 else 'downhill'} of"
