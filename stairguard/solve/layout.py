"""The order of solving, and nothing else: job and rules in, layout out."""

from __future__ import annotations

from fractions import Fraction

from stairguard.model.guard import Joint, JointStrand, Layout, PlacedPost, PlacedSurface, Point, RailLine
from stairguard.model.job import Job
from stairguard.model.rules import RuleSet
from stairguard.relations import scalars
from stairguard.solve.joints import Meeting
from stairguard.solve.openings import measure
from stairguard.solve.plan import Plan, plan
from stairguard.solve.posts import place_posts, whole_count
from stairguard.solve.runs import cut_list, strand_runs

__all__ = ["lay_out"]


def lay_out(job: Job, rules: RuleSet) -> Layout:
    """Solve a guard: one flight between two landings.

    Parameters
    ----------
    job : lengths in the job's unit
    rules : the same unit; an empty set limits nothing

    Raises
    ------
    JobError
        Figures that cannot be laid out: a landing too short for its posts, a post gap that no tread can keep, a
        rail below the lowest strand. Each fault names the key to change.
    """
    decided = plan(job, rules)
    posts = place_posts(decided)
    joints = tuple(_joint(decided, meeting, posts) for meeting in _in_order(decided))
    rails = tuple(_rail(decided, surface) for surface in decided.line.surfaces)
    runs = strand_runs(decided, posts)
    return Layout(
        job, rules, decided.line, rails, decided.fields, joints, posts, measure(decided, posts), runs,
        cut_list(decided, rails, posts, runs),
    )  # fmt: skip


def _in_order(decided: Plan) -> tuple[Meeting, ...]:
    return tuple(sorted((decided.lower, decided.upper), key=lambda m: m.landing.index))


def _meets(decided: Plan, meeting: Meeting) -> Point:
    """Where the tops of both rails, produced, cross."""
    x = meeting.meets + (decided.up.top if meeting.at == "top" else 0)
    level = decided.job.rail.landing_height
    return Point(decided.up.station(x), meeting.landing.start.z + level)


def _joint(decided: Plan, meeting: Meeting, posts: tuple[PlacedPost, ...]) -> Joint:
    landing, flight = meeting.landing, decided.flight
    before, after = (landing, flight) if landing.index < flight.index else (flight, landing)
    turn = after.given.turn
    bend = scalars.bend(before.pitch_deg, after.pitch_deg, turn)
    post = next(p for p in posts if p.role == "joint" and p.stands_on == landing.index)
    reason = decided.through[landing.index]
    return Joint(
        (before.index, after.index), turn, bend, scalars.mitre(bend), _meets(decided, meeting), meeting.meets,
        post.label, post.station, meeting.jog, meeting.remedies, not reason, reason,
        _joint_strands(decided, meeting, before, after, post.station, bend),
    )  # fmt: skip


def _joint_strands(
    decided: Plan,
    meeting: Meeting,
    before: PlacedSurface,
    after: PlacedSurface,
    station: Fraction,
    bend: float,
) -> tuple[JointStrand, ...]:
    whole = whole_count(decided, meeting)

    def strand(k: int, *surfaces: PlacedSurface) -> JointStrand:
        elevation = surfaces[0].datum(station) + decided.fields[surfaces[0].index].heights[k]
        passes = len(surfaces) == 2
        return JointStrand(k + 1, station, elevation, bend if passes else 0.0, passes, tuple(s.index for s in surfaces))

    strands = [strand(k, before, after) for k in range(whole)]
    for surface in (before, after):
        strands += [strand(k, surface) for k in range(whole, len(decided.fields[surface.index].heights))]
    return tuple(strands)


def _rail(decided: Plan, surface: PlacedSurface) -> RailLine:
    """The rail over one surface, from one end or joint to the next; at a jog it ends on the post's face."""
    height = decided.height(surface.index)
    stations = [
        _rail_end(decided, surface, surface.index - 1, surface.start.s, 1),
        _rail_end(decided, surface, surface.index + 1, surface.end.s, -1),
    ]
    start, end = (Point(s, surface.datum(s) + height) for s in stations)
    return RailLine(surface.index, height, decided.undersides[surface.index], start, end)


def _rail_end(decided: Plan, surface: PlacedSurface, neighbour: int, outer: Fraction, inward: int) -> Fraction:
    if not 0 <= neighbour < len(decided.line.surfaces):
        return outer
    landing = neighbour if surface is decided.flight else surface.index
    meeting = decided.meeting(landing)
    station = decided.up.station(meeting.local(decided.up))
    return station + inward * decided.job.post.width / 2 if meeting.jog else station
