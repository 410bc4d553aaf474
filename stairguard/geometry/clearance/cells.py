"""Which trios of sites can hold a sphere at all: cells of the plane, each with the few sites near enough to matter.

A sphere centred in a cell of half-diagonal h touches only sites whose clearance from the cell's middle is within 2h of
the least there. If the directions to those all lie on one side, no sphere is held in the cell. So cells are split
until few sites are left, which makes trying every trio cheap, and the work grows with the number of sites, not its
cube.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import combinations
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from stairguard.geometry.clearance.sites import Sites

if TYPE_CHECKING:  # numpy.typing costs more to import than all of the geometry
    from numpy.typing import NDArray

    from stairguard.geometry.clearance.sites import Floats, Indices

    _Flags = NDArray[np.bool_]

_FEW = 6
"""Sites in a cell that is split no further."""
_WHOLE = 17
"""Sites of an outline that is not split at all: to try every trio of so few takes less than splitting."""
_GRID = 6
_TRIED = 16
"""Cells whose middles are tried for a sphere that surely fits."""
_FINEST = 1e-12
"""Of the outline's size: sites that so small a cell cannot tell apart hold a sphere together (a regular polygon)."""


class Cells(NamedTuple):
    """Cells that may hold a sphere's centre: middles (k,), half sides, and sites (k, s) padded with -1.

    Sites are in rising order.
    """

    x: Floats
    z: Floats
    half: Floats
    sites: Indices


class _Pairs(NamedTuple):
    """Cells of one size and, as two long columns, each cell with each of its sites (cells in rising order)."""

    x: Floats
    z: Floats
    half: float
    cell: Indices
    site: Indices


def cells(f: Sites, only_largest: bool = False) -> Cells:
    """Cells covering every centre where three sites, or two that face each other, could hold a sphere.

    With ``only_largest``, those that cannot hold the largest sphere are left out.
    """
    n = len(f.ax)
    if n <= _WHOLE:
        size = 4 * f.scale + float(np.abs(f.radius).max())
        return Cells(np.zeros(1), np.zeros(1), np.full(1, size), np.arange(n)[None])
    pairs = _first(f)
    done: list[Cells] = []
    while True:
        pairs = _set_aside(_culled(f, pairs, only_largest), done, _FEW)
        if not len(pairs.x):
            return _joined(done)
        if pairs.half < _FINEST * f.scale:
            done += [_thinned(f, pairs, k) for k in range(len(pairs.x))]
            return _joined(done)
        pairs = _split(pairs)


def _joined(groups: list[Cells]) -> Cells:
    width = max((g.sites.shape[1] for g in groups), default=0)
    table = [np.pad(g.sites, ((0, 0), (0, width - g.sites.shape[1])), constant_values=-1) for g in groups]
    if not groups:
        return Cells(np.empty(0), np.empty(0), np.empty(0), np.empty((0, 0), dtype=np.intp))
    x, z, half = (np.concatenate(part) for part in zip(*(g[:3] for g in groups), strict=True))
    return Cells(x, z, half, np.concatenate(table))


def _first(f: Sites) -> _Pairs:
    """A square grid over the outline's box."""
    width, height = f.high[0] - f.low[0], f.high[1] - f.low[1]
    side = max(width, height) / _GRID * (1 + 1e-9)
    across, up = max(1, int(np.ceil(width / side))), max(1, int(np.ceil(height / side)))
    x, z = np.meshgrid(f.low[0] + side * (np.arange(across) + 0.5), f.low[1] + side * (np.arange(up) + 0.5))
    count, n = across * up, len(f.ax)
    return _Pairs(x.ravel(), z.ravel(), side / 2, np.repeat(np.arange(count), n), np.tile(np.arange(n), count))


def _culled(f: Sites, p: _Pairs, only_largest: bool) -> _Pairs:
    """Drop sites too far from a cell to matter, then cells whose sites lie all to one side, or that are too tight."""
    reach = p.half * 2**0.5
    x, z = p.x[p.cell], p.z[p.cell]
    gap, along, across = f.clearance(x, z, p.site)
    starts, counts = _groups(p.cell)
    least = np.minimum.reduceat(gap, starts)
    slack = 1e-13 * f.scale
    near = gap <= np.repeat(least, counts) + (2 * reach + slack)
    # an edge that all of the cell lies beyond an end of is touched, if at all, at the corner there
    length = f.length[p.site]
    near &= ~(f.first[p.site] & (along < -reach - slack) | f.last[p.site] & (along > length + reach + slack))
    cell, site, gap, along, across = p.cell[near], p.site[near], gap[near], along[near], across[near]
    starts, counts = _groups(cell)
    held = ~_one_sided(f, cell, site, gap, along, across, starts, counts, reach)
    if only_largest:
        held &= least + reach + slack >= _surely(f, p, site, gap, along, across, starts, counts, least)
    keep = np.repeat(held, counts)
    renumbered = np.cumsum(held) - 1
    return _Pairs(p.x[held], p.z[held], p.half, renumbered[cell[keep]], site[keep])


def _groups(cell: Indices) -> tuple[Indices, Indices]:
    """Where each run of equal numbers starts, and how long it is."""
    new = np.empty(len(cell), dtype=bool)
    new[0] = True
    np.not_equal(cell[1:], cell[:-1], out=new[1:])
    starts = np.flatnonzero(new)
    counts = np.empty_like(starts)
    counts[:-1] = starts[1:] - starts[:-1]
    counts[-1] = len(cell) - starts[-1]
    return starts, counts


def _surely(
    f: Sites, p: _Pairs, site: Indices, gap: Floats, along: Floats, across: Floats,
    starts: Indices, counts: Indices, least: Floats,
) -> float:  # fmt: skip
    """A radius that some sphere surely has: the clearance of a middle that is surely inside, the best of a few.

    Only where the nearest site is a corner, or an edge squarely before it, is it worth asking.
    """
    nearest = gap <= np.repeat(least, counts)
    squarely = (across > 0) & (along >= 0) & (along <= f.length[site]) | (site >= f.edges)
    likely = np.logical_and.reduceat(squarely | ~nearest, starts) & np.logical_or.reduceat(nearest, starts)
    best = np.flatnonzero(likely)
    best = best[np.argsort(-least[best])[:_TRIED]]
    return float(least[best[f.inside(p.x[best], p.z[best])]].max(initial=-np.inf))


def _one_sided(
    f: Sites, cell: Indices, site: Indices, gap: Floats, along: Floats, across: Floats,
    starts: Indices, counts: Indices, reach: float,
) -> _Flags:  # fmt: skip
    """Whether, from anywhere in the cell, the directions to its sites leave a gap of a half-turn or more."""
    length, radius = f.length[site], f.radius[site]
    toward = _toward(f, site, along, across)
    distance = np.maximum(gap + radius, 1e-300)
    # an edge faced squarely from all of the cell keeps its direction; others turn as seen from across the cell
    square = (along >= reach) & (along <= length - reach) & (np.abs(across) > reach) | (radius < 0)
    turn = np.where(square, 0.0, np.arcsin(np.minimum(reach / distance, 1.0)))
    spread = np.maximum.reduceat(turn, starts)
    order = np.lexsort((toward, cell))
    sorted_ = toward[order]
    step = np.empty_like(sorted_)
    step[:-1] = sorted_[1:] - sorted_[:-1]
    ends = starts + counts - 1
    step[ends] = sorted_[starts] + 2 * np.pi - sorted_[ends]
    widest = np.maximum.reduceat(step, starts)
    flags: _Flags = widest - 2 * spread > np.pi + 1e-7
    return flags


def _toward(f: Sites, site: Indices, along: Floats, across: Floats) -> Floats:
    """Bearings from points towards the nearest point of their sites' segments."""
    beyond = along - np.minimum(np.maximum(along, 0.0), f.length[site])
    ex, ez = f.ex[site], f.ez[site]
    return np.arctan2(-(beyond * ez + across * ex), -(beyond * ex - across * ez))


def _set_aside(p: _Pairs, done: list[Cells], few: int) -> _Pairs:
    """Move cells with few enough sites to ``done``, padded to one width; return the others."""
    if not len(p.x):
        return p
    counts = np.bincount(p.cell, minlength=len(p.x))
    # two sites hold nothing: where they face each other, a third ends the ridge
    ready = counts <= few
    left = ~ready
    ready &= counts > 2
    if ready.any():
        width = int(counts[ready].max())
        table = np.full((len(p.x), width), -1, dtype=np.intp)
        starts = np.cumsum(counts) - counts
        mine = ready[p.cell]
        table[p.cell[mine], (np.arange(len(p.cell)) - starts[p.cell])[mine]] = p.site[mine]
        size = np.full(int(ready.sum()), p.half)
        done.append(Cells(p.x[ready], p.z[ready], size, table[ready]))
    renumbered = np.cumsum(left) - 1
    keep = left[p.cell]
    return _Pairs(p.x[left], p.z[left], p.half, renumbered[p.cell[keep]], p.site[keep])


def _thinned(f: Sites, p: _Pairs, k: int) -> Cells:
    """Cell k with some of its sites, all of one clearance: the nearest to each of a few directions all round."""
    site = p.site[p.cell == k]
    at = np.full(len(site), p.x[k]), np.full(len(site), p.z[k])
    toward = _toward(f, site, *f.clearance(*at, site)[1:])
    wanted = np.arange(_FEW * 2)[:, None] * (np.pi / _FEW)
    off = np.abs((toward - wanted + np.pi) % (2 * np.pi) - np.pi)
    chosen = np.unique(site[off.argmin(axis=1)])
    return Cells(p.x[k : k + 1], p.z[k : k + 1], np.array([p.half]), chosen[None])


def _split(p: _Pairs) -> _Pairs:
    """Each cell into four, each with all of its sites."""
    half = p.half / 2
    x = (p.x[:, None] + half * np.array([-1.0, 1.0, -1.0, 1.0])).ravel()
    z = (p.z[:, None] + half * np.array([-1.0, -1.0, 1.0, 1.0])).ravel()
    counts = np.bincount(p.cell, minlength=len(p.x))
    starts = np.cumsum(counts) - counts
    four = np.repeat(counts, 4)
    cell = np.repeat(np.arange(len(x)), four)
    offset = np.arange(len(cell)) - np.repeat(np.cumsum(four) - four, four)
    site = p.site[np.repeat(np.repeat(starts, 4), four) + offset]
    return _Pairs(x, z, half, cell, site)


@lru_cache(maxsize=64)
def combinations_of(count: int) -> Indices:
    """All trios of ``count`` things, rising: shape (trios, 3)."""
    return np.array(list(combinations(range(count), 3)), dtype=np.intp).reshape(-1, 3)
