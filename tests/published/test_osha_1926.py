"""The pack of United States construction sites against the figures of its clauses, as read or remembered.

The text of 29 CFR 1926 was not read. Sources:

* STATE: Washington State's copy of 1926.1052, WAC 296-155-477 (2019), lawfilesext.leg.wa.gov/Law/WACArchive/2019/htm/
  WAC%20296%20%20TITLE/WAC%20296%20-155%20%20CHAPTER/WAC%20296%20-155%20-477.htm
* COURSE: a site-safety course page on 1926.1052,
  advancedsafetytraining.com/courses/superintendent-site-inspection/lessons/stairs/, and a later copy of STATE
* LIBRARY: a page of a construction safety library on 1926.502(b)(3), elcosh.org/image/494/i000147/147.html
* FLAGS: Oregon OSHA, letter of 1997, osha.oregon.gov/OSHARules/interps/wireflag.html
* SAG: OSHA, letter of 24 July 1984, osha.gov/laws-regs/standardinterpretations/1984-07-24
* MEMORY: no document read; to be checked at
  www.osha.gov/laws-regs/regulations/standardnumber/1926/1926.1052, 1926.501 and 1926.502.
"""

from __future__ import annotations

from stairguard.rules.pack.reader import read_rules
from tests.published.pack_tables import PackTable

# Source: a word of the source as the pack names it, its address, and the status that earns.
SOURCES = {
    "STATE": ("WAC 296-155-477 (2019)", "-155%20-477.htm", "secondary"),
    "COURSE": ("course", "lessons/stairs/", "secondary"),
    "LIBRARY": ("library", "i000147/147.html", "secondary"),
    "MEMORY": ("check at www.osha.gov/", "", "from memory"),
}

# quantity | place | kind | inches (degrees for a pitch, pounds for a load) | clause | source | datum or exception in
# the note | option, or the condition it binds under
TABLE = """
guard required     | any     | where more than | 30  | 1926.1052(c)(1) | MEMORY | four risers |
guard required     | any     | where at least  | 72  | 1926.501(b)(1) | MEMORY | ramps | option
guard height       | flight  | at least        | 36  | 1926.1052(c)(3) | STATE | riser's face |
guard height       | landing | at least        | 39  | 1926.502(b)(1), by 1926.1052(c)(12) | MEMORY | 42 in |
guard height       | landing | at most         | 45  | 1926.502(b)(1), by 1926.1052(c)(12) | MEMORY | 42 in | option
guard height       | ramp    | at least        | 39  | 1926.502(b)(1) | MEMORY | 42 in |
guard height       | ramp    | at most         | 45  | 1926.502(b)(1) | MEMORY | 42 in | option
opening width      | flight  | at most         | 19  | 1926.1052(c)(4) | STATE | midrail |
opening width      | landing | at most         | 19  | 1926.502(b)(2) | MEMORY | midrail |
opening width      | ramp    | at most         | 19  | 1926.502(b)(2) | MEMORY | midrail |
riser difference   | flight  | at most         | 1/4 | 1926.1052(a)(3) | MEMORY | stairway |
run difference     | flight  | at most         | 1/4 | 1926.1052(a)(3) | MEMORY | stairway |
pitch              | flight  | at least        | 30  | 1926.1052(a)(2) | COURSE | from level |
pitch              | flight  | at most         | 50  | 1926.1052(a)(2) | COURSE | from level |
flight rise        | flight  | at most         | 144 | 1926.1052(a)(1) | COURSE | 12 ft | temporary
landing length     | landing | at least        | 30  | 1926.1052(a)(1) | COURSE | travel | option, temporary
handrail height    | flight  | at least        | 30  | 1926.1052(c)(6) | MEMORY | riser's face | option
handrail height    | flight  | at most         | 37  | 1926.1052(c)(6) | STATE | riser's face | option
handrail height    | flight  | at least        | 36  | 1926.1052(c)(7) | MEMORY | also the hand | top is handrail
handrail height    | flight  | at most         | 37  | 1926.1052(c)(7) | MEMORY | also the hand | top is handrail
handrail clearance | any     | at least        | 3   | 1926.1052(c)(11) | MEMORY | walls | temporary
load               | any     | requires        | 200 | 1926.1052(c)(5) | STATE | within 2 in |
load               | any     | requires        | 200 | 1926.502(b)(3) | LIBRARY | within 2 in |
load               | any     | requires        | 150 | 1926.502(b)(5) | MEMORY | Midrails |
"""
TABLES = (PackTable("osha-1926", "in", SOURCES, TABLE),)
RULES = read_rules("osha-1926", "in").rules


def test_the_printed_centimetres_are_the_inches_rounded():
    # STATE: a stair rail of 36 in is printed 91.5 cm, to the half centimetre
    rule = next(r for r in read_rules("osha-1926", "mm").of("guard height", "flight"))
    assert round(rule.value / 5) * 5 == 915


def test_heights_on_stairs_are_taken_at_the_forward_edge():
    # STATE: to the tread in line with the riser's face at its forward edge; the nearest datum is the leading edge
    heights = [r for r in RULES if r.quantity in ("guard height", "handrail height")]
    assert {(r.place, r.datum) for r in heights} == {
        ("flight", "leading edge"),
        ("landing", "surface"),
        ("ramp", "surface"),
    }


def test_openings_are_held_to_a_width_and_no_sphere():
    assert not any(r.quantity == "opening" for r in RULES)
    assert all(r.inclusive for r in RULES if r.quantity == "opening width")  # STATE: exactly 19 in does


def test_loads_are_in_pounds_in_either_unit():
    for unit in ("in", "mm"):
        loads = [(r.value, r.load_unit) for r in read_rules("osha-1926", unit).rules if r.quantity == "load"]
        assert loads == [(200, "lbf"), (200, "lbf"), (150, "lbf")]  # STATE, LIBRARY, MEMORY


def test_wire_rope_is_spoken_of():
    # FLAGS: every 6 ft or less; SAG: 3 in one way under 200 lbf, the free sag included
    cautions = read_rules("osha-1926", "in").cautions
    assert any("every 6 ft" in text and "wireflag" in text for text in cautions)
    assert any("3 in one way under 200 lbf" in text and "1984-07-24" in text for text in cautions)


def test_what_was_not_read_is_said():
    pack = read_rules("osha-1926", "in")
    assert any("was not read" in text for text in pack.cautions)
    assert "WAC 296-155-477" in pack.numbering
