"""What the guard leaves at the ends of its line: walking surface past an end post is measured, or told.

That a guard is asked for by the fall beside it, more than 30 in, is IRC R312.1.1 (as irc-2021 has it); that a stretch
is held to the openings' limit, as if something stood at its end, is our own reading, the kindest there is.
"""

from dataclasses import replace
from fractions import Fraction as F

import pytest

from stairguard.api.layout import result
from stairguard.model.cautions import UnguardedEnd
from stairguard.model.fixes import SideEffect
from stairguard.model.guard.opening_kinds import Where
from stairguard.model.site import Site
from stairguard.rules.findings.checks import check
from stairguard.rules.findings.designed import inspect_layout
from tests.rules.fixes.brief import brief
from tests.solve.jobs import BASE, reversed_job
from tests.solve.lines import land, ramp, solved, up

ALONE = replace(BASE, surfaces=(BASE.surfaces[1],))
"""The starter's flight, its end posts on the first tread and the last."""


def stretches(job):
    return {one.where: one for one in solved(job).unguarded}


def past(job):
    return [o for o in solved(job).openings if o.where.kind == "past end"]


@pytest.mark.parametrize("job", [ALONE, reversed_job(ALONE)], ids=["up", "down"])
def test_the_tread_past_the_last_post_of_a_flight_is_measured(job):
    """A post 5 in behind nosing 6 of 7, 1-1/2 in wide, leaves 10.5 - 5.75 of a tread 43.5 in up; 0.5.0 told nothing."""
    (found,) = past(job)
    assert found.where == Where("past end", post="P1" if job.surfaces[0].down else "P3", end="top")
    assert (found.sphere, found.sphere_as_marked, found.passes) == (4.75, 4.75, False)
    (high,) = [one for one in solved(job).unguarded if one.where == found.where]
    assert (high.length, high.drop, high.asked) == (F("4.75"), F("43.5"), True)
    edge = max(job.surfaces[0].run * 6 * (not job.surfaces[0].down), 0)
    assert high.edge == edge
    assert abs(high.face - edge) == F("4.75")
    assert not check(solved(job)).passes
    assert UnguardedEnd(high, "flight") in check(solved(job)).cautions


def test_the_first_tread_is_told_where_its_fall_asks_for_no_guard():
    """A riser of 7-1/4 in is less than 30 in: the authority decides, and no opening fails."""
    (low,) = [one for one in solved(ALONE).unguarded if one.where.end == "bottom"]
    assert (low.length, low.drop, low.asked) == (F("4.25"), F("7.25"), False)
    told = [f for f in inspect_layout(check(solved(ALONE))).findings if f.place.where == low.where]
    assert [(f.verdict, f.clause, f.value) for f in told] == [("needs a decision", "R312.1.1", 7.25)]
    assert UnguardedEnd(low, "flight") in check(solved(ALONE)).cautions


def test_a_greater_drop_that_the_job_states_counts():
    """At 50.75 in for the top floor the first tread stands 7.25 in up; at 80 in, 36.5 in: a guard is asked for."""
    job = replace(ALONE, site=Site(drop=F(80)))
    (low,) = [one for one in solved(job).unguarded if one.where.end == "bottom"]
    assert (low.drop, low.asked) == (F("36.5"), True)
    assert {o.where for o in past(job)} == set(stretches(job))


def failing(job):
    return [f for f in inspect_layout(check(solved(job))).findings if f.verdict == "fail"]


@pytest.mark.parametrize("job", [ALONE, reversed_job(ALONE)], ids=["up", "down"])
def test_the_fixes_as_printed_close_it(job):
    (failed,) = failing(job)
    end = "start" if job.surfaces[0].down else "end"
    (fix,) = failed.fixes
    assert (brief(fix), fix.also) == (f"ends.{end} = 'newel'", (SideEffect.NEWEL_OR_LANDING,))
    over = (land(48), *job.surfaces) if job.surfaces[0].down else (*job.surfaces, land(48))
    for mended in (replace(job, **{end: "newel"}), replace(job, surfaces=over)):
        assert not past(mended)
        assert check(solved(mended)).passes


def test_the_fix_of_a_post_forced_into_a_landing_closes_it():
    """A guard that starts 30 in along a landing 35 in up, and goes down from there."""
    job = replace(BASE, surfaces=(land(60, start_post=F(30)), up(5, down=True), land(60)))
    (failed,) = failing(job)
    assert (failed.value, *map(brief, failed.fixes)) == (29.25, "surface[1].start_post = None")
    mended = replace(job, surfaces=(land(60), *job.surfaces[1:]))
    assert not solved(mended).unguarded
    assert check(solved(mended)).passes


@pytest.mark.parametrize("surfaces", [(land(100),), (ramp(120),), BASE.surfaces], ids=["landing", "ramp", "flight"])
def test_a_post_at_the_end_of_a_level_or_sloping_surface_leaves_nothing(surfaces):
    assert not solved(replace(BASE, surfaces=surfaces)).unguarded


def test_without_rules_it_is_told_all_the_same():
    job = replace(ALONE, rules="none")
    assert len(solved(job).unguarded) == 2
    assert {o.passes for o in past(job)} == {None}
    assert sum(isinstance(one, UnguardedEnd) for one in check(solved(job)).cautions) == 2


def test_the_result_has_every_stretch():
    data = result(check(solved(ALONE)))["unguarded"]
    assert [(d["post"], d["from"], d["to"], d["length"], d["drop"], d["asked"]) for d in data] == [
        ("P1", 4.25, 0.0, 4.25, 7.25, False),
        ("P3", 58.25, 63.0, 4.75, 43.5, True),
    ]
