"""The order of solving, and nothing else: job and rules in, layout out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from stairguard.errors import JobError
from stairguard.geometry.marks import piece_mark
from stairguard.model.guard.pieces import Comparison, StrandRun, Travel, WayTotals
from stairguard.model.guard.placed_posts import PlacedPost, walked
from stairguard.model.guard.rails_and_strands import Field, RailLine
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface, Point
from stairguard.model.job import Job, MeasuredFlight
from stairguard.model.rules import RuleSet
from stairguard.solve.cut.cut_pieces import cut_list
from stairguard.solve.cut.splices import with_splices
from stairguard.solve.cut.stock_plan import stock_plans
from stairguard.solve.decide_line import plan, restrung
from stairguard.solve.gaps.openings import measure
from stairguard.solve.gaps.unguarded import past_ends, unguarded
from stairguard.solve.joint.rail_meeting import Meeting
from stairguard.solve.line.closing import once
from stairguard.solve.line.surveyed_flight import straightest
from stairguard.solve.plan import Plan
from stairguard.solve.post.passing import passing
from stairguard.solve.post.positions import Stand, stands
from stairguard.solve.post.posts import place_posts
from stairguard.solve.strand.fittings import joint_of, tensioners
from stairguard.solve.strand.runs import strand_runs
from stairguard.solve.strand.stringing import Strung, broken_at, run_lengths, string


def lay_out(job: Job, rules: RuleSet) -> Layout:
    """Solve a guard line: any surfaces, in order.

    Parameters
    ----------
    job : lengths in the job's unit
    rules : the same unit, those that bind at the job's site to be picked; an empty set limits nothing

    Raises
    ------
    JobError
        Figures that cannot be laid out: a landing too short for its posts, a post gap that no tread can keep, a
        rail below the lowest strand. Each fault names the key to change.
    """
    return replace(_complete(plan(job, rules.at(job.site))), pack=rules)


def lay_out_under(job: Job, rules: RuleSet, others: Sequence[RuleSet]) -> tuple[Layout, ...]:
    """Solve a guard line by one set of rules, and hold that same guard to others.

    Parameters
    ----------
    job, rules : as of `lay_out`
    others : the same unit; one layout comes of each, alike but for the rules it is held to
    """
    decided = plan(job, rules.at(job.site))
    return tuple(
        replace(_complete(replace(decided, rules=other.at(job.site))), pack=other, laid_by=rules) for other in others
    )


def _complete(decided: Plan) -> Layout:
    """Place and measure everything that has been decided."""
    job, rules = decided.job, decided.rules
    places = tuple(stands(decided))
    strung = string(decided, places)
    placed = place_posts(decided, places, broken_at(strung))
    posts, closing = once(placed, decided.carriers[-1])
    runs = strand_runs(decided, posts if closing is None else (*posts, closing), strung)
    made: dict[int, list[PlacedPost]] = {}
    for post in posts:
        if post.joint is not None:
            made.setdefault(post.joint, []).append(post)
    tight = tensioners(runs)
    for meeting in decided.meetings:
        if meeting.circuit:
            made[meeting.index].reverse()  # the line comes to the one it met last, and leaves the first
    joints = tuple(joint_of(decided, meeting, made[meeting.index], tight) for meeting in decided.meetings)
    rails = tuple(_rail(decided, surface) for surface in decided.line.surfaces)
    cuts = cut_list(decided, rails, posts, runs)
    of_top = rules if job.handrail.height is None else rules.without("handrail height")
    straight = tuple(
        straightest(s, rails[s.index].height, of_top)
        for s in decided.line.surfaces
        if isinstance(s.given, MeasuredFlight)
    )
    fields = tuple(decided.fields.get(s.index, Field(s.index, (), Fraction(0), 0.0)) for s in decided.line.surfaces)
    past = unguarded(decided, posts)
    openings = (*measure(decided, walked(posts, closing)), *past_ends(decided, past))
    layout = Layout(
        job=job,
        rules=rules,
        line=decided.line,
        rails=rails,
        fields=fields,
        joints=joints,
        posts=posts,
        openings=openings,
        runs=runs,
        cuts=cuts,
        comparison=_comparison(decided, places, strung),
        straight=straight,
        stock=with_splices(decided, rails, walked(posts, closing), cuts.rails, runs, stock_plans(job, cuts)),
        closing=closing,
        unguarded=past,
        travel=_travel(job, runs),
    )
    if job.push.force is None and job.strand.tension is None:
        return layout
    from stairguard.solve.load.guard_deflection import guard_give  # scipy: not before a push is asked about

    return replace(layout, give=guard_give(layout))


def _travel(job: Job, runs: Sequence[StrandRun]) -> Travel | None:
    drawn = job.strand.tensioner_travel
    if not drawn or not runs:
        return None
    longest = max(runs, key=lambda run: run.length)
    return Travel(longest, 100 * float(drawn) / longest.length)


def _choice(decided: Plan, places: Sequence[Stand], strung: Sequence[Strung]) -> WayTotals:
    lengths = run_lengths(strung)
    strand = decided.job.strand
    take_up = float(strand.terminal_take_up + strand.tensioner_take_up)
    total = sum((piece_mark(length - take_up, decided.job.mark) for length in lengths), Fraction(0))
    broken = broken_at(strung)
    apart = places if places[0].before is places[0].after else places[:-1]  # where it closes one post is walked twice
    holes = sum(len(passing(decided, stand, broken.get(i, {}))) for i, stand in enumerate(apart))
    bends = sum(
        s.bends for t in strung for i, s in enumerate(t.stretch.supports) if i not in t.breaks for _ in t.numbers
    )
    return WayTotals(
        at_joints=strand.at_joints,
        strands=max(len(f.heights) for f in decided.fields.values()),
        runs=len(lengths),
        terminals=len(lengths),
        tensioners=len(lengths),
        angle_fittings=bends,
        holes=holes,
        strand_total=total,
    )


def _comparison(decided: Plan, places: Sequence[Stand], strung: Sequence[Strung]) -> Comparison:
    """The job's way at the joints beside the other one."""
    strand = decided.job.strand
    chosen = _choice(decided, places, strung)
    other: WayTotals | None = None
    why = ""
    flipped = replace(strand, at_joints="break" if strand.at_joints == "through" else "through")
    try:
        second = restrung(decided, flipped)
        other = _choice(second, places, string(second, places))
    except JobError as error:
        why = str(error)
    through, ended = (chosen, other) if strand.at_joints == "through" else (other, chosen)
    return Comparison(through, ended, strand.at_joints, why)


def _rail(decided: Plan, surface: PlacedSurface) -> RailLine:
    """The rail over one surface, from one end or joint to the next; where rails are not mitred, to the post's face."""
    if not surface.carries:
        return _crossing(decided, surface)
    height = decided.rails.heights[surface.index]
    ends = []
    for stop, outward in zip(decided.stops[surface.index], (-1, 1), strict=True):
        station = stop.station + outward * stop.half
        if stop.joint is not None:
            ends_at = decided.joined[stop.joint].ends
            station = ends_at[1] - decided.meetings[stop.joint].circuit if outward < 0 else ends_at[0]
        ends.append(Point(station, surface.datum(station) + height))
    start, end = ends
    return RailLine(
        surface=surface.index, height=height, underside=decided.undersides[surface.index], start=start, end=end
    )


def _crossing(decided: Plan, landing: PlacedSurface) -> RailLine:
    """No rail of the landing's own: the least heights of its neighbours' over it."""
    meeting = next(m for m in decided.meetings if landing in m.crossed)
    before, after, join = meeting.before, meeting.after, decided.joined[meeting.index]
    post = join.ends[0] if join.mitred else meeting.station
    fold = decided.fold(before, after) if join.mitred and before.slope != after.slope else post
    top = min(decided.rails.top(rail, s) for rail, s in _over(meeting, landing, post)) - landing.start.z
    under = min(decided.underside(rail, s) for rail, s in _over(meeting, landing, fold)) - landing.start.z
    at = Point(post, min(decided.rails.top(rail, post) for rail in (before, after)))
    return RailLine(surface=landing.index, height=top, underside=under, start=at, end=at)


def _over(meeting: Meeting, landing: PlacedSurface, end: Fraction) -> Iterator[tuple[PlacedSurface, Fraction]]:
    """Stations where each of two rails that meet at ``end`` may be lowest over a crossed landing."""
    low, high = landing.start.s, landing.end.s
    if low <= end:
        yield from ((meeting.before, s) for s in (low, min(high, end)))
    if high >= end:
        yield from ((meeting.after, s) for s in (max(low, end), high))
