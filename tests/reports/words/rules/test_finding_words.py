"""What findings are called: a row a kind of subject, and of alike ones together."""

from fractions import Fraction as F

import pytest

from stairguard.model.apart_from_place import apart_from_place
from stairguard.model.guard.opening_kinds import Where
from stairguard.model.reasons import (
    Unsaid,
)
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
    Height,
    LevelWires,
    LowestHole,
    MeasuredDifferences,
    MeasuredSphere,
    MembersInBand,
    Nth,
    Numbered,
    Openings,
    PastEnd,
    RuledLoad,
    RuledQuantity,
    ShortStrands,
    Size,
    Sphere,
    StrandsInBand,
    TakenAt,
    TakenFigure,
    WholeGuard,
)
from stairguard.reports.words.rules.finding_words import (
    alike_words,
    sphere_place,
    spot_words,
    spots_words,
    subject_words,
)

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
    (Size(RAMP, "post gap"), "widest clear gap between posts over surface 3 (ramp), along the strands"),
    (Size(RAMP, "strand spacing"), "strand spacing over surface 3 (ramp), square, centre to centre"),
    (Size(FLIGHT, "lowest edge"), "lowest edge over surface 2 (flight), plumb above its nosing line and parallel"),
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
    (Size(LANDING, "handrail height"), "handrail height stated of surface 1 (landing)"),
    (WholeGuard("handrail size"), "outside diameter of the round handrail"),
    (WholeGuard("handrail perimeter"), "perimeter of the handrail's section, which is not round"),
    (WholeGuard("handrail across"), "greatest width of the handrail's section, which is not round"),
    (WholeGuard("handrail clearance"), "clear space between the handrail and what stands beside it"),
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


def test_of_alike_things_of_posts_all_posts_are_named():
    pairs = [AtPosts("P1", "P2"), AtPosts("P1", "P2"), AtPosts("P5", "P6")]
    assert spots_words(pairs) == "posts P1-P2, P5-P6"
    assert spots_words(pairs[:2]) == "posts P1 and P2"
    assert spots_words([AtPost("P1"), AtPost("P2"), AtPost("P4")]) == "posts P1, P2, P4"
    assert spots_words([ShortStrands((1, 2), pair) for pair in pairs]) == "strands 1, 2 from P1-P2, P5-P6"
    assert alike_words([BetweenPosts(pair, "corner gap") for pair in pairs]) == (
        "clear gap between posts P1-P2, P5-P6 of a corner, along the strands"
    )
    assert (
        alike_words([LowestHole(P1), LowestHole(AtPost("P4"))]) == "lowest hole of posts P1, P4, plumb above its foot"
    )
    many = [AtPosts(f"P{n}", f"P{n + 1}") for n in range(2, 22, 4)]
    assert spots_words(many) == "posts P2-P3, and so on in steps of 4, to P18-P19"


def test_facts_are_alike_apart_from_their_surfaces_and_the_numbers_of_their_posts():
    assert apart_from_place(Size(FLIGHT, "riser")) == apart_from_place(Size(Numbered(5, "flight"), "riser"))
    assert apart_from_place(Size(FLIGHT, "riser", 1)) != apart_from_place(Size(FLIGHT, "riser", 2))
    assert apart_from_place(Size(FLIGHT, "post gap")) != apart_from_place(Size(RAMP, "post gap"))
    assert apart_from_place(Size(FLIGHT, "post gap")) != apart_from_place(Size(FLIGHT, "strand spacing"))
    assert apart_from_place(P2) == apart_from_place(AtPosts("P7", "P8"))
    assert apart_from_place(P2) != apart_from_place(AtPosts("P7", "W"))


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
