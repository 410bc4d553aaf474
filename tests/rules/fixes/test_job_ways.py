"""Ways that a layout's figures offer to mend a breach, before any is tried: which keys they set, and to what."""

from dataclasses import replace
from fractions import Fraction as F
from functools import cache

import pytest

from stairguard.model.findings import Finding, Location
from stairguard.model.fixes import Divided, SideEffect, TapeMark
from stairguard.model.job import Handrail, Landing
from stairguard.model.subjects import RuledQuantity
from stairguard.rules.findings.checks import check
from stairguard.rules.findings.designed import inspect_layout
from stairguard.rules.fixes.carry_out import carried_out
from stairguard.rules.fixes.job_ways import JobWays
from stairguard.rules.fixes.surface_ways import Ways
from stairguard.solve.lay_out import lay_out
from tests.rules.findings.test_designed import FLIGHT, LEVEL, RAMP, job, pack, rule
from tests.rules.fixes.brief import brief

SURFACES = (LEVEL, FLIGHT, LEVEL, RAMP)


@cache
def found(asked, *rules):
    layout = lay_out(asked, pack(*rules))
    return layout, inspect_layout(check(layout)).findings


def ways(layout, finding, limit):
    return [brief(fix) for fix in JobWays(layout).of(finding, F(limit))]


def railed(height, landing, **more):
    base = job(*SURFACES, height=height, **more)
    return replace(base, rail=replace(base.rail, landing_height=F(landing)))


@pytest.mark.parametrize(
    ("given", "quantity", "limit", "marks"), [(33, "guard height", 36, 1), (40, "handrail height", 38, -1)]
)
@pytest.mark.parametrize("apart", [0, 1])
def test_a_rail_s_height_is_set_by_each_key_that_it_has(given, quantity, limit, marks, apart):
    """First what the job has, then more of it, then the surface's own; on the bound, and a mark inside it."""
    rail = railed(given, given + apart)
    kind = "at least" if marks > 0 else "at most"
    layout, findings = found(rail, rule(quantity, kind, limit))
    failing = [f for f in findings if f.quantity == quantity and f.verdict == "fail"]
    assert sorted(f.place.surface for f in failing) == [0, 1, 2, 3]
    for finding in failing:
        index = finding.place.surface
        own = "landing_height" if isinstance(SURFACES[index], Landing) else "height"
        fixes = list(JobWays(layout).of(finding, F(limit)))
        if quantity == "handrail height":
            fixes.pop()  # a handrail of its own, tried below
        for inside, (first, second, last) in enumerate((fixes[:3], fixes[3:])):
            height = limit + inside * marks * F(1, 16)
            both, alone = (second, first) if apart else (first, second)
            after = carried_out(rail, both).rail
            assert after == replace(rail.rail, height=height, landing_height=height)
            # alone: the other stays as it is, and where the two were one it is written, for one key alone means both
            assert carried_out(rail, alone).rail == replace(rail.rail, **{own: height})
            assert len(alone.steps) == 2 - apart
            changed = carried_out(rail, last)
            assert changed.rail == rail.rail
            assert [s.rail_height for s in changed.surfaces] == [height if k == index else None for k in range(4)]


def test_a_kept_height_is_told_without_what_it_changes_by():
    layout, findings = found(railed(33, 33), rule("guard height", "at least", 36))
    over = {f.place.surface: f for f in findings if f.verdict == "fail"}
    assert ways(layout, over[0], 36)[:3] == [
        "rail.height = 36 (+3) and rail.landing_height = 36 (+3)",
        "rail.landing_height = 36 (+3) and rail.height = 33",
        "surface[1].rail_height = 36",
    ]
    assert ways(layout, over[1], 36)[1:3] == [
        "rail.height = 36 (+3) and rail.landing_height = 33",
        "surface[2].rail_height = 36",
    ]


def test_a_height_of_the_surface_s_own_is_changed_where_it_is():
    low = replace(job(LEVEL, replace(FLIGHT, rail_height=F(32)), LEVEL), mark=F(1, 8))
    layout, findings = found(low, rule("guard height", "at least", F("34.3")))
    (failing,) = (f for f in findings if f.verdict == "fail")
    assert ways(layout, failing, F("34.3")) == [  # 34.3 lies between marks
        "surface[2].rail_height = 34.375 (+2.375)",
        "surface[2].rail_height = 34.5 (+2.5)",
    ]


@pytest.mark.parametrize(
    ("surfaces", "least", "height"),
    [
        (SURFACES, None, F("37.9375")),
        (SURFACES, 34, F("37.9375")),
        ((FLIGHT,), 34, F("37.9375")),
        (SURFACES, F("37.95"), 38),  # what rules leave no mark between is told as it is nearest
    ],
)
def test_a_handrail_of_its_own_stands_as_high_as_the_rules_let_it(surfaces, least, height):
    most = F("37.97")
    rules = [rule("handrail height", "at most", most)]
    rules += [
        rule("handrail height", "at least", least, place, "T2") for place in ("flight", "any") if least is not None
    ]
    asked = job(*surfaces, height=40)
    layout, findings = found(asked, *rules)
    failing = next(f for f in findings if f.quantity == "handrail height" and f.verdict == "fail")
    *_, apart = JobWays(layout).of(failing, most)
    assert apart.also == (SideEffect.OWN_HANDRAIL,)
    after = carried_out(asked, apart)
    assert after.handrail.height == height
    landings = any(isinstance(s, Landing) for s in surfaces)
    assert after.handrail.landing_height == (height if landings else None)
    again = found(after, *rules)[1]
    held = [f for f in again if f.quantity == "handrail height" and f.clause == ("T2" if height > most else "T1")]
    assert held
    assert all(f.verdict == "pass" for f in held)


def test_the_top_rail_is_said_to_be_no_handrail_where_it_was_one():
    asked = job(*SURFACES, height=40)
    asked = replace(asked, site=replace(asked.site, top_is_handrail=True))
    layout, findings = found(asked, rule("handrail height", "at most", 38))
    failing = next(f for f in findings if f.quantity == "handrail height" and f.verdict == "fail")
    assert ways(layout, failing, 38)[-1] == (
        "handrail.height = 38 and handrail.landing_height = 38 and site.top_is_handrail = False"
    )


def test_posts_that_a_job_forces_too_far_apart_are_left_to_it_or_its_own_limit_widened():
    """On a landing of 48 with posts 1-1/2 wide at its ends and at 20: 25-3/4 clear, where the job has 20."""
    forced = (replace(LEVEL, start_post=F(5)), FLIGHT, replace(LEVEL, posts=(F(20),)))
    asked = job(*forced)
    layout, findings = found(replace(asked, post=replace(asked.post, max_gap=F(20))))
    gaps = {f.place.surface: f for f in findings if f.quantity == "post gap" and f.clause == "job"}
    assert (gaps[2].value, gaps[2].verdict) == (25.75, "fail")
    assert ways(layout, gaps[2], 20) == ["surface[3].posts = None", "post.max_gap = 25.75 (+5.75)"]
    assert [fix.also for fix in JobWays(layout).of(gaps[2], F(20))] == [(), (SideEffect.JOBS_OWN_LIMIT,)]
    # a gap within the job's own limit has nothing to widen, and a post that is forced moves with either side of it
    assert ways(layout, gaps[1], 20) == ["surface[3].posts = None"]
    assert ways(layout, gaps[0], 20) == ["surface[1].start_post = None"]


@pytest.mark.parametrize(
    ("limit", "parts"),
    [(49, None), (48, (4, 3)), (28, (4, 3)), (27, (3, 2, 2)), (21, (3, 2, 2)), (20, None), (7, None), (6, None)],
)
def test_a_flight_that_rises_too_far_is_shared_out(limit, parts):
    """Seven risers of 7: 28 has four of them, 21 three; a flight has two at least, and 6 has none."""
    layout = lay_out(job(LEVEL, FLIGHT, LEVEL), pack())
    ways = Ways(layout.line.surfaces, Handrail(), "in", F(1, 16))
    finding = Finding(
        clause="T1",
        status="read",
        quantity="flight rise",
        verdict="fail",
        what=RuledQuantity("flight rise", "any"),
        place=Location(1),
        value=49.0,
    )
    (*found,) = ways.divided(finding, F(limit))
    assert [fix.steps[0].parts for fix in found] == ([] if parts is None else [parts])
    if parts:
        (fix,) = found
        (longer,) = fix.also
        assert longer.by == 48 * (len(parts) - 1)
        assert fix.steps == (Divided(1, parts, F(48), False, TapeMark("in", F(1, 16))),)
    assert list(ways.divided(replace(finding, place=Location(0)), F(limit))) == []
    assert list(ways.divided(replace(finding, place=Location()), F(limit))) == []


def test_a_ramp_that_rises_too_far_is_shared_out():
    layout = lay_out(job(LEVEL, RAMP, LEVEL), pack())
    ways = Ways(layout.line.surfaces, Handrail(), "in", F(1, 16), F(60))
    finding = Finding(
        clause="T1",
        status="read",
        quantity="ramp rise",
        verdict="fail",
        what=RuledQuantity("ramp rise", "any"),
        place=Location(1),
        value=10.0,
    )
    for limit, parts in ((5, 2), (F("4.9"), 3), (F(1, 2), 20), (F("0.49"), None)):
        (*found,) = ways.divided(finding, F(limit))
        assert [(len(fix.steps[0].parts), fix.steps[0].ramp) for fix in found] == ([(parts, True)] if parts else [])


def test_posts_stand_elsewhere_by_two_at_a_corner_or_by_the_stair_s_side():
    """Two posts w square come nearest at w/2 (1 + tan of half the turn) from a corner: 1-1/2 at 90, 2.049 at 120.

    At 60 it is 1.183, where a post's width is told.
    """
    for turn, offset in ((90.0, F(3, 2)), (60.0, F(3, 2)), (0.5, F(3, 2)), (-120.0, F(33, 16))):
        asked = job(LEVEL, replace(LEVEL, turn=turn), LEVEL)
        corner, side = JobWays(lay_out(asked, pack())).posts_elsewhere()
        assert [(s.table, s.key, s.value) for s in corner.steps] == [
            ("post", "corner", "two"),
            ("post", "corner_offset", offset),
        ]
        assert [(s.table, s.key, s.value) for s in side.steps] == [("post", "mount", "side"), ("post", "drop", 8)]
        assert carried_out(asked, corner).post.corner == "two"
        two = replace(asked, post=carried_out(asked, corner).post)
        (only,) = JobWays(lay_out(two, pack())).posts_elsewhere()
        assert only == side
    (straight,) = JobWays(lay_out(job(LEVEL, RAMP), pack())).posts_elsewhere()
    assert straight == side
