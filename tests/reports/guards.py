"""Guards for the drawings' tests: jobs in plain keywords, random jobs, and the whole way from job to sheets."""

from __future__ import annotations

import random
from fractions import Fraction as F

from stairguard.errors import StairguardError
from stairguard.io.parse.exact_lengths import format_length
from stairguard.model.job import Flight, Job, Landing, Post, Rail, Strand
from stairguard.model.rules import RuleSet
from stairguard.reports.drawing.elevation.elevation_sheets import elevation
from stairguard.rules.findings.checks import check
from stairguard.rules.findings.designed import tell
from stairguard.rules.pack.reader import read_rules
from stairguard.solve.lay_out import lay_out

DATE = "2026-02-03"
NO_RULES = RuleSet(name="none", title="no rules", rules=())


def job(
    *,
    title="Test stair",
    unit="mm",
    mark=None,
    rules="none",
    risers=16,
    rise="193.75",
    run="250",
    nosing="9.93",
    tread="30",
    down=False,
    open_risers=False,
    rail="900",
    landing_rail="1000",
    depth="40",
    lengths=("1200", "1500"),
    post="50",
    max_gap="1200",
    setback="120",
    spacing="75",
    diameter="4",
    at_joints="through",
):
    return Job(
        title=title,
        unit=unit,
        mark=F(mark) if mark else F(1) if unit == "mm" else F(1, 16),
        rules=rules,
        rail=Rail(height=F(rail), landing_height=F(landing_rail), depth=F(depth), width=F(60), meet="as-given"),
        strand=Strand(
            diameter=F(diameter), spacing=F(spacing), at_joints=at_joints, terminal_take_up=F(0), tensioner_take_up=F(0)
        ),
        post=Post(width=F(post), max_gap=F(max_gap), setback=F(setback)),
        surfaces=(
            Landing(length=F(lengths[0]), turn=0.0),
            Flight(
                risers=risers,
                rise=F(rise),
                run=F(run),
                nosing=F(nosing),
                tread=F(tread),
                open_risers=open_risers,
                down=down,
                turn=0.0,
            ),
            Landing(length=F(lengths[1]), turn=0.0),
        ),
    )


def inch_job(**changed):
    given = {
        "unit": "in", "risers": 7, "rise": "7.25", "run": "10.5", "nosing": "1", "tread": "1.25", "rail": "36",
        "landing_rail": "36", "depth": "1.5", "lengths": ("48", "60"), "post": "1.5", "max_gap": "48",
        "setback": "5", "spacing": "3", "diameter": "1/8",
    }  # fmt: skip
    return job(**(given | changed))


def checked(job, rules=None):
    if rules is None:
        rules = NO_RULES if job.rules == "none" else read_rules(job.rules, job.unit)
    return check(lay_out(job, rules))


def formatter(job):
    return lambda value: format_length(value, job.unit, job.mark)


def sheets(checked):
    return elevation(tell(checked, fixes=False, named=False), DATE, formatter(checked.layout.job))


TITLES = (
    "Quarry lookout, lower stair",
    "",
    "$\\frac{1}{2}$ & <b>bold</b> _{x} ^2 % # \\n",
    "Ångström Çelik Łódź Žižkov Ñandú ﷽ 楼梯栏杆 درج سلم",
    "W" * 400,
    "a very long title that goes on and on about a stair behind the house by the river " * 5,
    "line\nbreak\ttab \u202eright to left\u202c \u200b zero",
)


def _length(rng, low, high, unit):
    mm = rng.uniform(low, high) if rng.random() < 0.7 else low * (high / low) ** rng.random()
    return F(round(mm, 1)).limit_denominator(10) if unit == "mm" else F(round(mm / 25.4 * 16), 16) or F(1, 16)


def random_job(seed):
    """Any job a person could write, and some only a test would; not all of them can be laid out."""
    rng = random.Random(seed)
    unit = rng.choice(("mm", "in"))

    def of(low, high):
        return _length(rng, low, high, unit)

    run = of(60, 600)
    risers = rng.choice((2, 2, 3, 4, 5, 7, 10, 12, 16, 16, 20, 30, 45, 80)) if rng.random() < 0.96 else 400
    rail = of(700, 1500)
    width = of(8, 150)
    return job(
        title=rng.choice(TITLES),
        unit=unit,
        rules=rng.choice(("none", "none", "irc-2021" if unit == "in" else "nz-f4as1")),
        risers=risers,
        rise=of(30, 260),
        run=run,
        nosing=min(of(0.5, 50), run / 4) if rng.random() < 0.7 else F(0),
        tread=of(1, 80) if rng.random() < 0.8 else F(0),
        down=rng.random() < 0.5,
        open_risers=rng.random() < 0.3,
        rail=rail,
        landing_rail=rail + of(1, 300) * rng.choice((-1, 0, 1, 1)),
        depth=of(10, 100),
        lengths=tuple(of(700, 30000 if rng.random() < 0.2 else 4000) for _ in range(2)),
        post=width,
        max_gap=of(300, 3000),
        setback=run * F(rng.randrange(20, 80), 100),
        spacing=of(20, 400),
        diameter=of(2, 8),
        at_joints=rng.choice(("through", "break")),
    )


def laid_out(seed):
    """A random job checked, or None where no such guard can be laid out."""
    try:
        return checked(random_job(seed))
    except StairguardError:
        return None
