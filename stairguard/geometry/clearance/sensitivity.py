"""How a pocket's diameter, and what it touches, answer to small movements of the outline.

The clearance at a fixed centre c to an edge from a to b, touched a fraction t of the way along, grows by
``-n . ((1 - t) da + t db) - d radius``, n the unit normal from the contact to c; to a corner likewise. A pocket is a
local maximum of the least clearance: weights ``w >= 0`` of its contacts have ``sum w = 1, sum w n = 0``, and by the
envelope theorem ``dD = 2 sum w_i d(clearance_i)``.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np

from stairguard.geometry.clearance.outline import Outline, Vec
from stairguard.geometry.clearance.pockets import Pocket

if TYPE_CHECKING:  # numpy.typing costs more to import than all of the geometry
    from numpy.typing import NDArray

    _Array = NDArray[np.float64]
    _Index = NDArray[np.intp]

_LEAST_WEIGHT = 1e-9
_NEAREST = 64
"""So many of the nearest sites are watched for a contact to come."""


@dataclass(frozen=True, slots=True, eq=False)
class Motion:
    """How an outline's sites move with each of m parameters.

    ``starts`` and ``ends`` have shape (sites, 2, m): an edge's end points, or a corner twice. ``radii`` (sites, m).
    """

    starts: _Array
    ends: _Array
    radii: _Array


def motion_of_points(outline: Outline, points: Sequence[Vec], partials: _Array, radii: _Array) -> Motion:
    """Motion of an outline drawn through ``points``, from theirs.

    Parameters
    ----------
    points : those the outline was made of, the very objects
    partials : shape (points, 2, m), of each coordinate by each parameter
    radii : shape (m,), of the radius of those sites that have one
    """
    place = {id(point): k for k, point in enumerate(points)}
    at = [place[id(c.at)] for c in outline.corners]
    starts = np.array([place[id(e.a)] for e in outline.edges] + at, dtype=np.intp)
    ends = np.array([place[id(e.b)] for e in outline.edges] + at, dtype=np.intp)
    thick = np.array([e.radius > 0 for e in outline.edges] + [c.radius > 0 for c in outline.corners], dtype=np.float64)
    return Motion(partials[starts], partials[ends], np.outer(thick, radii))


@dataclass(frozen=True, slots=True, eq=False)
class Sensitivity:
    """Derivatives of one pocket by m parameters.

    ``diameter`` has shape (m,). ``margins`` (k,) are what keeps the contacts as they are, zero where they change:
    slack of sites not touched, relative to the diameter, and weights of those touched; ``margin_partials`` is (k, m).
    """

    diameter: _Array
    margins: _Array
    margin_partials: _Array

    def may_change(self, standard: _Array, times: float = 3.0) -> bool:
        """Whether a margin is within ``times`` its own standard uncertainty; ``standard`` (m,) of the parameters."""
        spread = np.sqrt(((self.margin_partials * standard) ** 2).sum(axis=1))
        return bool(((spread > 1e-12) & (self.margins <= times * spread)).any())


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class _Reach:
    """From each site's nearest point to the centre: unit vector ``n``, how ``far``, and ``distance`` to the surface.

    The point is a fraction ``t`` along an edge's ``span``, ``within`` the ends or at one; ``corners`` come last.
    """

    n: _Array
    far: _Array
    distance: _Array
    t: _Array
    within: NDArray[np.bool_]
    span: _Array
    corners: int


def _reach(outline: Outline, centre: tuple[float, float]) -> _Reach:
    starts = [e.a for e in outline.edges] + [c.at for c in outline.corners]
    ends = [e.b for e in outline.edges] + [c.at for c in outline.corners]
    radii = np.array([e.radius for e in outline.edges] + [c.radius for c in outline.corners], dtype=np.float64)
    a = np.array(starts, dtype=np.float64).reshape(-1, 2)
    b = np.array(ends, dtype=np.float64).reshape(-1, 2)
    c = np.array(centre)
    span = b - a
    square = (span**2).sum(axis=1)
    edge = square > 0
    along = ((c - a) * span).sum(axis=1) / np.where(edge, square, 1.0)
    grain = 1e-12 / np.maximum(np.sqrt(square), 1e-300)
    within = edge & (along > -grain) & (along < 1 + grain)
    t = np.where(edge, np.clip(along, 0, 1), 0.0)
    away = c - (a + t[:, None] * span)
    far = np.hypot(*away.T)
    left = np.stack([-span[:, 1], span[:, 0]], axis=1) / np.sqrt(np.where(edge, square, 1.0))[:, None]
    with np.errstate(invalid="ignore", divide="ignore"):
        n = np.where(within[:, None], left, away / far[:, None])
    distance = np.where(within, ((c - a) * left).sum(axis=1), far) - radii
    return _Reach(
        n=np.nan_to_num(n), far=far, distance=distance, t=t, within=within, span=span, corners=len(outline.corners)
    )


def _approach(reach: _Reach, motion: Motion, sites: _Index) -> _Array:
    """Growth of clearance at the fixed centre: shape (sites, m)."""
    n, t = reach.n[sites], reach.t[sites][:, None, None]
    foot = (1 - t) * motion.starts[sites] + t * motion.ends[sites]
    growth: _Array = -(n[:, :, None] * foot).sum(axis=1) - motion.radii[sites]
    return growth


def _weights(n: _Array) -> tuple[tuple[int, ...], _Array]:
    """The best spread trio of contacts that hold the centre, else a pair that faces each other; places and weights."""
    best: tuple[float, tuple[int, ...], _Array] = (_LEAST_WEIGHT, (), np.zeros(0))
    for trio in combinations(range(len(n)), 3):
        u, v, w = n[list(trio)]
        parts = np.array([v[0] * w[1] - v[1] * w[0], w[0] * u[1] - w[1] * u[0], u[0] * v[1] - u[1] * v[0]])
        total = parts.sum()
        if abs(total) > 1e-12 and (parts / total).min() > best[0]:
            best = (float((parts / total).min()), trio, parts / total)
    if best[1]:
        return best[1], best[2]
    pair = min(combinations(range(len(n)), 2), key=lambda p: float(n[p[0]] @ n[p[1]]))
    return pair, np.array([0.5, 0.5])


def sensitivity(outline: Outline, pocket: Pocket, motion: Motion) -> Sensitivity:
    """Derivatives of a pocket's diameter, and of what keeps its contacts, by the parameters of ``motion``.

    Where more sites are touched than hold the sphere, the diameter has no one derivative: the best spread trio's is
    given, and the margins of the others are zero.
    """
    reach = _reach(outline, pocket.centre)
    touched = np.array(pocket.sites, dtype=np.intp)
    places, weights = _weights(reach.n[touched])
    held = touched[list(places)]
    growth = _approach(reach, motion, held)
    diameter = 2 * weights @ growth
    if len(held) == 2:
        rows = _facing_margins(reach, motion, held, len(touched), diameter)
        return Sensitivity(diameter, np.zeros(len(rows)), rows)
    # n_i . dc - dr = -growth_i
    moved = _solved(np.c_[reach.n[held], -np.ones(3)], -growth)
    slack, slack_partials = _slack(reach, motion, pocket, held, moved)
    turned = _turned(reach, motion, held, moved[:2])
    matrix = np.r_[reach.n[held].T, np.ones((1, 3))]
    # matrix w = (0, 0, 1), so matrix dw = -(d matrix) w
    change = -np.einsum("ikm,i->km", turned, weights)
    by_weight = _solved(matrix, np.r_[change, np.zeros((1, change.shape[1]))])
    return Sensitivity(diameter, np.r_[slack, weights], np.r_[slack_partials, by_weight])


def _solved(matrix: _Array, right: _Array) -> _Array:
    found: _Array = np.asarray(np.linalg.solve(matrix, right), dtype=np.float64)
    return found


def _slack(reach: _Reach, motion: Motion, pocket: Pocket, held: _Index, moved: _Array) -> tuple[_Array, _Array]:
    """Clearance of the nearest other sites less the pocket's, over its diameter, as the centre moves too."""
    slack = reach.distance - pocket.diameter / 2
    slack[held] = np.inf
    # past an edge's ends a corner, or the next edge, is touched first; and behind an edge another one stands nearer
    edges = np.arange(len(slack)) < len(slack) - reach.corners
    slack[edges & (~reach.within | (reach.distance < 0))] = np.inf
    near = np.argsort(slack)[:_NEAREST]
    near = near[np.isfinite(slack[near])]
    partials = _approach(reach, motion, near) + reach.n[near] @ moved[:2] - moved[2]
    return np.maximum(slack[near], 0) / pocket.diameter, partials / pocket.diameter


def _turned(reach: _Reach, motion: Motion, held: _Index, centre: _Array) -> _Array:
    """How each contact's unit vector changes: shape (3, 2, m)."""
    out = []
    for s in held:
        n = reach.n[s]
        across = np.array([n[1], -n[0]])
        if reach.within[s]:
            out.append(-np.outer(across, _swing(reach, motion, int(s))))
        else:
            nearest = motion.ends[s] if reach.t[s] else motion.starts[s]
            out.append(np.outer(across, across @ (centre - nearest) / reach.far[s]))
    return np.array(out)


def _swing(reach: _Reach, motion: Motion, edge: int) -> _Array:
    """How fast an edge turns, in radians per parameter, left positive."""
    swing: _Array = reach.n[edge] @ (motion.ends[edge] - motion.starts[edge]) / np.hypot(*reach.span[edge])
    return swing


def _facing_margins(reach: _Reach, motion: Motion, pair: _Index, touched: int, diameter: _Array) -> _Array:
    """For a sphere between two facing contacts, what any change disturbs: shape (k, m); the margins are zero.

    Out of parallel, the sphere runs to one end of its ridge; and a third contact in line decides nothing as it is.
    """
    rows = []
    if reach.within[pair].all():
        rows.append(_swing(reach, motion, int(pair[0])) - _swing(reach, motion, int(pair[1])))
    if touched > len(pair) or not rows:
        rows.append(diameter)
    return np.array(rows)
