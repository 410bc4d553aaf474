"""A closed outline from its corner points, checked: each thing that keeps points from bounding a region has a name.

Points and edges are numbered from 1 as given, edge k from point k to the next; they keep their numbers whichever way
round they run.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import islice
from typing import TYPE_CHECKING, TypeAlias

import numpy as np

from stairguard.errors import Fault, OutlineError
from stairguard.geometry.clearance.outline import Corner, Edge, Outline, Vec
from stairguard.geometry.marks import figure_text

if TYPE_CHECKING:  # numpy.typing costs more to import than all of the geometry
    from numpy.typing import NDArray

    _Array = NDArray[np.float64]

_ENOUGH = 8
"""Crossings told of one outline: more would not help to mend it."""


Thickness: TypeAlias = Fraction | Mapping[int, Fraction]
"""The radius of all edges that are strands, or of each by its number from 1."""


def radius_of(thickness: Thickness, edge: int) -> Fraction:
    """Radius of the strand on an edge."""
    return thickness.get(edge, Fraction(0)) if isinstance(thickness, Mapping) else thickness


def polygon(
    points: Sequence[Vec],
    strands: frozenset[int] = frozenset(),
    radius: Thickness = Fraction(0),
    posts: Sequence[Vec] = (),
) -> Outline:
    """Outline of a region bounded by straight edges between points, in order either way round.

    Parameters
    ----------
    points : at least three corners; exact, any one unit
    strands : numbers of the edges that are axes of strands; their bodies, ``radius`` thick all round and round at the
        ends, are no free space, not even where one comes out at the far side of what is thin behind it
    radius : of all of them, or of each by its number
    posts : isolated points inside, which the sphere may not contain

    Raises
    ------
    OutlineError
        One fault for each repeated point, edge that doubles back, pair of edges that cross or touch, and strand
        number without an edge; or the points enclose nothing.
    """
    faults = list(_faults(points, strands))
    if faults:
        raise OutlineError(*faults)
    n = len(points)
    pairs = [(points[k], points[(k + 1) % n]) for k in range(n)]
    turned = _area_sign(points) < 0
    edges = tuple(
        Edge(*((b, a) if turned else (a, b)), "edge", radius_of(radius, k) if k in strands else Fraction(0), number=k)
        for k, (a, b) in enumerate(pairs, 1)
    )
    turns = [_turn(points, k) * (-1 if turned else 1) for k in range(n)]
    # a sphere inside a convex outline has all of it in front
    backs = tuple(_back(e) for e in edges if e.radius) if min(turns) < 0 else ()
    corners = [_corner(edges, points, k) for k, turn in enumerate(turns) if turn < 0 or _ends(edges, k, turn, backs)]
    isolated = [Corner(p, "point", number=k) for k, p in enumerate(posts, 1)]
    return Outline((*edges, *backs), (*corners, *isolated))


def _back(edge: Edge) -> Edge:
    """The other side of a strand."""
    return Edge(edge.b, edge.a, edge.part, edge.radius, back=True, number=edge.number)


def _corner(edges: tuple[Edge, ...], points: Sequence[Vec], k: int) -> Corner:
    """Point k + 1 as a corner; a strand that ends there is as thick there."""
    return Corner(points[k], "corner", max(edges[k - 1].radius, edges[k].radius), number=k + 1)


def _ends(edges: tuple[Edge, ...], k: int, turn: Fraction, backs: tuple[Edge, ...]) -> bool:
    """Whether a strand has an end at point k + 1 that can be touched, though the corner is not reflex.

    It can where it ends alone; where it meets another strand only from behind both.
    """
    before, after = edges[k - 1].radius, edges[k].radius
    return before != after or (bool(backs) and before > 0 and turn != 0)


def _turn(points: Sequence[Vec], k: int) -> Fraction:
    """Twice the signed area of the triangle at point k."""
    a, b, c = points[k - 1], points[k], points[(k + 1) % len(points)]
    return (b.x - a.x) * (c.z - b.z) - (b.z - a.z) * (c.x - b.x)


def _area_sign(points: Sequence[Vec]) -> int:
    area = sum((a.x * b.z - b.x * a.z for a, b in zip(points, [*points[1:], points[0]], strict=True)), Fraction(0))
    return (area > 0) - (area < 0)


def _faults(points: Sequence[Vec], strands: frozenset[int]) -> Iterator[Fault]:
    n = len(points)
    if n < 3:
        yield Fault("points", "at least 3 corners", n)
        return
    for number in sorted(strands):
        if not 1 <= number <= n:
            yield Fault("strand edge", f"an edge's number, 1 to {n}", number)
    small = list(_small_faults(points))
    yield from small
    if small:
        return
    crossing = list(islice(_crossings(points), _ENOUGH))
    yield from crossing
    if not crossing and _area_sign(points) == 0:
        yield Fault("points", "corners around an area", "an area of nothing")


def _small_faults(points: Sequence[Vec]) -> Iterator[Fault]:
    n = len(points)
    for k in (*range(1, n), 0):
        after = (k + 1) % n
        if points[k] == points[after]:
            at = f"({figure_text(points[k].x)}, {figure_text(points[k].z)})"
            yield Fault(f"points {k + 1} and {after + 1}", "two different places", f"both at {at}")
        elif points[k - 1] != points[k] and _turn(points, k) == 0 and _doubles_back(points, k):
            where = f"edges {(k - 1) % n + 1} and {k + 1}"
            yield Fault(where, "apart beyond their common corner", "one laid back on the other")


def _doubles_back(points: Sequence[Vec], k: int) -> bool:
    a, b, c = points[k - 1], points[k], points[(k + 1) % len(points)]
    return (b.x - a.x) * (c.x - b.x) + (b.z - a.z) * (c.z - b.z) < 0


def _crossings(points: Sequence[Vec]) -> Iterator[Fault]:
    """Pairs of edges, not neighbours, with a point in common: floats rule most out, exact signs decide."""
    n = len(points)
    xz = np.array(points, dtype=np.float64)
    ends = np.roll(xz, -1, axis=0)
    low, high = np.minimum(xz, ends), np.maximum(xz, ends)
    slack = 1e-12 * np.abs(xz).max()
    apart = ((low[:, None] > high[None] + slack) | (high[:, None] < low[None] - slack)).any(axis=2)
    side_a, side_b = _sides(xz, ends, xz), _sides(xz, ends, ends)
    # both ends of one edge clearly on one side of the other
    grain = 1e-9 * np.abs(xz).max() ** 2
    clear = (np.minimum(side_a, side_b) > grain) | (np.maximum(side_a, side_b) < -grain)
    suspect = ~(apart | clear | clear.T)
    for i, j in np.argwhere(np.triu(suspect, 2)):
        if (int(i), int(j)) != (0, n - 1) and _meet(points, int(i), int(j)):
            yield Fault(f"edges {i + 1} and {j + 1}", "without a point in common", "edges that cross or touch")


def _sides(a: _Array, b: _Array, p: _Array) -> _Array:
    """Cross product of edge i with each point j less its start: shape (edges, points)."""
    dx, dz = (b - a).T
    sides: _Array = dx[:, None] * (p[:, 1] - a[:, 1:2]) - dz[:, None] * (p[:, 0] - a[:, 0:1])
    return sides


def _meet(points: Sequence[Vec], i: int, j: int) -> bool:
    n = len(points)
    a, b, c, d = points[i], points[(i + 1) % n], points[j], points[(j + 1) % n]
    turns = [_orient(a, b, c), _orient(a, b, d), _orient(c, d, a), _orient(c, d, b)]
    if turns[0] * turns[1] < 0 and turns[2] * turns[3] < 0:
        return True
    on = ((turns[0], a, b, c), (turns[1], a, b, d), (turns[2], c, d, a), (turns[3], c, d, b))
    return any(turn == 0 and _within(p, q, r) for turn, p, q, r in on)


def _orient(a: Vec, b: Vec, c: Vec) -> int:
    cross = (b.x - a.x) * (c.z - a.z) - (b.z - a.z) * (c.x - a.x)
    return (cross > 0) - (cross < 0)


def _within(a: Vec, b: Vec, p: Vec) -> bool:
    """Whether p, in line with a and b, lies between them."""
    return min(a.x, b.x) <= p.x <= max(a.x, b.x) and min(a.z, b.z) <= p.z <= max(a.z, b.z)
