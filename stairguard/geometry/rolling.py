"""Places where a sphere that rolls on one edge, or on one corner, is held by another site.

Writes the free circles on each edge and corner as quadratics (see `envelope`) and turns the breaks of their lower
envelopes into candidate centres. Every local maximum of clearance is among them: it touches three sites, or two
parallel edges and, at the ends of the ridge, a third.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from stairguard.geometry.envelope import Quadratics, breaks
from stairguard.geometry.outline import Floats, Outline

if TYPE_CHECKING:  # numpy.typing costs more to import than all of the geometry
    from numpy.typing import NDArray

    _Array = NDArray[np.float64]

__all__ = ["candidates"]


def _on_edges(f: Floats) -> Quadratics:
    """Radius of the circle on edge i (rows) at t along it that touches site j (columns)."""
    n = len(f.ax)
    rx, rz = f.ax[:, None] - f.ax, f.az[:, None] - f.az
    along = f.ex[:, None] * f.ex + f.ez[:, None] * f.ez  # e_i . e_j = n_i . n_j
    across = f.ez[:, None] * f.ex - f.ex[:, None] * f.ez  # e_i . n_j = -(n_i . e_j)
    height = rz * f.ex - rx * f.ez
    own, other = f.edge_radius[:, None], f.edge_radius
    facing = 1 - along
    b = across / facing
    c = (height + along * own - other) / facing
    # the foot on edge j, linear in t, must lie on the edge; and the circle must be in front of it (radius >= 0)
    foot_b = along - across * b
    foot_c = rx * f.ex + rz * f.ez - across * (c + own)
    lo, hi = _inside(foot_b, foot_c, f.length)
    front_lo, front_hi = _inside(b, c, np.full(n, np.inf))
    lo, hi = np.maximum(lo, front_lo), np.minimum(hi, front_hi)
    lo = np.where(facing < 1e-14, np.inf, lo)  # the same direction: never touched
    px, pz = f.px - f.ax[:, None], f.pz - f.az[:, None]
    pt = px * f.ex[:, None] + pz * f.ez[:, None]
    ph = pz * f.ex[:, None] - px * f.ez[:, None]
    more = f.corner_radius - own
    a2 = 1 / (2 * (ph + more))
    b2 = -2 * pt * a2
    c2 = (pt * pt + ph * ph - more * more) * a2 - own
    lo2 = np.where(ph + more > 1e-13 * f.scale, -np.inf, np.inf)
    return Quadratics(
        np.hstack([np.zeros((n, n)), a2]), np.hstack([b, b2]), np.hstack([c, c2]),
        np.hstack([lo, lo2]), np.hstack([hi, np.full(lo2.shape, np.inf)]),
    )  # fmt: skip


def _inside(b: _Array, c: _Array, length: _Array) -> tuple[_Array, _Array]:
    """The t for which ``0 <= b t + c <= length``."""
    level = np.abs(b) < 1e-15
    first, last = -c / b, (length - c) / b
    lo, hi = np.where(b > 0, first, last), np.where(b > 0, last, first)
    slack = 1e-12
    keep = (c >= -slack) & (c <= length + slack)
    return (
        np.where(level, np.where(keep, -np.inf, np.inf), lo),
        np.where(level, np.where(keep, np.inf, -np.inf), hi),
    )


def _edge_candidates(f: Floats) -> tuple[_Array, _Array]:
    with np.errstate(all="ignore"):
        q = _on_edges(f)
        np.fill_diagonal(q.lo, np.inf)
    base, t = breaks(q, np.zeros(len(f.ax)), f.length, 1e-13 * f.scale)
    at = t[:, None]
    rows = q.rows(base)
    with np.errstate(all="ignore"):
        slack = 1e-12 * f.scale
        value = np.where(
            (rows.lo <= at + slack) & (rows.hi >= at - slack), (rows.a * at + rows.b) * at + rows.c, np.inf
        )
    r = value.min(axis=1, initial=np.inf) + f.edge_radius[base]
    keep = np.isfinite(r)
    base, t, r = base[keep], t[keep], r[keep]
    return (
        f.ax[base] + f.ex[base] * t - f.ez[base] * r,
        f.az[base] + f.ez[base] * t + f.ex[base] * r,
    )


def _corner_candidates(f: Floats, outline: Outline) -> tuple[_Array, _Array]:
    """Circles held by three corners and no edge."""
    bases = [(k, middle) for k, c in enumerate(outline.corners) for middle in _middles(f, c.wedge)]
    if len(f.px) < 3:
        return np.empty(0), np.empty(0)
    k = np.array([b[0] for b in bases])
    middle = np.array([b[1] for b in bases])
    ux, uz = np.cos(middle), np.sin(middle)
    wx, wz = f.px - f.px[k, None], f.pz - f.pz[k, None]
    more = f.corner_radius - f.corner_radius[k, None]
    with np.errstate(all="ignore"):
        over = 2 / (wx * wx + wz * wz - more * more)
        flat, ahead, left = (
            more * over,
            (wx * ux[:, None] + wz * uz[:, None]) * over,
            (wz * ux[:, None] - wx * uz[:, None]) * over,
        )
        lo = np.where(np.isfinite(over), -np.inf, np.inf)
    clean = np.isfinite(over)
    flat, ahead, left = (np.where(clean, v, 0.0) for v in (flat, ahead, left))
    # curvature * (1 + w**2), negated so that the tightest circle is the lowest
    q = Quadratics(ahead - flat, -2 * left, -(flat + ahead), lo, np.full(lo.shape, np.inf))
    size = float(np.abs(q.c).max(initial=0.0))
    base, w = breaks(q, np.full(len(k), -1.0), np.full(len(k), 1.0), 1e-13 * max(size, 1e-300))
    rows = q.rows(base)
    at = w[:, None]
    with np.errstate(all="ignore"):
        curvature = -np.where(rows.lo < 0, (rows.a * at + rows.b) * at + rows.c, np.inf).min(axis=1) / (1 + w * w)
    keep = curvature > 0
    base, w, reach = base[keep], w[keep], 1 / curvature[keep]
    cos, sin = (1 - w * w) / (1 + w * w), 2 * w / (1 + w * w)
    dx, dz = ux[base] * cos - uz[base] * sin, uz[base] * cos + ux[base] * sin
    return f.px[k[base]] + reach * dx, f.pz[k[base]] + reach * dz


def _middles(f: Floats, wedge: tuple[int, int] | None) -> tuple[float, ...]:
    """Directions whose surroundings, a right angle each way, hold all a sphere may leave the corner in."""
    if wedge is None:
        return (0.0, np.pi)
    before, after = wedge
    # between the two normals; where the edges nearly double back the normals cancel and their directions do not
    nx, nz = f.ex[before] - f.ex[after], f.ez[before] - f.ez[after]
    if f.ex[before] * f.ex[after] + f.ez[before] * f.ez[after] > 0:
        nx, nz = -f.ez[before] - f.ez[after], f.ex[before] + f.ex[after]
    return (float(np.arctan2(nz, nx)),)


def candidates(f: Floats, outline: Outline) -> tuple[_Array, _Array]:
    """Centres among which every local maximum of clearance is found: x and z, shape (k,)."""
    x, z = _edge_candidates(f)
    if len(outline.corners) >= 3:
        more_x, more_z = _corner_candidates(f, outline)
        x, z = np.concatenate([x, more_x]), np.concatenate([z, more_z])
    return x, z
