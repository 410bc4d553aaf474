"""What comes of a push in words, and each thing that does not hold with what would hold it, from facts."""

from dataclasses import asdict, replace
from fractions import Fraction as F

import pytest

import stairguard
from stairguard.model.fixes import Advice, Evened, Fix, TapeMark
from stairguard.model.guard.guard_loads import GuardReport
from stairguard.model.guard.solved_layout import Check
from stairguard.model.guard.strand_deflection import Asked, GuardGive, HeldAndFree, OpeningGive, Upkeep, Weathered
from stairguard.model.job import Climate
from stairguard.model.subjects import WholeGuard
from stairguard.reports.words.deflection.push_matters import bay_matters, bay_result, guard_matters, guard_result
from stairguard.reports.words.fix_words import fixes_words
from stairguard.reports.words.names import alike_openings_words
from stairguard.reports.words.rules.finding_words import subject_words
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
from tests.solve.jobs import BASE
from tests.solve.lines import land

LAYOUT = stairguard.lay_out(replace(BASE, surfaces=(land(96),))).layout
"""A landing alone, three posts; its openings are the rail's, between strands and under the lowest strand."""
NO_TENSION = "no tension short of breaking holds it: set the strands nearer, or the posts, or fill it in"
FAILING = {
    "head": "FAILS", "clause": "the push asked for (force)", "where": "where it is pushed",
    "found": "6.75 lbf, the strand sliding", "asked": "at least 8 lbf",
    "fix": "a tension at rest of 237.96 lbf or more; or a spacing of 2.8787 in or less; or a bay of 35.624 in or less",
    "short": "",
}  # fmt: skip
UPKEEP = Upkeep(
    climate=Climate(now=F(20), coldest=F(-20), warmest=F(50), frame=(("steel", F(1)),)),
    shortening=0.0,
    drop=0.0,
    points=(),
    lowest=Weathered(50.0, 150.0, 140.0),
    highest=Weathered(-20.0, 2000.0, 1900.0),
    slack=False,
    breaks=False,
    holding=HOLDING,
    to_set=HeldAndFree(243.0, 270.361),
    otherwise=(),
)
HELD = replace(UPKEEP, holding=replace(HOLDING, verdict="holds"))


def told(matters):
    return [asdict(one) for one in matters]


@pytest.mark.parametrize(
    ("answer", "different"),
    [
        (ANSWER, {}),
        # the greatest push is not reached where the strand breaks first
        (replace(ANSWER, holding=replace(HOLDING, push=NONE, breaking=HeldAndFree(7.0, 6.5))),
         {"found": "6.5 lbf, the strand sliding"}),
        (replace(ANSWER, holding=replace(HOLDING, push=NONE)), {"found": "none: it passes untouched"}),
        (answered(asked(strands=1)), {"fix": FAILING["fix"].replace("a spacing of", "a strand from the edge by")}),
        (replace(ANSWER, holding=replace(HOLDING, needed=NONE), longest=NONE),
         {"fix": "a spacing of 2.8787 in or less"}),
        (replace(ANSWER, holding=replace(HOLDING, needed=NONE), longest=NONE, widest=NONE), {"fix": NO_TENSION}),
        (answered(asked(at=F(3)), "holds"),
         {"where": "the weakest place of the bay, 21 in from a post: a probe will find it",
          "fix": "ask there (--at), and make what it tells"}),
    ],
)  # fmt: skip
def test_a_bay_that_gives_way(answer, different):
    """What would hold is cut on the safe side: a tension up, a spacing and a bay down."""
    assert told(bay_matters(replace(REPORT, answer=answer))) == [FAILING | different]


@pytest.mark.parametrize(
    ("tension", "asks", "fix"),
    [
        (F(250), "at least 250 lbf", "a tension at rest of 250 lbf or more"),
        (None, "a strand that the table permits at this spacing and bay",
         "strands or posts nearer, as far as the table permits this strand"),
    ],
)  # fmt: skip
def test_a_bay_that_a_table_asks_more_of(tension, asks, fix):
    table = Asked(clause="A table", spacing=F(3), bay=F(48), tension=tension, met=False)
    (one,) = told(bay_matters(replace(REPORT, answer=answered(verdict="holds"), table=table)))
    its_own = {"clause": "A table", "where": "tension at rest", "found": "200 lbf", "asked": asks, "fix": fix}
    assert one == FAILING | its_own


@pytest.mark.parametrize(
    ("upkeep", "different"),
    [
        (UPKEEP, [{"fix": "set 270.37 lbf today"}]),
        (replace(UPKEEP, to_set=NONE), [{"fix": NO_TENSION}]),
        (replace(HELD, breaks=True),
         [{"clause": "the strand's breaking force", "where": "at -20 °C, the highest tension to come",
           "found": "2000 lbf", "asked": "less than the strand's breaking force",
           "fix": "set less tension, or a thicker strand"}]),
        (HELD, []),
    ],
)  # fmt: skip
def test_what_is_to_come_of_a_bay_and_of_a_guard(upkeep, different):
    lowest = {
        "clause": "the push asked for (force), at the lowest tension to come",
        "where": "every bay, at 50 °C, the lowest tension to come",
    }
    wanted = [FAILING | lowest | each for each in different]
    assert told(bay_matters(replace(REPORT, answer=answered(verdict="holds"), upkeep=upkeep))) == wanted
    assert told(guard_matters(LAYOUT, guard(upkeep=upkeep))) == wanted


def test_what_came_of_a_bay():
    holds, unasked = (replace(REPORT, answer=one) for one in (answered(verdict="holds"), answered(pushed(force=None))))
    assert bay_result(REPORT) == "DOES NOT COMPLY. Make the change told at each, and ask again."
    assert bay_result(holds) == "COMPLIES: the bay holds the force asked for. Measure the tension as set."
    assert bay_result(unasked) == "NOT CHECKED: no force was asked for (--force), so nothing is judged."
    assert not bay_matters(holds) + bay_matters(unasked)


def guard(*openings, passes=True, **more):
    """A guard under the bay's push, with these openings."""
    nothing = {"mass": 10.0, "bays": (), "ends": (), "fittings": (), "upkeep": None, "upkeep_run": None, "compared": ()}
    give = GuardGive(taut=QUESTION.taut, push=QUESTION.push, openings=openings, passes=passes)
    return GuardReport(give=give, steel=STEEL, **nothing | more)


def opening(index=1, **changed):
    one = OpeningGive(
        opening=index, probe=4.0, numbers=(2, 3), posts=("P1", "P2"), holding=HOLDING, verdict="gives way", nearer=0.1
    )
    return replace(one, **changed)


UNTOUCHED = opening(posts=(), holding=None, verdict="passes untouched", nearer=None)
EVENED = Fix((Evened(1, "risers", F(29, 4), TapeMark("in", F(1, 16))),))
ADVICE = Fix((), advice=Advice.SOLID_PIECE_AND_GAP)
HOLDS_THIS = 'strand.tension = "237.96 lbf" or more holds this one'


@pytest.mark.parametrize(
    ("one", "fixes", "found", "fix"),
    [
        (opening(), (), FAILING["found"], HOLDS_THIS),
        (opening(), (ADVICE,), FAILING["found"], f"{HOLDS_THIS}; {fixes_words((ADVICE,))}"),
        (opening(), (EVENED,), FAILING["found"], f"for every opening at once, {fixes_words((EVENED,))}"),
        (UNTOUCHED, (), "none: it passes untouched", NO_TENSION),
        (UNTOUCHED, (ADVICE,), "none: it passes untouched", fixes_words((ADVICE,))),
    ],
)
def test_an_opening_that_gives_way(one, fixes, found, fix):
    (matter,) = told(guard_matters(LAYOUT, guard(one, passes=False, fixes=fixes)))
    bay = ", bay P1-P2" if one.posts else ""
    where = alike_openings_words(LAYOUT, [LAYOUT.openings[1]]) + bay
    assert matter == FAILING | {"where": where, "found": found, "fix": fix}


def test_openings_that_come_out_alike_are_told_together():
    """Alike as they are printed: figures that differ past their digits do; what holds and how it fails do not."""
    close = opening(holding=replace(HOLDING, push=HeldAndFree(7.5, 6.75000001)))
    weaker = opening(holding=replace(HOLDING, push=HeldAndFree(7.5, 6.7)))
    held = opening(verdict="holds")
    for others, many in (((close,), 1), ((weaker,), 2), ((held,), 1), ((opening(2),), 2), ((opening(nearer=0.2),), 2)):
        assert len(guard_matters(LAYOUT, guard(opening(), *others, passes=False))) == many


def test_a_guard_that_a_table_asks_more_of():
    check = Check(
        clause="A table",
        what=WholeGuard("push"),
        value=200.0,
        limit=250.0,
        kind="at least",
        unit="lbf",
        passes=False,
        status="read",
    )
    (one,) = told(guard_matters(LAYOUT, guard(tabled=(check, replace(check, passes=True)))))
    assert one == {
        "head": "FAILS", "clause": "A table", "where": subject_words(check.what), "found": "200 lbf",
        "asked": "at least 250 lbf", "short": "",
        "fix": "a tension at rest of 250 lbf or more; or strands or posts nearer, by the table",
    }  # fmt: skip


APART = opening(0, numbers=(), posts=(), holding=None, verdict="not solved", nearer=None)


def test_what_is_not_solved_is_no_failure_and_never_held():
    where = "between a strand and the stair that it stands out from"
    rest = guard(opening(verdict="holds"), APART, passes=None)
    assert guard_matters(LAYOUT, rest) == []
    assert guard_result(rest, 0) == (
        f"INCOMPLETE with the push asked for: the push is not solved at 1 opening {where}, and is not judged there. "
        "Elsewhere it is held."
    )
    failing = guard(opening(), APART, APART, passes=False, fixes=(EVENED,))
    assert guard_result(failing, 1).endswith(f"Besides, the push is not solved at 2 openings {where}.")
    (one,) = guard_matters(LAYOUT, failing)
    assert one.fix == f"for every opening that is solved at once, {fixes_words((EVENED,))}"


def test_what_came_of_a_guard():
    failing = guard(opening(), passes=False)
    start = "DOES NOT COMPLY with the push asked for: "
    assert guard_result(failing, 1) == f"{start}1 thing to mend. Make the change told at each, and ask again."
    assert guard_result(failing, 2).startswith(f"{start}2 things to mend. ")
    assert guard_result(guard(), 0) == (
        "COMPLIES with the push asked for. Set the tension told here, measure it, and look after it."
    )
    unjudged = guard(opening(), passes=None)
    assert guard_result(unjudged, 0) == (
        "NOT CHECKED: nothing is judged. Give a force ([push] force), a tension ([strand] tension), and rules on "
        "openings or a probe's size ([push] sphere)."
    )
    assert not guard_matters(LAYOUT, guard()) + guard_matters(LAYOUT, unjudged)
