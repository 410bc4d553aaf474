"""One flight between two landings while it is being solved: the frame, both joints, posts, and strand fields."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from stairguard.errors import Fault, JobError
from stairguard.geometry.slope import secant
from stairguard.model.guard import Field, PlacedSurface, SurfaceLine
from stairguard.model.job import Job
from stairguard.model.rules import Rule, RuleSet
from stairguard.solve.joints import Meeting, meet, solved_flight_height
from stairguard.solve.profile import Profile
from stairguard.solve.stations import on_treads
from stairguard.solve.strands import Ground, comb, fits_under, own_field
from stairguard.solve.surfaces import Uphill, place, uphill
from stairguard.solve.under import highest

__all__ = ["Plan", "plan"]


@dataclass(frozen=True, slots=True)
class Plan:
    """Everything decided, nothing yet drawn up.

    ``lower`` and ``upper`` are the joints by height, whichever the job lists first. ``treads`` carry line posts.
    ``fields`` and ``undersides`` are by surface index; ``through`` says whether each joint's strands pass whole,
    with the reason where they do not.
    """

    job: Job
    rules: RuleSet
    line: SurfaceLine
    flight: PlacedSurface
    up: Uphill
    sec: Fraction
    rail_height: Fraction
    lower: Meeting
    upper: Meeting
    treads: tuple[int, ...]
    profile: Profile
    undersides: tuple[Fraction, ...]
    fields: tuple[Field, ...]
    through: dict[int, str]

    def meeting(self, landing: int) -> Meeting:
        """The joint of the flight with a landing, by the landing's index."""
        return self.lower if self.lower.landing.index == landing else self.upper

    def height(self, surface: int) -> Fraction:
        """Top of rail over a surface, plumb above its datum."""
        return self.rail_height if surface == self.flight.index else self.job.rail.landing_height


def plan(job: Job, rules: RuleSet) -> Plan:
    """Decide rails, joints, posts and strands of a landing, a flight and a landing."""
    line = place(job.surfaces)
    flight = next(s for s in line.surfaces if s.kind == "flight")
    up, sec = uphill(flight), secant(abs(flight.slope))
    before, after = line.surfaces[flight.index - 1], line.surfaces[flight.index + 1]
    below, above = (after, before) if up.given.down else (before, after)
    height = solved_flight_height(job, up, above) if job.rail.meet == "flight-height" else job.rail.height
    lower, upper = meet(job, rules, up, "bottom", below, height), meet(job, rules, up, "top", above, height)
    profile = _profile(job, up, sec, lower, upper)
    landing_underside = job.rail.landing_height - job.rail.depth
    undersides = tuple(height - job.rail.depth * sec if s is flight else landing_underside for s in line.surfaces)
    grounds = _grounds(job, rules, profile, sec, line, flight, undersides, {below.index: lower, above.index: upper})
    fields, through = _fields(job, grounds, flight.index)
    return Plan(
        job, rules, line, flight, up, sec, height, lower, upper, tuple(sorted(profile.posts)), profile,
        undersides, fields, through,
    )  # fmt: skip


def _profile(job: Job, up: Uphill, sec: Fraction, lower: Meeting, upper: Meeting) -> Profile:
    flight, post = up.given, job.post
    low, high = lower.local(up), upper.local(up)
    treads = on_treads(low, high, flight.run, flight.risers - 1, sec, post)
    half = post.width / 2
    return Profile(
        flight.rise, flight.run, flight.nosing, flight.tread, flight.open_risers,
        flight.risers, low + half, high - half, frozenset(treads), post.setback, post.width,
    )  # fmt: skip


def _largest_spacing(job: Job, rule: Rule | None, sec: Fraction) -> Fraction:
    """Largest plumb spacing: the job's, or what the opening rule leaves when both holes are a mark's half off."""
    plumb = job.strand.spacing * sec
    if rule is not None:
        plumb = min(plumb, (rule.value + job.strand.diameter) * sec - 2 * job.mark)
    if plumb <= 0:
        raise JobError(Fault("strand.diameter", "thin enough for the opening rule", float(job.strand.diameter)))
    return plumb


def _grounds(
    job: Job, rules: RuleSet, profile: Profile, sec: Fraction, line: SurfaceLine, flight: PlacedSurface,
    undersides: tuple[Fraction, ...], meetings: dict[int, Meeting],
) -> tuple[Ground, ...]:  # fmt: skip
    """What every surface asks of its strands, in order."""
    d, grounds = job.strand.diameter, []
    for s in line.surfaces:
        under = undersides[s.index]
        if s is flight:
            spacing = _largest_spacing(job, rules.opening("flight"), sec)
            low = _lowest_over_flight(job, rules, profile, sec, under, spacing)
            grounds.append(Ground(s.index, Fraction(0), under, low, spacing, sec, d))
        else:
            rule = rules.opening("landing")
            low = None if rule is None else max(rule.value + d / 2 - job.mark, _clear(job, Fraction(1)))
            spacing = _largest_spacing(job, rule, Fraction(1))
            grounds.append(Ground(s.index, meetings[s.index].shift, under, low, spacing, Fraction(1), d))
    return tuple(grounds)


def _clear(job: Job, sec: Fraction) -> Fraction:
    """Least height of a strand's centre that keeps it clear of nosings or surface once its hole is marked."""
    return job.strand.diameter * sec / 2 + job.mark / 2


def _lowest_over_flight(
    job: Job, rules: RuleSet, profile: Profile, sec: Fraction, underside: Fraction, spacing: Fraction
) -> Fraction | None:
    """Height of the lowest strand: as its own openings allow, less one mark; None where no rule asks."""
    d = job.strand.diameter
    least, most = _clear(job, sec), underside - d * sec
    if most <= least:
        needed = float(job.rail.height - underside + least + d * sec)
        must = f"more than {needed:.6g}, to leave room for a strand under the rail"
        raise JobError(Fault("rail.height", must, float(job.rail.height)))
    if rules.opening("step triangle", "flight") is None:
        most = max(min(most, spacing), least)
    low = highest(profile, d / 2, sec, rules, (least, most), job.mark / 1000)
    return None if low is None else max(low - job.mark, least)


def _fields(job: Job, grounds: tuple[Ground, ...], flight: int) -> tuple[tuple[Field, ...], dict[int, str]]:
    """Strands of every surface, and for each landing's joint why its strands do not pass whole ("" if they do)."""
    main = grounds[flight]
    landings = [g for g in grounds if g is not main]
    if job.strand.at_joints == "break":
        fields = {g.surface: own_field(g) for g in grounds}
        through = {g.surface: "the job ends strands at joints" for g in landings}
    else:
        fields, through = _shared(main, landings)
    for g in grounds:
        _check_room(job, g, fields[g.surface])
    return tuple(fields[g.surface] for g in grounds), through


def _shared(main: Ground, landings: list[Ground]) -> tuple[dict[int, Field], dict[int, str]]:
    """One comb over the flight and each landing whose rail leaves room for strand 1; the others on their own."""
    through = {g.surface: "" for g in landings}
    sharing = list(landings)
    while True:
        fields = {f.surface: f for f in comb(main, sharing)}
        clash = [g for g in (main, *sharing) if not fits_under(g, fields[g.surface])]
        if not clash or not sharing:
            break
        # the highest rail sets strand 1; where that does not clear the flight's rail, the highest cannot share
        pick = max if main in clash else min
        out = pick(sharing if main in clash else clash, key=lambda g: g.roof - g.shift)
        apart = abs(out.underside - out.shift - main.underside)
        through[out.surface] = (
            f"the rails' undersides stand {float(apart):.4g} apart there, so one is in strand 1's way"
        )
        sharing.remove(out)
    own = {g.surface: own_field(g) for g in landings if through[g.surface]}
    return fields | own, through


def _check_room(job: Job, ground: Ground, field: Field) -> None:
    """Refuse strands that would touch each other or the rail once their holes are marked."""
    spacing = field.plumb_spacing or (ground.roof - field.heights[0])
    if spacing < ground.diameter * ground.sec + job.mark:
        must = f"less than the square spacing that fits, {float((spacing - job.mark) / ground.sec):.6g}"
        raise JobError(Fault("strand.diameter", must, float(job.strand.diameter)))
