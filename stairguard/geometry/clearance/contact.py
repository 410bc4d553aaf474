"""The circle held by three sites: in floats by Newton's method, exactly in surds.

The conditions are ``n_j . c - k_j = r + radius_j`` for an edge and ``|c - p|**2 = (r + radius)**2`` for a corner.
Differences of two corners' conditions are linear, so the centre is linear in r and r is the root of one
linear or quadratic equation: edge-edge-edge linear, all others quadratic.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import TypeAlias

from stairguard.geometry.clearance.outline import Corner, Edge, Outline
from stairguard.geometry.exact.surd import Surd, sqrt

_Row: TypeAlias = tuple[Surd | Fraction, Surd | Fraction, Surd | Fraction, Surd | Fraction]
"""gx, gz, gr, g0 of the linear condition gx*x + gz*z = gr*r + g0."""


def _edge_row(edge: Edge) -> _Row:
    dx, dz = edge.b.x - edge.a.x, edge.b.z - edge.a.z
    length = sqrt(dx * dx + dz * dz)
    return -dz, dx, length, length * edge.radius + (edge.a.z * dx - edge.a.x * dz)


def _difference_row(p: Corner, q: Corner) -> _Row:
    """|c - q|^2 - |c - p|^2 = (r + rho_q)^2 - (r + rho_p)^2, a line in (x, z, r)."""
    gx, gz = 2 * (p.at.x - q.at.x), 2 * (p.at.z - q.at.z)
    gr = 2 * (q.radius - p.radius)
    size_p, size_q = p.at.x * p.at.x + p.at.z * p.at.z, q.at.x * q.at.x + q.at.z * q.at.z
    return gx, gz, gr, q.radius**2 - p.radius**2 + size_p - size_q


def _det(a: _Row, b: _Row, i: int, j: int) -> Surd:
    return Surd(0) + a[i] * b[j] - a[j] * b[i]


def exact_diameter(outline: Outline, sites: Sequence[int], near: float) -> Surd:
    """Diameter of the circle that touches the given three sites (or two parallel edges), exactly.

    Parameters
    ----------
    sites : two parallel edges, or three sites; where the conditions of the first two lie in one direction and facing
        each other, those two alone decide
    near : the diameter in floats, which tells the two roots of a quadratic apart

    Raises
    ------
    ArithmeticError
        The sites hold no circle of one size: two of them are pieces of one straight side, or none touches all three.
    """
    n = len(outline.edges)
    edges = [outline.edges[s] for s in sites if s < n]
    corners = [outline.corners[s - n] for s in sites if s >= n]
    rows = [_edge_row(e) for e in edges]
    rows += [_difference_row(corners[0], c) for c in corners[1:]]
    if len(sites) == 2 and len(edges) == 2:
        return 2 * _between(rows[0], rows[1])
    det = _det(rows[0], rows[1], 0, 1)
    if det.sign() == 0:
        return 2 * _between(rows[0], rows[1])
    # centre = (px, pz) + (qx, qz) * r
    px, pz = _det(rows[0], rows[1], 3, 1) / det, _det(rows[0], rows[1], 0, 3) / det
    qx, qz = _det(rows[0], rows[1], 2, 1) / det, _det(rows[0], rows[1], 0, 2) / det
    if not corners:
        gx, gz, gr, g0 = rows[2]
        slope = qx * gx + qz * gz - gr
        if slope.sign() == 0:
            raise ArithmeticError("edges hold no circle")
        return 2 * ((Surd(0) + g0 - px * gx - pz * gz) / slope)
    return 2 * _root_near(*_circle(px - corners[0].at.x, pz - corners[0].at.z, qx, qz, corners[0].radius), near / 2)


def _circle(px: Surd, pz: Surd, qx: Surd, qz: Surd, rho: Fraction) -> tuple[Surd, Surd, Surd]:
    """Coefficients a, b/2, c of the quadratic |p + q r|^2 = (r + rho)^2 in r."""
    return qx * qx + qz * qz - 1, px * qx + pz * qz - rho, px * px + pz * pz - rho * rho


def _root_near(a: Surd, half: Surd, c: Surd, near: float) -> Surd:
    if a.sign() == 0:
        return c / (half * -2)
    inside = half * half - a * c
    if inside.sign() < 0:
        raise ArithmeticError("contacts hold no circle")
    root = sqrt(inside)
    first, second = (root - half) / a, (-root - half) / a
    return first if abs(float(first) - near) <= abs(float(second) - near) else second


def _between(a: _Row, b: _Row) -> Surd:
    """Radius that two conditions of one direction fix: subtract them, scaled to cancel c."""
    i = 0 if (Surd(0) + b[0]).sign() != 0 else 1
    scale = (Surd(0) + a[i]) / b[i]
    gr, g0 = scale * b[2] - a[2], Surd(0) + a[3] - scale * b[3]
    if gr.sign() == 0:
        raise ArithmeticError("contacts that face the same way hold no circle")
    return g0 / gr
