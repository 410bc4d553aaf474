"""Joints as they are built: each strand's bend, slope and skew at the post, and the fitting that does it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

from stairguard.model.guard.passages import Ended
from stairguard.model.guard.pieces import Fitting, Pass, StrandRun
from stairguard.model.guard.placed_posts import PlacedPost
from stairguard.model.guard.rail_joints import Joint, JointStrand
from stairguard.model.guard.surfaces import Point
from stairguard.relations.printed import scalars
from stairguard.solve.joint.rail_meeting import Meeting
from stairguard.solve.plan import Plan

if TYPE_CHECKING:
    from stairguard.model.guard.jogs import Remedy


def joint_of(
    plan: Plan, meeting: Meeting, posts: Sequence[PlacedPost], tensioned: dict[tuple[str, int], set[int]]
) -> Joint:
    """A joint with its post, or two of a corner, and its strands.

    ``tensioned`` has the surfaces from which each strand (post label, number) comes to a tensioner at a post.
    """
    joined, before, after = plan.joined[meeting.index], meeting.before, meeting.after
    meets = None
    if meeting.meets is not None:
        meets = Point(meeting.meets, plan.rails.top(before, meeting.meets))
    jog = joined.step if joined.jogs else Fraction(0)
    # of the gentler one's rail above the other's, of two alike the second's above the first's
    signed = -jog if abs(before.slope) < abs(after.slope) else jog
    first, second = joined.ends
    ends = Point(first, plan.rails.top(before, first)), Point(second - meeting.circuit, plan.rails.top(after, second))
    return Joint(
        between=(before.index, after.index),
        boundary=meeting.boundary,
        turn_deg=meeting.turn_deg,
        bend_deg=joined.bend_deg,
        mitre_deg=scalars.mitre(joined.bend_deg),
        meets=meets,
        nosing=meeting.nosing,
        post=posts[0].label,
        station=meeting.station,
        jog=signed,
        cut=joined.cut,
        unmitred=joined.unmitred,
        remedies=_remedies(plan, meeting) if jog else (),
        barred=plan.barred[meeting.index],
        strands=tuple(_strands(plan, meeting, posts, tensioned)),
        second_post=posts[1].label if meeting.two else None,
        chord=joined.chord,
        ends=ends,
        higher=None if not jog else after.index if jog > 0 else before.index,
        apart=joined.step if joined.mitred else Fraction(0),
        lap=joined.lap,
    )


def _remedies(plan: Plan, meeting: Meeting) -> tuple[Remedy, ...]:
    from stairguard.solve.joint.jog_ways import proposals  # few guards have a jog

    return proposals(plan.rails, meeting)


def _strands(
    plan: Plan, meeting: Meeting, posts: Sequence[PlacedPost], tensioned: dict[tuple[str, int], set[int]]
) -> Iterator[JointStrand]:
    here = {s.index: s for s in (meeting.before, meeting.after)}
    # each of two posts has its outer face square to its own leg
    skews = meeting.stance.askews_deg
    bend, chord = plan.joined[meeting.index].bend_deg, plan.joined[meeting.index].chord
    for number, surfaces, label, ended, passed in _at_joint(meeting, posts):
        surface = here[surfaces[0]]
        elevation = surface.datum(meeting.station) + plan.fields[surface.index].heights[number - 1]
        fitting: Fitting = _turned(meeting)
        if ended is not None:
            fitting = "tensioner" if surface.index in tensioned.get((label, number), ()) else "terminal"
        there = [s.index in surfaces for s in (meeting.before, meeting.after)]
        pitches = meeting.before.pitch_deg, meeting.after.pitch_deg
        turned, end_skew = bend if ended is None else 0.0, None
        if passed and chord is not None:  # past the post of its own leg it runs on the chord
            turned, end_skew = chord.bends_deg[there.index(True)], chord.skew_deg
        yield JointStrand(
            number=number,
            station=meeting.station,
            elevation=elevation,
            bend_deg=turned,
            ended=ended,
            surfaces=surfaces,
            fitting=fitting,
            slopes_deg=(pitches[0] if there[0] else None, pitches[1] if there[1] else None),
            skews_deg=(skews[0] if there[0] else None, skews[1] if there[1] else None),
            passed=_turned(meeting) if passed else None,
            end_skew_deg=end_skew,
            pull=scalars.fitting_force(1.0, turned) if ended is None and not meeting.two else 0.0,
        )


class _Coming(NamedTuple):
    """A strand's number and surfaces at a joint, the post where it is held or ends, and why it has ended there.

    ``passed``: whether it passes the post of its own leg before it ends at the corner's other one.
    """

    number: int
    surfaces: tuple[int, ...]
    post: str
    ended: Ended | None
    passed: bool = False


def _at_joint(meeting: Meeting, posts: Sequence[PlacedPost]) -> Iterator[_Coming]:
    """Each strand that comes to a joint, whole ones first."""
    first = posts[0]
    if not meeting.two:
        for hole in sorted(first.holes, key=lambda h: (len(h.surfaces) == 1, h.surfaces, h.strand)):
            yield _Coming(hole.strand, hole.surfaces, first.label, hole.passage.ended)
        return
    ends = {hole.strand: hole.passage.ended for post in posts for hole in post.holes if not hole.passage.passes}
    for hole in first.holes:
        if hole.strand not in ends:
            yield _Coming(hole.strand, (meeting.before.index, meeting.after.index), first.label, None)
    for post, other in (posts, posts[::-1]):
        for hole in post.holes:
            if hole.strand in ends:
                passed = hole.passage.passes
                at = other.label if passed else post.label
                yield _Coming(hole.strand, hole.surfaces, at, hole.passage.ended or ends[hole.strand], passed)


def passes(plan: Plan, posts: Sequence[PlacedPost]) -> Counter[Fitting]:
    """How many holes of each kind strands pass unbroken."""
    return Counter(
        "straight" if post.joint is None else _turned(plan.meetings[post.joint])
        for post in posts
        for hole in post.holes
        if hole.passage.passes
    )


def _turned(meeting: Meeting) -> Pass:
    """What carries a strand through the post of a joint, or through each of two."""
    before, after = meeting.before.slope, meeting.after.slope
    if not meeting.turn_deg:
        return "straight" if before == after else "one plane"
    return "compound" if before or after else "one plane"


def tensioners(runs: Sequence[StrandRun]) -> dict[tuple[str, int], set[int]]:
    """For each post and strand, the surfaces from which the strand comes to a tensioner there."""
    found: dict[tuple[str, int], set[int]] = {}
    for run in runs:
        end = run.surfaces[0] if run.tensioner == run.posts[0] else run.surfaces[-1]
        found.setdefault((run.tensioner, run.strand), set()).add(end)
    return found
