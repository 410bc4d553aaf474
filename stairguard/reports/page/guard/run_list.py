"""Strands from terminal to terminal on the page: what ends each run, where it is tensioned; the two ways at joints."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from typing import Final

from stairguard.model.guard.pieces import StrandRun, WayTotals
from stairguard.model.guard.placed_posts import label_parts
from stairguard.model.guard.solved_layout import Layout
from stairguard.reports.page.page_text import heading, paragraph, paragraphs, table
from stairguard.reports.words.grouping import groups, in_steps, series
from stairguard.reports.words.lengths import Figures
from stairguard.reports.words.lists.run_words import (
    HOW_RUNS_ARE_TOLD,
    ends_words,
    kept_inside_words,
    other_way_words,
    reasons_words,
    span_words,
    travel_words,
    ways_words,
)


def run_list(layout: Layout, figures: Figures) -> list[str]:
    """List the runs, alike ones once, with what made each start and end where it does."""
    rows = []
    spans = groups(layout.runs, lambda run: (run.posts, _key(layout, run)))
    for one in series(spans, lambda span: _alike(layout, span), lambda span: _ends(span[0])):
        span, run = one.first, one.first[0]
        rows.append(
            [
                in_steps(each.strand for each in span),
                span_words(run),
                figures.tape(run.length),
                figures.tape(run.longest_bay),
                str(run.angle_changes),
                run.tensioner,
                ends_words(one, layout.job.unit),
            ]
        )
    head = [
        "strands",
        "posts",
        "length",
        "longest bay",
        "angles",
        "tensioner",
        "bears on; why it starts there; why it ends there",
    ]
    return [
        *heading("RUNS"),
        *paragraph(HOW_RUNS_ARE_TOLD),
        *table(head, rows, left=2, words=True),
        *_kept_inside(layout),
        *paragraphs(travel_words(layout, figures)),
    ]


def _key(layout: Layout, run: StrandRun) -> Hashable:
    first = run.tensioner == run.posts[0]
    return run.length, run.longest_bay, run.angle_changes, reasons_words(run, layout.job.unit), run.bears, first


def _kept_inside(layout: Layout) -> list[str]:
    """Tell where ends keep to inner faces though the job asks for the outer ones."""
    if layout.job.post.bearing != "outer face":
        return []
    inside = [post.label for post in layout.posts if any("inner face" in hole.bears for hole in post.holes)]
    if not inside:
        return []
    return paragraph(kept_inside_words(inside))


def _alike(layout: Layout, span: Sequence[StrandRun]) -> Hashable:
    letters = tuple(label_parts(label).letter for label in (span[0].posts[0], span[0].posts[-1]))
    return tuple(run.strand for run in span), letters, len(span[0].posts), _key(layout, span[0])


def _ends(run: StrandRun) -> tuple[int, int]:
    return label_parts(run.posts[0]).number, label_parts(run.posts[-1]).number


_COUNTS: Final[tuple[tuple[str, Callable[[WayTotals], int]], ...]] = (
    ("strands, at most over one surface", lambda choice: choice.strands),
    ("runs", lambda choice: choice.runs),
    ("terminals", lambda choice: choice.terminals),
    ("tensioners", lambda choice: choice.tensioners),
    ("changes of angle", lambda choice: choice.angle_fittings),
    ("holes", lambda choice: choice.holes),
)


def comparison_list(layout: Layout, figures: Figures) -> list[str]:
    """Hold strands that pass joints whole against strands that end there, side by side."""
    both = layout.comparison
    if not layout.joints:
        return []
    ways = both.through, both.ended
    rows = [[what, *("-" if way is None else str(count(way)) for way in ways)] for what, count in _COUNTS]
    totals = ("-" if way is None else figures.tape(way.strand_total) for way in ways)
    rows.append(["strand to cut, in all", *totals])
    return [
        *heading("THROUGH OR BREAK"),
        *paragraph(ways_words(both)),
        *table(["", "through", "break"], rows),
        *paragraphs(other_way_words(both)),
    ]
