"""Strands from terminal to terminal: lengths, why each ends where it does, and where its tensioner goes."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from stairguard.errors import Fault, JobError
from stairguard.geometry.marks import figure_text, mark_below, plain_text
from stairguard.model.guard.passages import Ended, StrandSides
from stairguard.model.guard.pieces import StrandRun
from stairguard.model.guard.placed_posts import PlacedPost
from stairguard.solve.plan import Plan
from stairguard.solve.strand.stringing import Strung, Support


def strand_runs(plan: Plan, posts: tuple[PlacedPost, ...], strung: Sequence[Strung]) -> tuple[StrandRun, ...]:
    """Every strand top down, in station order."""
    runs = [run for one in strung for run in _runs(plan, posts, one)]
    return tuple(sorted(runs, key=lambda r: r.strand))


def _runs(plan: Plan, posts: tuple[PlacedPost, ...], one: Strung) -> Iterator[StrandRun]:
    strand = plan.job.strand
    take_up = float(strand.terminal_take_up + strand.tensioner_take_up)
    stretch, supports = one.stretch, one.stretch.supports
    for a, b in pairwise(one.places):
        length = stretch.length(a, b)
        if length <= take_up:
            first, last = (posts[supports[k].stand].label for k in (a, b))
            between = f"from {first} to {last} between bearing faces"
            of = f"the {figure_text(length)} that strand {one.numbers[0]} has {between}"
            most = plain_text(mark_below(Fraction(length), plan.job.mark, less=True))
            must = f"take-ups of no more than {most} together, to be less than {of}; or those two posts farther apart"
            raise JobError(Fault("strand.terminal_take_up and tensioner_take_up", must, take_up))
        part = supports[a : b + 1]
        held = [posts[s.stand] for s in part]
        labels = tuple(post.label for post in held)
        bays = [(q.at - p.at) - p.reaches[1] - q.reaches[0] for p, q in pairwise(part)]
        longest = max(bays)
        where = bays.index(longest)
        # at the end nearer to the longest bay: the pull reaches it past the fewest posts
        nearer_start = where < len(bays) - 1 - where
        surfaces = _over(plan, one, part, held[0].station, held[-1].station)
        changes = sum(s.bends for s in part[1:-1])
        for number in one.numbers:
            ends = _ended(held[0], number, "after"), _ended(held[-1], number, "before")
            yield StrandRun(
                strand=number,
                surfaces=surfaces,
                posts=labels,
                angle_changes=changes,
                length=length,
                cut_length=length - take_up,
                ends=ends,
                bears=stretch.bearing(a, b),
                tensioner=labels[0] if nearer_start else labels[-1],
                longest_bay=longest,
                bays=tuple(bays),
            )


def _over(plan: Plan, one: Strung, part: Sequence[Support], first: Fraction, last: Fraction) -> tuple[int, ...]:
    """Surfaces that a run lies over, of those of its stretch."""
    if len(part) == len(one.stretch.supports):
        return one.surfaces
    low = bisect_right(one.surfaces, first, key=lambda i: plan.stops[i][1].station)
    high = bisect_left(one.surfaces, last, key=lambda i: plan.stops[i][0].station)
    if low < high:
        return one.surfaces[low:high]
    return one.surfaces[high - 1 : low + 1]  # between the two posts of a corner: over neither leg


def _ended(post: PlacedPost, number: int, side: StrandSides) -> Ended:
    """Why a strand that lies on one side of a post ends there."""
    holes = (hole for hole in post.holes if hole.strand == number and hole.passage.side in (side, "both"))
    return next(hole.passage.ended for hole in holes if hole.passage.ended is not None)
