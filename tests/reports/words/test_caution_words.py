"""Every caution in English, and alike ones told together."""

from fractions import Fraction as F
from typing import get_args

import pytest

from stairguard.model.cautions import (
    AcrossNosing,
    Amended,
    Caution,
    CornerPulled,
    Crossed,
    FootAtCorner,
    FootOverhangs,
    HoleOverEdge,
    JogLeft,
    LastRiseAssumed,
    LeaveUsed,
    LowerNotReached,
    LowNeighbour,
    MustBear,
    NotRead,
    OptionUnmet,
    PackSays,
    PlainCaution,
    PracticeUnmet,
    RailsLap,
    TooLong,
    UnguardedEnd,
    UnmetFigure,
)
from stairguard.model.guard.guard_openings import Unguarded
from stairguard.model.guard.opening_kinds import Where
from stairguard.model.published.strand_materials import strand_steel
from stairguard.model.reasons import Option
from stairguard.model.rules import Amendment, OtherOccupancy
from stairguard.model.subjects import Height, Numbered, WholeGuard
from stairguard.reports.words.caution_words import caution_texts, deflection_cautions
from stairguard.reports.words.general_cautions import ALWAYS, LARGER_SPHERE
from tests.reports.words.rules.test_rule_words import RULE


def stretch(drop):
    where = Where("past end", post="P1", walked="landing")
    return Unguarded(
        where=where, surface=0, post="P1", face=F(9, 2), edge=F(0), marked=F(9, 2), high=F(0), drop=F(drop), asked=False
    )


def width(surface, value):
    return UnmetFigure(Height(Numbered(surface - 1, "flight"), "top rail"), value, "at most", 38.0, "in")


SAID = [
    (
        [Amended(Amendment("ours", "theirs", RULE, None))],
        "Amended locally: ours on theirs: A (riser, flight) taken out.",
    ),
    ([PackSays("Mind the bear.")], "Mind the bear."),
    (
        [OtherOccupancy("made-up", "R3", ("R-2", "R-3"))],
        "No rule of made-up turns on the occupancy 'R3'; it speaks of R-2, R-3.",
    ),
    ([PlainCaution.NO_RULES], "No rule pack was asked for: nothing was checked but the job's own limits."),
    (
        [NotRead("from memory", ("A", "B"))],
        "From memory, no document read: A; B. Compare with the code in force before relying on it.",
    ),
    (
        [NotRead("secondary", ("A",))],
        "Read in a copy, a quotation or an earlier edition: A. Compare with the code in force before relying on it.",
    ),
    ([PlainCaution.LARGER_SPHERE], LARGER_SPHERE),
    (
        [LeaveUsed(("A", "B"))],
        (
            "By leave of A; B spheres under the lowest strand are larger than others may be: whether a strand may "
            "be that lowest edge is for the authority to say."
        ),
    ),
    (
        [OptionUnmet("A", (width(2, 39.0), width(4, 39.0), width(6, 40.0)))],
        (
            "A would not be met, if it applies here: rail height over surfaces 2, 4 (flight), plumb from the "
            "nosing line to the top of the rail is 39 in, at most 38 in; rail height over surface 6 (flight), "
            "plumb from the nosing line to the top of the rail is 40 in, at most 38 in."
        ),
    ),
    (
        [
            PracticeUnmet(
                UnmetFigure(WholeGuard("post gap"), 50.0, "at most", 48.0, "in"), (Option("Four feet.", practice=True),)
            )
        ],
        (
            "The widest clear gap between posts, along the strands, is 50 in, by common practice at most 48 in "
            "(common practice, no source: Four feet)."
        ),
    ),
    (
        [LowNeighbour(index, "landing", "A", F(35), F(36)) for index in (2, 4)],
        (
            "At a joint the neighbour's rail runs on over surfaces 3, 5 (landing), as low as 35 in where A asks 36 "
            "in: ask whether the neighbour's own height may hold as far as the post."
        ),
    ),
    (
        [JogLeft("P1", F(2)), JogLeft("P4", F(2))],
        "At posts P1, P4 the rails do not meet: a plumb jog of 2 in is left (see remedies).",
    ),
    (
        [RailsLap("P1", 3.5, True)],
        (
            "At post P1 the turn is so sharp that no saw cuts the mitre: the rails would lie side by side as far "
            "as 3.5 in from the corner. Make it in two turns of half as much each, with a landing between."
        ),
    ),
    (
        [RailsLap("P1", 3.5, False)],
        (
            "At post P1 the turn is so sharp that the rails lie in one another as far as 3.5 in from the corner. "
            "Make it in two turns of half as much each, with a landing between."
        ),
    ),
    (
        [Crossed(2, F(35))],
        (
            "No level piece of rail lies over surface 3 (landing): the neighbours' rails run on at their slopes, "
            "35 in above it at the lowest, and so do the strands: ask whether that may guard a landing."
        ),
    ),
    (
        [LowerNotReached(1, F(3), 0.5)],
        (
            "strand.lower = 3 in is not reached over surface 2: the lowest strand stops 0.5 in lower, square, "
            "where its hole meets the nosing line."
        ),
    ),
    (
        [HoleOverEdge("P2")],
        (
            "At post P2 holes come out over the edge of the post's face, so askew it stands to the rails: turn it "
            'nearly square to both ([post] corner_square = "rails"), or make the corner with two posts.'
        ),
    ),
    (
        [TooLong("rail", ("R1", "R2"))],
        "No rail stock is long enough for R1, R2: splice, or buy longer; the stock plan leaves them out.",
    ),
    (
        [PlainCaution.NO_TAKE_UPS],
        "Take-ups are zero: strand lengths run between bearing faces, with nothing deducted for fittings.",
    ),
    (
        [FootAtCorner("P3")],
        (
            "At the corner of a landing and steps (post P3) part of the post stands beyond the landing: notch it "
            "over the edge and fix it to the landing's side, or let it into the steps. Its length counts from the "
            "lowest tread under it."
        ),
    ),
    (
        [FootAtCorner("P3"), FootAtCorner("P7")],
        (
            "At the corner of a landing and steps (posts P3, P7) part of the post stands beyond the landing: notch "
            "it over the edge and fix it to the landing's side, or let it into the steps. Their lengths count from "
            "the lowest tread under them."
        ),
    ),
    (
        [FootOverhangs("P2", F(3, 4))],
        (
            "The foot of post P2 overhangs its tread or surface by 0.75 in, level: mount it at the stair's side, "
            "notch it, or move it."
        ),
    ),
    (
        [AcrossNosing("P2", F(3, 4)), AcrossNosing("P4", F(3, 4))],
        (
            "Beside the stair posts P2, P4 stand across a nosing: post.drop counts from the tread or surface at the "
            "post's centre, and the foot is 0.75 in below the lower tread there: see that the side is deep enough."
        ),
    ),
    (
        [AcrossNosing("P2", F(-1, 4))],
        (
            "Beside the stair post P2 stands across a nosing: post.drop counts from the tread or surface at the post's "
            "centre, and the foot ends 0.25 in above the lower tread there: the side may give it no hold under the "
            "nosing. Make post.drop larger, or move the post."
        ),
    ),
    (
        [AcrossNosing("P2", F(0))],
        (
            "Beside the stair post P2 stands across a nosing: post.drop counts from the tread or surface at the post's "
            "centre, and the foot is level with the lower tread there: the side may give it no hold under the "
            "nosing. Make post.drop larger, or move the post."
        ),
    ),
    (
        [MustBear(("wall", "newel"))],
        "The wall and the newel at the end of the line must bear the pull of all strands: a licensed engineer decides.",
    ),
    (
        [CornerPulled(("P2",))],
        (
            "At the plan turn (post P2) the strands of both sides pull the corner inwards, and nothing on the "
            "other side holds against them: brace it, or have a licensed engineer size it."
        ),
    ),
    (
        [CornerPulled(("P2", "P3")), CornerPulled(("P6",))],
        (
            "At the plan turns (posts P2, P3, P6) the strands of both sides pull the corner inwards, and nothing "
            "on the other side holds against them: brace it, or have a licensed engineer size it."
        ),
    ),
    (
        [UnguardedEnd(stretch(7), "flight")],
        (
            "Surface 1 (flight) is unguarded beyond post P1, to the end of the landing, for 4.5 in level, 7 in up: "
            "what stands there must close it, or the guard go on."
        ),
    ),
    (
        [UnguardedEnd(stretch(0), "landing")],
        (
            "Surface 1 (landing) is unguarded beyond post P1, to the end of the landing, for 4.5 in level, at the "
            "lowest level of the line: what stands there must close it, or the guard go on."
        ),
    ),
    (
        [LastRiseAssumed(1)],
        (
            "The lowest rise of surface 2 (flight), measured going down, was not given: it is taken as the mean of "
            "the others. Measure it."
        ),
    ),
    (
        [PlainCaution.TAKEN_AS_EXACT],
        "Figures without a +- are taken as exact, so a verdict near its limit says more than a tape can.",
    ),
    ([PlainCaution.ONLY_MEASURED], "Only what was measured is held to the rules: places between may be worse."),
]


def test_none_is_without_words():
    assert {type(cautions[0]) for cautions, _ in SAID} == set(get_args(Caution))
    assert {cautions[0] for cautions, _ in SAID if isinstance(cautions[0], PlainCaution)} == set(PlainCaution)


@pytest.mark.parametrize(("cautions", "text"), SAID, ids=[type(cautions[0]).__name__ for cautions, _ in SAID])
def test_alike_cautions_are_told_in_one_sentence(cautions, text):
    assert caution_texts(cautions, "in") == (*ALWAYS, text)


def test_what_differs_as_shown_is_told_apart_and_nothing_twice():
    jogs = [
        JogLeft("P1", F(2)),
        JogLeft("P2", F(2) + F(1, 10**9)),
        JogLeft("P3", F(3)),
        PlainCaution.NO_RULES,
        PlainCaution.NO_RULES,
    ]
    texts = caution_texts(jogs, "in")[len(ALWAYS) :]
    assert [text.split(" the rails")[0] for text in texts[:2]] == ["At posts P1, P2", "At post P3"]
    assert len(texts) == 3


def test_flights_that_stop_alike_are_told_one_by_one():
    texts = caution_texts([LowerNotReached(flight, F(3), 0.5) for flight in (1, 3)], "in")
    assert len(texts) == len(ALWAYS) + 2


def test_what_is_said_of_strand_give_names_figures_from_memory():
    steel = strand_steel("1x19", "316", F(1, 8), "in")
    *_, last = deflection_cautions(steel)
    assert steel.remembered
    assert all(what in last for what in steel.remembered)
