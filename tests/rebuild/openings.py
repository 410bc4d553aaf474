"""Told openings against the pockets of the rebuilt guard, both ways.

- None invented: at a told centre stands a sphere of the told size that touches what is told, with nothing inside it,
  and no way uphill from there leads to a larger one that is not told.
- None missing: every pocket is told, or one no smaller of the same kind is: between strands of the same surface, or of
  the same tread and rule under the lowest. What is larger than its limit is told to fail.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from math import hypot
from typing import Any

import numpy as np
import shapely
from shapely.affinity import rotate, translate

from tests.rebuild import beside
from tests.rebuild.bodies import Bay, Guard
from tests.rebuild.clearance import summit
from tests.rebuild.jobs import length
from tests.rebuild.pockets import SAME, Pocket, pockets, touched, tread_under
from tests.rebuild.stair import Flight

_KINDS = ("step triangle", "flight", "landing", "ramp")
_LIMITS = {
    "irc-2018": (6.0, 4.375, 4.0, 4.0),
    "irc-2021": (6.0, 4.375, 4.0, 4.0),
    "irc-2024": (6.0, 4.375, 4.0, 4.0),
    "nz-f4as1": (150.0, 100.0, 100.0, 100.0),
    "england-adk-2013": (100.0, 100.0, 100.0, 100.0),
    "ncc-australia": (125.0, 125.0, 125.0, 125.0),
}
"""Largest spheres by kind, in inches of US codes, else in millimetres; all read in copies at second hand.

US IRC R312.1.3 with exceptions 1 and 2; NZBC F4/AS1 1.2(b) and (c); England, Approved Document K (2013), section 3;
Australia, NCC, barriers.
"""


def _limits(job: dict[str, Any]) -> dict[str, float] | None:
    """By kind of opening, in the job's unit; None of packs that are not here."""
    found = _LIMITS.get(job["rules"])
    if found is None:
        return None
    inches = job["rules"].startswith("irc")
    scale = {(True, "mm"): 25.4, (False, "in"): 1 / 25.4}.get((inches, job["unit"]), 1.0)
    return {kind: limit * scale for kind, limit in zip(_KINDS, found, strict=True)}


@dataclass
class Compared:
    """What was compared, the worst difference of those that agree, and the disagreements in words."""

    told: int = 0
    found: int = 0
    worst: float = 0.0
    wrong: list[str] = field(default_factory=list)


def compare(job: dict[str, Any], guard: Guard, result: dict[str, Any]) -> Compared:
    """Hold the told openings to the rebuilt guard's pockets."""
    seen = Compared()
    out_there = beside.views(guard, _radius(job)) if guard.offset else {}
    for opening in result["openings"]:
        seen.told += 1
        in_space = out_there.get(opening["surface"]) if beside.under_lowest(opening) else None
        for words in beside.wrong(in_space, opening) if in_space else _invented(guard, result, opening, seen):
            seen.wrong.append(f"{opening['where']}, surface {opening['surface']}: {words}")
    for view in out_there.values():
        seen.wrong += beside.untold(view, result)
    limits = _limits(job)
    for pocket in pockets(guard):
        if out_there and pocket.gap is None:
            continue  # it would be one in one plane with the stair; for a corner's see `beside.ROUND_CORNER`
        seen.found += 1
        for words in _missing(guard, result, pocket, limits):
            at = f"between {pocket.bay.left} and {pocket.bay.right}, {pocket.centre[0]:.4f}, {pocket.centre[1]:.4f}"
            seen.wrong.append(f"sphere {pocket.size:.6f} {at} touching {sorted(pocket.touches)}: {words}")
    return seen


def _radius(job: dict[str, Any]) -> float:
    return length(job["strand"]["diameter"], job["unit"]) / 2


def _invented(guard: Guard, result: dict[str, Any], told: dict[str, Any], seen: Compared) -> Iterator[str]:
    """What is untrue of a told opening."""
    if not told["contacts"]:
        yield from _in_plan(result, told, seen)
        return
    if told["where"].startswith("open riser"):
        yield from _open_riser(guard, told)
        return
    if told["where"].startswith("unguarded"):
        yield from _past_end(result, told)
        return
    bay = _chord_of(guard, result, told)
    parts, x = (bay.parts, told["centre"][0] - bay.shift) if bay else (guard.parts, told["centre"][0])
    centre = (x, told["centre"][1])
    here = parts.within(x - told["sphere"], x + told["sphere"])
    size, touches, _ = touched(here, centre)
    if abs(size - told["sphere"]) > SAME * max(1.0, told["sphere"]):
        yield f"told {told['sphere']:.6f}, true {size:.6f} there, touching {sorted(touches)}"
        return
    seen.worst = max(seen.worst, abs(size - told["sphere"]) / max(1.0, told["sphere"]))
    words = {word for word in told["touches"] if not word.startswith("edge")}
    lowest = {word for word in touches if word.startswith("strand")}
    if not words <= touches | ({"strand"} if lowest else set()) | ({"nosing"} if _at_tip(guard, told) else set()):
        yield f"told to touch {sorted(words)}, truly {sorted(touches)}"
    yield from _uphill(guard, result, told, bay, centre, size)


def _past_end(result: dict[str, Any], told: dict[str, Any]) -> Iterator[str]:
    """Past an end post stands nothing: as wide as the stretch from its outer face to the line's end."""
    first, last = result["posts"][0], result["posts"][-1]
    start, end = result["surfaces"][0]["start"][0], result["surfaces"][-1]["end"][0]
    stretches = first["station"] - first["width"] / 2 - start, end - last["station"] - last["width"] / 2
    if min(abs(told["sphere"] - stretch) for stretch in stretches) > SAME:
        yield f"told {told['sphere']:.6f}, the stretches past the end posts are {stretches}"


def _uphill(
    guard: Guard,
    result: dict[str, Any],
    told: dict[str, Any],
    chord: Bay | None,
    centre: tuple[float, float],
    size: float,
) -> Iterator[str]:
    """A larger sphere that a way uphill from a told one leads to, not told itself."""
    n = guard.stair.nosing
    bay = chord or next((bay for bay in guard.bays if bay.low - n <= centre[0] <= bay.high + n), None)
    if bay is None:
        yield f"its centre {centre} is in no bay"
        return
    at, best = summit(np.array(centre), bay.parts)
    if 2 * best <= size + 1e-5 * size:
        return
    known = any(
        abs(o["sphere"] - 2 * best) < 1e-5 * size
        and hypot(o["centre"][0] - bay.shift - at[0], o["centre"][1] - at[1]) < 1e-2 * size
        for o in result["openings"]
    )
    if not known:
        yield f"told {told['sphere']:.6f}, and uphill from there is {2 * best:.6f} at {at[0]:.4f}, {at[1]:.4f}"


def _open_riser(guard: Guard, told: dict[str, Any]) -> Iterator[str]:
    """Between a tread and the underside of the board above it."""
    flight = next(f for f in guard.stair.flights if f.surface == told["surface"])
    k = int(told["where"].split()[2]) - 1
    clear = flight.zs[k] - flight.tread - (flight.zs[k - 1] if k else flight.floor)
    if abs(clear - told["sphere"]) > SAME:
        yield f"told {told['sphere']:.6f}, the boards leave {clear:.6f}"


def _at_tip(guard: Guard, told: dict[str, Any]) -> bool:
    """Whether a told contact is a nosing's tip, where tread and riser end too."""
    tips = [(f.station(x), z) for f in guard.stair.flights for x, z in zip(f.xs, f.zs, strict=True)]
    return any(hypot(s - x, z - h) < SAME * 10 for s, z in tips for x, h in told["contacts"])


def _chord_of(guard: Guard, result: dict[str, Any], told: dict[str, Any]) -> Bay | None:
    """The elevation across a corner that an opening is told in: words say which turn."""
    if "at the turn of surface" not in told["where"]:
        return None
    turned = int(told["where"].split("at the turn of surface ")[1].split(",")[0]) - 1
    joint = next(j for j in result["joints"] if j["between"][1] == turned)
    return next(bay for bay in guard.chords if bay.left == joint["post"])


def _in_plan(result: dict[str, Any], told: dict[str, Any], seen: Compared) -> Iterator[str]:
    """In plan between the two posts of a corner: squares that stand square to their own legs."""
    gap = between_posts(result, told)
    seen.worst = max(seen.worst, abs(gap - told["sphere"]))
    if abs(gap - told["sphere"]) > SAME:
        yield f"told {told['sphere']:.6f} between the posts, truly {gap:.6f}"


def between_posts(result: dict[str, Any], told: dict[str, Any], mark: Callable[[float], float] = float) -> float:
    """Clear distance of the two posts of a corner, each square to its leg, its station as ``mark`` makes it."""
    joint = next(j for j in result["joints"] if j["second_post"] and abs(j["station"] - told["centre"][0]) < SAME)
    first, second = (next(p for p in result["posts"] if p["label"] == joint[key]) for key in ("post", "second_post"))
    square = shapely.box(-first["width"] / 2, -first["width"] / 2, first["width"] / 2, first["width"] / 2)
    # past the corner where a line closes stations begin again
    begun = joint["station"] if joint["between"][0] < joint["between"][1] else 0.0
    a = translate(square, mark(first["station"]) - joint["station"], 0)
    b = rotate(translate(square, mark(second["station"]) - begun, 0), joint["turn_deg"], origin=(0, 0))
    return float(a.distance(b))


def _missing(guard: Guard, result: dict[str, Any], pocket: Pocket, limits: dict[str, float] | None) -> Iterator[str]:
    """What is not told of a pocket."""
    kind = _kind(guard, pocket)
    here = [o for o in result["openings"] if _beside(guard, result, pocket, o)]
    same = [o for o in here if abs(o["sphere"] - pocket.size) < SAME * 10 and _near(pocket, o)]
    alike = [o for o in here if _worded(guard, o, pocket) in (kind, None)]
    larger = [o for o in alike if o["sphere"] > pocket.size - SAME * 10]
    if not same and not larger:
        told = max((o["sphere"] for o in alike), default=None)
        yield f"not told; the largest told of its kind ({kind}) is {told}"
        return
    if limits is None:
        return
    limit = limits[kind]
    wrong = [o for o in same if o["limit"] and abs(o["limit"] - limit) > SAME]
    # over the edge of what is above a flight a sphere is over both
    if same and len(wrong) == len(same) and not _at_edge(guard, pocket):
        yield f"told under the limit {wrong[0]['limit']}, its own is {limit}"
    if (
        pocket.size >= limit + SAME
        and all(o["passes"] and not o["leave"] for o in same or larger)
        and not _at_edge(guard, pocket)
    ):
        yield f"larger than {limit}, and told to comply"


def _near(pocket: Pocket, told: dict[str, Any]) -> bool:
    x, z = pocket.centre
    return (
        pocket.gap is not None
        or hypot(told["centre"][0] - pocket.bay.shift - x, told["centre"][1] - z) < 1e-3 * pocket.size
    )


def _kind(guard: Guard, pocket: Pocket) -> str:
    """Which opening it is in the rules' words: by what it touches and where it is.

    Tread (or the floor below), riser and lowest strand make the step triangle, also where a post in it narrows it or
    the nosing overhead is touched before the riser.
    """
    kind = guard.stair.spans[pocket.surface][4]
    if pocket.bay.chord or pocket.gap is not None:
        return kind
    if pocket.step is None:
        return guard.stair.at(pocket.centre[0])[1]
    flight = _flight(guard, pocket)
    if pocket.step == len(flight.xs):
        return flight.above
    return "flight" if flight.open_risers else "step triangle"


def _flight(guard: Guard, pocket: Pocket) -> Flight:
    return next(f for f in guard.stair.flights if f.surface == pocket.surface)


def _at_edge(guard: Guard, pocket: Pocket) -> bool:
    """Whether a pocket rests on the edge of what is above a flight; without a nosing its riser and floor end there."""
    tip = "nosing" in pocket.touches or any({floor, "riser"} <= pocket.touches for floor in ("landing", "ramp"))
    return pocket.step is not None and tip and pocket.step >= len(_flight(guard, pocket).xs) - 1


def _beside(guard: Guard, result: dict[str, Any], pocket: Pocket, told: dict[str, Any]) -> bool:
    """Whether a told opening is where a pocket is: of its corner, its surface's strands, or over its tread."""
    where = told["where"]
    if ("at the turn of surface" in where) != pocket.bay.chord:
        return False
    if pocket.bay.chord:
        return _chord_of(guard, result, told) is pocket.bay and ("between strands" in where) == (pocket.gap is not None)
    if told["surface"] != pocket.surface or where.startswith("open riser"):
        return False
    if pocket.gap is not None:
        return where == "between strands" if pocket.gap else where.startswith("under the rail")
    if where == "between strands" or where.startswith("under the rail"):
        return False
    if pocket.step is None:
        return True
    s, z = told["centre"]
    # plumb over a nosing it is over either tread
    steps = {tread_under(guard, pocket.surface, (s + by, z)) for by in (-SAME, SAME)}
    return pocket.step in steps or (_at_edge(guard, pocket) and pocket.step - 1 in steps)


def _worded(guard: Guard, told: dict[str, Any], pocket: Pocket) -> str | None:
    """The rules' place that a told opening's words mean, None where they do not say."""
    if pocket.step is None or pocket.gap is not None:
        return None
    flight, where = _flight(guard, pocket), told["where"]
    if where.startswith(("step triangle", "first riser")):
        return "flight" if flight.open_risers else "step triangle"
    if where.startswith(("beside a post", "over tread")):
        return "flight"
    return (
        flight.above if pocket.step or flight.step(flight.way * (told["centre"][0] - flight.origin)) else flight.below
    )
