"""The pack of United States workplaces against the figures of its clauses, as read or remembered.

The text of 29 CFR 1910 was not read. Sources:

* LETTER: OSHA, letter of interpretation of 17 June 2025 on standard stairs,
  osha.gov/laws-regs/standardinterpretations/2025-06-17
* FORUM: an engineers' forum quoting 1910.29(f)(1), eng-tips.com/viewthread.cfm?qid=433966
* NOTICE: Federal Register, 20 May 2021, which proposed to clarify when a top rail may be the handrail,
  osha.gov/laws-regs/federalregister/2021-05-20-0
* MEMORY: no document read; to be checked at
  www.osha.gov/laws-regs/regulations/standardnumber/1910/1910.25, 1910.28 and 1910.29.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from stairguard.model.site import NOWHERE
from stairguard.rules.pack.reader import read_rules
from tests.published.pack_tables import PackTable

# Source: a word of the source as the pack names it, its address, and the status that earns.
SOURCES = {
    "LETTER": ("17 June 2025", "standardinterpretations/2025-06-17", "secondary"),
    "FORUM": ("1910.29(f)(1)", "qid=433966", "secondary"),
    "NOTICE": ("2021-05-20", "qid=433966", "secondary"),
    "MEMORY": ("from memory; check at www.osha.gov/", "", "from memory"),
}

# quantity | place | kind | inches (degrees for a pitch, pounds for a load) | clause | source | datum or exception in
# the note | option, or the condition it binds under
TABLE = """
guard required     | any     | where at least | 48   | 1910.28(b)(1)(i) | MEMORY | four risers |
guard height       | flight  | at least       | 42   | 1910.29(f)(1)(ii) | FORUM | 17 January |
guard height       | flight  | at least       | 30   | 1910.29(f)(1)(ii), older stair rails | FORUM | before 17 | option
guard height       | landing | at least       | 39   | 1910.29(b)(1) | MEMORY | 42 in |
guard height       | landing | at most        | 45   | 1910.29(b)(1) | MEMORY | 42 in | option
guard height       | ramp    | at least       | 39   | 1910.29(b)(1) | MEMORY | surface |
guard height       | ramp    | at most        | 45   | 1910.29(b)(1) | MEMORY | surface | option
opening width      | flight  | at most        | 19   | 1910.29(f)(4) | MEMORY | least dim |
opening width      | landing | at most        | 19   | 1910.29(b)(2) | MEMORY | 21 in |
opening width      | ramp    | at most        | 19   | 1910.29(b)(2) | MEMORY | 21 in |
riser              | flight  | at most        | 19/2 | 1910.25(c)(2) | LETTER | plumb |
run                | flight  | at least       | 19/2 | 1910.25(c)(3) | LETTER | overhangs |
run                | flight  | at least       | 8    | 1910.25(c)(5) | LETTER | before 17 | option
pitch              | flight  | at least       | 30   | 1910.25(c)(1) | LETTER | from level |
pitch              | flight  | at most        | 50   | 1910.25(c)(1) | LETTER | from level |
landing length     | landing | at least       | 30   | 1910.25(b)(4) | MEMORY | travel | option
handrail height    | flight  | at least       | 30   | 1910.29(f)(1)(i) | FORUM | leading edge | option
handrail height    | flight  | at most        | 38   | 1910.29(f)(1)(i) | FORUM | leading edge | option
handrail height    | flight  | at least       | 36   | 1910.29(f)(1)(iii) | NOTICE | separate | top is handrail
handrail height    | flight  | at most        | 38   | 1910.29(f)(1)(iii) | NOTICE | separate | top is handrail
handrail clearance | any     | at least       | 9/4  | 1910.29(f)(2) | MEMORY | fingers |
load               | any     | requires       | 200  | 1910.29(b)(3) | MEMORY | 39 in |
load               | any     | requires       | 150  | 1910.29(b)(5) | MEMORY | midrails |
"""
TABLES = (PackTable("osha-1910", "in", SOURCES, TABLE),)
RULES = read_rules("osha-1910", "in").rules


@pytest.mark.parametrize(
    ("quantity", "kind", "printed_cm"),
    # LETTER and FORUM print whole or half centimetres after the inches; the inch figure is what is held to.
    [("riser", "at most", 24), ("run", "at least", 24), ("guard height", "at least", 107)],
)
def test_printed_centimetres_are_the_inches_rounded(quantity, kind, printed_cm):
    rule = next(r for r in read_rules("osha-1910", "mm").of(quantity, "flight") if r.kind == kind)
    assert round(rule.value / 10) == printed_cm


def test_heights_on_stairs_are_from_the_leading_edge():
    # FORUM: from the tread's leading edge to the top of the rail
    heights = [r for r in RULES if r.quantity in ("guard height", "handrail height")]
    assert {(r.place, r.datum) for r in heights} == {
        ("flight", "leading edge"),
        ("landing", "surface"),
        ("ramp", "surface"),
    }


def test_eight_inches_and_a_nosing_do_not_make_a_tread():
    # LETTER: a run of 8 in with a nosing of 1-1/2 in does not comply with 9-1/2 in, though they add up to it
    rule = next(r for r in RULES if r.quantity == "run" and r.binding)
    assert Fraction(8) < rule.value == 8 + Fraction(3, 2)


def test_a_stair_rail_of_42_in_cannot_be_its_own_handrail():
    # FORUM: at least 42 in, and 38 in at most where the top is the handrail: both bind, so no height does
    rules = read_rules("osha-1910", "in").at(replace(NOWHERE, top_is_handrail=True))
    least = max(r.value for r in rules.of("guard height", "flight") if r.binding and r.kind == "at least")
    most = min(r.value for r in rules.of("handrail height", "flight") if r.binding and r.kind == "at most")
    assert (least, most) == (42, 38)


def test_openings_are_held_to_a_width_and_no_sphere():
    assert not any(r.quantity == "opening" for r in RULES)
    assert all(r.inclusive for r in RULES if r.quantity == "opening width")  # exactly 19 in does


def test_loads_are_in_pounds_in_either_unit():
    for unit in ("in", "mm"):
        loads = [(r.value, r.load_unit) for r in read_rules("osha-1910", unit).rules if r.quantity == "load"]
        assert loads == [(200, "lbf"), (150, "lbf")]  # MEMORY


def test_what_was_not_read_is_said():
    cautions = read_rules("osha-1910", "in").cautions
    assert any("was not read" in text for text in cautions)
    assert any("no tolerance is printed" in text for text in cautions)
