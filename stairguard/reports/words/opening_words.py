"""What openings and the parts that bound them are called."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Final

from stairguard.model.guard.opening_kinds import OpeningKind, Touch, Where

if TYPE_CHECKING:
    from stairguard.model.guard.guard_openings import Opening
    from stairguard.reports.words.lengths import Figures

_WORDS: Final[Mapping[OpeningKind, tuple[str, str]]] = {
    "under rail": ("under the rail", ""),
    "under rail at post": ("under the rail", " at {post}"),
    "between strands": ("between strands", ""),
    "between strands at corner": ("between strands", " at {corner}"),
    "under lowest strand": ("under the lowest strand", ""),
    "under lowest strand at corner": ("under the lowest strand", " at {corner}"),
    "under overrun": ("under the strands that run on over surface", " {surface}"),
    "step triangle": ("step triangle", "{of_tread}"),
    "over tread": ("over tread", " {step}, open riser"),
    "open riser": ("open riser", " {step}"),
    "first riser": ("first riser", ", over the {below}"),
    "over head": ("over the {above}", ", before the post"),
    "beside post": ("beside a post", "{of_tread}"),
    "wedge at post": ("wedge", " at {post}"),
    "round corner": ("round the corner, under the lowest strands", " at {corner}"),
    "between corner posts": ("between the corner posts", " at {corner}, in plan"),
    "past end": ("unguarded beyond {post}", ", to {end}"),
}
"""Of each kind what it is, and which of its kind."""

_OF_ANY_STEP: Final[Mapping[OpeningKind, str]] = {"over tread": "over a tread, open riser", "open riser": "open riser"}


def where_words(where: Where) -> str:
    """Which opening it is; "a post" or no number where that is left out."""
    if where.step is None and where.kind in _OF_ANY_STEP:
        return _OF_ANY_STEP[where.kind]
    return "".join(_WORDS[where.kind]).format_map(_names(where))


def brief_where(where: Where) -> str:
    """What an opening is, of whatever tread or corner."""
    return _WORDS[where.kind][0].format_map(_names(where))


def _names(where: Where) -> dict[str, object]:
    surface = None if where.surface is None else where.surface + 1
    return {
        "step": where.step,
        "of_tread": "" if where.step is None else f", tread {where.step}",
        "post": "a post" if where.post is None else f"post {where.post}",
        "surface": surface,
        "corner": f"the turn of surface {surface}",
        "below": "lower landing" if where.walked == "landing" else where.walked,
        "above": "upper landing" if where.walked == "landing" else where.walked,
        "end": f"the end of the {where.walked}" if where.end is None else f"the {where.end} nosing",
    }


def out_of_side_words(opening: Opening, figures: Figures) -> str:
    """How far out from the side a sphere's centre is, and what it is sure to; "" of one in the stair's plane."""
    out = f", centre {figures.tape(opening.out)} out from the side" if opening.out else ""
    bound = f"; found by a search, at most {figures.decimal(opening.error)} too large" if opening.error else ""
    return out + bound


def touch_words(touch: Touch) -> str:
    """What is touched."""
    if touch.part == "surface edge":
        return f"edge of surface {(touch.number or 0) + 1}"
    name = _PART_WORDS.get(touch.part, touch.part)
    return name if touch.number is None else f"{name} {touch.number}"


_PART_WORDS: Final[Mapping[str, str]] = {"line end": "end of the line", "stair side": "side of the stair"}
