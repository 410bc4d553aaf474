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

_STEP = Flight(7, F(29, 4), F(21, 2), F(1), F(5, 4), False, False, 0.0)


def _survey(points, **changed):
    return MeasuredFlight(tuple((F(x), F(z)) for x, z in points), F(1), F(1), False, False, 0.0, **changed)


def job(name):
    if name.startswith("line "):
        return random_line(int(name.split()[1]))
    if name == "two posts":  # a turn between ramp-like flights, made by two posts
        post = replace(BASE.post, corner="two", corner_offset=F(5))
        surfaces = (Landing(F(60), 0.0), Landing(F(60), 45.0), _STEP, Landing(F(48), 0.0))
        return replace(BASE, post=post, surfaces=surfaces)
    if name == "bad survey":  # the third nosing stands 6 in above the line of the others
        points = [(0, 7), (10, 14), (20, 27), (30, 28), (40, 35)]
        return replace(
            BASE, rules="nz-f4as1", unit="in", surfaces=(Landing(F(48), 0.0), replace(_survey(points), tread=F(1, 2)))
        )
    if name == "hip":
        return replace(BASE, rules="none", surfaces=(Ramp(F(100), F(25), 0.0), Ramp(F(100), F(-25), 90.0)))
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
