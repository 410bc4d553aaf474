"""The page's cut lists: rails, posts, strands, sleeves; fittings and totals; and the stock to cut them from."""

from __future__ import annotations

from collections.abc import Iterable

from stairguard.model.guard.pieces import StrandPiece
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.stock import StockBar, StockPlan
from stairguard.reports.page.page_text import heading, listed, paragraph, table
from stairguard.reports.words.grouping import groups, in_steps, labels, spans
from stairguard.reports.words.joints.joint_words import fitting_words
from stairguard.reports.words.joints.rail_cut_words import cut_in_list
from stairguard.reports.words.lengths import Figures
from stairguard.reports.words.lists.cut_words import (
    POSTS_MEASURED,
    TOTALS_COUNTED,
    bought_words,
    left_out_words,
    longer_words,
    rails_measured,
    totals_words,
)
from stairguard.reports.words.lists.post_words import bevel_text, turning_words
from stairguard.reports.words.names import surfaces_text


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
    return [
        *heading("CUT LIST: RAILS"),
        *paragraph(rails_measured(layout, figures)),
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
            bevel_text(post),
            labels(post.posts),
        ]
        for post in layout.cuts.posts
    ]
    if not rows:
        return []
    return [
        *heading("CUT LIST: POSTS (plumb)"),
        *paragraph(POSTS_MEASURED),
        *table(["post", "count", "centre line", "long edge", "short edge", "top", "posts"], rows, words=True),
        *_turning_tops(layout, figures),
    ]


def _turning_tops(layout: Layout, figures: Figures) -> list[str]:
    """Say where the tops of two slopes turn, alike ones once."""
    cuts = {cut.posts[0]: cut.label for cut in layout.cuts.posts}
    turning = [post for post in layout.posts if post.bevels_deg[0] != post.bevels_deg[1] and post.label in cuts]
    lines: list[str] = []
    for same in groups(turning, lambda post: (post.bevels_deg, post.bevel_break, post.edges)):
        lines += paragraph(turning_words(same, cuts, layout, figures))
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
    rows = [[fitting_words(fitting.kind), str(fitting.count)] for fitting in layout.cuts.fittings]
    return [
        *heading("FITTINGS"),
        *table(["fitting", "count"], rows),
        *paragraph(totals_words(layout, figures)),
        *paragraph(TOTALS_COUNTED),
    ]


def stock_list(layout: Layout, figures: Figures) -> list[str]:
    """Tell what stock to buy and how to cut it, with the bound under which no plan can get."""
    lines: list[str] = []
    for what, plan in layout.stock:
        lines += [*heading(f"STOCK: {what.upper()}"), *_plan(plan, layout, figures)]
        if plan.too_long:
            lines += [*paragraph(left_out_words(plan)), *listed(longer_words(what, plan, layout, figures))]
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
        *paragraph(bought_words(plan, layout, figures)),
    ]


def _pieces(bar: StockBar) -> str:
    return ", ".join(f"{count} x {label}" for label, count in bar.pieces)
