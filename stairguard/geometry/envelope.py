"""Lower envelopes of quadratics, many at once: how a sphere that rolls along an edge or corner is held down.

A circle that touches an edge at parameter t and one other site has a radius quadratic in t (linear for another
edge). A circle that touches one corner, and leaves it in the direction with half-angle tangent w, and another
corner has a curvature that is a quadratic in w over 1 + w**2. So the free circles on one edge or corner are a lower
envelope of quadratics, and every pocket lies at one of its breaks. The breaks are found by walking all the
envelopes in step, one array operation per break.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:  # numpy.typing costs more to import than all of the geometry
    from numpy.typing import NDArray

    _Array = NDArray[np.float64]
    _Index = NDArray[np.intp]

__all__ = ["Quadratics", "breaks"]


@dataclass(frozen=True, slots=True)
class Quadratics:
    """``a t**2 + b t + c`` on ``lo <= t <= hi``, shape (bases, sites); infinite elsewhere."""

    a: _Array
    b: _Array
    c: _Array
    lo: _Array
    hi: _Array

    def rows(self, keep: _Index) -> Quadratics:
        """The same for some of the bases."""
        return Quadratics(self.a[keep], self.b[keep], self.c[keep], self.lo[keep], self.hi[keep])


def _pick(values: _Array, at: _Index) -> _Array:
    return values[np.arange(len(at)), at][:, None]


def _lowest_after(q: Quadratics, t: _Array, tol: float) -> _Index:
    """The site whose quadratic is least just right of ``t``: by value, then slope, then curvature."""
    at = t[:, None]
    open_ = (q.lo <= at + tol) & (q.hi > at + tol)
    value = np.where(open_, (q.a * at + q.b) * at + q.c, np.inf)
    least = value.min(axis=1, keepdims=True)
    tied = value <= least + tol
    slope = np.where(tied, 2 * q.a * at + q.b, np.inf)
    tied &= slope <= slope.min(axis=1, keepdims=True) + 1e-9
    lowest: _Index = np.where(tied, q.a, np.inf).argmin(axis=1)
    return lowest


def _next_break(q: Quadratics, t: _Array, held: _Index, tol: float) -> _Array:
    """Where the holding site is next undercut, ends, or may be joined by another that begins."""
    at = t[:, None]
    a, b, c = q.a - _pick(q.a, held), q.b - _pick(q.b, held), q.c - _pick(q.c, held)
    # of the two roots of the difference, only one falls through zero; this form does not cancel
    root = np.sqrt(np.maximum(b * b - 4 * a * c, 0))
    cross = np.where(b <= 0, 2 * c / (root - b), (-b - root) / (2 * a))
    cross = np.where((root > 0) & (cross > at) & (cross >= q.lo) & (cross <= q.hi), cross, np.inf)
    begin = np.where((q.lo > at + tol) & ((a * q.lo + b) * q.lo + c <= tol), q.lo, np.inf)
    soonest: _Array = np.minimum(np.minimum(cross, begin).min(axis=1), _pick(q.hi, held)[:, 0])
    return soonest


def breaks(q: Quadratics, start: _Array, end: _Array, tol: float) -> tuple[_Index, _Array]:
    """All breaks of each base's lower envelope between ``start`` and ``end``, ends included.

    Returns
    -------
    base, t : arrays of equal length, unordered
        A base's envelope changes hands at t. Ends are included, as the rolling circle may be held there too.
    """
    base = np.arange(len(start))
    t = start.copy()
    found_base, found_t = [base, base], [start, end]
    # each site can hold an envelope more than once, but never in more pieces than this
    for _ in range(4 * q.a.shape[1] + 8):
        with np.errstate(all="ignore"):
            held = _lowest_after(q, t, tol)
            t = _next_break(q, t, held, tol)
        going = t < end[base]
        if not going.any():
            break
        if not going.all():
            base, t, q = base[going], t[going], q.rows(np.flatnonzero(going))
        found_base.append(base)
        found_t.append(t)
    return np.concatenate(found_base), np.concatenate(found_t)
