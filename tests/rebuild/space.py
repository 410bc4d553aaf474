"""The guard in space: posts as square prisms, strands and rails as lines with a direction, cuts as planes.

x runs along the first surface, y to its left, z up. A developed station is put in plan leg by leg: each turn starts a
leg at the corner, headed on by the turn. A post is w by w in plan; its faces are turned from square to the leg before
it by an angle that is a decision of the result. A line through its centre at an angle a to a face's normal leaves it
w / 2 / max(|cos a|, |sin a|) away in plan.

A rail's end is a plane through the end of its top's centre line. In the rail's frame (along it outward, left, up square
to both) a saw set to mitre m across the top and tilt t from plumb cuts the plane with the normal
(cos t cos m, cos t sin m, sin t); which way m and t go is told by which point is long.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise, product
from math import atan2, cos, degrees, hypot, radians, sin
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tests.rebuild.bodies import hole_height
from tests.rebuild.jobs import length
from tests.rebuild.stair import stair

Floats = NDArray[np.float64]
Result = dict[str, Any]


@dataclass(frozen=True)
class Leg:
    """A straight stretch in plan from a station on."""

    start: float
    at: Floats
    heading: float

    @property
    def way(self) -> Floats:
        """Unit vector in plan."""
        return np.array([cos(self.heading), sin(self.heading)])


class Space:
    """Where developed stations are in space, by the job's turns."""

    def __init__(self, job: dict[str, Any], found: Result) -> None:
        self.found = found
        self._ways: dict[int, tuple[list[Floats], list[Floats]]] = {}
        self.posts = {post["label"]: post for post in found["posts"]}
        self.legs = [Leg(-np.inf, np.zeros(2), 0.0)]
        for span, given in zip(stair(job).spans, job["surface"], strict=True):
            if given.get("turn"):
                last = self.legs[-1]
                corner = last.at + (span[0] - max(last.start, 0.0)) * last.way
                self.legs.append(Leg(span[0], corner, last.heading + radians(given["turn"])))
        self.closing = next((j for j in found["joints"] if j["between"][0] > j["between"][1]), None)
        self.depth, self.width = (length(job["rail"][key], job["unit"]) for key in ("depth", "width"))

    def leg(self, station: float, arriving: bool) -> Leg:
        """The leg at a station; at a corner the one before it or the one after."""
        here = [
            leg for leg in self.legs if leg.start < station - 1e-9 or (leg.start <= station + 1e-9 and not arriving)
        ]
        return here[-1]

    def at(self, station: float, z: float, arriving: bool = True) -> Floats:
        """A point in space."""
        leg = self.leg(station, arriving)
        return np.array([*(leg.at + (station - max(leg.start, 0.0)) * leg.way), z])

    def stance(self, label: str) -> float:
        """Heading of a post's faces' normal in plan, radians."""
        post = self.posts[label]
        closes = self.closing is not None and self.closing["post"] == label
        before = self.leg(self.closing["station"] if closes else post["station"], True).heading
        return before + radians(post["turned_deg"])

    def round_on(self, joint: dict[str, Any] | None) -> float:
        """How far the line has come round where it closes: past it stations begin again; nothing at other joints."""
        return joint["station"] if joint is not None and joint is self.closing else 0.0

    def exit(self, label: str, way: Floats) -> float:
        """Along a direction in space, from a post's centre line to where it comes out of the post."""
        return box_exit(self.posts[label]["width"], self.stance(label), way)

    def ways(self, run: dict[str, Any]) -> tuple[list[Floats], list[Floats]]:
        """A run's points on its posts' centre lines, and the unit direction from each to the next."""
        if id(run) not in self._ways:
            over, posts = tuple(run["surfaces"]), [self.posts[label] for label in run["posts"]]
            points = [self.at(post["station"], hole_height(post, run["strand"], over)) for post in posts]
            self._ways[id(run)] = points, [(b - a) / np.linalg.norm(b - a) for a, b in pairwise(points)]
        return self._ways[id(run)]


def box_exit(width: float, heading: float, way: Floats) -> float:
    """From the centre of a square prism along a unit direction to its side."""
    along, across = (
        abs(way[0] * c + way[1] * s) for c, s in ((cos(heading), sin(heading)), (-sin(heading), cos(heading)))
    )
    return width / 2 / max(along, across)


def pitch(way: Floats) -> float:
    """Slope of a direction from level, degrees."""
    return degrees(atan2(way[2], hypot(way[0], way[1])))


def rail_frame(start: Floats, end: Floats) -> tuple[Floats, Floats, Floats]:
    """Along a rail, to its left (level), and up square to both."""
    along = (end - start) / np.linalg.norm(end - start)
    left = np.array([-along[1], along[0], 0.0]) / hypot(along[0], along[1])
    return along, left, np.cross(along, left)


def cut_normal(cut: dict[str, Any], pitch_deg: float, outward: int) -> Floats:
    """The cut's normal in the rail's frame, pointing out of the rail; ``outward`` is -1 at its start, 1 at its end.

    The long point has the normal lean away from it: a plane through the top's centre line that leans to the rail's
    left leaves the right side long.
    """
    mitre, tilt = 0.0, 0.0
    edge = cut["edge"] or cut["long_point"]
    if cut["kind"] in ("plumb", "mitre"):
        tilt = radians(cut["angle_deg"])
    elif cut["kind"] in ("plan mitre", "compound"):
        mitre, tilt = radians(cut["angle_deg"]), radians(cut["tilt_deg"])
    tilt *= {"top": -1, "underside": 1}.get(edge, 1)
    mitre *= {"left": -1, "right": 1}.get(cut["side"] or "", 1)
    return np.array([outward * cos(tilt) * cos(mitre), cos(tilt) * sin(mitre), sin(tilt)])


def corner_reaches(normal: Floats, width: float, depth: float, outward: int) -> dict[tuple[float, float], float]:
    """How far along the rail past the end of its top's centre line each edge and centre line of it goes, outward."""
    return {
        (left, up): -(normal[1] * left + normal[2] * up) / normal[0] * outward
        for left, up in product((-width / 2, 0.0, width / 2), (0.0, -depth))
    }
