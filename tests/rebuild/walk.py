"""One guard told three ways: as given, walked from its other end, and on the other hand. What differs, in words."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from typing import Any

from tests.rebuild.differ import differ, unlike

Result = dict[str, Any]


def other_hand(result: Result, mirrored: Result) -> Iterator[str]:
    """Every turn negated: nothing else may change but which side is which."""
    yield from unlike("passes", result["passes"], mirrored["passes"])
    yield from _posts(result["posts"], mirrored["posts"], lambda post: (post["station"], post["base"]))
    yield from _rest(result, mirrored)
    for a, b in zip(result["surfaces"], mirrored["surfaces"], strict=True):
        for key in ("plan_start", "plan_end"):
            yield from differ(f"{key} of surface {a['index']}", a[key], [b[key][0], -b[key][1]])
        for one, other in zip(a.get("edge") or (), b.get("edge") or (), strict=True):
            side = -1 if one is a["edge"][2] or one is a["edge"][3] else 1  # in plan, after the two of the line
            yield from differ(f"edge of surface {a['index']}", one, [other[0], side * other[1]])
    for a, b in zip(result["joints"], mirrored["joints"], strict=True):
        yield from differ("turn", [a["turn_deg"]], [-b["turn_deg"]])
        yield from differ("jog", [a["jog"]], [b["jog"]])
    sides = {"left": "right", "right": "left", None: None}
    for a, b in zip(result["cuts"]["rails"], mirrored["cuts"]["rails"], strict=True):
        for key in ("start_cut", "end_cut"):
            yield from unlike(f"side of {a['label']}", a[key]["side"], sides[b[key]["side"]])


def other_end(result: Result, back: Result) -> Iterator[str]:
    """The line from its other end: stations run back from the end, elevations from there."""
    (length, rise) = result["surfaces"][-1]["end"]
    yield from unlike("passes", result["passes"], back["passes"])
    there, joints = back["posts"][::-1], back["joints"][::-1]
    closes = any(joint["between"][0] > joint["between"][1] for joint in joints)
    if closes:  # in the corner where it began: told last either way
        joints = [*joints[1:], joints[0]]
    if closes and not there[-1]["station"]:  # one post, the first either way
        there = [{**there[-1], "station": length}, *there[:-1]]
    yield from _posts(
        result["posts"], there, lambda post: (post["station"], post["base"]),
        lambda post: (length - post["station"], post["base"] + rise),
    )  # fmt: skip
    yield from _rest(result, back)
    for a, b in zip(result["joints"], joints, strict=True):
        yield from differ("turn", [a["turn_deg"]], [-b["turn_deg"]])
        yield from differ("jog, either way", [abs(a["jog"])], [abs(b["jog"])])
        yield from unlike("through", a["through"], b["through"])
        yield from unlike("mitred", a["mitred"], b["mitred"])


def _posts(ours: list[Any], theirs: list[Any], place: Any, placed: Any = None) -> Iterator[str]:
    if len(ours) != len(theirs):
        yield f"posts: {len(ours)} and {len(theirs)}"
        return
    for a, b in zip(ours, theirs, strict=True):
        what = f"post {a['label']}"
        yield from differ(f"{what}, place", place(a), (placed or place)(b))
        yield from differ(f"{what}, length", [a["length"]], [b["length"]])
        yield from unlike(f"{what}, what it is", (a["role"], a["support"]), (b["role"], b["support"]))
        heights = [sorted((h["strand"], h["height"]) for h in post["holes"]) for post in (a, b)]
        yield from differ(f"{what}, holes", *([z for _, z in one] for one in heights))
        marks = [sorted(h["marked"] for h in post["holes"]) for post in (a, b)]
        yield from differ(f"{what}, marks", *marks)


def _rest(ours: Result, theirs: Result) -> Iterator[str]:
    """Openings by rule, and pieces by size: orders may differ."""
    spheres = [_by_limit(one) for one in (ours, theirs)]
    yield from unlike("limits", sorted(spheres[0]), sorted(spheres[1]))
    for limit in spheres[0].keys() & spheres[1].keys():
        yield from differ(f"openings under {limit}", spheres[0][limit], spheres[1][limit])
    for kind in ("rails", "posts", "strands", "sleeves"):
        pieces = [sorted(p["length"] for p in one["cuts"][kind] for _ in range(p["count"])) for one in (ours, theirs)]
        yield from differ(f"lengths of {kind}", *pieces)
    fittings = [sorted((f["kind"], f["count"]) for f in one["cuts"]["fittings"]) for one in (ours, theirs)]
    yield from unlike("fittings", *fittings)
    for key in ("strand", "rail", "post", "sleeve", "terminals", "tensioners", "angle_fittings", "holes"):
        yield from differ(f"total of {key}", [ours["cuts"]["totals"][key]], [theirs["cuts"]["totals"][key]])


def _by_limit(result: Result) -> dict[str, list[float]]:
    found: defaultdict[str, list[float]] = defaultdict(list)
    for opening in result["openings"]:
        found[str(opening["limit"])].append(opening["sphere"])
    return {limit: sorted(sizes) for limit, sizes in found.items()}
