"""Beside equal steps, by a search of its own in the plane: who knows the stair only as distances by GEOS.

With ``g`` the distance, seen square to the guard, from the stair and ``q`` from the member's axis, a sphere of radius r
is somewhere between stair and strands where ``sqrt(r^2 - g^2) + sqrt((r + d/2)^2 - q^2) <= offset``, roots of less than
nothing taken as nothing. It starts where ``g >= r`` over the treads and is out where ``q >= r + d/2`` under the member.
"""

from __future__ import annotations

from math import hypot

import numpy as np
import shapely
from scipy import ndimage


def largest(rise, run, nosing, tread, lift, offset, thick, size, *, open_riser=False):
    """Bounds on the largest sphere's diameter out from over one tread of many, by a grid of cells of that ``size``."""
    slope, half = rise / run, thick / 2
    pieces = []
    for k in range(-4, 6):
        x, z = k * run, k * rise
        pieces.append(shapely.box(x, z - tread, x + run + nosing, z))
        if not open_riser:
            pieces.append(shapely.box(x + nosing, z - 40, 99, z - tread / 2))
    stair = shapely.union_all(pieces)
    x, z = np.meshgrid(np.arange(0, run + nosing, size) + size / 2, np.arange(-9, 3 * rise + 8, size), indexing="ij")
    g = shapely.distance(stair, shapely.points(x, z))
    square = (z - slope * x) / hypot(1, slope) - (lift + half)
    q = np.abs(square)
    start = (z > 0) & ((z > rise) | (x < run + nosing))

    def gets_out(r):
        between = np.sqrt(np.maximum(r * r - g * g, 0)) + np.sqrt(np.maximum((r + half) ** 2 - q * q, 0)) <= offset
        pieces = ndimage.label(between)[0]
        begun, out = pieces[start & (g >= r)], pieces[(square < 0) & (q >= r + half)]
        return bool(np.intersect1d(begun[begun > 0], out[out > 0]).size)

    low, high = 0.0, rise + run
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if gets_out(middle) else (low, middle)
    return 2 * low - size, 2 * low + 2 * size * 2**0.5
