"""Random ordinary jobs and inspections for fixes to be tried on: what gets built every week, sound and not quite."""

from __future__ import annotations

import random
from fractions import Fraction
from typing import Any

from stairguard.rules.pack.reader import available


def _marks(rng: random.Random, low: float, high: float, unit: str) -> str:
    """A length somewhere between, on a tape's mark: low and high in inches."""
    if unit == "in":
        return f"{Fraction(round(rng.uniform(low, high) * 16), 16)} in"
    return f"{round(rng.uniform(low, high) * 25.4)} mm"


def _flight(rng: random.Random, unit: str) -> dict[str, Any]:
    flight = {
        "kind": "flight", "risers": rng.randint(3, 9), "rise": _marks(rng, 6.25, 8, unit),
        "run": _marks(rng, 9.25, 12, unit),
        "nosing": _marks(rng, 0, 1.5, unit), "tread": _marks(rng, 1, 1.5, unit),
    }  # fmt: skip
    if rng.random() < 0.2:
        flight["open_risers"] = True
    if rng.random() < 0.3:
        flight["down"] = True
    return flight


def _surveyed(rng: random.Random, unit: str) -> dict[str, Any]:
    one, off = (Fraction(1), Fraction(1, 16)) if unit == "in" else (Fraction(254, 10), Fraction(1))
    x, z, nosings = Fraction(0), Fraction(0), []
    rise, run = Fraction(rng.randint(105, 125), 16) * one, Fraction(rng.randint(152, 184), 16) * one
    for k in range(rng.randint(3, 7)):
        z += round((rise + rng.randint(-4, 4) * off) / off) * off
        nosings.append([f"{x} {unit}", f"{z} {unit}"])
        x += round((run + rng.randint(-4, 4) * off) / off) * off if k >= 0 else 0
    return {
        "kind": "flight",
        "nosings": nosings,
        "nosing": _marks(rng, 0.5, 1.25, unit),
        "tread": _marks(rng, 1, 1.25, unit),
    }


def _landing(rng: random.Random, unit: str) -> dict[str, Any]:
    return {"kind": "landing", "length": _marks(rng, 34, 64, unit)}


def _ramp(rng: random.Random, unit: str) -> dict[str, Any]:
    return {"kind": "ramp", "length": _marks(rng, 90, 420, unit), "rise": _marks(rng, 6, 36, unit)}


def _surfaces(rng: random.Random, unit: str) -> list[dict[str, Any]]:
    flight, landing, ramp = (lambda: _flight(rng, unit)), (lambda: _landing(rng, unit)), (lambda: _ramp(rng, unit))
    turned = rng.choice([0, 90, -90, 45, 30])
    kind = rng.randrange(8)
    if kind == 0:
        return [{"kind": "landing", "length": _marks(rng, 60, 300, unit)}]
    if kind == 1:
        return [landing(), flight()]
    if kind == 2:
        return [landing(), ramp(), landing()]
    if kind == 3:
        return [flight(), {**landing(), "turn": turned}, flight()]
    if kind == 4:
        return [landing(), _surveyed(rng, unit), landing()]
    if kind == 5:
        return (
            [flight(), flight()]
            if rng.random() < 0.2
            else [{"kind": "landing", "length": _marks(rng, 60, 200, unit)}, {**landing(), "turn": turned}, flight()]
        )
    return [landing(), flight(), landing()]


def random_job(seed: int) -> dict[str, Any]:
    """One job, most of it ordinary; about half of them break something of their pack."""
    rng = random.Random(seed)
    pack = rng.choice([*available(), "irc-2021", "irc-2021", "none"])
    unit = "in" if pack.startswith(("irc", "ibc", "osha", "ada", "none")) else "mm"
    height = _marks(rng, 34, 43.5, unit)
    job: dict[str, Any] = {
        "title": f"job {seed}",
        "unit": unit,
        "rules": pack,
        "rail": {"height": height, "depth": _marks(rng, 1, 2, unit), "width": "3.5 in"},
    }
    if rng.random() < 0.4:
        job["rail"]["landing_height"] = _marks(rng, 36, 43.5, unit)
    job["strand"] = {
        "diameter": rng.choice(["1/8 in", "3/16 in", "4 mm"]),
        "spacing": _marks(rng, 2.5, 3.5, unit),
        "at_joints": rng.choice(["through", "break"]),
    }
    job["post"] = {
        "width": rng.choice(["1-1/2 in", "3-1/2 in", "40 mm"]),
        "max_gap": _marks(rng, 40, 60, unit),
        "setback": _marks(rng, 3, 5, unit),
    }
    job["surface"] = _surfaces(rng, unit)
    if rng.random() < 0.15:
        job["post"] |= {"mount": "side", "drop": "8 in", "offset": _marks(rng, 0, 3, unit), "hand": "left"}
    if rng.random() < 0.3:
        job["site"] = {"top_is_handrail": rng.random() < 0.5, "dwelling": rng.random() < 0.5}
    if rng.random() < 0.15:
        job["handrail"] = {"diameter": _marks(rng, 1, 2.25, unit)}
    elif rng.random() < 0.15 and "site" not in job:
        job["handrail"] = {"height": _marks(rng, 32, 40, unit), "landing_height": _marks(rng, 32, 40, unit)}
    if rng.random() < 0.08 and pack != "none":
        job["strand"]["tension"] = f"{rng.randint(80, 400)} lbf"
        job["push"] = {"force": f"{rng.randint(5, 30)} lbf"}
    return job


def random_survey(seed: int) -> dict[str, Any]:
    """One inspection: heights, lengths and openings of every form, with a tape's +- or without."""
    rng = random.Random(seed)
    pack = rng.choice(available())
    unit = "in" if pack.startswith(("irc", "ibc", "osha", "ada")) else "mm"
    surfaces = [
        _landing(rng, unit),
        _surveyed(rng, unit) if rng.random() < 0.4 else _flight(rng, unit),
        _ramp(rng, unit),
    ]
    survey: dict[str, Any] = {"title": f"inspection {seed}", "unit": unit, "rules": pack, "surface": surfaces}
    if rng.random() < 0.7:
        survey["inspection"] = {
            "plus_minus": rng.choice(["1/16 in", "1/32 in", "1 mm", "2 mm"]),
            "guard_band": rng.choice([1, 1, "0.5"]),
        }
    if rng.random() < 0.4:
        survey["site"] = {"top_is_handrail": rng.random() < 0.5}
    rows: list[dict[str, Any]] = []
    rows += _lengths(rng, unit)
    for number in range(rng.randint(2, 5)):
        rows.append({"what": "opening", "at": f"place {number}", **_opening(rng, unit, surfaces)})
    survey["measured"] = rows
    return survey


def _lengths(rng: random.Random, unit: str) -> list[dict[str, Any]]:
    sizes = {
        "guard height": (33, 44), "handrail height": (32, 40), "landing length": (34, 64),
        "nosing projection": (0.25, 1.75),
        "post gap": (30, 80), "strand spacing": (2.5, 4), "handrail size": (1, 2.5), "handrail clearance": (1, 3),
        "lowest edge": (0.5, 3), "riser": (6, 8.25), "run": (9, 12.5), "strand run": (100, 1200),
    }  # fmt: skip
    rows = []
    for what in rng.sample(sorted(sizes), 5):
        for n in range(rng.choice([1, 1, 3]) if what in ("riser", "run", "nosing projection") else 1):
            surface = (
                1
                if what == "landing length"
                else 2
                if what in ("riser", "run", "nosing projection", "lowest edge")
                else rng.randint(1, 3)
            )
            rows.append(
                {"what": what, "surface": surface, "at": f"{what} {n}", "value": _marks(rng, *sizes[what], unit)}
            )
    return rows


def _opening(rng: random.Random, unit: str, surfaces: list[dict[str, Any]]) -> dict[str, Any]:
    form = rng.choice(["value", "lift", "points", "sides", "spacing"])
    high = {"to_height": _marks(rng, 2, 30, unit)}
    if form == "value":
        return {"surface": rng.randint(1, 3), "value": _marks(rng, 3.5, 7, unit), **high}
    if form == "spacing":
        return {
            "surface": rng.randint(1, 3),
            "spacing": _marks(rng, 3, 5.5, unit),
            "strand_diameter": "1/8 in +- 0 in",
            **high,
        }
    if form == "lift":
        row = {"surface": 2, "lift": _marks(rng, 0, 4, unit)}
        return {**row, "step": 2} if "nosings" in surfaces[1] or rng.random() < 0.5 else row
    w, h, k = rng.uniform(6, 14), rng.uniform(3.5, 6.5), rng.uniform(-1.5, 1.5)
    points = [(0, 0), (w, 0), (w, h + k), (0, h)]
    grain = 16 if unit == "in" else 1 / 25.4
    strands = {"strand_edges": [3], "strand_diameter": "1/8 in +- 0 in"} if rng.random() < 0.6 else {}
    one = 1 if unit == "in" else 25.4

    def shown(value: float) -> str:
        return (
            f"{Fraction(round(value * grain * (1 if unit == 'in' else 25.4 * 25.4)), 16 if unit == 'in' else 1)} {unit}"
        )

    if form == "points":
        if rng.random() < 0.3:
            points = points[::-1]
            strands = {**strands, "strand_edges": [1]} if strands else {}
        return {"surface": 1, "points": [[shown(x), shown(z)] for x, z in points], **strands, **high}
    n = len(points)
    apart = [
        ((points[i][0] - points[(i + 1) % n][0]) ** 2 + (points[i][1] - points[(i + 1) % n][1]) ** 2) ** 0.5
        for i in range(n)
    ]
    diagonal = (points[2][0] ** 2 + points[2][1] ** 2) ** 0.5
    assert one
    return {"surface": 1, "sides": [shown(a) for a in apart], "diagonal": shown(diagonal), **strands, **high}
