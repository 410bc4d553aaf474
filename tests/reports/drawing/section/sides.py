"""Guards that stand beside the stair, for the tests of their sections."""

from dataclasses import replace
from fractions import Fraction as F
from functools import cache

from stairguard.model.job import Landing, Ramp
from tests.reports import guards


def _beside(job, drop, offset):
    return replace(job, post=replace(job.post, mount="side", drop=F(drop), offset=F(offset)))


def _turned(job, turn, hand, **post):
    first, flight, last = job.surfaces
    surfaces = (first, Landing(length=F(60), turn=float(turn)), flight, last)
    return replace(job, post=replace(job.post, hand=hand, **post), surfaces=surfaces)


def _ramp(job):
    level = Landing(length=F(60), turn=0.0)
    return replace(job, surfaces=(level, Ramp(length=F(144), rise=F(12), turn=0.0), level))


JOBS = {
    "down": _beside(guards.inch_job(rules="irc-2021", down=True, post="3.5"), 9, "15/4"),
    "open": _beside(guards.inch_job(rules="irc-2021", open_risers=True, rise="7", run="11", tread="3.25"), 8, 2),
    "wide": _beside(guards.inch_job(rules="irc-2021", spacing="6"), 6, 5),
    "close": _beside(guards.inch_job(rules="irc-2021"), 3, "1/2"),
    "metric": _beside(guards.job(rules="nz-f4as1"), 180, 95),
    "outside": _turned(_beside(guards.inch_job(rules="irc-2021"), 6, "15/4"), 90, "right"),
    "inside": _turned(_beside(guards.inch_job(rules="irc-2021"), 6, "15/4"), 90, "left"),
    "two posts": _turned(
        _beside(guards.inch_job(rules="irc-2021"), 6, "15/4"), -45, "left", corner="two", corner_offset=F(6)
    ),
    "ramp": _ramp(_beside(guards.inch_job(rules="irc-2021"), 6, "3/2")),
}


@cache
def checked(name):
    return guards.checked(JOBS[name])


@cache
def sheets(name):
    return guards.sheets(checked(name))
