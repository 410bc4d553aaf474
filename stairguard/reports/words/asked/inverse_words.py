"""How far a length of an opening may go, and why nothing is told of that."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Final

from stairguard.model.asked.asked_opening import Inverse, Move, NoGreatest
from stairguard.reports.words.lengths import at_least, at_most, figure

if TYPE_CHECKING:
    from stairguard.model.asked.asked_opening import Opened
    from stairguard.model.job import Unit

_NOTHING: Final = 1e-9  # no tape, nor anybody, tells so little from none

_BELOW: Final = (
    "Over the treads no member can be there: it would cut the nosings. Beside the stair one can, but there a sphere "
    "finds more room than the elevation shows (layout reckons it, from post.offset)."
)

_NO_GREATEST: Final[Mapping[NoGreatest, str]] = {
    "open between treads": "the gap between two treads lets the sphere through, whatever the lift",
    "open beside": "beside the stair the gap to the member lets the sphere through, however low it is",
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


def how_far(answer: Opened, inverse: Inverse, unit: Unit) -> str:
    """How far a length of an opening may go, the sphere there, and what to change where it may not go at all."""
    assert answer.limit is not None
    limit = figure(answer.limit, unit)
    why = why_no_greatest(inverse)
    if inverse.greatest is None or inverse.sphere is None:
        return f"{why[0].upper()}{why[1:]}.{_instead_words(answer, unit)}"
    size = f"{at_most(inverse.greatest + 0.0)} {unit}"
    check = f"With exactly that the largest sphere is {figure(inverse.sphere, unit)}."
    more = f" {why[0].upper()}{why[1:]}." if why else ""
    nothing = abs(inverse.greatest) < _NOTHING
    if inverse.what == "lift" and answer.beside is not None and inverse.greatest < 0 and not nothing:
        return (
            f"A sphere of {limit} is stopped only while the underside of the member is more than "
            f"{at_least(-inverse.greatest)} {unit} below the nosing line, square: a lift of less than "
            f"-{at_least(-inverse.greatest)} {unit}. {check}{more}{_instead_words(answer, unit)}"
        )
    if inverse.what == "height":
        return (
            f"A sphere of {limit} is stopped while the middle of the strand is less than {size} above the surface, "
            f"square. {check}{_instead_words(answer, unit)}"
        )
    if inverse.what == "lift" and answer.beside is None and (inverse.greatest <= 0 or nothing):
        below = "" if nothing else f"more than {at_least(-inverse.greatest)} {unit} "
        return (
            f"A sphere of {limit} is stopped only while the underside of the member is {below}below the nosing line, "
            f"square. {check}{more} {_BELOW}{_instead_words(answer, unit)}"
        )
    if inverse.what == "lift":
        return (
            f"A sphere of {limit} is stopped while the lift, square, is less than {size}. {check}{more}"
            f"{_instead_words(answer, unit)}"
        )
    if inverse.what == "spacing":
        return f"A sphere of {limit} is stopped while the spacing, square, is less than {size}. {check}"
    edge = side_words(inverse.what).capitalize()
    if inverse.greatest > 0 and not nothing:
        return f"{edge} may move outwards, square to itself, by less than {size}. {check}{more}"
    inwards = ", however little," if nothing else f", by more than {at_least(-inverse.greatest)} {unit}"
    return f"{edge} must move inwards, square to itself{inwards} to stop a sphere of {limit}. {check}{more}"


def _instead_words(answer: Opened, unit: Unit) -> str:
    """Another rise, run or nosing where no lift will do, with the lift that goes with it."""
    if not answer.mends:
        return ""
    if answer.beside is not None:
        (mend,) = answer.mends
        as_it_is = "height" if answer.form == "edge" else "lift"
        return (
            f" With the {as_it_is} as given it is stopped while the offset is less than {at_most(mend.value)} {unit}."
        )
    lift = answer.mends[0].lift
    held = "With the lift as given" if lift is None else f"With the lift {figure(lift, unit)}"
    sizes = ", or while ".join(f"the {mend.what} is less than {at_most(mend.value)} {unit}" for mend in answer.mends)
    return f" {held} it is stopped while {sizes}, the other lengths as given."
