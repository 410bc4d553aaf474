"""The Canadian pack against the figures of its articles, as read or remembered.

The National Building Code itself was not read. Sources:

* INSPECTOR: an inspector of New Brunswick quoting NBC 9.8.8.3 on a code officials' forum, edition not stated,
  thebuildingcodeforum.com/forum/threads/height-of-guards.8428/post-101893
* COMMISSION: the same figures on a New Brunswick service commission's page,
  snbsc-planning.com/cct/guards-and-guard-heights/
* GUARDS: a copy of Ontario's code, the guard article of Part 3, oncodes.ca/roofing-structure/guards
* RAILS: a copy of Ontario's code of 2012, oncodes.ca/basement/height-of-handrails/
* RAMPS: a copy of Ontario's code, oncodes.ca/references/ramp-slope/
* CLIMBING: a copy of Ontario's code, guards not to be climbed, buildingcode.online/1342.html
* BOARD: British Columbia's appeal board, decision 1859, quoting the national sentence on climbing,
  www2.gov.bc.ca/.../building-code-appeal-board-decisions/bcab-1859
* MEMORY: no document read; to be checked at nrc.canada.ca.
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
    "INSPECTOR": ("inspector of New Brunswick", "post-101893", "secondary"),
    "COMMISSION": ("snbsc-planning.com", "post-101893", "secondary"),
    "GUARDS": ("Part 3", "roofing-structure/guards", "secondary"),
    "RAILS": ("2012", "height-of-handrails", "secondary"),
    "RAMPS": ("ramp slope", "ramp-slope", "secondary"),
    "CLIMBING": ("climbing", "1342.html", "secondary"),
    "BOARD": ("1859", "bcab-1859", "secondary"),
    "MEMORY": ("check at nrc.canada.ca", "", "from memory"),
}
SHELTERED = "dwelling; not exterior"
LOW = "dwelling; exterior; drop at most 1800"
OTHERS = "occupancy A or A-1 or A-2 or A-3 or A-4 or B or B-1 or B-2 or B-3 or D or E; not exterior"
INDUSTRY = "occupancy F or F-1 or F-2 or F-3; not exterior"

# quantity | place | kind | mm (a ratio for a slope, kN or kN/m for a load, 0 for a band) | article | source | datum or
# exception in the note | option, or the condition it binds under
TABLE = f"""
guard required    | any     | where more than | 600  | 9.8.8.1 | MEMORY | 1 in 2 |
guard height      | flight  | at least        | 1070 | 9.8.8.3(1) | INSPECTOR | nosings |
guard height      | flight  | at least        | 900  | 9.8.8.3(4) | INSPECTOR | exit stair | not egress
guard height      | flight  | at least        | 900  | 9.8.8.3(2) | COMMISSION | Within | {SHELTERED}
guard height      | flight  | at least        | 900  | 9.8.8.3(3) | COMMISSION | 1800 mm | {LOW}
guard height      | landing | at least        | 1070 | 9.8.8.3(1) | INSPECTOR | walking |
guard height      | landing | at least        | 900  | 9.8.8.3(2) | COMMISSION | Within | {SHELTERED}
guard height      | landing | at least        | 900  | 9.8.8.3(3) | COMMISSION | 1800 mm | {LOW}
guard height      | ramp    | at least        | 1070 | 9.8.8.3(1) | INSPECTOR | surface |
guard height      | ramp    | at least        | 900  | 9.8.8.3(2) | COMMISSION | Within | {SHELTERED}
guard height      | ramp    | at least        | 900  | 9.8.8.3(3) | COMMISSION | 1800 mm | {LOW}
opening           | any     | stops more than | 100  | 9.8.8.5(1) | GUARDS | exactly |
climbable band    | any     | avoid           | 0    | 9.8.8.6 (Ontario) | CLIMBING | industrial | option
climbable band    | any     | avoid           | 0    | 9.8.8.6(1) | BOARD | 4.2 m | drop more than 4200
handrail height   | flight  | at least        | 865  | 9.8.7.4 | RAILS | nosings | top is handrail or another is
handrail height   | flight  | at most         | 1070 | 9.8.7.4 | RAILS | nosings | top is handrail or another is
handrail height   | ramp    | at least        | 865  | 9.8.7.4 | RAILS | ramp's | top is handrail or another is
handrail height   | ramp    | at most         | 1070 | 9.8.7.4 | RAILS | ramp's | top is handrail or another is
handrail height   | landing | at least        | 865  | 9.8.7.4 | RAILS | landing's | top is handrail or another is
handrail height   | landing | at most         | 1070 | 9.8.7.4 | RAILS | landing's | top is handrail or another is
riser             | flight  | at least        | 125  | 9.8.4, private stairs | MEMORY | dwellings |
riser             | flight  | at most         | 200  | 9.8.4, private stairs | MEMORY | dwellings |
riser             | flight  | at most         | 180  | 9.8.4, public stairs | MEMORY | other than | public
run               | flight  | at least        | 255  | 9.8.4, private stairs | MEMORY | dwellings |
run               | flight  | at least        | 280  | 9.8.4, public stairs | MEMORY | other than | public
run               | flight  | at most         | 355  | 9.8.4, private stairs | MEMORY | dwellings | dwelling
riser difference  | flight  | at most         | 10   | 9.8.4, uniformity | MEMORY | 5 mm |
run difference    | flight  | at most         | 10   | 9.8.4, uniformity | MEMORY | 5 mm |
nosing projection | flight  | at most         | 25   | 9.8.4.2 | MEMORY | deeper |
flight rise       | flight  | at most         | 3700 | 9.8.3.3 | MEMORY | landings |
ramp slope        | ramp    | at most         | 1/10 | 9.8.5.4 | RAMPS | outside |
ramp slope        | ramp    | at most         | 1/8  | 9.8.5.4 | RAMPS | neither | {OTHERS}
ramp slope        | ramp    | at most         | 1/6  | 9.8.5.4 | RAMPS | industrial | {INDUSTRY}
load              | any     | requires        | 3/4  | 9.8.8.2 | MEMORY | 0.5 kN/m |
load              | any     | requires        | 1    | 9.8.8.2 | MEMORY | single force |
load              | any     | requires        | 1/2  | 9.8.8.2, infill | MEMORY | 300 mm |
"""
TABLES = (PackTable("nbc-canada", "mm", SOURCES, TABLE),)
RULES = read_rules("nbc-canada", "mm").rules


@pytest.mark.parametrize(
    ("site", "flight", "landing"),
    [
        # INSPECTOR: 1070 mm by default; a flight that is not a required exit 900 mm
        ({}, 1070, 1070),
        ({"egress": False}, 900, 1070),
        ({"egress": True}, 1070, 1070),
        # INSPECTOR, COMMISSION: 900 mm within a dwelling; outside only up to 1800 mm above the ground
        ({"dwelling": True, "exterior": False}, 900, 900),
        ({"dwelling": True, "exterior": True, "drop": Fraction(1800)}, 900, 900),
        ({"dwelling": True, "exterior": True, "drop": Fraction(1801)}, 1070, 1070),
        ({"dwelling": True, "exterior": True, "drop": Fraction(1801), "egress": False}, 900, 1070),
        # what the job does not say gives no lower figure
        ({"dwelling": True}, 1070, 1070),
        ({"dwelling": True, "exterior": True}, 1070, 1070),
    ],
)
def test_guard_heights_by_site(site, flight, landing):
    rules = read_rules("nbc-canada", "mm").at(replace(NOWHERE, **site))
    assert {r.value for r in rules.of("guard height", "flight")} == {flight}
    assert {r.value for r in rules.of("guard height", "landing")} == {landing}
    assert {r.value for r in rules.of("guard height", "ramp")} == {landing}


def test_exactly_the_sphere_may_pass():
    # GUARDS: a sphere of MORE than 100 mm must not pass; so a rigid opening of exactly 100 mm does
    for unit, sphere in (("mm", Fraction(100)), ("in", Fraction(1000, 254))):
        rule = read_rules("nbc-canada", unit).opening("flight")
        assert rule is not None
        assert rule.value == sphere
        assert rule.inclusive


def test_the_band_without_footholds():
    # BOARD: 140 to 900 mm above the protected level, where that is more than 4.2 m up; CLIMBING: Ontario, at any height
    ontario, nation = (r for r in RULES if r.quantity == "climbable band")
    assert (ontario.from_height, ontario.to_height) == (nation.from_height, nation.to_height) == (140, 900)
    assert not ontario.when
    (condition,) = nation.when
    met = [condition.met(replace(NOWHERE, drop=Fraction(drop))) for drop in (4199, 4200, 4201)]
    assert met == [False, False, True]


def test_slopes_of_ramps_by_use():
    # RAMPS: 1 in 10 residential and outside, 1 in 6 industrial, 1 in 8 others
    pack = read_rules("nbc-canada", "mm")
    for site, slope in (
        ({}, Fraction(1, 10)),
        ({"occupancy": "F-2", "exterior": False}, Fraction(1, 6)),
        ({"occupancy": "F-2", "exterior": True}, Fraction(1, 10)),
        ({"occupancy": "A-2", "exterior": False}, Fraction(1, 8)),
        ({"occupancy": "C", "exterior": False}, Fraction(1, 10)),
    ):
        assert [r.value for r in pack.at(replace(NOWHERE, **site)).of("ramp slope", "ramp")] == [slope]


def test_heights_are_plumb_from_nosings_or_surface():
    # RAILS: to a straight line that touches the nosings, else to the surface; for guards from memory, and said so
    for rule in RULES:
        if rule.quantity in ("guard height", "handrail height"):
            assert rule.datum == ("nosing line" if rule.place == "flight" else "surface")
        if rule.quantity == "guard height":
            assert "datum from memory" in rule.note


def test_the_other_figures_of_ontario_are_told():
    # codeindex.ca/article/3.3.5.9: industrial rails stop 535 mm; GUARDS: not required, more than 200 mm passes freely
    (opening,) = (r for r in RULES if r.quantity == "opening")
    assert "535 mm" in opening.note
    assert "more than 200 mm passes freely" in opening.note


def test_what_was_not_read_is_said():
    pack = read_rules("nbc-canada", "mm")
    assert any("was not read" in text for text in pack.cautions)
    assert any(text.startswith("Ontario:") for text in pack.cautions)
    assert "from memory" in pack.numbering
