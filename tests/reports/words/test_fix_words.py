"""Words of fixes, as a person reads them: places counted from 1, figures that can be typed as they stand."""

from fractions import Fraction as F
from typing import get_args

import pytest

from stairguard.model.fixes import (
    Advice,
    BrokenClause,
    Change,
    Divided,
    Evened,
    Farther,
    Fix,
    Inserted,
    JogsThen,
    LineLonger,
    Long,
    Moved,
    Reshaped,
    Retaken,
    Settle,
    SideEffect,
    Step,
    TapeMark,
    ToMeasure,
)
from stairguard.model.outcome import Settling
from stairguard.reports.words.fix_words import fixes_words, fixes_words_anywhere, how_words
from tests.reports.words import as_printed

UNIT = TapeMark("in", F(1, 16))

STEP = Evened(0, "risers", F(29, 4), UNIT)
EACH = 'even out the risers of surface 1 between its ends, to 7-1/4" each'


@pytest.mark.parametrize(
    ("fix", "words"),
    [
        (Inserted(2, F(36), True, UNIT), "put a landing of 3' 0\" between surfaces 2 and 3"),
        (
            Inserted(1, F(73, 2), False, UNIT),
            "put a landing of 3' 1/2\", with level_piece = false, between surfaces 1 and 2",
        ),
        (Evened(0, "risers", F(29, 4), UNIT), 'even out the risers of surface 1 between its ends, to 7-1/4" each'),
        (
            Reshaped(0, (("A", F(5), F(4)), ("B", F(3), F(13, 4))), None, False, UNIT),
            'A 4" (1" less) and B 3-1/4" (1/4" more)',
        ),
        (Reshaped(0, (("A", F(5), F(4)),), (F(15, 4),), False, UNIT), 'A 4" (1" less); to be sure, A 3-3/4"'),
        (Reshaped(0, (("A", F(5), F(4)),), None, True, UNIT), 'A 4" (1" less), and it is still too close to call'),
    ],
)
def test_what_a_fix_says(fix, words):
    assert fixes_words([Fix((fix,))]) == words


@pytest.mark.parametrize(
    ("fix", "words"),
    [
        (Fix((STEP,), (LineLonger(F(48), UNIT), JogsThen(("P2", "P5")))),
         f"{EACH}; the line is then 4' 0\" longer; the rails then no longer meet at P2, P5 (see joints)"),
        (Fix((STEP,), (SideEffect.BUILT_ANEW,),
         (BrokenClause("A"), BrokenClause("B", option=True), BrokenClause("job", own="post gap"))),
         f"{EACH}; built anew with equal steps; then A, B (an option), the job's own limit of post gap fail"),
        (Fix((STEP,), breaks=(BrokenClause("A"),), long=Long((1,), F(80), UNIT)),
         f"{EACH}; the flight is then 6' 8\" long, nosing to nosing; then A fails"),
        (Fix((STEP,), long=Long((1, 3), F(80), UNIT, with_others=True)),
         f"{EACH}; with the other changes told done too, each of these flights is then 6' 8\" long, nosing to nosing"),
        (Fix((), advice=Farther(F(21, 16), UNIT)),
         'set the two posts 1-5/16" farther apart, or fill between them with something rigid'),
        (Fix((), advice=Settle(Settling(("rise", "run"), 0.0199), "in")),
         "measure rise and run, each to +- 0.019 in to settle it"),
        (Fix((), advice=Settle(Settling(tuple("abcde"), 0.5), "in")), "measure each length to +- 0.49 in to settle it"),
        (Fix((), advice=Settle(Settling((), 0.0), "in")), "no tape tells a figure so near its limit: mend it"),
    ],
)  # fmt: skip
def test_what_else_is_said(fix, words):
    assert fixes_words([fix]) == words


def test_every_effect_and_advice_has_words():
    assert all(fixes_words([Fix((STEP,), (effect,))]).startswith(f"{EACH}; ") for effect in SideEffect)
    assert all(fixes_words([Fix((), advice=advice)]) for advice in Advice)


def test_fixes_alike_but_for_their_surface_and_posts_are_told_alike():
    one, other = (
        Fix((Evened(surface, "risers", F(29, 4), UNIT),), (JogsThen((post,)),))
        for surface, post in ((1, "P2"), (3, "P9"))
    )
    assert fixes_words([one]) != fixes_words([other])
    assert fixes_words_anywhere([one]) == fixes_words_anywhere([other])
    apart = Fix((Evened(3, "risers", F(7), UNIT),))
    assert fixes_words_anywhere([apart]) != fixes_words_anywhere([one])


@pytest.mark.parametrize(
    ("quantity", "way", "words"),
    [("guard height", "at least", "raise the rail"), ("guard height", "at most", "lower the rail"),
     ("riser", "even", "even out the risers measured, each"), ("load", "at most", "")],
)  # fmt: skip
def test_what_to_do_about_a_figure(quantity, way, words):
    assert how_words(quantity, way) == words


def retaken(sure):
    return Retaken(
        quantity="guard height", way="at least", rows=(0,), now=F(71, 2), value=F(36), sure=sure, tape=UNIT,
    )  # fmt: skip


def moved(sure, doubtful=False, strand=True):
    return Moved(row=0, edge=3, strand=strand, by=F(5, 8), sure=sure, doubtful=doubtful, tape=UNIT)


STEPS = [
    Change("surface", "rise", F(203, 32), F(-29, 32), UNIT, (1,)),
    Change("surface", "risers", 8, surfaces=(1, 3)),
    Change("surface", "run", F(11), F(1, 2), UNIT, (1, 3, 5, 7)),
    Change("surface", "open_risers", value=False, surfaces=(1,)),
    Change("surface", "posts", None, surfaces=(0, 2, 3)),
    Change("strand", "tension", F(265), F(65), TapeMark("lbf", F(1))),
    Change("strand", "at_joints", "break"),
    Change("rules", "", "irc-2021"),
    Divided(1, (6, 5, 5), F(36), False, UNIT),
    Divided(1, (1, 1, 1), F(145, 4), True, UNIT),
    Inserted(2, F(36), True, UNIT),
    Inserted(1, F(73, 2), False, UNIT),
    Evened(0, "risers", F(29, 4), UNIT),
    Evened(3, "runs", F(1013, 100), UNIT),
    ToMeasure("guard height", (0,)),
    ToMeasure("handrail extension", (1, 3), "top"),
    ToMeasure("post gap"),
    retaken(None),
    retaken(F(36)),
    retaken(F(577, 16)),
    Reshaped(0, (("lift", F(5), F(4)), ("spacing", F(3), F(13, 4))), (F(15, 4), F(3)), False, UNIT),
    Reshaped(0, (("lift", F(5), F(4)),), (F(4),), False, UNIT),
    Reshaped(0, (("lift", F(5), F(4)),), None, True, UNIT),
    moved(None),
    moved(F(3, 4)),
    moved(None, doubtful=True, strand=False),
]


@pytest.mark.parametrize("step", STEPS)
def test_every_kind_of_step_is_read_off_its_words_as_it_is(step):
    assert as_printed.read(fixes_words([Fix((step,))]), "in") == as_printed.legible(step)


def test_no_kind_of_step_is_left_out():
    assert {type(step) for step in STEPS} == set(get_args(Step))


def test_steps_and_ways_stand_side_by_side_as_each_is_said_alone():
    alone = [fixes_words([Fix((step,))]) for step in STEPS]
    assert fixes_words([Fix(tuple(STEPS))]) == " and ".join(alone)
    assert fixes_words([Fix((step,)) for step in STEPS]) == "; or ".join(alone)
