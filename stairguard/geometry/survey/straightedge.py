"""The straightedge laid on surveyed points, exact.

Points are (station, elevation), stations increasing. Both questions have answers on their upper and lower hull, found
by one pass (Andrew's monotone chain), so a survey of n points costs n steps and nothing is solved numerically.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import TypeAlias

from stairguard.errors import Fault, GeometryError
from stairguard.geometry.marks import figure_text

SurveyPoint: TypeAlias = tuple[Fraction, Fraction]
"""Station and elevation."""


@dataclass(frozen=True, slots=True)
class Straight:
    """A straight line: ``height`` is its elevation at station ``at``, ``slope`` elevation per station.

    ``touches`` are the indices of the points it lies on, in order.
    """

    at: Fraction
    height: Fraction
    slope: Fraction
    touches: tuple[int, ...] = ()

    def elevation(self, station: Fraction) -> Fraction:
        """Elevation at a station."""
        return self.height + (station - self.at) * self.slope


@dataclass(frozen=True, slots=True)
class Spread:
    """How far values of one kind lie apart, the largest difference of any two and of two neighbours.

    ``between`` are the indices of the smallest and the largest, ``neighbours`` the index before and after: of several
    alike the first.
    """

    largest: Fraction
    between: tuple[int, int]
    adjacent: Fraction
    neighbours: tuple[int, int]


def nosing_line(points: Sequence[SurveyPoint]) -> Straight:
    """Lay the straightedge: no point above it, and the sum of the plumb gaps under it least.

    That sum is n times the line's elevation at the mean station, less what does not depend on the line; so the line is
    the edge of the upper hull over the mean. Where the mean falls on a corner of the hull every line between its two
    edges does as well. Then it is the edge that is longer (level), then the steeper, then (a mirror image in
    itself) the level line: so the mirrored points always get the mirrored line.

    Parameters
    ----------
    points : two or more, station and elevation, stations increasing

    Raises
    ------
    GeometryError
        Fewer than two points, or stations that do not increase.
    """
    _held(points)
    mean = sum((s for s, _ in points), Fraction(0)) / len(points)
    edges = [e for e in pairwise(hull(points, 1)) if points[e[0]][0] <= mean <= points[e[1]][0]]
    first = points[edges[0][0]]
    if len(edges) == 1:
        at, slope = first, slope_between(points, *edges[0])
    else:
        at, slope = points[edges[1][0]], _chosen(points, *edges)
    straight = Straight(*at, slope)
    touches = tuple(i for i, (s, z) in enumerate(points) if straight.elevation(s) == z)
    return Straight(*points[touches[0]], slope, touches)


def _chosen(points: Sequence[SurveyPoint], before: tuple[int, int], after: tuple[int, int]) -> Fraction:
    """The slope of one of two hull edges, the same when the points are mirrored."""
    ranks = []
    for i, j in (before, after):
        slope = slope_between(points, i, j)
        ranks.append((points[j][0] - points[i][0], abs(slope), slope))
    if ranks[0][:2] == ranks[1][:2]:
        return Fraction(0)
    return max(ranks)[2]


def heights_over(points: Sequence[SurveyPoint], line: Straight) -> tuple[Fraction, ...]:
    """Plumb heights of a line over each point, negative where it passes below."""
    return tuple(line.elevation(s) - z for s, z in points)


def spread(values: Sequence[Fraction]) -> Spread | None:
    """Largest difference of any two values and of any two neighbours; None of fewer than two.

    >>> spread([Fraction(7), Fraction(8), Fraction(15, 2), Fraction(6)])
    Spread(largest=Fraction(2, 1), between=(3, 1), adjacent=Fraction(3, 2), neighbours=(2, 3))
    """
    if len(values) < 2:
        return None
    low, high = values.index(min(values)), values.index(max(values))
    steps = [abs(b - a) for a, b in pairwise(values)]
    adjacent = max(steps)
    at = steps.index(adjacent)
    return Spread(values[high] - values[low], (low, high), adjacent, (at, at + 1))


def hull(points: Sequence[SurveyPoint], side: int) -> list[int]:
    """Indices of the corners of the upper (``side`` 1) or lower (-1) hull, stations increasing."""
    chain: list[int] = []
    for i, (s, z) in enumerate(points):
        while len(chain) > 1:
            (s0, z0), (s1, z1) = points[chain[-2]], points[chain[-1]]
            if side * ((s1 - s0) * (z - z0) - (z1 - z0) * (s - s0)) < 0:
                break
            chain.pop()
        chain.append(i)
    return chain


def faults_of(points: Sequence[SurveyPoint]) -> list[Fault]:
    """What keeps points from being laid a straightedge on: fewer than two, stations that do not increase."""
    if len(points) < 2:
        return [Fault("nosings", "two points or more", len(points))]
    return [
        Fault(f"nosing {i}", f"at a station beyond {figure_text(before[0])}", float(after[0]))
        for i, (before, after) in enumerate(pairwise(points), 2)
        if after[0] <= before[0]
    ]


def _held(points: Sequence[SurveyPoint]) -> None:
    faults = faults_of(points)
    if faults:
        raise GeometryError(*faults)


def slope_between(points: Sequence[SurveyPoint], i: int, j: int) -> Fraction:
    """Elevation per station from one point to another, by index."""
    (s0, z0), (s1, z1) = points[i], points[j]
    return (z1 - z0) / (s1 - s0)
