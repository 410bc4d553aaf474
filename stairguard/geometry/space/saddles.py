"""Where a way between bodies is narrowest: spheres held by two to four of them across it, to machine precision.

Along the widest way the clearance is least at a sphere whose contacts surround its centre, so that it can grow in no
direction but along the way. With unit normals ``n`` from the contacts and shares ``w`` of them:

    gap_i(centre) = radius,   sum w_i n_i = 0,   sum w_i = 1,   w_i >= 0
"""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np

from stairguard.geometry.space.bodies import Body, Triple

if TYPE_CHECKING:
    from stairguard.geometry.space.bodies import Floats

_STEPS = 20
_SETTLED = 1e-12
"""Of the bodies' size: steps of this size are rounding."""
_TURNED = 0.35
"""How far contacts may turn between a point near a saddle and the saddle."""
_FLAT = 1e-7
"""Sines this small are none."""
_HELD = 1e-9
"""Of the bodies' size: a body closer than the radius less this is in the way."""


@dataclass(frozen=True, slots=True)
class Saddle:
    """A sphere at the narrowest place of a way.

    Its centre, its radius, the bodies that hold it, by index, and the direction of the way there, one way or the other.
    """

    centre: Triple
    radius: float
    held_by: tuple[int, ...]
    way: Triple


def saddles(
    bodies: Sequence[Body],
    near: Floats,
    gaps: Floats,
    reach: float,
    scale: float,
    known: Container[tuple[int, ...]] = (),
) -> Iterator[Saddle]:
    """Spheres that bodies hold across a way, with centres within ``reach`` of a point.

    Parameters
    ----------
    near : the point, shape (3,)
    gaps : its distances from the bodies
    scale : size of the bodies, to which rounding is relative
    known : bodies, by index in rising order, that are not to be tried together again
    """
    close = [int(i) for i in np.flatnonzero(gaps <= gaps.min() + 2 * reach)]
    met = {i: bodies[i].contact(near) for i in close}
    for count in (2, 3, 4):
        for held_by in combinations(close, count):
            if held_by in known:
                continue
            normals = np.array([met[i].normal for i in held_by])
            share = _shares(normals)
            if share.min() < -_TURNED or float(np.abs(share @ normals).max()) > _TURNED:
                continue
            found = held(bodies, held_by, near, reach, scale)
            if found is not None:
                yield found


def held(bodies: Sequence[Body], held_by: tuple[int, ...], near: Floats, reach: float, scale: float) -> Saddle | None:
    """The sphere that these bodies hold across a way, by Newton's method on the conditions above.

    Parameters are those of `saddles`; None where it leads nowhere, too far, or to a sphere that another body cuts.
    """
    k = len(held_by)
    p = near.copy()
    met = [bodies[i].contact(p) for i in held_by]
    radius = min(c.gap for c in met)
    share = _shares(np.array([c.normal for c in met]))
    for _ in range(_STEPS):
        normals = np.array([c.normal for c in met])
        off = np.concatenate([share @ normals, [c.gap - radius for c in met], [share.sum() - 1.0]])
        rows = np.zeros((4 + k, 4 + k))
        rows[:3, :3] = sum(w * c.bend for w, c in zip(share, met, strict=True)) * scale
        rows[:3, 4:] = normals.T
        rows[3 : 3 + k, :3] = normals
        rows[3 : 3 + k, 3] = -1.0
        rows[3 + k, 4:] = 1.0
        off[3 : 3 + k] /= scale
        step = -np.linalg.lstsq(rows, off, rcond=1e-11)[0]
        move = step[:3] * scale
        length = float(np.sqrt(move @ move))
        cut = min(1.0, reach / length) if length > 0 else 1.0
        p, radius, share = p + cut * move, radius + cut * scale * step[3], share + cut * step[4:]
        met = [bodies[i].contact(p) for i in held_by]
        if length < _SETTLED * scale:
            break
    return _kept(bodies, held_by, p, share, near, reach, scale)


def _shares(normals: Floats) -> Floats:
    """The shares that leave the least of the contacts' normals over."""
    k = len(normals)
    rows = np.zeros((k + 1, k + 1))
    rows[:k, :k], rows[:k, k], rows[k, :k] = 2 * normals @ normals.T, 1.0, 1.0
    shares: Floats = np.linalg.lstsq(rows, np.append(np.zeros(k), 1.0), rcond=None)[0][:k]
    return shares


def _kept(
    bodies: Sequence[Body], held_by: tuple[int, ...], p: Floats, share: Floats, near: Floats, reach: float, scale: float
) -> Saddle | None:
    if not np.isfinite(p).all() or float(np.sqrt(((p - near) ** 2).sum())) > 2 * reach:
        return None
    met = [bodies[i].contact(p) for i in held_by]
    normals = np.array([c.normal for c in met])
    gaps = np.array([c.gap for c in met])
    radius = float(share @ gaps)
    settled = float(np.abs(share @ normals).max()) < _HELD and float(np.abs(gaps - radius).max()) < _HELD * scale
    if not settled or radius <= 0 or share.min() < -_HELD:
        return None
    if min(float(body.gap(p[None])[0]) for body in bodies) < radius - _HELD * scale:
        return None
    way = _way(normals, sum((w * c.bend for w, c in zip(share, met, strict=True)), np.zeros((3, 3))), scale)
    return None if way is None else Saddle(_triple(p), radius, held_by, way)


def _triple(point: Floats) -> Triple:
    x, y, z = point.tolist()
    return x, y, z


def _way(normals: Floats, bend: Floats, scale: float) -> Triple | None:
    """The direction, square to all contacts' normals, in which clearance grows most; None where it shrinks in all."""
    _, sizes, directions = np.linalg.svd(normals)
    free = directions[int((sizes > _FLAT).sum()) :]
    if not len(free):
        return None
    growth, ways = np.linalg.eigh(free @ bend @ free.T)
    return _triple(ways[:, -1] @ free) if growth[-1] >= -_FLAT / scale else None
