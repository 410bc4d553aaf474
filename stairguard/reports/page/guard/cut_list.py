"""The page's cut lists: rails, posts, strands, sleeves; fittings and totals; and the stock to cut them from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from typing import Final, get_args

from stairguard.model.guard.pieces import Cuts, StrandPiece
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.stock import Spliced, StockBar, StockPlan
from stairguard.model.job import Ending
from stairguard.reports.page.guard.post_list import bevel_text, top_text
from stairguard.reports.page.page_text import heading, listed, paragraph, table
from stairguard.reports.words.grouping import groups, in_steps, labels, spans
from stairguard.reports.words.joints.joint_words import fitting_words
from stairguard.reports.words.joints.rail_cut_words import cut_in_list
from stairguard.reports.words.lengths import Figures, rough, typed
from stairguard.reports.words.names import rail_section, surfaces_text

_STANDING: Final = " or ".join(end for end in get_args(Ending) if end != "post")
"""What a line may end on that is no post of ours."""
_WEIGHT: Final = {"in": "lb", "mm": "kg"}


def cut_list(layout: Layout, figures: Figures) -> list[str]:
    """List the pieces to cut, equal ones together, and what they come to."""
    return [
        *_rails(layout, figures),
        *_posts(layout, figures),
        *_strands(layout, figures),
        *_sleeves(layout, figures),
        *_fittings(layout, figures),
    ]


def _rails(layout: Layout, figures: Figures) -> list[str]:
    rows = [
        [
            rail.label,
            str(rail.count),
            figures.tape(rail.length),
            figures.tape(rail.underside),
            figures.tape(rail.marked),
            f"{cut_in_list(rail.start_cut)}; {cut_in_list(rail.end_cut)}; {surfaces_text(layout, rail.surfaces)}",
        ]
        for rail in layout.cuts.rails
    ]
    turned = any(cut.across for rail in layout.cuts.rails for cut in (rail.start_cut, rail.end_cut))
    words = (
        " Flat: the piece laid flat, mitre across its top / tilt of the blade from plumb; its long point is left or "
        "right as stations increase, and its length is that of its middle line."
    )
    return [
        *heading("CUT LIST: RAILS"),
        *paragraph(
            f"All of {rail_section(layout, figures)}, depth square to the rail by width. "
            "Lengths along the slope; longest from long point to long point. A cut is told by its angle from "
            f"square across the rail, and whether its long point is on top or under.{words if turned else ''}"
        ),
        *table(["rail", "count", "along top", "underside", "longest", "start cut; end cut; over"], rows, words=True),
    ]


def _posts(layout: Layout, figures: Figures) -> list[str]:
    rows = [
        [
            post.label,
            str(post.count),
            figures.tape(post.length),
            figures.tape(post.marked),
            figures.tape(post.short_edge),
            bevel_text(post, figures),
            labels(post.posts),
        ]
        for post in layout.cuts.posts
    ]
    if not rows:
        return []
    return [
        *heading("CUT LIST: POSTS (plumb)"),
        *paragraph(
            "Top: its bevel from level, positive where it rises as stations increase. Two figures: it has two slopes."
        ),
        *table(["post", "count", "centre line", "long edge", "short edge", "top", "posts"], rows, words=True),
        *_turning_tops(layout, figures),
    ]


def _turning_tops(layout: Layout, figures: Figures) -> list[str]:
    """Say where the tops of two slopes turn, alike ones once."""
    cuts = {cut.posts[0]: cut.label for cut in layout.cuts.posts}
    turning = [post for post in layout.posts if post.bevels_deg[0] != post.bevels_deg[1] and post.label in cuts]
    lines: list[str] = []
    for same in groups(turning, lambda post: (post.bevels_deg, post.bevel_break, post.edges)):
        post, others = same[0], [cuts[other.label].removeprefix("post ") for other in same[1:]]
        alike = f" So post{'s' if len(others) > 1 else ''} {', '.join(others)}." if others else ""
        lines += paragraph(f"{cuts[post.label]} ({post.label}): {top_text(post, layout, figures)}.{alike}")
    return lines


def _strands(layout: Layout, figures: Figures) -> list[str]:
    rows = [
        [strand.label, str(strand.count), figures.tape(strand.marked), _spans(strand.strands)]
        for strand in layout.cuts.strands
    ]
    return [
        *heading("CUT LIST: STRANDS (along the strand, take-ups off)"),
        *table(["strand", "count", "cut length", "strands"], rows, words=True),
    ]


def _sleeves(layout: Layout, figures: Figures) -> list[str]:
    rows = [
        [sleeve.label, str(sleeve.count), figures.tape(sleeve.marked), _spans(sleeve.strands)]
        for sleeve in layout.cuts.sleeves
    ]
    if not rows:
        return []
    return [
        *heading("CUT LIST: SLEEVES (along the hole)"),
        *table(["sleeve", "count", "length", "strands (posts)"], rows, words=True),
    ]


def _spans(pieces: Iterable[StrandPiece]) -> str:
    """Gather the numbers of strands that run between the same posts: ``1 to 9 (P1-P5)``."""
    numbered: dict[tuple[str, ...], list[int]] = {}
    for piece in pieces:
        numbered.setdefault(piece.posts, []).append(piece.strand)
    alike: dict[str, list[tuple[str, ...]]] = {}
    for posts, numbers in numbered.items():
        alike.setdefault(in_steps(numbers), []).append(posts)
    return "; ".join(f"{numbers} ({spans(found)})" for numbers, found in alike.items())


def _fittings(layout: Layout, figures: Figures) -> list[str]:
    cuts = layout.cuts
    rows = [[fitting_words(fitting.kind), str(fitting.count)] for fitting in cuts.fittings]
    anchors = sum(len(post.holes) for post in layout.posts if post.support != "post")
    at = f", {anchors} of them anchors on a {_STANDING}" if anchors else ""
    return [
        *heading("FITTINGS"),
        *table(["fitting", "count"], rows),
        *paragraph(
            f"In all: {_total(cuts.strand_total, cuts.strand_weight, figures)} of strand, "
            f"{_total(cuts.rail_total, cuts.rail_weight, figures)} of rail, "
            f"{_total(cuts.post_total, cuts.post_weight, figures)} of posts, {_sleeve_total(cuts, figures)}"
            f"{cuts.terminals} terminals, {cuts.tensioners} tensioners, {cuts.angle_fittings} changes of angle, "
            f"{cuts.holes} holes{at}."
        ),
        *paragraph(
            "Totals add up the pieces as marked, rail and posts by their longest edges. Strand's weight by its metal, "
            "fittings not counted."
        ),
    ]


def _total(length: Fraction, weight: float | None, figures: Figures) -> str:
    known = "" if weight is None else f" ({rough(weight, _WEIGHT[figures.unit])})"
    return f"{figures.tape(length)}{known}"


def _sleeve_total(cuts: Cuts, figures: Figures) -> str:
    return f"{figures.tape(cuts.sleeve_total)} of sleeves, " if cuts.sleeves else ""


def stock_list(layout: Layout, figures: Figures) -> list[str]:
    """Tell what stock to buy and how to cut it, with the bound under which no plan can get."""
    lines: list[str] = []
    for what, plan in layout.stock:
        lines += [*heading(f"STOCK: {what.upper()}"), *_plan(plan, layout, figures)]
        if plan.too_long:
            lines += [*paragraph(_count_left_out(plan)), *listed(_longer(what, plan, layout, figures))]
    return lines


def _plan(plan: StockPlan, layout: Layout, figures: Figures) -> list[str]:
    rows = [
        [
            str(bar.count),
            figures.tape(bar.length),
            figures.tape(bar.waste),
            _pieces(bar),
        ]
        for bar in plan.bars
    ]
    return [
        *table(["buy", "length", "left of each", "cut from each"], rows, words=True),
        *paragraph(_bought(plan, layout, figures)),
    ]


def _count_left_out(plan: StockPlan) -> str:
    long = sum(piece.count for piece in plan.too_long)
    fit = sum(bar.count * count for bar in plan.bars for _, count in bar.pieces)
    verb = "is" if long == 1 else "are"
    return (
        f"Not a plan of all the pieces: {long} of {long + fit} {verb} longer than any stock length, and in none of "
        "these figures:"
    )


def _longer(what: str, plan: StockPlan, layout: Layout, figures: Figures) -> Iterator[str]:
    """Tell of each piece that no stock holds what would."""
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


def _pieces(bar: StockBar) -> str:
    return ", ".join(f"{count} x {label}" for label, count in bar.pieces)


def _bought(plan: StockPlan, layout: Layout, figures: Figures) -> str:
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
