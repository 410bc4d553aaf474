"""Guard lines whose plan turns are made by two posts each."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F

from stairguard.model.job import Job
from tests.solve.jobs import BASE, random_line
from tests.solve.lines import land, odd, ramp, up

# random lines that have room for two posts at every turn; on slopes, with jogs, with runs broken at one of the two
_SEEDS = (4, 5, 7, 19, 20, 21, 30, 31, 48, 70, 80, 84, 87, 100, 108, 114, 139)


def two_posts(job: Job, offset: int = 6) -> Job:
    return replace(job, post=replace(job.post, corner="two", corner_offset=F(offset)))


def _jobs() -> dict[str, Job]:
    jobs = {f"random {seed}": two_posts(random_line(seed)) for seed in _SEEDS}
    jobs["ramps up"] = two_posts(
        replace(BASE, rules="none", surfaces=(ramp(120, 12), ramp(120, 12, 60.0), ramp(120, 12, -30.0)))
    )
    jobs["over a hip"] = two_posts(replace(BASE, rules="none", surfaces=(ramp(120, 20), ramp(120, -20, 90.0))))
    jobs["past a right angle"] = two_posts(replace(BASE, rules="none", surfaces=(ramp(), land(120, -120.0))))
    jobs["level"] = two_posts(odd("three turned landings"))
    short = replace(BASE.strand, angle_changes=1)
    jobs["broken at one post"] = two_posts(replace(BASE, strand=short, surfaces=(land(90), land(90, 45.0), up(6))))
    straight = replace(BASE.strand, angle_changes=0)
    jobs["broken at both posts"] = two_posts(replace(BASE, strand=straight, surfaces=(ramp(), ramp(120, 12, -45.0))))
    return jobs


TWO = _jobs()
