"""The widest way through a room by a search of its own: a grid of centres, coarse to fine, what hangs together on it.

It knows a guard only as a function that says how far a point is from all that is there. That changes by no more than
the point moves, so that a grid bounds the answer both ways.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

Floats: TypeAlias = NDArray[np.float64]
Clear: TypeAlias = Callable[[Floats], Floats]
Inside: TypeAlias = Callable[[Floats], NDArray[np.bool_]]


class Bounds(NamedTuple):
    """The radius of the largest sphere that gets through is no less and no more."""

    least: float
    most: float


def widest(clear: Clear, low: Floats, high: Floats, starts: Inside, ends: Inside, size: float, rounds: int) -> Bounds:
    """Bounds on the widest way from the first layer along y, where ``starts``, to the last, where ``ends``.

    Parameters
    ----------
    clear : distances of points, shape (n, 3), from all that is there
    size : of the coarsest cells; halved in every round
    """
    counts = np.maximum(np.ceil((high - low) / size).astype(int), 3)
    open_to = np.full(tuple(counts), True)
    while True:
        sizes = (high - low) / counts
        middles = np.stack(
            np.meshgrid(*(low[a] + (np.arange(counts[a]) + 0.5) * sizes[a] for a in range(3)), indexing="ij"), axis=-1
        )
        values = np.full(tuple(counts), -1.0)
        values[open_to] = clear(middles[open_to])
        width = _through(values, starts(middles[:, 0]), ends(middles[:, -1]))
        grain = float(np.sqrt((sizes**2).sum())) / 2
        bounds = Bounds(width - float(sizes.max()) / 2, width + grain)
        rounds -= 1
        if rounds == 0:
            return bounds
        # a cell all of which is closer to something than the way found cannot make it wider
        wide = values + grain >= bounds.least
        open_to = wide.repeat(2, axis=0).repeat(2, axis=1).repeat(2, axis=2)
        counts = counts * 2


def _through(values: Floats, starts: NDArray[np.bool_], ends: NDArray[np.bool_]) -> float:
    """The greatest of the values at which cells from the first layer to the last hang together, side by side."""
    levels = np.unique(values[values > 0])
    low, high = 0, len(levels)
    while high - low > 1:
        middle = (low + high) // 2
        pieces, _ = ndimage.label(values >= levels[middle])
        first, last = pieces[:, 0][starts], pieces[:, -1][ends]
        meet = np.intersect1d(first[first > 0], last[last > 0]).size
        low, high = (middle, high) if meet else (low, middle)
    return float(levels[low])
