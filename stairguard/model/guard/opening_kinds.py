"""Which opening of a guard one is, and what its largest sphere touches: facts, which `reports/words` puts in words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Final, Literal, NamedTuple, TypeAlias, get_args

from stairguard.model.apart_from_place import LABEL, PLACE

OpeningKind: TypeAlias = Literal[
    "under rail", "under rail at post",
    "between strands", "between strands at corner",
    "under lowest strand", "under lowest strand at corner", "under overrun",
    "step triangle", "over tread", "open riser", "first riser", "over head", "beside post", "wedge at post",
    "between corner posts", "round corner", "past end",
]  # fmt: skip
"""``over tread``: before an open riser. ``first riser``: over what lies below a flight, ``over head``: over what lies
above it. ``wedge at post``: between the post at either end of a flight's strands and its steps. ``under overrun``:
where strands run on over the next surface. ``past end``: walking surface that the guard's last post leaves beside no
strand. ``round corner``: at a turn of a guard that stands out from the stair, where that leaves more than along its
legs."""

Walked: TypeAlias = Literal["landing", "ramp", "tread"]

TouchedPart: TypeAlias = Literal[
    "rail", "strand", "post", "tread", "riser", "nosing", "landing", "ramp", "flight", "surface edge", "line end",
    "stair side",
]  # fmt: skip
"""What a sphere may touch. ``flight``: its nosing line; ``surface edge``: the edge between two surfaces; ``line end``:
whatever stands where the line ends."""

PARTS: Final[Mapping[str, TouchedPart]] = {part: part for part in get_args(TouchedPart)}
"""Parts by what the edges and corners of a guard's outlines are called."""

OF_THE_GUARD: Final[tuple[TouchedPart, ...]] = ("rail", "strand", "post", "line end")
"""Parts that stand in the strands' plane, wherever that is; all others are the stair's."""

BETWEEN_STEPS: Final[tuple[OpeningKind, ...]] = ("step triangle", "first riser")
"""Under the lowest strand, between one nosing and the next."""

_ALIKE_AT_STEPS: Final = ("step triangle", "beside post")
_AT_POSTS: Final = ("under rail at post", "wedge at post")


class Touch(NamedTuple):
    """One part touched; ``number`` of a strand, where it is told apart, or index of the surface after an edge."""

    part: TouchedPart
    number: int | None = None


@dataclass(frozen=True, slots=True)
class Where:
    """Which opening of a surface it is.

    ``step`` is the number of its tread, 1 next above the lower landing, or of its open riser; ``post`` the label of the
    post it is at or past. ``surface`` is the index of another surface that it is told by: the one after a corner, or
    that strands run on over. ``walked`` is what lies below a first riser, above a head, or past an end; past the end of
    a flight ``end`` says which end instead.
    """

    kind: OpeningKind
    step: int | None = None
    post: str | None = field(default=None, metadata=LABEL)
    surface: int | None = field(default=None, metadata=PLACE)
    walked: Walked | None = None
    end: Literal["top", "bottom"] | None = None

    @property
    def at_any_step(self) -> Where:
        """The same of any tread, where equal steps repeat it as it is."""
        return replace(self, step=None) if self.kind in _ALIKE_AT_STEPS else self

    @property
    def unnumbered(self) -> Where:
        """The same of any tread, riser or post along a surface."""
        return replace(self, step=None, post=None if self.kind in _AT_POSTS else self.post)
