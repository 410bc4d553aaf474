"""Uncertainty of an opening by corner points whose edges stand in two planes, by what holds the sphere."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING, Final

import numpy as np

from stairguard.errors import StairguardError
from stairguard.geometry.clearance.outline import Vec
from stairguard.model.asked.asked_opening import Measurement, Uncertainty
from stairguard.model.asked.opening_question import OutlineQuestion
from stairguard.solve.measured.measured_way import WayContact, way_slopes
from stairguard.solve.measured.uncertainty import judge
from stairguard.solve.sphere.two_planes import PlacedEdge, PlanesOpening, TwoPlanes, planes_opening

if TYPE_CHECKING:  # numpy.typing costs more to import than all of the geometry
    from numpy.typing import NDArray

    _Array = NDArray[np.float64]

_TIMES: Final = 3.0
"""So many standard uncertainties off the lengths are tried for other contacts."""
_STRAIGHT: Final = 0.05
"""Of what a sphere changes by: so much of it beside the linear figure makes that only indicative."""


def planes_slopes(asked: OutlineQuestion, given: TwoPlanes, answer: PlanesOpening) -> _Array:
    """Derivatives of the sphere by all that was measured, in the order of `OutlineQuestion.measured`.

    Each edge moves with its two ends, whether or not they stay in their planes.
    """
    x, z = answer.pocket.centre
    centre = np.array([x, answer.beside.out, z])
    met = zip(answer.held, answer.pocket.contacts, answer.beside.contacts, strict=True)
    return way_slopes([_contact(asked, given.edges[at], np.array([cx, cy, cz]), centre) for at, (cx, cz), cy in met])


def _contact(asked: OutlineQuestion, edge: PlacedEdge, touched: _Array, centre: _Array) -> WayContact:
    corners, place = len(asked.corners), {id(m): k for k, m in enumerate(asked.measured)}
    a, b = np.array(edge.a), np.array(edge.b)
    share = float(np.clip((touched - a) @ (b - a) / ((b - a) @ (b - a)), 0.0, 1.0))
    normal = (centre - touched) / np.linalg.norm(centre - touched)
    growth = np.zeros(len(asked.measured))
    for point, part in ((edge.number - 1, 1 - share), (edge.last - 1, share)):
        for column, axis in ((2 * point, 0), (2 * point + 1, 2), (2 * corners + point, 1)):
            growth[column] -= part * normal[axis]
    thick = dict(asked.own).get(edge.number, asked.diameter) if edge.number in asked.strand_edges else None
    if thick is not None:
        growth[place[id(thick)]] -= 0.5
    return WayContact(normal, growth)


def planes_uncertainty(
    asked: OutlineQuestion, given: TwoPlanes, answer: PlanesOpening, stops: bool | None, finest: float = 0.0
) -> Uncertainty:
    """Uncertainty of the largest sphere through both planes.

    Parameters
    ----------
    given, answer : of `stairguard.solve.sphere.two_planes` for the values measured
    stops : the exact verdict on them
    finest : as of `stairguard.solve.measured.uncertainty.judge`
    """
    slopes = planes_slopes(asked, given, answer)
    return judge(
        answer.pocket.diameter,
        asked.measured,
        [float(slope) for slope in slopes],
        limit=asked.terms.limit,
        passes=stops,
        ratio=asked.terms.ratio,
        contact_may_change=bool(answer.beside.error) or _bends(asked, answer, slopes),
        finest=finest,
    )


def _bends(asked: OutlineQuestion, answer: PlanesOpening, slopes: _Array) -> bool:
    """Whether, at all lengths off together so that they add up, other edges hold the sphere, or it strays.

    The corners of a plane stay in it: each plane is tried off as its corners are on the average.
    """
    off = _TIMES * np.array([m.standard for m in asked.measured])
    combined = float(np.hypot.reduce(slopes * off))
    if not combined:
        return False
    for sign in (1, -1):
        by = _kept_in_planes(asked, sign * slopes * off * off / combined)
        try:
            solved = planes_opening(_moved(asked, by))
        except StairguardError:
            return True
        if set(solved.touches) != set(answer.touches):
            return True
        if abs(solved.pocket.diameter - answer.pocket.diameter - float(slopes @ by)) > _STRAIGHT * combined:
            return True
    return False


def _kept_in_planes(asked: OutlineQuestion, by: _Array) -> _Array:
    """What lengths are tried off by, all y of one plane alike, and corners at one place as seen alike."""
    corners = len(asked.corners)
    kept = by.copy()
    values = [m.value for m in asked.outs]
    for plane in set(values):
        mine = [2 * corners + k for k, value in enumerate(values) if value == plane]
        kept[mine] = by[mine].mean()
    at = [(x.value, z.value) for x, z in asked.corners]
    for place in set(at):
        mine = [k for k, one in enumerate(at) if one == place]
        for axis in (0, 1):
            columns = [2 * k + axis for k in mine]
            kept[columns] = by[columns].mean()
    return kept


def _moved(asked: OutlineQuestion, by: _Array) -> TwoPlanes:
    """The opening with all that was measured off by so much."""
    made = [replace(m, value=m.value + Fraction(d)) for m, d in zip(asked.measured, by.tolist(), strict=True)]
    corners, few = len(asked.corners), 3 * len(asked.corners)
    points = [Vec(made[2 * k].value, made[2 * k + 1].value) for k in range(corners)]
    shared = 0 if asked.diameter is None else 1
    own = tuple((edge, made[few + shared + k]) for k, (edge, _) in enumerate(asked.own))
    diameter: Measurement | None = made[few] if shared else None
    thick = replace(asked, diameter=diameter, own=own).radii
    return TwoPlanes.of(points, [m.value for m in made[2 * corners : few]], thick)
