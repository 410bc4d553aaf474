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

from stairguard.rules.measures.wire_table import asked
from stairguard.rules.pack.reader import read_rules
from tests.published.pack_tables import PackTable

# Source: a word of the source as the pack names it, its address, and the status that earns.
SOURCES = {
    "P252": ("P2.5.2", "part-25", "read"),
    "GUIDE": ("guide to the height of barriers", "d3d18", "read"),
    "SUBSTANCE": ("in substance", "d3d18", "secondary"),  # GUIDE too
    "SHEET": ("NAT BCA 12-04", "358232083", "secondary"),
    "STEPS": ("written by machine", "rise-and-going", "secondary"),
    "MEMORY": ("abcb.gov.au", "", "from memory"),
}

# quantity | place | kind | mm (0 for a band) | clause | source | - | option, or the condition it binds under
TABLE = """
guard required | any        | where at least | 1000 | P2.5.2 (2019, Volume Two) | P252 |  |
guard height   | landing    | at least       | 1000 | D3D18(1) | GUIDE |  |
guard height   | ramp       | at least       | 865  | D3D18(1) | GUIDE |  |
guard height   | flight     | at least       | 865  | D3D18(1) | SUBSTANCE |  |
guard height   | landing    | at least       | 865  | D3D18, short inner edge | MEMORY |  | option
opening        | any        | stops          | 125  | D3D19; 11.3.4 (Housing Provisions) | SHEET |  |
opening        | flight     | stops          | 125  | D3D19; 11.3.4, stairs | SHEET |  |
lowest edge    | flight     | at most        | 125  | D3D19; 11.3.4, stairs | SHEET |  | option
opening        | open riser | stops          | 125  | Open risers | MEMORY |  |
climbable band | any        | avoid          | 0    | D2.16; 3.9.2.3 (to 2019) | MEMORY |  | drop more than 4000
riser          | flight     | at least       | 115  | Table D3D14 | STEPS |  |
riser          | flight     | at most        | 190  | Table D3D14 | STEPS |  |
run            | flight     | at least       | 250  | Table D3D14, public | STEPS |  |
run            | flight     | at least       | 240  | Table D3D14, private | STEPS |  | dwelling
run            | flight     | at most        | 355  | Table D3D14 | STEPS |  |
step comfort   | flight     | at least       | 550  | Table D3D14, two risers and a going | STEPS |  |
step comfort   | flight     | at most        | 700  | Table D3D14, two risers and a going | STEPS |  |
"""
TABLES = (PackTable("ncc-australia", "mm", SOURCES, TABLE),)
PACK = read_rules("ncc-australia", "mm")


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
