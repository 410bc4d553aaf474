"""The accessibility pack of the United States against the figures of its sections, as read.

* CH4, CH5: 2010 ADA Standards, chapters 4 and 5, in the source of the Access Board's own site,
  github.com/atbcb/usab-uswds : _ada/ada-ch04.html and _ada/chapter/ch05.md
* RAMPS, STAIRS: the Access Board's guides to ramps and to stairways, same source,
  _ada-guides/chapter-4-ramps-and-curb-ramps.md and _ada-guides/chapter-5-stairways.md
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
    "CH4": ("chapter 4", "_ada/ada-ch04.html", "read"),
    "CH5": ("chapter 5", "_ada/chapter/ch05.md", "read"),
    "RAMPS": ("guide to ramps", "_ada-guides/chapter-4", "secondary"),
    "STAIRS": ("guide to stairways", "_ada-guides/chapter-5", "secondary"),
}

# quantity | place | kind | inches (a ratio for a slope, runs for the bottom extension) | section | source | datum or
# exception in the note | option, or the condition it binds under
TABLE = """
handrail height    | flight        | at least | 34   | 505.4 | CH5 | nosings | top is handrail or another is
handrail height    | flight        | at most  | 38   | 505.4 | CH5 | nosings | top is handrail or another is
handrail height    | ramp          | at least | 34   | 505.4 | CH5 | ramp's surface | top is handrail or another is
handrail height    | ramp          | at most  | 38   | 505.4 | CH5 | ramp's surface | top is handrail or another is
handrail height    | landing       | at least | 34   | 505.4 | CH5 | walking surface | top is handrail or another is
handrail height    | landing       | at most  | 38   | 505.4 | CH5 | walking surface | top is handrail or another is
handrail uniformity | any        | uniform  | 0    | 505.4 | CH5 | consistent | top is handrail or another is
handrail extension | flight top    | at least | 12   | 505.10.2 | CH5 | first riser | top is handrail or another is
handrail extension | flight bottom | at least | 1    | 505.10.3 | CH5 | last riser | top is handrail or another is
handrail extension | ramp          | at least | 12   | 505.10.1 | CH5 | top and bottom | top is handrail or another is
handrail size      | any           | at least | 5/4  | 505.7 | CH5 | round | top is handrail or another is
handrail size      | any           | at most  | 2    | 505.7 | CH5 | round | top is handrail or another is
handrail perimeter | any           | at least | 4    | 505.7 | CH5 | not round | top is handrail or another is
handrail perimeter | any           | at most  | 25/4 | 505.7 | CH5 | not round | top is handrail or another is
handrail across    | any           | at most  | 9/4  | 505.7 | CH5 | not round | top is handrail or another is
handrail clearance | any           | at least | 3/2  | 505.5 | CH5 | gripping |
riser              | flight        | at least | 4    | 504.2 | CH5 | uniform |
riser              | flight        | at most  | 7    | 504.2 | CH5 | uniform |
run                | flight        | at least | 11   | 504.2 | CH5 | uniform |
nosing projection  | flight        | at most  | 3/2  | 504.5 | CH5 | 30 degrees |
opening            | open riser    | stops    | 1/2  | 504.3 | STAIRS | not permitted |
ramp slope         | ramp          | at most  | 1/12 | 405.2 | RAMPS | level length |
ramp slope         | ramp          | at most  | 1/10 | 405.2, existing sites | RAMPS | 6 in | option
ramp slope         | ramp          | at most  | 1/8  | 405.2, existing sites | RAMPS | 3 in | option
ramp rise          | ramp          | at most  | 30   | 405.6 | CH4 | number of runs |
landing length     | landing       | at least | 60   | 405.7 | CH4 | of ramps | option
ramp edge          | ramp          | stops    | 4    | 405.9.2 | CH4 | within 4 in |
"""
TABLES = (PackTable("ada-2010", "in", SOURCES, TABLE),)
RULES = read_rules("ada-2010", "in").rules


def test_handrails_are_plumb_from_nosings_or_surface():
    for rule in RULES:
        if rule.quantity == "handrail height":
            assert rule.datum == ("nosing line" if rule.place == "flight" else "surface")


def test_the_bottom_extension_is_a_treads_depth():
    # CH5: at the stair's slope for a level distance of one tread depth at least; so a run in either unit
    for unit in ("in", "mm"):
        rules = [r for r in read_rules("ada-2010", unit).rules if r.quantity == "handrail extension"]
        assert [r.place for r in rules if r.in_runs] == ["flight bottom"]
        assert next(r.value for r in rules if r.in_runs) == 1


@pytest.mark.parametrize(
    ("quantity", "place", "kind", "printed_mm"),
    # CH4 and CH5 print millimetres in steps of 5 after the inches; the inch figure is what is held to.
    [
        ("handrail height", "flight", "at least", 865),
        ("handrail height", "flight", "at most", 965),
        ("handrail extension", "ramp", "at least", 305),
        ("riser", "flight", "at most", 180),
        ("run", "flight", "at least", 280),
        ("ramp rise", "ramp", "at most", 760),
        ("landing length", "landing", "at least", 1525),
    ],
)
def test_printed_millimetres_are_the_inches_rounded(quantity, place, kind, printed_mm):
    rule = next(
        r for r in read_rules("ada-2010", "mm").rules if (r.quantity, r.place, r.kind) == (quantity, place, kind)
    )
    assert abs(rule.value - printed_mm) <= Fraction(5, 2)


def test_the_edge_of_a_ramp_stops_a_sphere_of_exactly_four_inches():
    # CH4: a barrier must not let a 4 in sphere pass; exactly that diameter fails
    (edge,) = (r for r in RULES if r.quantity == "ramp edge")
    assert not edge.inclusive


def test_no_guard_is_spoken_of():
    # CH4, CH5: handrails, steps and ramps only
    rules = read_rules("ada-2010", "in")
    assert not any(r.quantity.startswith("guard") for r in rules.rules)
    assert rules.opening("flight") is None
    assert any("no guard heights" in text for text in rules.cautions)


def test_a_top_that_is_not_the_handrail_is_held_to_no_handrails_figures():
    rules = read_rules("ada-2010", "in").at(replace(NOWHERE, top_is_handrail=False))
    assert not any(r.quantity in ("handrail height", "handrail extension", "handrail size") for r in rules.rules)
