"""Joints in English: why strands end at a post, which holes come too close."""

from __future__ import annotations

from typing import Final

from stairguard.model.guard.passages import Bend, Ended, RailsApart
from stairguard.model.guard.placed_posts import CloseHoles
from stairguard.model.job import Unit
from stairguard.reports.words.lengths import brief, stated

__all__ = ["close_words", "ended_words"]

_WHY: Final[dict[str, str]] = {
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


_CLOSE: Final = {"one face": "on one face", "opposite faces": "on opposite faces", "centre line": "on the centre line"}


def close_words(pair: CloseHoles, *, turns: bool) -> str:
    """Say where in a post two holes come too close; ``turns``: the line turns there in plan."""
    return "across the corner" if turns and pair.where == "opposite faces" else _CLOSE[pair.where]
