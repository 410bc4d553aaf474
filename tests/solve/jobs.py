"""Jobs for the solver's tests, built without the job file."""

from dataclasses import replace
from fractions import Fraction as F
from random import Random

from stairguard.model.job import Flight, Hand, Job, Landing, MeasuredFlight, Post, Rail, Ramp, Strand

BASE = Job(
    title="Test stair",
    unit="in",
    mark=F(1, 16),
    rules="irc-2021",
    rail=Rail(height=F(35), landing_height=F(36), depth=F(3, 2), width=F(7, 2), meet="as-given"),
    strand=Strand(diameter=F(1, 8), spacing=F(3), at_joints="through", terminal_take_up=F(0), tensioner_take_up=F(0)),
    post=Post(width=F(3, 2), max_gap=F(48), setback=F(5)),
    surfaces=(
        Landing(length=F(48), turn=0.0),
        Flight(
            risers=7, rise=F(29, 4), run=F(21, 2), nosing=F(1), tread=F(5, 4), open_risers=False, down=False, turn=0.0
        ),
        Landing(length=F(48), turn=0.0),
    ),
)


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
        risers=rnd.randint(2, 20),
        rise=rise,
        run=run,
        nosing=F(rnd.choice([0, 0, 12, 16, 20]), 16),
        tread=F(rnd.choice([0, 12, 20, 24]), 16),
        open_risers=rnd.random() < 0.15,
        down=rnd.random() < 0.4,
        turn=0.0,
    )
    rail = Rail(
        height=F(rnd.randint(33, 42)),
        landing_height=F(rnd.randint(36, 42)),
        depth=F(rnd.choice([12, 24, 56]), 16),
        width=F(7, 2),
        meet=rnd.choice(["as-given", "flight-height"]),
    )
    strand = Strand(
        diameter=F(rnd.choice([1, 2, 3]), 16),
        spacing=sixteenth(24, 60),
        at_joints=rnd.choice(["through", "break"]),
        terminal_take_up=F(1),
        tensioner_take_up=F(2),
    )
    setback = F(rnd.randint(int(width * 8) + 1, int((run - width / 2) * 16)), 16)
    post = Post(width=width, max_gap=F(rnd.randint(40, 80)), setback=setback)
    lands = [Landing(length=F(rnd.randint(20, 160)), turn=0.0) for _ in range(2)]
    rules = rnd.choice(["irc-2021", "nz-f4as1", "none"])
    return Job(
        title=f"Random {seed}",
        unit="in",
        mark=F(1, 16),
        rules=rules,
        rail=rail,
        strand=strand,
        post=post,
        surfaces=(lands[0], flight, lands[1]),
    )


def reversed_job(job: Job) -> Job:
    """The same guard line walked the other way: surfaces from the last, down for up, turns negated, the other hand."""
    back = []
    turns = [s.turn for s in job.surfaces[1:]] + [0.0]
    for surface, turn in zip(reversed(job.surfaces), reversed(turns), strict=True):
        changes: dict[str, object] = {"turn": -turn if turn else 0.0}
        if isinstance(surface, Flight):
            changes["down"] = not surface.down
        elif isinstance(surface, Ramp):
            changes["rise"] = -surface.rise
        elif isinstance(surface, MeasuredFlight):
            changes |= _reversed_survey(surface)
        back.append(replace(surface, **changes))
    hand: Hand | None = None if job.post.hand is None else "right" if job.post.hand == "left" else "left"
    return replace(job, surfaces=tuple(back), start=job.end, end=job.start, post=replace(job.post, hand=hand))


def _reversed_survey(flight: MeasuredFlight) -> dict[str, object]:
    """The same nosings from the other end; an upward one's first rise is the downward one's last."""
    end = flight.nosings[-1][0]
    if flight.down:
        first, last = flight.nosings[0], flight.nosings[-1]
        mean = (first[1] - last[1]) / (len(flight.nosings) - 1)
        drop = last[1] - (mean if flight.last_rise is None else flight.last_rise)
        return {
            "down": False, "last_rise": None,
            "nosings": tuple((end - x, z - drop) for x, z in reversed(flight.nosings)),
        }  # fmt: skip
    top = flight.nosings[-1][1]
    return {
        "down": True, "last_rise": flight.nosings[0][1],
        "nosings": tuple((end - x, z - top) for x, z in reversed(flight.nosings)),
    }  # fmt: skip


def random_line(seed: int) -> Job:
    """A guard line of several surfaces of any kind, plausible enough to be laid out."""
    rnd = Random(seed)
    base = random_job(seed)
    sixteenth = lambda lo, hi: F(rnd.randint(lo, hi), 16)  # noqa: E731  # a name for one draw, used on every line below
    surfaces: list = []
    for k in range(rnd.randint(2, 6)):
        turn = float(rnd.choice([0, 0, 90, -90, 45, 30])) if k else 0.0
        kind = rnd.choice(["landing", "landing", "flight", "flight", "ramp", "surveyed"])
        if kind == "landing":
            surfaces.append(Landing(length=F(rnd.randint(30, 150)), turn=turn))
        elif kind == "ramp":
            length = F(rnd.randint(60, 200))
            surfaces.append(Ramp(length=length, rise=length * rnd.choice([-1, 1]) / rnd.choice([8, 12, 20]), turn=turn))
        elif kind == "flight":
            surfaces.append(
                Flight(
                    risers=rnd.randint(3, 12),
                    rise=sixteenth(90, 128),
                    run=sixteenth(150, 200),
                    nosing=F(rnd.choice([0, 16]), 16),
                    tread=F(1),
                    open_risers=False,
                    down=rnd.random() < 0.5,
                    turn=turn,
                )
            )
        else:
            surfaces.append(_surveyed(rnd, sixteenth, turn))
        if surfaces[-1].__class__ is not Landing and rnd.random() < 0.7:
            surfaces.append(Landing(length=F(rnd.randint(30, 150)), turn=float(rnd.choice([0, 0, 90])) if k else 0.0))
    post = replace(base.post, width=F(3, 2), max_gap=F(72), setback=F(4))
    strand = replace(
        base.strand, longest_run=F(rnd.choice([240, 400, 900])), angle_changes=rnd.choice([0, 1, 2]),
        terminal_take_up=F(1, 2), tensioner_take_up=F(1),
    )  # fmt: skip
    ends = [rnd.choice(["post", "post", "wall", "newel"]) for _ in range(2)]
    return replace(base, surfaces=tuple(surfaces), post=post, strand=strand, start=ends[0], end=ends[1])


def _surveyed(rnd: Random, sixteenth, turn: float) -> MeasuredFlight:
    down, points = rnd.random() < 0.5, []
    x, z = F(0), F(0) if down else sixteenth(100, 125)
    for _ in range(rnd.randint(3, 10)):
        points.append((x, z))
        x += sixteenth(155, 175)
        z += sixteenth(100, 125) * (-1 if down else 1)
    return MeasuredFlight(
        nosings=tuple(points),
        nosing=F(1),
        tread=F(1),
        open_risers=False,
        down=down,
        turn=turn,
        last_rise=sixteenth(100, 125) if down else None,
    )
