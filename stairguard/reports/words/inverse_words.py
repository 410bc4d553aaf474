"""How far a length of an opening may go, and why nothing is told of that."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from stairguard.model.asked.asked_opening import Inverse, Move, NoGreatest

_NO_GREATEST: Final[Mapping[NoGreatest, str]] = {
    "open between treads": "the gap between two treads lets the sphere through, whatever the lift",
    "open below nosing": "the step lets the sphere through below the nosing, whatever the lift",
    "no lift stops it": "no lift lets the sphere through",
    "no move stops it": "no move of {side} alone stops the sphere",
    "moves freely": "{side} may move outwards as far as its neighbours let it",
    "grows at once": "there the sphere grows at one blow past the limit",
}


def side_words(side: Move) -> str:
    """The edge, or the edges that are one straight side."""
    numbers = " and ".join(map(str, side.edges))
    return f"edge {numbers}" if len(side.edges) == 1 else f"the side of edges {numbers}"


def length_words(inverse: Inverse) -> str:
    """Which length of an opening was asked how far it may go."""
    return f"move of {side_words(inverse.what)}" if isinstance(inverse.what, Move) else inverse.what


def why_no_greatest(inverse: Inverse) -> str:
    """Why no greatest length is told, or why the sphere there is not the limit; "" where neither is to be said."""
    if inverse.why is None:
        return ""
    side = side_words(inverse.what) if isinstance(inverse.what, Move) else ""
    return _NO_GREATEST[inverse.why].format(side=side)
