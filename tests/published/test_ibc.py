"""The US building code packs of 2018 and 2021 against the figures of their clauses, as read or remembered.

The code itself was not read. Sources:

* FIRE: Minnesota State Fire Code, chapter 10, which says that it repeats the building code's; a copy without clause
  headings (clauses matched by content), model edition inferred to be 2018,
  github.com/CaseyJames669/Journeyman-Sprinkler-Fitter-Exam---Minnesota-Edition :
  scraper/output/16_Chapter_10_Means_of_Egress.md
* CITY: New York City Building Code 1014.8 to 1015.2,
  codelibrary.amlegal.com/codes/newyorkcity/latest/NYCadmin/0-0-0-173864
* STEP: code officials' forum quoting 1011.5.2 of the 2015 edition, its figures also in FIRE,
  thebuildingcodeforum.com/forum/threads/how-is-a-stair-tread-measured.23315
* OLD: Access Board comparison, chapter 5, with the 2003 edition's text,
  github.com/atbcb/usab-uswds : _ada/ada-ibc-comparison/chapter-5.html
* SLOPE: the code council's forum quoting 1012.2,
  iccsafe.org/forum/non-structural-intl-bldg-residl-codes/ramp-slope-inconsistency-between-406-4-4-and-1012-2/
* NOTE: a study note summing up the older clause 1010.4, archexamacademy.com/what-you-need-to-know-about-ramps/
* ENDS: code officials' forum quoting 1014.6 of the 2021 edition,
  thebuildingcodeforum.com/forum/threads/communicating-stair-handrails.36699/post-290842
* LINE: snippets of code text, 1607.8.1 and 1607.9.1, up.codes/s/handrails-and-guards
* FILL: a snippet of Minnesota's text of 2020, up.codes/s/handrail-design
* MEMORY: no document read; to be checked at codes.iccsafe.org.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from stairguard.model.site import Site
from stairguard.rules.pack.reader import read_rules
from tests.published.pack_tables import PackTable

# Source: a word of the source as the pack names it, its address, and the status that earns.
SOURCES = {
    "FIRE": ("Fire Code", "16_Chapter_10_Means_of_Egress", "secondary"),
    "CITY": ("New York", "0-0-0-173864", "secondary"),
    "STEP": ("2015", "23315", "secondary"),
    "OLD": ("2003", "ada-ibc-comparison", "secondary"),
    "SLOPE": ("forum", "and-1012-2", "secondary"),
    "NOTE": ("study note", "about-ramps", "secondary"),
    "ENDS": ("2021", "36699", "secondary"),
    "LINE": ("Snippets", "handrails-and-guards", "secondary"),
    "FILL": ("2020", "handrail-design", "secondary"),
    "MEMORY": ("from memory", "", "from memory"),
}
# Conditions, as the pack says them.
INDUSTRY = "occupancy I-3 or F or F-1 or F-2 or H or H-1 or H-2 or H-3 or H-4 or H-5 or S or S-1 or S-2; not public"
WHEN = {
    "TOP": "top is handrail",
    "EGRESS": "egress",
    "R3": "occupancy R-3",
    "R3 LOW": "occupancy R-3; storeys at most 3",
    "R3 TOP": "occupancy R-3; top is handrail",
    "R2": "occupancy R-2; dwelling",
    "R2 LOW": "occupancy R-2; dwelling; storeys at most 3",
    "R2 TOP": "occupancy R-2; dwelling; top is handrail",
    "R2 R3": "occupancy R-2 or R-3; dwelling",
    "INDUSTRY": INDUSTRY,
    "F": "occupancy F or F-1 or F-2; not public; top is handrail; storeys at most 2",
    "TOP APART": "top is handrail; not dwelling",
}

# quantity | place | kind | inches (a ratio for a slope, runs, pounds) | clause | source | word in the note | condition
TABLE = """
guard required | any | where more than | 30 | 1015.2 | CITY | any point |
guard height | landing | at least | 42 | 1015.3 | FIRE | walking surface |
guard height | ramp | at least | 42 | 1015.3 | FIRE | surface at the guard |
guard height | flight | at least | 42 | 1015.3 | FIRE | nosings |
guard height | landing | at least | 36 | 1015.3 exception 1 | FIRE | walking surface | R3 LOW
guard height | ramp | at least | 36 | 1015.3 exception 1 | FIRE | surface | R3 LOW
guard height | landing | at least | 36 | 1015.3 exception 1, units of R-2 | FIRE | separate | option, R2 LOW
guard height | ramp | at least | 36 | 1015.3 exception 1, units of R-2 | FIRE | separate | option, R2 LOW
guard height | flight | at least | 34 | 1015.3 exception 2 | FIRE | leading edges | R3
guard height | flight | at least | 34 | 1015.3 exception 2, units of R-2 | FIRE | leading edges | R2
guard height | flight | at most | 38 | 1015.3 exception 3 | FIRE | handrail | R3 TOP
guard height | flight | at most | 38 | 1015.3 exception 3, units of R-2 | FIRE | handrail | R2 TOP
guard height | flight | at least | 34 | 1015.3 exception for Group F | FIRE | fewer than three | F
guard height | flight | at most | 38 | 1015.3 exception for Group F | FIRE | fewer than three | F
opening | any | stops | 4 | 1015.4 | FIRE | required height |
opening | landing | stops | 4 | 1015.4 | FIRE | required height |
opening | flight | stops | 4 | 1015.4 | FIRE | required height |
opening | ramp | stops | 4 | 1015.4 | FIRE | required height |
opening | landing | stops | 35/8 | 1015.4 exception 1 | FIRE | 36 to 42 |
opening | flight | stops | 35/8 | 1015.4 exception 1 | FIRE | 36 to 42 |
opening | ramp | stops | 35/8 | 1015.4 exception 1 | FIRE | 36 to 42 |
opening | step triangle | stops | 6 | 1015.4 exception 2 | FIRE | bottom rail |
opening | flight | stops | 35/8 | 1015.4 exception 6 | FIRE | flight only | R2 R3
opening | any | stops | 21 | 1015.4 exception 4 | FIRE | closed to the public | INDUSTRY
opening | landing | stops | 21 | 1015.4 exception 4 | FIRE | closed to the public | INDUSTRY
opening | flight | stops | 21 | 1015.4 exception 4 | FIRE | closed to the public | INDUSTRY
opening | ramp | stops | 21 | 1015.4 exception 4 | FIRE | closed to the public | INDUSTRY
opening | step triangle | stops | 21 | 1015.4 exception 4 | FIRE | closed to the public | INDUSTRY
opening | landing | stops | 21 | 1015.4 exception 4, band of exception 1 | FIRE | 36 to 42 | INDUSTRY
opening | flight | stops | 21 | 1015.4 exception 4, band of exception 1 | FIRE | 36 to 42 | INDUSTRY
opening | ramp | stops | 21 | 1015.4 exception 4, band of exception 1 | FIRE | 36 to 42 | INDUSTRY
opening | open riser | stops | 4 | 1011.5.5.3 | FIRE | I-3 |
riser | flight | at least | 4 | 1011.5.2 | STEP | nosings |
riser | flight | at most | 7 | 1011.5.2 | STEP | 8 in |
riser | flight | at most | 31/4 | 1011.5.2 exception 3 | STEP | nosings | R3
riser | flight | at most | 31/4 | 1011.5.2 exception 3, units of R-2 | STEP | nosings | R2
riser difference | flight | at most | 3/8 | 1011.5.4 | FIRE | smallest |
run | flight | at least | 11 | 1011.5.2 | STEP | foremost projections |
run | flight | at least | 10 | 1011.5.2 exception 3 | STEP | foremost projections | R3
run | flight | at least | 10 | 1011.5.2 exception 3, units of R-2 | STEP | foremost projections | R2
run difference | flight | at most | 3/8 | 1011.5.4 | FIRE | smallest |
nosing projection | flight | at least | 3/4 | 1011.5.2 exception 3 | STEP | solid risers | R3
nosing projection | flight | at least | 3/4 | 1011.5.2 exception 3, units of R-2 | STEP | solid risers | R2
nosing projection | flight | at most | 5/4 | 1011.5.5 | OLD | riser's face |
flight rise | flight | at most | 144 | 1011.8 | FIRE | 12 ft |
landing length | landing | at least | 48 | 1011.6 | FIRE | own width | option
landing length | landing | at least | 60 | 1012.6.3 | FIRE | 36 in in units | option
ramp slope | ramp | at most | 1/8 | 1012.2 | SLOPE | level length |
ramp slope | ramp | at most | 1/12 | 1012.2, means of egress | SLOPE | way out | option
ramp slope | ramp | at most | 1/12 | 1012.2, on a way out | SLOPE | way out | EGRESS
ramp rise | ramp | at most | 30 | 1012.4 | NOTE | one run |
ramp edge | ramp | stops | 4 | 1012.10.1 | MEMORY | 12 in past |
handrail height | flight | at least | 34 | 1014.2 | FIRE | nosings | option
handrail height | flight | at most | 38 | 1014.2 | FIRE | Fittings | option
handrail height | flight | at least | 34 | 1014.2, top as handrail | FIRE | nosings | TOP
handrail height | flight | at most | 38 | 1014.2, top as handrail | FIRE | Fittings | TOP
handrail height | ramp | at least | 34 | 1014.2 | FIRE | surface | option
handrail height | ramp | at most | 38 | 1014.2 | FIRE | Fittings | option
handrail height | ramp | at least | 34 | 1014.2, top as handrail | FIRE | surface | TOP
handrail height | ramp | at most | 38 | 1014.2, top as handrail | FIRE | Fittings | TOP
handrail uniformity | any | uniform | 0 | 1014.2 | FIRE | one height | option
handrail extension | flight top | at least | 12 | 1014.6 | ENDS | top riser | option
handrail extension | flight top | at least | 12 | 1014.6, top as handrail | ENDS | top riser | TOP APART
handrail extension | flight bottom | at least | 1 | 1014.6 | ENDS | flight's slope | option
handrail extension | flight bottom | at least | 1 | 1014.6, top as handrail | ENDS | flight's slope | TOP APART
handrail extension | ramp | at least | 12 | 1014.6 | FIRE | both ends | option
handrail extension | ramp | at least | 12 | 1014.6, top as handrail | FIRE | both ends | TOP
handrail size | any | at least | 5/4 | 1014.3.1 | MEMORY | round | option
handrail size | any | at most | 2 | 1014.3.1 | MEMORY | round | option
handrail perimeter | any | at least | 4 | 1014.3.1 | MEMORY | not round | option
handrail perimeter | any | at most | 25/4 | 1014.3.1 | MEMORY | not round | option
handrail across | any | at most | 9/4 | 1014.3.1 | MEMORY | not round | option
handrail size | any | at least | 5/4 | 1014.3.1, top as handrail | MEMORY | round | TOP
handrail size | any | at most | 2 | 1014.3.1, top as handrail | MEMORY | round | TOP
handrail size | any | at most | 11/4 | 1014.3.2, Group R-3 | MEMORY | recess | R3 TOP
handrail size | any | at most | 11/4 | 1014.3.2, units of R-2 | MEMORY | recess | R2 TOP
handrail clearance | any | at least | 3/2 | 1014.7 | OLD | wall |
load | any | requires | 50 | 1607.9.1 | LINE | 20 lbf/ft |
load | any | requires | 200 | 1607.9.1.1 | MEMORY | any direction |
load | any | requires | 50 | 1607.9.1.2 | FILL | square foot |
"""
# loads stand one section earlier in 2018, and what is ENDS in 2021 is FIRE there
TABLE_2018 = TABLE.replace("| 1607.9.1", "| 1607.8.1").replace("| ENDS |", "| FIRE |")
TABLES = (
    PackTable("ibc-2018", "in", SOURCES, TABLE_2018, WHEN),
    PackTable("ibc-2021", "in", SOURCES, TABLE, WHEN),
)


@pytest.fixture(params=["ibc-2018", "ibc-2021"])
def pack(request):
    return request.param


@pytest.fixture
def rules(pack):
    return read_rules(pack, "in").rules


def test_heights_are_plumb_from_nosings_or_surface(rules):
    # FIRE: walking surface, line of the nosings, the ramp's surface at the guard
    for rule in rules:
        if rule.quantity in ("guard height", "handrail height"):
            assert rule.datum == ("nosing line" if rule.place == "flight" else "surface")


def test_the_band_of_wider_openings(rules):
    # FIRE: 4-3/8 in from 36 to 42 in
    bands = [r for r in rules if r.quantity == "opening" and r.banded]
    assert {(r.from_height, r.to_height) for r in bands} == {(36, 42)}
    assert {(r.place, r.datum) for r in bands} == {
        ("landing", "surface"),
        ("flight", "nosing line"),
        ("ramp", "surface"),
    }
    assert all("exception 1" in r.clause for r in bands)


# FIRE: heights on a flight and its largest sphere, by what a job states; STEP: riser and run.
@pytest.mark.parametrize(
    ("site", "height", "sphere", "riser", "run"),
    [
        (Site(), 42, 4, 7, 11),
        (Site(occupancy="B"), 42, 4, 7, 11),
        (Site(occupancy="R-3"), 34, 4, Fraction(31, 4), 10),
        (Site(occupancy="R-3", dwelling=True), 34, Fraction(35, 8), Fraction(31, 4), 10),
        (Site(occupancy="R-2"), 42, 4, 7, 11),
        (Site(occupancy="R-2", dwelling=False), 42, 4, 7, 11),
        (Site(occupancy="R-2", dwelling=True), 34, Fraction(35, 8), Fraction(31, 4), 10),
        (Site(occupancy="F-1"), 42, 4, 7, 11),
        (Site(occupancy="F-1", public=True), 42, 4, 7, 11),
        (Site(occupancy="F-1", public=False), 42, 21, 7, 11),
        (Site(occupancy="F-1", public=False, storeys=2, top_is_handrail=True), 34, 21, 7, 11),
        (Site(occupancy="F-1", public=False, storeys=3, top_is_handrail=True), 42, 21, 7, 11),
    ],
)
def test_flights_by_occupancy(pack, site, height, sphere, riser, run):
    rules = read_rules(pack, "in").at(site)
    (guard,) = (r for r in rules.of("guard height", "flight") if r.kind == "at least")
    (rise,) = (r for r in rules.of("riser", "flight") if r.kind == "at most")
    (going,) = rules.of("run", "flight")
    assert (guard.value, rules.opening("flight").value, rise.value, going.value) == (height, sphere, riser, run)


@pytest.mark.parametrize(
    ("site", "height"),
    [
        (Site(occupancy="R-3", storeys=3), 36),
        (Site(occupancy="R-3", storeys=4), 42),
        (Site(occupancy="R-3"), 42),
        # Group R-2 wants a separate way out too, which no job can state: the exception stays an option
        (Site(occupancy="R-2", dwelling=True, storeys=3), 42),
    ],
)
def test_landings_by_occupancy(pack, site, height):
    found = [r.value for r in read_rules(pack, "in").at(site).of("guard height", "landing") if r.binding]
    assert found == [height]


def test_a_guard_is_required_within_a_reach(rules):
    # CITY: a drop of more than 30 in at any point within 36 in
    (rule,) = (r for r in rules if r.quantity == "guard required")
    assert (rule.value, rule.within) == (30, 36)


def test_loads_are_in_pounds_in_either_unit(pack):
    for unit in ("in", "mm"):
        loads = [(r.value, r.load_unit) for r in read_rules(pack, unit).rules if r.quantity == "load"]
        assert loads == [(50, "lbf/ft"), (200, "lbf"), (50, "lbf")]  # LINE, MEMORY, FILL


def test_extensions_past_the_bottom_count_runs(rules):
    assert {r.place for r in rules if r.in_runs} == {"flight bottom"}  # ENDS: one tread's depth at the slope


def test_projection_of_dwellings_is_not_asked_of_runs_of_11(rules):
    below = [r.when_run_below for r in rules if r.quantity == "nosing projection" and r.kind == "at least"]
    assert below == [11, 11]  # STEP


def test_exactly_the_sphere_fails(pack):
    # FIRE: a sphere of the diameter must not pass, so a rigid opening of exactly it does not do.
    for unit, sphere in (("in", Fraction(4)), ("mm", Fraction(1016, 10))):
        for place in ("landing", "flight", "ramp"):
            rule = read_rules(pack, unit).opening(place)
            assert rule is not None
            assert rule.value == sphere  # the general rule is the first, before any condition is asked
            assert not rule.inclusive


def test_exceptions_that_no_job_can_state_are_told(rules):
    # FIRE: ends of aisles of assembly seating, ways to plant
    general = [r for r in rules if r.clause == "1015.4"]
    for words in ("21 in sphere", "4 in up to 26 in high, then 8 in up to 42 in"):
        assert all(words in r.note for r in general)


def test_what_was_not_read_is_said(pack):
    said = read_rules(pack, "in")
    assert any("was not read" in text or "only what" in text for text in said.cautions)
    assert "matched by content" in said.numbering
    assert ("1014.6 and 1607.9.1" in said.numbering) is (pack == "ibc-2021")
