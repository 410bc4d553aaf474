"""The openings under the lowest strand of a guard that stands out from the stair's side, found again in space.

``y`` is level and square to the guard: the stair fills y <= 0, strands and posts' middles lie in y = offset. Seen so,
let a centre be g from the stair (0 within it), q from the strand's middle line and p from a post, which is w deep. A
sphere of radius r can be there at some y as long as

    sqrt(max(r^2 - g^2, 0)) + max(sqrt(max((r + d/2)^2 - q^2, 0)), w/2 + sqrt(r^2 - p^2) where p < r) <= offset.

It comes from where g >= r over the treads, and is out where q >= r + d/2 below the strand and p >= r. All three
change by no more than the point moves. So with h the side of a grid's cells a way from node to next node for which h/2
less of each is enough is a way indeed; and where none leads from node to node, askew ones too, with h/sqrt(2) more of
each, no sphere gets through.

That a told sphere is the widest is asked of the grid; its size is exact: all that it is told to touch, and nothing
else, is half of it away from its centre in space, and holds it there: were it wider it could not pass, whichever way.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from math import hypot, sqrt
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import label
from scipy.optimize import least_squares, nnls

from tests.rebuild.bodies import Bay, Guard
from tests.rebuild.clearance import Floats, Parts, distances
from tests.rebuild.stair import Flight

Table = dict[str, Any]
Flags = NDArray[np.bool_]
SAME = 1e-6
_CELLS = 260
"""Of the grid, along the longer side of what is looked at."""
_LOOSE = 0.1
"""By so much of its size a sphere may be told larger than what is about it leaves: where nothing holds it at one place,
the program tells what is surely no less."""
_ALL_ROUND = np.ones((3, 3), int)


def under_lowest(told: Table) -> bool:
    """Whether a told opening is under the lowest strand, along a leg or round a corner."""
    where = told["where"]
    if where.startswith(ROUND_CORNER):
        return True
    if not told["contacts"] or "at the turn of surface" in where:
        return False
    return not where.startswith(("between", "under the rail", "open riser", "unguarded"))


@dataclass(frozen=True)
class Window:
    """What of the elevation is looked at, and over what stretch of tread a way begins.

    ``beside`` has the treads over which it never is: (from, to, level).
    """

    left: float
    right: float
    low: float
    high: float
    start: tuple[float, float, float]
    beside: tuple[tuple[float, float, float], ...] = ()


@dataclass(frozen=True)
class View:
    """A surface's part of a guard seen square to it, its lowest strand lifted by ``up``."""

    guard: Guard
    surface: int
    bays: tuple[Bay, ...]
    radius: float
    up: float = 0.0

    @cached_property
    def ground(self) -> Parts:
        """The stair's edges."""
        return Parts.of([(edge.a, edge.b, 0.0, (edge.name,)) for edge in self.guard.stair.edges])

    @cached_property
    def strand(self) -> tuple[float, float]:
        """Slope and elevation at station 0 of the lowest strand's middle line."""
        _, (x0, z0), (x1, z1), _ = max((bay.strands[-1] for bay in self.bays), key=lambda one: one[0])
        slope = (z1 - z0) / (x1 - x0)
        return slope, z0 - slope * x0 + self.up

    def over(self, x: Any, z: Any) -> Any:
        """How far points are over the strand's middle line, square to it."""
        slope, at = self.strand
        return (z - at - slope * x) / hypot(1.0, slope)

    def off_ground(self, points: Floats) -> Floats:
        found = np.empty(len(points))
        for first in range(0, len(points), 4096):
            some = points[first : first + 4096]
            found[first : first + 4096] = distances(some, self.ground).min(axis=1)
        return np.where(self.guard.stair.solid(points), 0.0, found)

    def off_posts(self, points: Floats) -> Iterator[tuple[float, Floats]]:
        """Half the depth of each post, and how far points are from it."""
        x, z = points.T
        for left, right, foot, _ in self.guard.boxes:
            if left < x.max() + 2 * self.guard.offset + _reach(self) and right > x.min() - _reach(self):
                aside = np.maximum(np.maximum(left - x, x - right), 0.0)
                yield (right - left) / 2, np.hypot(aside, np.maximum(foot - z, 0.0))


def _reach(view: View) -> float:
    return 12 * view.guard.offset + 100 * view.radius


def gets_out(view: View, window: Window, radius: float, surely: bool) -> bool:
    """Whether a sphere surely gets out within a window; or else whether it is open that it does."""
    cell = max(window.right - window.left, window.high - window.low) / _CELLS
    x, z = np.meshgrid(np.arange(window.left, window.right + cell, cell), np.arange(window.low, window.high, cell))
    flat = np.column_stack([x.ravel(), z.ravel()])
    more = -cell / 2 if surely else cell / sqrt(2)
    offset, thick = view.guard.offset, radius + view.radius
    g = np.maximum(view.off_ground(flat) + more, 0.0)
    over = view.over(flat[:, 0], flat[:, 1])
    q = np.maximum(np.abs(over) + more, 0.0)
    taken = np.sqrt(np.maximum(thick**2 - q**2, 0.0))
    out = (over - max(more, 0.0) < 0) & (q >= thick)
    for half, away in view.off_posts(flat):
        p = np.maximum(away + more, 0.0)
        taken = np.where(p < radius, np.maximum(taken, half + np.sqrt(np.maximum(radius**2 - p**2, 0.0))), taken)
        out &= p >= radius
    room = np.sqrt(np.maximum(radius**2 - g**2, 0.0)) + taken <= offset
    most = max(more, 0.0)
    first, last, level = window.start
    starts = (flat[:, 0] > first - most) & (flat[:, 0] < last + most) & (flat[:, 1] > level - most) & (g >= radius)
    for begins, ends, height in window.beside:
        room &= ~((flat[:, 0] > begins + most) & (flat[:, 0] < ends - most) & (flat[:, 1] > height + most))
    pieces, _ = label(room.reshape(x.shape), structure=None if surely else _ALL_ROUND)
    begun, ended = (pieces.ravel()[which & room] for which in (starts, out))
    return bool(np.intersect1d(begun, ended).size)


def views(guard: Guard, radius: float) -> dict[int, View]:
    """Of every surface under whose strands something may be open."""
    found: dict[int, list[Bay]] = {}
    for bay in guard.bays:
        if bay.strands:
            found.setdefault(bay.surface, []).append(bay)
    return {k: View(guard, k, tuple(bays), radius) for k, bays in found.items()}


def cells(view: View, flight: Flight) -> dict[int, tuple[float, float]]:
    """Where along the flight each of its treads, the floor below (0) and what is above (n), is open between posts."""
    low, high = sorted(flight.way * (s - flight.origin) for s in (view.bays[0].low, view.bays[-1].high))
    n, found = len(flight.xs), {}
    for k in range(n + 1):
        first = flight.xs[k - 1] if k else -np.inf
        last = flight.xs[k] + flight.nosing if k < n else np.inf
        first, last = max(first, low), min(last, high)
        if last > first + SAME:
            found[k] = float(first), float(last)
    return found


def window(view: View, flight: Flight, k: int, radius: float, alone: bool, well: bool = False) -> Window:
    """About one tread: half a going more each way; or not ``alone``, a going more, and a way may begin over any.

    ``well``: clear of the treads next to it by a tenth of a going, for what is wider only there is told of those.
    """
    first, last = cells(view, flight)[k]
    run = float(np.min(np.diff(flight.xs))) * (0.5 if alone else 1.0)
    posts = [post for bay in (view.bays[0], view.bays[-1]) for post in (bay.strands[0][1][0], bay.strands[0][2][0])]
    low, high = sorted(flight.way * (s - flight.origin) for s in (min(posts), max(posts)))
    left, right = max(first - run, low), min(last + run, high)
    levels = [flight.floor, *map(float, flight.zs), np.inf]
    ends = sorted(flight.station(x) for x in (left, right))
    slope, at = view.strand
    tops = [at + slope * s for s in ends]
    bottom = min(*tops, levels[max(k - 1, 0)]) - view.guard.offset - view.radius - radius
    top = max(*tops, levels[k]) + view.guard.offset + 2 * radius
    if not alone:
        return Window(*ends, bottom, top, (*ends, -np.inf))
    begin = sorted(flight.station(x) for x in (first, last))
    by = run / 5 if well else 0.0
    before, after = levels[k - 1] if k else -np.inf, levels[k + 1]
    beside = []
    for from_, to, level in ((-np.inf, first + by, before), (last - by, np.inf, after)):
        a, b = sorted(flight.station(x) for x in (from_, to))
        beside.append((a, b, level))
    return Window(*ends, bottom, top, (begin[0], begin[1], levels[k]), tuple(beside))


def treads(flight: Flight, told: Table) -> list[int]:
    """Over which a told opening may be, by its words, else by where it is."""
    named = re.search(r"tread (\d+)", told["where"])
    if named:
        return [int(named[1])]
    if told["where"].startswith("first riser"):
        return [0]
    k = flight.step(flight.way * (told["centre"][0] - flight.origin))
    return [k, max(k - 1, 0)]


def past_edge(view: View) -> float:
    """The sphere out past a level or sloping edge, from it to the strand: by Pythagoras."""
    a, b, za, zb, _ = view.guard.stair.spans[view.surface]
    slope, at = view.strand
    low = (at + slope * a - za) / hypot(1.0, (zb - za) / (b - a))
    return hypot(max(low, 0.0), view.guard.offset) - view.radius


def wrong(view: View, told: Table) -> Iterator[str]:
    """What is untrue of an opening told under the lowest strand."""
    if told["where"].startswith(ROUND_CORNER):
        if told["sphere"] < past_edge(view) - SAME:
            yield f"told {told['sphere']:.6f}, less than past the edge next to it, {past_edge(view):.6f}"
        return
    yield from wrong_place(view, told)
    yield from wrong_size(view, told, told["sphere"])


ROUND_CORNER = "round the corner"
"""Told only where it is wider than along the legs, and that is all that is asked of it here.

Left out: how much wider, as designed and as marked, and whether one is told wherever it should be, between two posts
of a corner too. That takes a search in all three directions, which tests/geometry/space has.
"""


def as_marked(view: View, told: Table, up: float) -> Iterator[str]:
    """What is untrue of a sphere as marked, the lowest strand lifted all along."""
    sphere, after = told["sphere_as_marked"], replace(view, up=up)
    if told["where"].startswith(ROUND_CORNER):
        return
    true = lifted(view, told, up) if any(f.surface == view.surface for f in view.guard.stair.flights) else None
    if true is None or abs(true - sphere) > SAME * max(1.0, true):
        # held by other things then, or not at one place
        yield from wrong_size(after, told, sphere)


def wrong_size(view: View, told: Table, sphere: float) -> Iterator[str]:
    """What is untrue of a sphere told under the lowest strand: none so large gets out, or a larger one surely does."""
    flight = next((f for f in view.guard.stair.flights if f.surface == view.surface), None)
    if flight is None:
        true = past_edge(view)
        if abs(true - sphere) > SAME * max(1.0, true):
            yield f"told {sphere:.6f}, past the edge it is {true:.6f}"
        return
    open_to = [k for k in treads(flight, told) if k in cells(view, flight)]
    r, little = sphere / 2, SAME * sphere
    found = []
    for k in open_to:
        some = gets_out(view, window(view, flight, k, r, True), r - little, False)
        larger = gets_out(view, window(view, flight, k, r, True, well=True), r + little, True)
        found.append("" if some and not larger else "a larger one surely" if larger else "none so large")
    if all(found):
        yield f"told {sphere:.6f}, over treads {open_to} {found} gets out"


def untold(view: View, result: Table) -> Iterator[str]:
    """Where a sphere surely gets out that is larger than any told under the lowest strand of a surface."""
    told = [o["sphere"] for o in result["openings"] if o["surface"] == view.surface and under_lowest(o)]
    most = max(told, default=0.0)
    flight = next((f for f in view.guard.stair.flights if f.surface == view.surface), None)
    if flight is None:
        if past_edge(view) > most + SAME:
            yield f"surface {view.surface}: past the edge it is {past_edge(view):.6f}, told {most:.6f}"
        return
    r = most / 2 + SAME * max(1.0, most)
    for k in cells(view, flight):
        if gets_out(view, window(view, flight, k, r, False), r, True):
            yield f"surface {view.surface}: over tread {k} a sphere larger than any told gets out ({most:.6f})"


Near = tuple[float, Floats]
"""Of something: how far a point is from it, and which way, a unit vector."""


def about(view: View, at: Floats) -> dict[tuple[str, int], Near]:
    """What is about a centre in space: the stair's edges, or its side, the strand, and posts."""
    found: dict[tuple[str, int], Floats] = {}
    x, y, z = at
    if view.guard.stair.solid(at[None, ::2])[0]:
        found["side", 0] = np.array([0.0, -max(y, 0.0), 0.0])
    else:
        parts = view.ground
        along = parts.b - parts.a
        share = np.clip(((at[::2] - parts.a) * along).sum(axis=1) / parts.square, 0, 1)
        to = parts.a + share[:, None] * along - at[::2]
        found |= {("edge", k): np.array([a, -max(y, 0.0), b]) for k, (a, b) in enumerate(to)}
    slope, _ = view.strand
    away = -view.over(x, z) / hypot(1.0, slope)
    found["strand", 0] = np.array([-slope * away, view.guard.offset - y, away])
    for k, (left, right, foot, _) in enumerate(view.guard.boxes):
        half = (right - left) / 2
        aside, out = x - np.clip(x, left, right), y - np.clip(y, view.guard.offset - half, view.guard.offset + half)
        found["post", k] = -np.array([aside, out, min(z - foot, 0.0)])
    sizes = {key: float(np.linalg.norm(to)) for key, to in found.items()}
    thick = {key: view.radius if key[0] == "strand" else 0.0 for key in found}
    return {key: (sizes[key] - thick[key], to / max(sizes[key], 1e-300)) for key, to in found.items()}


def touching(near: dict[tuple[str, int], Near], within: float) -> list[tuple[str, int]]:
    """The nearest, each direction once."""
    least = min(away for away, _ in near.values())
    found: list[tuple[str, int]] = []
    for key, (away, to) in near.items():
        if away < least + within and all(float(to @ near[other][1]) < 1 - 1e-9 for other in found):
            found.append(key)
    return found


def pushes(directions: list[Floats]) -> tuple[Floats, float]:
    """Shares, none negative, with which what touches a sphere pushes against itself, and what is left of the push."""
    rows = np.vstack([np.array(directions).T, np.ones(len(directions))])
    shares, left = nnls(rows, np.array([0.0, 0.0, 0.0, 1.0]))
    return shares, float(left)


def wrong_place(view: View, told: Table) -> Iterator[str]:
    """What is untrue of where a sphere is told to be held: what it touches is in its way on all sides."""
    at, r = np.array([told["centre"][0], told["out"], told["centre"][1]]), told["sphere"] / 2
    close = SAME * max(1.0, r)
    near = about(view, at)
    clear = min(away for away, _ in near.values())
    if not -close < r - clear < _LOOSE * r:
        yield f"told {2 * r:.6f}, in space it is {2 * clear:.6f} there"
        return
    if r - clear > close:
        return  # told larger than it is held anywhere, on the safe side: the grid alone bounds it
    held = touching(near, 4 * close)
    _, left = pushes([near[key][1] for key in held])
    if left > 1e-4:
        yield f"told {2 * r:.6f}, touching {held} it could still give way ({left:.2g})"
    names = {"edge" if key[0] in ("edge", "side") else key[0] for key in held}
    words = {word.split()[0] if word.startswith(("strand", "post")) else "edge" for word in told["touches"]}
    if words != names:
        yield f"told to touch {told['touches']}, truly {sorted(held)}"
    seen = [at[::2] + near[key][0] * near[key][1][::2] for key in held]
    for contact in told["contacts"]:
        if min(hypot(*(contact - place)) for place in seen) > 10 * close:
            yield f"told to touch at {contact}, truly at {[place.tolist() for place in seen]}"


def lifted(view: View, told: Table, up: float) -> float | None:
    """The sphere held by the same things with the strand lifted; None where others hold it then."""
    at = np.array([told["centre"][0], told["out"], told["centre"][1]])
    near = about(view, at)
    keys = touching(near, 4 * SAME * max(1.0, told["sphere"]))
    shares, _ = pushes([near[key][1] for key in keys])
    after = replace(view, up=up)

    def left(values: Floats) -> Floats:
        here = about(after, values[:3])
        if not here.keys() >= set(keys):
            return np.full(len(keys) + 4, 1e3)
        away, to = np.array([here[key][0] for key in keys]), np.array([here[key][1] for key in keys])
        return np.concatenate([away - values[3], values[4:] @ to, [values[4:].sum() - 1]])

    found = least_squares(left, np.concatenate([at, [told["sphere"] / 2], shares]), xtol=1e-15, ftol=1e-15, gtol=1e-15)
    r = float(found.x[3])
    if np.abs(found.fun).max() > 1e-7 or found.x[4:].min() < -1e-6:
        return None
    clear = min(away for away, _ in about(after, found.x[:3]).values())
    return 2 * r if clear > r - 1e-7 * max(1.0, r) else None
