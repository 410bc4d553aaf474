"""A guard as it stands: what uncertainty does to verdicts, what is told as not measured, and fixes that suffice."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction as F
from math import hypot

import pytest

import stairguard
from stairguard.errors import JobError
from stairguard.model.asked.asked_opening import Measurement
from stairguard.model.cautions import NotRead
from stairguard.model.job import Flight, Handrail, Landing, MeasuredFlight, Ramp
from stairguard.model.measured_guard import Survey, Taken
from stairguard.model.reasons import NotMeasured, Unsaid, Why
from stairguard.model.rules import OtherOccupancy, Rule, RuleSet
from stairguard.model.site import Condition, Site
from stairguard.model.subjects import MeasuredSphere
from stairguard.rules.findings.surveyed import inspect_survey
from stairguard.rules.pack.reader import read_rules

LANDING = Landing(length=F(60), turn=0.0)
FLIGHT = Flight(risers=5, rise=F(7), run=F(11), nosing=F(1), tread=F(1), open_risers=False, down=False, turn=0.0)
NO_RAIL = Handrail()


def rule(quantity, kind, value, place="any", clause="T1", **more):
    return Rule(
        quantity=quantity,
        place=place,
        kind=kind,
        value=F(value),
        clause=clause,
        status=more.pop("status", "read"),
        source="made up",
        note="made up",
        binding=more.pop("binding", True),
        **more,
    )


def length(value, plus_minus=0, name="made up"):
    return Measurement(name, F(value), F(plus_minus))


def inspect(rules, *taken, surfaces=(LANDING, FLIGHT), **more):
    pack = RuleSet(name="made-up", title="Made up", rules=rules, edition="none", jurisdiction="nowhere")
    survey = Survey(
        title="made up",
        unit="in",
        rules="made-up",
        surfaces=surfaces,
        site=more.pop("site", Site()),
        handrail=more.pop("handrail", NO_RAIL),
        taken=taken,
        **more,
    )
    return inspect_survey(survey, pack)


def verdicts(found, clause="T1"):
    return [f.verdict for f in found.findings if f.clause == clause]


def step(lift, plus_minus=0, surface=1):
    """An opening over a step of 7-1/2 on 10, without a nosing: a lift of 1.2 leaves exactly 6 (see test_openings)."""
    opened = stairguard.step_opening("7.5", 10, (F(lift), F(plus_minus)), tape="none")
    return Taken(
        what="opening",
        length=length(F(opened.sphere)),
        surface=surface,
        place="step triangle",
        at="step 2",
        opened=opened,
    )


HEIGHT = rule("guard height", "at least", 36)


# --- uncertainty ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("value", "verdict"),
    [("36.08", "pass"), ("36.07", "too close to call"), ("35.93", "too close to call"), ("35.92", "fail")],
)
def test_a_guard_band_stands_between_pass_and_fail(value, verdict):
    """A tape good to 1/16 leaves twice 1/16/sqrt(3), 0.0722 in, on both sides of the limit (JCGM 106, from memory)."""
    found = inspect(
        (HEIGHT,), Taken(what="guard height", length=length(value, F(1, 16)), surface=0), surfaces=(LANDING,)
    )
    assert verdicts(found) == [verdict]
    assert found.findings[0].guard_band == pytest.approx(2 / 16 / math.sqrt(3))
    assert found.passes is (verdict == "pass")


def test_a_guard_band_of_nothing_takes_figures_at_their_word():
    row = Taken(what="guard height", length=length("35.9999", F(1, 16)), surface=0)
    assert verdicts(inspect((HEIGHT,), row, surfaces=(LANDING,), ratio=F(0))) == ["fail"]
    assert verdicts(inspect((HEIGHT,), replace(row, length=length(36, F(1, 16))), surfaces=(LANDING,), ratio=F(0))) == [
        "pass"
    ]


def test_what_would_settle_it_does():
    row = Taken(what="guard height", length=length("36.03", F(1, 16)), surface=0)
    (one,) = inspect((HEIGHT,), row, surfaces=(LANDING,)).findings
    (fix,) = one.fixes
    again = replace(row, length=length("36.03", F(fix.advice.settling.plus_minus) * F(99, 100)))
    assert verdicts(inspect((HEIGHT,), again, surfaces=(LANDING,))) == ["pass"]


def test_a_fix_to_be_sure_is():
    row = Taken(what="guard height", length=length("35.5", F(1, 16)), surface=0)
    (one,) = inspect((HEIGHT,), row, surfaces=(LANDING,)).findings
    ((step,),) = (fix.steps for fix in one.fixes)
    sure = F(1, 8) + 36  # the first sixteenth that is more than 0.0722 beyond 36
    assert (step.quantity, step.way, step.now, step.value, step.told_sure) == (
        "guard height",
        "at least",
        F("35.5"),
        36,
        sure,
    )
    raised = replace(row, length=length(sure, F(1, 16)))
    assert verdicts(inspect((HEIGHT,), raised, surfaces=(LANDING,))) == ["pass"]


def test_steps_between_measured_nosings_are_differences():
    """Each riser is a difference of two heights, each within +-: the variances add."""
    flight = MeasuredFlight(
        nosings=((F(0), F(7)), (F(11), F(14)), (F(22), F(21))),
        nosing=F(1),
        tread=F(1),
        open_risers=False,
        down=False,
        turn=0.0,
    )
    riser = rule("riser", "at most", 7, "flight")
    (one,) = inspect((riser,), surfaces=(flight,), plus_minus=F(1, 16)).findings
    assert one.guard_band == pytest.approx(math.sqrt(2) * 2 / 16 / math.sqrt(3))
    assert one.verdict == "too close to call"


@pytest.mark.parametrize(("drop", "verdict"), [("29.9", "needs a decision"), ("29.95", "pass"), ("30.1", "pass")])
def test_a_drop_that_the_tape_cannot_tell_asks_for_a_guard(drop, verdict):
    required = rule("guard required", "where more than", 30, within=F(36))
    found = inspect((required,), Taken(what="drop", length=length(drop, F(1, 16)), surface=0))
    assert verdicts(found) == [verdict]


@pytest.mark.parametrize(("height", "verdict"), [("3.9", "pass"), ("3.95", "needs a decision"), ("30.1", "pass")])
def test_a_member_that_may_be_in_the_band_is(height, verdict):
    band = rule("climbable band", "avoid", 0, from_height=F(4), to_height=F(30))
    assert verdicts(inspect((band,), Taken(what="member", length=length(height, F(1, 16)), surface=0))) == [verdict]


# --- openings -------------------------------------------------------------------------------------------------------

TRIANGLE = rule("opening", "stops", 6, "step triangle")


@pytest.mark.parametrize(("lift", "verdict"), [("1.19", "pass"), ("1.2", "fail"), ("1.21", "fail")])
def test_a_step_triangle_at_its_tie(lift, verdict):
    assert [f.verdict for f in inspect((TRIANGLE,), step(lift)).findings if f.value] == [verdict]
    laxer = replace(TRIANGLE, kind="stops more than")
    expected = "pass" if lift != "1.21" else "fail"
    assert [f.verdict for f in inspect((laxer,), step(lift)).findings if f.value] == [expected]


def test_a_lift_lowered_as_told_passes():
    (one,) = (f for f in inspect((TRIANGLE,), step("2")).findings if f.value)
    ((lowered,),) = (fix.steps for fix in one.fixes)
    assert lowered.sizes == (("lift", 2, F(19, 16)),)  # the last sixteenth below 1.2
    assert [f.verdict for f in inspect((TRIANGLE,), step(F(19, 16))).findings if f.value] == ["pass"]
    assert [f.verdict for f in inspect((TRIANGLE,), step(F(20, 16))).findings if f.value] == ["fail"]


def test_a_strand_moved_as_told_passes():
    """A frame of 10 by 5 with a strand for its upper side: a 4 in sphere is stopped once the strand is 1 in lower."""
    corners = [(0, 0), (10, 0), (10, 5), (0, 5)]
    opened = stairguard.points_opening(corners, strand_diameter="1/8 in", strand_edges=[3], tape="none")
    row = Taken(
        what="opening",
        length=length(F(opened.sphere)),
        surface=0,
        place="any",
        at="bay",
        opened=opened,
        points=tuple(edge.a for edge in opened.outline.edges),
        strand_edges=frozenset({3}),
    )
    (one,) = (f for f in inspect((rule("opening", "stops", 4),), row).findings if f.value)
    assert one.verdict == "fail"
    # 5 - 1/16 - 4 is 15/16, at which a sphere of 4 in just goes through
    ((moved,),) = (fix.steps for fix in one.fixes)
    assert (moved.edge, moved.strand, moved.by, moved.told_sure) == (3, True, 1, None)


def test_a_strand_of_a_figure_by_its_sides_moved_as_told_passes():
    """A frame of 6 by 4-1/2, by its sides and diagonal; its strand leaves 4-7/16 clear.

    Moved by 7/16 it leaves 4, which just goes through, however the diagonal is then rounded; by 1/2 in 3-15/16.
    """
    opened = stairguard.sides_opening(
        [6, "4.5", 6, "4.5"], diagonal="7.5", strand_diameter="1/8 in", strand_edges=[3], tape="none"
    )
    row = Taken(
        what="opening",
        length=length(F(opened.sphere)),
        surface=0,
        place="any",
        at="bay",
        opened=opened,
        points=opened.points,
        strand_edges=frozenset({3}),
    )
    (one,) = (f for f in inspect((rule("opening", "stops", 4),), row).findings if f.value)
    ((moved,),) = (fix.steps for fix in one.fixes)
    assert (moved.edge, moved.strand, moved.by, moved.told_sure) == (3, True, F(1, 2), None)


def test_strands_measured_apart_are_told_how_far_to_be_sure():
    """A strand of 1/8 in leaves 4 in between centres 4-1/8 apart: a mark less, and to be sure 0.0722 in less."""
    opened = stairguard.strands_opening(("4.5", "1/16"), "1/8")
    row = Taken(what="opening", length=length(F(opened.sphere), F(1, 16)), surface=0, place="any", opened=opened)
    (one,) = (f for f in inspect((rule("opening", "stops", 4),), row).findings if f.value)
    ((nearer,),) = (fix.steps for fix in one.fixes)
    assert (nearer.sizes, nearer.told_sure) == ((("spacing", F("4.5"), F(65, 16)),), (4,))


def test_leave_by_a_lowest_edge_measured_apart():
    edge = rule("lowest edge", "at most", 2, "flight", "T2", binding=False)
    rules = (TRIANGLE, edge)
    low = Taken(what="lowest edge", length=length("1.9"), surface=1)
    row = replace(step("3"), opened=None)  # the sphere alone, however it was found
    assert verdicts(inspect(rules, row, low)) == ["pass"]
    for high in (
        Taken(what="lowest edge", length=length("2.1"), surface=1),
        Taken(what="lowest edge", length=length("1.95", "0.1"), surface=1),
    ):
        assert verdicts(inspect(rules, row, high)) == ["fail"]
    assert verdicts(inspect(rules, row, replace(low, surface=0))) == ["fail"]


def test_leave_is_not_given_on_what_the_tape_may_have_missed():
    """A lift of 1.6 is 2 plumb on 3 in 4 (here 7-1/2 in 10): within only if nothing is doubtful."""
    edge = rule("lowest edge", "at most", 2, "flight", "T2", binding=False)
    assert [f.verdict for f in inspect((TRIANGLE, edge), step("1.6")).findings if f.value and f.clause == "T1"] == [
        "pass"
    ]
    doubtful = inspect((TRIANGLE, edge), step("1.6", "1/1000"))
    assert [f.verdict for f in doubtful.findings if f.value and f.clause == "T1"] == ["fail"]


def test_an_opening_above_the_height_a_guard_must_have_needs_a_decision():
    rules = (HEIGHT, rule("opening", "stops", 4, clause="T2"))
    for low, verdict in ((35, "fail"), (36, "needs a decision")):
        found = inspect(rules, Taken(what="opening", length=length(5), surface=0, place="any", low=F(low)))
        assert [f.verdict for f in found.findings if f.clause == "T2" and f.value] == [verdict]


# --- what was not measured ------------------------------------------------------------------------------------------


def test_surfaces_without_a_figure_are_named():
    surfaces = (LANDING, FLIGHT, LANDING, Ramp(length=F(120), rise=F(8), turn=0.0))
    found = inspect((HEIGHT,), Taken(what="guard height", length=length(37), surface=1), surfaces=surfaces)
    assert sorted(verdicts(found)) == ["not checked", "pass"]
    (silent,) = (f for f in found.findings if f.verdict == "not checked")
    assert silent.why == (NotMeasured((0, 2, 3)),)


def test_equal_steps_are_said_and_not_measured():
    spread = rule("riser difference", "at most", F(3, 8), "flight")
    assert verdicts(inspect((spread,))) == ["not checked"]
    rows = (
        Taken(what="riser", length=length(7), surface=1, at="2"),
        Taken(what="riser", length=length("7.4"), surface=1, at="3"),
    )
    (one,) = (f for f in inspect((spread,), *rows).findings if f.value)
    assert (one.verdict, one.value) == ("fail", pytest.approx(0.4))


def test_a_handrail_s_stated_height_counts_where_none_was_measured():
    low = rule("handrail height", "at least", 34, "flight")
    stated = Handrail(height=F(33))
    assert verdicts(inspect((low,), handrail=stated)) == ["fail"]
    assert verdicts(inspect((low,), Taken(what="handrail height", length=length(35), surface=1), handrail=stated)) == [
        "pass"
    ]


def test_the_greatest_drop_measured_decides_what_turns_on_it():
    band = rule("climbable band", "avoid", 0, from_height=F(4), when=(Condition("drop_more_than", F(100)),))
    member = Taken(what="member", length=length(10), surface=0)
    deep, shallow = (Taken(what="drop", length=length(value), surface=0) for value in (101, 99))
    assert verdicts(inspect((band,), member, shallow, deep)) == ["needs a decision"]
    assert verdicts(inspect((band,), member, shallow)) == []
    assert verdicts(inspect((band,), member)) == ["not checked"]
    for stated, drop in ((50, deep), (101, shallow)):  # the greater of the two
        assert verdicts(inspect((band,), member, drop, site=Site(drop=F(stated)))) == ["needs a decision"]


def test_an_occupancy_that_no_rule_turns_on_is_told():
    low = rule("guard height", "at least", 36, when=(Condition("occupancy", ("R-2", "R-3")),))
    assert OtherOccupancy("made-up", "R3", ("R-2", "R-3")) in inspect((low,), site=Site(occupancy="R3")).cautions
    known = inspect((low,), site=Site(occupancy="R-3")).cautions
    assert not [one for one in known if isinstance(one, OtherOccupancy)]


def test_a_handrail_that_was_measured_is_held_to_what_binds_handrails():
    """ADA 505.4 and 505.10.1 bind a ramp's handrail, whichever rail it is; OSHA's 36 in only a top rail as one."""
    ramp = (Ramp(length=F(360), rise=F(30), turn=0.0),)
    rows = (
        Taken(what="handrail height", length=length(33), surface=0),
        Taken(what="handrail extension", length=length(11), surface=0, place="ramp"),
    )
    for site in (Site(), Site(top_is_handrail=False)):
        survey = Survey(
            title="made up", unit="in", rules="ada-2010", surfaces=ramp, site=site, handrail=NO_RAIL, taken=rows
        )
        found = inspect_survey(survey, read_rules("ada-2010", "in"))
        assert {f.clause for f in found.findings if f.verdict == "fail"} == {"505.4", "505.10.1"}
    low = Taken(what="handrail height", length=length(31), surface=0)
    survey = Survey(
        title="made up",
        unit="in",
        rules="osha-1910",
        surfaces=(FLIGHT,),
        site=Site(top_is_handrail=False),
        handrail=NO_RAIL,
        taken=(low,),
    )
    found = inspect_survey(survey, read_rules("osha-1910", "in"))
    assert not [f for f in found.findings if f.quantity == "handrail height" and f.verdict == "fail"]


def test_a_round_handrail_has_no_perimeter_to_measure():
    around = rule("handrail perimeter", "at least", 4)
    (one,) = inspect((around,), Taken(what="handrail size", length=length("1.5"))).findings
    assert (one.verdict, one.why) == ("not checked", (Why.ROUND,))


@pytest.mark.parametrize("status", ["from memory", "secondary"])
def test_only_clauses_that_were_held_are_said_to_be_unread(status):
    rules = (replace(HEIGHT, status=status), rule("guard height", "at least", 34, "ramp", "T2", status=status))
    found = inspect(rules, Taken(what="guard height", length=length(37), surface=0), surfaces=(LANDING,)).cautions
    assert [one for one in found if isinstance(one, NotRead)] == [NotRead(status, ("T1",))]


@pytest.mark.parametrize(("height", "verdict"), [(37, "pass"), (39, "needs a decision")])
@pytest.mark.parametrize("stated", [None, True])
def test_an_option_that_the_site_leaves_open_says_that_it_may_bind(height, verdict, stated):
    """The rail's most height as a handrail, 38 in: of a guard as found as of one designed, and where nothing is."""
    taken = (Taken(what="guard height", length=length(height), surface=0),)
    survey = Survey(
        title="made up",
        unit="in",
        rules="irc-2021",
        surfaces=(FLIGHT,),
        site=Site(top_is_handrail=stated),
        handrail=NO_RAIL,
        taken=taken,
    )
    found = inspect_survey(survey, read_rules("irc-2021", "in"), fixes=False).findings
    options = [f for f in found if f.clause.startswith(("R312.1.2 exception 2", "R311.7.8.1")) and f.kind == "at most"]
    (rail,) = (f for f in options if f.quantity == "guard height")
    asked = "fail" if stated and height > 38 else verdict
    assert rail.verdict == asked
    assert {f.quantity for f in options} == {"guard height", "handrail height"}
    top = Unsaid((Condition("top_is_handrail", True),))
    assert all((top in f.why) is (stated is None) for f in options)


def test_an_opening_of_the_whole_guard_names_no_surface():
    found = inspect(
        (rule("opening", "stops", 4),), Taken(what="opening", length=length(3), surface=None, place="any", at="")
    )
    (told,) = (one for one in found.findings if one.verdict == "pass")
    assert told.what == MeasuredSphere(None, "any", "")


BESIDE = """\
unit = "in"
rules = "{pack}"
[strand]
diameter = 0.125
[post]
mount = "side"
offset = {out}
drop = 8
[[surface]]
kind = "landing"
length = 96
[[surface]]
kind = "flight"
risers = 5
rise = 7.25
run = 10.5
nosing = 1
tread = 1.25
[[measured]]
what = "opening"
"""
LOW_EDGE = '[[measured]]\nwhat = "lowest edge"\nsurface = 2\nvalue = "1/2"\n'


def beside(tmp_path, rows, out="2", pack="irc-2021"):
    path = tmp_path / "guard.toml"
    path.write_text(BESIDE.format(pack=pack, out=out) + rows)
    return [one for one in stairguard.inspect(path).findings if one.value is not None and one.quantity == "opening"]


@pytest.mark.parametrize(
    ("height", "out", "sphere", "verdict"),
    [
        ("2.79", "3.75", hypot(2.79, 3.75) - 1 / 16, "fail"),
        ("-1/4", "2", 2 - 1 / 16, "pass"),
        ("1", "0", 15 / 16, "pass"),
    ],
)
def test_a_measured_edge_that_strands_stand_out_from_is_judged_in_space(tmp_path, height, out, sphere, verdict):
    """hypot(h, o) - d/2, and o - d/2 past a strand as low as the edge: derived."""
    (one,) = beside(tmp_path, f'surface = 1\nheight = "{height}"\n', out)
    assert (one.value, one.verdict) == (pytest.approx(sphere, abs=1e-9), verdict)


def test_a_step_s_member_stands_out_as_the_file_or_the_row_has_it(tmp_path):
    over = 'surface = 2\nstep = 2\nlift = "{}"\n'
    (files,) = beside(tmp_path, over.format("1.5"))
    (own,) = beside(tmp_path, over.format("1.5") + "offset = 2\n", out="1")
    (plane,) = beside(tmp_path, over.format("1.5"), out="0")
    assert files.value == own.value > plane.value
    (below,) = beside(tmp_path, over.format("-1/2"))
    assert below.value < files.value
    with pytest.raises(JobError, match="lift"):
        beside(tmp_path, over.format("-1/2"), out="0")


def test_a_low_edge_gives_no_leave_to_what_stands_out_from_the_steps(tmp_path):
    over = f'surface = 2\nstep = 2\nlift = "1/2"\n{LOW_EDGE}'
    (apart,), (level,) = (beside(tmp_path, over, out, "scotland-1999") for out in ("2", "0"))
    assert (apart.verdict, level.verdict) == ("fail", "pass")
