"""Joint posts: where the rails meet, where a post can stand, and what to do about a jog."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from stairguard.errors import Fault, JobError
from stairguard.model.guard import Change, PlacedSurface, Remedy
from stairguard.model.job import Job
from stairguard.model.rules import RuleSet
from stairguard.solve.surfaces import Uphill
from stairguard.solve.transition import End, landing_height_at, meets_at

__all__ = ["Meeting", "meet", "solved_flight_height"]


@dataclass(frozen=True, slots=True)
class Meeting:
    """One joint of a flight with a landing, in the flight's uphill frame.

    ``meets`` and ``post`` are level distances from the nosing at that end, uphill positive. ``shift`` is how far
    the nosing line, produced, stands above the landing at the post: a strand there has that much more height
    over the landing. ``jog`` is the landing rail's height less the flight rail's, at the post.
    """

    at: End
    landing: PlacedSurface
    meets: Fraction
    post: Fraction
    shift: Fraction
    jog: Fraction
    remedies: tuple[Remedy, ...]

    def local(self, up: Uphill) -> Fraction:
        """x of the post in the flight's frame."""
        return self.post + (up.top if self.at == "top" else 0)


def _room(job: Job, up: Uphill, at: End, landing: PlacedSurface) -> tuple[Fraction, Fraction]:
    """Least and greatest place of a joint post's centre: wholly on the landing, clear of the nosing and end post.

    At the bottom it also stands no farther out than one run, where the nosing line meets the landing: beyond that
    the strands would run into it.
    """
    half = job.post.width / 2
    length = landing.end.s - landing.start.s
    free = length - half - 2 * job.post.width
    if free < half:
        raise JobError(
            Fault(
                f"surface[{landing.index + 1}].length",
                f"at least {float(3 * job.post.width):g} {job.unit}, room for two posts and as much between",
                float(length),
            )
        )
    if at == "top":
        return half, free
    return -min(up.given.run, free), -half


def solved_flight_height(job: Job, up: Uphill, upper: PlacedSurface) -> Fraction:
    """The flight rail's height that leaves no jog at the top joint post, nearest to the height given."""
    rail, flight = job.rail, up.given
    least, most = _room(job, up, "top", upper)
    wanted = meets_at("top", flight.rise, flight.run, rail.height, rail.landing_height)
    # nor so far that the bottom post, one run lower on the same line, could not stand clear of nosing 1
    post = min(max(wanted, least), most, flight.run - least)
    return rail.landing_height - post * up.slope


def meet(job: Job, rules: RuleSet, up: Uphill, at: End, landing: PlacedSurface, height: Fraction) -> Meeting:
    """Solve one joint for a flight rail of ``height``; the post stands as near the meeting point as it can."""
    flight, level = up.given, job.rail.landing_height
    meets = meets_at(at, flight.rise, flight.run, height, level)
    least, most = _room(job, up, at, landing)
    post = min(max(meets, least), most)
    arrives = landing_height_at(at, flight.rise, flight.run, height, post)
    jog = level - arrives
    remedies: tuple[Remedy, ...] = ()
    if jog:
        remedies = (
            Remedy("post station", meets, False, _no_room(job, at, meets, least)),
            _height_remedy(rules, "landing rail height", "landing", arrives),
            _height_remedy(rules, "flight rail height", "flight", height + jog),
        )
    return Meeting(at, landing, meets, post, arrives - height, jog, remedies)


def _no_room(job: Job, at: End, meets: Fraction, least: Fraction) -> str:
    overhangs = meets < least if at == "top" else meets > -job.post.width / 2
    if overhangs:
        return "the post would not stand wholly on the landing, clear of the nosing"
    if at == "bottom":
        return "the strands would run into the landing, or the end post is in the way"
    return "the landing is too short, its end post is in the way"


def _height_remedy(rules: RuleSet, what: Change, place: str, value: Fraction) -> Remedy:
    """Whether every binding rule on guard height at a place allows a height."""
    for rule in rules.of("guard height", place):
        too_low = rule.kind == "at least" and value < rule.value
        too_high = rule.kind == "at most" and value > rule.value
        if rule.binding and (too_low or too_high):
            return Remedy(what, value, False, f"{rule.clause}: {rule.kind} {float(rule.value):g}")
    return Remedy(what, value, value > 0, f"within {rules.name}" if rules.rules else "no rules asked for")
