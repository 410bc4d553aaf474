"""The English pack against the figures of Approved Document K and of BS 6180, as read or remembered.

* PAGES: Approved Document K, 2013, pp. 17 and 24, in a copy that is not cited; the official document is at www.gov.uk
* TABLE11: an encyclopaedia of building with Table 1.1 of the document,
  designingbuildings.co.uk/wiki/Maximum_length_of_a_flight_of_stairs
* NOTES: teaching notes on Part K,
  stephenhall.org.uk/Building%20Modeling/Interior%20Design/Stairs/Stairs%20Building%20Regs.html
* BS6180: BS 6180:2011, Table 2, a re-hosted page, ru.scribd.com/document/420330111/
* MEMORY: no document read.
"""

from __future__ import annotations

from fractions import Fraction

from stairguard.rules.pack.reader import read_rules
from tests.published.pack_tables import PackTable

# Source: a word of the source as the pack names it, its address, and the status that earns.
SOURCES = {
    "PAGES": ("pp. 17 and 24", "www.gov.uk", "secondary"),
    "PAGES24": ("p. 24", "www.gov.uk", "secondary"),
    "TABLE11": ("Table 1.1", "designingbuildings", "secondary"),
    "NOTES": ("Teaching notes", "stephenhall", "secondary"),
    "BS6180": ("BS 6180:2011, Table 2", "420330111", "secondary"),
    "MEMORY": ("BS 6180:2011", "", "from memory"),
}

# quantity | place | kind | mm (degrees for a pitch, 0 for a band; loads by their unit) | clause | source | - |
# option, or the condition it binds under. Table 2 of BS 6180 by its rows; its last point load from memory.
TABLE = """
guard required | any | where more than | 600 | ADK 1.40 to 1.41 | PAGES | | dwelling
guard height | flight | at least | 900 | ADK Diagram 3.1, flights | PAGES24 | |
guard height | ramp | at least | 900 | ADK Diagram 3.1, ramps | PAGES24 | |
guard height | landing | at least | 1100 | ADK Diagram 3.1, other than a single dwelling | PAGES24 | |
guard height | landing | at least | 900 | ADK Diagram 3.1, single dwelling | PAGES24 | | occupancy dwelling
guard height | landing | at least | 1100 | ADK Diagram 3.1, balconies and roof edges | PAGES24 | | option
guard height | landing | at least | 800 | ADK Diagram 3.1, fixed seats | PAGES24 | | option
opening | any | stops | 100 | ADK 3.3 | PAGES24 | |
climbable band | any | avoid | 0 | ADK 3.3 | PAGES24 | | children
riser | flight | at least | 150 | ADK Table 1.1, utility stair | TABLE11 | | option
riser | flight | at most | 190 | ADK Table 1.1, utility stair | TABLE11 | | option
run | flight | at least | 250 | ADK Table 1.1, utility stair | TABLE11 | | option
run | flight | at most | 400 | ADK Table 1.1, utility stair | TABLE11 | | option
riser | flight | at least | 150 | ADK Table 1.1, general access | TABLE11 | | not dwelling
riser | flight | at most | 170 | ADK Table 1.1, general access | TABLE11 | | not dwelling
run | flight | at least | 250 | ADK Table 1.1, general access | TABLE11 | | not dwelling
run | flight | at most | 400 | ADK Table 1.1, general access | TABLE11 | | not dwelling
riser | flight | at least | 150 | ADK Table 1.1, private stair | TABLE11 | | dwelling
riser | flight | at most | 220 | ADK Table 1.1, private stair | TABLE11 | | dwelling
run | flight | at least | 220 | ADK Table 1.1, private stair | TABLE11 | | dwelling
run | flight | at most | 300 | ADK Table 1.1, private stair | TABLE11 | | dwelling
pitch | flight | at most | 42 | ADK Table 1.1, private stair | TABLE11 | | dwelling
step comfort | flight | at least | 550 | ADK Table 1.1, two rises and a going | TABLE11 | |
step comfort | flight | at most | 700 | ADK Table 1.1, two rises and a going | TABLE11 | |
handrail height | flight | at least | 900 | ADK, handrails | NOTES | | top is handrail or another is
handrail height | flight | at most | 1000 | ADK, handrails | NOTES | | top is handrail or another is
handrail height | landing | at least | 900 | ADK, handrails | NOTES | | top is handrail or another is
handrail height | landing | at most | 1100 | ADK, handrails | NOTES | | top is handrail or another is
handrail extension | flight top | at least | 300 | ADK, handrails | NOTES | | option, top is handrail or another is
handrail extension | flight bottom | at least | 300 | ADK, handrails | NOTES | | option, top is handrail or another is
load | any | requires | 0.36 | BS 6180:2011 Table 2 (i), top | BS6180 | | occupancy dwelling
load | any | requires | 0.5 | BS 6180:2011 Table 2 (i), infill | BS6180 | | occupancy dwelling
load | any | requires | 0.25 | BS 6180:2011 Table 2 (i), point | BS6180 | | occupancy dwelling
load | any | requires | 0.74 | BS 6180:2011 Table 2 (ii), top | BS6180 | | occupancy flats
load | any | requires | 1 | BS 6180:2011 Table 2 (ii), infill | BS6180 | | occupancy flats
load | any | requires | 0.5 | BS 6180:2011 Table 2 (ii), point | BS6180 | | occupancy flats
load | any | requires | 0.22 | BS 6180:2011 Table 2 (iii), top | BS6180 | | option
load | any | requires | 0.36 | BS 6180:2011 Table 2 (iv), top | BS6180 | | occupancy industrial or storage
load | any | requires | 0.5 | BS 6180:2011 Table 2 (iv), infill | BS6180 | | occupancy industrial or storage
load | any | requires | 0.25 | BS 6180:2011 Table 2 (iv), point | BS6180 | | occupancy industrial or storage
load | any | requires | 0.74 | BS 6180:2011 Table 2 (v), top | BS6180 | | occupancy office
load | any | requires | 1 | BS 6180:2011 Table 2 (v), infill | BS6180 | | occupancy office
load | any | requires | 0.5 | BS 6180:2011 Table 2 (v), point | BS6180 | | occupancy office
load | any | requires | 1.5 | BS 6180:2011 Table 2 (vi), top | BS6180 | | occupancy assembly
load | any | requires | 1.5 | BS 6180:2011 Table 2 (vi), infill | BS6180 | | occupancy assembly
load | any | requires | 1.5 | BS 6180:2011 Table 2 (vi), point | MEMORY | | occupancy assembly
"""
TABLES = (PackTable("england-adk-2013", "mm", SOURCES, TABLE),)
RULES = read_rules("england-adk-2013", "mm").rules


def test_loads_are_in_the_units_of_the_table():
    units = {"top": "kN/m", "infill": "kN/m2", "point": "kN"}
    for rule in RULES:
        if rule.quantity == "load":
            assert rule.load_unit == units[rule.clause.rpartition(", ")[2]]


def test_datum_of_heights():
    datums = {(r.place, r.datum) for r in RULES if r.quantity in ("guard height", "handrail height")}
    assert datums == {("flight", "nosing line"), ("ramp", "surface"), ("landing", "surface")}  # NOTES: the pitch line


def test_exactly_the_sphere_fails():
    # PAGES, 3.3: a sphere of 100 mm must not pass, and no larger one is allowed in the step triangle.
    for place in ("landing", "flight", "ramp", "step triangle", "open riser"):
        rule = read_rules("england-adk-2013", "in").opening(place)
        assert rule is not None
        assert rule.value == Fraction(1000, 254)
        assert not rule.inclusive


def test_level_rails_are_spoken_of():
    # PAGES, 3.3: level rails to be avoided where children under five are likely to be.
    assert any("level rails are to be avoided" in text for text in read_rules("england-adk-2013", "mm").cautions)
