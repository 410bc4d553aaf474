"""What is said of a joint under its detail: rails and their cuts, the post's top, a jog, every strand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from stairguard.model.guard.rail_joints import Joint
from stairguard.model.guard.solved_layout import Layout
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.columns import Block, Cell
from stairguard.reports.drawing.paper.drafting import CAP
from stairguard.reports.words.drawing_words import first_few
from stairguard.reports.words.grouping import label_rows
from stairguard.reports.words.joints.jog_words import jog_note, remedy_notes
from stairguard.reports.words.joints.joint_strand_words import strand_notes
from stairguard.reports.words.joints.meeting_words import between_note, heights_note, meeting_note
from stairguard.reports.words.joints.rail_cut_words import cut_notes, top_notes
from stairguard.reports.words.lengths import Formatter
from stairguard.reports.words.one_line import broken

_MOST_ALIKE: Final = 6


def joint_block(layout: Layout, alike: Sequence[Joint], fmt: Formatter, width: float, beside: float = 0.0) -> Block:
    """Say all of a joint that is no picture; the first of those alike stands for all.

    Parameters
    ----------
    layout
        The solved guard.
    alike
        Joints alike in all but their places, one or more.
    fmt
        Writes a length as a tape shows it.
    width
        Of the words, millimetres.
    beside
        How much of the title's line is taken, millimetres.
    """
    joint = alike[0]
    jog = (jog_note(layout, joint, fmt), *remedy_notes(joint, layout.job.unit)) if joint.jog else ()
    title, others = _title(alike, width - beside)
    said = [
        *others,
        between_note(layout, joint),
        heights_note(layout, joint, fmt),
        meeting_note(layout, joint, fmt),
        *cut_notes(layout, joint),
        *top_notes(layout.posts_of(joint)),
        *jog,
        *strand_notes(layout, joint),
    ]
    return Block(title, tuple(row for sentence in said for row in _set(sentence, width)))


_GLUE: Final = "·"  # as wide as a space, and in no sentence here
_INDENT: Final = 3.0


def _set(sentence: str, width: float) -> Iterator[tuple[Cell, ...]]:
    """Set a sentence in rows as wide as there is room, no figure broken between feet and inches or before its unit."""
    for i, line in enumerate(broken(sentence, lambda glued: metrics.wrap(glued, CAP, width - _INDENT), _GLUE)):
        cell = Cell(line, _INDENT)
        yield (cell,) if i else (Cell("-", 0.5), cell)


def _title(alike: Sequence[Joint], width: float) -> tuple[str, tuple[str, ...]]:
    """Name a joint and those like it; what does not fit the title is a sentence."""
    first = alike[0]
    name = f"{'CORNER' if first.second_post else 'JOINT'} {' and '.join(first.labels)}"
    if len(alike) == 1:
        return name, ()
    rest = label_rows(label for joint in alike[1:] for label in joint.labels)
    listed = first_few(rest, _MOST_ALIKE) + (" in the lists" if len(rest) > _MOST_ALIKE else "")
    whole = f"{name} (alike: {listed})"
    if metrics.width(whole, CAP) <= width:
        return whole, ()
    return f"{name} and {len(alike) - 1} more", (f"alike: {listed}",)
