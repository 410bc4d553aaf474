"""Guard lines of many surfaces: the shipped examples, odd ones made by hand, random ones; each laid out once."""

from __future__ import annotations

import json
from dataclasses import replace
from fractions import Fraction as F
from functools import cache
from typing import Any

from stairguard.api.layout import result
from stairguard.io.read.job_file import read_job
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.job import Flight, Job, Landing, MeasuredFlight, Ramp, Surface
from stairguard.rules.findings.checks import check
from stairguard.rules.pack.reader import read_rules
from stairguard.solve.lay_out import lay_out
from tests.places import ROOT
from tests.solve.jobs import BASE, random_line

EXAMPLES = ROOT / "shared" / "examples"
SEEDS = range(24)
STRIPS = (
    "under rail", "under rail at post", "between strands", "between strands at corner", "between corner posts",
)  # fmt: skip
"""Openings that no ground bounds."""


@cache
def solved(job: Job) -> Layout:
    return lay_out(job, read_rules(job.rules, job.unit))


@cache
def _written(job: Job) -> str:
    """Judging a line takes longer than laying it out."""
    return json.dumps(result(check(solved(job)), fixes=False), allow_nan=False)


def printed(job: Job) -> dict[str, Any]:
    """The result as another program reads it."""
    found: dict[str, Any] = json.loads(_written(job))
    return found


def up(risers: int = 5, turn: float = 0.0, **other) -> Flight:
    return replace(
        Flight(risers=risers, rise=F(7), run=F(11), nosing=F(0), tread=F(1), open_risers=False, down=False, turn=turn),
        **other,
    )


def down(risers: int = 5, turn: float = 0.0, **other) -> Flight:
    return up(risers, turn, down=True, **other)


def land(length: int = 48, turn: float = 0.0, **other) -> Landing:
    return Landing(length=F(length), turn=turn, **other)


def ramp(length: int = 120, rise: int = 10, turn: float = 0.0, **other) -> Ramp:
    return Ramp(length=F(length), rise=F(rise), turn=turn, **other)


CROSSED = {"level_piece": False}
SURVEY = MeasuredFlight(
    nosings=tuple((F(x, 4), F(z, 8)) for x, z in [(0, 57), (43, 115), (85, 171), (128, 230), (170, 286)]),
    nosing=F(1),
    tread=F(1),
    open_risers=False,
    down=False,
    turn=0.0,
)
ODD: dict[str, tuple[Surface, ...]] = {
    "a flight alone": (up(9),),
    "a ramp alone": (ramp(240, 20),),
    "a landing alone": (land(200),),
    "up, up": (up(6), up(6)),
    "up, down": (up(6), down(6)),
    "down, up": (down(6), up(6)),
    "up, down unlike": (up(6), down(8, rise=F(13, 2))),
    "ramp, then a turned flight": (ramp(), up(8, 90.0)),
    "flight, then a turned ramp": (up(8), ramp(120, 10, -90.0)),
    "three turned landings": (land(60), land(60, 90.0), land(60, -45.0)),
    "crossed, turn in the middle": (up(6), land(11, **CROSSED), land(11, 90.0, **CROSSED), up(6)),
    "crossed, turn at its start": (up(6), land(11, 90.0, **CROSSED), up(6)),
    "crossed, up then down": (up(6), land(30, **CROSSED), down(6)),
    "crossed, down then up": (down(6), land(12, **CROSSED), up(6)),
    "crossed beside a ramp": (ramp(), land(20, **CROSSED), up(6)),
    "half-turn, one run": (up(6), land(5, **CROSSED), land(6, 180.0, **CROSSED), up(6)),
    "half-turn, too short": (up(6), land(4, **CROSSED), land(4, 180.0, **CROSSED), up(6)),
    "ramp up, ramp down": (ramp(), ramp(120, -10)),
    "ramps turned into a mitre": (ramp(120, 10), ramp(120, -10, 90.0)),
    "steps, ramp, steps": (land(), up(4), ramp(144, 12, rail_height=F(36)), up(5), land(60)),
    "steps down to a ramp": (land(), down(4), ramp(144, -12), down(5), land(60)),
    "surveyed between landings": (land(), SURVEY, land(60)),
    "post forced on a ramp": (land(), up(4), ramp(144, 12, start_post=F(9)), land(60)),
    "post forced at a gentle joint": (land(60), ramp(144, 12, start_post=F(7)), land(60, start_post=F(-8))),
    "line posts forced": (
        land(120, posts=(F(30), F(70))), up(8, posts=(F(5), F(38))), land(60, posts=())
    ),
}  # fmt: skip


BESIDE: dict[str, tuple[Surface, ...]] = {
    "left": (land(120), land(72, -90.0), land(60, 90.0), down(5, 90.0), land(60)),
    "right": (
        land(60),
        up(5, -90.0),
        land(36, -90.0),
        up(6, -90.0),
        land(60, 90.0),
        ramp(144, 12, -30.0),
        land(60, 45.0),
    ),
    "left round a well": (up(6), land(9, **CROSSED), land(9, 180.0, **CROSSED), up(6), land(60)),
    "right outside": (land(60), up(5, 90.0), land(60, 90.0), up(6, 30.0), land(60)),
    "left lined up": (land(60), up(6), land(0, 90.0, **CROSSED), up(6), land(60)),
}
"""Guards that stand out from stairs with turns, by the hand and what they are."""


def odd(name: str, **changes) -> Job:
    return replace(BASE, surfaces=ODD[name], **changes)


def _jobs() -> dict[str, Job]:
    jobs = {path.stem: read_job(path) for path in sorted(EXAMPLES.glob("*.toml"))}
    jobs |= {name: odd(name) for name in ODD}
    jobs["walls at a flight's ends"] = odd("a flight alone", start="wall", end="wall")
    jobs["newels at three landings' ends"] = odd("three turned landings", start="newel", end="newel")
    corner = replace(BASE.post, corner="two", corner_offset=F(4))
    jobs["corners of two posts"] = odd("three turned landings", post=corner)
    side = replace(BASE.post, mount="side", drop=F(6), offset=F(2), setback=F(5))
    jobs["side-mounted"] = odd("steps, ramp, steps", post=side)
    for hand, surfaces in BESIDE.items():
        jobs[f"beside, {hand}"] = replace(BASE, surfaces=surfaces, post=replace(side, hand=hand.split()[0]))
    short = replace(BASE.strand, longest_run=F(100), angle_changes=0)
    jobs["short straight runs"] = odd("steps, ramp, steps", strand=short)
    jobs["ended at joints"] = odd("steps, ramp, steps", strand=replace(BASE.strand, at_joints="break"))
    jobs["flight heights solved"] = replace(
        BASE, rail=replace(BASE.rail, height=F(36), meet="flight-height"),
        surfaces=(land(), up(5), land(60), down(5), land(60)),
    )  # fmt: skip
    return jobs | {f"random {seed}": random_line(seed) for seed in SEEDS}


JOBS = _jobs()
"""Every line the tests walk over, by name."""

LONG = {"tower"}
"""Slow to lay out and alike in all its flights."""
