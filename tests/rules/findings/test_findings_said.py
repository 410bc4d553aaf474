"""What findings say in words where no figure decides: why nothing was held, where it is, what would be wanted."""

from dataclasses import replace
from fractions import Fraction as F

import pytest

import stairguard
from stairguard.model.findings import Finding, Location, Unclosed
from stairguard.model.fixes import Advice, Change, Fix, TapeMark
from stairguard.model.guard.opening_kinds import Where
from stairguard.model.job import Handrail, Landing, Push
from stairguard.model.measured_guard import Taken
from stairguard.model.reasons import DepthStatedBy, Why
from stairguard.model.subjects import AtPost, BetweenFlights, Foot, LevelWires, Numbered, Size, Sphere
from stairguard.rules.findings.designed_openings import beyond_help
from stairguard.rules.measures.wire_checks import wire_checks
from stairguard.rules.measures.wire_table import asked
from stairguard.solve.lay_out import lay_out
from stairguard.solve.load.guard_deflection import guard_give
from tests.rules.findings.test_designed import FLIGHT, LEVEL, inspected, job, pack, rule
from tests.rules.findings.test_surveyed import inspect, length
from tests.rules.findings.test_surveyed import rule as bound
from tests.rules.fixes.brief import brief

DEEP = rule("landing length", "at least", 36, "landing")


def landings(*surfaces):
    return [f for f in inspected(job(*surfaces), pack(DEEP)).findings if f.quantity == "landing length"]


def test_a_landing_too_short_between_flights_is_held_to_the_rule_and_to_a_tread():
    """8 in of landing: 28 short of the rule's 36, and 3 of a tread of 11; 36 is enough for both."""
    by_rule, by_tread = landings(FLIGHT, Landing(length=F(8), turn=0.0), FLIGHT)
    assert (by_rule.what, by_rule.place.surface) == (Size(Numbered(1, "landing"), "landing length"), 1)
    assert (by_rule.verdict, by_rule.value, by_rule.limit, by_rule.unit) == ("fail", 8.0, 36.0, "in")
    assert by_tread.what == BetweenFlights(0, 2)
    assert (by_tread.verdict, by_tread.value, by_tread.limit, by_tread.unit) == ("fail", 8.0, 11.0, "in")
    assert (by_tread.clause, by_tread.status, by_tread.place.where) == ("job", "job", BetweenFlights(0, 2))
    # told with the first, which mends both; alone it asks for what it is short
    assert list(map(brief, by_rule.fixes)) == ["surface[2].length = 36 (+28)"]
    (alone,) = (
        f
        for f in inspected(job(FLIGHT, Landing(length=F(8), turn=0.0), FLIGHT), pack()).findings
        if f.quantity == "landing length"
    )
    assert list(map(brief, alone.fixes)) == ["surface[2].length = 11 (+3)"]


def test_a_depth_that_the_line_does_not_show_is_asked_for_by_its_key():
    by_rule, by_tread = landings(FLIGHT, Landing(length=F(30), turn=90.0), replace(FLIGHT, turn=90.0))
    assert (by_rule.what, by_rule.place.surface) == (Size(Numbered(1, "landing"), "landing depth"), 1)
    assert (by_rule.verdict, by_rule.limit, by_rule.unit) == ("not checked", 36.0, "in")
    assert (by_tread.verdict, by_tread.limit, by_tread.unit) == ("not checked", 11.0, "in")
    assert by_rule.why == by_tread.why == (Why.DEPTH_UNSHOWN, DepthStatedBy(1))
    assert by_tread.kind == by_rule.kind == "at least"


def test_with_no_landing_between_two_flights_one_is_to_be_put_there():
    (one,) = landings(FLIGHT, replace(FLIGHT, turn=90.0))
    assert one.why == (Why.DEPTH_UNSHOWN, DepthStatedBy(None))


def test_sections_of_handrails_that_a_rule_is_not_about():
    size, around = bound("handrail size", "at least", F(5, 4)), bound("handrail perimeter", "at least", 4)
    across = bound("handrail across", "at most", 3)
    round_one = [Taken(what="handrail size", length=length("1.5"))]
    flat = [Taken(what="handrail perimeter", length=length(5)), Taken(what="handrail across", length=length(2))]
    for rules, taken, why in (
        ((around,), round_one, Why.ROUND),
        ((across,), round_one, Why.ROUND),
        ((size,), flat, Why.NOT_ROUND),
        ((size,), flat[:1], Why.NOT_ROUND),
        ((size,), flat[1:], Why.NOT_ROUND),
    ):
        (one,) = inspect(rules, *taken).findings
        assert (one.verdict, one.why, one.fixes) == ("not checked", (why,), ())
    # as stated of a guard to be built
    stated = {"diameter": (around, across, Why.ROUND)}
    for key in ("perimeter", "across"):
        stated[key] = (size, size, Why.NOT_ROUND)
    for key, (*rules, why) in stated.items():
        for one_rule in rules:
            asked_for = replace(job(LEVEL), handrail=Handrail(**{key: F(2)}))
            (one,) = (f for f in inspected(asked_for, pack(one_rule)).findings if f.clause == "T1")
            assert (one.verdict, one.why) == ("not checked", (why,))
    (none,) = (f for f in inspected(job(LEVEL), pack(size)).findings if f.clause == "T1")
    assert none.why == (Why.UNSTATED_HANDRAIL,)


def wired(spacing, gap, tension, diameter="2.5", lay="7x7"):
    """A level guard of one bay with so much between its posts' faces, under Australia's cone."""
    base = job(LEVEL)
    asked_for = replace(
        base,
        unit="mm",
        mark=F(1),
        surfaces=(Landing(length=F(gap) + 80, turn=0.0),),
        rail=replace(base.rail, height=F(1000), landing_height=F(1000), depth=F(40), width=F(60)),
        strand=replace(
            base.strand, diameter=F(diameter), spacing=F(spacing), construction=lay, tension=F(tension), source="set"
        ),
        post=replace(base.post, width=F(40), max_gap=F(gap) + 1, setback=F(100)),
        push=Push(force=F(150), probe="cone", sphere=F(125)),
    )
    layout = lay_out(asked_for, pack())
    return list(wire_checks(replace(layout, give=guard_give(layout))))


@pytest.mark.parametrize(("gap", "tension", "least"), [(2000, 1139, 1139), (2000, 1138, 1139), (1500, 900, 823)])
def test_level_wires_are_held_to_the_table(gap, tension, least):
    """Cells of 2.5 mm, 7x7, 60 mm: 823 N at 1500 and 1139 N at 2000 (NCC table, as in the data file)."""
    assert asked(F("2.5"), "7x7", F(60), F(gap)).tension_N == least
    (one,) = wired(58, gap, tension)
    assert one.what == LevelWires(F(60), F(gap), "mm", permitted=True)
    assert (one.value, one.limit, one.kind, one.unit) == (tension, least, "at least", "N")
    assert one.passes is (tension >= least)
    assert one.clause == "NCC wire table (D2.16a; 3.9.2.1 to 2019)"


def test_wires_that_the_table_does_not_permit_fail_at_any_tension():
    assert asked(F("2.5"), "7x7", F(60), F(2500)).tension_N is None
    (one,) = wired(58, 2300, 2500)
    assert one.what == LevelWires(F(60), F(2500), "mm", permitted=False)
    assert (one.value, one.limit, one.kind, one.unit, one.passes) == (2500, 0, "at least", "N", False)


def test_posts_at_the_edge_of_a_turn_s_landing_are_left_to_who_decides_how_they_are_held():
    """A post of 1-1/2 whose centre stands on the corner reaches 3/4 beyond it; the others stand 5 less 3/4 inside."""
    found = inspected(job(LEVEL, replace(FLIGHT, turn=90.0)), pack()).findings
    corner, rest = (f for f in found if f.quantity == "foot of post")
    assert corner.what == Foot(AtPost("P2"), corner=True)
    assert (corner.verdict, corner.value, corner.margin, corner.limit, corner.kind, corner.unit) == (
        "needs a decision", -0.75, -0.75, 0.0, "at least", "in",
    )  # fmt: skip
    assert (corner.clause, corner.status, corner.place.where) == ("job", "job", AtPost("P2"))
    assert corner.why == (Why.FOOT_AT_CORNER,)
    assert rest.what == Foot(AtPost("P3"))
    assert (rest.verdict, rest.value, rest.place.where) == ("pass", 4.25, AtPost("P3"))


@pytest.mark.parametrize(("lift", "more"), [("0.30", (Why.CONTACT_MAY_CHANGE,)), ("1.2", ())])
def test_an_opening_too_close_to_call_says_why(lift, more):
    """At 0.30 the member all but touches the sphere that an open tread's mouth stops (see test_measured)."""
    sizes = {"rise": 7, "run": 11, "nosing": 1, "tread": "1/4", "lift": lift}
    given = {key: (F(size), F(1, 32)) for key, size in sizes.items()}
    opened = stairguard.step_opening(**given, open_riser=True, tape="none")
    row = Taken(
        what="opening", length=length(F(opened.sphere)), surface=1, place="step triangle", at="step 2", opened=opened
    )
    near = bound("opening", "stops", F(opened.sphere).limit_denominator(1000), "step triangle")
    (one,) = (f for f in inspect((near,), row).findings if f.value)
    assert one.verdict == "too close to call"
    assert one.why == (Why.NEAR_LIMIT, *more)


def test_an_opening_above_what_a_guard_must_have_says_why_it_is_left():
    high = Taken(what="opening", length=length(5), surface=0, place="any", low=F(36))
    rules = bound("guard height", "at least", 36), bound("opening", "stops", 4, clause="T2")
    (one,) = (f for f in inspect(rules, high).findings if f.value)
    assert one.verdict == "needs a decision"
    assert one.why == (Why.ABOVE_GUARD,)


STEPS = Finding(
    clause="T1",
    status="read",
    quantity="opening",
    verdict="fail",
    what=Sphere(Numbered(1, "flight"), Where("step triangle", step=2), 1),
    place=Location(1, Where("step triangle", step=2)),
    value=5.1,
    kind="stops",
    limit=4.0,
    unit="in",
    margin=-1.1,
    fixes=(Fix((Change("surface", "rise", F(6), None, TapeMark("in", F(1, 16)), (1,)),)),),
)


def test_steps_that_no_strand_can_close_are_told_once_with_their_sizes():
    layout = lay_out(job(LEVEL, FLIGHT, LEVEL, replace(FLIGHT, rise=F(8)), LEVEL), pack())
    told = Unclosed(STEPS, FLIGHT, "in")
    first_riser = replace(STEPS, place=Location(1, Where("first riser", walked="landing")))
    assert list(beyond_help(layout, [STEPS])) == list(beyond_help(layout, [STEPS, STEPS, first_riser])) == [told]
    assert list(beyond_help(layout, [first_riser])) == [replace(told, finding=first_riser)]
    two = [STEPS, replace(STEPS, clause="T2"), replace(STEPS, place=Location(3, Where("step triangle", step=2)))]
    steep = replace(FLIGHT, rise=F(8))
    assert list(beyond_help(layout, two)) == [
        Unclosed(one, given, "in") for one, given in zip(two, (FLIGHT, FLIGHT, steep), strict=True)
    ]
    for other in (
        {"verdict": "pass"}, {"quantity": "opening width"}, {"place": Location(1, Where("under rail"))},
        {"place": Location(0, Where("step triangle", step=2))},
        {"place": Location(None, Where("step triangle", step=2))},
    ):  # fmt: skip
        assert list(beyond_help(layout, [replace(STEPS, **other)])) == []
    for key in (("strand", "lower"), ("rules", ""), ("strand", "spacing")):  # strands can close them
        can = Fix((Change(*key, F(1)),))
        for fixes in ((can,), (*STEPS.fixes, can), (Fix((*STEPS.fixes[0].steps, *can.steps)),)):
            assert list(beyond_help(layout, [replace(STEPS, fixes=fixes)])) == []


@pytest.mark.parametrize(
    ("limit", "told"),
    [
        # 3/16 less 0.0722 is 0.115, and 1/8 less it 0.053, below which is no mark; nor is any below 1/16 itself
        (F(3, 16), (F(1, 2), F(1, 8), F(1, 16))),
        (F(1, 8), (F(1, 2), F(1, 16), None)),
        (F(1, 16), Advice.FILL_IN),
    ],
)
def test_what_is_to_be_sure_is_more_than_nothing(limit, told):
    row = Taken(what="opening", length=length("0.5", F(1, 16)), surface=0, place="any")
    (one,) = (f for f in inspect((bound("opening", "stops", limit),), row).findings if f.value)
    (fix,) = one.fixes
    assert told == (fix.advice or next((step.now, step.value, step.told_sure) for step in fix.steps))
