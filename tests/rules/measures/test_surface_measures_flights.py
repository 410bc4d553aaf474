"""Rules on a measured flight: the rail over every nosing, the true steps, and how far they differ."""

from __future__ import annotations

from fractions import Fraction as F

import pytest

from stairguard.model.cautions import NotRead, OptionUnmet
from stairguard.model.rules import Rule, RuleSet
from stairguard.model.site import NOWHERE
from stairguard.model.subjects import Differences, Height, Numbered, Size
from stairguard.rules.findings.checks import applied, check
from stairguard.rules.pack.reader import read_rules

HAIR = F(1, 10**12)
# Nosings 1, 2 and 4 lie on one line of slope 7/11, nosing 3 an inch under it. Rises 7, 7, 6, 8; runs 11.
UP = ((F(0), F(7)), (F(11), F(14)), (F(22), F(20)), (F(33), F(28)))
DOWN = ((F(0), F(0)), (F(11), F(-8)), (F(22), F(-14)), (F(33), F(-21)))
WAYS = pytest.mark.parametrize(
    "way", [{"nosings": UP}, {"nosings": DOWN, "down": True, "last_rise": F(7)}], ids=["up", "down"]
)

FLIGHT = Numbered(1, "flight")


def rule(quantity, kind, value, binding=True, below=None):
    return Rule(
        quantity=quantity,
        place="flight",
        kind=kind,
        value=F(value),
        clause=f"{quantity} {kind}",
        status="read",
        source="made up",
        note="made up",
        binding=binding,
        when_run_below=below,
    )


def found(layout):
    return {a.check.clause: a.check for a in applied(layout)}


@WAYS
@pytest.mark.parametrize("off", [-HAIR, F(0), HAIR])
def test_rail_at_every_nosing(make_layout, way, off):
    rules = RuleSet(
        name="made-up",
        title="Made up",
        rules=(rule("guard height", "at least", 37), rule("guard height", "at most", 38)),
    )
    checks = found(make_layout(rules, height=37 + off, **way))
    least, most = checks["guard height at least"], checks["guard height at most"]
    assert least.passes is (off >= 0)
    assert most.passes is (off <= 0)
    assert least.what.nosing in (1, 4)  # both on the line
    assert most.what == Height(FLIGHT, "top rail", 3)
    assert (least.value, most.value) == (float(37 + off), float(38 + off))


@WAYS
def test_true_steps(make_layout, way):
    rules = RuleSet(
        name="made-up",
        title="Made up",
        rules=(
            rule("riser", "at most", 8),
            rule("riser", "at least", 6),
            rule("run", "at least", 11),
            rule("riser difference", "at most", 2),
            rule("run difference", "at most", F(1, 8)),
            rule("flight rise", "at most", 28),
            rule("nosing projection", "at most", 1),
        ),
    )
    layout = make_layout(rules, **way)
    checks = found(layout)
    assert check(layout).passes
    assert checks["riser at most"].what == Size(FLIGHT, "riser", 4)
    assert checks["riser at least"].what == Size(FLIGHT, "riser", 3)
    assert checks["riser difference at most"].value == 2
    assert checks["riser difference at most"].what == Differences(FLIGHT, "riser", (3, 4))
    assert checks["run difference at most"].value == 0
    assert checks["flight rise at most"].value == 28
    # Each is a tie: a hair less allowed and it fails.
    for one in rules.rules:
        if one.quantity == "run difference":
            continue
        tight = one.value + (HAIR if one.kind == "at least" else -HAIR)
        layout = make_layout(
            RuleSet(name="made-up", title="Made up", rules=(rule(one.quantity, one.kind, tight),)), **way
        )
        assert [a.check.passes for a in applied(layout)] == [False], one


def test_pitch_is_the_nosing_line_s(make_layout):
    # End to end it climbs 18 in 20, but the straightedge lies where the mean nosing says.
    nosings = ((F(0), F(7)), (F(10), F(17)), (F(14), F(19)), (F(20), F(25)))
    # Mean station 11: over it the upper hull runs from nosing 2 to 4, 8 in 10.
    for value, passes in ((38, False), (39, True)):
        rules = RuleSet(name="made-up", title="Made up", rules=(rule("pitch", "at most", value),))
        (one,) = (a.check for a in applied(make_layout(rules, nosings=nosings)))
        assert one.value == pytest.approx(38.6598, abs=1e-4)  # atan 0.8
        assert one.passes is passes


def test_condition_on_the_smallest_run(make_layout):
    rules = RuleSet(
        name="made-up", title="Made up", rules=(rule("nosing projection", "at least", F(3, 4), below=F(11)),)
    )
    flush = {"nosing": F(0)}
    assert check(make_layout(rules, nosings=UP, **flush)).passes
    short = (*UP[:3], (F(33) - HAIR, F(28)))
    assert not check(make_layout(rules, nosings=short, **flush)).passes


def test_uneven_steps_fail_where_they_were_measured(make_layout):
    irc = read_rules("irc-2021", "in").at(NOWHERE)
    even = tuple((F(11) * k, F(7) * (k + 1)) for k in range(4))
    assert check(make_layout(irc, nosings=even)).passes
    raised = (*even[:3], (even[3][0], even[3][1] + F(1, 2)))
    checked = check(make_layout(irc, nosings=raised))
    assert [c.clause for c in checked.checks if not c.passes] == ["R311.7.5.1, uniformity"]
    (unread,) = (one for one in checked.cautions if isinstance(one, NotRead) and one.status == "from memory")
    assert "R311.7.5.1, uniformity" in unread.clauses
    # A flight of equal steps, as designed, has nothing to differ.
    assert {c.value for c in check(make_layout(irc)).checks if "uniformity" in c.clause} == {0.0}


def test_optional_tolerance_is_a_caution(make_layout):
    nz = read_rules("nz-f4as1", "mm").at(NOWHERE)
    uneven = ((F(0), F(180)), (F(280), F(366)), (F(560), F(546)))  # rises 180, 186, 180
    checked = check(make_layout(nz, "mm", nosings=uneven))
    assert checked.passes
    figures = [figure for one in checked.cautions if isinstance(one, OptionUnmet) for figure in one.figures]
    assert Differences(FLIGHT, "riser", (1, 2)) in [figure.what for figure in figures]


def test_two_nosings_have_one_run(make_layout):
    irc = read_rules("irc-2021", "in").at(NOWHERE)
    clauses = {a.rule.clause for a in applied(make_layout(irc, nosings=UP[:2]))}
    assert "R311.7.5.1, uniformity" in clauses
    assert "R311.7.5.2, uniformity" not in clauses
