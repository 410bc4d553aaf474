"""Every pocket of an outline: the local maxima of clearance, and the largest sphere that passes.

Floats find the pockets and what they touch; where a limit lies within their error, `compare` settles it in exact
arithmetic from the outline's rational coordinates.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import combinations
from math import atan2, cos, dist, hypot, pi, sin
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from stairguard.geometry.clearance.cells import Cells, cells, combinations_of
from stairguard.geometry.clearance.contact import exact_diameter
from stairguard.geometry.clearance.outline import Edge, Outline
from stairguard.geometry.clearance.sites import Sites, sites
from stairguard.geometry.clearance.tangent_circles import centres
from stairguard.geometry.exact.surd import Surd

if TYPE_CHECKING:  # numpy.typing costs more to import than all of the geometry
    from stairguard.geometry.clearance.sites import Flags, Floats, Indices

_EXACT = 1e-12
"""Of the outline's size: contacts closer than this, or than a centre's own error, count as touched together."""
_POOR = 1e-7
"""Of the outline's size: a centre whose own three contacts differ by more is numerical noise."""
_SAME = 1e-7
"""Of the outline's size: centres this close are one pocket."""
_ANGLE = 4e-15
"""Radians: what bearings may be off by."""


@dataclass(frozen=True, slots=True)
class Pocket:
    """A local maximum of clearance.

    ``diameter`` of the sphere, its ``centre``, the ``sites`` it touches (edges first, then corners, as the outline
    counts them) and the ``contacts`` where, same order. ``ridge`` is None or, between parallel edges, the two
    ends of the line of equal centres; ``centre`` is then its middle. A sphere on its way in space has its centre
    ``out`` from the outline's plane, and a diameter at most ``error`` too large; in the plane, None, it is exact.
    """

    diameter: float
    centre: tuple[float, float]
    sites: tuple[int, ...]
    contacts: tuple[tuple[float, float], ...]
    ridge: tuple[tuple[float, float], tuple[float, float]] | None
    out: float = 0.0
    error: float | None = None

    @property
    def ridge_length(self) -> float:
        """How long the line of equal centres is; nothing where there is none."""
        return 0.0 if self.ridge is None else dist(*self.ridge)


@dataclass(frozen=True, slots=True)
class _Held:
    """A circle with what it touches; bearings are the directions from its centre to each contact."""

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
    return _sorted_out(outline, f, _touching(f, cells(f)))


def largest(outline: Outline) -> Pocket | None:
    """The first of `pockets`, without the work of finding the others; None where no sphere fits."""
    f = sites(outline)
    seen = _touching(f, cells(f, only_largest=True))
    best = seen.r >= seen.r.max(initial=0.0) - _EXACT * f.scale
    return next(iter(_sorted_out(outline, f, _Seen(*(column[best] for column in seen)))), None)


def _sorted_out(outline: Outline, f: Sites, seen: _Seen) -> tuple[Pocket, ...]:
    held = list(_held(f, seen))
    wedged = _distinct((h for h in held if _widest_gap(h.bearings) < pi - _ANGLE), _SAME * f.scale)
    found = [_pocket(f, _polished(f, h)) for h in wedged]
    found += _ridges(outline, f, held)
    # whatever fits is never passed over: a circle larger than every pocket would be one rounding kept from its place
    best = max(held, key=lambda h: h.r, default=None)
    if best is not None and 2 * best.r > max((p.diameter for p in found), default=0.0) + 4 * _EXACT * f.scale:
        found.append(_pocket(f, best))
    return tuple(sorted(found, key=lambda p: (-p.diameter, p.centre)))


class _Seen(NamedTuple):
    """Candidate centres with the sites near each (padded with -1), and which of those they touch."""

    x: Floats
    z: Floats
    r: Floats
    table: Indices
    touching: Flags


def _held(f: Sites, seen: _Seen) -> Iterable[_Held]:
    """Circles that three sites or more hold; some of them more than once."""
    for k in range(len(seen.x)):
        at = float(seen.x[k]), float(seen.z[k])
        touched = tuple(sorted(seen.table[k][seen.touching[k]].tolist()))
        yield _Held(*at, float(seen.r[k]), touched, tuple(_bearing(f, v, *at) for v in touched))


def _touching(f: Sites, group: Cells) -> _Seen:
    """Candidates that are as far from everything as from the trio that holds them, and inside."""
    x, z, trio, table = _candidates(f, group)
    own = f.clearance(x[:, None], z[:, None], trio).gap
    spread = own.max(axis=1, initial=-np.inf) - own.min(axis=1, initial=np.inf)
    gap, along, across = f.clearance(x[:, None], z[:, None], table)
    gap = np.where(table < 0, np.inf, gap)
    r = gap.min(axis=1, initial=np.inf)
    slack = (4 * spread + _EXACT * f.scale)[:, None]
    edge = (table >= 0) & (table < f.edges)
    # past an end with a corner the corner is touched; past any other, rounding may have moved the foot there
    before, after = (np.where(corner[table], slack, _SAME * f.scale) for corner in (f.first, f.last))
    beside = edge & ((along < -before) | (along > f.length[table] + after))
    behind = edge & (across < np.minimum(f.radius[table], 0.0))
    # what is met at the back of a strand is another edge, and at the back of a sheet its other face
    met = (f.radius[table] > 0) | f.other_face(x[:, None], z[:, None], table, r[:, None] + slack)
    touching = (gap <= r[:, None] + slack) & ~beside & ~(behind & met)
    enough = (touching.sum(axis=1) >= 3) & (r > 10 * _EXACT * f.scale) & (spread < _POOR * f.scale)
    good = enough & ~(touching & behind).any(axis=1) & (own.min(axis=1, initial=np.inf) <= r + slack[:, 0])
    good[good] = f.inside(x[good], z[good])
    return _Seen(x[good], z[good], r[good], table[good], touching[good])


def _candidates(f: Sites, group: Cells) -> tuple[Floats, Floats, Indices, Indices]:
    """Centres held by trios of a cell's sites and lying in that cell: x, z, the trio, and the cell's sites."""
    trios = group.sites[:, combinations_of(group.sites.shape[1])]
    home = np.repeat(np.arange(len(trios)), trios.shape[1])
    trios = trios.reshape(-1, 3)
    full = (trios >= 0).all(axis=1)
    trios, home = trios[full], home[full]
    x, z, row = centres(f, trios)
    home = home[row]
    room = group.half[home] + 1e-9 * f.scale
    mine = (np.abs(x - group.x[home]) <= room) & (np.abs(z - group.z[home]) <= room)
    return x[mine], z[mine], trios[row[mine]], group.sites[home[mine]]


def _distinct(held: Iterable[_Held], grain: float) -> list[_Held]:
    """Of each bunch of centres closer than ``grain``, the one that touches most."""
    kept: list[_Held] = []
    for h in sorted(held, key=lambda h: (h.x, h.z)):
        for k in range(len(kept) - 1, -1, -1):
            if h.x - kept[k].x > grain:
                kept.append(h)
                break
            if abs(h.z - kept[k].z) <= grain:
                kept[k] = max(h, kept[k], key=lambda one: len(one.sites))
                break
        else:
            kept.append(h)
    return kept


def _bearing(f: Sites, site: int, x: float, z: float) -> float:
    """Direction from a centre to where its sphere touches a site."""
    if site < f.edges:
        return atan2(-f.ex[site], f.ez[site])
    return atan2(f.az[site] - z, f.ax[site] - x)


def _widest_gap(bearings: Sequence[float]) -> float:
    turned = sorted(bearings)
    around = [*turned[1:], turned[0] + 2 * pi]
    return max(b - a for a, b in zip(turned, around, strict=True))


def _spanning(h: _Held) -> list[tuple[int, int, int]]:
    """Triples of contacts between which the centre lies, best spread first.

    Where two pairs of contacts stand opposite each other (a rhombus) none spans more than a half-turn: then those do
    that hold one such pair.
    """
    trios = [(_widest_gap([h.bearings[k] for k in t]), t) for t in combinations(range(len(h.sites)), 3)]
    spans = [t for t in trios if t[0] < pi - _ANGLE] or [t for t in trios if t[0] < pi + 1e-9] or trios
    return [(h.sites[i], h.sites[j], h.sites[k]) for _, (i, j, k) in sorted(spans)]


def _polished(f: Sites, h: _Held) -> _Held:
    """Newton steps on the best spread trio's three conditions: the centre to machine precision."""
    trio = next(iter(_spanning(h)), None)
    if trio is None:
        return h
    x, z, r = h.x, h.z, h.r
    for _ in range(3):
        rows, gaps = _conditions(f, trio, x, z, r)
        try:
            step = np.linalg.solve(np.array(rows), np.array(gaps))
        except np.linalg.LinAlgError:  # contacts so nearly in line that rounding hides their spread
            return h
        x, z, r = x + float(step[0]), z + float(step[1]), r + float(step[2])
    closer = max(map(abs, _conditions(f, trio, x, z, r)[1])) <= max(map(abs, _conditions(f, trio, h.x, h.z, h.r)[1]))
    near = hypot(x - h.x, z - h.z) < 1e-6 * f.scale
    return replace(h, x=x, z=z, r=r) if closer and near else h


def _conditions(
    f: Sites, trio: tuple[int, int, int], x: float, z: float, r: float
) -> tuple[list[tuple[float, float, float]], list[float]]:
    """Gradients of each site's clearance less r, and how far each is off."""
    rows, gaps = [], []
    for s in trio:
        dx, dz = x - float(f.ax[s]), z - float(f.az[s])
        if s < f.edges:
            gx, gz = -float(f.ez[s]), float(f.ex[s])
            distance = dx * gx + dz * gz - float(f.radius[s])
        else:
            reach = hypot(dx, dz)
            gx, gz, distance = dx / reach, dz / reach, reach - float(f.radius[s])
        rows.append((gx, gz, -1.0))
        gaps.append(r - distance)
    return rows, gaps


def _contact(f: Sites, site: int, h: _Held) -> tuple[float, float]:
    """Where the sphere touches the site's surface."""
    if site < f.edges:
        return _placed(f, h.x + float(f.ez[site]) * h.r, h.z - float(f.ex[site]) * h.r)
    bearing = _bearing(f, site, h.x, h.z)
    return _placed(f, h.x + h.r * cos(bearing), h.z + h.r * sin(bearing))


def _placed(f: Sites, x: float, z: float) -> tuple[float, float]:
    """A point in the outline's own coordinates."""
    return x + f.origin[0], z + f.origin[1]


def _pocket(f: Sites, h: _Held) -> Pocket:
    return Pocket(2 * h.r, _placed(f, h.x, h.z), h.sites, tuple(_contact(f, s, h) for s in h.sites), None)


class _End(NamedTuple):
    """One end of a ridge, or a place where it opens: where along its line, and which ways are closed there."""

    at: float
    held: _Held
    pair: tuple[int, int]
    back: bool
    ahead: bool


def _ridges(outline: Outline, f: Sites, held: Iterable[_Held]) -> list[Pocket]:
    """Ridges between parallel edges, each from one closed end to the other."""
    lines: list[tuple[tuple[float, float, float], list[_End]]] = []
    for h in held:
        pair = _facing_pair(outline, f, h)
        if pair is not None and not _amid(f, h, pair):
            line, end = _end(f, h, pair)
            same = next((ends for other, ends in lines if _close(line, other, _SAME * f.scale)), None)
            if same is None:
                lines.append((line, [end]))
            else:
                same.append(end)
    found = []
    for _, ends in lines:
        first: _End | None = None
        for end in sorted(ends, key=lambda e: e.at):
            if end.back:
                first = end
                continue
            if end.ahead and first is not None:
                found.append(_ridge(outline, f, first, end))
            first = None
    return found


def _amid(f: Sites, h: _Held, pair: tuple[int, int]) -> bool:
    """Whether all else touched are more pieces of the two straight sides: there a ridge neither ends nor opens."""
    others = [s for s in h.sites if s not in pair]
    return all(s < f.edges and abs(f.ex[s] * f.ez[pair[0]] - f.ez[s] * f.ex[pair[0]]) < 1e-9 for s in others)


def _close(line: tuple[float, float, float], other: tuple[float, float, float], grain: float) -> bool:
    """Whether two ridge lines (direction, offset, half width) are one, but for rounding."""
    return abs(line[0] - other[0]) < 1e-6 and all(abs(a - b) < grain for a, b in zip(line[1:], other[1:], strict=True))


def _facing_pair(outline: Outline, f: Sites, h: _Held) -> tuple[int, int] | None:
    """Two exactly parallel edges that hold the sphere between them, if nothing else wedges it."""
    if _widest_gap(h.bearings) < pi - _ANGLE:
        return None
    for i, j in combinations([s for s in h.sites if s < f.edges], 2):
        opposed = f.ex[i] * f.ex[j] + f.ez[i] * f.ez[j] < -1 + 1e-12
        if opposed and _parallel(outline.edges[i], outline.edges[j]):
            return i, j
    return None


def _parallel(a: Edge, b: Edge) -> bool:
    cross = (a.b.x - a.a.x) * (b.b.z - b.a.z) - (a.b.z - a.a.z) * (b.b.x - b.a.x)
    return cross == 0


def _end(f: Sites, h: _Held, pair: tuple[int, int]) -> tuple[tuple[float, float, float], _End]:
    """The end's place on its ridge line, and that line: direction, offset and half width."""
    ux, uz = float(f.ex[pair[0]]), float(f.ez[pair[0]])
    if ux < -1e-9 or (abs(ux) <= 1e-9 and uz < 0):
        ux, uz = -ux, -uz
    others = [b for s, b in zip(h.sites, h.bearings, strict=True) if s not in pair]
    pull = [cos(b) * ux + sin(b) * uz for b in others]
    line = atan2(uz, ux), h.z * ux - h.x * uz, h.r
    end = _End(h.x * ux + h.z * uz, h, pair, any(p < -1e-9 for p in pull), any(p > 1e-9 for p in pull))
    return line, end


def _ridge(outline: Outline, f: Sites, first: _End, last: _End) -> Pocket:
    a, b = first.held, last.held
    middle = _Held((a.x + b.x) / 2, (a.z + b.z) / 2, a.r, first.pair, ())
    pair = tuple(_piece(outline, f, s, middle) for s in first.pair)
    contacts = tuple(_contact(f, s, middle) for s in pair)
    ends = _placed(f, a.x, a.z), _placed(f, b.x, b.z)
    return Pocket(2 * a.r, _placed(f, middle.x, middle.z), pair, contacts, ends)


def _piece(outline: Outline, f: Sites, edge: int, h: _Held) -> int:
    """Of the straight side that an edge is a piece of, the piece that a circle touches."""
    every = np.arange(f.edges)
    gap, along, across = f.clearance(np.full(f.edges, h.x), np.full(f.edges, h.z), every)
    slack = _SAME * f.scale
    met = (np.abs(gap - h.r) <= slack) & (across > np.minimum(f.radius[every], 0.0))
    met &= (along >= -slack) & (along <= f.length[every] + slack)
    met &= f.ex[every] * f.ex[edge] + f.ez[every] * f.ez[edge] > 0
    pieces = [int(s) for s in np.flatnonzero(met) if _parallel(outline.edges[s], outline.edges[edge])]
    return edge if edge in pieces or not pieces else pieces[0]


def diameter(outline: Outline, pocket: Pocket) -> Surd:
    """The pocket's diameter, exactly.

    Where more than three sites are touched the clearance is the least that any spanning trio holds. Two pieces of one
    straight side, both touched where they meet, are no two contacts: trios that have both hold nothing.
    """
    if pocket.ridge is not None:
        return exact_diameter(outline, pocket.sites[:2], pocket.diameter)
    f = sites(outline)
    at = pocket.centre[0] - f.origin[0], pocket.centre[1] - f.origin[1]
    bearings = tuple(_bearing(f, s, *at) for s in pocket.sites)
    trios = _spanning(_Held(*at, pocket.diameter / 2, pocket.sites, bearings))
    return min(_exact_ones(outline, trios, pocket.diameter))


def _exact_ones(outline: Outline, trios: Iterable[tuple[int, int, int]], near: float) -> list[Surd]:
    """The exact diameters of trios that hold a circle; not of such as touch it but for rounding, and hold another."""
    found = []
    for trio in trios:
        with suppress(ArithmeticError):
            found.append(exact_diameter(outline, trio, near))
    alike = [d for d in found if abs(float(d) - near) <= _SAME * near]
    if not alike:
        raise ArithmeticError("contacts that hold no circle")
    return alike


def compare(outline: Outline, pocket: Pocket, limit: Fraction) -> int:
    """Sign of the pocket's diameter less ``limit``: -1, 0 or 1, exact also at a tie."""
    error = 1e-10 * max(abs(float(limit)), pocket.diameter, *(abs(v) for v in pocket.centre))
    gap = pocket.diameter - float(limit)
    if abs(gap) > error:
        return 1 if gap > 0 else -1
    if pocket.error is not None:  # no closed form: as near as that it counts as the limit itself
        return 0
    return (diameter(outline, pocket) - limit).sign()
