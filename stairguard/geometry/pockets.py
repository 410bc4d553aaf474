"""Every pocket of an outline: the local maxima of clearance, and the largest sphere that passes.

Floats find the pockets and what they touch; where a limit lies within their error, `compare` settles it in exact
arithmetic from the outline's rational coordinates.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from math import atan2, hypot, pi
from typing import TYPE_CHECKING

import numpy as np

from stairguard.geometry.cells import Cells, cells, combinations_of
from stairguard.geometry.contact import exact_diameter
from stairguard.geometry.outline import Outline
from stairguard.geometry.sites import Sites, sites
from stairguard.geometry.surd import Surd
from stairguard.geometry.trios import centres

if TYPE_CHECKING:  # numpy.typing costs more to import than all of the geometry
    from stairguard.geometry.sites import Floats, Indices

__all__ = ["Pocket", "compare", "diameter", "pockets"]


_SAME = 1e-9
"""Of the outline's size: clearances this close count as equal until exact arithmetic looks."""
_ANGLE = 1e-9


@dataclass(frozen=True, slots=True)
class Pocket:
    """A local maximum of clearance.

    ``diameter`` of the sphere, its ``centre``, the ``sites`` it touches (edges first, then corners, as the outline
    counts them) and the ``contacts`` where, same order. ``ridge`` is None or, between parallel edges, the two
    ends of the line of equal centres; ``centre`` is then its middle.
    """

    diameter: float
    centre: tuple[float, float]
    sites: tuple[int, ...]
    contacts: tuple[tuple[float, float], ...]
    ridge: tuple[tuple[float, float], tuple[float, float]] | None


@dataclass(frozen=True, slots=True)
class _Held:
    """A candidate with its contacts: directions are the bearings from the centre to each, in turn order."""

    x: float
    z: float
    r: float
    sites: tuple[int, ...]
    bearings: tuple[float, ...]


def pockets(outline: Outline) -> tuple[Pocket, ...]:
    """All pockets of an outline, largest first.

    The outline must bound every place a sphere could be: a region open to infinity has no largest sphere there.
    """
    f = sites(outline)
    held = _held(f)
    wedged = [h for h in held if _widest_gap(h.bearings) < pi - _ANGLE]
    found = [_pocket(f, outline, _polished(f, h)) for h in wedged]
    found += _ridges(f, outline, [h for h in held if _facing_pair(f, h) is not None])
    return tuple(sorted(found, key=lambda p: (-p.diameter, p.centre)))


def _held(f: Sites) -> list[_Held]:
    """Circles that three sites or more hold, from outside none; each once."""
    group = cells(f)
    x, z, home = _centres(f, group)
    table = group.sites[home]
    gap, along, across = f.clearance(x[:, None], z[:, None], table)
    gap = np.where(table < 0, np.inf, gap)
    r = gap.min(axis=1, initial=np.inf)
    slack = _SAME * f.scale
    edge = (table >= 0) & (table < f.edges)
    beside = edge & ((along < -slack) | (along > f.length[table] + slack))
    touching = (gap <= (r + slack)[:, None]) & ~beside
    outside = (touching & edge & (across < np.minimum(f.radius[table], 0.0))).any(axis=1)
    good = (touching.sum(axis=1) >= 3) & (r > slack) & ~outside
    found = []
    for k in _distinct(x, z, np.flatnonzero(good), 1e-7 * f.scale):
        at = float(x[k]), float(z[k])
        names = tuple(sorted(int(v) for v in table[k][touching[k]]))
        found.append(_Held(*at, float(r[k]), names, tuple(_bearing(f, v, *at) for v in names)))
    return found


def _centres(f: Sites, group: Cells) -> tuple[Floats, Floats, Indices]:
    """Centres held by trios of a group's cells, each in its own cell, with the cell's row."""
    rows, width = group.sites.shape
    trios = group.sites[:, combinations_of(width)]
    home = np.repeat(np.arange(rows), trios.shape[1])
    trios = trios.reshape(-1, 3)
    full = trios[:, 0] >= 0 if width < 3 else (trios >= 0).all(axis=1)
    trios, home = trios[full], home[full]
    x, z, row = centres(f, trios)
    home = home[row]
    room = group.half[home] + 1e-9 * f.scale
    mine = (np.abs(x - group.x[home]) <= room) & (np.abs(z - group.z[home]) <= room)
    return x[mine], z[mine], home[mine]


def _distinct(x: Floats, z: Floats, among: Indices, grain: float) -> list[int]:
    """The first of each bunch of centres closer than ``grain``."""
    kept: list[int] = []
    xs, zs = x.tolist(), z.tolist()
    for k in among[np.lexsort((z[among], x[among]))].tolist():
        for j in reversed(kept):
            if xs[k] - xs[j] > grain:
                kept.append(k)
                break
            if abs(zs[k] - zs[j]) <= grain:
                break
        else:
            kept.append(k)
    return kept


def _bearing(f: Sites, site: int, x: float, z: float) -> float:
    """Direction from a centre to where its sphere touches a site."""
    if site < f.edges:
        return atan2(-f.ex[site], f.ez[site])
    return atan2(f.az[site] - z, f.ax[site] - x)


def _widest_gap(bearings: Sequence[float]) -> float:
    turned = sorted(bearings)
    return max(
        (b - a) % (2 * pi) or (2 * pi if len(turned) == 1 else 0)
        for a, b in zip(turned, turned[1:] + turned[:1], strict=True)
    )


def _facing_pair(f: Sites, h: _Held) -> tuple[int, int] | None:
    """Two parallel edges that hold the sphere between them, if the candidate has such a pair."""
    if _widest_gap(h.bearings) < pi - _ANGLE:
        return None
    for i, j in combinations([s for s in h.sites if s < f.edges], 2):
        if f.ex[i] * f.ex[j] + f.ez[i] * f.ez[j] < -1 + 1e-15:
            return i, j
    return None


def _spanning(h: _Held) -> list[tuple[int, int, int]]:
    """Triples of contacts between which the centre lies, best spread first."""
    triples = []
    for trio in combinations(range(len(h.sites)), 3):
        gap = _widest_gap([h.bearings[k] for k in trio])
        if gap < pi - _ANGLE:
            triples.append((gap, tuple(h.sites[k] for k in trio)))
    return [(t[0], t[1], t[2]) for _, t in sorted(triples)]


def _polished(f: Sites, h: _Held) -> _Held:
    """Newton steps on the best spread trio's three conditions: the centre to machine precision."""
    best = _spanning(h)
    if not best:
        return h
    x, z, r = h.x, h.z, h.r
    for _ in range(3):
        rows, gaps = [], []
        for s in best[0]:
            dx, dz = x - f.ax[s], z - f.az[s]
            if s < f.edges:
                gx, gz = -f.ez[s], f.ex[s]
                distance = dx * gx + dz * gz - f.radius[s]
            else:
                reach = hypot(dx, dz)
                gx, gz, distance = dx / reach, dz / reach, reach - f.radius[s]
            rows.append((gx, gz, -1.0))
            gaps.append(r - distance)
        try:
            step = np.linalg.solve(np.array(rows), np.array(gaps))
        except np.linalg.LinAlgError:  # contacts so nearly in line that rounding hides their spread
            return h
        x, z, r = x + float(step[0]), z + float(step[1]), r + float(step[2])
    moved = hypot(x - h.x, z - h.z)
    return _Held(x, z, r, h.sites, h.bearings) if moved < 1e-6 * f.scale else h


def _contact(f: Sites, site: int, h: _Held) -> tuple[float, float]:
    if site < f.edges:
        return h.x + f.ez[site] * h.r, h.z - f.ex[site] * h.r
    bearing = _bearing(f, site, h.x, h.z)
    return h.x + h.r * float(np.cos(bearing)), h.z + h.r * float(np.sin(bearing))


def _pocket(f: Sites, outline: Outline, h: _Held) -> Pocket:
    contacts = tuple((float(a), float(b)) for a, b in (_contact(f, s, h) for s in h.sites))
    return Pocket(2 * h.r, (h.x, h.z), h.sites, contacts, None)


def _ridges(f: Sites, outline: Outline, held: list[_Held]) -> list[Pocket]:
    """Ridges between parallel edges whose two ends are both closed."""
    by_pair: dict[tuple[int, int], list[_Held]] = {}
    for h in held:
        pair = _facing_pair(f, h)
        if pair is not None:
            by_pair.setdefault(pair, []).append(h)
    found = []
    for (i, j), ends in by_pair.items():
        ends.sort(key=lambda h: h.x * f.ex[i] + h.z * f.ez[i])
        first, last = ends[0], ends[-1]
        if _closed(f, first, (i, j), -1) and _closed(f, last, (i, j), 1):
            middle = _Held((first.x + last.x) / 2, (first.z + last.z) / 2, first.r, (i, j), ())
            contacts = tuple((float(a), float(b)) for a, b in (_contact(f, s, middle) for s in (i, j)))
            ends_at = ((first.x, first.z), (last.x, last.z))
            found.append(Pocket(2 * first.r, (middle.x, middle.z), (i, j), contacts, ends_at))
    return found


def _closed(f: Sites, h: _Held, pair: tuple[int, int], way: int) -> bool:
    """Whether a third contact stops the sphere from going on along the ridge."""
    ux, uz = way * f.ex[pair[0]], way * f.ez[pair[0]]
    others = [b for s, b in zip(h.sites, h.bearings, strict=True) if s not in pair]
    return any(float(np.cos(b)) * ux + float(np.sin(b)) * uz > _ANGLE for b in others)


def diameter(outline: Outline, pocket: Pocket) -> Surd:
    """The pocket's diameter, exactly.

    Where more than three sites are touched the clearance is the least that any spanning trio holds.
    """
    if pocket.ridge is not None:
        return exact_diameter(outline, pocket.sites[:2], pocket.diameter)
    f = sites(outline)
    bearings = tuple(_bearing(f, s, *pocket.centre) for s in pocket.sites)
    trios = _spanning(_Held(*pocket.centre, pocket.diameter / 2, pocket.sites, bearings))
    return min(exact_diameter(outline, t, pocket.diameter) for t in trios)


def compare(outline: Outline, pocket: Pocket, limit: Fraction) -> int:
    """Sign of the pocket's diameter less ``limit``: -1, 0 or 1, exact also at a tie."""
    error = 1e-10 * max(abs(float(limit)), pocket.diameter, *(abs(v) for v in pocket.centre))
    gap = pocket.diameter - float(limit)
    if abs(gap) > error:
        return 1 if gap > 0 else -1
    return (diameter(outline, pocket) - limit).sign()
