"""Real stairs as jobs: what was measured on them, and what follows from it by hand.

Figures from openly published building models, one source a row of ``shared/real_stairs.csv``:

* DUP-A: BSI (2020) Duplex Apartment Test Files, buildingSMART International, CC BY 4.0.
* OFF-A: Office building model Office_A_20110811, NIBS/ERDC common models.
* PRECAST-8: Schependomlaan data set, buildingSMART Sample-Test-Files, CC BY 4.0.
"""

from __future__ import annotations

import csv
import math
from fractions import Fraction

import pytest

from stairguard.io.read.job_file import read_job
from stairguard.model.job import Flight
from stairguard.rules.findings.checks import check
from stairguard.rules.pack.reader import read_rules
from stairguard.solve.lay_out import lay_out
from tests.places import ROOT

SHARED = ROOT / "shared"
JOBS = {"duplex": "DUP-A", "office-lower": "OFF-A-lower", "precast": "PRECAST-8"}


@pytest.fixture(scope="module")
def rows():
    lines = (SHARED / "real_stairs.csv").read_text(encoding="utf-8").splitlines()
    table = csv.DictReader(line for line in lines if not line.startswith("#"))
    return {row["id"]: row for row in table}


@pytest.fixture(scope="module")
def stairs():
    def solved(name):
        job = read_job(SHARED / "examples" / f"{name}.toml")
        return check(lay_out(job, read_rules(job.rules, job.unit)))

    return {name: solved(name) for name in JOBS}


def _flight(checked):
    (flight,) = (s for s in checked.layout.line.surfaces if isinstance(s.given, Flight))
    return flight


def _height_over(checked, surface, station):
    """Plumb height of the rail's top over a surface's datum, from the rail's own end points."""
    (rail,) = (r for r in checked.layout.rails if r.surface == surface.index)
    along = (station - rail.start.s) / (rail.end.s - rail.start.s)
    return rail.start.z + along * (rail.end.z - rail.start.z) - surface.datum(station)


@pytest.mark.parametrize(("name", "stair"), list(JOBS.items()))
def test_the_job_is_the_stair(rows, stairs, name, stair):
    row, flight = rows[stair], _flight(stairs[name])
    given = flight.given
    measured = [Fraction(row[key]) for key in ("risers", "rise_mm", "run_mm", "nosing_mm")]
    assert [given.risers, given.rise, given.run, given.nosing] == measured
    assert len(flight.nosings) == given.risers
    assert flight.end.z - flight.start.z == measured[0] * measured[1]
    assert flight.pitch_deg == pytest.approx(math.degrees(math.atan2(measured[1], measured[2])), abs=1e-12)


def test_total_rises(stairs):
    # OFF-A: the landing's elevation is 2133.6 in the model. DUP-A: 16 x 193.75.
    for name, rise in (("office-lower", "2133.6"), ("duplex", "3100")):
        flight = _flight(stairs[name])
        assert flight.end.z - flight.start.z == Fraction(rise)


@pytest.mark.parametrize(
    ("name", "over_nosings", "on_landings"),
    # DUP-A: handrail 900 on one side. OFF-A: guard 900 above the nosing line. PRECAST-8: 894.7 and 990.
    # The landing rails of the first two are ours.
    [("duplex", "900", "1000"), ("office-lower", "900", "950"), ("precast", "894.7", "990")],
)
def test_rail_stands_at_the_measured_height_over_every_nosing(stairs, name, over_nosings, on_landings):
    checked = stairs[name]
    flight = _flight(checked)
    for nosing in flight.nosings:
        assert flight.datum(nosing.s) == nosing.z
        assert _height_over(checked, flight, nosing.s) == Fraction(over_nosings)
    for surface in checked.layout.line.surfaces:
        if surface is not flight:
            assert _height_over(checked, surface, (surface.start.s + surface.end.s) / 2) == Fraction(on_landings)


@pytest.mark.parametrize("name", JOBS)
def test_rails_meet_at_posts_on_the_landings(stairs, name):
    # Similar triangles: a rail that rises R in a run G gains the difference of the heights in its G/R; at the
    # bottom it starts one riser lower. Worked here from the job's own figures.
    checked = stairs[name]
    job, flight = checked.layout.job, _flight(checked)
    gain = job.rail.landing_height - job.rail.height
    ratio = flight.given.run / flight.given.rise
    bottom, top = checked.layout.joints
    assert top.from_nosing == gain * ratio
    assert bottom.from_nosing == (gain - flight.given.rise) * ratio
    for joint in (bottom, top):
        assert joint.jog == 0
        assert joint.station == joint.meets.s
        assert joint.bend_deg == pytest.approx(flight.pitch_deg, abs=1e-9)
        assert joint.mitre_deg == pytest.approx(flight.pitch_deg / 2, abs=1e-9)
    assert bottom.station <= flight.start.s - job.post.width / 2
    assert top.station >= flight.end.s + job.post.width / 2


def test_precast_meeting_points_in_millimetres(stairs):
    # 95.3 over 187.5 in 220: 111.8 past the top nosing; (95.3 - 187.5) x 220/187.5: 108.2 before nosing 1.
    bottom, top = stairs["precast"].layout.joints
    assert float(top.from_nosing) == pytest.approx(111.8187, abs=5e-5)
    assert float(bottom.from_nosing) == pytest.approx(-108.1813, abs=5e-5)
