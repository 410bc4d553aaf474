"""One bay under a push in words: each form of what is asked, of the working and of what comes of it, from facts."""

from dataclasses import replace
from fractions import Fraction as F

import pytest

from stairguard.model.guard.strand_deflection import Asked, HeldAndFree, Hung, HungAnswer, Taut
from stairguard.reports.words.deflection.bay_words import (
    asked_words,
    bay_verdict,
    between_briefly,
    between_words,
    bounds_words,
    hung_words,
    probe_words,
    stretch_words,
    table_words,
    tension_words,
    weakest_words,
    why_words,
)
from stairguard.reports.words.deflection.deflection_words import NO_TABLE, SOURCES, VERDICTS
from tests.reports.words.deflection.bays import (
    ANSWER,
    HOLDING,
    NONE,
    QUESTION,
    REPORT,
    STEEL,
    answered,
    asked,
    pushed,
)

SLACK = "Less than nothing says that it was slack."


def test_what_was_asked_whole():
    size, tension = asked_words(ANSWER)
    assert size == (
        "A sphere of 4 in pushed at mid-bay, square to the guard, between two strands 3 in apart, centre to centre, "
        "square: a clear gap of 2.875 in at rest. Strand 0.125 in, 1x19, 316; bay 42 in clear along the strand; run "
        "240 in."
    )
    assert tension == "Tension at rest 200 lbf (10.0 % of the breaking force), measured."


def test_what_was_asked_otherwise():
    question = replace(pushed(probe="cone", friction=F(1, 10), post_stiffness=F(500), anchor_stiffness=F(90)), at=F(3))
    size, _, *gives = asked_words(answered(question))
    assert size.startswith("A cone that ends in a cylinder of 4 in pushed at 3 in from a post, square to the guard, ")
    assert gives == [
        "Friction 0.1: each contact rubs.",
        "Stiffness of posts: 500 lbf for one in.",
        "Stiffness of anchors: 90 lbf for one in.",
    ]


@pytest.mark.parametrize("source", SOURCES)
def test_a_tension_is_told_with_its_source(source):
    told = tension_words(asked(taut=Taut(STEEL, F(50), source)))
    assert told == f"Tension at rest 50 lbf (2.5 % of the breaking force), {SOURCES[source]}."


def test_what_is_pushed_between_what():
    assert probe_words(QUESTION.push, "in") == "sphere of 4 in"
    assert probe_words(pushed(probe="cone", sphere=None).push, "in") == "cone to a cylinder of each opening's own limit"
    edge = asked(strands=1)
    assert between_words(edge) == "a rigid edge and a strand whose centre is 3 in from it, square"
    assert between_briefly(QUESTION, str) == "strands 3 apart"
    assert between_briefly(edge, str) == "a rigid edge and a strand 3 from it"


def test_how_the_bounds_stand_to_one_another():
    assert bounds_words(QUESTION).startswith("The truth lies between: ")
    assert bounds_words(asked(run=F(42))).startswith("The run is taken as this bay alone, so both are one: ")


@pytest.mark.parametrize(
    ("changed", "told"),
    [
        ({}, ["The weakest place along the bay is mid-bay: 6.75 lbf, sliding."]),
        ({"weakest_at": 9.5}, ["The weakest place along the bay is 9.5 in from a post: 6.75 lbf, sliding."]),
        ({"question": asked(at=F(3))},
         ["The weakest place along the bay is mid-bay: 6.75 lbf, sliding, which FAILS: a probe will find it."]),
        ({"weakest": None}, []),
        ({"weakest": 0.0}, []),
    ],
)  # fmt: skip
def test_the_weakest_place(changed, told):
    assert list(weakest_words(answered(**changed))) == told


@pytest.mark.parametrize(
    ("question", "about", "rub", "who"),
    [
        (QUESTION, "", "", "both strands"),
        (pushed(probe="cone"), " (the cone's shoulder)", "", "both strands"),
        (pushed(friction=F(1, 10)), "", ", turned on by the friction's angle", "both strands"),
        (asked(strands=1), "", "", "the strand"),
    ],
)
def test_the_working_says_what_was_pushed(question, about, rub, who):
    """A probe of 4 in and a strand of 1/8 touch at half of both, 2.0625, whatever the probe's form."""
    (told,) = why_words(answered(question))
    assert told == (
        f"Why, sliding: probe and strand reach 2.0625 in{about}. Where it is hardest they touch at 25.5 deg from the "
        f"strands' plane and the strand has moved 0.4 in along the contact{rub}. Its two straight parts are longer "
        "than the bay; over the run that stretches it from 200 lbf to 205.5 lbf. The parts' pull across the strand, of "
        f"{who}, along the probe's way: 6.75 lbf."
    )


@pytest.mark.parametrize("push", [HeldAndFree(7.5, None), HeldAndFree(0.0, 0.0)])
def test_there_is_no_working_of_no_push(push):
    assert not list(why_words(replace(ANSWER, holding=replace(HOLDING, push=push))))


@pytest.mark.parametrize("verdict", VERDICTS)
def test_the_verdict_on_a_force(verdict):
    assert bay_verdict(answered(verdict=verdict)) == f"Force asked for: 8 lbf. {VERDICTS[verdict]}."


def test_without_a_force_nothing_is_judged():
    unasked = pushed(force=None)
    assert bay_verdict(answered(unasked, None)).startswith("No force was asked for (--force), so nothing is judged. ")
    untouched = bay_verdict(answered(unasked, "passes untouched"))
    assert untouched == "The probe passes between strands at rest: no tension stops it."


@pytest.mark.parametrize(
    ("tension", "met", "start"),
    [
        (F(150), True, "A table asks at least 150 lbf up to a spacing of 3 in and a bay of 48 in: met. "),
        (F(250), False, "A table asks at least 250 lbf up to a spacing of 3 in and a bay of 48 in: FAILS. "),
        (None, False, "A table: FAILS: up to a spacing of 3 in and a bay of 48 in the table does not permit this "),
    ],
)
def test_what_a_table_asks(tension, met, start):
    table = Asked(clause="A table", spacing=F(3), bay=F(48), tension=tension, met=met)
    (told,) = table_words(replace(REPORT, table=table))
    assert told.startswith(start)


def test_no_table_is_told_of_only_for_its_own_push():
    assert list(table_words(replace(REPORT, answer=answered(pushed(probe="cone"))))) == [NO_TABLE]
    assert not list(table_words(REPORT))
    assert not list(table_words(replace(REPORT, answer=answered(pushed(probe="cone", force=None)))))


def test_how_far_it_is_stretched_and_sags():
    stretched, sags = stretch_words(REPORT)
    assert stretched == (
        "To reach it the strand is stretched by 0.25 in over its run. A new strand settles besides, once, by 0.25 to "
        "0.6 in (from memory), and loses 175 to 200 lbf unless it is drawn in again: do so after the first days."
    )
    assert sags == "It sags under its own weight by 0.003 in at mid-bay, plumb, on any pitch."


def test_of_a_slack_strand_no_sag_is_given_and_settling_takes_all():
    turned, slack = stretch_words(replace(REPORT, turns=5.0, answer=answered(sag=None, loses=(200.0, 200.0))))
    assert "by 0.25 in over its run, 5.00 turns of the tensioner. " in turned
    assert ", and loses all of it unless " in turned
    assert slack == "A slack strand hangs: no sag is given."


@pytest.mark.parametrize(
    ("sinks", "tension", "told"),
    [
        (None, NONE, []),
        (F(1, 2), HeldAndFree(207.0, 208.0),
         ["Measured 0.5 in: a tension at rest of 207 lbf if held, 208 lbf if it slides. Reckon with the lower."]),
        (F(2), HeldAndFree(-740.0, 8.0),
         ["Measured 2 in: a tension at rest of -740 lbf if held, 8 lbf if it slides. Reckon with the lower. " + SLACK]),
    ],
)  # fmt: skip
def test_a_mass_hung_at_mid_bay(sinks, tension, told):
    first, *measured = hung_words(HungAnswer(Hung(F(10), sinks), HeldAndFree(0.3, 0.35), tension), QUESTION)
    assert first == (
        "A mass that weighs 10 lbf, hung at mid-bay of a level strand, takes it down there by 0.3 in if both posts "
        "hold it, by 0.35 in if it slides: a check of the tension without a gauge."
    )
    assert measured == told
