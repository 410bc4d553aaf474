"""Joints in English: where rails meet and how they end, what strands do there and why, which holes come too close."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Final

from stairguard.model.guard.passages import Bend, Ended, PlainEnd, RailsApart
from stairguard.model.guard.pieces import Fitting
from stairguard.model.guard.placed_posts import CloseAt, CloseHoles
from stairguard.model.guard.rail_joints import Joint, JointStrand, Unmitred
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.job import Unit
from stairguard.reports.words.lengths import Formatter, brief, degrees_words, rough, stated

_WHY: Final[Mapping[PlainEnd, str]] = {
    "asked": "the job ends strands at joints",
    "line closes": "the line closes there: no strand goes through",
    "none beyond": "no strand of that number beyond",
    "angle changes": "more changes of angle than one run may have",
    "longest run": "longer than one run may be",
    "last post": "end of the line",
    "wall": "the wall",
    "newel": "the newel",
}


def ended_words(ended: Ended | None, unit: Unit) -> str:
    """Say why a strand ends at a post, "" where it passes."""
    if ended is None:
        return ""
    if isinstance(ended, Bend):
        return f"bends {brief(ended.degrees)} deg there, more than the {stated(ended.largest)} deg its fittings allow"
    if isinstance(ended, RailsApart):
        end = "one is in strand 1's way" if ended.in_the_way else "the lowest strands could not keep their places"
        return f"the rails' undersides stand {brief(ended.apart, unit)} apart there, so {end}"
    return _WHY[ended]


_CLOSE: Final[Mapping[CloseAt, str]] = {
    "one face": "on one face", "opposite faces": "on opposite faces", "centre line": "on the centre line",
}  # fmt: skip


def close_words(pair: CloseHoles, *, turns: bool) -> str:
    """Say where in a post two holes come too close; ``turns``: the line turns there in plan."""
    return "across the corner" if turns and pair.where == "opposite faces" else _CLOSE[pair.where]


_FITTINGS: Final[dict[Fitting, str]] = {
    "straight": "straight pass",
    "one plane": "angle pass in one plane",
    "compound": "compound pass",
    "terminal": "terminal",
    "tensioner": "tensioner",
}


def fitting_words(fitting: Fitting) -> str:
    """Name a fitting."""
    return _FITTINGS[fitting]


def carried_words(joint: Joint, strand: JointStrand) -> str:
    """What carries a strand through a joint or ends it there; at a corner of two posts, what at which of them."""
    words = _FITTINGS[strand.fitting]
    if strand.passed is not None:
        return f"{words} at {joint.end_post(strand)}{passed_words(joint, strand)}"
    return f"{words}, at each of two posts" if strand.whole and joint.second_post else words


def passed_words(joint: Joint, strand: JointStrand) -> str:
    """What carries a strand through one of a corner's two posts that ends at the other, "" of any that does not."""
    return "" if strand.passed is None else f", {_FITTINGS[strand.passed]} at {joint.own_post(strand)}"


def onto_chord(joint: Joint, strand: JointStrand) -> str:
    """How a strand that passes one of two posts bends there, and how askew it runs on to where it ends."""
    if strand.end_skew_deg is None or joint.chord is None:
        return ""
    return (
        f"; bend {degrees_words(strand.bend_deg)} at {joint.own_post(strand)}, then slope "
        f"{degrees_words(joint.chord.pitch_deg)} and {degrees_words(strand.end_skew_deg)} askew in plan to the inner "
        f"faces of both posts"
    )


_UNMITRED: Final[dict[Unmitred, str]] = {
    "turned back": "the rails turn back on themselves: each ends on the post",
    "different heights": "the rails arrive at different heights: each ends on the post",
    "different lines": "the rails come to the post's faces at one height, not to one line: each ends on the post",
    "half-turn": "a half-turn: each rail ends on the post, or a bent piece joins them",
}


def unmitred_words(joint: Joint) -> str:
    """Say why rails end on the post and what would join them, "" where they are mitred."""
    if joint.unmitred is None:
        return ""
    if joint.unmitred == "twisted" and joint.cut is not None:
        twist = rough(abs(joint.cut.twist_deg))
        return f"mitred, the sections would be twisted {twist} deg: post, level piece or easing"
    return _UNMITRED[joint.unmitred]


def joint_words(layout: Layout, joint: Joint, fmt: Formatter) -> tuple[str, ...]:
    """Say where two rails meet, how they are cut there, and the jog if they miss each other at the post."""
    lines = []
    nosing = joint.nosing
    if nosing is not None and joint.from_nosing is not None:
        stands = uphill_words(nosing.uphill(joint.station), f"nosing {nosing.number}", fmt)
        meets = joint.ends[0].s if joint.mitred or joint.meets is None else joint.meets.s
        if meets == joint.station:
            lines.append(f"rails meet over its centre, {stands}")
        else:
            lines.append(f"rails meet {uphill_words(joint.from_nosing, f'nosing {nosing.number}', fmt)}")
            lines.append(f"post centre {stands}")
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
    high, low = (layout.line.surfaces[index] for index in joint.by_height)
    if high.kind == low.kind:
        return f"rail over surface {high.index + 1} above that over surface {low.index + 1}"
    return f"{high.kind} rail above {low.kind} rail"


def uphill_words(uphill: Fraction, of: str, fmt: Formatter) -> str:
    """Say how far uphill of a nosing something is, level, or downhill."""
    if uphill == 0:
        return f"plumb over {of}"
    return f"{fmt(abs(uphill))} level {'uphill' if uphill > 0 else 'downhill'} of {of}"
