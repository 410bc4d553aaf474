"""What findings are called: a row a kind of subject, and of alike ones together."""

from fractions import Fraction as F

import pytest

from stairguard.model.apart_from_place import apart_from_place
from stairguard.model.findings import Clash, Finding, Place, Unclosed
from stairguard.model.fixes import Change, Fix
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
    AtPost,
    AtPosts,
    AtStrand,
    BetweenFlights,
    BetweenPosts,
    Differences,
    Extension,
    Fall,
    Foot,
    HandrailSection,
    Height,
    LevelWires,
    LowestEdge,
    LowestHole,
    MeasuredDifferences,
    MeasuredSphere,
    MembersInBand,
    Nth,
    Numbered,
    Openings,
    PastEnd,
    PostGap,
    RuledLoad,
    RuledQuantity,
    ShortStrands,
    Size,
    Sphere,
    Stated,
    StrandsInBand,
    StrandSpacing,
    TakenAt,
    TakenFigure,
    WholeGuard,
)
from stairguard.reports.words.finding_words import (
    alike_words,
    conflict_words,
    reasons_words,
    sphere_place,
    spot_words,
    subject_words,
)
from tests.solve.lines import up

LANDING, FLIGHT, RAMP = Numbered(0, "landing"), Numbered(1, "flight"), Numbered(2, "ramp")
P1, P2 = AtPost("P1"), AtPosts("P1", "P2")
TOP = Unsaid((Condition("top_is_handrail", True), Condition("storeys_at_most", 3)))

SUBJECTS = [
    (Size(LANDING, "landing length"), "length of surface 1 (landing)"),
    (Size(LANDING, "landing depth"), "depth of surface 1 (landing)"),
    (Size(RAMP, "ramp slope"), "rise over level length of surface 3 (ramp)"),
    (Size(RAMP, "ramp rise"), "rise of surface 3 (ramp)"),
    (Size(FLIGHT, "riser"), "riser of surface 2 (flight)"),
    (Size(FLIGHT, "riser", 4), "riser 4 of surface 2 (flight)"),
    (Size(FLIGHT, "run", 3), "run 3 of surface 2 (flight)"),
    (Size(FLIGHT, "step comfort"), "two rises and a run of surface 2 (flight)"),
    (Size(FLIGHT, "step comfort", 2), "two rises and a run of step 2 of surface 2 (flight)"),
    (Size(FLIGHT, "nosing projection"), "nosing projection of surface 2 (flight)"),
    (Size(FLIGHT, "pitch"), "pitch of surface 2 (flight)"),
    (Size(FLIGHT, "flight rise"), "total rise of surface 2 (flight)"),
    (
        Height(LANDING, "top rail"),
        "rail height over surface 1 (landing), plumb from the walking surface to the top of the rail",
    ),
    (
        Height(FLIGHT, "top rail as handrail"),
        "rail as handrail over surface 2 (flight), plumb from the nosing line to the top of the rail",
    ),
    (Height(RAMP, "handrail"), "handrail over surface 3 (ramp), plumb from the surface to the top of the rail"),
    (
        Height(FLIGHT, "top rail", 3),
        "rail height over surface 2 (flight), plumb from nosing 3 to the top of the rail",
    ),
    (Differences(FLIGHT, "riser"), "largest difference of risers of surface 2 (flight), given as equal"),
    (
        Differences(FLIGHT, "nosing projection"),
        "largest difference of nosing projections of surface 2 (flight), given as equal",
    ),
    (Differences(FLIGHT, "run", (3, 4)), "largest difference of runs of surface 2 (flight) (numbers 3 and 4)"),
    (Extension(FLIGHT, top=True, sloping=False), "rail's extension past the top of surface 2 (flight), level"),
    (
        Extension(FLIGHT, top=False, sloping=True),
        "rail's extension past the bottom of surface 2 (flight), at the slope, level distance",
    ),
    (PostGap(RAMP), "widest clear gap between posts over surface 3 (ramp), along the strands"),
    (StrandSpacing(RAMP), "strand spacing over surface 3 (ramp), square, centre to centre"),
    (LowestEdge(FLIGHT), "lowest edge over surface 2 (flight), plumb above its nosing line and parallel"),
    (Sphere(LANDING, Where("between strands"), 1), "largest sphere between strands, of surface 1 (landing)"),
    (
        Sphere(FLIGHT, Where("step triangle", step=7), 5),
        "largest sphere step triangle, tread 7, and 4 like it, of surface 2 (flight)",
    ),
    (
        PastEnd(FLIGHT, Where("past end", post="P1", end="bottom"), F("4.25"), "in"),
        "unguarded beyond post P1, to the bottom nosing, for 4.25 in level, of surface 2 (flight)",
    ),
    (MeasuredSphere(None, "any", ""), "largest sphere through the opening, no place told"),
    (
        MeasuredSphere(FLIGHT, "step triangle", "step 2"),
        "largest sphere through the opening, step triangle, step 2, of surface 2 (flight)",
    ),
    (TakenFigure(FLIGHT, "riser", "", "step 2"), "riser of surface 2 (flight), step 2"),
    (TakenFigure(None, "handrail extension", "flight top", ""), "handrail extension, flight top"),
    (MeasuredDifferences(FLIGHT, "riser"), "largest difference of risers measured of surface 2 (flight)"),
    (Stated(LANDING), "handrail height stated of surface 1 (landing)"),
    (HandrailSection("handrail size"), "outside diameter of the round handrail"),
    (HandrailSection("handrail perimeter"), "perimeter of the handrail's section, which is not round"),
    (HandrailSection("handrail across"), "greatest width of the handrail's section, which is not round"),
    (HandrailSection("handrail clearance"), "clear space between the handrail and what stands beside it"),
    (WholeGuard("handrail heights"), "largest difference of the handrail's heights over flights and ramps"),
    (WholeGuard("push"), "every opening under the push the job asks for (see give)"),
    (WholeGuard("post gap"), "widest clear gap between posts, along the strands"),
    (WholeGuard("strand spacing"), "widest strand spacing, square"),
    (BetweenPosts(P2, "corner gap"), "clear gap between posts P1 and P2 of a corner, along the strands"),
    (BetweenPosts(P2, "corner spacing"), "strand spacing between posts P1 and P2, square, centre to centre"),
    (BetweenPosts(P2, "longest run"), "longest strand on one set of fittings, posts P1 to P2"),
    (BetweenPosts(P2, "most bends"), "most changes of angle in one run, posts P1 to P2"),
    (Foot(P1), "foot of post P1, nearest of all to an edge: inside its tread or surface, level"),
    (Foot(P1, corner=True), "foot of post P1, at the corner of a landing: inside it, level"),
    (LowestHole(P1), "lowest hole of post P1, plumb above its foot"),
    (BetweenFlights(0, 2), "level depth between surfaces 1 and 3 (flight), a tread's at least"),
    (ShortStrands((3,), P2), "strand 3 from P1 to P2, cut to fit between their fittings"),
    (ShortStrands((1, 2, 3, 4), P2), "strands 1 to 4 from P1 to P2, cut to fit between their fittings"),
    (
        LevelWires(F(60), F(2000), "mm", permitted=True),
        "tension of level strands, spacing to 60, bay to 2000 mm",
    ),
    (
        LevelWires(F(60), F(2500), "mm", permitted=False),
        "tension of level strands, spacing to 60, bay to 2500 mm: the table does not permit them",
    ),
    (
        StrandsInBand(F(100), F(120), "in", ()),
        "strands from 100 to 120 in above the surface or nosing line: none",
    ),
    (
        StrandsInBand(None, F(9, 2), "in", ((2, (0, 2)), (1, (1,)))),
        "strands from the surface to 4.5 in above the surface or nosing line: 2 over surfaces 1, 3, 1 over surface 2",
    ),
    (
        StrandsInBand(F(24), None, "in", ((9, (0,)),)),
        "strands from 24 to the rail above the surface or nosing line: 9 over surface 1",
    ),
    (MembersInBand(F(0), None, "mm", ()), "members from 0 to the rail above the surface or nosing line"),
    (
        MembersInBand(F(140), F(900), "mm", ((F(300), "strand 8"), (F(375), ""))),
        "members from 140 to 900 mm above the surface or nosing line: 300 strand 8, 375",
    ),
    (Fall(""), "plumb fall beside the guard"),
    (Fall("at the gate"), "plumb fall beside the guard, at the gate"),
    (Openings("any"), "openings between and around strands"),
    (Openings("step triangle"), "opening, step triangle"),
    (RuledQuantity("guard height", "any"), "guard height"),
    (RuledQuantity("guard height", "flight"), "guard height, flight"),
    (RuledLoad("0.75 kN on the rail."), "load: 0.75 kN on the rail."),
]


@pytest.mark.parametrize(("subject", "words"), SUBJECTS)
def test_what_a_figure_is_of(subject, words):
    assert subject_words(subject) == words


@pytest.mark.parametrize(
    ("spot", "words"),
    [
        ("", ""), (Where("step triangle", step=7), "step triangle, tread 7"),
        (Nth("riser", 3), "riser 3"), (P1, "post P1"), (P2, "posts P1 and P2"), (AtStrand(5), "strand 5"),
        (TakenAt(("by the gate",)), "by the gate"), (TakenAt(("step 2", "step 5")), "step 2 and step 5"),
        (BetweenFlights(0, 2), "between surfaces 1 and 3"), (ShortStrands((3,), P2), "strand 3 from P1 to P2"),
    ],
)  # fmt: skip
def test_where_it_was_found(spot, words):
    assert spot_words(spot) == words


def test_alike_figures_are_told_once_with_all_their_surfaces():
    same = [Size(Numbered(index, "flight"), "riser") for index in (4, 1, 7)]
    assert alike_words(same) == "riser of surfaces 2, 5, 8 (flight)"
    assert alike_words([Foot(P1), Foot(AtPost("P4"))]) == subject_words(Foot(P1))


def test_facts_are_alike_apart_from_their_surfaces_and_the_numbers_of_their_posts():
    assert apart_from_place(Size(FLIGHT, "riser")) == apart_from_place(Size(Numbered(5, "flight"), "riser"))
    assert apart_from_place(Size(FLIGHT, "riser", 1)) != apart_from_place(Size(FLIGHT, "riser", 2))
    assert apart_from_place(PostGap(FLIGHT)) != apart_from_place(PostGap(RAMP))
    assert apart_from_place(PostGap(FLIGHT)) != apart_from_place(StrandSpacing(FLIGHT))
    assert apart_from_place(P2) == apart_from_place(AtPosts("P7", "P8"))
    assert apart_from_place(P2) != apart_from_place(AtPosts("P7", "W"))


REASONS = [
    ((), ""),
    ((Why.ENGINEER,), "a load: a licensed engineer designs posts, rails and anchors for it"),
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
                    what=Sphere(FLIGHT, Where("step triangle", step=2), 1), place=Place(1), kind="stops", limit=4.0,
                    fixes=(Fix((Change("surface.rise", F(6), unit="in", surfaces=(1,)),)),),
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


def test_alike_openings_are_counted_over_all_their_surfaces():
    first = Sphere(FLIGHT, Where("step triangle", step=7), 5)
    same = [first, Sphere(Numbered(4, "flight"), Where("step triangle", step=7), 5)]
    assert alike_words(same) == "largest sphere step triangle, tread 7, and 9 like it, of surfaces 2, 5 (flight)"
    once = [Sphere(Numbered(index, "landing"), Where("between strands"), 1) for index in (0, 2)]
    assert alike_words(once) == "largest sphere between strands, of surfaces 1, 3 (landing)"


def test_an_opening_that_stands_for_others_elsewhere_is_told_with_its_surface():
    """A flight of five risers has no tread 7, though it has openings like that one."""
    same = [
        Sphere(FLIGHT, Where("step triangle", step=7), 5),
        Sphere(Numbered(4, "flight"), Where("step triangle", step=3), 5),
    ]
    assert alike_words(same) == (
        "largest sphere step triangle, tread 7 of surface 2, and 9 like it, of surfaces 2, 5 (flight)"
    )
    assert sphere_place(same) == "step triangle, tread 7 of surface 2"
    assert sphere_place(same[:1]) == "step triangle, tread 7"


def test_a_post_is_told_without_its_surface():
    same = [
        Sphere(FLIGHT, Where("wedge at post", post="P5"), 1),
        Sphere(Numbered(4, "flight"), Where("wedge at post", post="P9"), 1),
    ]
    assert alike_words(same) == "largest sphere wedge at post P5, and 1 like it, of surfaces 2, 5 (flight)"
