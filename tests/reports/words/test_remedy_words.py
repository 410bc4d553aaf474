"""What is said of the remedies of a jog, each sentence once."""

from fractions import Fraction as F

import pytest

from stairguard.model.guard.jogs import Breaks, EdgesApart, Effect, JogLeft, NotLaidOut, Remedy, WithinRules
from stairguard.reports.words.drawing_words import effects_words, place_words, why_words

RULE = Effect("breaks", "R1, rail height: 33")
WHY = {
    None: "",
    "on the ground": "the rail would lie on the ground",
    "no landing between": "no landing lies between whose length could change; it takes one without a level piece",
    EdgesApart(F(7, 2)): "the edges of both sides stand only 3.5 in apart",
    NotLaidOut("mark: must be less, got 9"): "it cannot be laid out: mark: must be less, got 9",
    JogLeft(F(1, 4)): "a jog of 0.25 in is then left",
    Breaks(RULE): "it breaks R1, rail height: 33",
    WithinRules("irc-2021"): "within irc-2021",
    WithinRules(None): "no rules asked for",
}


def remedy(why, **more):
    return Remedy(what="riser offset", value=F(1), allowed=False, why=why, **more)


@pytest.mark.parametrize("why", WHY)
def test_why_a_remedy_is_allowed_or_not(why):
    assert why_words(remedy(why), "in") == WHY[why]


def test_what_was_tried_at_a_joint_alike_names_it():
    assert (
        why_words(remedy(Breaks(RULE), tried_at="P3"), "in") == f"{WHY[Breaks(RULE)]} (as tried at P3, which is alike)"
    )
    assert place_words(RULE._replace(tried_at="P3")) == "R1, rail height: 33 (as tried at P3, which is alike)"
    assert why_words(remedy(None, tried_at="P3"), "in") == ""


def test_what_a_remedy_does_besides():
    other = Effect("breaks", "R2, step triangle: 6.1")
    effects = (Effect("jog", "P2", F(1, 2)), Effect("jog", "P6", F(0)), RULE, other)
    words = effects_words(remedy(Breaks(RULE), effects=effects), lambda size: f"{float(size)} in")
    assert words == "leaves a jog of 0.5 in at P2; rids P6 of its jog; breaks R2, step triangle: 6.1"
