"""Whether a strand passes a post, and why one that does not ends there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

StrandSides: TypeAlias = Literal["both", "before", "after"]
"""On which sides of a post a strand lies, stations increasing from the one before to the one after."""

RunLimit: TypeAlias = Literal["angle changes", "longest run"]
"""What one run may be, by the job's keys: a strand that would be more is broken, and goes on in the same hole."""

LineEnd: TypeAlias = Literal["last post", "wall", "newel"]
"""What the line ends at."""

RUN_LIMITS: Final[tuple[RunLimit, ...]] = ("angle changes", "longest run")


@dataclass(frozen=True, slots=True)
class Bend:
    """Strands bend more at a joint, by ``degrees``, than the fittings allow, ``largest``."""

    degrees: float
    largest: float


@dataclass(frozen=True, slots=True)
class RailsApart:
    """The undersides of a joint's rails stand so far ``apart``, plumb, that strands cannot pass it.

    ``in_the_way`` is what is in strand 1's way, one of the rails; else the lowest strands could not keep their places.
    """

    apart: float
    in_the_way: bool


AsAsked: TypeAlias = Literal["asked", "line closes"]
Bar: TypeAlias = AsAsked | Bend | RailsApart
"""Why no strand passes a joint: the job asks for that, the line closes there, or strands cannot."""

PlainEnd: TypeAlias = AsAsked | RunLimit | LineEnd | Literal["none beyond"]
Ended: TypeAlias = Bar | PlainEnd
"""Why a strand ends at a post: ``none beyond``: the joint lets strands pass, but the other side has none so low."""


@dataclass(frozen=True, slots=True)
class Passage:
    """How a strand comes to its hole in a post: on which ``side`` of it, and why it has ``ended`` there.

    ``ended`` is None where it passes. Where a run is broken and the next begins in one hole, the strand lies on both
    sides.
    """

    side: StrandSides
    ended: Ended | None = None

    @property
    def passes(self) -> bool:
        """Whether a run goes through the post."""
        return self.ended is None

    @property
    def kept_back(self) -> bool:
        """Whether it ends though its line goes on: it is broken there, or a joint in the line lets none pass."""
        barred = isinstance(self.ended, Bend | RailsApart) or self.ended == "asked"
        return barred or self.broken

    @property
    def broken(self) -> bool:
        """Whether one run ends and the next begins there, though the strand could pass."""
        return self.ended in RUN_LIMITS
