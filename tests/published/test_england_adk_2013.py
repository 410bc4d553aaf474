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

import pytest

from stairguard.rules.pack.reader import read_rules

K24 = "p. 24"
COMFORT = "ADK Table 1.1, two rises and a going"
DWELLING, SHARED, SINGLE = {"dwelling": True}, {"dwelling": False}, {"occupancy": ("dwelling",)}
HANDRAIL, FIVES = {"has_handrail": True}, {"children": True}
# quantity, place, kind, mm, clause, binding, conditions, word in the source or address
TABLE = [
    ("guard required", "any", "where more than", "600", "ADK 1.40 to 1.41", True, DWELLING, "pp. 17 and 24"),
    ("guard height", "flight", "at least", "900", "ADK Diagram 3.1, flights", True, {}, K24),
    ("guard height", "ramp", "at least", "900", "ADK Diagram 3.1, ramps", True, {}, K24),
    ("guard height", "landing", "at least", "1100", "ADK Diagram 3.1, other than a single dwelling", True, {}, K24),
    ("guard height", "landing", "at least", "900", "ADK Diagram 3.1, single dwelling", True, SINGLE, K24),
    ("guard height", "landing", "at least", "1100", "ADK Diagram 3.1, balconies and roof edges", False, {}, K24),
    ("guard height", "landing", "at least", "800", "ADK Diagram 3.1, fixed seats", False, {}, K24),
    ("opening", "any", "stops", "100", "ADK 3.3", True, {}, K24),
    ("climbable band", "any", "avoid", "0", "ADK 3.3", True, FIVES, K24),  # it has no figure
    ("riser", "flight", "at least", "150", "ADK Table 1.1, utility stair", False, {}, "designingbuildings"),
    ("riser", "flight", "at most", "190", "ADK Table 1.1, utility stair", False, {}, "designingbuildings"),
    ("run", "flight", "at least", "250", "ADK Table 1.1, utility stair", False, {}, "designingbuildings"),
    ("run", "flight", "at most", "400", "ADK Table 1.1, utility stair", False, {}, "designingbuildings"),
    ("riser", "flight", "at least", "150", "ADK Table 1.1, general access", True, SHARED, "designingbuildings"),
    ("riser", "flight", "at most", "170", "ADK Table 1.1, general access", True, SHARED, "designingbuildings"),
    ("run", "flight", "at least", "250", "ADK Table 1.1, general access", True, SHARED, "designingbuildings"),
    ("run", "flight", "at most", "400", "ADK Table 1.1, general access", True, SHARED, "designingbuildings"),
    ("riser", "flight", "at least", "150", "ADK Table 1.1, private stair", True, DWELLING, "designingbuildings"),
    ("riser", "flight", "at most", "220", "ADK Table 1.1, private stair", True, DWELLING, "designingbuildings"),
    ("run", "flight", "at least", "220", "ADK Table 1.1, private stair", True, DWELLING, "designingbuildings"),
    ("run", "flight", "at most", "300", "ADK Table 1.1, private stair", True, DWELLING, "designingbuildings"),
    ("pitch", "flight", "at most", "42", "ADK Table 1.1, private stair", True, DWELLING, "designingbuildings"),
    ("step comfort", "flight", "at least", "550", COMFORT, True, {}, "designingbuildings"),
    ("step comfort", "flight", "at most", "700", COMFORT, True, {}, "designingbuildings"),
    ("handrail height", "flight", "at least", "900", "ADK, handrails", True, HANDRAIL, "stephenhall"),
    ("handrail height", "flight", "at most", "1000", "ADK, handrails", True, HANDRAIL, "stephenhall"),
    ("handrail height", "landing", "at least", "900", "ADK, handrails", True, HANDRAIL, "stephenhall"),
    ("handrail height", "landing", "at most", "1100", "ADK, handrails", True, HANDRAIL, "stephenhall"),
    ("handrail extension", "flight top", "at least", "300", "ADK, handrails", False, HANDRAIL, "stephenhall"),
    ("handrail extension", "flight bottom", "at least", "300", "ADK, handrails", False, HANDRAIL, "stephenhall"),
]
# Row of BS 6180 Table 2: uses, kN/m along the top, kN/m2 on the infill, kN at a point. The last point: MEMORY.
LOADS = [
    ("i", ("dwelling",), "0.36", "0.5", "0.25"),
    ("ii", ("flats",), "0.74", "1", "0.5"),
    ("iii", None, "0.22", None, None),
    ("iv", ("industrial", "storage"), "0.36", "0.5", "0.25"),
    ("v", ("office",), "0.74", "1", "0.5"),
    ("vi", ("assembly",), "1.5", "1.5", "1.5"),
]
RULES = read_rules("england-adk-2013", "mm").rules


def conditions(rule):
    return {condition.key: condition.value for condition in rule.when}


def test_the_pack_is_this_table():
    rules = [r for r in RULES if r.quantity != "load"]
    found = [(r.quantity, r.place, r.kind, r.value, r.clause, r.binding, conditions(r)) for r in rules]
    assert found == [(q, p, k, Fraction(v), c, b, w) for q, p, k, v, c, b, w, _ in TABLE]


@pytest.mark.parametrize(("number", "row"), list(enumerate(TABLE)))
def test_source(number, row):
    rule = RULES[number]
    assert row[-1] in f"{rule.source} {rule.address}"
    assert rule.address
    assert rule.status == "secondary"


@pytest.mark.parametrize(("row", "uses", "line", "area", "point"), LOADS)
def test_loads(row, uses, line, area, point):
    rules = [r for r in RULES if r.quantity == "load" and f"({row})" in r.clause]
    asked = (("kN/m", line), ("kN/m2", area), ("kN", point))
    assert [(r.load_unit, r.value) for r in rules] == [(unit, Fraction(v)) for unit, v in asked if v is not None]
    for rule in rules:
        assert (rule.place, rule.kind) == ("any", "requires")
        assert conditions(rule) == ({} if uses is None else {"occupancy": uses})
        assert rule.binding is (uses is not None)
        memory = (row, rule.load_unit) == ("vi", "kN")
        assert rule.status == ("from memory" if memory else "secondary")
        assert ("420330111" in rule.address) is not memory


def test_nothing_else():
    assert len(RULES) == len(TABLE) + sum(v is not None for load in LOADS for v in load[2:])


def test_datum_of_heights():
    datums = {(r.place, r.datum) for r in RULES if r.quantity in ("guard height", "handrail height")}
    assert datums == {("flight", "nosing line"), ("ramp", "surface"), ("landing", "surface")}  # NOTES: the pitch line


def test_what_is_from_memory_says_so():
    assert [r.clause for r in RULES if r.status == "from memory"] == ["BS 6180:2011 Table 2 (vi), point"]
    assert all(r.source.startswith("from memory") for r in RULES if r.status == "from memory")


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
