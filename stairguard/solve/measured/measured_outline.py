"""Uncertainty of a measured outline: points, lengths of a figure, two strands."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from types import MappingProxyType

import numpy as np

from stairguard.geometry.clearance.outline import Edge, Outline, Vec
from stairguard.geometry.clearance.polygon import Thickness, polygon
from stairguard.geometry.clearance.sensitivity import Motion, motion_of_points, sensitivity
from stairguard.geometry.exact.multiquadratic import GRAIN
from stairguard.geometry.survey.triangulated import Diagonal, figure
from stairguard.model.asked.asked_opening import Measurement, Uncertainty
from stairguard.solve.measured.rivals import contested
from stairguard.solve.measured.uncertainty import judge
from stairguard.solve.sphere.outlined import SolvedOutline

_NONE: Mapping[int, Measurement] = MappingProxyType({})
_RIVALS = 16
"""So many of the next largest pockets are watched."""


@dataclass(frozen=True, slots=True, eq=False)
class Measured:
    """An outline with the measurements it was drawn from, the points drawn through, and how it moves with them.

    ``grain`` is what its coordinates may be off by, relative to its size: nothing where they are exact.
    """

    outline: Outline
    points: tuple[Vec, ...]
    measurements: tuple[Measurement, ...]
    motion: Motion
    grain: Fraction = Fraction(0)


def by_points(
    coordinates: Sequence[tuple[Measurement, Measurement]],
    strand: Measurement | None = None,
    strand_edges: frozenset[int] = frozenset(),
    own: Mapping[int, Measurement] = _NONE,
) -> Measured:
    """An outline by its corner points, x and z of each measured; ``strand_edges`` are strands' axes.

    Those of ``own``, by number, have a diameter of their own.

    Raises
    ------
    OutlineError
        The points bound no region.
    """
    points = tuple(Vec(x.value, z.value) for x, z in coordinates)
    outline = polygon(points, strand_edges, thickness(strand, strand_edges, own))
    measurements = [m for pair in coordinates for m in pair]
    partials = np.eye(len(measurements)).reshape(len(points), 2, len(measurements))
    return _measured(outline, points, measurements, partials, strand, own)


def by_lengths(
    sides: Sequence[Measurement],
    diagonals: Sequence[tuple[int, int, Measurement]] = (),
    names: Sequence[str] | None = None,
    strand: Measurement | None = None,
    strand_edges: frozenset[int] = frozenset(),
    own: Mapping[int, Measurement] = _NONE,
) -> Measured:
    """An outline by its sides in order and the diagonals that cut it into triangles, by corners in order from 0.

    Raises
    ------
    OutlineError
        The lengths make no figure, or one that crosses itself.
    """
    chords = [Diagonal(i, j, m.value) for i, j, m in diagonals]
    drawn = figure([m.value for m in sides], chords, names)
    outline = polygon(drawn.points, strand_edges, thickness(strand, strand_edges, own))
    made = _measured(outline, drawn.points, [*sides, *(m for _, _, m in diagonals)], drawn.partials, strand, own)
    # a coordinate's error is relative to the figure, and a sphere worth a verdict is no thousandth of it
    return replace(made, grain=1000 * GRAIN) if drawn.rounded else made


def by_strands(opening: SolvedOutline, spacing: Measurement, strand: Measurement) -> Measured:
    """Two parallel strands, of `stairguard.solve.sphere.outlined.between_strands`: the spacing moves the upper one."""
    ends = np.zeros((2, 2, 2))
    ends[1, 1, 0] = 1
    radii = np.array([[0, 0.5], [0, 0.5]])
    return Measured(opening.outline, (), (spacing, strand), Motion(ends, ends, radii))


def thickness(
    strand: Measurement | None, strand_edges: frozenset[int], own: Mapping[int, Measurement] = _NONE
) -> Thickness:
    """The radius of all strands, or where some have a diameter of their own, of each by its edge's number."""
    shared = Fraction(0) if strand is None else strand.value / 2
    if not own:
        return shared
    return {edge: own[edge].value / 2 if edge in own else shared for edge in strand_edges}


def _measured(
    outline: Outline,
    points: tuple[Vec, ...],
    measurements: Sequence[Measurement],
    partials: np.ndarray[tuple[int, ...], np.dtype[np.float64]],
    strand: Measurement | None,
    own: Mapping[int, Measurement],
) -> Measured:
    """The diameters come last among the measurements: what all share, then those of single edges."""
    many, shared = len(measurements), 0 if strand is None else 1
    thick = [*([] if strand is None else [strand]), *own.values()]
    if thick:
        partials = np.concatenate([partials, np.zeros((*partials.shape[:2], len(thick)))], axis=2)
    moved = motion_of_points(outline, points, partials, np.zeros(many + len(thick)))
    columns = {edge: many + shared + k for k, edge in enumerate(own)}
    radii = np.zeros_like(moved.radii)
    for site, row in enumerate(radii):
        edge = _thick_edge(outline, site)
        if edge is not None:
            row[columns.get(edge, many)] = 0.5
    motion = Motion(moved.starts, moved.ends, radii)
    return Measured(outline, points, (*measurements, *thick), motion)


def _thick_edge(outline: Outline, site: int) -> int | None:
    """The number of the edge whose strand a site is a part of; of a corner between two, of the thicker."""
    found = outline.site(site)
    if not found.radius or found.number is None:
        return None
    if isinstance(found, Edge):
        return found.number
    beside = (found.number - 2) % len(outline.sides) + 1, found.number
    sides = {edge.number: edge for edge in outline.sides}
    return max(beside, key=lambda number: sides[number].radius)


def outline_uncertainty(
    opening: SolvedOutline, measured: Measured, ratio: Fraction = Fraction(1), finest: float = 0.0
) -> Uncertainty:
    """Uncertainty of the largest sphere of an outline, by the measurements it was drawn from.

    Parameters
    ----------
    opening : of `stairguard.solve.sphere.outlined.outline_opening` for ``measured.outline``
    ratio, finest : as of `stairguard.solve.measured.uncertainty.judge`
    """
    standard = np.array([m.standard for m in measured.measurements])
    first, *others = (sensitivity(opening.outline, p, measured.motion) for p in opening.pockets[: _RIVALS + 1])
    rivals = [(p.diameter, s.diameter) for p, s in zip(opening.pockets[1:], others, strict=False)]
    return judge(
        opening.sphere,
        measured.measurements,
        [float(s) for s in first.diameter],
        limit=opening.limit,
        passes=opening.passes,
        ratio=ratio,
        contact_may_change=first.may_change(standard) or contested(opening.sphere, first.diameter, rivals, standard),
        finest=finest,
    )
