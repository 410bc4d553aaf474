"""Every rule of every pack: just inside, exactly at, and just outside its value, in both units."""

from __future__ import annotations

import math
import operator
import re
from fractions import Fraction

import pytest

from stairguard.model.rules import Rule, RuleSet
from stairguard.reports.words.caution_words import caution_texts
from stairguard.reports.words.rules.finding_words import subject_words
from stairguard.rules.findings.checks import applied, check
from stairguard.rules.pack.reader import available, read_rules
from tests.rules.pack.sites import site_of

MM = Fraction(254, 10)  # per inch: exact since the yard and pound agreement of 1959
HAIR = Fraction(1, 10**12)
ZERO = Fraction(0)
SIZES = {
    "guard height": {"landing": "landing_height", "flight": "height", "ramp": "height"},
    "handrail height": {"flight": "height", "ramp": "height", "landing": "landing_height"},
    "riser": {"flight": "rise"},
    "run": {"flight": "run"},
    "nosing projection": {"flight": "nosing"},
    "landing length": {"landing": "landing"},
    "flight rise": {"flight": "rise"},
    "ramp slope": {"ramp": "ramp_rise"},
    "ramp rise": {"ramp": "ramp_rise"},
}
PLACES = {"guard height": "landing", "handrail height": "flight"}  # where a rule for any place is tried
HOLDS = {"at least": operator.ge, "at most": operator.le}

NO_GUARDS = ("ada-2010",)  # its standards are of routes, stairs and handrails
BOTH = ("irc-2021", "nz-f4as1")  # the others differ from these in their figures only
RULES = [
    pytest.param(pack, unit, number, id=f"{pack}-{unit}-{number}-{rule.quantity}-{rule.place}-{rule.kind}")
    for pack in available()
    for unit in (("in", "mm") if pack in BOTH else ("mm",))
    for number, rule in enumerate(read_rules(pack, unit).rules)
    if rule.quantity in SIZES or rule.quantity in ("riser difference", "run difference", "step comfort")
]
"""What a layout made by hand has sizes for. All rules, these too, are tried on a guard as measured in
``test_pack_every_rule.py``; of layouts, extensions and openings in ``test_extensions.py`` and
``test_designed_openings.py``."""
PITCHES = [
    pytest.param(pack, rule, id=f"{pack}-{rule.clause}")
    for pack in available()
    for rule in read_rules(pack, "mm").rules
    if rule.quantity == "pitch"
]


def _given(rule: Rule, value: Fraction) -> dict[str, object]:
    """Sizes that give a layout exactly this value of the rule's quantity."""
    sizes: dict[str, object] = {"middle": "ramp" if "ramp" in (rule.place, rule.serves) else "flight"}
    if rule.when_run_below is not None:
        sizes["run"] = rule.when_run_below * Fraction(99, 100)
    if rule.quantity == "flight rise":
        return sizes | {"rise": value / 20, "risers": 20}
    if rule.quantity in ("riser difference", "run difference"):
        return sizes | {"nosings": _uneven(rule, value)}
    if rule.quantity == "ramp slope":
        return sizes | {"ramp_length": Fraction(1200), "ramp_rise": value * 1200}
    if rule.quantity == "step comfort":
        return sizes | {"rise": value / 4, "run": value / 2}
    place = PLACES[rule.quantity] if rule.place == "any" else rule.place
    return sizes | {SIZES[rule.quantity][place]: value}


def _uneven(rule: Rule, value: Fraction) -> tuple[tuple[Fraction, Fraction], ...]:
    """Three measured steps, one of which is larger by this value, in what the rule is about."""
    step = 20 * rule.value
    second = (step, step + value) if rule.quantity == "riser difference" else (step + value, step)
    return (ZERO, step), (second[0], step + second[1]), (second[0] + step, 2 * step + second[1])


@pytest.mark.parametrize("off", [-HAIR, Fraction(0), HAIR], ids=["under", "at", "over"])
@pytest.mark.parametrize(("pack", "unit", "number"), RULES)
def test_verdict_is_exact_at_the_limit(make_layout, pack, unit, number, off):
    whole = read_rules(pack, unit)
    rule = whole.rules[number]
    rules = whole.at(site_of(rule))
    value = rule.value + off
    layout = make_layout(rules, unit, **_given(rule, value))
    found = [a.check for a in applied(layout) if a.rule is rule]
    assert found, rule
    assert {c.passes for c in found} == {HOLDS[rule.kind](value, rule.value)}
    assert {c.limit for c in found} == {float(rule.value)}
    checked = check(layout)
    if rule.binding:
        assert checked.passes is all(c.passes for c in checked.checks)
        assert set(found) <= set(checked.checks)
    elif not found[0].passes:
        assert not set(found) & set(checked.checks)
        # alike surfaces are told together, by their numbers
        before, after = re.split(r"surface \d+(?= )", subject_words(found[0].what))
        told = [c for c in caution_texts(checked.cautions, "in") if c.startswith(rule.clause)]
        assert any(re.search(rf"{re.escape(before)}surfaces? [\d, ]+{re.escape(after)}", c) for c in told)


@pytest.mark.parametrize(("pack", "rule"), PITCHES)
@pytest.mark.parametrize("off", [-1e-9, 1e-9])
def test_pitch_limits(make_layout, pack, rule, off):
    # A whole number of degrees other than 45 has no rational tangent (Niven's theorem), so there is no tie.
    rise = Fraction(math.tan(math.radians(float(rule.value) + off))) * 250
    layout = make_layout(read_rules(pack, "mm").at(site_of(rule)), "mm", rise=rise, run=Fraction(250))
    found = [a.check for a in applied(layout) if a.rule == rule]
    assert [c.passes for c in found] == [(off < 0) is (rule.kind == "at most")]
    assert found[0].unit == "deg"


@pytest.mark.parametrize(
    ("rise", "least", "most"),
    [(10 - HAIR, False, True), (Fraction(10), True, True), (10 + HAIR, True, False)],
)
def test_pitch_of_45_is_exact(make_layout, rise, least, most):
    rules = tuple(
        Rule(
            quantity="pitch",
            place="flight",
            kind=kind,
            value=Fraction(45),
            clause=kind,
            status="read",
            source="made up",
            note="made up",
            binding=True,
        )
        for kind in ("at least", "at most")
    )
    layout = make_layout(RuleSet(name="made-up", title="Made up", rules=rules), rise=rise, run=Fraction(10))
    assert [a.check.passes for a in applied(layout)] == [least, most]


@pytest.mark.parametrize("pack", available())
def test_conversion_is_exact(pack):
    # 1 in is 25.4 mm by definition (yard and pound agreement, 1959); degrees and ratios are no lengths.
    inches, millimetres = read_rules(pack, "in").rules, read_rules(pack, "mm").rules
    assert len(inches) == len(millimetres)
    for i, m in zip(inches, millimetres, strict=True):
        assert m.value == (i.value if i.quantity in ("pitch", "ramp slope", "load") or i.in_runs else i.value * MM)
        assert (m.when_run_below is None) is (i.when_run_below is None)
        if m.when_run_below is not None:
            assert m.when_run_below == i.when_run_below * MM


@pytest.mark.parametrize("pack", available())
def test_rules_say_where_they_come_from(pack):
    rules = read_rules(pack, "mm")
    assert rules.edition
    assert rules.jurisdiction
    assert rules.cautions
    for rule in rules.rules:
        # What was read has an address; what was not says so.
        if rule.status == "from memory":
            assert not rule.address, rule
        else:
            assert "/" in rule.source + rule.address, rule
        assert (rule.source.startswith("from memory")) is (rule.status == "from memory"), rule
        assert rule.clause
        assert rule.note


@pytest.mark.parametrize("pack", available())
def test_every_opening_has_a_rule(pack):
    rules = read_rules(pack, "mm")
    if rules.opening("any") is None:
        assert rules.opening("flight") is not None or pack in NO_GUARDS
        return
    for place in ("landing", "flight", "ramp", "step triangle", "open riser"):
        assert rules.opening(place) is not None


def test_condition_on_the_run(make_layout):
    # IRC R311.7.5.3: no projection is asked where the run is 11 in or more.
    rules = read_rules("irc-2021", "in")
    flush = {"nosing": Fraction(0)}
    assert check(make_layout(rules, run=Fraction(11), **flush)).passes
    assert not check(make_layout(rules, run=11 - HAIR, **flush)).passes
