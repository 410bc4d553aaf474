"""Where a sphere larger than its pocket rests: on rigid parts, pressed against them by the strand it pushes aside.

A strand presses square to its own axis, so the sphere settles where the rigid parts let its centre lie farthest from
that axis. As it grows from the pocket's size its centre moves along an edge of the rigid parts' Voronoi diagram, as
far from one part as from another, and changes to the next edge where it meets a third part. So followed, it never
jumps to a rest that belongs to another pocket. Straight off a corner, seen along the strand's normal, there is no
rest: from there the strand rolls it over.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import hypot
from typing import NamedTuple

from stairguard.geometry.clearance.outline import Outline
from stairguard.geometry.clearance.pockets import Pocket
from stairguard.geometry.clearance.rigid_parts import Disc, Rigid, beside, off, rigid, thirds

_TOUCH = 1e-9
"""Of the outline's size: parts no farther than this from the sphere are touched."""
_STEP = 1e-10
"""Of the outline's size: growth that counts as none; small beside `_TOUCH`, so that nothing is passed over."""
_NONE = 1e-9
"""Share of the strand's pressure, or of a unit of growth, that counts as none."""


@dataclass(frozen=True, slots=True)
class Seat:
    """A sphere at rest between rigid parts under a strand.

    ``centre`` is (x, z); ``clear`` its distance from the strand's axis at rest, square, negative where it lies beyond;
    ``along`` the (x, z) on the axis that is nearest to it. ``anywhere`` where it rests on an edge parallel to the
    strand and may as well do so elsewhere along it; between a ridge's ends it is shown midway.
    """

    centre: tuple[float, float]
    clear: float
    along: tuple[float, float]
    anywhere: bool = False


class _Pressed(NamedTuple):
    """The rigid parts, and ``away``: the unit vector square to the strand, from it into the opening."""

    rigid: Rigid
    away: tuple[float, float]


def seat(outline: Outline, pocket: Pocket, member_sites: Collection[int], diameter: float) -> Seat | None:
    """Where a sphere of ``diameter``, larger than the pocket, rests on rigid parts when the strand gives.

    Parameters
    ----------
    outline : any unit of length; edges are solid to their ends, whether or not a corner is named there, and are met
        from their free sides: what lies behind the strand is not drawn
    pocket : one of the outline's
    member_sites : edges that are strands, drawn by their axes; all else is rigid, its radii not negative
    diameter : of the sphere, same unit

    Returns
    -------
    The seat, or None where no strand has to give or could help: the pocket is as large as the sphere and lets it
    through; or rigid parts alone bound the pocket; or they keep the sphere out of it, locked between them or turned
    over a corner into the next opening, whose own seat then counts.

    Raises
    ------
    ValueError
        The pocket lies between two strands: then both give, and nothing rigid holds the sphere.
    """
    touched = [s for s in pocket.sites if s in member_sites]
    if len(touched) > 1:
        raise ValueError("a sphere between two strands rests on neither")
    if not touched or pocket.diameter >= diameter:
        return None
    strand = outline.edges[touched[0]]
    dx, dz = float(strand.b.x - strand.a.x), float(strand.b.z - strand.a.z)
    length = hypot(dx, dz)
    nx, nz = away = -dz / length, dx / length
    origin = next(e.a for k, e in enumerate(outline.edges) if k not in member_sites)
    parts = rigid(outline, member_sites, origin)
    ox, oz = float(origin.x), float(origin.z)
    pressed = _Pressed(parts, away)
    starts = pocket.ridge or (pocket.centre,)
    grown = (_grown(pressed, Disc(x - ox, z - oz, pocket.diameter / 2), diameter / 2) for x, z in starts)
    rest = _midway(pressed, [one for one in grown if one is not None])
    if rest is None:
        return None
    at = rest.at
    clear = (at.x - float(strand.a.x - origin.x)) * nx + (at.z - float(strand.a.z - origin.z)) * nz
    x, z = at.x + ox, at.z + oz
    return Seat((x, z), clear, (x - clear * nx, z - clear * nz), rest.level)


class _Rest(NamedTuple):
    """A circle at rest; ``level`` where one edge, parallel to the strand, carries all."""

    at: Disc
    level: bool


def _midway(pressed: _Pressed, rests: Sequence[_Rest]) -> _Rest | None:
    """Of the rests that a ridge's two ends come to the deepest, or midway between them if that is a ridge still."""
    if not rests:
        return None
    within = _TOUCH * pressed.rigid.scale
    depths = [_along((one.at.x, one.at.z), pressed.away) for one in rests]
    x, z, r = (sum(column) / len(rests) for column in zip(*(one.at for one in rests), strict=True))
    ridge = all(one.level for one in rests) and max(depths) - min(depths) <= within
    if ridge and not pressed.rigid.touched(Disc(x, z, r - 2 * within), within):
        return _Rest(Disc(x, z, r), True)
    return rests[depths.index(max(depths))]


def _grown(pressed: _Pressed, at: Disc, radius: float) -> _Rest | None:
    """A circle at rest, grown to ``radius``; None where rigid parts leave it no rest on the way."""
    scale = pressed.rigid.scale
    while True:
        pair = _carriers(pressed, pressed.rigid.touched(at, _TOUCH * scale), at)
        if pair is None:
            return None
        first, second = (pressed.rigid.parts[s] for s in pair)
        met = [e for e in _events(pressed, pair) if at.r + _STEP * scale < e.r < radius]
        held = [e for e in (*met, *beside(first, second, radius)) if _carried(pressed, pair, at, e)]
        if not held:  # past straight off a corner, which is then left with more than all of the pressure
            return None
        at = min(held, key=lambda e: e.r)
        if at.r == radius:
            shares = _shares(pressed, pair, at)
            return _Rest(at, shares is not None and min(shares[:2]) < _NONE)


class _Shares(NamedTuple):
    """What of the strand's pressure each of two parts carries, and the sine of the angle from one to the other."""

    first: float
    second: float
    turn: float


def _shares(pressed: _Pressed, pair: tuple[int, int], at: Disc) -> _Shares | None:
    """None where the two stand opposite or side by side."""
    (ax, az), (bx, bz) = (pressed.rigid.parts[s].outward(at) for s in pair)
    turn = ax * bz - az * bx
    if abs(turn) < _NONE:
        return None
    nx, nz = pressed.away
    return _Shares((nz * bx - nx * bz) / turn, (nx * az - nz * ax) / turn, turn)


def _carried(pressed: _Pressed, pair: tuple[int, int], at: Disc, later: Disc) -> bool:
    """Whether the two that hold the circle at ``at`` hold it still, each on its own side."""
    now, then = _shares(pressed, pair, at), _shares(pressed, pair, later)
    return now is not None and then is not None and now.turn * then.turn > 0 and min(then[:2]) >= -_NONE


def _carriers(pressed: _Pressed, touched: Sequence[int], at: Disc) -> tuple[int, int] | None:
    """The two parts that carry the circle as it goes on growing; None where none can."""
    parts = pressed.rigid.parts
    for pair in combinations(touched, 2):
        if not _carried(pressed, pair, at, at):
            continue
        first, second = (parts[s] for s in pair)
        way = _way(first.outward(at), second.outward(at))
        clears = all(_along(parts[s].outward(at), way) >= 1 - _NONE for s in touched if s not in pair)
        if clears and all(_lasts(pressed.rigid, s, touched, at, way) for s in pair):
            return pair
    return None


def _way(a: tuple[float, float], b: tuple[float, float]) -> tuple[float, float]:
    """How the centre moves for one unit of radius, to stay as far from both: by one unit from each contact."""
    turn = a[0] * b[1] - a[1] * b[0]
    return (b[1] - a[1]) / turn, (a[0] - b[0]) / turn


def _along(a: tuple[float, float], b: tuple[float, float]) -> float:
    return a[0] * b[0] + a[1] * b[1]


def _lasts(parts: Rigid, site: int, touched: Sequence[int], at: Disc, way: tuple[float, float]) -> bool:
    """Whether contact stays with this part, where an edge and the point at its end are touched as one."""
    part, slack = parts.parts[site], _TOUCH * parts.scale
    for join in part.joins:
        edge = parts.parts[join.edge]
        leaving = join.out * _along((edge.ux, edge.uz), way) > 0
        if not part.flat:
            if join.edge in touched and not leaving:
                return False
            continue
        short = part.length - part.foot(at) if join.out > 0 else part.foot(at)
        if leaving and short < slack:
            return False
    return True


def _events(pressed: _Pressed, pair: tuple[int, int]) -> Iterator[Disc]:
    """Circles touching both parts at which something may change: a third part touched, or the end of an edge.

    Some do not lie on the circle's way, or change nothing; those do no harm.
    """
    parts, slack = pressed.rigid.parts, _TOUCH * pressed.rigid.scale
    joined = {site for s in pair for join in parts[s].joins for site in (join.edge, join.point)}
    for k, part in enumerate(parts):
        # what one of the two passes into is no third
        if k not in pair and k not in joined:
            yield from (c for c in thirds(parts[pair[0]], parts[pair[1]], part) if not part.beyond(c, slack))
    for site, other in (pair, pair[::-1]):
        for join in parts[site].joins:
            edge = parts[join.edge]
            yield from off(parts[join.point], (-edge.uz, edge.ux), parts[other])
