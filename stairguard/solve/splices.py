"""Where rails longer than any stock may be spliced: over posts, the fewest splices whose parts stock holds."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from stairguard.geometry.marks import piece_mark
from stairguard.model.cuts import RailCut
from stairguard.model.guard import PlacedPost, RailLine
from stairguard.model.stock import Spliced, StockPlan
from stairguard.solve.cuts import tip
from stairguard.solve.plan import Plan

__all__ = ["with_splices"]


def with_splices(
    plan: Plan, rails: Sequence[RailLine], posts: Sequence[PlacedPost], cuts: Sequence[RailCut],
    plans: Sequence[tuple[str, StockPlan]],
) -> tuple[tuple[str, StockPlan], ...]:  # fmt: skip
    """Stock plans as they are, that of rails with places to splice those that no stock holds."""

    def told(what: str, one: StockPlan) -> StockPlan:
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


def _parts(
    plan: Plan, cut: RailCut, rail: RailLine, posts: Sequence[PlacedPost]
) -> tuple[tuple[str, ...], tuple[Fraction, ...]]:
    """Posts to splice over and the parts as marked; none where a part would still be too long."""
    longest, mark = max(plan.job.stock.rail), plan.job.mark
    places = list(_places(plan, cut, rail, posts))
    chosen = [0]
    while piece_mark(places[-1][0] - places[chosen[-1]][0], mark) > longest:
        here = places[chosen[-1]][0]
        reached = [
            i for i in range(chosen[-1] + 1, len(places) - 1) if piece_mark(places[i][0] - here, mark) <= longest
        ]
        if not reached:
            return (), ()
        chosen.append(reached[-1])
    chosen.append(len(places) - 1)
    parts = (piece_mark(places[b][0] - places[a][0], mark) for a, b in pairwise(chosen))
    return tuple(places[i][1] for i in chosen[1:-1]), tuple(parts)


def _places(plan: Plan, cut: RailCut, rail: RailLine, posts: Sequence[PlacedPost]) -> Iterator[tuple[float, str]]:
    """How far along the top from the start of a rail it may be parted, its ends' long points first and last."""
    surface, sec = plan.line.surfaces[rail.surface], float(plan.secs[rail.surface])
    yield -tip(plan, surface, cut.start_cut), ""
    for post in posts:
        if rail.start.s < post.station < rail.end.s and post.support == "post":
            yield float(post.station - rail.start.s) * sec, post.label
    yield cut.length + tip(plan, surface, cut.end_cut), ""
