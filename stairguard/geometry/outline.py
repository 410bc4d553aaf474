"""What bounds an opening: straight edges and corners, each with a radius of its own.

An edge has its free side on the left. ``radius`` is how far the surface stands before the drawn line or point, on
the free side: half the diameter of a strand drawn by its axis, zero for a plain edge, negative for a member
whose surface lies behind the line it is drawn by. Only corners the free region wraps around (reflex ones)
can be touched; the others are left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:  # numpy.typing costs more to import than all of the geometry
    from numpy.typing import NDArray

__all__ = ["Corner", "Edge", "Floats", "Outline", "Vec", "chain"]


class Vec(NamedTuple):
    """A point of the plane, exact."""

    x: Fraction
    z: Fraction


@dataclass(frozen=True, slots=True)
class Edge:
    """A straight edge from ``a`` to ``b``, free side on its left."""

    a: Vec
    b: Vec
    name: str
    radius: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Corner:
    """A reflex corner, or an isolated point when ``wedge`` is None.

    ``wedge`` is the pair of edges (by index) before and after it.
    """

    at: Vec
    name: str
    wedge: tuple[int, int] | None = None
    radius: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Outline:
    """Edges and corners that bound a region on their free sides. Sites count edges first, then corners."""

    edges: tuple[Edge, ...]
    corners: tuple[Corner, ...]

    def name(self, site: int) -> str:
        """What the edge or corner is called."""
        few = len(self.edges)
        return self.edges[site].name if site < few else self.corners[site - few].name


@dataclass(frozen=True, slots=True)
class Floats:
    """An outline as arrays; edge arrays have shape (n,), corner arrays (c,)."""

    ax: NDArray[np.float64]
    az: NDArray[np.float64]
    ex: NDArray[np.float64]
    ez: NDArray[np.float64]
    length: NDArray[np.float64]
    edge_radius: NDArray[np.float64]
    px: NDArray[np.float64]
    pz: NDArray[np.float64]
    corner_radius: NDArray[np.float64]
    scale: float

    @classmethod
    def of(cls, outline: Outline) -> Floats:
        """Round an exact outline to floats."""
        edges = np.array([(*e.a, *e.b, e.radius) for e in outline.edges], dtype=np.float64).reshape(-1, 5)
        corners = np.array([(*c.at, c.radius) for c in outline.corners], dtype=np.float64).reshape(-1, 3)
        dx, dz = edges[:, 2] - edges[:, 0], edges[:, 3] - edges[:, 1]
        length = np.hypot(dx, dz)
        scale = float(np.abs(edges[:, :4]).max(initial=1e-300))
        return cls(
            edges[:, 0], edges[:, 1], dx / length, dz / length, length, edges[:, 4],
            corners[:, 0], corners[:, 1], corners[:, 2], scale,
        )  # fmt: skip

    def clearance(self, x: NDArray[np.float64], z: NDArray[np.float64]) -> NDArray[np.float64]:
        """Distance from each point (k,) to each site's surface: shape (k, n + c), negative behind an edge.

        Beside an edge's ends its distance is infinite: a corner, or the next edge, is nearer there.
        """
        dx, dz = x[:, None] - self.ax, z[:, None] - self.az
        along = dx * self.ex + dz * self.ez
        across = dz * self.ex - dx * self.ez
        slack = 1e-12 * self.scale
        beside = (along < -slack) | (along > self.length + slack)
        edges = np.where(beside, np.inf, across - self.edge_radius)
        corners = np.hypot(x[:, None] - self.px, z[:, None] - self.pz) - self.corner_radius
        return np.concatenate([edges, corners], axis=1)


def chain(points: Sequence[Vec], names: Sequence[str], corners: Iterable[str] = (), closed: bool = False) -> Outline:
    """The outline along ``points``, free side on the left; edge k, called ``names[k]``, leaves point k.

    Reflex corners are found by their turn, called by ``corners`` in order of appearance, or ``"corner"``.
    """
    pairs = list(zip(points, [*points[1:], points[0]], strict=True))
    if not closed:
        pairs.pop()
    edges = tuple(Edge(a, b, name) for (a, b), name in zip(pairs, names, strict=True))
    called = iter(corners)
    found: list[Corner] = []
    for k in range(0 if closed else 1, len(edges)):
        before, after = edges[k - 1], edges[k]
        turn = (before.b.x - before.a.x) * (after.b.z - after.a.z) - (before.b.z - before.a.z) * (after.b.x - after.a.x)
        if turn < 0:
            found.append(Corner(after.a, next(called, "corner"), ((k - 1) % len(edges), k)))
    return Outline(edges, tuple(found))
