"""The line a guard is told to stand on: surfaces, rails and strands over them, joints, posts' feet, and its open ends.

All of it is the job's own figures put end to end, in the developed elevation and in plan; what the result tells of each
is found again from them. Only where a post stands along its surface is the result's to decide.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import atan, cos, degrees, hypot, radians, remainder, sin, tan
from typing import Any

import numpy as np

from tests.rebuild.differ import differ, unlike
from tests.rebuild.jobs import length
from tests.rebuild.space import Space, rail_frame
from tests.rebuild.stair import Flight, Stair, past_edges, stair

Table = dict[str, Any]


class Line:
    """The job's surfaces under a result."""

    def __init__(self, job: Table, space: Space) -> None:
        self.job, self.space, self.found = job, space, space.found
        self.stair: Stair = stair(job)
        self.flights: dict[int, Flight] = {flight.surface: flight for flight in self.stair.flights}
        self.turns = [float(given.get("turn", 0)) for given in job["surface"]]

    def given(self, table: str, key: str, default: Any) -> float:
        """A length of the job."""
        return length(self.job[table].get(key, default), self.job["unit"])

    def slope(self, k: int) -> float:
        """Of the nosing line or the surface, up along stations."""
        if k in self.flights:
            return self.flights[k].way * self.flights[k].line[0]
        a, b, za, zb, _ = self.stair.spans[k]
        return (zb - za) / (b - a) if b > a else 0.0

    def datum(self, k: int, s: float) -> float:
        """Elevation of the nosing line, or of the surface, at a station."""
        if k in self.flights:
            flight = self.flights[k]
            slope, over = flight.line
            # nosings' elevations are the line's own, heights over nosing 1 taken along x
            return over + slope * flight.way * (s - flight.origin)
        a, _, za, _, _ = self.stair.spans[k]
        return za + (s - a) * self.slope(k)

    def rail(self, k: int, s: float) -> float:
        """Top of a surface's rail at a station, produced."""
        return self.datum(k, s) + float(self.found["surfaces"][k]["rail_height"])


def surfaces(line: Line) -> Iterator[str]:
    """Every surface's place, pitch and plan, the rail over it, and its strands."""
    heading = 0.0
    for k, ((a, b, za, zb, kind), told) in enumerate(zip(line.stair.spans, line.found["surfaces"], strict=True)):
        what = f"surface {k + 1}"
        heading += line.turns[k]
        leg = line.space.leg(a, arriving=False)
        yield from unlike(f"{what}, kind and index", (told["kind"], told["index"]), (kind, k))
        yield from differ(f"{what}, start and end", [*told["start"], *told["end"]], [a, za, b, zb])
        yield from differ(f"{what}, pitch", told["pitch_deg"], degrees(atan(line.slope(k))))
        yield from differ(f"{what}, turn", told["turn_deg"], line.turns[k])
        yield from differ(f"{what}, heading", told["heading_deg"], heading)
        plan = [leg.at + (s - max(leg.start, 0.0)) * leg.way for s in (a, b)]
        yield from differ(f"{what}, in plan", [*told["plan_start"], *told["plan_end"]], [*plan[0], *plan[1]])
        yield from _edge(line, k, told, what)
        nosings = []
        if kind == "flight":
            flight = line.flights[k]
            nosings = [xz for x, z in list(zip(flight.xs, flight.zs, strict=True))[:: flight.way]
                       for xz in (flight.station(x), z)]  # fmt: skip
        yield from differ(f"{what}, nosings", [x for nosing in told["nosings"] for x in nosing], nosings)
        yield from _over(line, k, told, what) if told["carries"] else _crossed(line, k, told, what)


def _edge(line: Line, k: int, told: Table, what: str) -> Iterator[str]:
    """The surface's own edge beside a guard that stands out from it: ends on the line, and in plan off to the stair."""
    hand, offset = line.job["post"].get("hand"), line.given("post", "offset", 0)
    if hand is None or not offset:
        yield from unlike(f"{what}, edge", told.get("edge"), None)
        return
    (a, b, za, zb, _), (before, after) = line.stair.spans[k], past_edges(line.job)[k]
    leg = line.space.leg(a, arriving=False)
    along, ends = leg.way, (a + before, b - after)
    to_stair = offset * np.array([along[1], -along[0]]) * (1 if hand == "left" else -1)
    plan = [leg.at + (s - max(leg.start, 0.0)) * along + to_stair for s in ends]
    true = [ends[0], za, ends[1], zb, *plan[0], *plan[1]]
    yield from differ(f"{what}, edge", [x for pair in told["edge"] for x in pair], true)


def _over(line: Line, k: int, told: Table, what: str) -> Iterator[str]:
    """The rail over a surface, as high as the job says, and its strands, where every hole of theirs is."""
    slope = line.slope(k)
    sec = hypot(1.0, slope)
    asked = line.job["surface"][k].get("rail_height")
    if asked is None and (told["kind"] == "landing" or line.job["rail"].get("meet") != "flight height"):
        own = line.job["rail"].get("height")
        asked = line.job["rail"].get("landing_height", own) if told["kind"] == "landing" else own
    if asked is not None:
        yield from differ(f"{what}, rail height", told["rail_height"], length(asked, line.job["unit"]))
    for end in ("start", "end"):
        s, z = told["rail"][end]
        yield from differ(f"{what}, {end} of the rail's top", z, line.rail(k, s))
    depth = line.given("rail", "depth", 0)
    yield from differ(f"{what}, underside", told["rail_underside"], told["rail_height"] - depth * sec)
    strands = told["strands"]
    heights = strands["heights"]
    yield from unlike(f"{what}, number of strands", strands["count"], len(heights))
    apart = strands["plumb_spacing"]
    yield from differ(f"{what}, spacing", [a - b for a, b in pairwise(heights)], [apart] * (len(heights) - 1))
    yield from differ(f"{what}, square spacing", strands["square_spacing"], apart / sec)
    for post in line.found["posts"]:
        s = post["station"] + come_round(line, post, k)
        for hole in post["holes"]:
            if k in hole["surfaces"]:
                true = line.datum(k, s) + heights[hole["strand"] - 1] - post["base"]
                yield from differ(f"{what}, strand {hole['strand']} in {post['label']}", hole["height"], true)


def come_round(line: Line, post: Table, k: int) -> float:
    """What a post's station lacks seen over a surface: the whole line, over its last, of that in which it closes."""
    closing = line.space.closing
    alone = closing is not None and closing["post"] == post["label"] and closing["between"][0] == k
    return line.space.round_on(closing) if alone and not closing["second_post"] else 0.0


def _crossed(line: Line, k: int, told: Table, what: str) -> Iterator[str]:
    """Over a landing without a level piece the neighbours' rails run on: the least they stand over it."""
    joint = next(j for j in line.found["joints"] if j["between"][0] < k < j["between"][1])
    a, b, za, _, _ = line.stair.spans[k]
    depth = line.given("rail", "depth", 0)
    tops = joint["ends"][0]["station"] if joint["mitred"] else joint["station"]
    least = [min(_over_landing(line, joint, (a, b), end, deep)) - za
             for end, deep in ((tops, 0.0), (_undersides_meet(line, joint, tops, depth), depth))]  # fmt: skip
    yield from differ(f"{what}, rails over it", [told["rail_height"], told["rail_underside"]], least)
    yield from unlike(f"{what}, strands of its own", told["strands"]["count"], 0)
    yield from differ(f"{what}, no rail", told["rail"]["start"], told["rail"]["end"])


def _over_landing(line: Line, joint: Table, landing: tuple[float, float], end: float, deep: float) -> Iterator[float]:
    """Two rails, each as far as the station where they meet: what is ``deep`` below them at both ends of a landing and
    there."""
    for s in (*landing, min(max(end, landing[0]), landing[1])):
        for k, there in zip(joint["between"], (s <= end, s >= end), strict=True):
            if there:
                yield line.rail(k, s) - deep * hypot(1.0, line.slope(k))


def _undersides_meet(line: Line, joint: Table, tops: float, depth: float) -> float:
    """Mitred, in the plane that halves the bend: below the tops' meeting by the depth, square to either rail."""
    if not joint["mitred"]:
        return tops
    halves = [atan(line.slope(k)) for k in joint["between"]]
    # down the mitre, which leans as the mean of the two rails' normals, to the depth of both
    return tops + depth * sin(sum(halves) / 2) / cos((halves[1] - halves[0]) / 2)


def joints(line: Line) -> Iterator[str]:
    """Every joint's place, where its rails cross and end, the jog, and the true mitre's saw settings."""
    carriers = [k for k, told in enumerate(line.found["surfaces"]) if told["carries"]]
    pairs = [list(pair) for pair in pairwise(carriers)]
    if line.job.get("ends", {}).get("closed"):
        pairs.append([carriers[-1], carriers[0]])
    yield from unlike("joints between", [joint["between"] for joint in line.found["joints"]], pairs)
    for number, joint in enumerate(line.found["joints"]):
        what = f"joint {joint['post']}"
        for key in ("post", "second_post"):
            if joint[key]:
                yield from unlike(f"{what}, its number", line.space.posts[joint[key]]["joint"], number)
        yield from _place(line, joint, what)
        yield from _jog(line, joint, what)
        yield from _saw(line, joint, what)
        for strand in joint["strands"]:
            yield from _at_joint(line, joint, strand, what)
    single = [post["label"] for post in line.found["posts"] if post["joint"] is None]
    made = {joint[key] for joint in line.found["joints"] for key in ("post", "second_post")}
    yield from unlike("posts of no joint", single, [p["label"] for p in line.found["posts"] if p["label"] not in made])


def _place(line: Line, joint: Table, what: str) -> Iterator[str]:
    i, j = joint["between"]
    on = line.space.round_on(joint)
    crossed = range(i + 1, j)
    turned = [] if on else [k for k in (*crossed, j) if line.turns[k]]
    turn = remainder(-sum(line.turns), 360) if on else sum(line.turns[k] for k in turned)
    end, start = line.stair.spans[i][1], line.stair.spans[j][0] + on
    boundary = line.stair.spans[turned[0]][0] if turned else (end + start) / 2
    yield from differ(f"{what}, turn", remainder(joint["turn_deg"] - turn, 360), 0.0)
    yield from differ(f"{what}, boundary", joint["boundary"], boundary)
    post = line.space.posts[joint["post"]]["station"]
    yield from differ(f"{what}, station", joint["station"], boundary if joint["second_post"] else post + on)
    meets, before, after = joint["meets"], line.slope(i), line.slope(j)
    apart = line.rail(j, boundary - on) - line.rail(i, boundary)
    if abs(before - after) < 1e-12 and abs(apart) > 1e-9:
        yield from unlike(f"{what}, parallel rails apart meet", meets, None)
        return
    s = boundary + (apart / (before - after) if abs(before - after) > 1e-12 else 0.0)
    yield from differ(f"{what}, meets", [meets["station"], meets["elevation"]], [s, line.rail(i, s)])
    stepped = next((k for k in (i, j) if k in line.flights), None)
    if stepped is None:
        yield from unlike(f"{what}, from a nosing where none is", joint["from_nosing"], None)
        return
    flight = line.flights[stepped]
    end_of = max if stepped == i else min
    nosing = end_of(flight.station(x) for x in flight.xs)
    yield from differ(f"{what}, from the nosing", joint["from_nosing"], flight.way * (s - nosing))


def _jog(line: Line, joint: Table, what: str) -> Iterator[str]:
    """The rails' ends are where a jog is: how far the gentler one's stands above the other's."""
    i, j = joint["between"]
    ends = [line.found["surfaces"][k]["rail"][end] for k, end in ((i, "end"), (j, "start"))]
    told = [[end["station"], end["elevation"]] for end in joint["ends"]]
    yield from differ(f"{what}, rails' ends", told[0] + told[1], ends[0] + ends[1])
    rise = ends[1][1] - ends[0][1]
    gentler_after = abs(line.slope(j)) <= abs(line.slope(i))
    jog = 0.0 if joint["higher"] is None else (rise if gentler_after else -rise)
    yield from differ(f"{what}, jog", joint["jog"], jog)
    if joint["higher"] is not None:
        yield from unlike(f"{what}, higher", joint["higher"], j if rise > 0 else i)
    elif not joint["mitred"]:
        yield from differ(f"{what}, apart", joint["apart"], 0.0)
    elif abs(rise) > line.found["mark"] / 2 + 1e-9:
        yield f"{what}: rails {rise:.6g} apart leave no jog"


def _at_joint(line: Line, joint: Table, strand: Table, what: str) -> Iterator[str]:
    """A strand at a joint's post: on the surface it lies over, at its height."""
    k, on = strand["surfaces"][0], line.space.round_on(joint)
    s = joint["station"]
    low = line.found["surfaces"][k]["strands"]["heights"][strand["number"] - 1]
    true = line.datum(k, s - (on if k == joint["between"][1] else 0.0)) + low
    yield from differ(f"{what}, strand {strand['number']}", [strand["station"], strand["elevation"]], [s, true])
    if not set(strand["surfaces"]) <= set(joint["between"]):
        yield f"{what}, strand {strand['number']}: over {strand['surfaces']}"
    yield from unlike(f"{what}, strand {strand['number']}, whole", strand["whole"], len(strand["surfaces"]) == 2)


def _saw(line: Line, joint: Table, what: str) -> Iterator[str]:
    """The plane that halves two rails' bend, as a saw is set for it in the frame of each, and how their sections meet.

    Signs are those of its normal along the path: to the stick's left, or to its top, positive.
    """
    if joint["cut"] is None:
        return
    frames = [rail_frame(np.zeros(3), _way(line, joint, k)) for k in (0, 1)]
    normal = frames[0][0] + frames[1][0]
    normal /= np.linalg.norm(normal)
    for key, frame in zip(("first", "second"), frames, strict=True):
        along, left, up = (float(normal @ axis) for axis in frame)
        told, steep = joint["cut"][key], degrees(np.arcsin(np.clip([left, up], -1, 1))[0])
        yield from differ(f"{what}, {key} piece laid flat", told["flat_mitre_deg"], _lean(left, along), 1e-6)
        yield from differ(f"{what}, {key} piece laid flat, tilt", told["flat_tilt_deg"], degrees(np.arcsin(up)), 1e-6)
        yield from differ(f"{what}, {key} piece on edge", told["edge_mitre_deg"], _lean(up, along), 1e-6)
        yield from differ(f"{what}, {key} piece on edge, tilt", told["edge_tilt_deg"], steep, 1e-6)
    image = frames[0][1] - 2 * (frames[0][1] @ normal) * normal  # of the first one's left side in the plane
    roll = -degrees(np.arctan2(image @ frames[1][2], image @ frames[1][1]))
    if abs(abs(joint["turn_deg"]) - 180) < 1e-9:
        roll = 0.0  # square on, but top meets underside: no twist would mend it
    yield from differ(f"{what}, twist", joint["cut"]["twist_deg"], remainder(roll, 180), 1e-6)
    meets = float(frames[0][2] @ frames[1][2] - 2 * (frames[0][2] @ normal) * (frames[1][2] @ normal)) > 0
    yield from unlike(f"{what}, flush", joint["cut"]["flush"], abs(roll) < 1e-6 and meets)


def _lean(aside: float, along: float) -> float:
    return degrees(atan(aside / along)) if abs(along) > 1e-12 else (90.0 if aside > 0 else -90.0)


def _way(line: Line, joint: Table, side: int) -> Any:
    turn = radians(joint["turn_deg"]) * side
    return np.array([cos(turn), np.sin(turn), line.slope(joint["between"][side])])


def feet(line: Line) -> Iterator[str]:
    """What every post stands on, and how: tread, base, clear of the edges, turned in plan, square to what comes."""
    turns = {j["post"]: (j, number) for number, j in enumerate(line.found["joints"]) if not j["second_post"]}
    for post in line.found["posts"]:
        what = f"post {post['label']}"
        joint = turns.get(post["label"], (None, 0))[0]
        yield from _stance(line, post, joint, what)
        at_corner = joint is not None and joint["turn_deg"]
        yield from _corner_foot(line, post, joint, what) if at_corner else _foot(line, post, what)
        yield from differ(f"{what}, bevel", post["top_bevel_deg"], max(post["top_bevels_deg"], key=abs))


def _stance(line: Line, post: Table, joint: Table | None, what: str) -> Iterator[str]:
    """A corner's one post halves the turn, or stands as square to both rails as it may."""
    turn = joint["turn_deg"] if joint else 0.0
    turned = turn / 2 if abs(turn) < 180 or joint is None else 90.0
    off = abs(abs(turn) - 90)
    nearly = off < 45 and line.given("post", "width", 0) * tan(radians(off)) < line.found["mark"] / 2
    if turn and (nearly or line.job["post"].get("corner_square") == "rails"):
        turned = min(turn / 2, turn / 2 + 45, key=lambda angle: abs(remainder(angle, 90)))
    askews = [remainder(-turned, 90), remainder(turn - turned, 90)]
    yield from differ(f"{what}, turned", remainder(post["turned_deg"] - turned, 90), 0.0)
    if abs(abs(askews[0]) - 45) > 1e-9:
        yield from differ(f"{what}, askew", post["askews_deg"], askews)
    yield from differ(f"{what}, half", post["half"], post["width"] / 2 / cos(radians(askews[0])))


def _foot(line: Line, post: Table, what: str) -> Iterator[str]:
    s, k, half = post["station"], post["stands_on"], post["width"] / 2
    a, b, za, zb, kind = line.stair.spans[k]
    post_of_ours = post["support"] == "post"
    drop = line.given("post", "drop", 0) if post_of_ours and line.job["post"].get("mount") == "side" else 0.0
    if not a - 1e-9 <= s <= b + 1e-9 and post_of_ours:
        yield f"{what}: at {s:.6g} it is not on surface {k + 1}"
    if kind != "flight":
        beside = [(k - 1, s - half - a), (k + 1, b - s - half)]
        clear = min((room for n, room in beside if n in line.flights and post_of_ours), default=None)
        yield from differ(f"{what}, base", post["base"], line.datum(k, s) - drop)
        yield from unlike(f"{what}, step", post["step"], None)
    elif post["step"] is None:
        yield from differ(f"{what}, base", post["base"], za if s < (a + b) / 2 else zb)
        clear = None
        if post_of_ours:
            yield f"{what}: stands on no tread"
    else:
        flight = line.flights[k]
        x = flight.way * (s - flight.origin)
        step = min(max(flight.step(x), 1), len(flight.xs) - 1)
        yield from unlike(f"{what}, step", post["step"], step)
        yield from differ(f"{what}, base", post["base"], flight.zs[step - 1] - drop)
        clear = min(x - half - flight.xs[step - 1], flight.xs[step] - half - x)
        level = [n for n in (k - 1, k + 1) if 0 <= n < len(line.stair.spans) and n not in line.flights]
        if any(line.stair.spans[n][0] - 1e-9 < s < line.stair.spans[n][1] + 1e-9 for n in level):
            yield f"{what}: on tread {step}, where a landing is"
    if post["clear"] is None or clear is None:
        yield from unlike(f"{what}, clear of an edge", post["clear"], clear)
    else:
        yield from differ(f"{what}, clear of an edge", post["clear"], clear)


def _corner_foot(line: Line, post: Table, joint: Table, what: str) -> Iterator[str]:
    """A corner's one post stands on the landing or ramp there, notched over the edge of a step that it reaches over.

    Then its foot comes down to the tread below. Turned, it reaches farther: to a corner.
    """
    i, j = joint["between"]
    askew = radians(abs(post["askews_deg"][0]))
    reach = post["width"] / 2 * (cos(askew) + sin(askew))
    on, spans = line.space.round_on(joint), line.stair.spans
    stations = {k: joint["station"] - (on if k == j else 0.0) for k in (*range(i, j + 1), j, i)}
    plain = [k for k, s in stations.items() if k not in line.flights and spans[k][0] - 1e-9 <= s <= spans[k][1] + 1e-9]
    yield from unlike(f"{what}, step", post["step"], None)
    if plain and post["stands_on"] not in plain:
        yield f"{what}: stands on surface {post['stands_on'] + 1}, at the turn of {[k + 1 for k in plain]}"
    floor = min(line.datum(k, stations[k]) for k in plain) if plain else spans[i][3]
    near = [room - reach for k in plain if abs(line.datum(k, stations[k]) - floor) < 1e-9
            for n, room in ((k - 1, stations[k] - spans[k][0]), (k + 1, spans[k][1] - stations[k]))
            if n in line.flights] or ([] if plain else [-reach])  # fmt: skip
    side = line.job["post"].get("mount") == "side"
    edges = [(k, edge) for k, edge in ((i, spans[i][1]), (j, spans[j][0] + on)) if k in line.flights]
    treads = [line.flights[k].zs[0 if (k == i) != (line.flights[k].way > 0) else -2]
              for k, edge in edges if abs(joint["station"] - edge) < reach]  # fmt: skip
    base = floor - line.given("post", "drop", 0) if side else min([floor, *treads])
    yield from differ(f"{what}, base", post["base"], base)
    if post["clear"] is None or not near:
        yield from unlike(f"{what}, clear of an edge", post["clear"], min(near, default=None))
    else:
        yield from differ(f"{what}, clear of an edge", post["clear"], min(near))


def open_ends(line: Line) -> Iterator[str]:
    """Walking surface past the end posts: how long, the fall beside it, and the opening told of it."""
    posts, told = line.found["posts"], {one["post"]: one for one in line.found["unguarded"]}
    openings = {o["where"]: o for o in line.found["openings"] if o["where"].startswith("unguarded")}
    true = {} if line.space.closing else dict(_stretches(line, (posts[0], posts[-1])))
    yield from unlike("unguarded beyond", sorted(told), sorted(true))
    yield from unlike("openings past ends", sorted(openings), sorted(o["where"] for o in told.values() if o["asked"]))
    levels = [z for _, _, za, zb, _ in line.stair.spans for z in (za, zb)]
    stated = line.job.get("site", {}).get("greatest_drop")
    lowest = min(levels) if stated is None else min(*levels, max(levels) - length(stated, line.job["unit"]))
    for label in told.keys() & true.keys():
        one, (k, face, edge, high) = told[label], true[label]
        what = f"unguarded beyond {label}"
        yield from unlike(f"{what}, surface", one["surface"], k)
        yield from differ(f"{what}, from, to", [one["from"], one["to"]], [face, edge])
        yield from differ(f"{what}, length and drop", [one["length"], one["drop"]], [abs(edge - face), high - lowest])
        if one["where"] in openings:
            yield from _past(line, openings[one["where"]], (k, face, edge, high), what)


def _past(line: Line, opening: Table, true: tuple[int, float, float, float], what: str) -> Iterator[str]:
    """A sphere as wide as the stretch is long, half way up the guard that is not there."""
    k, face, edge, high = true
    at = high + line.found["surfaces"][k]["rail_height"] / 2
    yield from unlike(f"{what}, the opening's surface", opening["surface"], k)
    yield from differ(f"{what}, the opening's sphere", opening["sphere"], abs(edge - face))
    yield from differ(f"{what}, its centre", opening["centre"], [(face + edge) / 2, at])
    yield from differ(
        f"{what}, what it touches", [*opening["contacts"][0], *opening["contacts"][1]], [face, at, edge, at]
    )


def _stretches(line: Line, ends: Sequence[Table]) -> Iterator[tuple[str, tuple[int, float, float, float]]]:
    """Surface, outer face of the post, end of the line and highest walking surface between the two."""
    carriers = [k for k, told in enumerate(line.found["surfaces"]) if told["carries"]]
    for post, k, way in ((ends[0], carriers[0], -1), (ends[1], carriers[-1], 1)):
        face, edge = post["station"] + way * post["half"], line.stair.spans[k][way > 0]
        if post["support"] == "post" and way * (edge - face) > 1e-9:
            yield post["label"], (k, face, edge, max(_floor(line, k, s) for s in (face, edge)))


def _floor(line: Line, k: int, s: float) -> float:
    if k not in line.flights:
        return line.datum(k, s)
    flight = line.flights[k]
    step = min(max(flight.step(flight.way * (s - flight.origin)), 1), len(flight.xs) - 1)
    return float(flight.zs[step - 1])
