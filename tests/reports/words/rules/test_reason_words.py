"""Why findings neither pass nor fail, and what no figure can meet: a row a kind."""

from fractions import Fraction as F

import pytest

from stairguard.model.findings import Clash, Finding, Location, Unclosed
from stairguard.model.fixes import Change, Fix, TapeMark
from stairguard.model.guard.opening_kinds import Where
from stairguard.model.reasons import (
    ByLeave,
    DepthStatedBy,
    FallPastEnd,
    NoGuardAsked,
    Noted,
    NotMeasured,
    Option,
    Required,
    Unsaid,
    Why,
)
from stairguard.model.rules import Rule
from stairguard.model.site import Condition
from stairguard.model.subjects import (
    Numbered,
    Sphere,
)
from stairguard.reports.words.rules.reason_words import conflict_words, reasons_words
from tests.solve.lines import up

FLIGHT = Numbered(1, "flight")
TOP = Unsaid((Condition("top_is_handrail", True), Condition("storeys_at_most", 3)))

REASONS = [
    ((), ""),
    ((Why.ENGINEER,), "a load: a licensed engineer designs posts, rails and anchors for it"),
    ((Why.PUSH_APART,), "between a strand and the stair that it stands out from the push is not solved"),
    ((Why.DROP_UNSTATED,), "the drop is not stated ([site] greatest_drop): a guard is taken as required"),
    ((Why.UNSTATED_HANDRAIL,), "[handrail] does not state it"),
    ((Why.UNTOLD_BY_JOB,), "the job does not tell it"),
    ((Why.UNTOLD_BY_FIGURES,), "not to be told from these figures"),
    ((Why.ROUND,), "the handrail is round"),
    ((Why.NOT_ROUND,), "the handrail's section is not round"),
    (
        (Why.DEPTH_UNSHOWN, DepthStatedBy(1)),
        (
            "it lies at a turn, where the guard line does not show its depth in the direction of travel; "
            "surface[2].depth states it"
        ),
    ),
    (
        (DepthStatedBy(None),),
        "a landing between them that has length = 0 and level_piece = false states it by its depth",
    ),
    (
        (Why.FOOT_AT_CORNER,),
        (
            "notched over the edge or let into the steps, it is fixed to the landing's side: a licensed "
            "engineer decides how"
        ),
    ),
    (
        (Why.LARGER_SPHERE,),
        (
            "The larger sphere of the step triangle was used: some officials accept it only under a rigid bottom rail, "
            "and not under a strand."
        ),
    ),
    ((Why.NEAR_LIMIT,), "nearer to its limit than the guard band that its +- leaves"),
    (
        (Why.NEAR_LIMIT, Why.CONTACT_MAY_CHANGE),
        "nearer to its limit than the guard band that its +- leaves; the sphere may in truth touch something else",
    ),
    (
        (Why.ABOVE_GUARD,),
        "it lies wholly above the height that a guard has to have here: many codes limit no opening there",
    ),
    ((Why.WITHIN_TAPE,), "within what the tape can tell"),
    ((Why.FEW_HEIGHTS,), "fewer than two heights were measured"),
    ((Noted(Why.STRANDS_CLIMBED, "Up to 900."),), "strands may be climbed like a ladder. Up to 900."),
    ((Noted(Why.MEMBERS_CLIMBED, "Up to 900."),), "they may be climbed like a ladder. Up to 900."),
    ((Noted(Why.NO_MEMBERS, "Up to 900."),), "no heights of members were given. Up to 900."),
    ((Noted(Why.NO_TOLERANCE, "Uniform."),), "no tolerance is printed. Uniform."),
    ((Option("Where it serves.", practice=False),), "it may not bind here: Where it serves."),
    ((Option("Four feet.", practice=True),), "common practice, no source: Four feet"),
    (
        (Option("Where it serves.", practice=False), TOP),
        (
            "it may not bind here: Where it serves; [site] does not say whether it binds here: top is handrail, "
            "storeys at most 3"
        ),
    ),
    ((NotMeasured(()),), "not measured"),
    ((NotMeasured((1,)),), "not measured on surface 2"),
    ((NotMeasured((0, 2, 3)),), "not measured on surfaces 1, 3, 4"),
    ((Required(None, "in"),), "a guard is required here, and there is one"),
    (
        (Required(F(36), "in"),),
        "a guard is required here, and there is one (the drop taken as within 36 in of the edge)",
    ),
    (
        (NoGuardAsked(far=False),),
        "the drop stated asks for no guard by this clause; it is held to the rules all the same",
    ),
    (
        (NoGuardAsked(far=True),),
        "a drop so far from the edge asks for no guard by this clause; it is held to the rules all the same",
    ),
    (
        (FallPastEnd(F("7.25"), "in"),),
        (
            "so far as the job tells the fall there is 7.25 in, which asks for no guard by this clause: if it "
            "is more, the guard is to go on to the end"
        ),
    ),
    ((ByLeave("S4.2", "secondary"),), "larger, by leave of S4.2 (secondary): the lowest edge is low enough"),
]


@pytest.mark.parametrize(("reasons", "words"), REASONS)
def test_why_a_finding_neither_passes_nor_fails(reasons, words):
    assert reasons_words(reasons) == words


def test_every_reason_that_says_all_has_its_words():
    told = {why for reasons, _ in REASONS for one in reasons for why in (one, getattr(one, "why", None))}
    assert set(Why) <= told


def rule(quantity, kind, value, clause):
    return Rule(
        quantity=quantity, place="flight", kind=kind, value=F(value), clause=clause, status="read", source="", note="",
        binding=True,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("conflict", "words"),
    [
        (
            Clash("flight", rule("riser", "at least", 7, "A"), rule("riser", "at most", 6, "B"), "in"),
            (
                "Over a flight: A asks at least 7 in, B at most 6 in, of one riser: no figure meets both. The "
                "authority decides which holds."
            ),
        ),
        (
            Clash(
                "flight", rule("guard height", "at least", 42, "A"), rule("handrail height", "at most", 38, "B"), "in",
                F(34),
            ),
            (
                "Over a flight: A asks at least 42 in, B at most 38 in, of one rail: no height meets both, they "
                "are 4 in apart. Smallest change: a handrail of its own, from 34 to 38 in, beside a guard of at "
                "least 42 in."
            ),
        ),
        (
            Unclosed(
                Finding(
                    clause="T1", status="read", quantity="opening", verdict="fail",
                    what=Sphere(FLIGHT, Where("step triangle", step=2), 1), place=Location(1), kind="stops", limit=4.0,
                    fixes=(Fix((Change("surface", "rise", F(6), tape=TapeMark("in", F(1)), surfaces=(1,)),)),),
                ),
                up(7, nosing=F(1)), "in",
            ),
            (
                "The steps of surface 2 (rise 7, run 11, nosing 1 in) and T1 (stops 4 in): no strand clear of the"
                " nosings stops that sphere. Smallest change: surface[2].rise = 6."
            ),
        ),
    ],
)  # fmt: skip
def test_what_no_figure_can_meet(conflict, words):
    assert conflict_words(conflict) == words
