"""What to buy and how to cut it. Lengths are exact, in the job's unit."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True)
class StockPiece:
    """``count`` pieces called ``label``, each of ``length``."""

    label: str
    length: Fraction
    count: int


@dataclass(frozen=True, slots=True)
class StockBar:
    """``count`` bars of stock, all cut alike: from each the ``pieces`` (label, how many), longest first.

    ``waste`` is what is left of one bar, its kerfs taken off.
    """

    length: Fraction
    count: int
    pieces: tuple[tuple[str, int], ...]
    waste: Fraction


@dataclass(frozen=True, slots=True)
class Spliced:
    """A rail piece longer than all stock, in ``parts`` that stock holds, spliced over ``posts``, in order of stations.

    No posts: from one post to the next, or to an end, is longer than all stock too.
    """

    label: str
    surface: int
    posts: tuple[str, ...]
    parts: tuple[Fraction, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StockPlan:
    """Bars to buy for those of a set of pieces that fit in some stock.

    ``bought`` is their total length: ``used`` in pieces, ``kerf_loss`` in cuts, ``waste`` left over. No plan of the
    pieces that fit buys less than ``bound``; ``gap`` is what this one buys above that. ``too_long`` are the pieces that
    no stock length holds; they are in none of these. ``spliced`` says where rails among them may be spliced,
    ``longest_run`` what longest run would break strands at posts into pieces that stock holds: None where bays leave no
    room for that, or none is too long.
    """

    bars: tuple[StockBar, ...]
    bought: Fraction
    used: Fraction
    kerf_loss: Fraction
    waste: Fraction
    bound: Fraction
    gap: Fraction
    too_long: tuple[StockPiece, ...]
    spliced: tuple[Spliced, ...] = ()
    longest_run: Fraction | None = None

    @property
    def proven(self) -> bool:
        """Whether no plan of all the pieces buys less."""
        return not self.gap and not self.too_long
