"""Strands, holes, rails and post tops of a result, each found again in space: the disagreements in words."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import cos, degrees, sin
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from tests.rebuild.bearing import bears
from tests.rebuild.differ import CLOSE, differ, unlike
from tests.rebuild.space import Space, box_exit, corner_reaches, cut_normal, pitch, rail_frame

Floats = NDArray[np.float64]


def strands(space: Space, job: dict[str, Any], take_ups: float) -> Iterator[str]:
    """Length of every run between the faces its ends bear on, every bay between faces, and the cut length."""
    for run in space.found["runs"]:
        what = f"strand {run['strand']} {run['posts'][0]}-{run['posts'][-1]}"
        points, ways = space.ways(run)
        centres = [float(np.linalg.norm(b - a)) for a, b in pairwise(points)]
        exits = [
            (space.exit(a, way), space.exit(b, way)) for (a, b), way in zip(pairwise(run["posts"]), ways, strict=True)
        ]
        for k, (told, between, (out, into)) in enumerate(zip(run["bays"], centres, exits, strict=True)):
            yield from differ(f"{what}, bay {k + 1}", told, between - out - into)
        yield from differ(f"{what}, longest bay", run["longest_bay"], max(run["bays"]))
        true = sum(centres)
        for face, reach in zip(run["bears"], (exits[0][0], exits[-1][1]), strict=True):
            true += reach if face == "outer face" else -reach
        yield from bears(space, job, run, what)
        yield from unlike(f"{what}, surfaces", run["surfaces"], _over(space, run))
        yield from differ(f"{what}, length", run["length"], true)
        yield from differ(f"{what}, cut length", run["cut_length"], true - take_ups)


def _after(space: Space) -> dict[str, list[int]]:
    """The surface over which strands lie after each post; none between a corner's two."""
    joints = {label: j for j in space.found["joints"] for label in (j["post"], j["second_post"]) if label}
    over, after = [_carriers(space)[0]], {}
    for label in space.posts:
        joint = joints.get(label)
        if joint is not None:
            # between a corner's two posts it is over none of its own
            over = [] if label == joint["post"] and joint["second_post"] else joint["between"][1:]
        after[label] = over
    return after


def _over(space: Space, run: dict[str, Any]) -> list[int]:
    """The surfaces over which a run lies, in order; of one from post to post of a corner both that meet there."""
    after = _after(space)
    found = [surface for label in run["posts"][:-1] for surface in after[label]]
    return list(dict.fromkeys(found)) or next(
        j["between"] for j in space.found["joints"] if j["post"] == run["posts"][0]
    )


Through = dict[tuple[str, int, tuple[int, ...]], dict[str, Floats]]


def _through(space: Space) -> Through:
    """Of every hole that a run goes through, by post, strand and surfaces, the run's ways before and after."""
    seen: Through = {}
    for run in space.found["runs"]:
        _, ways = space.ways(run)
        for k, label in enumerate(run["posts"]):
            mine = [h for h in space.posts[label]["holes"] if h["strand"] == run["strand"]]
            over = [h for h in mine if set(h["surfaces"]) & set(run["surfaces"])] or mine
            if len(over) > 1:  # of one run, the corner where a line closes has the end and the beginning
                over = [h for h in over if run["surfaces"][0 if not k else -1] in h["surfaces"]]
            entry = seen.setdefault((label, run["strand"], tuple(over[0]["surfaces"])), {})
            if k:
                entry["before"] = ways[k - 1]
            if k < len(ways):
                entry["after"] = ways[k]
    return seen


def holes(space: Space) -> Iterator[str]:
    """Every hole's slopes before and after, tilt of the drill, and heights where the strand comes to the faces."""
    seen = _through(space)
    for label, post in space.posts.items():
        for hole in post["holes"]:
            key = label, hole["strand"], tuple(hole["surfaces"])
            what = f"{label} strand {hole['strand']} over {hole['surfaces']}"
            if key not in seen:
                yield f"{what}: no run goes through this hole"
                continue
            yield from _hole(space, label, hole, seen.pop(key), what)
    for key in seen:
        yield f"{key}: a run goes through no hole"
    yield from _of_surfaces(space)


def _of_surfaces(space: Space) -> Iterator[str]:
    """Every hole is told to be of the surfaces that its strand lies over before and after; of a corner's two posts each
    has its own leg's."""
    after = _after(space)
    twins = {j[key]: [j["between"][side]] for j in space.found["joints"] if j["second_post"]
             for side, key in enumerate(("post", "second_post"))}  # fmt: skip
    true = {label: set() for label in space.posts}
    for run in space.found["runs"]:
        for k, label in enumerate(run["posts"]):
            near = [
                after[other] for other in run["posts"][max(k - 1, 0) : k + 1][: 2 if k < len(run["posts"]) - 1 else 1]
            ]
            over = tuple(dict.fromkeys(surface for one in near for surface in one))
            true[label].add((run["strand"], tuple(twins.get(label, over))))
    for label, post in space.posts.items():
        told = {(hole["strand"], tuple(hole["surfaces"])) for hole in post["holes"]}
        yield from unlike(f"{label}, holes' surfaces", sorted(told), sorted(true[label]))


def sleeves(space: Space, job: dict[str, Any]) -> Iterator[str]:
    """A sleeve, where they are asked for, in every hole that a strand goes through, as long as its way in the post."""
    true = []
    for (label, strand, surfaces), ways in _through(space).items():
        hole = next(h for h in space.posts[label]["holes"] if (h["strand"], tuple(h["surfaces"])) == (strand, surfaces))
        if "inner face" not in hole["bears"] and space.posts[label]["support"] == "post":
            sides = [ways.get(side, ways.get(other)) for side, other in (("before", "after"), ("after", "before"))]
            true.append(sum(space.exit(label, way) for way in sides if way is not None))
    told = [cut["length"] for cut in space.found["cuts"]["sleeves"] for _ in cut["strands"]]
    yield from differ("sleeves", sorted(told), sorted(true) if job["post"].get("sleeves") else [])


def _hole(space: Space, label: str, hole: dict[str, Any], ways: dict[str, Floats], what: str) -> Iterator[str]:
    first, last = (ways.get(side, ways.get(other)) for side, other in (("before", "after"), ("after", "before")))
    assert first is not None
    assert last is not None
    yield from differ(f"{what}, slope before", hole["before_deg"], pitch(first))
    yield from differ(f"{what}, slope after", hole["after_deg"], pitch(last))
    steeper = max(pitch(first), pitch(last), key=abs)
    if pitch(first) * pitch(last) >= 0 and abs(abs(pitch(first)) - abs(pitch(last))) > CLOSE:
        yield from differ(f"{what}, drill", abs(hole["drill_deg"]), abs(steeper))
    elif abs(pitch(first) - pitch(last)) < CLOSE:
        yield from differ(f"{what}, drill", hole["drill_deg"], steeper)
    faces = [hole["height"] + sign * space.exit(label, way) * way[2]
             for side, sign, way in (("before", -1, first), ("after", 1, last))
             if side in ways or _runs_on(space, label, hole, ways)]  # fmt: skip
    if np.linalg.norm(first[2] - last[2]) > 1e-12:
        faces.append(hole["height"])
    yield from differ(f"{what}, lower face", hole["low_face"], min(faces))
    yield from differ(f"{what}, higher face", hole["high_face"], max(faces))


def _runs_on(space: Space, label: str, hole: dict[str, Any], ways: dict[str, Floats]) -> bool:
    """Whether the hole goes on, as it came, past the run's end: all but where it ends at a joint's near face."""
    joint = space.posts[label]["joint"] is not None and len(hole["surfaces"]) == 1
    return not joint or "outer face" in hole.get("bears", ())


def joints(space: Space) -> Iterator[str]:
    """At every joint the bend, and of its strands bend, slopes and skews; between two posts the chord."""
    ways = {k: _rail_way(space, k) for k in _carriers(space)}
    for joint in space.found["joints"]:
        i, j = joint["between"]
        what = f"joint {joint['post']}"
        bend = degrees(np.arccos(np.clip(ways[i] @ ways[j], -1, 1)))
        yield from differ(f"{what}, bend", joint["bend_deg"], bend, 1e-5)
        yield from differ(f"{what}, mitre", joint["mitre_deg"], bend / 2, 1e-5)
        for strand in joint["strands"]:
            yield from _joint_strand(space, joint, strand, (ways[i], ways[j]), f"{what} strand {strand['number']}")
        if joint["second_post"] is None:
            told = sorted((strand["number"], strand["surfaces"]) for strand in joint["strands"])
            here = sorted((hole["strand"], hole["surfaces"]) for hole in space.posts[joint["post"]]["holes"])
            yield from unlike(f"{what}, strands", told, here)
        if joint["chord"] is not None:
            yield from _chord(space, joint, ways, what)


def _carriers(space: Space) -> list[int]:
    return [s["index"] for s in space.found["surfaces"] if s["carries"]]


def _ends(space: Space, k: int) -> tuple[Floats, Floats]:
    """Both ends of a rail's top, on its centre line."""
    rail = space.found["surfaces"][k]["rail"]
    return space.at(*rail["start"], arriving=False), space.at(*rail["end"], arriving=True)


def _rail_way(space: Space, k: int) -> Floats:
    start, end = _ends(space, k)
    return rail_frame(start, end)[0]


def _joint_strand(
    space: Space, joint: dict[str, Any], strand: dict[str, Any], ways: tuple[Floats, Floats], what: str
) -> Iterator[str]:
    # of two posts the outer faces, each square to its leg
    facings = [space.stance(joint["post"])] * 2
    if joint["second_post"]:
        facings = [space.leg(joint["station"], arriving).heading for arriving in (True, False)]
        facings[1] = space.leg(0.0, False).heading if space.round_on(joint) else facings[1]
    there = [k in strand["surfaces"] for k in joint["between"]]
    for side, way in enumerate(ways):
        if not there[side]:
            continue
        yield from differ(f"{what}, slope {side}", strand["slopes_deg"][side], pitch(way))
        askew = (degrees(np.arctan2(way[1], way[0]) - facings[side]) + 45) % 90 - 45  # to the face it comes to
        told = (strand["skews_deg"][side] + 45) % 90 - 45
        yield from differ(f"{what}, skew {side}", told, askew)
    if not all(there) and " at P" in strand["fitting"]:
        yield from _onto_other(space, joint, strand, (there.index(True), ways, facings), what)
        return
    bend = degrees(np.arccos(np.clip(ways[0] @ ways[1], -1, 1))) if all(there) else 0.0
    yield from differ(f"{what}, bend", strand["bend_deg"], bend, 1e-5)
    yield from unlike(f"{what}, skew where it ends", strand["end_skew_deg"], None)


def _onto_other(
    space: Space,
    joint: dict[str, Any],
    strand: dict[str, Any],
    own: tuple[int, tuple[Floats, Floats], list[float]],
    what: str,
) -> Iterator[str]:
    """Of a strand that passes the post of its own leg and ends at the other: bent there, on from centre to centre."""
    side, ways, facings = own
    along = _between_centres(space, joint, ways)
    bend = degrees(np.arccos(np.clip(ways[side] @ along, -1, 1)))
    yield from differ(f"{what}, bend on to the other post", strand["bend_deg"], bend, 1e-5)
    askew = (degrees(np.arctan2(along[1], along[0]) - facings[1 - side]) + 180) % 360 - 180  # each square to its leg
    yield from differ(f"{what}, skew where it ends", strand["end_skew_deg"], abs(askew), 1e-5)


def _between_centres(space: Space, joint: dict[str, Any], ways: tuple[Floats, Floats]) -> Floats:
    """The way of strands from one post's centre to the other's."""
    corner = joint["station"]
    first, second = (space.posts[joint[key]]["station"] for key in ("post", "second_post"))
    slopes = [way[2] / np.hypot(*way[:2]) for way in ways]
    beyond = second + space.round_on(joint) - corner
    a = space.at(first, 0.0)
    b = space.at(second, (corner - first) * slopes[0] + beyond * slopes[1], arriving=False)
    return (b - a) / np.linalg.norm(b - a)


def _chord(space: Space, joint: dict[str, Any], ways: dict[int, Floats], what: str) -> Iterator[str]:
    """Between two posts strands run straight, climbing what rails climb from one to the other about the corner."""
    i, j = joint["between"]
    corner = joint["station"]
    first, second = (space.posts[joint[key]]["station"] for key in ("post", "second_post"))
    slopes = [ways[k][2] / np.hypot(*ways[k][:2]) for k in (i, j)]
    a = space.at(first, 0.0)
    beyond = second + space.round_on(joint) - corner
    b = space.at(second, (corner - first) * slopes[0] + beyond * slopes[1], arriving=False)
    along = (b - a) / np.linalg.norm(b - a)
    chord = joint["chord"]
    yield from differ(f"{what}, chord level", chord["level"], float(np.hypot(*(b - a)[:2])))
    yield from differ(f"{what}, chord length", chord["length"], float(np.linalg.norm(b - a)))
    yield from differ(f"{what}, chord skew", chord["skew_deg"], abs(joint["turn_deg"]) / 2)
    yield from differ(f"{what}, chord pitch", chord["pitch_deg"], pitch(along))
    for told, way in zip(chord["bends_deg"], (ways[i], ways[j]), strict=True):
        yield from differ(f"{what}, chord bend", told, degrees(np.arccos(np.clip(way @ along, -1, 1))), 1e-5)


def rails(space: Space) -> Iterator[str]:
    """Every rail piece: length on top, underside and over all, and its end planes against what they come to."""
    pieces = {k: cut for cut in space.found["cuts"]["rails"] for k in cut["surfaces"]}
    listed = sorted(k for cut in space.found["cuts"]["rails"] for k in cut["surfaces"])
    if listed != _carriers(space):
        yield f"rails are cut for surfaces {listed}"
        return
    planes: dict[tuple[int, int], tuple[Floats, Floats]] = {}
    for k, cut in pieces.items():
        start, end = _ends(space, k)
        frame = np.array(rail_frame(start, end))
        for key in ("start_cut", "end_cut"):
            if cut[key]["kind"] in ("square", "plumb", "mitre"):
                yield from differ(f"rail {cut['label']}, a {cut[key]['kind']} cut's tilt", cut[key]["tilt_deg"], 0.0)
        slope = pitch(frame[0])
        normals = [cut_normal(cut[key], slope, way) for key, way in (("start_cut", -1), ("end_cut", 1))]
        reach = [corner_reaches(n, space.width, space.depth, way) for n, way in zip(normals, (-1, 1), strict=True)]
        top = float(np.linalg.norm(end - start))
        what = f"rail {cut['label']} over surface {k}"
        yield from differ(f"{what}, top", cut["length"], top)
        yield from differ(f"{what}, underside", cut["underside"], top + sum(r[0.0, -space.depth] for r in reach))
        yield from differ(f"{what}, over all", cut["longest"], top + sum(max(r.values()) for r in reach))
        for side, (normal, at) in enumerate(zip(normals, (start, end), strict=True)):
            planes[k, side] = normal @ frame, at
    yield from _ends_fit(space, planes)


def _ends_fit(space: Space, planes: dict[tuple[int, int], tuple[Floats, Floats]]) -> Iterator[str]:
    """Mitred rails end in one plane; the others on a face of their post, plumb, or flush with it at the line's ends."""
    made = {}
    for joint in space.found["joints"]:
        i, j = joint["between"]
        made[i, 1] = made[j, 0] = joint
        if joint["mitred"]:
            (n, a), (m, b) = planes[i, 1], planes[j, 0]
            if np.linalg.norm(n + m) > CLOSE:
                yield f"joint {joint['post']}: end planes {np.round(n, 6)} and {np.round(-m, 6)} are not one"
            yield from differ(f"joint {joint['post']}, rails apart", joint["apart"], b[2] - a[2])
            if abs(joint["apart"]) > space.found["mark"] / 2:
                yield f"joint {joint['post']}: mitred, the rails' tops {joint['apart']:.6g} apart"
            if np.linalg.norm((a - b)[:2]) > CLOSE * max(1.0, float(np.linalg.norm(a))):
                yield f"joint {joint['post']}: the rails' tops end {np.linalg.norm(a - b):.6g} apart"
    posts = space.found["posts"]
    for (k, side), (normal, at) in planes.items():
        joint = made.get((k, side))
        if joint is not None and joint["mitred"]:
            continue
        key = "second_post" if joint and joint["second_post"] and not side else "post"
        label = joint[key] if joint else posts[-side]["label"]
        yield from _on_face(space, label, normal, at, f"rail over surface {k}, {'end' if side else 'start'}")


def _on_face(space: Space, label: str, normal: Floats, at: Floats, what: str) -> Iterator[str]:
    """A rail's end plane is the plane of a face of its post: plumb, square to it, half a width from its centre."""
    post = space.posts[label]
    facing = space.stance(label)
    away = at - space.at(post["station"], 0.0)
    if abs(normal[2]) > CLOSE:
        yield f"{what}: not plumb at post {label}"
    sides = [np.array([cos(facing + q), sin(facing + q)]) for q in np.arange(4) * np.pi / 2]
    facings = [side for side in sides if np.linalg.norm(normal[:2] / np.linalg.norm(normal[:2]) - side) < CLOSE]
    if not facings:
        yield f"{what}: leaves a wedge at post {label}, {_off(normal, sides):.4g} deg off its face"
        return
    off = abs(float(away[:2] @ facings[0])) - post["width"] / 2
    if abs(off) > CLOSE * max(1.0, post["width"]):
        yield f"{what}: ends {off:.6g} from the face of post {label}"


def _off(normal: Floats, sides: list[Floats]) -> float:
    flat = normal[:2] / np.linalg.norm(normal[:2])
    return min(degrees(np.arccos(np.clip(flat @ side, -1, 1))) for side in sides)


def tops(space: Space) -> Iterator[str]:
    """Every post's top: under the rails that lie over it, at its faces and centre, or up to the higher rail's top."""
    joints = {label: j for j in space.found["joints"] for label in (j["post"], j["second_post"]) if label}
    surfaces = space.found["surfaces"]
    over = _carriers(space)[0]
    for post in space.found["posts"]:
        joint = joints.get(post["label"])
        pair = (over, over) if joint is None else tuple(joint["between"])
        if joint is not None and joint["second_post"]:
            pair = (pair[post["label"] == joint["second_post"]],) * 2
        over = pair[1]
        if post["support"] == "post":
            yield from _top(space, post, joint, [surfaces[k] for k in pair])


def _rail_top(surface: dict[str, Any], s: float) -> float:
    (s0, z0), (s1, z1) = surface["rail"]["start"], surface["rail"]["end"]
    return float(z0 + (s - s0) * (z1 - z0) / (s1 - s0))


def _top(space: Space, post: dict[str, Any], joint: dict[str, Any] | None, pair: list[dict[str, Any]]) -> Iterator[str]:
    what = f"post {post['label']}"
    alone = joint is not None and not joint["second_post"]
    at = post["station"] + (space.round_on(joint) if alone else 0.0), post["station"]
    ways = [_rail_way(space, surface["index"]) for surface in pair]
    halves = [
        box_exit(post["width"], space.stance(post["label"]), np.array([*w[:2], 0]) / np.hypot(*w[:2])) for w in ways
    ]
    thick = [space.depth / np.hypot(*way[:2]) for way in ways]  # plumb: depth over the cosine of the pitch
    if alone and not joint["mitred"]:
        high = max(_rail_top(pair[0], at[0] - halves[0]), _rail_top(pair[1], at[1] + halves[1])) - post["base"]
        yield from differ(f"{what}, length", post["length"], high)
        yield from differ(f"{what}, level top", [*post["edges"], *post["top_bevels_deg"]], [high, high, 0.0, 0.0])
        yield from _least_and_most(space, post, [high], what)
        return
    unders = [lambda past, k=k: _rail_top(pair[k], at[k] + past) - thick[k] - post["base"] for k in (0, 1)]
    slopes = [way[2] / np.hypot(*way[:2]) for way in ways]
    # the undersides cross where the mitre leaves them, rails less than half a mark apart taken as of one height; past a
    # face of the post one rail covers the whole top
    apart = joint["apart"] if joint is not None and joint["mitred"] else 0.0
    gap = unders[1](0.0) - unders[0](0.0) - apart
    fold = gap / (slopes[0] - slopes[1]) if abs(slopes[0] - slopes[1]) > 1e-12 else 0.0
    sides = (0, 1) if abs(fold) < halves[0] else ((0, 0) if fold > 0 else (1, 1))
    yield from differ(f"{what}, length", post["length"], unders[sides[int(fold <= 0)]](0.0))
    if sides == (0, 1):
        yield from differ(f"{what}, break of its bevels", post["bevel_break"], fold)
    for side, past in enumerate((-halves[0], halves[1])):
        yield from differ(f"{what}, bevel {side}", post["top_bevels_deg"][side], pitch(ways[sides[side]]))
        yield from differ(f"{what}, edge {side}", post["edges"][side], unders[sides[side]](past))
    yield from _least_and_most(space, post, list(_under_top(space, post, joint, ways, sides, fold)), what)


def _under_top(
    space: Space, post: dict[str, Any], joint: dict[str, Any] | None, ways: list[Floats], sides: tuple[int, int],
    fold: float,
) -> Iterator[float]:  # fmt: skip
    """Heights of a post's top where it may be highest or lowest: at its edges and its fold, or in plan at corners.

    Through a turn the undersides of two rails meet over the line that halves it, seen from above.
    """
    slopes = [way[2] / np.hypot(*way[:2]) for way in ways]
    if joint is None or joint["second_post"] or not joint["turn_deg"] or abs(slopes[0] - slopes[1]) < 1e-12:
        yield from post["edges"]
        if sides == (0, 1):
            yield post["edges"][0] + (post["width"] / 2 + fold) * slopes[0]
        return
    plan = [way[:2] / np.hypot(*way[:2]) for way in ways]
    facing, half = space.stance(post["label"]), post["width"] / 2
    corners = [half * 2**0.5 * np.array([cos(facing + q), sin(facing + q)]) for q in (np.arange(4) + 0.5) * np.pi / 2]
    square = shapely.Polygon(corners)
    halving = (plan[0] + plan[1]) / np.linalg.norm(plan[0] + plan[1])
    across, far = np.array([-halving[1], halving[0]]), 10 * half
    for way, slope, side in zip(plan, slopes, (-1, 1), strict=True):
        beyond = shapely.Polygon(
            [far * across, far * (across + side * halving), far * (side * halving - across), -far * across]
        )
        for point in square.intersection(beyond).exterior.coords:
            yield post["length"] + slope * float(np.array(point) @ way)


def _least_and_most(space: Space, post: dict[str, Any], heights: list[float], what: str) -> Iterator[str]:
    cut = next((cut for cut in space.found["cuts"]["posts"] if post["label"] in cut["posts"]), None)
    if cut is None:
        yield f"{what}: is not cut"
        return
    yield from differ(f"{what}, edges", [cut["short_edge"], cut["long_edge"]], [min(heights), max(heights)])
