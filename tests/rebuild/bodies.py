"""The guard as its result places it: posts from their own bases up, rails, strands from hole to hole, over the stair.

Two kinds of elevation, each seen square to the strands. The *line*: stations along x, legs of a turn unfolded at its
post. A *chord*: between the two posts of a corner, x level from the first post's centre. A post whose faces are askew
to a leg by an angle in plan shows half its width over that angle's cosine on each side of its centre, which is where
the strands' plane cuts it.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import cos, hypot, radians, sin
from typing import Any

from tests.rebuild.clearance import Parts
from tests.rebuild.jobs import length
from tests.rebuild.stair import Stair, stair

_TALL = 1e4

Result = dict[str, Any]


@dataclass(frozen=True)
class Bay:
    """Between two posts: faces at ``low`` and ``high``, strands from the top down, each with its ends and surfaces.

    ``surface`` is the one whose rail is over it.
    ``shift`` is what its x lacks to the told stations: zero on the line.
    """

    left: str
    right: str
    surface: int
    low: float
    high: float
    strands: list[tuple[int, tuple[float, float], tuple[float, float], tuple[int, ...]]]
    parts: Parts
    chord: bool = False
    shift: float = 0.0


@dataclass(frozen=True)
class Guard:
    """A rebuilt guard: the stair, the line's parts, its bays, and those across corners of two posts.

    ``offset`` is how far its strands' middles stand out from the stair's side, level.
    """

    stair: Stair
    parts: Parts
    bays: list[Bay]
    chords: list[Bay]
    boxes: list[tuple[float, float, float, float]]
    offset: float


def rebuild(job: dict[str, Any], found: Result) -> Guard:
    """Place every part of a result."""
    ground = stair(job)
    radius = length(job["strand"]["diameter"], job["unit"]) / 2
    depth = length(job["rail"]["depth"], job["unit"])
    rows = [(e.a, e.b, 0.0, (e.name, e.step, e.surface)) for e in ground.edges]
    reaches = _reaches(found)
    boxes = []
    posts = _in_line(found)
    for k, post in enumerate(posts):
        before, after = reaches[post["label"]]
        # what the line ends on stands on the floor beyond it
        floor = ground.spans[-1][3] if k else ground.spans[0][2]
        rows += _post_edges(post, before, after, post["base"] if post["support"] == "post" else floor)
        s = post["station"]
        if post["support"] == "post":
            boxes.append((s - before, s + after, post["base"], post["base"] + post["length"]))
    rows += [(*ends, 0.0, ("rail", 0, k)) for k, ends in undersides(found, depth).items()]
    strung = _strung(found)
    corners = {(j["post"], j["second_post"]): j for j in found["joints"] if j["second_post"]}
    drawn = {}
    for left, right in pairwise(posts):
        pair = left["label"], right["label"]
        if pair not in corners:
            drawn[pair] = [
                (number, (left["station"], low), (right["station"], high), surfaces)
                for number, low, high, surfaces in strung.pop(pair, [])
            ]
            rows += [(a, b, radius, ("strand", number, surfaces)) for number, a, b, surfaces in drawn[pair]]
    assert strung.keys() <= corners.keys(), f"strands between posts that are no neighbours: {sorted(strung)}"
    parts = Parts.of(rows)
    bays, chords = [], []
    over = next(s["index"] for s in found["surfaces"] if s["carries"])
    nexts = {(j["second_post"] or j["post"]): j["between"][1] for j in found["joints"] if not _closes(j)}
    for left, right in pairwise(posts):
        pair = left["label"], right["label"]
        over = nexts.get(pair[0], over)
        if pair in corners:
            chord = _chord(left, right, corners[pair], strung.get(pair, []), radius, ground)
            chords += (
                [chord] if chord.high - chord.low > 1e-6 else []
            )  # else the posts touch: nothing is open between them
            continue
        low, high = left["station"] + reaches[pair[0]][1], right["station"] - reaches[pair[1]][0]
        # a sphere between two posts meets nothing beyond them but the riser behind a projecting nosing
        bays.append(Bay(*pair, over, low, high, drawn[pair], parts.within(low - ground.nosing, high + ground.nosing)))
    return Guard(ground, parts, bays, chords, boxes, length(job["post"].get("offset", 0), job["unit"]))


def _closes(joint: dict[str, Any]) -> bool:
    """Whether the line comes back to its start in a joint."""
    return bool(joint["between"][0] > joint["between"][1])


def _in_line(found: Result) -> list[dict[str, Any]]:
    """The posts in the order one walks past them: that in which the line closes stands at its end once more."""
    posts = list(found["posts"])
    for joint in found["joints"]:
        if _closes(joint):
            first = posts[0]
            posts.append({**first, "station": first["station"] + joint["station"]})
    return posts


def _reaches(found: Result) -> dict[str, tuple[float, float]]:
    """Of every post, from its centre to the faces that the strands before and after it come to.

    Which way a corner's one post is turned is the result's to decide.
    """
    reaches = {post["label"]: (post["width"] / 2, post["width"] / 2) for post in found["posts"]}
    turned = {post["label"]: post["turned_deg"] for post in found["posts"]}
    for joint in found["joints"]:
        if joint["second_post"] or not joint["turn_deg"]:
            continue
        turn, half, facing = joint["turn_deg"], reaches[joint["post"]][0], turned[joint["post"]]
        reaches[joint["post"]] = tuple(half / _greater(facing - leg) for leg in (0.0, turn))
    return reaches


def _greater(angle_deg: float) -> float:
    """Of a heading from a square post's face, the greater of cosine and sine: it comes out of the nearer face."""
    return max(abs(cos(radians(angle_deg))), abs(sin(radians(angle_deg))))


def _post_edges(post: dict[str, Any], before: float, after: float, foot: float) -> list[Any]:
    s = post["station"]
    top = foot + (post["length"] if post["support"] == "post" else _TALL)
    name = ("post", post["label"], post["stands_on"])
    edges = [((s - before, foot), (s - before, top), 0.0, name)]
    if before + after:
        edges += [((s + after, foot), (s + after, top), 0.0, name), ((s - before, foot), (s + after, foot), 0.0, name)]
    return edges


def undersides(found: Result, depth: float) -> dict[int, tuple[tuple[float, float], tuple[float, float]]]:
    """The underside of each surface's rail, from end to end: the top moved down plumb, mitred ones to where they cross.

    Two undersides of one height above their tops' joint cross at the mitre plane.
    """
    lines = {}
    for surface in found["surfaces"]:
        (s0, z0), (s1, z1) = surface["rail"]["start"], surface["rail"]["end"]
        if surface["carries"]:
            slope = (z1 - z0) / (s1 - s0)
            lines[surface["index"]] = [s0, s1, slope, z0 - depth * hypot(1, slope) - slope * s0]
    for joint in found["joints"]:
        i, j = joint["between"]
        (_, _, before, over), (_, _, after, other) = lines[i], lines[j]
        if joint["mitred"] and not joint["turn_deg"] and abs(before - after) > 1e-12:
            lines[i][1] = lines[j][0] = (other - over) / (before - after)
    return {
        k: ((s0, over + slope * s0), (s1, over + slope * s1)) for k, (s0, s1, slope, over) in lines.items()
    }  # fmt: skip


def hole_height(post: dict[str, Any], strand: int, surfaces: tuple[int, ...]) -> float:
    """Elevation on a post's centre line of a strand over some surfaces; the corner's other post has its own leg's."""
    here = [h for h in post["holes"] if h["strand"] == strand]
    heights = {h["height"] for h in here if set(h["surfaces"]) & set(surfaces)} or {h["height"] for h in here}
    assert len(heights) == 1, f"strand {strand} over {surfaces} has {len(heights)} holes in {post['label']}"
    return post["base"] + heights.pop()


def _strung(found: Result) -> dict[tuple[str, str], list[tuple[int, float, float, tuple[int, ...]]]]:
    """Of every two neighbouring posts the strands between them, from the top down."""
    places = {post["label"]: post for post in found["posts"]}
    strung: dict[tuple[str, str], list[Any]] = {}
    for run in found["runs"]:
        over = tuple(run["surfaces"])
        for left, right in pairwise(run["posts"]):
            ends = [hole_height(places[label], run["strand"], over) for label in (left, right)]
            strung.setdefault((left, right), []).append((run["strand"], *ends, over))
    for strands in strung.values():
        strands.sort(key=lambda one: -(one[1] + one[2]))
        numbers = [one[0] for one in strands]
        assert len(set(numbers)) == len(numbers), "a strand lies twice in one bay"
    return strung


def _chord(
    left: dict[str, Any], right: dict[str, Any], joint: dict[str, Any], strands: list[Any], radius: float, ground: Stair
) -> Bay:
    """Between the two posts of a corner, both standing off it by the same length along their own legs.

    Their centres are 2 * offset * cos(turn / 2) apart. A post, as deep as it is wide and square to its own leg, is cut
    by the chord's plane, askew to it by half the turn, to half its width over the greater of that angle's cosine and
    sine.
    """
    half_turn = joint["turn_deg"] / 2
    level = (right["station"] - left["station"]) * cos(radians(half_turn))
    reach = left["width"] / 2 / _greater(half_turn)
    _, kind = ground.at(left["station"])
    first = joint["between"][0]
    rows = [((0.0, left["base"]), (level, right["base"]), 0.0, (kind, 0, first))]
    for post, x, way in ((left, 0.0, 1), (right, level, -1)):
        face = x + way * reach
        rows.append(((face, post["base"]), (face, post["base"] + _TALL), 0.0, ("post", post["label"], 0)))
    placed = [(number, (0.0, low), (level, high), over) for number, low, high, over in strands]
    rows += [(a, b, radius, ("strand", number, over)) for number, a, b, over in placed]
    return Bay(
        left["label"], right["label"], first, reach, level - reach, placed, Parts.of(rows), True, left["station"]
    )
