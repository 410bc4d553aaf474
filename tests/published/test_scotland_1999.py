"""The Scottish pack of 1999 against the figures of its clauses.

* PAGE: Technical Standards (Scotland), Part S, December 1999, p. 16, in a copy that is not cited. Their successor,
  section 4.4 of the Technical Handbooks, whose clause on this was not reached:
  gov.scot/publications/building-standards-technical-handbook-2019-domestic/4-safety/4-4-pedestrian-protective-barriers/
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from stairguard.rules.pack.reader import read_rules

WITHIN = "Table to S4.3, flight in a single dwelling"
SINGLE = {"occupancy": ("dwelling",)}
# quantity, place, kind, mm, clause, binding, conditions, datum; all of PAGE
TABLE = [
    ("guard height", "flight", "at least", 900, "Table to S4.3, stairs and ramps", True, {}, "nosing line"),
    ("guard height", "flight", "at least", 840, WITHIN, True, SINGLE, "nosing line"),
    ("guard height", "ramp", "at least", 900, "Table to S4.3, stairs and ramps", True, {}, "surface"),
    ("guard height", "landing", "at least", 1100, "Table to S4.3, elsewhere", True, {}, "surface"),
    ("guard height", "landing", "at least", 900, "Table to S4.3, gallery in a dwelling", False, {}, "surface"),
    ("guard height", "landing", "at least", 800, "Table to S4.3, in front of walls and glazing", False, {}, "surface"),
    ("opening", "any", "stops", 100, "S4.2", True, {}, ""),
    ("lowest edge", "flight", "at most", 50, "S4.2, lowest edge", False, {}, "nosing line"),
]
PACK = read_rules("scotland-1999", "mm")


def test_the_pack_is_this_table():
    found = [
        (r.quantity, r.place, r.kind, r.value, r.clause, r.binding, {c.key: c.value for c in r.when}, r.datum)
        for r in PACK.rules
    ]
    assert found == TABLE


@pytest.mark.parametrize("rule", PACK.rules, ids=lambda rule: f"{rule.clause} {rule.place}")
def test_source(rule):
    assert "December 1999, p. 16" in rule.source
    assert "gov.scot" in rule.address
    assert rule.status == "secondary"


def test_exactly_the_sphere_fails():
    # PAGE, S4.2: a sphere of 100 mm is kept out; that exactly 100 mm is too is our reading.
    rule = read_rules("scotland-1999", "in").opening("flight")
    assert rule is not None
    assert rule.value == Fraction(1000, 254)
    assert not rule.inclusive


def test_the_lowest_edge_may_be_exactly_as_high():
    # PAGE, S4.2: not more than 50 mm above the pitch line, and parallel to it.
    (rule,) = (r for r in PACK.rules if r.quantity == "lowest edge")
    assert rule.inclusive
    assert "parallel to the pitch line" in rule.note


def test_the_transition_is_noted():
    # PAGE, S4.3 note 2: over at most 300 mm.
    (rule,) = (r for r in PACK.rules if r.clause == "Table to S4.3, elsewhere")
    assert "at most 300 mm" in rule.note
    assert any("at most 300 mm" in text for text in PACK.cautions)
