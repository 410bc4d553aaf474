"""Centres of the circles held by trios of sites: closed forms for every kind of contact, many at once."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from stairguard.geometry.clearance.sites import Sites

if TYPE_CHECKING:  # numpy.typing costs more to import than all of the geometry
    from stairguard.geometry.clearance.sites import Floats, Indices

    _Found = tuple[Floats, Floats, Indices]


def centres(f: Sites, trios: Indices) -> _Found:
    """All centres held by trios of sites.

    Parameters
    ----------
    trios : shape (k, 3), sites in rising order, so that corners come last

    Returns
    -------
    x, z, which : centres, and the row of ``trios`` each comes from; some are infinite or nan
    """
    rows = np.stack([-f.ez, f.ex, np.ones_like(f.ex), f.radius - f.ax * f.ez + f.az * f.ex])
    flat = trios[:, 2] < f.edges
    which = np.flatnonzero(flat)
    with np.errstate(all="ignore"):
        found = [(*_by_edges(rows[:, trios[which]]), which)]
        if not flat.all():
            found += _with_corner(f, rows, trios, np.flatnonzero(~flat))
    x, z, row = (np.concatenate(part) for part in zip(*found, strict=True))
    return x, z, row


def _by_edges(rows: Floats) -> tuple[Floats, Floats]:
    """Solve ``gx x + gz z = r + g0`` for three edges at once; rows has shape (4, trios, 3)."""
    a, b, c = rows[:, :, 0], rows[:, :, 1], rows[:, :, 2]
    # subtract the third from the others: r drops out
    (ax, az, _, a0), (bx, bz, _, b0) = a - c, b - c
    det = ax * bz - az * bx
    return (a0 * bz - az * b0) / det, (ax * b0 - a0 * bx) / det


def _with_corner(f: Sites, rows: Floats, trios: Indices, which: Indices) -> list[_Found]:
    """Both roots for each trio whose last site is a corner, in coordinates that have it for origin."""
    last = trios[which, 2]
    ox, oz, rho = f.ax[last], f.az[last], f.radius[last]
    first = _row(f, rows, trios[which, 0], ox, oz, rho)
    second = _row(f, rows, trios[which, 1], ox, oz, rho)
    (ax, az, ar, a0), (bx, bz, br, b0) = first, second
    det = ax * bz - az * bx
    parallel = np.abs(det) <= 1e-14 * np.hypot(ax, az) * np.hypot(bx, bz)
    # x = px + qx s, z = pz + qz s with s = r + rho the distance from the corner, so |x, z| = s
    px, pz = (a0 * bz - az * b0) / det, (ax * b0 - a0 * bx) / det
    qx, qz = (ar * bz - az * br) / det, (ax * br - ar * bx) / det
    roots = _roots(qx * qx + qz * qz - 1, px * qx + pz * qz, px * px + pz * pz)
    found = [(ox + px + qx * s, oz + pz + qz * s, which) for s in roots]
    pair = parallel & (trios[which, 1] < f.edges)
    if pair.any():
        found += [(x, z, which[pair]) for x, z in _between(first[:, pair], second[:, pair], ox[pair], oz[pair])]
    return found


def _row(f: Sites, rows: Floats, sites: Indices, ox: Floats, oz: Floats, rho: Floats) -> Floats:
    """``gx x + gz z = gr s + g0`` for an edge, or for the difference of two corners."""
    gx, gz, _, g0 = rows[:, sites]
    by_edge = np.stack([gx, gz, np.ones_like(gx), g0 - gx * ox - gz * oz - rho])
    is_edge = sites < f.edges
    if is_edge.all():
        return by_edge
    dx, dz, more = f.ax[sites] - ox, f.az[sites] - oz, f.radius[sites] - rho
    return np.where(is_edge, by_edge, np.stack([2 * dx, 2 * dz, -2 * more, dx * dx + dz * dz - more * more]))


def _roots(a: Floats, half: Floats, c: Floats) -> tuple[Floats, Floats]:
    """Both roots of ``a s**2 + 2 half s + c``, without cancellation; also where a is zero."""
    root = np.sqrt(np.maximum(half * half - a * c, 0))
    q = -(half + np.where(half >= 0, root, -root))
    return q / a, c / q


def _between(first: Floats, second: Floats, ox: Floats, oz: Floats) -> list[tuple[Floats, Floats]]:
    """Two parallel edges that face each other fix s; the corner fixes where along them."""
    (ax, az, _, a0), (_, _, _, b0) = first, second
    s = -(a0 + b0) / 2
    across = s + a0
    along = np.sqrt(np.maximum(s * s - across * across, 0))
    return [(ox + ax * across - az * t, oz + az * across + ax * t) for t in (along, -along)]
