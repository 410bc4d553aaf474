"""What a page starts with, from findings: each thing that does not comply once, what came of it, what is tight."""

from dataclasses import asdict, replace
from fractions import Fraction as F

import pytest

from stairguard.model.findings import Finding, Inspection, Location
from stairguard.model.fixes import Evened, Fix, TapeMark
from stairguard.model.outcome import OUTCOMES
from stairguard.model.reasons import Why
from stairguard.model.rules import RuleSet
from stairguard.model.subjects import Numbered, Size
from stairguard.reports.words.rules.alike_findings import tally
from stairguard.reports.words.rules.matter_words import (
    inspection_result,
    larger_sphere_caution,
    matters,
    tight_heading,
    tight_list,
)
from tests.rules.fixes.retaking import inspected

MARK = F(1, 16)
EVENED = Fix((Evened(1, "risers", F(29, 4), TapeMark("in", MARK)),))
NO_FIX = "no one change is known that mends it: change the design there, or ask the authority"


def riser(value, surface=1, verdict="fail", **more):
    """One riser of a flight against at most 7-3/4 in."""
    one = Finding(
        clause="R1",
        status="read",
        quantity="riser",
        verdict=verdict,
        what=Size(Numbered(surface, "flight"), "riser"),
        place=Location(surface),
        value=value,
        kind="at most",
        limit=7.75,
        unit="in",
        margin=None if value is None else 7.75 - value,
    )
    return replace(one, **more)


def inspection(*findings, outcome="does not comply", rules="a pack"):
    return Inspection(
        title="words of matters",
        unit="in",
        rules=RuleSet(name=rules, title=rules, rules=()),
        findings=findings,
        conflicts=(),
        cautions=(),
        outcome=outcome,
        mark=MARK,
    )


FAILING = {
    "head": "FAILS", "clause": "R1 (read)", "where": "riser of surface 2 (flight)", "found": "8 in",
    "asked": "at most 7.75 in", "fix": NO_FIX, "short": "0.25 in",
}  # fmt: skip


@pytest.mark.parametrize(
    ("findings", "told"),
    [
        ([riser(8.0)], {}),
        ([riser(8.0, fixes=(EVENED,))], {"fix": 'even out the risers of surface 2 between its ends, to 7-1/4" each'}),
        ([riser(8.0), riser(8.0, 2)], {"where": "riser of surfaces 2, 3 (flight)"}),
        ([riser(8.0, clause="job", status="job")], {"clause": "the job's own limit"}),
        # a figure whose digits would not tell it from its limit
        ([riser(7.7500001)], {"found": "more than 7.75 in by <0.000001 in", "short": "1e-07 in"}),
        ([riser(None, kind="as a rule has it", limit=None)],
         {"found": "not kept", "asked": "as a rule has it", "short": ""}),
        ([riser(7.75, verdict="too close to call")], {"head": "TOO CLOSE TO CALL", "found": "7.75 in", "short": ""}),
    ],
)  # fmt: skip
def test_what_fails_or_is_too_close_is_told_whole(findings, told):
    (one,) = matters(inspection(*findings))
    assert asdict(one) == FAILING | told


def test_what_was_not_measured_is_told_where_nothing_else_is_amiss():
    """And only what leaves nothing to be said of a guard, with the reason where no measuring is told."""
    height = riser(None, verdict="not checked", quantity="guard height", why=(Why.ROUND,))
    beside = riser(None, verdict="not checked", why=(Why.ROUND,))
    (one,) = matters(inspection(beside, height, outcome="incomplete"))
    wanted = {"head": "NOT MEASURED", "found": "nothing", "fix": "the handrail is round", "short": ""}
    assert asdict(one) == FAILING | wanted
    assert not matters(inspection(beside, height, outcome="complies"))
    assert [one.head for one in matters(inspection(height, riser(8.0)))] == ["FAILS"]


def test_failures_stand_before_doubts_and_what_does_not_bind_is_none():
    told = matters(inspection(riser(7.75, verdict="too close to call"), riser(8.0, 2), riser(9.0, 3, binding=False)))
    assert [(one.head, one.found) for one in told] == [("FAILS", "8 in"), ("TOO CLOSE TO CALL", "7.75 in")]


def test_failures_are_counted_as_they_are_told(tmp_path):
    """Three landings alike, one thing to mend."""
    landing = {"kind": "landing", "length": "60 in"}
    rows = [{"what": "guard height", "surface": k, "value": "30 in"} for k in (1, 2, 3)]
    site = {"title": "told once", "unit": "in", "rules": "irc-2021", "inspection": {"plus_minus": "1/16 in"}}
    found = inspected({**site, "surface": [landing] * 3, "measured": rows}, tmp_path / "f.toml", True)
    assert len(matters(found)) == 1
    assert tally(found).startswith("1 fail, ")


DECIDES = "the authority having jurisdiction decides."
THEN = {
    "does not comply": (" with {}: 1 thing to mend. Make the change told at each, then ", "lay it out again.",
                        "measure again."),
    "too close to call": (" under {}: nothing fails. Measure again, and closer, or mend, what is listed first, ",
                          "as it says.", "as it says."),
    "incomplete": (" under {}: nothing fails, but not e",
                   "very opening is solved under the push asked for: see UNDER A PUSH.",
                   "nough was measured. Measure what is listed first."),
    "complies": (" with {}, so far as it ", "is checked here. Build to the marks; " + DECIDES,
                 "was measured. " + DECIDES.capitalize()),
}  # fmt: skip
"""Of each outcome what follows it: for both, for a design, for a guard as measured."""


@pytest.mark.parametrize("outcome", OUTCOMES)
@pytest.mark.parametrize(
    ("rules", "designed", "by"),
    [
        ("a pack", True, "a pack"),
        ("a pack", False, "a pack"),
        ("none", True, "the job's own limits, and no rules"),
        ("none", False, "no rules"),
    ],
)
def test_a_result_says_by_which_rules_and_what_to_do_next(outcome, rules, designed, by):
    start, of_design, as_measured = THEN[outcome]
    told = inspection_result(inspection(riser(8.0), outcome=outcome, rules=rules), designed=designed)
    assert told == outcome.upper() + start.format(by) + (of_design if designed else as_measured)


def test_several_things_are_to_mend():
    told = inspection_result(inspection(riser(8.0), riser(9.0, 2)), designed=True)
    assert told.startswith("DOES NOT COMPLY with a pack: 2 things to mend. ")


def test_the_tightest_of_what_is_tight_stands_for_the_others():
    tight, tighter = riser(7.72, verdict="pass"), riser(7.74, 2, verdict="pass")
    found = inspection(tight, tighter, riser(7.5, 3, verdict="pass"), outcome="complies")
    start = "R1 (read): riser, surface 3: 7.74 in, at most 7.75 in, 0.01 in to spare"
    assert tight_list(found) == [f"{start}, and 1 more in FINDINGS"]
    assert tight_list(inspection(tighter)) == [start]
    assert tight_heading(found) == 'TIGHT: passes by less than one mark (1/16"); made a mark off, it would fail.'


def test_the_larger_sphere_is_cautioned_of_where_a_verdict_uses_it():
    step = {"quantity": "opening", "scope": "step triangle"}
    told = larger_sphere_caution(inspection(riser(5.0, verdict="pass", **step), riser(9.0, **step)))
    assert told == (
        "CAUTION, R1: The larger sphere of the step triangle was used: some officials accept it only under a rigid "
        "bottom rail, and not under a strand."
    )
    assert not larger_sphere_caution(inspection(riser(None, verdict="not checked", **step)))
