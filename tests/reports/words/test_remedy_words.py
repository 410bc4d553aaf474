"""Remedies of jogs in English: why one is allowed or not, and what else comes of it, told once."""

from fractions import Fraction as F

import pytest

from stairguard.model.guard.jogs import (
    Altered,
    Barred,
    Breaks,
    CheckFails,
    EdgesApart,
    JogElsewhere,
    JogStays,
    NoSuchGuard,
    OpeningFails,
    PushFails,
    Remedy,
    Within,
)
from stairguard.model.guard.opening_kinds import Where
from stairguard.model.subjects import WholeGuard
from stairguard.reports.words.remedy_words import effects_data, effects_words, reason_words

CHECK = CheckFails("A", WholeGuard("post gap"), 50.0, "at most", 48.0)
WIDE = OpeningFails("B", Where("between strands"), 4.25)


def remedy(why, *effects, tried_at=""):
    return Remedy(what=Altered.RISER_OFFSET, value=F(1), allowed=False, why=why, effects=effects, tried_at=tried_at)


@pytest.mark.parametrize(
    ("why", "words"),
    [
        (None, ""),
        (Within("irc-2021"), "within irc-2021"),
        (Within(""), "no rules asked for"),
        (Breaks(CHECK), "it breaks A, widest clear gap between posts, along the strands: 50, at most 48"),
        (Breaks(WIDE), "it breaks B, between strands: 4.25"),
        (Breaks(PushFails()), "it breaks the push asked for"),
        (JogStays(F(1, 16), "in"), "a jog of 0.0625 in is then left"),
        (NoSuchGuard("too steep"), "it cannot be laid out: too steep"),
        (EdgesApart(F(10), "in"), "the edges of both sides stand only 10 in apart"),
        (Barred.RAIL_ON_GROUND, "the rail would lie on the ground"),
        (Barred.NO_LANDING_BETWEEN,
         "no landing lies between whose length could change; it takes one without a level piece"),
    ],
)  # fmt: skip
def test_why_a_remedy_is_allowed_or_not(why, words):
    assert reason_words(remedy(why)) == words


def test_what_else_comes_of_it_is_told_once_and_where_it_was_tried():
    found = remedy(
        Breaks(CHECK), JogElsewhere("P3", F(2)), JogElsewhere("P5", F(0)), Breaks(CHECK), Breaks(WIDE), Breaks(WIDE),
        tried_at="P7",
    )  # fmt: skip
    at = "(as tried at P7, which is alike)"
    assert reason_words(found).endswith(f"at most 48 {at}")
    assert effects_words(found, str) == (
        f"leaves a jog of 2 at P3; rids P5 of its jog; breaks B, between strands: 4.25 {at}"
    )
    assert [(one["what"], one["where"].split(",")[0], one["size"]) for one in effects_data(found)] == [
        ("jog", "P3", 2), ("jog", "P5", 0), ("breaks", "A", None), ("breaks", "B", None),
    ]  # fmt: skip
