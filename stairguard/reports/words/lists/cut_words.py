"""Cut lists and stock in English: how pieces are measured, what they come to, and what stock to buy for them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Final, get_args

from stairguard.model.guard.pieces import Cuts
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.stock import Spliced, StockPlan
from stairguard.model.job import Ending, Unit
from stairguard.reports.words.grouping import labels
from stairguard.reports.words.lengths import Figures, rough, typed
from stairguard.reports.words.names import rail_section, surfaces_text

POSTS_MEASURED: Final = (
    "Top: its bevel from level, positive where it rises as stations increase. Two figures: it has two slopes."
)
TOTALS_COUNTED: Final = (
    "Totals add up the pieces as marked, rail and posts by their longest edges. Strand's weight by its metal, fittings "
    "not counted."
)
_STANDING: Final = " or ".join(end for end in get_args(Ending) if end != "post")
"""What a line may end on that is no post of ours."""
_WEIGHT: Final[Mapping[Unit, str]] = {"in": "lb", "mm": "kg"}


def rails_measured(layout: Layout, figures: Figures) -> str:
    """The rail's section, and how its pieces and their cuts are measured."""
    turned = any(cut.across for rail in layout.cuts.rails for cut in (rail.start_cut, rail.end_cut))
    words = (
        " Flat: the piece laid flat, mitre across its top / tilt of the blade from plumb; its long point is left or "
        "right as stations increase, and its length is that of its middle line."
    )
    return (
        f"All of {rail_section(layout, figures)}, depth square to the rail by width. "
        "Lengths along the slope; longest from long point to long point. A cut is told by its angle from "
        f"square across the rail, and whether its long point is on top or under.{words if turned else ''}"
    )


def totals_words(layout: Layout, figures: Figures) -> str:
    """What all pieces and fittings come to."""
    cuts = layout.cuts
    anchors = sum(len(post.holes) for post in layout.posts if post.support != "post")
    at = f", {anchors} of them anchors on a {_STANDING}" if anchors else ""
    return (
        f"In all: {_total(cuts.strand_total, cuts.strand_weight, figures)} of strand, "
        f"{_total(cuts.rail_total, cuts.rail_weight, figures)} of rail, "
        f"{_total(cuts.post_total, cuts.post_weight, figures)} of posts, {_sleeve_total(cuts, figures)}"
        f"{cuts.terminals} terminals, {cuts.tensioners} tensioners, {cuts.angle_fittings} changes of angle, "
        f"{cuts.holes} holes{at}."
    )


def _total(length: Fraction, weight: float | None, figures: Figures) -> str:
    known = "" if weight is None else f" ({rough(weight, _WEIGHT[figures.unit])})"
    return f"{figures.tape(length)}{known}"


def _sleeve_total(cuts: Cuts, figures: Figures) -> str:
    return f"{figures.tape(cuts.sleeve_total)} of sleeves, " if cuts.sleeves else ""


def bought_words(plan: StockPlan, layout: Layout, figures: Figures) -> str:
    """What a plan buys and where it goes, with the bound under which no plan can get."""
    if not plan.bars:
        return "No piece fits." if plan.too_long else "Nothing to buy."
    each = f" of {figures.given(layout.job.stock.kerf)}" if plan.kerf_loss else ""
    words = (
        f"Bought {figures.tape(plan.bought)}: {figures.tape(plan.used)} in pieces, {figures.tape(plan.kerf_loss)} in "
        f"saw cuts{each}, {figures.tape(plan.waste)} left over. "
    )
    if plan.proven:
        return f"{words}No plan buys less: proven."
    if not plan.gap:
        return f"{words}No plan of the pieces that fit buys less."
    return (
        f"{words}No plan can buy less than {figures.tape(plan.bound)}; this one buys {figures.tape(plan.gap)} more "
        "than that bound, and may not be the least."
    )


def left_out_words(plan: StockPlan) -> str:
    """How many pieces a plan leaves out, as no stock is long enough."""
    long = sum(piece.count for piece in plan.too_long)
    fit = sum(bar.count * count for bar in plan.bars for _, count in bar.pieces)
    verb = "is" if long == 1 else "are"
    return (
        f"Not a plan of all the pieces: {long} of {long + fit} {verb} longer than any stock length, and in none of "
        "these figures:"
    )


def longer_words(what: str, plan: StockPlan, layout: Layout, figures: Figures) -> Iterator[str]:
    """Of each piece that no stock holds, what would."""
    for piece in plan.too_long:
        words = f"{piece.count} x {piece.label} of {figures.tape(piece.length)}: buy stock of that length or more"
        if what == "rail":
            for one in plan.spliced:
                words += f"; {_splice(one, layout, figures)}" if one.label == piece.label else ""
        if plan.longest_run is not None:
            words += f"; or break the strands at posts, by longest_run = {typed(plan.longest_run)} in [strand]"
        yield words


def _splice(one: Spliced, layout: Layout, figures: Figures) -> str:
    over = f"over {surfaces_text(layout, [one.surface])}"
    if not one.posts:
        return f"{over} it cannot be spliced at posts: from one to the next is longer than the stock"
    parts = ", ".join(figures.tape(part) for part in one.parts)
    return (
        f"or, {over}, splice it over the middle of post{'s' if len(one.posts) > 1 else ''} {labels(one.posts)}: {parts}"
    )
