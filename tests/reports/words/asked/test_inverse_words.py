"""How far a length of an opening may go: a fact, and the words for it."""

from typing import get_args

import pytest

from stairguard.model.asked.asked_opening import Inverse, Move, NoGreatest
from stairguard.reports.words.asked.inverse_words import length_words, why_no_greatest


@pytest.mark.parametrize(
    ("what", "words", "free"),
    [
        ("lift", "lift", " may move outwards as far as its neighbours let it"),
        (Move((3,)), "move of edge 3", "edge 3 may move outwards as far as its neighbours let it"),
        (
            Move((1, 2, 4)), "move of the side of edges 1 and 2 and 4",
            "the side of edges 1 and 2 and 4 may move outwards as far as its neighbours let it",
        ),
    ],
)  # fmt: skip
def test_lengths_that_were_asked_how_far_they_may_go(what, words, free):
    asked = Inverse(what, None, None, "moves freely")
    assert (length_words(asked), why_no_greatest(asked)) == (words, free)


def test_every_reason_for_no_greatest_length_has_words():
    assert all(why_no_greatest(Inverse("lift", None, None, why)) for why in get_args(NoGreatest))
    assert why_no_greatest(Inverse("lift", 1.0, 4.0)) == ""
