"""What is longer than any stock: rails spliced over posts, by the fewest splices; strands in shorter runs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from stairguard.geometry.marks import piece_mark
from stairguard.model.guard.pieces import RailCut, StrandRun
from stairguard.model.guard.placed_posts import PlacedPost
from stairguard.model.guard.rails_and_strands import RailLine
from stairguard.model.guard.stock import Spliced, StockPlan
from stairguard.model.job import Job
from stairguard.solve.cut.cut_pieces import tip
from stairguard.solve.plan import Plan


def with_splices(
    plan: Plan, rails: Sequence[RailLine], posts: Sequence[PlacedPost], cuts: Sequence[RailCut],
    runs: Sequence[StrandRun], plans: Sequence[tuple[str, StockPlan]],
) -> tuple[tuple[str, StockPlan], ...]:  # fmt: skip
    """Stock plans as they are, with places to splice rails that no stock holds, and a run short enough for strands."""

    def told(what: str, one: StockPlan) -> StockPlan:
        if what == "strand" and one.too_long:
            return replace(one, longest_run=_shorter_run(plan.job, posts, runs))
        if what != "rail" or not one.too_long:
            return one
        long, lines = {piece.label for piece in one.too_long}, {rail.surface: rail for rail in rails}
        found = (
            Spliced(cut.label, index, *_parts(plan, cut, lines[index], posts))
            for cut in cuts
            if cut.label in long
            for index in cut.surfaces
        )
        return replace(one, spliced=tuple(found))

    return tuple((what, told(what, one)) for what, one in plans)


def _shorter_run(job: Job, posts: Sequence[PlacedPost], runs: Sequence[StrandRun]) -> Fraction | None:
    """The longest run whose strand stock holds as marked; None where a bay with its posts may be as long."""
    most = max(job.stock.strand) + job.strand.terminal_take_up + job.strand.tensioner_take_up - job.mark
    bay = max(bay for run in runs for bay in run.bays)
    return most if bay + 2 * max(post.width for post in posts) < most else None


def _parts(
    plan: Plan, cut: RailCut, rail: RailLine, posts: Sequence[PlacedPost]
) -> tuple[tuple[str, ...], tuple[Fraction, ...]]:
    """Posts to splice over and the parts as marked; none where a part would still be too long."""
    longest = max(plan.job.stock.rail)
    over = dict(_places(plan, cut, rail, posts))
    chosen = [Fraction(0)]
    while cut.marked - chosen[-1] > longest:
        reached = [mark for mark in over if chosen[-1] < mark <= chosen[-1] + longest]
        if not reached:
            return (), ()
        chosen.append(reached[-1])
    parts = tuple(end - start for start, end in pairwise([*chosen, cut.marked]))
    return tuple(over[mark] for mark in chosen[1:]), parts


def _places(plan: Plan, cut: RailCut, rail: RailLine, posts: Sequence[PlacedPost]) -> Iterator[tuple[Fraction, str]]:
    """Marks from the long point at the start of a rail over the middles of its posts, and their labels.

    All are measured from there, so that the parts come to what the whole rail is marked.
    """
    surface, sec, mark = plan.line.surfaces[rail.surface], float(plan.secs[rail.surface]), plan.job.mark
    before = tip(plan, surface, cut.start_cut)
    for post in posts:
        if rail.start.s < post.station < rail.end.s and post.support == "post":
            yield piece_mark(before + float(post.station - rail.start.s) * sec, mark), post.label
