"""A real half-turn stair and a real ramp as jobs: what was measured on them, and what follows by hand.

Figures from openly published building models, one source a row of ``shared/real_stairs.csv``:

* OFF-A: Office building model Office_A_20110811, NIBS/ERDC common models: two flights and a half-turn landing.
* DECK-RAMP: buildingSMART ifc-gherkin-rules, SPS005 pass file (WSDOT), MIT: a 5 % ramp, its guard plumb over it.
"""

import csv
from fractions import Fraction
from itertools import pairwise
from math import hypot

import pytest

from stairguard.io.read.job_file import read_job
from stairguard.model.job import Flight
from stairguard.rules.findings.checks import check
from stairguard.rules.pack.reader import read_rules
from stairguard.solve.lay_out import lay_out
from tests.places import ROOT

SHARED = ROOT / "shared"


def solved(name):
    job = read_job(SHARED / "examples" / f"{name}.toml")
    return check(lay_out(job, read_rules(job.rules, job.unit))).layout


@pytest.fixture(scope="module")
def rows():
    lines = (SHARED / "real_stairs.csv").read_text(encoding="utf-8").splitlines()
    return {row["id"]: row for row in csv.DictReader(line for line in lines if not line.startswith("#"))}


@pytest.fixture(scope="module")
def office():
    return solved("office-half-turn")


@pytest.fixture(scope="module")
def ramp():
    return solved("deck-ramp")


def test_both_flights_are_the_models(rows, office):
    flights = [s for s in office.line.surfaces if isinstance(s.given, Flight)]
    for name, flight in zip(("OFF-A-lower", "OFF-A-upper"), flights, strict=True):
        given = flight.given
        measured = [Fraction(rows[name][key]) for key in ("risers", "rise_mm", "run_mm", "nosing_mm")]
        assert [given.risers, given.rise, given.run, given.nosing] == measured
    lower, upper = flights
    # the landing's elevation in the model, and twice that at the top
    assert lower.end.z == upper.start.z == Fraction("2133.6")
    assert upper.end.z == Fraction("4267.2")
    assert rows["OFF-A-lower"]["form"].endswith("elevation 2133.6")


def test_the_guard_stands_900_over_every_nosing_of_both(rows, office):
    assert rows["OFF-A-lower"]["guard"] == rows["OFF-A-upper"]["guard"] == "guard 900 above the nosing line"
    for surface in office.line.surfaces:
        rail = office.rails[surface.index]
        for nosing in surface.nosings:
            along = (nosing.s - rail.start.s) / (rail.end.s - rail.start.s)
            assert rail.start.z + along * (rail.end.z - rail.start.z) - nosing.z == 900


def test_the_rails_meet_at_the_turn_half_a_rise_up(office):
    turn = next(j for j in office.joints if j.turn_deg)
    assert turn.turn_deg == 180
    assert turn.jog == 0
    # half a run of 280 at 177.8 in 280 past the top nosing
    assert office.rails[turn.between[0]].height == 900
    assert turn.meets.z == Fraction("2133.6") + 900 + Fraction("177.8") / 2
    assert turn.meets.s - office.line.surfaces[turn.between[0]].end.s == 140
    assert not turn.mitred, "one pitch turned back on itself cannot be mitred"
    # twice the pitch short of straight back: 180 - 2 atan(177.8 / 280) = 115.168..., worked by hand
    assert turn.bend_deg == pytest.approx(115.168, abs=1e-3)


def test_the_legs_lie_beside_one_another_in_plan(office):
    lower, upper = (s for s in office.line.surfaces if isinstance(s.given, Flight))
    assert upper.heading_deg - lower.heading_deg == 180
    # both flights end at one edge of the landing, as in the model: the guard comes back to where it left
    assert upper.plan_start.x == pytest.approx(lower.plan_end.x, abs=1e-9)
    assert upper.plan_end.x == pytest.approx(lower.plan_start.x, abs=1e-9)


def test_office_posts_of_both_flights_are_cut_alike(office):
    lower, upper = (
        {p.length for p in office.posts if p.role == "line" and p.stands_on == s.index}
        for s in office.line.surfaces
        if isinstance(s.given, Flight)
    )
    assert lower == upper
    assert len(lower) == 1


def test_the_ramp_is_the_models(rows, ramp):
    form = rows["DECK-RAMP"]["form"]
    assert form == "ramp 37973 long, 1898.65 rise (5 %), guard 1062.5 plumb above the deck at its toe"
    (surface,) = ramp.line.surfaces
    assert surface.end.s == 37973
    assert surface.end.z == Fraction("1898.65")
    assert surface.slope == Fraction(5, 100)


def test_the_guard_stands_1062_5_plumb_over_the_ramp_all_along(ramp):
    (surface,), (rail,) = ramp.line.surfaces, ramp.rails
    for station in (rail.start.s, Fraction(20000), rail.end.s):
        along = (station - rail.start.s) / (rail.end.s - rail.start.s)
        top = rail.start.z + along * (rail.end.z - rail.start.z)
        assert top - station * Fraction(5, 100) == Fraction("1062.5")
    # square to the ramp it is less: 1062.5 / sqrt(1.0025) = 1061.174..., worked by hand
    assert float(rail.height) / hypot(1, float(surface.slope)) == pytest.approx(1061.1744, abs=1e-4)


def test_the_ramps_strands_are_parallel_to_it(ramp):
    for strand in range(1, len(ramp.fields[0].heights) + 1):
        places = [(p.station, p.base + h.height) for p in ramp.posts for h in p.holes if h.strand == strand]
        assert {(b[1] - a[1]) / (b[0] - a[0]) for a, b in pairwise(places)} == {Fraction(5, 100)}
    (field,) = ramp.fields
    assert field.square_spacing == pytest.approx(float(field.plumb_spacing) / hypot(1, 0.05), rel=1e-12)
    # spheres are square gaps: no strand stands farther than 75 from the next, square
    assert field.square_spacing <= 75


def test_ramp_posts_stand_plumb_and_alike(ramp):
    line = [p for p in ramp.posts if p.role == "line"]
    assert len({p.length for p in line}) == 1
    for post in line:
        assert post.base == post.station * Fraction(5, 100)
        # on the centre line, under a rail 40 deep square: 1062.5 - 40 sqrt(1.0025)
        assert float(post.length) == pytest.approx(1062.5 - 40 * hypot(1, 0.05), abs=1e-9)
        assert float(post.edges[1] - post.edges[0]) == pytest.approx(float(post.width) * 0.05, abs=1e-9)


def test_ramp_runs_are_as_long_as_the_ramp_between_their_ends(ramp):
    for strand in range(1, len(ramp.fields[0].heights) + 1):
        runs = [r for r in ramp.runs if r.strand == strand]
        # broken at line posts, each run ends on the face it comes to: a post's width along the slope is lost
        lost = (len(runs) - 1) * float(ramp.job.post.width) * hypot(1, 0.05)
        assert sum(r.length for r in runs) == pytest.approx(37973 * hypot(1, 0.05) - lost, rel=1e-12)
        assert all(r.length <= float(ramp.job.strand.longest_run) for r in runs)
