"""The Australian pack against the figures of its clauses, as read or remembered.

* P252: NCC 2019, Volume Two, P2.5.2, ncc.abcb.gov.au/editions/2019/ncc-2019-volume-two/
  section-2-performance-provisions/part-25-safe-movement-and-access
* GUIDE: the code board's guide to the height of barriers (2022), abcb.gov.au/guide/d3d18-height-barriers
* SHEET: information sheet NAT BCA 12-04, wire balustrades, publisher not visible, tr.scribd.com/document/358232083/;
  with a page on the clause, easybuildingcodes.com/kb/au/construction-practices/
  wire-balustrade-spacing-and-tension-requirements
* STEPS: a page on the code that may be written by machine, easybuildingcodes.com/kb/au/construction-practices/
  stairway-design-requirements-including-rise-and-going
* MEMORY: no document read.

The tension of level wires is a table of its own, with its source in `stairguard.rules.measures.wire_table`.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from stairguard.rules.measures.wire_table import asked
from stairguard.rules.pack.reader import read_rules

PRIVATE = {"dwelling": True}
HIGH = {"drop_more_than": 4000}
SPHERE = "D3D19; 11.3.4 (Housing Provisions)"
ABOVE = "D3D19; 11.3.4, stairs"
COMFORT = "Table D3D14, two risers and a going"
CLIMB = "D2.16; 3.9.2.3 (to 2019)"
# quantity, place, kind, mm, clause, binding, conditions, status, word in the source or address
TABLE = [
    ("guard required", "any", "where at least", 1000, "P2.5.2 (2019, Volume Two)", True, {}, "read", "part-25"),
    ("guard height", "landing", "at least", 1000, "D3D18(1)", True, {}, "read", "d3d18"),
    ("guard height", "ramp", "at least", 865, "D3D18(1)", True, {}, "read", "d3d18"),
    ("guard height", "flight", "at least", 865, "D3D18(1)", True, {}, "secondary", "d3d18"),  # in substance
    ("guard height", "landing", "at least", 865, "D3D18, short inner edge", False, {}, "from memory", "abcb.gov.au"),
    ("opening", "any", "stops", 125, SPHERE, True, {}, "secondary", "358232083"),
    ("opening", "flight", "stops", 125, ABOVE, True, {}, "secondary", "358232083"),
    ("lowest edge", "flight", "at most", 125, ABOVE, False, {}, "secondary", "358232083"),
    ("opening", "open riser", "stops", 125, "Open risers", True, {}, "from memory", "abcb.gov.au"),
    ("climbable band", "any", "avoid", 0, CLIMB, True, HIGH, "from memory", "abcb.gov.au"),
    ("riser", "flight", "at least", 115, "Table D3D14", True, {}, "secondary", "rise-and-going"),
    ("riser", "flight", "at most", 190, "Table D3D14", True, {}, "secondary", "rise-and-going"),
    ("run", "flight", "at least", 250, "Table D3D14, public", True, {}, "secondary", "rise-and-going"),
    ("run", "flight", "at least", 240, "Table D3D14, private", True, PRIVATE, "secondary", "rise-and-going"),
    ("run", "flight", "at most", 355, "Table D3D14", True, {}, "secondary", "rise-and-going"),
    ("step comfort", "flight", "at least", 550, COMFORT, True, {}, "secondary", "rise-and-going"),
    ("step comfort", "flight", "at most", 700, COMFORT, True, {}, "secondary", "rise-and-going"),
]
PACK = read_rules("ncc-australia", "mm")


def test_the_pack_is_this_table():
    found = [
        (r.quantity, r.place, r.kind, r.value, r.clause, r.binding, {c.key: c.value for c in r.when}, r.status)
        for r in PACK.rules
    ]
    assert found == [row[:-1] for row in TABLE]


@pytest.mark.parametrize(("number", "row"), list(enumerate(TABLE)))
def test_source(number, row):
    rule = PACK.rules[number]
    memory = rule.status == "from memory"
    assert row[-1] in f"{rule.source} {rule.address}"
    assert rule.source.startswith("from memory") is memory
    assert bool(rule.address) is not memory


def test_datum_of_heights():
    # GUIDE: the surface of landings and ramps; the nosing line of stairs in substance.
    datums = {(r.place, r.datum) for r in PACK.rules if r.quantity == "guard height"}
    assert datums == {("flight", "nosing line"), ("ramp", "surface"), ("landing", "surface")}


def test_exactly_the_sphere_fails():
    # SHEET: a sphere of 125 mm must not pass, tested above the nosing line on stairs.
    for place in ("landing", "flight", "ramp"):
        rule = PACK.opening(place)
        assert rule is not None
        assert rule.value == 125
        assert not rule.inclusive
    assert PACK.opening("flight").datum == "nosing line"


def test_what_the_nosing_line_leaves():
    """SHEET: tested above the nosing line. A lowest edge at most 125 mm above it, plumb, leaves less than that square.

    Arithmetic of ours: a plumb height h over a line of slope m is h / sqrt(1 + m m) square to it.
    """
    (edge,) = (r for r in PACK.rules if r.quantity == "lowest edge")
    steepest, gentlest = Fraction(190, 240), Fraction(115, 355)  # STEPS
    for slope in (steepest, gentlest):
        assert edge.value**2 < PACK.opening("flight").value ** 2 * (1 + slope**2)


def test_the_band_is_from_memory():
    (band,) = (r for r in PACK.rules if r.quantity == "climbable band")
    assert (band.from_height, band.to_height, band.datum) == (150, 760, "surface")  # MEMORY
    assert any("150 and 760 mm" in text and "from memory" in text for text in PACK.cautions)


def test_what_is_not_a_rule_is_said():
    said = " ".join(PACK.cautions)
    # abcb.gov.au/news/2022/ncc-2022-changes-face-mounted-balustrades
    assert "at most 40 mm, level, from the edge" in said
    # NCC 2016, DV1 and V2.5.1, ncc.abcb.gov.au/editions/2016
    assert "150 N" in said
    assert PACK.numbering


def test_the_wire_table_is_at_hand():
    # Table D2.16a, quoted in a renovation forum too: 4 mm wire of 7x7, 80 mm apart, posts 2500 mm clear.
    cell = asked(Fraction(4), "7x7", Fraction(80), Fraction(2500))
    assert cell is not None
    assert cell.tension_N == 2130
    assert any("D2.16a" in text for text in PACK.cautions)
