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

from stairguard.rules.pack.reader import read_rules
from tests.published.pack_tables import PackTable

# Source: a word of the source as the pack names it, its address, and the status that earns.
SOURCES = {
    "F4AS1": ("F4/AS1", "91867198", "read"),
    "TABLE1": ("Table 1, p. 13", "silverkiwi/test2", "secondary"),
    "CODEWORDS": ("Table 1, p. 13", "codewords-14", "secondary"),  # and TABLE1
    "SLOPES": ("Codewords 32", "codewords-32", "secondary"),
    "MEMORY": ("building.govt.nz", "", "from memory"),
}

# quantity | place | kind | mm (degrees for a pitch, 0 for a band) | clause | source | use or exception in the note |
# option, or the condition it binds under. Steps may differ by 5 mm either way; held to the stricter reading.
TABLE = """
guard height | flight | at least | 900 | F4/AS1 Table 1 | TABLE1 | |
guard height | landing | at least | 900 | F4/AS1 Table 1 | TABLE1 | |
guard height | ramp | at least | 900 | F4/AS1 Table 1 | TABLE1 | |
guard height | landing | at least | 1000 | F4/AS1 Table 1, balconies and floor edges | CODEWORDS | | option
opening | any | stops | 100 | F4/AS1 1.2(b) | F4AS1 | |
opening | step triangle | stops | 150 | F4/AS1 1.2(c) | F4AS1 | |
riser | flight | at most | 180 | D1/AS1 Table 6, accessible | MEMORY | accessible | option
run | flight | at least | 310 | D1/AS1 Table 6, accessible | MEMORY | accessible | option
pitch | flight | at most | 32 | D1/AS1 Table 6, accessible | MEMORY | accessible | option
riser | flight | at most | 190 | D1/AS1 Table 6, common and main private | MEMORY | common and main private | option
run | flight | at least | 280 | D1/AS1 Table 6, common and main private | MEMORY | common and main private | option
pitch | flight | at most | 37 | D1/AS1 Table 6, common and main private | MEMORY | common and main private | option
riser | flight | at most | 200 | D1/AS1 Table 6, secondary private | MEMORY | secondary private | option
run | flight | at least | 250 | D1/AS1 Table 6, secondary private | MEMORY | secondary private | option
pitch | flight | at most | 41 | D1/AS1 Table 6, secondary private | MEMORY | secondary private | option
riser | flight | at most | 220 | D1/AS1 Table 6, service and minor private | MEMORY | service and minor private | option
run | flight | at least | 220 | D1/AS1 Table 6, service and minor private | MEMORY | service and minor private | option
pitch | flight | at most | 47 | D1/AS1 Table 6, service and minor private | MEMORY | service and minor private | option
riser difference | flight | at most | 5 | D1/AS1 Table 6, tolerance | MEMORY | 10 mm | option
run difference | flight | at most | 5 | D1/AS1 Table 6, tolerance | MEMORY | 10 mm | option
handrail height | flight | at least | 900 | D1/AS1, handrails | MEMORY | | option
handrail height | flight | at most | 1000 | D1/AS1, handrails | MEMORY | | option
guard required | any | where at least | 1000 | F4.3.1 | SLOPES | |
climbable band | any | avoid | 0 | F4/AS1, toeholds | F4AS1 | |
guard height | landing | at least | 1100 | F4/AS1 Table 1, other buildings | MEMORY | | not dwelling
guard height | landing | at least | 800 | F4/AS1 Table 1, fixed seats | MEMORY | | option
"""
TABLES = (PackTable("nz-f4as1", "mm", SOURCES, TABLE),)


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
