"""What openings are called: a fact, and the words for it."""

from typing import get_args

import pytest

from stairguard.model.guard.opening_kinds import OpeningKind, Touch, TouchedPart, Where
from stairguard.reports.words.opening_words import brief_where, touch_words, where_words

# a fact, its words, those of its kind, those of any tread or post
CALLED = [
    (Where("under rail"), "under the rail", "under the rail", "under the rail"),
    (
        Where("under rail at post", post="P2"), "under the rail at post P2", "under the rail",
        "under the rail at a post",
    ),
    (Where("between strands"), "between strands", "between strands", "between strands"),
    (
        Where("between strands at corner", surface=2), "between strands at the turn of surface 3", "between strands",
        "between strands at the turn of surface 3",
    ),
    (Where("under lowest strand"), "under the lowest strand", "under the lowest strand", "under the lowest strand"),
    (
        Where("under lowest strand at corner", surface=2), "under the lowest strand at the turn of surface 3",
        "under the lowest strand", "under the lowest strand at the turn of surface 3",
    ),
    (
        Where("under overrun", surface=1), "under the strands that run on over surface 2",
        "under the strands that run on over surface", "under the strands that run on over surface 2",
    ),
    (Where("step triangle", step=7), "step triangle, tread 7", "step triangle", "step triangle"),
    (Where("over tread", step=7), "over tread 7, open riser", "over tread", "over a tread, open riser"),
    (Where("open riser", step=3), "open riser 3", "open riser", "open riser"),
    (
        Where("first riser", walked="landing"), "first riser, over the lower landing", "first riser",
        "first riser, over the lower landing",
    ),
    (Where("first riser", walked="ramp"), "first riser, over the ramp", "first riser", "first riser, over the ramp"),
    (
        Where("over head", walked="landing"), "over the upper landing, before the post", "over the upper landing",
        "over the upper landing, before the post",
    ),
    (
        Where("over head", walked="tread"), "over the tread, before the post", "over the tread",
        "over the tread, before the post",
    ),
    (Where("beside post", step=4), "beside a post, tread 4", "beside a post", "beside a post"),
    (Where("wedge at post", post="N1"), "wedge at post N1", "wedge", "wedge at a post"),
    (
        Where("round corner", surface=2), "round the corner, under the lowest strands at the turn of surface 3",
        "round the corner, under the lowest strands",
        "round the corner, under the lowest strands at the turn of surface 3",
    ),
    (
        Where("between corner posts", surface=2), "between the corner posts at the turn of surface 3, in plan",
        "between the corner posts", "between the corner posts at the turn of surface 3, in plan",
    ),
    (
        Where("past end", post="P1", walked="ramp"), "unguarded beyond post P1, to the end of the ramp",
        "unguarded beyond post P1", "unguarded beyond post P1, to the end of the ramp",
    ),
    (
        Where("past end", post="P9", end="top"), "unguarded beyond post P9, to the top nosing",
        "unguarded beyond post P9", "unguarded beyond post P9, to the top nosing",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("where", "words", "brief", "of_any"), CALLED, ids=[words for _, words, *_ in CALLED])
def test_an_opening_is_called(where, words, brief, of_any):
    assert where_words(where) == words
    assert brief_where(where) == brief
    assert where_words(where.unnumbered) == of_any


def test_every_kind_is_called_something():
    assert {where.kind for where, *_ in CALLED} == set(get_args(OpeningKind))


TOUCHED = {
    Touch("rail"): "rail", Touch("strand"): "strand", Touch("strand", 3): "strand 3", Touch("post"): "post",
    Touch("tread"): "tread", Touch("riser"): "riser", Touch("nosing"): "nosing", Touch("landing"): "landing",
    Touch("ramp"): "ramp", Touch("flight"): "flight", Touch("surface edge", 1): "edge of surface 2",
    Touch("line end"): "end of the line", Touch("stair side"): "side of the stair",
}  # fmt: skip


def test_what_is_touched_is_called():
    assert {touch: touch_words(touch) for touch in TOUCHED} == TOUCHED
    assert {touch.part for touch in TOUCHED} == set(get_args(TouchedPart))


def test_what_steps_repeat_is_told_once():
    """Where treads are alike so is what stands over them; before an open riser each is told."""
    third, fourth = ([Where(kind, step=step) for kind in ("step triangle", "beside post", "over tread")]
                     for step in (3, 4))  # fmt: skip
    assert [a.at_any_step == b.at_any_step for a, b in zip(third, fourth, strict=True)] == [True, True, False]
