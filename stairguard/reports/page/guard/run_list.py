"""Strands from terminal to terminal on the page: what ends each run, where it is tensioned; the two ways at joints."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from typing import Final

from stairguard.model.guard.pieces import BearsOn, StrandRun, WayTotals
from stairguard.model.guard.placed_posts import label_parts
from stairguard.model.guard.solved_layout import Layout
from stairguard.reports.page.page_text import heading, paragraph, table
from stairguard.reports.words.grouping import groups, in_steps, labels, series
from stairguard.reports.words.joints.joint_words import ended_words
from stairguard.reports.words.lengths import Figures, percent, stated
from stairguard.reports.words.one_line import clean

_SHORT: Final[dict[BearsOn, str]] = {"outer face": "outer", "inner face": "inner", "wall": "wall", "newel": "newel"}


def run_list(layout: Layout, figures: Figures) -> list[str]:
    """List the runs, alike ones once, with what made each start and end where it does."""
    rows = []
    spans = groups(layout.runs, lambda run: (run.posts, _key(layout, run)))
    for one in series(spans, lambda span: _alike(layout, span), lambda span: _ends(span[0])):
        span, run = one.first, one.first[0]
        more = ""
        if len(one.members) > 1:
            last = one.members[-1][0]
            more = f"; {len(one.members)} alike, in steps of {one.step[0]} posts, to {last.posts[0]}-{last.posts[-1]}"
        rows.append(
            [
                in_steps(each.strand for each in span),
                f"{run.posts[0]}-{run.posts[-1]}",
                figures.tape(run.length),
                figures.tape(run.longest_bay),
                str(run.angle_changes),
                run.tensioner,
                f"{_bearing(run)}; {_reasons(layout, run)}{more}",
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
        *paragraph(
            "From terminal to terminal, along the strand between bearing faces. Longest bay: clear between two posts, "
            "along the strand. Angles: changes of angle on the way. The tensioner is at the end nearer to the longest "
            "bay, the terminal at the other. Bears on: of the post where it starts and of the one where it ends, the "
            "inner face, which the strand comes to, or the outer one, the fitting through the post."
        ),
        *table(head, rows, left=2, words=True),
        *_kept_inside(layout),
        *_travel(layout, figures),
    ]


def _key(layout: Layout, run: StrandRun) -> Hashable:
    first = run.tensioner == run.posts[0]
    return run.length, run.longest_bay, run.angle_changes, _reasons(layout, run), run.bears, first


def _bearing(run: StrandRun) -> str:
    first, last = (_SHORT[face] for face in run.bears)
    return first if first == last else f"{first}, {last}"


def _kept_inside(layout: Layout) -> list[str]:
    """Tell where ends keep to inner faces though the job asks for the outer ones."""
    if layout.job.post.bearing != "outer face":
        return []
    inside = [post.label for post in layout.posts if any("inner face" in hole.bears for hole in post.holes)]
    if not inside:
        return []
    return paragraph(
        "The job asks for outer faces. "
        f"Ends at {labels(inside)} that are told as inner bear on the faces they come to, "
        "not the outer ones: another strand ends in the same hole, or too near it for two fittings through the post."
    )


def _alike(layout: Layout, span: Sequence[StrandRun]) -> Hashable:
    letters = tuple(label_parts(label).letter for label in (span[0].posts[0], span[0].posts[-1]))
    return tuple(run.strand for run in span), letters, len(span[0].posts), _key(layout, span[0])


def _ends(run: StrandRun) -> tuple[int, int]:
    return label_parts(run.posts[0]).number, label_parts(run.posts[-1]).number


def _reasons(layout: Layout, run: StrandRun) -> str:
    first, last = (ended_words(ended, layout.job.unit) for ended in run.ends)
    return f"both: {first}" if first == last else f"{first}; {last}"


def _travel(layout: Layout, figures: Figures) -> list[str]:
    """Hold the tensioners' travel against the longest run."""
    if layout.travel is None:
        return []
    drawn, longest = figures.given(layout.job.strand.tensioner_travel), layout.travel.run
    return paragraph(
        f"A tensioner draws its strand in by up to {drawn}: {percent(layout.travel.percent, 2)} of the longest run, "
        f"strand {longest.strand} from {longest.posts[0]} to {longest.posts[-1]}, and more of the others. It is enough "
        "where the stretch under tension, the strand's first settling and half a mark of cutting "
        f"({stated(layout.job.mark / 2, figures.unit)}) come to less than that together."
    )


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
    chosen = "through" if both.chosen == "through" else "break"
    why = clean(both.why).rstrip(".")
    return [
        *heading("THROUGH OR BREAK"),
        *paragraph(
            f"Strands whole through joints (through) against strands that end there (break). The job's: {chosen}."
        ),
        *table(["", "through", "break"], rows),
        *(paragraph(f"The other way cannot be laid out: {why}.") if why else []),
    ]
