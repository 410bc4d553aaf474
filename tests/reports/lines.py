"""Whole guard lines for the tests of page, lists and result: every shipped example, and random ones."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F
from functools import cache

import stairguard
from stairguard.errors import StairguardError
from stairguard.model.job import Flight, Landing, MeasuredFlight, Ramp
from tests.places import ROOT
from tests.solve.jobs import BASE, random_line

EXAMPLES = sorted(ROOT.joinpath("shared", "examples").glob("*.toml"))
NAMES = (
    [path.stem for path in EXAMPLES]
    + [f"line {seed}" for seed in range(8)]
    + [
        "two posts",
        "bad survey",
        "side",
        "hip",
    ]
)

_STEP = Flight(
    risers=7, rise=F(29, 4), run=F(21, 2), nosing=F(1), tread=F(5, 4), open_risers=False, down=False, turn=0.0
)


def _survey(points, **changed):
    return MeasuredFlight(
        nosings=tuple((F(x), F(z)) for x, z in points),
        nosing=F(1),
        tread=F(1),
        open_risers=False,
        down=False,
        turn=0.0,
        **changed,
    )


def job(name):
    if name.startswith("line "):
        return random_line(int(name.split()[1]))
    if name == "two posts":  # a turn between ramp-like flights, made by two posts
        post = replace(BASE.post, corner="two", corner_offset=F(5))
        surfaces = (
            Landing(length=F(60), turn=0.0),
            Landing(length=F(60), turn=45.0),
            _STEP,
            Landing(length=F(48), turn=0.0),
        )
        return replace(BASE, post=post, surfaces=surfaces)
    if name == "bad survey":  # the third nosing stands 6 in above the line of the others
        points = [(0, 7), (10, 14), (20, 27), (30, 28), (40, 35)]
        return replace(
            BASE,
            rules="nz-f4as1",
            unit="in",
            surfaces=(Landing(length=F(48), turn=0.0), replace(_survey(points), tread=F(1, 2))),
        )
    if name == "hip":
        return replace(
            BASE,
            rules="none",
            surfaces=(Ramp(length=F(100), rise=F(25), turn=0.0), Ramp(length=F(100), rise=F(-25), turn=90.0)),
        )
    if name == "side":
        post = replace(BASE.post, mount="side", drop=F(8), offset=F(2), sleeves=True)
        return replace(BASE, post=post, start="wall", end="newel")
    return stairguard.read_job(next(path for path in EXAMPLES if path.stem == name))


@cache
def checked(name):
    """A line laid out and checked, or None where no such guard exists."""
    try:
        return stairguard.lay_out(job(name))
    except StairguardError:
        return None
