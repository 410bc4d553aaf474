"""Openings as they come when every hole, post's length and station is at its mark: found again from the marked figures.

A strand is taken to lie all along as high as it is marked anywhere, over the nosing line or surface on which the post's
marked station puts it: no strand between two such posts comes higher. A gap between strands is the widest between two
marked holes of one post. So what is told is no less than what any bay really leaves.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import floor, hypot
from typing import Any, NamedTuple

import numpy as np

from tests.rebuild import beside
from tests.rebuild.bodies import Bay, Guard
from tests.rebuild.clearance import Floats, Parts, climbed, held, solved
from tests.rebuild.differ import differ
from tests.rebuild.line import Line, come_round
from tests.rebuild.openings import between_posts

Table = dict[str, Any]
SAME = 1e-6


class Drilled(NamedTuple):
    """Of one post: heights of a surface's strands over it by their numbers, and from strand 1 up to the rail."""

    heights: dict[int, float]
    under_rail: float


def _to_mark(size: float, mark: float) -> float:
    """The nearest mark; half way, the even one (NIST Handbook 44, 10.3, second-hand)."""
    marks = size / mark
    low = floor(marks + 1e-9)
    if abs(marks - low - 0.5) < 1e-9:
        return (low + low % 2) * mark
    return round(marks) * mark


def as_marked(line: Line, guard: Guard) -> Iterator[str]:
    """Every opening's sphere as marked; and as designed it touches what it is told to touch."""
    drilled = {k: list(_drilled(line, k)) for k, told in enumerate(line.found["surfaces"]) if told["carries"]}
    radius = line.given("strand", "diameter", 0) / 2
    out_there = beside.views(guard, radius) if guard.offset else {}
    seen = set()
    for told in line.found["openings"]:
        in_space = out_there.get(told["surface"]) if beside.under_lowest(told) else None
        for contact in () if in_space else told["contacts"]:  # in space: tests.rebuild.beside
            away = hypot(contact[0] - told["centre"][0], contact[1] - told["centre"][1])
            yield from differ(f"{told['where']}, surface {told['surface']}, touched at", away, told["sphere"] / 2, SAME)
        alike = told["surface"], *(round(told[key], 9) for key in ("sphere", "sphere_as_marked"))
        if alike in seen:
            continue  # a flight's steps: once is enough
        seen.add(alike)
        if in_space:
            up = _up(line, told["surface"], drilled[told["surface"]])
            yield from (f"{told['where']}, as marked: {words}" for words in beside.as_marked(in_space, told, up))
            continue
        true = _true(line, guard, told, drilled[told["surface"]])
        open_risers = told["surface"] in line.flights and line.flights[told["surface"]].open_risers
        if open_risers and true <= told["sphere_as_marked"]:
            continue  # under its boards it is no longer the guard that stops a sphere
        yield from differ(
            f"{told['where']}, surface {told['surface']}, as marked", told["sphere_as_marked"], true, SAME
        )


def _drilled(line: Line, k: int) -> Iterator[Drilled]:
    mark, depth = line.found["mark"], line.given("rail", "depth", 0) * hypot(1.0, line.slope(k))
    for post in line.found["posts"]:
        own = [hole for hole in post["holes"] if k in hole["surfaces"]]
        if not own:
            continue
        s = post["station"] + come_round(line, post, k)
        joint = None if post["joint"] is None else line.found["joints"][post["joint"]]
        heights = {hole["strand"]: _height(hole, joint, mark) for hole in own}
        lift = post["base"] - line.datum(k, _to_mark(s, mark))
        # cut to its mark a post that carries the rail lifts it
        lifts = joint is None or joint["mitred"] or joint["second_post"]
        raised = _to_mark(post["length"], mark) - post["length"] if lifts else 0.0
        rail = line.rail(k, s) - depth - post["base"] + raised
        yield Drilled({n: h + lift for n, h in heights.items()}, rail - heights[min(heights)])


def _height(hole: Table, joint: Table | None, mark: float) -> float:
    """Of a hole at its mark, on the centre line; one that ends on a face is marked there."""
    on_face = joint is not None and len(hole["surfaces"]) == 1 and hole["low_face"] == hole["high_face"]
    if on_face and abs(hole["low_face"] - hole["height"]) > SAME:  # else it is the told mark, whichever way a tie went
        return float(hole["height"] + _to_mark(hole["low_face"], mark) - hole["low_face"])
    return float(hole["marked"])


def _true(line: Line, guard: Guard, told: Table, drilled: list[Drilled]) -> float:
    k, where = told["surface"], told["where"]
    sec, radius = hypot(1.0, line.slope(k)), line.given("strand", "diameter", 0) / 2
    if where.startswith("between the corner posts"):
        return between_posts(line.found, told, lambda station: _to_mark(station, line.found["mark"]))
    if "at the turn of surface" in where:
        return _at_corner(line, guard, told)
    if where.startswith("unguarded"):
        post = next(p for p in line.found["posts"] if f"post {p['label']}," in where)
        away = _to_mark(post["station"], line.found["mark"]) - post["station"]
        return float(told["sphere"] + away * (1 if post is line.found["posts"][0] else -1))
    if where.startswith("open riser") or not told["contacts"]:
        return float(told["sphere"])  # of the stair, or between posts: nothing of it is marked
    if where == "under the rail":
        return max(post.under_rail for post in drilled) / sec - radius
    if where == "between strands":
        return _between(told, drilled) / sec - 2 * radius
    if where.startswith("under the rail at post"):
        lower = line.rail(k, 0.0) - line.given("rail", "depth", 0) * sec - line.datum(k, 0.0)
        up = lower - line.found["surfaces"][k]["strands"]["heights"][0] - max(post.under_rail for post in drilled)
        return _lifted(guard.parts, None, told, k, up, 0.0, 1)
    lowest = max(drilled[0].heights)
    if where == "under the lowest strand":
        return max(post.heights[lowest] for post in drilled) / sec - radius
    return _lifted(guard.parts, None, told, k, _up(line, k, drilled), 0.0)


def _up(line: Line, k: int, drilled: list[Drilled]) -> float:
    """How much higher over its surface than designed a lowest strand is marked anywhere."""
    lowest = max(drilled[0].heights)
    return float(
        max(post.heights[lowest] for post in drilled) - line.found["surfaces"][k]["strands"]["heights"][lowest - 1]
    )


def _between(told: Table, drilled: list[Drilled]) -> float:
    """The widest between the two strands it is told of, or any others of those openings alike."""
    upper = min(int(name.split()[1]) for name in told["touches"])
    return max(post.heights[upper] - post.heights[upper + 1] for post in drilled)


def _at_corner(line: Line, guard: Guard, told: Table) -> float:
    """Across a corner: every hole of its two posts at its mark, the lowest strand from one mark to the other."""
    turned = int(told["where"].split("at the turn of surface ")[1].split(",")[0]) - 1
    joint = next(j for j in line.found["joints"] if j["between"][1] == turned)
    bay = next((bay for bay in guard.chords if bay.left == joint["post"]), None)
    if not told["contacts"] or bay is None:
        return float(told["sphere"])
    drilled = [
        next(post["holes"] for post in line.found["posts"] if post["label"] == joint[key])
        for key in ("post", "second_post")
    ]
    whole = max(name[1] for name in bay.parts.names if name[0] == "strand")
    if told["where"].startswith("between strands"):
        slope = (bay.strands[0][2][1] - bay.strands[0][1][1]) / (bay.strands[0][2][0] - bay.strands[0][1][0])
        marked = [{hole["strand"]: hole["marked"] for hole in holes} for holes in drilled]
        apart = max(m[n] - m[n + 1] for m in marked for n in range(1, whole))
        return float(min(apart / hypot(1.0, slope) - line.given("strand", "diameter", 0), bay.high - bay.low))
    ups = [next(hole["marked"] - hole["height"] for hole in holes if hole["strand"] == whole) for holes in drilled]
    return _lifted(bay.parts, bay, told, told["surface"], (ups[0], ups[1] - ups[0], joint["chord"]["level"]), bay.shift)


def _lifted(
    parts: Parts,
    bay: Bay | None,
    told: Table,
    k: int,
    up: float | tuple[float, float, float],
    shift: float,
    number: int | None = None,
) -> float:
    """The largest sphere uphill from where one is told, a strand over a surface lifted all along: the lowest."""
    centre = np.array([[told["centre"][0] - shift, told["centre"][1]]])
    lowest = number or max(name[1] for name in parts.names if name[0] == "strand" and (bay or k in name[2]))
    start, more, level = up if isinstance(up, tuple) else (up, 0.0, 1.0)
    rises = [np.column_stack([0 * end[:, 0], start + more * end[:, 0] / level]) for end in (parts.a, parts.b)]
    moved = [name[0] == "strand" and name[1] == lowest and (bay is not None or k in name[2]) for name in parts.names]
    lifted = [np.where(np.array(moved)[:, None], rise, 0.0) for rise in rises]
    here = Parts(parts.a + lifted[0], parts.b + lifted[1], parts.radius, parts.names)
    reach = told["sphere"]
    here = here.within(centre[0, 0] - 1.5 * reach, centre[0, 0] + 1.5 * reach)
    return 2 * _peak(centre, here, reach)


def _peak(centre: Floats, parts: Parts, reach: float) -> float:
    """Clearance at the peak next to a point: of three parts near by, else where a climb leads, solved there.

    In a slot, or at the end of a long ridge, a climb may not see a small rise, or step over it.
    """
    at, best = solved(centre, parts, reach / 4)
    if not held(at[0], parts):
        climb, height = climbed(centre, parts, reach / 40)
        at, best = solved(climb, parts, reach / 4)
        best = best if held(at[0], parts) else height
    return float(best[0])
