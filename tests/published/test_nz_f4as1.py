"""The New Zealand barrier pack against the figures of its clauses, as read or remembered.

* F4AS1: Acceptable Solution F4/AS1, re-hosted copy, no edition printed on the part read,
  businessdocbox.com/Construction/91867198-Acceptable-solution-f4-as1.html
* TABLE1: a set of questions on F4 citing Table 1, p. 13, open data set silverkiwi/test2; Table 1 itself was not read
* CODEWORDS: Codewords 14, Determination 2006/54, dbh.govt.nz/codewords-14-article-9
* MEMORY: D1/AS1 Table 6 with its tolerance, and handrail heights, no document read.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from stairguard.rules.read import read_rules

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
    assert len(read_rules("nz-f4as1", "mm").rules) == len(BARRIERS) + 3 * len(STAIRS) + 2 + 2


def test_exactly_the_sphere_fails():
    # F4AS1: a sphere of 100 mm must not pass; so a rigid opening of exactly 100 mm does not do.
    for unit, sphere in (("mm", Fraction(100)), ("in", Fraction(1000, 254))):
        rule = read_rules("nz-f4as1", unit).opening("flight")
        assert rule is not None
        assert rule.value == sphere
        assert not rule.inclusive


def test_toeholds_are_spoken_of():
    # F4AS1 and CODEWORDS: none between 150 and 760 mm above the floor.
    assert any("150 and 760" in text for text in read_rules("nz-f4as1", "mm").cautions)
