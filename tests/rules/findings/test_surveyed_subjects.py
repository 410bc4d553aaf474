"""Clauses speak where their subject is; what was not measured is told as what to measure."""

from dataclasses import replace
from fractions import Fraction as F

from stairguard.model.asked.asked_opening import Measurement
from stairguard.model.fixes import Fix, ToMeasure
from stairguard.model.job import Handrail, Landing, Ramp
from stairguard.model.measured_guard import Survey, Taken
from stairguard.model.site import Site
from stairguard.rules.findings.checks import check
from stairguard.rules.findings.designed import inspect_layout
from stairguard.rules.findings.surveyed import inspect_survey
from stairguard.rules.pack.reader import read_rules
from stairguard.solve.lay_out import lay_out
from tests.solve.jobs import BASE
from tests.solve.lines import up

LANDING, FLIGHT, RAMP = Landing(length=F(60), turn=0.0), up(6), Ramp(length=F(120), rise=F(10), turn=0.0)


def test_clauses_on_landings_of_ramps_speak_where_a_ramp_is():
    """R311.8.2 of the IRC, 36 in: of a landing that a ramp reaches, and of none at a flight or round a floor."""
    for slope, clauses in ((None, set()), (FLIGHT, {"R311.7.6"}), (RAMP, {"R311.8.2, landings of ramps"})):
        surfaces = (LANDING,) if slope is None else (LANDING, slope)
        found = inspect_layout(check(lay_out(replace(BASE, surfaces=surfaces), read_rules("irc-2018", "in"))))
        assert {f.clause for f in found.findings if f.quantity == "landing length"} == clauses


def test_what_was_not_measured_is_told_as_what_to_measure():
    """Measured so, the height is no longer missing."""
    survey = Survey(
        title="made up", unit="in", rules="irc-2018", surfaces=(LANDING,), site=Site(), handrail=Handrail(), taken=()
    )
    rules = read_rules("irc-2018", "in")
    (one,) = (f for f in inspect_survey(survey, rules).findings if f.quantity == "guard height")
    assert one.fixes == (Fix((ToMeasure("guard height", (0,)),)),)
    taken = Taken(what="guard height", length=Measurement("guard height", F(36), F(0)), surface=0)
    (one,) = (
        f for f in inspect_survey(replace(survey, taken=(taken,)), rules).findings if f.quantity == "guard height"
    )
    assert (one.verdict, one.fixes) == ("pass", ())
