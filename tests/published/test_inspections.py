"""Guards inspected: thirteen cases for a carpenter, an inspector and a designer, each verdict reasoned from its clause.

The clauses, and where their figures were read, are those of the packs; the tests of each pack beside this file assert
them with addresses. What is asserted here is what comes of them on a given guard. Sizes are made up.
"""

from __future__ import annotations

import pytest

import stairguard
from stairguard.model.guard.opening_kinds import Where
from stairguard.model.reasons import ByLeave
from stairguard.reports.words.caution_words import caution_texts
from stairguard.reports.words.fix_words import fixes_words

STAIR = """
[[surface]]
kind = "flight"
risers = {risers}
rise = {rise}
run = {run}
nosing = {nosing}
tread = 1
"""
LANDING = """
[[surface]]
kind = "landing"
length = 1500
"""
DESIGN = """
[rail]
height = {height}
landing_height = {landing}
depth = 40
width = 60
[strand]
diameter = 4
spacing = 75
[post]
width = 40
max_gap = 1300
setback = 120
"""


@pytest.fixture
def found(tmp_path):
    """Inspect a guard: rules, unit, surfaces and what was measured; findings by quantity."""

    def ask(rules, *parts, unit="in", site=""):
        path = tmp_path / "job.toml"
        head = f'unit = "{unit}"\nrules = "{rules}"\n'
        path.write_text(head + (f"[site]\n{site}\n" if site else "") + "\n".join(parts), encoding="utf-8")
        return stairguard.inspect(path)

    return ask


def measured(what, **keys):
    lines = [f'{key} = "{value}"' if isinstance(value, str) else f"{key} = {value}" for key, value in keys.items()]
    return "\n".join(["[[measured]]", f'what = "{what}"', *lines, ""])


def verdicts(inspection, quantity, clause=""):
    return [
        f.verdict for f in inspection.findings if f.quantity == quantity and f.clause.startswith(clause) and f.value
    ]


# --- the inspector ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("lift", "verdict"), [("0.3", "pass"), ("0.34", "fail")])
def test_a_long_nosing_eats_the_step_triangle(found, lift, verdict):
    """R312.1.3 exception 1: a 6 in sphere must not pass the triangle of riser, tread and bottom rail.

    At 7-3/4 on 10 with a nosing of 1-1/4 in the lift that 6 in allows is 0.32 in square (d0 = R + G - sqrt(R^2 + G^2)
    = 5.098, d = d0 (1 + p/G + v/R), v = 0.40 plumb, times cos of the pitch 0.790): 0.30 conforms, 0.34 does not.
    """
    stair = STAIR.format(risers=5, rise="7.75", run=10, nosing="1.25")
    got = found("irc-2018", stair, measured("opening", surface=1, step=2, lift=float(lift)))
    assert verdicts(got, "opening", "R312.1.3 exception 1") == [verdict]
    if verdict == "fail":
        (one,) = (f for f in got.findings if f.verdict == "fail")
        assert fixes_words(one.fixes) == 'lift 5/16" (0.0275 in less)'  # the last sixteenth below 0.32


def test_strands_that_let_a_ball_through_when_pushed_pass_at_rest(found):
    """R312.1.3 states no force for the ball (trade-body statement on the model code; the 50 lb infill load is apart).

    1/8 in strands at 3-1/2 in leave 3-3/8 in at rest, less than 4: no breach of the clause. An inspector's forum tells
    of a passed job of just these sizes through which a 4 in ball fell with no force. The page must say that openings
    are measured at rest.
    """
    stair = STAIR.format(risers=5, rise="7", run=11, nosing="1")
    row = measured("opening", surface=1, spacing="3.5", strand_diameter="1/8 in", from_height=10, to_height=14)
    got = found("irc-2018", stair, row)
    assert verdicts(got, "opening") == ["pass"]
    assert any("at rest" in text for text in caution_texts(got.cautions, got.unit))


@pytest.mark.parametrize(
    ("rules", "verdict"), [("nbc-canada", "pass"), ("nz-f4as1", "fail"), ("scotland-1999", "fail")]
)
def test_a_gap_of_exactly_100_mm(found, rules, verdict):
    """Canada stops a ball of MORE than 100 mm, so exactly 100 may pass; F4/AS1 and S4.2 stop a 100 mm ball itself."""
    got = found(rules, LANDING, measured("opening", surface=1, value=100, from_height=300, to_height=400), unit="mm")
    assert verdicts(got, "opening") == [verdict]


@pytest.mark.parametrize(
    ("drop", "reach", "verdict"),
    [("30", "0", "needs a decision"), ("30-1/16 in", "36", "pass"), ("48", "36-1/16 in", "needs a decision")],
)
def test_when_a_guard_is_required_at_all(found, drop, reach, verdict):
    """R312.1.1: a drop of MORE than 30 in, at any point within 36 in level of the open edge.

    30 in exactly asks for none; a sixteenth more does, also at 36 in from the edge; a deeper drop beyond that does not.
    """
    got = found("irc-2018", LANDING.replace("1500", "60"), measured("drop", surface=1, value=drop, reach=reach))
    assert verdicts(got, "guard required") == [verdict]


@pytest.mark.parametrize(("width", "verdict"), [("19", "pass"), ("19-1/16 in", "fail")])
def test_a_construction_stair_s_openings_are_widths(found, width, verdict):
    """1926.1052(c)(4): openings NOT MORE than 19 in wide, so 19.000 does (Washington's copy, WAC 296-155-477)."""
    stair = STAIR.format(risers=5, rise="7", run=11, nosing="1")
    got = found("osha-1926", stair, measured("opening", surface=1, value=width, at="below the midrail"))
    assert verdicts(got, "opening width") == [verdict]


def test_a_tape_cannot_tell(found):
    """R312.1.2: 36 in at least. 36-1/32 read with a tape and an edge good to 1/16 in: neither can be said."""
    rows = (
        '[inspection]\nplus_minus = "1/16 in"\n',
        measured("guard height", surface=1, value="36-1/32 in", at="post P2"),
    )
    got = found("irc-2018", LANDING.replace("1500", "60"), *rows)
    (one,) = (f for f in got.findings if f.quantity == "guard height" and f.value)
    assert one.verdict == "too close to call"
    assert one.guard_band == pytest.approx(2 / 16 / 3**0.5)  # rectangular: twice a/sqrt(3)
    assert not got.passes


# --- the carpenter ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("edge", "verdict"), [(45, "pass"), (55, "fail")])
def test_scotland_s_low_edge(found, edge, verdict):
    """S4.2 of 1999: the gap between a rise and the lowest edge may pass 100 mm if the edge is not more than 50 mm
    above, and parallel to, the pitch line.

    190 on 250: even on the line a sphere of d0 = 190 + 250 - sqrt(190^2 + 250^2) = 126 mm passes, so only the
    exception can save it: 45 mm plumb (lift 45 cos) does, 55 does not.
    """
    cos = 250 / (190**2 + 250**2) ** 0.5
    stair = STAIR.format(risers=5, rise=190, run=250, nosing=0)
    got = found("scotland-1999", stair, measured("opening", surface=1, step=2, lift=edge * cos), unit="mm")
    assert verdicts(got, "opening", "S4.2") == [verdict]
    if verdict == "pass":
        assert any(ByLeave("S4.2, lowest edge", "secondary") in f.why for f in got.findings)


def test_risers_as_built(found):
    """R311.7.5.1: 7-3/4 in at most (7-3/4 itself does), and 3/8 in at most between the largest and the smallest.

    Nosings at 7-3/4, 15-1/8, 22-7/8, 30-5/8: risers 7-3/4, 7-3/8, 7-3/4, 7-3/4, a spread of 3/8 exactly: both hold.
    With the second nosing a sixteenth lower the second riser is 7-5/16 and the third 7-13/16: both fail.
    """
    nosings = "nosings = [[0, 7.75], [10.5, {second}], [21, 22.875], [31.5, 30.625]]"
    flight = f'[[surface]]\nkind = "flight"\n{nosings}\nnosing = 1\n'
    even = found("irc-2018", flight.format(second=15.125))
    assert verdicts(even, "riser", "R311.7.5.1") == ["pass"]
    assert verdicts(even, "riser difference") == ["pass"]
    uneven = found("irc-2018", flight.format(second=15.0625))
    assert verdicts(uneven, "riser", "R311.7.5.1") == ["fail"]
    assert verdicts(uneven, "riser difference") == ["fail"]


@pytest.mark.parametrize(("gap", "verdict"), [("3-15/16 in", "pass"), ("4", "fail")])
def test_the_lowest_strand_over_an_accessible_ramp(found, gap, verdict):
    """ADA 405.9.2: a barrier must stop a 4 in sphere where any part of it is within 4 in of the floor.

    So the gap under the lowest strand is less than 4; what opens 4 in up or higher is beyond the clause.
    """
    ramp = '[[surface]]\nkind = "ramp"\nlength = 240\nrise = 20\n'
    got = found("ada-2010", ramp, measured("opening", surface=1, value=gap, to_height=4.5), site="accessible = true")
    assert verdicts(got, "ramp edge") == [verdict]
    higher = found("ada-2010", ramp, measured("opening", surface=1, value=9, from_height=4, to_height=13))
    assert verdicts(higher, "ramp edge") == []


# --- the designer -----------------------------------------------------------------------------------------------------


def test_one_height_over_stair_and_landing_in_australia(tmp_path):
    """D3D18(1): 865 mm over a stair's nosing line, 1 m over a landing's floor.

    A rail carried on at 900 over the landing meets the first and misses the second by 100.
    """
    path = tmp_path / "design.toml"
    stair = STAIR.format(risers=6, rise=170, run=280, nosing=20).replace("tread = 1\n", "tread = 30\n")
    head = 'unit = "mm"\nrules = "ncc-australia"\n' + DESIGN.format(height=900, landing=900)
    path.write_text(head + LANDING + stair + LANDING, encoding="utf-8")
    checked = stairguard.lay_out(stairguard.read_job(path))
    heights = [f for f in stairguard.result(checked)["findings"] if f["quantity"] == "guard height" and f["binding"]]
    assert {(f["surface"], f["verdict"]) for f in heights} == {(0, "fail"), (1, "pass"), (2, "fail")}
    low = [f for f in heights if f["verdict"] == "fail"]
    assert {(f["margin"], f["fix"]) for f in low} == {
        (-100, "rail.height = 1000 (100 mm more) and rail.landing_height = 1000 (100 mm more)")
    }


@pytest.mark.parametrize(
    ("site", "height", "verdict"),
    [
        ("", 36, "fail"),
        ('occupancy = "R-3"\nstoreys = 3', 36, "pass"),
        ('occupancy = "R-3"\nstoreys = 4', 36, "fail"),
        ('occupancy = "B"', 42, "pass"),
    ],
)
def test_a_landing_s_guard_by_occupancy(found, site, height, verdict):
    """IBC 1015.3: 42 in; exception 1: 36 in over level surfaces in R-3 of not more than three storeys."""
    row = measured("guard height", surface=1, value=height)
    got = found("ibc-2018", LANDING.replace("1500", "60"), row, site=site)
    assert verdicts(got, "guard height", "1015.3") == [verdict]


def test_a_new_industrial_stair_needs_a_handrail_of_its_own(found):
    """1910.29(f)(1)(ii)(B): a stair rail installed after 16 January 2017 stands 42 in at least.

    By (iii) its top may be the handrail only from 36 to 38: no height meets both, so two rails are needed.
    """
    stair = STAIR.format(risers=8, rise="7", run=11, nosing="1")
    got = found("osha-1910", stair, site="installed = 2020\ntop_is_handrail = true")
    (conflict,) = got.conflicts
    assert (conflict.least.quantity, conflict.least.value) == ("guard height", 42)
    assert (conflict.most.quantity, conflict.most.value) == ("handrail height", 38)


def test_level_strands_where_small_children_are(found):
    """Approved Document K 3.3: where children under five are likely to be, level rails that can be climbed are to be
    avoided: guidance, so the authority decides; elsewhere nothing is said."""
    rows = (
        measured("member", surface=1, value=300, at="strand 8"),
        measured("member", surface=1, value=375, at="strand 7"),
    )
    with_children = found("england-adk-2013", LANDING, *rows, unit="mm", site="children = true")
    (one,) = (f for f in with_children.findings if f.quantity == "climbable band")
    assert one.verdict == "needs a decision"
    assert (300, "strand 8") in one.what.within
    without = found("england-adk-2013", LANDING, *rows, unit="mm", site="children = false")
    assert not [f for f in without.findings if f.quantity == "climbable band"]


# --- a tie on one geometry, under packs that word it differently ------------------------------------------------------


def test_an_exact_tie_is_judged_opposite_ways_on_one_layout(tmp_path):
    """The same guard, laid out once: strands that leave exactly 100 mm at their marks.

    "Stops more than 100" lets it be, "stops 100" does not. Strands of 4 mm stand 104 apart, from 104 to 832 above the
    landing, whole millimetres all of them, so the tape's marks change nothing.
    """
    body = """
[[rule]]
quantity = "opening"
place = "any"
kind = "{kind}"
value = "100"
clause = "T"
status = "from memory"
source = "from memory"
note = "made up for a test"
"""
    for name, kind in (("ball", "stops"), ("more", "stops more than")):
        head = f'name = "{name}"\ntitle = "{name}"\nedition = "none"\nunit = "mm"\njurisdiction = "nowhere"\n'
        (tmp_path / f"{name}.toml").write_text(head + body.format(kind=kind), encoding="utf-8")
    job = tmp_path / "job.toml"
    # the rail's underside at 934: 102 above the first strand's centre, 100 clear
    design = DESIGN.format(height=974, landing=974).replace("spacing = 75", "spacing = 104")
    job.write_text('unit = "mm"\nrules = "none"\n' + design + LANDING, encoding="utf-8")
    compared = stairguard.compare_rules(job, [str(tmp_path / "ball.toml"), str(tmp_path / "more.toml")])
    for place in ("between strands", "under rail"):
        found = [
            next(f for f in each.findings if f.quantity == "opening" and f.place.where == Where(place))
            for each in compared.inspections
        ]
        assert [f.value for f in found] == [100, 100]
        assert [f.margin for f in found] == [0, 0]
        assert [f.verdict for f in found] == ["fail", "pass"]
