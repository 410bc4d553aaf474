"""What packs do to a guard as designed: bands, edges, widths, leave by a low edge, and heights left to the rules.

The steep flight is chosen so that figures are rational: rise 3 on run 4, a square length being 4/5 of the plumb one.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F

import pytest

from stairguard.io.read.job_file import read_job
from stairguard.model.fixes import BrokenClause
from stairguard.model.guard.opening_kinds import Touch
from stairguard.model.job import Flight, Handrail, Job, Landing, Post, Rail, Ramp, Strand
from stairguard.model.reasons import ByLeave, NoGuardAsked, Unsaid
from stairguard.model.rules import Rule, RuleSet
from stairguard.model.site import Condition, Site
from stairguard.model.subjects import Sphere, StrandsInBand
from stairguard.rules.findings.checks import check
from stairguard.rules.findings.designed import inspect_layout
from stairguard.rules.fixes.opening_ways import step_ways
from stairguard.rules.pack.reader import available, read_rules
from stairguard.solve.lay_out import lay_out, lay_out_under
from tests.places import ROOT
from tests.rules.fixes.brief import brief

HAIR = F(1, 10**9)
EXAMPLES = ROOT / "shared" / "examples"


def rule(quantity, kind, value, place="any", clause="T1", **more):
    return Rule(
        quantity=quantity,
        place=place,
        kind=kind,
        value=F(value),
        clause=clause,
        status="read",
        source="made up",
        note="made up",
        binding=more.pop("binding", True),
        **more,
    )


def pack(*rules):
    return RuleSet(name="made-up", title="Made up", rules=rules, edition="none", jurisdiction="nowhere")


def job(*surfaces, height=36, spacing=3, **more):
    return Job(
        title="made up",
        unit="in",
        mark=F(1, 16),
        rules="none",
        rail=Rail(height=F(height), landing_height=F(height), depth=F(1), width=F(2), meet="as-given"),
        strand=Strand(
            diameter=F(1, 8), spacing=F(spacing), at_joints="break", terminal_take_up=F(1), tensioner_take_up=F(1)
        ),
        post=Post(width=F(3, 2), max_gap=F(60), setback=F(5)),
        surfaces=surfaces,
        **more,
    )


LEVEL = Landing(length=F(48), turn=0.0)
FLIGHT = Flight(risers=7, rise=F(7), run=F(11), nosing=F(1), tread=F(1), open_risers=False, down=False, turn=0.0)
RAMP = Ramp(length=F(120), rise=F(10), turn=0.0)


def inspected(asked, rules):
    return inspect_layout(check(lay_out(asked, rules)))


def gaps(layout, kind):
    return [o for o in layout.openings if o.where.kind == kind]


# --- rules drive the design ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("sphere", [3, 4, 5])
def test_the_pack_sets_spacing_and_lowest_strand(sphere):
    """A job that allows 12 in of spacing gets what the pack's sphere leaves, less what the tape marks may add."""
    layout = lay_out(job(LEVEL, spacing=12), pack(rule("opening", "stops", sphere)))
    (field,) = layout.fields
    assert field.plumb_spacing <= sphere + F(1, 8) - F(1, 8)  # one diameter more, two marks of 1/16 less
    assert field.heights[-1] <= sphere + F(1, 16) - F(1, 16)
    assert all(o.sphere_as_marked < sphere for o in layout.openings)
    # and no strand more than it takes
    count = len(field.heights)
    assert (35 - count * F(1, 8)) / count >= sphere - F(1, 2)


def test_a_stricter_band_governs_what_reaches_into_it():
    """21 in anywhere, but 4 in up to 26: strands are even, so all stand as the band asks; those above it need not."""
    rules = pack(rule("opening", "stops", 21), rule("opening", "stops", 4, to_height=F(26), clause="T2"))
    layout = lay_out(job(LEVEL, spacing=12), rules)
    by_clause = {o.rule.clause for o in gaps(layout, "between strands")}
    assert by_clause == {"T1", "T2"}
    for opening in layout.openings:
        assert opening.passes
        assert opening.sphere < 4


def test_a_laxer_band_speaks_only_to_what_lies_within_it():
    rules = pack(rule("opening", "stops", 4), rule("opening", "stops", F(35, 8), from_height=F(24), clause="T2"))
    layout = lay_out(job(LEVEL), rules)
    heights = layout.fields[0].heights
    within = [k for k in range(len(heights) - 1) if heights[k + 1] + F(1, 16) >= 24]
    named = {o.rule.clause: o for o in gaps(layout, "between strands")}
    assert within
    assert named["T2"].touches[0].number - 1 in within
    assert named["T1"].touches[0].number - 1 not in within
    (rail,) = gaps(layout, "under rail")
    assert rail.rule.clause == "T2"


def test_ramp_edges_are_protected_on_ramps_and_their_landings_only():
    rules = pack(rule("ramp edge", "stops", 4, "ramp"))
    layout = lay_out(job(LEVEL, RAMP, LEVEL, FLIGHT, LEVEL), rules)
    low = {o.surface: o for o in gaps(layout, "under lowest strand")}
    assert {s for s, o in low.items() if o.rule is not None} == {0, 1, 2}
    assert 4 not in {o.surface for o in layout.openings if o.rule is not None}
    # what opens higher than the sphere's own size is beyond the rule
    above = [o for o in gaps(layout, "under rail") if o.surface == 1]
    assert [o.rule for o in above] == [None]


def test_one_opening_under_two_rules_is_told_under_both():
    rules = pack(rule("opening", "stops", 4), rule("ramp edge", "stops", 4, "ramp", clause="T2"))
    found = inspected(job(LEVEL, RAMP, LEVEL), rules)
    low = {
        f.clause
        for f in found.findings
        if isinstance(f.what, Sphere) and f.what.where.kind == "under lowest strand" and f.what.surface.kind == "ramp"
    }
    assert low == {"T1", "T2"}


@pytest.mark.parametrize(("off", "passes"), [(-HAIR, True), (F(0), True), (HAIR, False)])
def test_a_width_lets_exactly_its_size_be(off, passes):
    """Where a clause limits the width of openings a gap of exactly that does; it never places the lowest strand."""
    layout = lay_out(job(LEVEL, spacing=5), pack())
    (gap,) = gaps(layout, "between strands")
    width = F(gap.sphere_as_marked) - off  # dyadic: eighths and sixteenths of an inch
    (held,) = lay_out_under(job(LEVEL, spacing=5), pack(), [pack(rule("opening width", "at most", width))])
    (again,) = gaps(held, "between strands")
    assert again.passes is passes
    assert again.sphere == gap.sphere
    assert lay_out(job(LEVEL), read_rules("osha-1910", "in")).fields[0].heights[-1] <= 3


# --- leave by a low edge, and the smallest change ------------------------------------------------------------------

STEEP = Flight(risers=7, rise=F(6), run=F(8), nosing=F(1), tread=F(1), open_risers=False, down=False, turn=0.0)


def test_leave_by_a_low_edge_is_taken_and_told():
    """As by S4.2 of 1999: the gap at a rise may be larger where the edge is parallel to the pitch line and low."""
    rules = pack(rule("opening", "stops", 4), rule("lowest edge", "at most", 2, "flight", "T2", binding=False))
    layout = lay_out(job(LEVEL, STEEP, LEVEL), rules)
    large = [o for o in layout.openings if o.where.kind == "step triangle" and o.sphere > 4]
    assert large  # a post fills one triangle, and what is left of it needs no leave
    assert all(o.passes and o.leave.clause == "T2" for o in large)
    # plumb: the underside is half a diameter square, 5/8 of it plumb on 3 in 4, below the strand's centre
    edge = layout.fields[1].heights[-1] - F(1, 16) * F(5, 4)
    assert 2 - F(1, 8) <= edge <= 2
    found = inspect_layout(check(layout))
    told = [f for f in found.findings if f.clause == "T2"]
    assert [f.verdict for f in told] == ["pass"]
    assert told[0].margin == pytest.approx(float(2 - edge))
    assert any(ByLeave("T2", "read") in f.why for f in found.findings)


@pytest.mark.parametrize(("off", "passes"), [(-HAIR, False), (F(0), True), (HAIR, True)])
def test_the_low_edge_is_held_exactly(off, passes):
    """The same strand, an edge a hair too high, at the limit, a hair below: only the first loses the leave."""
    base = pack(rule("opening", "stops", 4), rule("lowest edge", "at most", 2, "flight", "T2", binding=False))
    asked = job(LEVEL, STEEP, LEVEL)
    layout = lay_out(asked, base)
    edge = max(_as_marked(layout)) - F(1, 16) * F(5, 4)
    limit = pack(base.rules[0], replace(base.rules[1], value=edge + off))
    (held,) = lay_out_under(asked, base, [limit])
    large = [o for o in held.openings if o.where.kind == "step triangle" and o.sphere > 4]
    assert {o.passes for o in large} == {passes}


def _as_marked(layout):
    """Heights of the flight's lowest strand above the nosing line, as designed and with its holes at their marks."""
    flight = layout.line.surfaces[1]
    lowest = len(layout.fields[1].heights)
    yield layout.fields[1].heights[-1]
    for post in layout.posts:
        for hole in post.holes:
            if hole.strand == lowest and 1 in hole.surfaces:
                shift = hole.marked if hole.low_face != hole.high_face or len(hole.surfaces) > 1 else None
                if shift is not None:
                    yield post.base + shift - flight.datum(F(round(post.station * 16), 16))


def test_steps_that_no_strand_can_close_conflict_and_say_what_would():
    """7-3/4 on 10, nosing 1-1/4: even a strand on the nosing line leaves 5.098 (1 + 1/8) in, more than 4."""
    flight = Flight(
        risers=7, rise=F(31, 4), run=F(10), nosing=F(5, 4), tread=F(1), open_risers=False, down=False, turn=0.0
    )
    found = inspected(job(LEVEL, flight, LEVEL), pack(rule("opening", "stops", 4)))
    assert not found.passes
    (conflict,) = found.conflicts
    assert (conflict.finding.clause, conflict.given, conflict.unit) == ("T1", flight, "in")
    # put to the test: more risers of the same whole rise, which a strand as low as may be closes
    made = {step.key: step.value for step in conflict.finding.fixes[0].steps}
    mended = replace(flight, risers=made["risers"], rise=made["rise"])
    assert mended.risers * mended.rise == pytest.approx(7 * 7.75, abs=2e-3)
    assert inspected(job(LEVEL, mended, LEVEL, spacing=3), pack(rule("opening", "stops", 4))).conflicts == ()


def test_a_rail_that_two_clauses_pull_apart():
    """IBC 1015.3 asks 42 in of a guard, 1014.2 at most 38 of a handrail: one rail cannot be both."""
    site = Site(top_is_handrail=True)
    asked = job(LEVEL, FLIGHT, LEVEL, height=42, site=site)
    found = inspected(asked, read_rules("ibc-2021", "in"))
    (conflict,) = (one for one in found.conflicts if one.over == "flight")
    assert conflict.least.clause.startswith("1015.3")
    assert conflict.most.clause.startswith("1014.2")
    assert (conflict.least.value, conflict.most.value, conflict.unit, conflict.floor) == (42, 38, "in", 34)
    apart = replace(asked, site=Site(top_is_handrail=False), handrail=Handrail(height=F(36)))
    assert not inspected(apart, read_rules("ibc-2021", "in")).conflicts


def test_fixes_suffice():
    """Each fix of a fixed figure, done, makes its finding pass."""
    low = job(LEVEL, FLIGHT, LEVEL, height=33)
    irc = read_rules("irc-2021", "in")
    fails = {
        f.place.surface: f for f in inspected(low, irc).findings if f.verdict == "fail" and f.quantity == "guard height"
    }
    assert set(fails) == {0, 1, 2}
    # one height in the job: a file that gives it alone means both
    assert list(map(brief, fails[0].fixes)) == ["rail.height = 36 (+3) and rail.landing_height = 36 (+3)"]
    assert fails[1].fixes == fails[0].fixes  # 34 would do over the flight, but not over landings, by the same keys
    raised = replace(low, rail=replace(low.rail, height=F(36), landing_height=F(36)))
    assert not [f for f in inspected(raised, irc).findings if f.verdict == "fail" and f.quantity == "guard height"]
    high = Flight(risers=7, rise=F(8), run=F(11), nosing=F(1), tread=F(1), open_risers=False, down=False, turn=0.0)
    (riser,) = (
        f for f in inspected(job(LEVEL, high, LEVEL), irc).findings if f.quantity == "riser" and f.verdict == "fail"
    )
    # 56 in of rise, 7-3/4 at most; one run of 11 in more
    (fix,) = riser.fixes
    assert (brief(fix), fix.long.level) == ("surface[2].risers = 8 and surface[2].rise = 7 (-1)", 77)
    assert fix.breaks == (BrokenClause("post gap", option=True),)  # common practice: 4 ft clear along the strands


# --- what is told ---------------------------------------------------------------------------------------------------


def test_findings_come_by_consequence():
    low = job(LEVEL, FLIGHT, LEVEL, height=33, site=Site(drop=F(20)))
    found = inspected(low, read_rules("irc-2021", "in"))
    verdicts = [f.verdict for f in found.findings]
    order = ["fail", "too close to call", "needs a decision", "not checked", "pass"]
    assert verdicts == sorted(verdicts, key=order.index)
    assert found.findings[0].quantity == "guard height"
    (required,) = (f for f in found.findings if f.quantity == "guard required")
    assert required.verdict == "needs a decision"  # 20 in is no drop of more than 30
    assert required.why == (NoGuardAsked(far=False),)


def test_a_drop_too_far_from_the_edge_asks_for_none():
    irc = read_rules("irc-2021", "in")
    for reach, verdict in ((F(36), "pass"), (F(36) + HAIR, "needs a decision"), (None, "pass")):
        found = inspected(job(LEVEL, site=Site(drop=F(60), reach=reach)), irc)
        assert [f.verdict for f in found.findings if f.quantity == "guard required"] == [verdict]


def test_strands_in_a_band_to_keep_clear_need_a_decision():
    """NBC 9.8.8.6(1), more than 4.2 m up: nothing between 140 and 900 mm may help in climbing."""
    metric = Job(
        title="made up",
        unit="mm",
        mark=F(1),
        rules="none",
        rail=Rail(height=F(1070), landing_height=F(1070), depth=F(25), width=F(50), meet="as-given"),
        strand=Strand(diameter=F(3), spacing=F(75), at_joints="break", terminal_take_up=F(25), tensioner_take_up=F(25)),
        post=Post(width=F(40), max_gap=F(1200), setback=F(120)),
        surfaces=(Landing(length=F(1200), turn=0.0),),
        site=Site(drop=F(4201)),
    )
    found = inspected(metric, read_rules("nbc-canada", "mm"))
    (band,) = (f for f in found.findings if f.clause == "9.8.8.6(1)")
    layout = lay_out(metric, read_rules("nbc-canada", "mm"))
    within = sum(140 < h < 900 for h in layout.fields[0].heights)
    assert band.verdict == "needs a decision"
    assert band.what == StrandsInBand(F(140), F(900), "mm", ((within, (0,)),))
    assert found.passes  # a caution, not a failure
    low = inspected(replace(metric, site=Site(drop=F(4200))), read_rules("nbc-canada", "mm"))
    assert not [f for f in low.findings if f.clause == "9.8.8.6(1)"]


@pytest.mark.parametrize(
    ("band", "reach"),
    [({"to_height": F(9, 2)}, (None, F(9, 2))), ({"from_height": F(24)}, (F(24), None))],
)
def test_a_band_to_keep_clear_may_reach_from_the_surface_or_to_the_rail(band, reach):
    (one,) = inspected(job(LEVEL), pack(rule("climbable band", "avoid", 0, **band))).findings[:1]
    assert (one.what.low, one.what.high) == reach
    assert one.what.within


def test_a_band_kept_clear_passes_and_says_that_it_has_none():
    band = pack(rule("climbable band", "avoid", 0, from_height=F(100), to_height=F(120)))
    (one,) = inspected(job(LEVEL), band).findings[:1]
    assert (one.verdict, one.what) == ("pass", StrandsInBand(F(100), F(120), "in", ()))


def test_ways_with_steps_that_no_strand_can_close():
    """Risers of 7-3/4 on runs of 10 without a nosing; a triangle of legs a and b, closed, lets a + b - hypot through.

    4 in exactly by runs of 6.13, since (3-3/4 + b)^2 = 7-3/4^2 + b^2, or by risers of 5-1/3, since (6 + a)^2 =
    a^2 + 100: of 54-1/4 in all, eleven. The strand's room over the nosings takes a little of both.
    """
    flight = Flight(
        risers=7, rise=F(31, 4), run=F(10), nosing=F(0), tread=F(1), open_risers=False, down=False, turn=0.0
    )
    layout = lay_out(job(LEVEL, flight, LEVEL), pack(rule("opening", "stops", 4)))
    opening = next(o for o in layout.openings if o.where.kind == "step triangle" and not o.passes)
    firsts = {}
    for fix in step_ways(layout, opening, layout.line.surfaces[1]):
        key, *_ = fix.steps
        firsts.setdefault((key.key, key.surfaces), key.value)
    assert firsts["risers", (1,)] == 11
    assert F(6) <= firsts["run", (1,)] <= F(98, 16)


def test_strands_too_far_from_the_stair_s_side_come_nearer():
    """Centres 4-1/2 in out, a strand of 1/8: 4-7/16 clear; nearer by 7/16 lets 4 in through, by 1/2 it does not."""
    post = replace(job(LEVEL).post, mount="side", offset=F(9, 2))
    found = inspected(replace(job(LEVEL), post=post), pack(rule("opening", "stops", 4)))
    (one,) = (f for f in found.findings if f.verdict == "fail")
    assert list(map(brief, one.fixes)) == ["post.offset = 4 (-0.5)"]


def test_the_handrail_s_section_is_held_to_its_rules():
    ada = read_rules("ada-2010", "in")
    site = Site(top_is_handrail=True)
    for diameter, verdicts in (("1.25", {"pass"}), ("2", {"pass"}), ("2.001", {"pass", "fail"})):
        asked = job(LEVEL, FLIGHT, LEVEL, site=site, handrail=Handrail(diameter=F(diameter)))
        found = inspected(asked, ada)
        assert {f.verdict for f in found.findings if f.quantity == "handrail size"} == verdicts
    silent = inspected(job(LEVEL, FLIGHT, LEVEL, site=site), ada)
    assert {f.verdict for f in silent.findings if f.quantity == "handrail size"} == {"not checked"}


# --- heights left to the rules -------------------------------------------------------------------------------------

FILE = """
unit = "in"
rules = "{rules}"
[rail]
depth = 1.5
width = 3.5
[strand]
diameter = "1/8 in"
spacing = 3
[post]
width = 1.5
max_gap = 60
setback = 5
[site]
{site}
[[surface]]
kind = "landing"
length = 60
[[surface]]
kind = "flight"
risers = 4
rise = 7
run = 11
nosing = 1
tread = 1
[[surface]]
kind = "landing"
length = 60
"""


@pytest.mark.parametrize(
    ("rules", "site", "flight", "landing"),
    [
        ("irc-2021", "", 34, 36),  # R312.1.2 and its exception 1
        ("ibc-2021", "", 42, 42),  # 1015.3
        ("osha-1910", "installed = 2020", 42, 39),  # 1910.29(f)(1)(ii)(B); (b)(1): 42 less 3
    ],
)
def test_heights_left_out_are_the_pack_s(tmp_path, rules, site, flight, landing):
    path = tmp_path / "job.toml"
    path.write_text(FILE.format(rules=rules, site=site), encoding="utf-8")
    job = read_job(path)
    assert (job.rail.height, job.rail.landing_height) == (flight, landing)


def test_heights_must_come_from_somewhere(tmp_path):
    path = tmp_path / "job.toml"
    path.write_text(FILE.format(rules="none", site=""), encoding="utf-8")
    with pytest.raises(Exception, match=r"rail\.height: must be a length, or left out where the rules ask for one"):
        read_job(path)


def test_a_wedge_that_no_strand_can_close_does_not_pull_the_others_down():
    """A landing's rail far higher than the flight's puts their post far out, and leaves a wedge open there.

    Lowering the strand mends nothing of it, so the triangles alone place it, just below 6 in.
    """
    rules = pack(rule("opening", "stops", 4), rule("opening", "stops", 6, "step triangle", "T2"))
    asked = job(LEVEL, FLIGHT, LEVEL, height=34)
    asked = replace(asked, rail=replace(asked.rail, landing_height=F(43)))
    layout = lay_out(asked, rules)
    wedges = [o for o in layout.openings if o.passes is False]
    assert wedges
    assert all(Touch("landing") in o.touches for o in wedges)
    triangle = max(o.sphere for o in layout.openings if o.where.kind == "step triangle")
    assert 6 - F(1, 8) < triangle < 6


@pytest.mark.parametrize("name", ["surveyed", "ramp-between", "terrace-open", "duplex"])
@pytest.mark.parametrize("name_of_pack", available())
def test_every_rule_on_what_there_is_is_answered(name, name_of_pack):
    """Rules on openings and extensions may find nothing to speak to; each of the others gets a finding."""
    asked = read_job(EXAMPLES / f"{name}.toml")
    whole = read_rules(name_of_pack, asked.unit)
    found = inspected(asked, whole)
    told = {(f.clause, f.quantity, f.scope, f.kind) for f in found.findings}
    kinds = {"any", *(s.kind for s in lay_out(asked, whole).line.surfaces)}
    spared = ("opening", "opening width", "ramp edge", "lowest edge", "handrail extension")
    for one in whole.at(asked.site).rules:
        spoken_to = one.place in kinds and (not one.serves or one.serves in kinds)
        if spoken_to and one.quantity not in spared and one.when_run_below is None:
            assert (one.clause, one.quantity, one.place, one.kind) in told, one


def test_a_handrail_of_its_own_is_held_to_what_binds_handrails():
    """ADA 505.4: 34 to 38 in. How far it runs on past the ramp no job says, so 505.10.1 is not checked."""
    asked = job(LEVEL, RAMP, LEVEL, height=42, handrail=Handrail(height=F(33)))
    asked = replace(asked, site=Site(top_is_handrail=False, own_handrail=True))
    found = inspected(asked, read_rules("ada-2010", "in"))
    heights = {f.verdict for f in found.findings if f.quantity == "handrail height" and f.kind == "at least"}
    assert heights >= {"fail"}
    (extension,) = (f for f in found.findings if f.quantity == "handrail extension")
    assert (extension.verdict, extension.clause) == ("not checked", "505.10.1")


def test_uniformity_is_of_what_hands_hold_alone():
    """A guard of 42 and 44, with a handrail of its own at 36 all along: hands find one height."""
    rules = pack(
        rule("handrail uniformity", "uniform", 0),
        rule("handrail height", "at least", 34, clause="T2"),
        rule("guard height", "at least", 42, clause="T3"),
    )
    surfaces = replace(FLIGHT, rail_height=F(42)), LEVEL, replace(RAMP, rail_height=F(44))
    asked = job(*surfaces, height=42, handrail=Handrail(height=F(36), landing_height=F(36)))
    (one,) = (f for f in inspected(asked, rules).findings if f.quantity == "handrail uniformity")
    assert (one.verdict, one.value) == ("pass", 0)
    (one,) = (f for f in inspected(job(*surfaces, height=42), rules).findings if f.quantity == "handrail uniformity")
    assert (one.verdict, one.value) == ("needs a decision", 2)


@pytest.mark.parametrize("stated", [None, True])
def test_a_limit_is_not_told_both_as_kept_and_as_not_checked(stated):
    """An option and the rule that it is once the site says so have one limit: it is told once, and that it may bind."""
    given = replace(read_job(EXAMPLES / "workshop-break.toml"), rules="irc-2021")
    given = replace(given, site=replace(given.site, top_is_handrail=stated))
    layout = lay_out(given, read_rules("irc-2021", "in"))
    found = inspect_layout(check(layout), fixes=False).findings
    heights = [one for one in found if one.quantity in ("guard height", "handrail height") and one.scope == "flight"]
    told = {}
    for one in heights:
        told.setdefault((one.quantity, one.kind, one.limit), set()).add(one.verdict == "not checked")
    assert all(len(checked) == 1 for checked in told.values()), told
    rails = [one for one in heights if one.clause.startswith("R311.7.8.1")]
    assert len(rails) == 2
    assert all(one.binding is (stated is True) for one in rails)
    top = Unsaid((Condition("top_is_handrail", True),))
    assert all((top in one.why) is not one.binding for one in rails)
