"""Jobs for the solver's tests, built without the job file."""

from dataclasses import replace
from fractions import Fraction as F
from random import Random

from stairguard.model.job import Flight, Job, Landing, Post, Rail, Strand

BASE = Job(
    "Test stair", "in", F(1, 16), "irc-2021",
    Rail(F(35), F(36), F(3, 2), F(7, 2), "as-given"),
    Strand(F(1, 8), F(3), "through", F(0), F(0)),
    Post(F(3, 2), F(48), F(5)),
    (Landing(F(48), 0.0), Flight(7, F(29, 4), F(21, 2), F(1), F(5, 4), False, False, 0.0), Landing(F(48), 0.0)),
)  # fmt: skip


def mirrored(job: Job) -> Job:
    """The same stair walked the other way."""
    lower, flight, upper = job.surfaces
    return replace(job, surfaces=(upper, replace(flight, down=not flight.down), lower))


def with_flight(job: Job, **changes) -> Job:
    lower, flight, upper = job.surfaces
    return replace(job, surfaces=(lower, replace(flight, **changes), upper))


def random_job(seed: int) -> Job:
    """A valid stair of any size; the seed is all there is to it."""
    rnd = Random(seed)
    sixteenth = lambda lo, hi: F(rnd.randint(lo, hi), 16)  # noqa: E731  # a name for one draw, used on every line below
    rise, run = sixteenth(64, 140), sixteenth(130, 260)
    width = F(rnd.choice([12, 16, 24, 40]), 16)
    flight = Flight(
        rnd.randint(2, 20), rise, run, F(rnd.choice([0, 0, 12, 16, 20]), 16), F(rnd.choice([0, 12, 20, 24]), 16),
        rnd.random() < 0.15, rnd.random() < 0.4, 0.0,
    )  # fmt: skip
    rail = Rail(
        F(rnd.randint(33, 42)), F(rnd.randint(36, 42)), F(rnd.choice([12, 24, 56]), 16), F(7, 2),
        rnd.choice(["as-given", "flight-height"]),
    )  # fmt: skip
    strand = Strand(F(rnd.choice([1, 2, 3]), 16), sixteenth(24, 60), rnd.choice(["through", "break"]), F(1), F(2))
    setback = F(rnd.randint(int(width * 8) + 1, int((run - width / 2) * 16)), 16)
    post = Post(width, F(rnd.randint(40, 80)), setback)
    lands = [Landing(F(rnd.randint(20, 160)), 0.0) for _ in range(2)]
    rules = rnd.choice(["irc-2021", "nz-f4as1", "none"])
    return Job(f"Random {seed}", "in", F(1, 16), rules, rail, strand, post, (lands[0], flight, lands[1]))
