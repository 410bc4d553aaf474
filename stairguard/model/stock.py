"""What to buy and how to cut it. Lengths are exact, in the job's unit."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

__all__ = ["StockBar", "StockPiece", "StockPlan"]


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
class StockPlan:
    """Bars to buy for a set of pieces.

    ``bought`` is their total length: ``used`` in pieces, ``kerf_loss`` in cuts, ``waste`` left over. No plan buys less
    than ``bound``; ``gap`` is what this one buys above that, and ``proven`` says that there is none: it buys least.
    ``too_long`` are the pieces that no stock length holds, to be spliced; they are in none of the totals.
    """

    bars: tuple[StockBar, ...]
    bought: Fraction
    used: Fraction
    kerf_loss: Fraction
    waste: Fraction
    bound: Fraction
    gap: Fraction
    proven: bool
    too_long: tuple[StockPiece, ...]
