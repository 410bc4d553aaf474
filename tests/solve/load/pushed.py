"""Guards under a push: lines laid out once, then held to any tension, push and climate, which place nothing."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F
from functools import cache

from stairguard.model.guard.solved_layout import Layout
from stairguard.model.job import Climate, Job, Push
from stairguard.solve.load.guard_deflection import guard_give
from tests.solve.lines import EXAMPLES, JOBS, LONG, solved
from tests.solve.twoposts import TWO

NEWTONS = F("4.448")
"""About a pound-force, so that metric jobs are held to like tensions and pushes."""

NAMES = (
    *(path.stem for path in sorted(EXAMPLES.glob("*.toml")) if path.stem not in LONG),
    "up, down unlike", "crossed, turn in the middle", "ramps turned into a mitre", "steps down to a ramp",
    "walls at a flight's ends", "corners of two posts", "side-mounted", "short straight runs", "ended at joints",
    "random 5", "random 11",
)  # fmt: skip
CORNERS = ("random 30", "random 87", "over a hip", "broken at one post", "broken at both posts")
LINES = {**{name: JOBS[name] for name in NAMES}, **{f"two {name}": TWO[name] for name in CORNERS}}
"""Lines of every kind by name, those with corners of two posts last; each is laid out once."""

SOME = (
    "deck-ramp", "workshop-break", "terrace-open", "short straight runs", "side-mounted", "random 5", "two random 87",
    "two broken at one post",
)  # fmt: skip
"""Of every kind one or two, for what takes its time."""


def asking(job: Job, tension="200", force="10", sphere="rule", source="set", climate=None, **push) -> Job:
    """A job with tension and force in lbf, or about as much in N; the sphere None, the rules' own, or a length."""
    scale = F(1) if job.unit == "in" else NEWTONS
    of = lambda value: None if value is None else F(value) * scale  # noqa: E731  # two figures of one kind
    size = None if sphere == "rule" else F(4 if job.unit == "in" else 100) if sphere == "usual" else F(sphere)
    strand = replace(job.strand, tension=of(tension), source=source)
    return replace(job, strand=strand, push=Push(force=of(force), sphere=size, **push), climate=climate)


@cache
def pushed(name: str, **asked) -> Layout:
    """A line under a push, laid out without it."""
    job = LINES[name]
    layout = replace(solved(job), job=asking(job, **asked))
    return replace(layout, give=guard_give(layout))


def climate(**changed) -> Climate:
    return replace(Climate(now=F(20), coldest=F(-20), warmest=F(50), frame=(("steel", F(1)),)), **changed)
