"""A guard as it stands: what an inspector measured on it, each figure with its +-."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from stairguard.geometry.clearance.outline import Vec
from stairguard.model.asked.asked_opening import Measurement, Opened
from stairguard.model.job import USUAL_MARK, Handrail, Surface, Unit
from stairguard.model.rules import What
from stairguard.model.site import Site

LENGTHS: Final[tuple[What, ...]] = (
    "guard height", "handrail height", "riser", "run", "nosing projection", "landing length", "handrail extension",
    "handrail size", "handrail perimeter", "handrail across", "handrail clearance", "lowest edge", "post gap",
    "strand spacing", "strand run", "drop", "member",
)  # fmt: skip
"""What is one length. A drop is the plumb fall beside the guard, a member the height of what one could climb by."""
OF_THE_WHOLE: Final[tuple[What, ...]] = (
    "handrail size", "handrail perimeter", "handrail across", "handrail clearance", "strand run", "strand spacing",
    "post gap", "drop", "opening",
)  # fmt: skip
"""What need not be of one surface."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """One figure taken on site.

    ``surface`` is the index of the surface it was taken on, None where it is of the whole guard; ``at`` says where on
    it ("nosing 3", "post P2"), ``station`` may. ``place`` is, of an opening or an extension, where in a pack's words.
    ``low`` and ``high`` are what an opening spans, plumb above nosing line or surface (``high`` None: not said);
    ``reach`` how far level from the edge a drop lies. An opening given as a step, an outline or two strands is
    ``opened``, and its ``length`` is then its sphere; ``points`` and ``strand_edges`` are those of an outline, for the
    edge to move.
    """

    what: What
    length: Measurement
    surface: int | None = None
    place: str = ""
    at: str = ""
    station: Fraction | None = None
    low: Fraction = Fraction(0)
    high: Fraction | None = None
    reach: Fraction | None = None
    opened: Opened | None = None
    points: tuple[Vec, ...] = ()
    strand_edges: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True, kw_only=True)
class Survey:
    """A guard as measured: its surfaces, the figures taken, and the place. ``plus_minus`` is that of the surfaces' own.

    ``ratio`` is that of the guard band to twice the standard uncertainty; 0 takes every figure at its word. ``mark`` is
    the smallest of the tape that fixes are read off; None: 1/16 in or 1 mm.
    """

    title: str
    unit: Unit
    rules: str
    surfaces: tuple[Surface, ...]
    site: Site
    handrail: Handrail
    taken: tuple[Taken, ...]
    plus_minus: Fraction = Fraction(0)
    ratio: Fraction = Fraction(1)
    mark: Fraction | None = None

    @property
    def tape(self) -> Fraction:
        """The smallest mark of the tape."""
        return self.mark or USUAL_MARK[self.unit]
