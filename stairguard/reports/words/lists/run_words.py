"""Runs in English: what each bears on, why it starts and ends there, the tensioners' travel, the two ways at joints."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from stairguard.model.guard.pieces import BearsOn, Comparison, StrandRun
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.job import Unit
from stairguard.reports.words.grouping import Series, labels
from stairguard.reports.words.joints.joint_words import ended_words
from stairguard.reports.words.lengths import Figures, percent, stated
from stairguard.reports.words.one_line import clean

HOW_RUNS_ARE_TOLD: Final = (
    "From terminal to terminal, along the strand between bearing faces. Longest bay: clear between two posts, "
    "along the strand. Angles: changes of angle on the way. The tensioner is at the end nearer to the longest "
    "bay, the terminal at the other. Bears on: of the post where it starts and of the one where it ends, the "
    "inner face, which the strand comes to, or the outer one, the fitting through the post."
)
_SHORT: Final[dict[BearsOn, str]] = {"outer face": "outer", "inner face": "inner", "wall": "wall", "newel": "newel"}


def span_words(run: StrandRun) -> str:
    """The posts a run goes from and to."""
    return f"{run.posts[0]}-{run.posts[-1]}"


def ends_words(one: Series[list[StrandRun]], unit: Unit) -> str:
    """What alike runs bear on, why they start and end there, and how many spans of them there are."""
    run, more = one.first[0], ""
    if len(one.members) > 1:
        more = f"; {len(one.members)} alike, in steps of {one.step[0]} posts, to {span_words(one.members[-1][0])}"
    return f"{_bearing(run)}; {reasons_words(run, unit)}{more}"


def _bearing(run: StrandRun) -> str:
    first, last = (_SHORT[face] for face in run.bears)
    return first if first == last else f"{first}, {last}"


def reasons_words(run: StrandRun, unit: Unit) -> str:
    """Why a run starts and ends where it does."""
    first, last = (ended_words(ended, unit) for ended in run.ends)
    return f"both: {first}" if first == last else f"{first}; {last}"


def kept_inside_words(posts: Sequence[str]) -> str:
    """At which posts ends keep to inner faces though the job asks for the outer ones, and why."""
    return (
        "The job asks for outer faces. "
        f"Ends at {labels(posts)} that are told as inner bear on the faces they come to, "
        "not the outer ones: another strand ends in the same hole, or too near it for two fittings through the post."
    )


def travel_words(layout: Layout, figures: Figures) -> Iterator[str]:
    """Hold the tensioners' travel, where it is known, against the longest run."""
    if layout.travel is None:
        return
    drawn, longest = figures.given(layout.job.strand.tensioner_travel), layout.travel.run
    yield (
        f"A tensioner draws its strand in by up to {drawn}: {percent(layout.travel.percent, 2)} of the longest run, "
        f"strand {longest.strand} from {longest.posts[0]} to {longest.posts[-1]}, and more of the others. It is enough "
        "where the stretch under tension, the strand's first settling and half a mark of cutting "
        f"({stated(layout.job.mark / 2, figures.unit)}) come to less than that together."
    )


def ways_words(both: Comparison) -> str:
    """Which two ways at joints are held side by side, and which is the job's."""
    chosen = "through" if both.chosen == "through" else "break"
    return f"Strands whole through joints (through) against strands that end there (break). The job's: {chosen}."


def other_way_words(both: Comparison) -> Iterator[str]:
    """Why the way that the job does not take cannot be laid out, if it cannot."""
    why = clean(both.why).rstrip(".")
    if why:
        yield f"The other way cannot be laid out: {why}."
