"""Centres of all circles held by any three sites of a small outline, in one go.

The same candidates as `rolling` finds by walking, but by trying every trio: fewer array operations, so quicker for
the dozen sites of one opening, and hopeless for hundreds.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np

from stairguard.geometry.outline import Floats

if TYPE_CHECKING:  # numpy.typing costs more to import than all of the geometry
    from numpy.typing import NDArray

    _Array = NDArray[np.float64]
    _Index = NDArray[np.intp]

__all__ = ["candidates"]


@lru_cache(maxsize=256)
def _trios(edges: int, corners: int) -> tuple[_Index, _Index]:
    """Trios of edges only; and trios with a corner, that corner last."""
    flat = list(combinations(range(edges), 3))
    mixed = [t for t in combinations(range(edges + corners), 3) if t[2] >= edges]
    return np.array(flat, dtype=np.intp).reshape(-1, 3), np.array(mixed, dtype=np.intp).reshape(-1, 3)


def candidates(f: Floats) -> tuple[_Array, _Array]:
    """Centres among which every local maximum of clearance is found, with many that are none; x and z, shape (k,)."""
    flat, mixed = _trios(len(f.ax), len(f.px))
    edges = np.stack([-f.ez, f.ex, np.ones(len(f.ax)), f.edge_radius - f.ax * f.ez + f.az * f.ex])
    with np.errstate(all="ignore"):
        found = [_by_edges(edges[:, flat])]
        if len(mixed):
            found += _with_corner(f, edges, mixed)
    x, z = (np.concatenate(part) for part in zip(*found, strict=True))
    # a sphere inside an outline is no farther off than the outline is large, whatever radii its edges have
    far = 4 * f.scale + float(np.abs(f.edge_radius).max(initial=0.0))
    keep = (np.abs(x) < far) & (np.abs(z) < far)
    return x[keep], z[keep]


def _by_edges(rows: _Array) -> tuple[_Array, _Array]:
    """Solve ``gx x + gz z = r + g0`` for three edges at once; rows has shape (4, trios, 3)."""
    a, b, c = rows[:, :, 0], rows[:, :, 1], rows[:, :, 2]
    # subtract the third from the others: r drops out
    (ax, az, _, a0), (bx, bz, _, b0) = a - c, b - c
    det = ax * bz - az * bx
    return (a0 * bz - az * b0) / det, (ax * b0 - a0 * bx) / det


def _with_corner(f: Floats, edges: _Array, trios: _Index) -> list[tuple[_Array, _Array]]:
    """Both roots for each trio whose last site is a corner, in coordinates that have it for origin."""
    n = len(f.ax)
    last = trios[:, 2] - n
    ox, oz, rho = f.px[last], f.pz[last], f.corner_radius[last]
    first = _row(f, edges, trios[:, 0], ox, oz, rho)
    second = _row(f, edges, trios[:, 1], ox, oz, rho)
    (ax, az, ar, a0), (bx, bz, br, b0) = first, second
    det = ax * bz - az * bx
    parallel = np.abs(det) <= 1e-14 * np.hypot(ax, az) * np.hypot(bx, bz)
    # x = px + qx s, z = pz + qz s with s = r + rho the distance from the corner, so |x, z| = s
    px, pz = (a0 * bz - az * b0) / det, (ax * b0 - a0 * bx) / det
    qx, qz = (ar * bz - az * br) / det, (ax * br - ar * bx) / det
    roots = _roots(qx * qx + qz * qz - 1, px * qx + pz * qz, px * px + pz * pz)
    found = [(ox + px + qx * s, oz + pz + qz * s) for s in roots]
    pair = parallel & (trios[:, 1] < n)
    if pair.any():
        found += _between(first[:, pair], second[:, pair], ox[pair], oz[pair])
    return found


def _row(f: Floats, edges: _Array, sites: _Index, ox: _Array, oz: _Array, rho: _Array) -> _Array:
    """``gx x + gz z = gr s + g0`` for an edge, or for the difference of two corners."""
    n = len(f.ax)
    is_edge = sites < n
    gx, gz, _, g0 = edges[:, np.where(is_edge, sites, 0)]
    if is_edge.all():
        return np.stack([gx, gz, np.ones_like(gx), g0 - gx * ox - gz * oz - rho])
    other = np.where(is_edge, 0, sites - n)
    dx, dz, more = f.px[other] - ox, f.pz[other] - oz, f.corner_radius[other] - rho
    return np.where(
        is_edge,
        np.stack([gx, gz, np.ones_like(gx), g0 - gx * ox - gz * oz - rho]),
        np.stack([2 * dx, 2 * dz, -2 * more, dx * dx + dz * dz - more * more]),
    )


def _roots(a: _Array, half: _Array, c: _Array) -> tuple[_Array, _Array]:
    """Both roots of ``a s**2 + 2 half s + c``, without cancellation; also where a is zero."""
    root = np.sqrt(np.maximum(half * half - a * c, 0))
    q = -(half + np.where(half >= 0, root, -root))
    return q / a, c / q


def _between(first: _Array, second: _Array, ox: _Array, oz: _Array) -> list[tuple[_Array, _Array]]:
    """Two parallel edges that face each other fix s; the corner fixes where along them."""
    (ax, az, _, a0), (_, _, _, b0) = first, second
    s = -(a0 + b0) / 2
    across = s + a0
    along = np.sqrt(np.maximum(s * s - across * across, 0))
    return [(ox + ax * across - az * t, oz + az * across + ax * t) for t in (along, -along)]
