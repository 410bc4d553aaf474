"""The Scottish pack of 1999 against the figures of its clauses.

* PAGE: Technical Standards (Scotland), Part S, December 1999, p. 16, in a copy that is not cited. Their successor,
  section 4.4 of the Technical Handbooks, whose clause on this was not reached:
  gov.scot/publications/building-standards-technical-handbook-2019-domestic/4-safety/4-4-pedestrian-protective-barriers/
"""

from __future__ import annotations

from fractions import Fraction

from stairguard.rules.pack.reader import read_rules
from tests.published.pack_tables import PackTable

# Source: a word of the source as the pack names it, its address, and the status that earns.
SOURCES = {"PAGE": ("December 1999, p. 16", "gov.scot", "secondary")}

# quantity | place | kind | mm | clause | source | - | option, or the condition it binds under
TABLE = """
guard height | flight  | at least | 900  | Table to S4.3, stairs and ramps | PAGE |  |
guard height | flight  | at least | 840  | Table to S4.3, flight in a single dwelling | PAGE |  | occupancy dwelling
guard height | ramp    | at least | 900  | Table to S4.3, stairs and ramps | PAGE |  |
guard height | landing | at least | 1100 | Table to S4.3, elsewhere | PAGE |  |
guard height | landing | at least | 900  | Table to S4.3, gallery in a dwelling | PAGE |  | option
guard height | landing | at least | 800  | Table to S4.3, in front of walls and glazing | PAGE |  | option
opening      | any     | stops    | 100  | S4.2 | PAGE |  |
lowest edge  | flight  | at most  | 50   | S4.2, lowest edge | PAGE |  | option
"""
TABLES = (PackTable("scotland-1999", "mm", SOURCES, TABLE),)
PACK = read_rules("scotland-1999", "mm")


def test_datum_of_heights():
    # PAGE: plumb from the pitch line, or from the floor.
    datums = {(r.place, r.datum) for r in PACK.rules if r.quantity in ("guard height", "lowest edge")}
    assert datums == {("flight", "nosing line"), ("ramp", "surface"), ("landing", "surface")}


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
