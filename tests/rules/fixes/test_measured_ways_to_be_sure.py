"""What an inspection tells to do "to be sure" is done as printed, measured again as well, and passes plainly.

One case for each way in which an opening is given, in either unit; random ones are in ``test_fixes.py``.
"""

import pytest

import stairguard
from tests.rules.fixes.fixing import toml
from tests.rules.fixes.retaking import inspected, retaken

INCHES = {"unit": "in", "rules": "irc-2021", "inspection": {"plus_minus": "1/16 in"}}
METRIC = {"unit": "mm", "rules": "england-adk-2013", "inspection": {"plus_minus": "2 mm"}}
FLIGHT = {"kind": "flight", "risers": 5}
IN_STEPS = {**FLIGHT, "rise": "7 in", "run": "11 in", "nosing": "1 in", "tread": "1 in"}
MM_STEPS = {**FLIGHT, "rise": "180 mm", "run": "250 mm", "nosing": "25 mm", "tread": "30 mm"}
SURVEYED = {"kind": "flight", "nosing": "1 in", "tread": "1 in"}
SURVEYED |= {"nosings": [["0 in", "7 in"], ["11 in", "14-1/8 in"], ["22 in", "21-1/4 in"], ["33 in", "28-1/4 in"]]}
IN_STRAND = {"strand_diameter": "1/8 in +- 0 in"}
MM_STRAND = {"strand_diameter": "3 mm +- 0 mm"}


def inches(x, *rest):
    return f"{x} in" if not rest else [inches(x), *map(inches, rest)]


def mm(x, *rest):
    return f"{x} mm" if not rest else [mm(x), *map(mm, rest)]


OPENINGS = {
    "across, in": (INCHES, IN_STEPS, {"value": "4-1/2 in"}),
    "across, mm": (METRIC, MM_STEPS, {"value": "112 mm"}),
    "step, in": (INCHES, IN_STEPS, {"lift": "1-1/2 in"}),
    "step, mm": (METRIC, MM_STEPS, {"lift": "12 mm"}),
    "step of its own, mm": (METRIC, MM_STEPS, {"lift": "45 mm", "rise": "150 mm", "run": "300 mm"}),
    "step with a lift to lower, mm": ({**METRIC, "rules": "nbc-canada"}, MM_STEPS, {"lift": "60 mm", "rise": "130 mm"}),
    "surveyed step, in": (INCHES, SURVEYED, {"lift": "1-1/4 in", "step": 2}),
    "open step, in": (INCHES, {**IN_STEPS, "open_risers": True, "tread": "3-3/4 in"}, {"lift": "2 in"}),
    "corners, in": (INCHES, IN_STEPS, {"points": [inches(0, 0), inches(9, 0), inches(9, "5-1/4"), inches(0, 5)]}),
    "corners, mm": (METRIC, MM_STEPS, {"points": [mm(0, 0), mm(0, 120), mm(300, 133), mm(280, 0)]}),
    "corners and a strand, in": (
        INCHES, IN_STEPS,
        {"points": [inches(0, 0), inches(12, 0), inches(12, 5), inches(0, 5)], "strand_edges": [3], **IN_STRAND},
    ),
    "corners and two strands, mm": (
        METRIC, MM_STEPS,
        {"points": [mm(0, 0), mm(310, 4), mm(309, 118), mm(0, 117)], "strand_edges": [1, 3], **MM_STRAND},
    ),
    "three sides, in": (INCHES, IN_STEPS, {"sides": inches("12-1/2", 15, "11-3/8")}),
    "three sides, mm": (METRIC, MM_STEPS, {"sides": mm(310, 380, 290)}),
    "four sides, in": (INCHES, IN_STEPS, {"sides": inches("10-1/4", "4-3/4", 10, 5), "diagonal": "11-3/16 in"}),
    "four sides and a strand, mm": (
        METRIC, MM_STEPS, {"sides": mm(260, 121, 255, 118), "diagonal": "283 mm", "strand_edges": [3], **MM_STRAND},
    ),
    "two strands, in": (INCHES, IN_STEPS, {"spacing": "4-5/8 in", **IN_STRAND}),
    "two strands, mm": (METRIC, MM_STEPS, {"spacing": "114 mm", **MM_STRAND}),
}  # fmt: skip


@pytest.mark.parametrize("name", OPENINGS)
def test_what_is_told_to_be_sure_is(name, tmp_path):
    site, flight, shape = OPENINGS[name]
    row = {"what": "opening", "surface": 2, "at": "here", **shape}
    landing = {"kind": "landing", "length": f"48 {site['unit']}"}
    content = {"title": name, **site, "surface": [landing, flight], "measured": [row]}
    found = inspected(content, tmp_path / "found.toml", fixes=True)
    (one,) = (f for f in found.findings if f.verdict == "fail" and f.quantity == "opening" and f.value)
    told = [fix for fix in one.fixes if fix.to_be_sure]
    assert told, one.fixes
    for fix in told:
        again = inspected(retaken(content, one, fix, sure=True), tmp_path / "again.toml")
        verdicts = [f.verdict for f in again.findings if (f.clause, f.scope) == (one.clause, one.scope) and f.value]
        assert verdicts == ["pass"], f"{fix} on {toml(content)}"


@pytest.mark.parametrize("plus_minus", ["1/16 in", "0 in"])
def test_how_a_fix_s_two_figures_differ_is_said_once_and_is_so(plus_minus, tmp_path):
    """A rail too low: raised to the first figure and measured with the same tape, then to the one to be sure."""
    landing = {"kind": "landing", "length": "48 in"}
    row = {"what": "guard height", "surface": 1, "at": "post 1", "value": "35-1/2 in"}
    content = {**INCHES, "title": "low", "inspection": {"plus_minus": plus_minus}, "surface": [landing]}
    content |= {"measured": [row]}
    found = inspected(content, tmp_path / "found.toml", fixes=True)
    page = " ".join(stairguard.inspection_report(found).split())
    assert page.count("TWO FIGURES IN A FIX") == (plus_minus != "0 in")
    (low,) = (f for f in found.findings if f.verdict == "fail")
    (fix,) = low.fixes
    for sure, verdict in ((False, "too close to call"), (True, "pass")) if plus_minus != "0 in" else ((False, "pass"),):
        again = inspected(retaken(content, low, fix, sure=sure), tmp_path / "again.toml")
        assert [f.verdict for f in again.findings if f.clause == low.clause and f.value] == [verdict]
