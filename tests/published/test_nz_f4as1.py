"""The New Zealand barrier pack against the figures of its clauses, as read or remembered.

* F4AS1: Acceptable Solution F4/AS1, re-hosted copy, no edition printed on the part read,
  businessdocbox.com/Construction/91867198-Acceptable-solution-f4-as1.html
* TABLE1: a set of questions on F4 citing Table 1, p. 13, open data set silverkiwi/test2; Table 1 itself was not read
* CODEWORDS: Codewords 14, Determination 2006/54, dbh.govt.nz/codewords-14-article-9
* SLOPES: Codewords 32, barriers, building.govt.nz/codewords-32-12
* MEMORY: D1/AS1 Table 6 with its tolerance, handrail heights, and barriers of other buildings, no document read.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from stairguard.rules.pack.reader import read_rules

# quantity, place, kind, mm, clause, binding, status
BARRIERS = [
    ("guard height", "flight", "at least", 900, "F4/AS1 Table 1", True, "secondary"),  # TABLE1
    ("guard height", "landing", "at least", 900, "F4/AS1 Table 1", True, "secondary"),  # TABLE1
    ("guard height", "ramp", "at least", 900, "F4/AS1 Table 1", True, "secondary"),  # TABLE1
    (
        "guard height",
        "landing",
        "at least",
        1000,
        "F4/AS1 Table 1, balconies and floor edges",
        False,
        "secondary",
    ),
    # the row above: TABLE1 and CODEWORDS
    ("opening", "any", "stops", 100, "F4/AS1 1.2(b)", True, "read"),  # F4AS1
    ("opening", "step triangle", "stops", 150, "F4/AS1 1.2(c)", True, "read"),  # F4AS1
]
# quantity, place, kind, mm, clause, binding, conditions, status, word in the source or address
OTHERS = [
    ("guard required", "any", "where at least", 1000, "F4.3.1", True, {}, "secondary", "codewords-32"),  # SLOPES
    ("climbable band", "any", "avoid", 0, "F4/AS1, toeholds", True, {}, "read", "91867198"),  # F4AS1 and CODEWORDS
    (
        "guard height",
        "landing",
        "at least",
        1100,
        "F4/AS1 Table 1, other buildings",
        True,
        {"dwelling": False},
        "from memory",
        "building.govt.nz",
    ),
    (
        "guard height",
        "landing",
        "at least",
        800,
        "F4/AS1 Table 1, fixed seats",
        False,
        {},
        "from memory",
        "building.govt.nz",
    ),
]
# Use of the stair: highest riser, least tread, steepest pitch. MEMORY, all of it.
STAIRS = {
    "accessible": (180, 310, 32),
    "common and main private": (190, 280, 37),
    "secondary private": (200, 250, 41),
    "service and minor private": (220, 220, 47),
}


def test_barriers():
    rules = read_rules("nz-f4as1", "mm").rules[: len(BARRIERS)]
    found = [(r.quantity, r.place, r.kind, r.value, r.clause, r.binding, r.status) for r in rules]
    assert found == BARRIERS


@pytest.mark.parametrize("use", STAIRS)
def test_stairs_by_use(use):
    rules = [r for r in read_rules("nz-f4as1", "mm").rules if r.clause == f"D1/AS1 Table 6, {use}"]
    riser, run, pitch = STAIRS[use]
    assert [(r.quantity, r.kind, r.value) for r in rules] == [
        ("riser", "at most", riser),
        ("run", "at least", run),
        ("pitch", "at most", pitch),
    ]
    assert not any(r.binding for r in rules)
    assert {r.status for r in rules} == {"from memory"}
    assert all(use in r.note for r in rules)


def test_handrails():
    found = [
        (r.kind, r.value, r.binding, r.status) for r in read_rules("nz-f4as1", "mm").of("handrail height", "flight")
    ]
    assert found == [
        ("at least", 900, False, "from memory"),
        ("at most", 1000, False, "from memory"),
    ]  # MEMORY


@pytest.mark.parametrize("quantity", ["riser difference", "run difference"])
def test_steps_may_differ_by_the_tolerance(quantity):
    # MEMORY: 5 mm either way; held to the stricter reading, and said so.
    (rule,) = read_rules("nz-f4as1", "mm").of(quantity, "flight")
    assert (rule.kind, rule.value, rule.binding, rule.status) == ("at most", 5, False, "from memory")
    assert "10 mm" in rule.note


def test_nothing_else():
    assert len(read_rules("nz-f4as1", "mm").rules) == len(BARRIERS) + 3 * len(STAIRS) + 2 + 2 + len(OTHERS)


def test_others():
    rules = read_rules("nz-f4as1", "mm").rules[-len(OTHERS) :]
    found = [
        (r.quantity, r.place, r.kind, r.value, r.clause, r.binding, {c.key: c.value for c in r.when}, r.status)
        for r in rules
    ]
    assert found == [row[:-1] for row in OTHERS]
    for rule, row in zip(rules, OTHERS, strict=True):
        assert row[-1] in f"{rule.source} {rule.address}"


def test_what_was_read_has_an_address_and_the_rest_says_from_memory():
    for rule in read_rules("nz-f4as1", "mm").rules:
        assert rule.source.startswith("from memory") is (rule.status == "from memory")
        assert bool(rule.address) is (rule.status != "from memory")


def test_datum_of_heights():
    # MEMORY: plumb from the pitch line, or from the finished floor.
    rules = read_rules("nz-f4as1", "mm").rules
    datums = {(r.place, r.datum) for r in rules if r.quantity in ("guard height", "handrail height")}
    assert datums == {("flight", "nosing line"), ("ramp", "surface"), ("landing", "surface")}


def test_exactly_the_sphere_fails():
    # F4AS1: a sphere of 100 mm must not pass; so a rigid opening of exactly 100 mm does not do.
    for unit, sphere in (("mm", Fraction(100)), ("in", Fraction(1000, 254))):
        rule = read_rules("nz-f4as1", unit).opening("flight")
        assert rule is not None
        assert rule.value == sphere
        assert not rule.inclusive


def test_toeholds_are_spoken_of():
    # F4AS1 and CODEWORDS: none between 150 and 760 mm above the floor.
    rules = read_rules("nz-f4as1", "mm")
    assert any("150 and 760" in text for text in rules.cautions)
    (band,) = (r for r in rules.rules if r.quantity == "climbable band")
    assert (band.from_height, band.to_height, band.datum) == (150, 760, "surface")
