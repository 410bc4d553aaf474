"""What bounds an opening: straight edges and corners, each with a radius of its own.

An edge has its free side on the left. ``radius`` is how far the surface stands before the drawn line or point, on
the free side: half the diameter of a strand drawn by its axis, zero for a plain edge, negative for a member
whose surface lies behind the line it is drawn by. Only corners the free region wraps around (reflex ones)
and the ends of strands can be touched; the others are left out.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple


class Vec(NamedTuple):
    """A point of the plane, exact."""

    x: Fraction
    z: Fraction


@dataclass(frozen=True, slots=True)
class Edge:
    """A straight edge from ``a`` to ``b``, free side on its left: of which ``part``, and its ``number`` if it has one.

    ``back`` marks the other side of an edge that is there already: of a strand thicker than the solid behind it.
    """

    a: Vec
    b: Vec
    part: str
    radius: Fraction = Fraction(0)
    back: bool = False
    number: int | None = None

    @property
    def name(self) -> str:
        """What it is called, its number last."""
        return self.part if self.number is None else f"{self.part} {self.number}"


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner the region wraps around, a strand's end, or an isolated point: of which ``part``, and its ``number``."""

    at: Vec
    part: str
    radius: Fraction = Fraction(0)
    number: int | None = None

    @property
    def name(self) -> str:
        """What it is called, its number last."""
        return self.part if self.number is None else f"{self.part} {self.number}"


@dataclass(frozen=True, slots=True)
class Outline:
    """Edges and corners that bound a region on their free sides. Sites count edges first, then corners.

    Backs are the last of the edges.
    """

    edges: tuple[Edge, ...]
    corners: tuple[Corner, ...]

    @property
    def sides(self) -> tuple[Edge, ...]:
        """The edges as lines, each once: without the backs."""
        return tuple(e for e in self.edges if not e.back)

    def site(self, site: int) -> Edge | Corner:
        """Find an edge or corner."""
        few = len(self.edges)
        return self.edges[site] if site < few else self.corners[site - few]

    def name(self, site: int) -> str:
        """What the edge or corner is called."""
        return self.site(site).name

    def names(self, sites: Iterable[int]) -> tuple[str, ...]:
        """What edges and corners are called, as those that a pocket's sphere touches."""
        return tuple(map(self.name, sites))
