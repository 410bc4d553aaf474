"""Jobs as plain tables: read from TOML, written to TOML, walked backwards, mirrored; and ordinary ones at random.

A job is the dictionary that a TOML reader gives. Nothing of the package reads it here: lengths are parsed by the few
lines below.
"""

from __future__ import annotations

import copy
import json
import re
import tomllib
from fractions import Fraction
from pathlib import Path
from random import Random
from typing import Any

EXAMPLES = sorted((Path(__file__).parents[2] / "shared" / "examples").glob("*.toml"))

_IN_MM = {"in": Fraction(254, 10), '"': Fraction(254, 10), "ft": Fraction(3048, 10), "'": Fraction(3048, 10),
          "mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000)}  # fmt: skip
_PIECE = re.compile(r"""\s*(-?)(\d+(?:\.\d+)?)?(?:(?<=\d)[- ])?(?:(\d+)/(\d+))?\s*(ft|in|mm|cm|m|'|")""")

Table = dict[str, Any]


def length(value: Any, unit: str) -> float:
    """A length of a job file in the job's unit: a bare number, or text like ``3' 4-1/2"``."""
    if not isinstance(value, str):
        return float(value)
    if re.fullmatch(r"-?\d+(\.\d+)?", value.strip()):
        return float(value)
    total, at, sign = Fraction(0), 0, 1
    while at < len(value.rstrip()):
        found = _PIECE.match(value, at)
        assert found, f"not a length: {value!r}"
        minus, whole, above, below, name = found.groups()
        sign = -1 if minus else sign
        size = Fraction(whole or 0) + (Fraction(int(above), int(below)) if above else 0)
        total += size * _IN_MM[name]
        at = found.end()
    return float(sign * total / _IN_MM[unit])


def load(path: Path) -> Table:
    """A job file's tables."""
    return tomllib.loads(path.read_text(encoding="utf-8"))


def toml_text(job: Table) -> str:
    """The job as a job file; its texts, numbers and lists are written as JSON writes them, which TOML reads too."""
    plain = [f"{key} = {json.dumps(value)}" for key, value in job.items() if not _is_table(value)]
    lines = [*plain]
    for key, value in job.items():
        if isinstance(value, dict):
            lines += [f"[{key}]", *(f"{k} = {json.dumps(v)}" for k, v in value.items())]
    for key, value in job.items():
        if isinstance(value, list) and _is_table(value):
            for one in value:
                lines += [f"[[{key}]]", *(f"{k} = {json.dumps(v)}" for k, v in one.items())]
    return "\n".join(lines) + "\n"


def _is_table(value: Any) -> bool:
    return isinstance(value, dict) or (isinstance(value, list) and bool(value) and isinstance(value[0], dict))


def mirrored(job: Table) -> Table:
    """The same guard on the other hand: every plan turn negated."""
    other = copy.deepcopy(job)
    _other_side(other)
    for surface in other["surface"]:
        if surface.get("turn"):
            surface["turn"] = -surface["turn"]
    return other


def _other_side(job: Table) -> None:
    """A guard on the left as one walks is then on the right."""
    if "hand" in job["post"]:
        job["post"]["hand"] = {"left": "right", "right": "left"}[job["post"]["hand"]]


def backwards(job: Table) -> Table:
    """The same guard walked from its other end: surfaces from the last, up for down, turns negated and one on.

    A turn is made at the start of a surface: backwards that is the end, so the surface that comes next there has it.
    A post forced from a surface's start is measured from its other end.
    """
    other = copy.deepcopy(job)
    _other_side(other)
    unit = job["unit"]
    surfaces = other["surface"]
    turns = [s.pop("turn", 0) for s in surfaces] + [0]
    starts = [s.pop("start_post", None) for s in surfaces] + [None]
    back = []
    for surface, turn, start in zip(reversed(surfaces), reversed(turns), reversed(starts), strict=False):
        level = level_length(surface, unit)
        _turned_round(surface, unit)
        if "posts" in surface:
            surface["posts"] = [level - length(at, unit) for at in reversed(surface["posts"])]
        if turn:
            surface["turn"] = -turn
        if start is not None:
            surface["start_post"] = -length(start, unit)
        back.append(surface)
    assert starts[0] is None, "an end post forced at the start has no counterpart at the end"
    other["surface"] = back
    ends = other.get("ends", {})
    other["ends"] = {{"start": "end", "end": "start"}.get(key, key): value for key, value in ends.items()}
    return other


def level_length(surface: Table, unit: str) -> float:
    """Level length of a surface along the line."""
    if surface["kind"] != "flight":
        return length(surface["length"], unit)
    if "nosings" in surface:
        return length(surface["nosings"][-1][0], unit)
    return (surface["risers"] - 1) * length(surface["run"], unit)


def _turned_round(surface: Table, unit: str) -> None:
    """Make one surface go the other way."""
    if surface["kind"] == "ramp":
        surface["rise"] = -length(surface["rise"], unit)
    elif surface["kind"] == "flight":
        if "nosings" in surface:
            _survey_turned_round(surface, unit)
        surface["down"] = not surface.get("down", False)


def _survey_turned_round(surface: Table, unit: str) -> None:
    """Measured nosings from the other end; the lowest riser of an upward flight is the downward one's last."""
    points = [(length(x, unit), length(z, unit)) for x, z in surface["nosings"]]
    end = points[-1][0]
    if surface.get("down", False):
        mean = (points[0][1] - points[-1][1]) / (len(points) - 1)
        zero = points[-1][1] - length(surface.pop("last_rise", mean), unit)
    else:
        zero = points[-1][1]
        surface["last_rise"] = points[0][1]
    surface["nosings"] = [[end - x, z - zero] for x, z in reversed(points)]


def ordinary(seed: int) -> tuple[str, Table]:
    """One ordinary job and its kind; the seed is all there is to it.

    The first kinds take turns, each later one has ten thousands of its own: a seed stays the job it was.
    """
    rnd = Random(f"ordinary {seed}")
    later = seed // _LATER
    kind = list(KINDS)[_TURNS + later - 1 if later else seed % _TURNS]
    metric = rnd.random() < 0.25
    job = _frame(rnd, f"{kind}, number {seed}")
    job["surface"] = [s for s in KINDS[kind](rnd, job) if s]
    _give_heights(rnd, job)
    return kind, _metric(job) if metric else job


def seeds(kind: str, count: int) -> range:
    """Seeds of the jobs of one kind among ``count`` jobs of all kinds."""
    place, rounds = list(KINDS).index(kind), max(1, round(count / len(KINDS)))
    if place < _TURNS:
        return range(place, _TURNS * rounds, _TURNS)
    first = _LATER * (place - _TURNS + 1)
    return range(first, first + rounds)


_TURNS, _LATER = 17, 10_000


def _frame(rnd: Random, title: str) -> Table:
    """Sections of wood or steel, common heights, posts and strand, all inches."""
    width = rnd.choice([1.5, 1.5, 2, 3.5, 3.5])
    job: Table = {"title": title, "unit": "in", "mark": "1/16 in", "rules": rnd.choice(_RULES)}
    job["rail"] = {"height": 36, "landing_height": 36, "depth": rnd.choice([1.5, 1.5, 0.75, 2, 3.5]), "width": 3.5}
    job["strand"] = {
        "diameter": rnd.choice(["1/8 in", "1/8 in", "3/16 in", "5/32 in"]),
        "spacing": rnd.choice([3, 3, 3.125, 2.75]),
        "at_joints": rnd.choice(["through", "through", "break"]),
        "terminal_take_up": rnd.choice([0, 0.5, 1.25]),
        "tensioner_take_up": rnd.choice([0, 1, 2.25]),
        "longest_run": rnd.choice(["75 ft", "40 ft", "20 ft"]),
        "angle_changes": rnd.choice([1, 1, 2, 0]),
    }
    job["post"] = {"width": width, "max_gap": rnd.choice([36, 42, 48, 60]), "setback": 0}
    return job


_RULES = ("irc-2021", "irc-2021", "irc-2021", "irc-2018", "ibc-2021", "none")


def _give_heights(rnd: Random, job: Table) -> None:
    """One height or two, flights' and landings'; the post of a flight where its treads have room for it."""
    rail = job["rail"]
    rail["height"], rail["landing_height"] = rnd.choice(
        [(36, 36), (36, 36), (42, 42), (34, 36), (35, 36), (36, 42), (42, 36), (36.5, 36.5)]
    )
    runs = [s["run"] for s in job["surface"] if "run" in s]
    runs += [x - w for s in job["surface"] if "nosings" in s
             for (w, _), (x, _) in zip(s["nosings"], s["nosings"][1:], strict=False)]  # fmt: skip
    least = min(runs, default=10)
    width = job["post"]["width"]
    job["post"]["setback"] = rnd.choice([width / 2 + 0.5, least / 2, least - width / 2 - 0.25])


def _metric(job: Table) -> Table:
    """The job to the nearest millimetre or so, as it would be built there."""
    other = copy.deepcopy(job)
    other |= {"unit": "mm", "mark": 1, "rules": {"none": "none"}.get(job["rules"], "nz-f4as1")}

    def mm(value: Any) -> Any:
        """25 mm to the inch: round figures stay round."""
        if isinstance(value, str):
            return round(length(value, "in") * 25.4 * 2) / 2
        return round(value * 25 * 4) / 4

    lengths = {"height", "landing_height", "depth", "width", "diameter", "spacing", "max_gap", "setback", "length",
               "rise", "run", "nosing", "tread", "drop", "last_rise", "corner_offset", "terminal_take_up",
               "tensioner_take_up", "longest_run", "rail_height", "start_post",
               "offset", "lower", "shortest", "kerf", "greatest_drop", "sleeve_diameter"}  # fmt: skip
    for table in (*(one for one in other.values() if isinstance(one, dict)), *other["surface"]):
        for key in table:
            if key in lengths:
                table[key] = mm(table[key])
            elif key in ("posts", "rail", "post", "strand"):
                table[key] = [mm(at) for at in table[key]]
            elif key == "nosings":
                table[key] = [[mm(x), mm(z)] for x, z in table[key]]
    return other


def _rises(rnd: Random) -> Table:
    """Steps one meets: from deck stairs to steep basement ones."""
    rise, run = rnd.choice([(7, 11), (7.25, 10.5), (7.5, 10), (7.75, 10), (7.625, 10.25), (6.5, 12), (8, 9), (7, 10)])
    nosing = rnd.choice([0, 0, 0.75, 1, 1.25])
    return {"rise": rise, "run": run, "nosing": nosing, "tread": rnd.choice([0, 1, 1.25, 1.5]) if nosing else 0}


def _up(rnd: Random, risers: int, **other: Any) -> Table:
    return {"kind": "flight", "risers": risers, **_rises(rnd), **other}


def _land(length: float, **other: Any) -> Table:
    return {"kind": "landing", "length": length, **other}


def _straight(rnd: Random, job: Table) -> list[Table]:
    """One flight between two landings, up or down."""
    flight = _up(rnd, rnd.randint(2, 15), down=rnd.random() < 0.3)
    return [_land(rnd.randint(30, 90)), flight, _land(rnd.randint(30, 90))]


def _deck_stair(rnd: Random, job: Table) -> list[Table]:
    """Three to five risers from the ground to a deck that is guarded."""
    deck = _land(rnd.randint(60, 240))
    if rnd.random() < 0.5:
        return [_up(rnd, rnd.randint(3, 5)), deck]
    return [deck, _up(rnd, rnd.randint(3, 5), down=True)]


def _flight_only(rnd: Random, job: Table) -> list[Table]:
    """A flight that ends on posts of its own, walls or standing newels."""
    job["ends"] = {"start": rnd.choice(["post", "wall", "newel"]), "end": rnd.choice(["post", "wall", "newel"])}
    return [_up(rnd, rnd.randint(4, 15), down=rnd.random() < 0.3)]


def _walled(rnd: Random, job: Table) -> list[Table]:
    """Two landings and a flight; the line ends on walls or newels."""
    job["ends"] = {"start": rnd.choice(["post", "wall", "newel"]), "end": rnd.choice(["wall", "newel"])}
    return _straight(rnd, job)


def _deck_edge(rnd: Random, job: Table) -> list[Table]:
    """A deck's edge with a corner or two."""
    turns = [rnd.choice([90, -90, 45, -45, 30, 60, -60]) for _ in range(rnd.randint(1, 2))]
    _corner(rnd, job)
    return [_land(rnd.randint(120, 300)), *(_land(rnd.randint(90, 300), turn=turn) for turn in turns)]


def _corner(rnd: Random, job: Table) -> None:
    if rnd.random() < 0.4:
        job["post"] |= {"corner": "two", "corner_offset": job["post"]["width"] * rnd.choice([1, 1.5, 2])}
    job["strand"]["largest_bend"] = rnd.choice([60, 95])


def _deck_and_flight(rnd: Random, job: Table) -> list[Table]:
    """A deck with a corner, then a flight down from it, or two with a landing between."""
    _corner(rnd, job)
    flight = _up(rnd, rnd.randint(4, 9), down=True)
    more = [_land(rnd.randint(36, 60)), {**flight, "risers": rnd.randint(4, 9)}] if rnd.random() < 0.5 else []
    bottom = _land(rnd.randint(36, 48)) if rnd.random() < 0.7 else None
    return [
        _land(rnd.randint(120, 240)),
        _land(rnd.randint(60, 120), turn=rnd.choice([90, -90])),
        flight,
        *more,
        bottom,
    ]


def _quarter(rnd: Random, job: Table) -> list[Table]:
    """Two flights about a quarter landing, outside: both its edges are guarded."""
    _corner(rnd, job)
    flight = _up(rnd, rnd.randint(4, 9))
    depth = rnd.randint(36, 44)
    turn = rnd.choice([90, -90])
    other = {**flight, "risers": rnd.randint(4, 9)}
    return [
        _land(rnd.randint(36, 60)),
        flight,
        _land(depth),
        _land(depth, turn=turn),
        other,
        _land(rnd.randint(36, 60)),
    ]


def _askew(rnd: Random, job: Table) -> list[Table]:
    """Two flights about a landing that turns by less than a quarter."""
    _corner(rnd, job)
    flight, turn = _up(rnd, rnd.randint(4, 8)), rnd.choice([30, 45, 60, -30, -45, -60])
    return [
        _land(48), flight, _land(rnd.randint(36, 60)), _land(rnd.randint(36, 60), turn=turn),
        {**flight, "risers": rnd.randint(4, 8)}, _land(48),
    ]  # fmt: skip


def _half(rnd: Random, job: Table) -> list[Table]:
    """A switchback: rails meet over the half landing's inner edge, which carries no level piece."""
    flight = _up(rnd, rnd.randint(5, 9))
    offset = flight["run"] / 2
    crossed = {"level_piece": False}
    other = {**flight, "risers": rnd.randint(5, 9)}
    return [
        _land(48), flight, _land(offset, **crossed), _land(offset, turn=rnd.choice([180, -180]), **crossed), other,
        _land(60),
    ]  # fmt: skip


def _outer_half(rnd: Random, job: Table) -> list[Table]:
    """The outer side of a half landing: three level edges."""
    _corner(rnd, job)
    flight = _up(rnd, rnd.randint(4, 8))
    turn = rnd.choice([90, -90])
    depth, wide = rnd.randint(36, 44), rnd.randint(76, 90)
    return [
        _land(40), flight, _land(depth), _land(wide, turn=turn), _land(depth, turn=turn),
        {**flight, "risers": rnd.randint(4, 8)}, _land(48),
    ]  # fmt: skip


def _ramps(rnd: Random, job: Table) -> list[Table]:
    """A ramp at 1:12 to 1:20 with level landings, or two back to back."""
    length = rnd.choice([120, 180, 240])
    rise = length / rnd.choice([12, 12, 16, 20])
    ramp = {"kind": "ramp", "length": length, "rise": rise * rnd.choice([1, -1])}
    if rnd.random() < 0.5:
        return [_land(60), ramp, _land(60)]
    return [_land(60), ramp, _land(60), {**ramp, "turn": rnd.choice([0, 90, -90, 45, -30])}, _land(60)]


def _surveyed(rnd: Random, job: Table) -> list[Table]:
    """Unequal risers as measured, between landings."""
    x, points = 0.0, []
    count = rnd.randint(4, 10)
    z = 7 + rnd.randint(0, 6) / 16
    for _ in range(count):
        points.append([x, z])
        x += 10.25 + rnd.randint(0, 8) / 16
        z += 7 + rnd.randint(0, 6) / 16
    flight = {"kind": "flight", "nosings": points, "nosing": rnd.choice([0, 1]), "tread": 1}
    if not flight["nosing"]:
        del flight["tread"]
    return [_land(48), flight, _land(48)]


def _open_risers(rnd: Random, job: Table) -> list[Table]:
    """Treads without risers."""
    flight = _up(rnd, rnd.randint(3, 12), open_risers=True)
    flight["tread"] = rnd.choice([1, 1.5, 2])
    return [_land(48), flight, _land(48)]


def _at_the_side(rnd: Random, job: Table) -> list[Table]:
    """Posts on the stringer's face, strands in its plane."""
    job["post"] |= {"mount": "side", "drop": rnd.choice([6, 8, 10])}
    return _straight(rnd, job)


def _two_pitches(rnd: Random, job: Table) -> list[Table]:
    """Two flights of different pitch whose rails meet at one post over a short landing."""
    first, second = _up(rnd, rnd.randint(4, 8)), _up(rnd, rnd.randint(4, 8))
    job["rail"]["meet"] = "as given"
    return [_land(48), first, _land(rnd.choice([10, 11, 12]), level_piece=False), second, _land(48)]


def _single_step(rnd: Random, job: Table) -> list[Table]:
    """Two or three risers between two decks."""
    return [
        _land(rnd.randint(48, 120)),
        _up(rnd, rnd.randint(2, 3), down=rnd.random() < 0.5),
        _land(rnd.randint(48, 120)),
    ]


def _posts_that_stand(rnd: Random, job: Table) -> list[Table]:
    """Posts at stations that the carpenter gives."""
    first, flight, last = _land(100), _up(rnd, rnd.randint(5, 9)), _land(100)
    first["posts"], last["posts"] = [34, 67], [40, 70]
    setback = flight["run"] / 2
    flight["posts"] = [flight["run"] * k + setback for k in range(1, flight["risers"] - 1, 3)]
    return [first, flight, last]


def _well(rnd: Random, job: Table) -> list[Table]:
    """Landings round a well or a deck, closed at a corner or in the middle of a side."""
    job["ends"] = {"closed": True}
    _corner(rnd, job)
    a, b, c, d = rnd.randint(60, 150), rnd.randint(60, 150), rnd.randint(50, 80), rnd.randint(50, 80)
    turn = rnd.choice([1, -1])
    sides = rnd.choice(
        [
            [(a, 90), (b, 90), (a, 90), (b, 90)],
            [(a, 60), (b, 60), (c, 60), (a, 60), (b, 60), (c, 60)],
            [(a, 45), (c, 45), (b, 45), (d, 45), (a, 45), (c, 45), (b, 45), (d, 45)],
            [(a + c, 90), (b, 90), (a, 90), (d, -90), (c, 90), (b + d, 90)],
            [(a, 120), (a, 120), (a, 120)],
        ]
    )
    line = [_land(side, turn=turn * angle) for side, angle in sides]
    if rnd.random() < 0.4:
        first = line.pop(0)
        half = rnd.choice([0.5, 0.25]) * first["length"]
        line = [_land(half), *line, {**first, "length": first["length"] - half}]
    line[0].pop("turn", None)  # follows from the others
    return line


def _raised(rnd: Random, job: Table) -> list[Table]:
    """A raised walk round a court: up a flight on one side, down another on the side across."""
    job["ends"] = {"closed": True}
    _corner(rnd, job)
    flight, turn = _up(rnd, rnd.randint(2, 6)), rnd.choice([90, -90])
    before, after, wide = (rnd.randint(60, 90) for _ in range(3))
    return [
        _land(before), flight, _land(after), _land(wide, turn=turn), _land(after, turn=turn), {**flight, "down": True},
        _land(before), _land(wide, turn=turn),
    ]  # fmt: skip


def _inner_newel(rnd: Random, job: Table) -> list[Table]:
    """The inner side of a quarter landing: both flights start at one newel, their risers lined up at it."""
    flight, turn = _up(rnd, rnd.randint(4, 8)), rnd.choice([90, -90])
    job["strand"]["largest_bend"] = 95
    depth = {"depth": rnd.randint(36, 44)} if rnd.random() < 0.7 else {}
    other = {**flight, "risers": rnd.randint(4, 8)}
    return [_land(48), flight, _land(0, turn=turn, level_piece=False, **depth), other, _land(rnd.randint(40, 60))]


def _offset_half(rnd: Random, job: Table) -> list[Table]:
    """A switchback whose risers are lined up, or a going apart."""
    flight, turn = _up(rnd, rnd.randint(5, 9)), rnd.choice([180, -180])
    away = flight["run"] * rnd.choice([0, 1]) / 2
    other = {**flight, "risers": rnd.randint(5, 9)}
    crossed = {"level_piece": False}
    landings = [_land(away, **crossed), _land(away, turn=turn, **crossed)] if away else [_land(0, turn=turn, **crossed)]
    return [_land(48), flight, *landings, other, _land(60)]


def _stair_off_deck(rnd: Random, job: Table) -> list[Table]:
    """A deck's edge whose guard turns straight down its stair."""
    job["strand"]["largest_bend"] = rnd.choice([60, 95])
    flight = _up(rnd, rnd.randint(3, 8), down=True)
    bottom = _land(rnd.randint(36, 48)) if rnd.random() < 0.5 else None
    flight["turn"] = rnd.choice([90, -90, 45])
    return [_land(rnd.randint(96, 240)), flight, bottom]


def _off_the_side(rnd: Random, job: Table) -> list[Table]:
    """Posts on the stringer's face, out from it by a block; strands that a push must not open are lower."""
    offset = rnd.choice([0.5, 1.5, 2])
    job["post"] |= {"mount": "side", "drop": rnd.choice([6, 8, 10]), "offset": offset}
    job["strand"]["lower"] = rnd.choice([0, 0.5, 1.25])
    return _straight(rnd, job)


def _beside_corners(rnd: Random, job: Table) -> list[Table]:
    """A deck's edge with a corner or two, all posts on its face, the guard outside the turn or inside it; a stair."""
    job["post"] |= {"mount": "side", "drop": rnd.choice([6, 8, 10]), "offset": rnd.choice([1.5, 2, 3.75])}
    job["post"]["hand"] = rnd.choice(["left", "right"])
    _corner(rnd, job)
    turns = [rnd.choice([90, -90, 45, -45, 60, -60]) for _ in range(rnd.randint(1, 2))]
    deck = [_land(rnd.randint(120, 300)), *(_land(rnd.randint(120, 300), turn=turn) for turn in turns)]
    return [*deck, _up(rnd, rnd.randint(3, 8), down=True), _land(48)] if rnd.random() < 0.4 else deck


def _from_stock(rnd: Random, job: Table) -> list[Table]:
    """Bearing faces, sleeves and sections to cut from stock, rails longer than it among them; posts square to rails."""
    job["strand"]["largest_bend"] = 95
    job["post"] |= {"bearing": rnd.choice(["inner face", "outer face"]), "sleeves": True}
    if rnd.random() < 0.5:
        job["post"]["corner_square"] = "rails"
    job["stock"] = {
        "rail": rnd.choice([[192], [144, 192], [120, 144]]), "post": [240], "strand": [3000, 6000],
        "kerf": rnd.choice([0, 0.125]),
    }  # fmt: skip
    down = _up(rnd, rnd.randint(3, 6), down=True)
    turn = rnd.choice([90, -90, 45, -30])
    return rnd.choice(
        [[_land(rnd.randint(150, 400)), _land(120, turn=turn)], [_land(200), down], [_land(60), down, _land(90)]]
    )


KINDS = {
    "one flight": _straight,
    "deck stair": _deck_stair,
    "flight only": _flight_only,
    "ends at walls and newels": _walled,
    "deck edge": _deck_edge,
    "deck and flight": _deck_and_flight,
    "quarter landing": _quarter,
    "turned landing": _askew,
    "half landing, inner": _half,
    "half landing, outer": _outer_half,
    "ramps": _ramps,
    "surveyed": _surveyed,
    "open risers": _open_risers,
    "side-mounted": _at_the_side,
    "two pitches": _two_pitches,
    "single step": _single_step,
    "posts that stand": _posts_that_stand,
    "round a well": _well,
    "raised walk": _raised,
    "quarter landing, inner newel": _inner_newel,
    "half landing, other offsets": _offset_half,
    "stair off a deck": _stair_off_deck,
    "off the side": _off_the_side,
    "from stock": _from_stock,
    "off the side, with corners": _beside_corners,
}
