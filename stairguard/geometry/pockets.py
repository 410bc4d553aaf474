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

from stairguard.geometry import rolling, trios
from stairguard.geometry.contact import exact_diameter
from stairguard.geometry.outline import Floats, Outline
from stairguard.geometry.surd import Surd

if TYPE_CHECKING:  # numpy.typing costs more to import than all of the geometry
    from numpy.typing import NDArray

    _Array = NDArray[np.float64]

__all__ = ["Pocket", "compare", "diameter", "pockets"]


_SAME = 1e-9
"""Of the outline's size: clearances this close count as equal until exact arithmetic looks."""
_ANGLE = 1e-9
_FEW = 20
"""Up to so many sites, trying every trio is quicker than walking."""


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
    f = Floats.of(outline)
    held = _distinct([h for h in _held(f, outline) if h.r > 0], f.scale)
    wedged = [h for h in held if _widest_gap(h.bearings) < pi - _ANGLE]
    found = [_pocket(f, outline, _polished(f, h)) for h in wedged]
    found += _ridges(f, outline, [h for h in held if _facing_pair(f, h) is not None])
    return tuple(sorted(found, key=lambda p: (-p.diameter, p.centre)))


def _held(f: Floats, outline: Outline) -> list[_Held]:
    few = len(f.ax) + len(f.px) <= _FEW
    x, z = trios.candidates(f) if few else rolling.candidates(f, outline)
    signed = f.clearance(x, z)
    # the far back of some other edge holds nothing: a nearer front lies between. The near back is outside
    clear = np.abs(signed)
    r = clear.min(axis=1, initial=np.inf)
    touching = clear <= (r + _SAME * f.scale)[:, None]
    outside = (touching & (signed < 0)).any(axis=1)
    enough = (touching.sum(axis=1) >= 3) & (r > 1e-9 * f.scale) & ~outside
    found = []
    for k in np.flatnonzero(enough):
        sites = tuple(int(s) for s in np.flatnonzero(touching[k]))
        bearings = tuple(_bearing(f, s, float(x[k]), float(z[k])) for s in sites)
        found.append(_Held(float(x[k]), float(z[k]), float(r[k]), sites, bearings))
    return found


def _bearing(f: Floats, site: int, x: float, z: float) -> float:
    """Direction from a centre to where its sphere touches a site."""
    n = len(f.ax)
    if site < n:
        return atan2(-f.ex[site], f.ez[site])
    return atan2(f.pz[site - n] - z, f.px[site - n] - x)


def _distinct(held: list[_Held], scale: float) -> list[_Held]:
    kept: list[_Held] = []
    for h in sorted(held, key=lambda h: (h.x, h.z)):
        close = any(hypot(h.x - k.x, h.z - k.z) < 1e-7 * scale for k in kept[-8:])
        if not close:
            kept.append(h)
    return kept


def _widest_gap(bearings: Sequence[float]) -> float:
    turned = sorted(bearings)
    return max(
        (b - a) % (2 * pi) or (2 * pi if len(turned) == 1 else 0)
        for a, b in zip(turned, turned[1:] + turned[:1], strict=True)
    )


def _facing_pair(f: Floats, h: _Held) -> tuple[int, int] | None:
    """Two parallel edges that hold the sphere between them, if the candidate has such a pair."""
    if _widest_gap(h.bearings) < pi - _ANGLE:
        return None
    for i, j in combinations([s for s in h.sites if s < len(f.ax)], 2):
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


def _polished(f: Floats, h: _Held) -> _Held:
    """Newton steps on the best spread trio's three conditions: the centre to machine precision."""
    best = _spanning(h)
    if not best:
        return h
    n = len(f.ax)
    x, z, r = h.x, h.z, h.r
    for _ in range(3):
        rows, gaps = [], []
        for s in best[0]:
            if s < n:
                gx, gz = -f.ez[s], f.ex[s]
                distance = (x - f.ax[s]) * gx + (z - f.az[s]) * gz - f.edge_radius[s]
            else:
                dx, dz = x - f.px[s - n], z - f.pz[s - n]
                reach = hypot(dx, dz)
                gx, gz, distance = dx / reach, dz / reach, reach - f.corner_radius[s - n]
            rows.append((gx, gz, -1.0))
            gaps.append(r - distance)
        try:
            step = np.linalg.solve(np.array(rows), np.array(gaps))
        except np.linalg.LinAlgError:  # contacts so nearly in line that rounding hides their spread
            return h
        x, z, r = x + float(step[0]), z + float(step[1]), r + float(step[2])
    moved = hypot(x - h.x, z - h.z)
    return _Held(x, z, r, h.sites, h.bearings) if moved < 1e-6 * f.scale else h


def _contact(f: Floats, site: int, h: _Held) -> tuple[float, float]:
    n = len(f.ax)
    if site < n:
        return h.x + f.ez[site] * h.r, h.z - f.ex[site] * h.r
    bearing = _bearing(f, site, h.x, h.z)
    return h.x + h.r * float(np.cos(bearing)), h.z + h.r * float(np.sin(bearing))


def _pocket(f: Floats, outline: Outline, h: _Held) -> Pocket:
    contacts = tuple((float(a), float(b)) for a, b in (_contact(f, s, h) for s in h.sites))
    return Pocket(2 * h.r, (h.x, h.z), h.sites, contacts, None)


def _ridges(f: Floats, outline: Outline, held: list[_Held]) -> list[Pocket]:
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


def _closed(f: Floats, h: _Held, pair: tuple[int, int], way: int) -> bool:
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
    f = Floats.of(outline)
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
