"""Why strands and rails end at a joint, what its fittings are called, and where holes come too close."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from stairguard.model.guard.passages import Bend, Ended, PlainEnd, RailsApart
from stairguard.model.guard.pieces import Fitting
from stairguard.model.guard.placed_posts import CloseAt, CloseHoles
from stairguard.model.guard.rail_joints import Joint, Unmitred
from stairguard.model.job import Unit
from stairguard.reports.words.lengths import brief, rough, stated

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
