"""Holes in English: how they are marked and drilled, which runs end in them, and which are too close."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from stairguard.model.guard.placed_posts import CloseHoles, Hole, PlacedPost
from stairguard.model.guard.solved_layout import Layout
from stairguard.reports.words.grouping import in_steps, labels
from stairguard.reports.words.joints.joint_words import close_words
from stairguard.reports.words.lengths import Figures, degrees_words, stated

HOLES_TOLD: Final = (
    "Plumb above the post's base, to the strand's centre. Posts named together share one story pole. The "
    "centre is on the post's centre line, the faces are where the strand enters and leaves. Drill is the "
    "tilt from level along the strand, and toward what it rises; up the line is the way stations increase."
)


def pole_words(posts: Sequence[PlacedPost]) -> str:
    """Which posts share one story pole, and what they are."""
    post = posts[0]
    if post.support != "post":
        return f"{', '.join(p.label for p in posts)}: {post.support}; anchors, above the surface at its foot"
    roles = " and ".join(dict.fromkeys(post.role for post in posts))
    plural = "s" if len(posts) > 1 else ""
    alike = f" (faces named as at {post.label})" if plural and post.joint is not None else ""
    return f"{labels(post.label for post in posts)}: {roles} post{plural}{alike}"


def rising_words(angle: float, before: str = "", after: str = "") -> str:
    """Write a hole's angle and what it rises toward: the post before or after, or, without one, along the line."""
    text = degrees_words(abs(angle))
    if text == degrees_words(0):
        return text
    towards = after if angle > 0 else before
    if towards:
        return f"{text} up toward {towards}"
    return f"{text} {'up' if angle > 0 else 'down'} the line"


def broken_words(posts: Sequence[PlacedPost], numbers: Sequence[int]) -> str:
    """Which strands' runs end and the next begin in one hole, at which posts."""
    return (
        f"At {labels(post.label for post in posts)} strand{'s' if len(numbers) > 1 else ''} {in_steps(numbers)} "
        "end, and their next runs begin: each bears on the face it comes to."
    )


def askew_words(askew: float, label: str) -> str:
    """How a hole is drilled in plan, askew to the face towards another post."""
    return f"In plan, drilled {degrees_words(askew)} from square to the face to {label}."


def face_heads(label: str) -> tuple[str, str]:
    """Heads of the two columns of a face: where its marks are, and how it is drilled."""
    return f"face to {label}", f"drill to {label}"


def ended_through_words(surface: str) -> str:
    """Head the strands of a surface that end on the post's outer face."""
    return f"Strands of {surface} that end here, their fittings through the post:"


def ended_face_words(surface: str, label: str) -> str:
    """Head the strands of a surface that end on the face they come to."""
    return f"Marks on the face towards {label}, where strands of {surface} end:"


def too_close_words(least: Fraction, figures: Figures) -> str:
    """Head the holes that are too close."""
    return f"CAUTION: holes closer than a strand and a mark, {stated(least)} {figures.unit}, plumb, centre to centre:"


def close_holes(same: Sequence[CloseHoles], layout: Layout, post: PlacedPost, figures: Figures) -> str:
    """Which strands' holes are too close in a post, by how much apart, and where in it."""
    pair, least = same[0], layout.job.holes_apart
    joint = layout.joint_of(post)
    where = close_words(pair, turns=joint is not None and bool(joint.turn_deg))
    gap = f"{figures.decimal(pair.gap, least)} {figures.unit} apart {where}"
    if len(same) == 1:
        return f"{_strand(pair.first)} and {_strand(pair.second)} {gap}"
    numbers = in_steps(each.first.strand for each in same)
    return f"strands {numbers} of {_over(pair.first)}, each from that of its number of {_over(pair.second)}, {gap}"


def _strand(hole: Hole) -> str:
    return f"strand {hole.strand} of {_over(hole)}"


def _over(hole: Hole) -> str:
    return " and ".join(f"surface {surface + 1}" for surface in hole.surfaces)
