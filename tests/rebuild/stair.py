"""The stair as its job describes it, in the developed elevation: every edge one can touch, and what is solid.

A flight of n risers is drawn uphill from its lowest nosing, nosing i at (x_i, z_i), tread i from there back to the
riser above. With a projection P the riser face i stands at x_i + P, from tread i - 1 up to the underside of tread i, a
thickness T below its top; the nosing's front is plumb at x_i. The top nosing is the edge of what lies above. Without
risers only the boards are there. A flight that goes down is the mirror image of this.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import radians, remainder, tan
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from tests.rebuild.jobs import length, level_length

Floats = NDArray[np.float64]
_FAR = 1e4
"""Past anything that an opening of the guard could reach, in either unit."""


class Edge(NamedTuple):
    """A straight edge of the stair; ``step`` is the number of its tread or riser in a flight, else 0."""

    name: str
    a: tuple[float, float]
    b: tuple[float, float]
    surface: int
    step: int = 0


@dataclass(frozen=True)
class Flight:
    """A flight in its uphill frame: x = way * (station - origin); ``xs, zs`` its nosings, ``floor`` what is below."""

    surface: int
    way: int
    origin: float
    xs: Floats
    zs: Floats
    nosing: float
    tread: float
    open_risers: bool
    floor: float
    floor_slope: float
    below: str
    above: str

    @cached_property
    def line(self) -> tuple[float, float]:
        """Slope uphill and height over nosing 1 of the nosing line: the straightedge laid on the nosings.

        No nosing is above it, and the sum of gaps under it is least: it lies on the edge of the upper hull that spans
        the mean station, so it is the least, over the pairs of nosings that leave none above, of the height there.
        """
        mean, best = float(np.mean(self.xs)), (np.inf, 0.0, 0.0)
        for i in range(len(self.xs)):
            for j in range(i + 1, len(self.xs)):
                slope = (self.zs[j] - self.zs[i]) / (self.xs[j] - self.xs[i])
                over = self.zs[i] - slope * self.xs[i]
                if np.all(over + slope * self.xs >= self.zs - 1e-9):
                    best = min(best, (over + slope * mean, slope, over))
        return best[1], best[2]

    def station(self, x: float) -> float:
        """Station of a local x."""
        return self.origin + self.way * x

    def step(self, x: float) -> int:
        """Number of the tread over which x is; 0 below nosing 1, n over what lies above."""
        return int(np.sum(self.xs <= x + 1e-9))

    def floors(self, x: Floats) -> Floats:
        """The lowest floor at each x: under a projecting nosing it is the tread below."""
        steps = np.sum(self.xs[None, :] + self.nosing <= x[:, None], axis=1)
        levels = np.concatenate(([0.0], self.zs))
        return np.where(steps > 0, levels[steps], self.floor + (x - self.xs[0]) * self.floor_slope)

    def boards(self) -> list[tuple[float, float, float, float]]:
        """Solid over the floors: x from and to, z from and to."""
        boards = []
        ends = [*self.xs[1:], self.xs[-1] + self.xs[-1] - self.xs[-2]]
        for x, z, end in zip(self.xs, self.zs, ends, strict=True):
            deep = end + self.nosing if self.open_risers else x + self.nosing
            if deep > x:
                boards.append((x, deep, z - self.tread, z))
        return boards


@dataclass(frozen=True)
class Stair:
    """All surfaces in place: ``spans`` start and end station, elevation at both, and kind of each."""

    edges: list[Edge]
    flights: list[Flight]
    spans: list[tuple[float, float, float, float, str]]

    @property
    def nosing(self) -> float:
        """The longest projection."""
        return max((flight.nosing for flight in self.flights), default=0.0)

    def floors(self, s: Floats) -> Floats:
        """The lowest floor at each station."""
        found = np.full(len(s), np.nan)
        for k, (a, b, za, zb, kind) in enumerate(self.spans):
            if kind == "flight" or a == b:
                continue
            low = -_FAR if k == 0 else a
            high = _FAR if k == len(self.spans) - 1 else b
            here = (s >= low) & (s <= high)
            found[here] = za + (s[here] - a) * ((zb - za) / (b - a))
        for flight in self.flights:
            x = flight.way * (s - flight.origin)
            first, last = flight.surface == 0, flight.surface == len(self.spans) - 1
            low = -_FAR if (first if flight.way > 0 else last) else flight.xs[0]
            high = _FAR if (last if flight.way > 0 else first) else flight.xs[-1] + flight.nosing
            here = (x >= low) & (x < high)
            found[here] = flight.floors(x[here])
        return found

    def solid(self, points: Floats) -> NDArray[np.bool_]:
        """Whether each point is inside the stair."""
        inside = points[:, 1] < self.floors(points[:, 0])
        for flight in self.flights:
            x, z = flight.way * (points[:, 0] - flight.origin), points[:, 1]
            for x0, x1, z0, z1 in flight.boards():
                inside |= (x > x0) & (x < x1) & (z > z0) & (z < z1)
        return inside

    def at(self, s: float) -> tuple[int, str]:
        """Index and kind of the surface at a station; at an edge the level or sloping one."""
        here = [(kind == "flight", k, kind) for k, (a, b, _, _, kind) in enumerate(self.spans) if a <= s <= b]
        return min(here)[1:] if here else (0 if s < self.spans[0][0] else len(self.spans) - 1, "landing")


def stair(job: dict[str, Any]) -> Stair:
    """Put the job's surfaces end to end from station 0, elevation 0, along the guard's own line."""
    unit, spans, shapes = job["unit"], [], []
    s = z = 0.0
    for given, longer in zip(job["surface"], past_edges(job), strict=True):
        level = level_length(given, unit) + sum(longer)
        nosings, climb = _steps(given, unit) if given["kind"] == "flight" else ([], _climb(given, unit))
        spans.append((s, s + level, z, z + climb, given["kind"]))
        shapes.append([(s + a, z + b) for a, b in nosings])
        s, z = s + level, z + climb
    flights = [_flight(job, spans, shapes, k) for k, g in enumerate(job["surface"]) if g["kind"] == "flight"]
    edges = [edge for flight in flights for edge in _flight_edges(flight)]
    # a landing of no length is where two flights start at one newel
    edges += [
        Edge(kind, (a, za), (b, zb), k) for k, (a, b, za, zb, kind) in enumerate(spans) if kind != "flight" and a < b
    ]
    return Stair(edges, flights, spans)


def past_edges(job: dict[str, Any]) -> list[tuple[float, float]]:
    """How much farther the guard's line goes than each surface's edge, at its start and at its end; less is negative.

    Two lines o from the legs of a turn by t, on one side of both, meet o tan(t / 2) along from the legs' corner: beyond
    it where the guard goes round outside the turn, short of it inside.
    """
    offset, hand = length(job["post"].get("offset", 0), job["unit"]), job["post"].get("hand")
    turns = [float(given.get("turn", 0)) for given in job["surface"]]
    closing = remainder(-sum(turns), 360) if job.get("ends", {}).get("closed") else 0.0
    turns = [closing, *turns[1:], closing]
    side = {"left": -1, "right": 1, None: 0}[hand]
    longer = [side * offset * tan(radians(turn) / 2) if side and turn else 0.0 for turn in turns]
    found = list(pairwise(longer))
    for given, ends in zip(job["surface"], found, strict=True):
        assert not any(ends) or given["kind"] == "landing", "a flight or ramp that turns off its edge is not rebuilt"
    return found


def _climb(given: dict[str, Any], unit: str) -> float:
    return length(given["rise"], unit) if given["kind"] == "ramp" else 0.0


def _steps(given: dict[str, Any], unit: str) -> tuple[list[tuple[float, float]], float]:
    """Nosings from the flight's start, along the line, and what it climbs."""
    down = given.get("down", False)
    if "nosings" in given:
        points = [(length(x, unit), length(z, unit)) for x, z in given["nosings"]]
        mean = (points[0][1] - points[-1][1]) / (len(points) - 1)
        last = length(given.get("last_rise", mean), unit)
        return points, points[-1][1] - last if down else points[-1][1]
    risers, rise, run = given["risers"], length(given["rise"], unit), length(given["run"], unit)
    if down:
        return [(k * run, -k * rise) for k in range(risers)], -risers * rise
    return [(k * run, (k + 1) * rise) for k in range(risers)], risers * rise


def _flight(job: dict[str, Any], spans: list[Any], shapes: list[Any], k: int) -> Flight:
    given, unit = job["surface"][k], job["unit"]
    way = -1 if given.get("down", False) else 1
    points = shapes[k][::way]
    low = (points[0][0], spans[k][3] if way < 0 else spans[k][2])
    below = spans[k - way] if 0 <= k - way < len(spans) else None
    above = spans[k + way] if 0 <= k + way < len(spans) else None
    floors = ["landing" if beside is None or beside[4] == "flight" else beside[4] for beside in (below, above)]
    slope = way * (below[3] - below[2]) / (below[1] - below[0]) if below and below[4] == "ramp" else 0.0
    xs = np.array([way * (s - low[0]) for s, _ in points])
    return Flight(
        k, way, low[0], xs, np.array([z for _, z in points]), length(given.get("nosing", 0), unit),
        length(given.get("tread", 0), unit), given.get("open_risers", False), low[1], slope, *floors,
    )  # fmt: skip


def _flight_edges(flight: Flight) -> list[Edge]:
    """Treads, risers, nosings, and the floor below on to the first riser; above the line's end, what is beyond."""
    found: list[Edge] = []

    def draw(name: str, step: int, *points: tuple[float, float]) -> None:
        placed = [(flight.station(x), z) for x, z in points]
        found.extend(Edge(name, a, b, flight.surface, step) for a, b in pairwise(placed))

    p, t, n = flight.nosing, flight.tread, len(flight.xs)
    first = float(flight.xs[0])
    draw(flight.below, 0, (first - _FAR if flight.surface == 0 else first, flight.floor - (_FAR * flight.floor_slope
         if flight.surface == 0 else 0)), (first + p, flight.floor + p * flight.floor_slope))  # fmt: skip
    levels = [flight.floor + p * flight.floor_slope, *flight.zs]
    for i, (x, z) in enumerate(zip(flight.xs, flight.zs, strict=True), 1):
        back = (flight.xs[i] if i < n else x + (x - flight.xs[i - 2])) + p
        under = z - t if p or flight.open_risers else z
        if i < n:
            draw("tread", i, (x, z), (back, z))
        if flight.open_risers:
            draw("nosing", i, (back, under), (x, under), (x, z))
        else:
            draw("riser", i, (x + p, levels[i - 1]), (x + p, under))
            draw("nosing", i, (x + p, under), (x, under), (x, z))
    return [edge for edge in found if edge.a != edge.b]
