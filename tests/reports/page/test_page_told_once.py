"""Figures and counts that are told once and alike, and what is next to nothing said without its noise.

Each case here was told otherwise on 0.6.0; sizes are reckoned by hand where a comment says how.
"""

from dataclasses import replace
from fractions import Fraction as F

import pytest

import stairguard
from stairguard.model.fixes import Advice, Fix
from stairguard.model.job import Flight
from stairguard.reports.drawing.elevation.elevation_sheets import elevation
from stairguard.reports.words.fix_words import fixes_words
from stairguard.reports.words.rules.matter_words import matters
from tests.reports.guards import DATE, formatter
from tests.reports.lines import job
from tests.reports.words import as_printed
from tests.rules.fixes.retaking import inspected

SITE = {"title": "told once", "unit": "in", "rules": "irc-2021", "inspection": {"plus_minus": "1/16 in"}}
LANDING = {"kind": "landing", "length": "60 in"}
STEP = {"tread": "0 in", "lift": "0 in", "limit": "4 in", "inverse": True}


def page(answer):
    return " ".join(stairguard.opening_report(answer).split())


def test_one_figure_that_is_sure_too_is_told_once():
    """76 and 4 are 80 mm clear; 79 leaves 1 mm, more than the guard band of 0.3 mm."""
    found = stairguard.strands_opening(
        spacing="81 mm +- 0.3 mm", strand_diameter="4 mm", limit="76 mm", unit="mm", inverse=True
    )
    ((step,),) = (fix.steps for fix in found.fixes)
    assert (step.sizes, step.sure, step.told_sure) == ((("spacing", 81, 79),), (79,), ())
    assert not any(fix.to_be_sure for fix in found.fixes)
    assert fixes_words(found.fixes) in page(found)


@pytest.mark.parametrize(
    ("row", "fix"),
    [({"what": "guard height", "value": "36 in"}, ("Retaken", F(1, 8), F("36.125"))),
     ({"what": "opening", "spacing": "4-1/8 in", "strand_diameter": "1/8 in"},
      ("Reshaped", (("spacing", 4, F(-1, 8)),), (), False))],
)  # fmt: skip
def test_what_no_tape_settles_is_told_how_much_to_mend_it(row, fix, tmp_path):
    """Just at its limit: a sixteenth inside is still within the guard band of 0.0722, two are not."""
    found = inspected({**SITE, "surface": [LANDING], "measured": [{**row, "surface": 1}]}, tmp_path / "f.toml", True)
    (one,) = (one for one in found.findings if one.verdict == "too close to call")
    assert [as_printed.legible(step) for each in one.fixes for step in each.steps] == [fix]


def test_a_step_at_its_tie_is_told_without_noise():
    """R = 8, G = 6: 2 R / (1 + R/G + sqrt(1 + (R/G)^2)) = 16 / (1 + 4/3 + 5/3) = 4, the limit."""
    told = page(stairguard.step_opening(rise="8 in", run="6 in", **STEP))
    assert "only while the underside of the member is below the nosing line" in told


def test_open_risers_too_far_apart_are_to_be_closed_as_well():
    found = stairguard.step_opening(
        rise="7.5 in", run="11 in", tread="1.5 in", lift="0.5 in", limit="4 in", open_riser=True, inverse=True
    )
    assert found.fixes[-1] == Fix((), advice=Advice.SOLID_PIECE_AND_GAP)
    assert fixes_words(found.fixes) in page(found)


def test_two_changes_told_of_one_flight_give_the_length_it_has_with_both(tmp_path):
    """Seven risers, six runs of 11-1/8 in: 66-3/4 in."""
    flight = {"kind": "flight", "risers": 6, "rise": "7.5 in", "run": "10.25 in", "nosing": "1 in", "tread": "1 in"}
    rows = [{"what": "guard height", "surface": 1, "value": "43 in"}]
    content = {**SITE, "rules": "ibc-2021", "surface": [LANDING, flight], "measured": rows}
    found = inspected(content, tmp_path / "f.toml", True)
    longs = [fix.long for one in found.findings if one.verdict == "fail" for fix in one.fixes if fix.long is not None]
    assert [(long.surfaces, long.level, long.with_others) for long in longs] == [((1,), F("66.75"), True)] * 2


def test_a_sheet_counts_as_many_failures_as_the_page():
    """Two flights without a nosing, each mended by a key of its own."""
    turned = job("quarter-turn")
    flat = tuple(replace(one, nosing=F(0)) if isinstance(one, Flight) else one for one in turned.surfaces)
    told = stairguard.tell(stairguard.lay_out(replace(turned, surfaces=flat)), named=False)
    assert len(matters(told.inspection)) == 2
    counts = [
        text.words
        for sheet in elevation(told, DATE, formatter(turned))
        for text in sheet.texts()
        if "is in the report: " in text.words
    ]
    assert counts
    assert all("is in the report: 2 fail, " in words for words in counts)
