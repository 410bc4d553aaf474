"""The words on a drawing: spheres and their limits, surfaces and the strands over them, from facts."""

from dataclasses import replace
from fractions import Fraction as F

import pytest

import stairguard
from stairguard.model.guard.guard_openings import Opening
from stairguard.model.guard.opening_kinds import Touch, Where
from stairguard.model.rules import Rule
from stairguard.reports.words.drawing_words import (
    count,
    field_note,
    first_few,
    left_off_words,
    level_note,
    lift_words,
    limit_words,
    lone_sphere_lines,
    parallel_note,
    pitch_words,
    signs_words,
    spacing_words,
    sphere_flag,
    sphere_lines,
    step_title,
    surface_name,
)
from tests.solve.jobs import BASE
from tests.solve.lines import land, ramp, up

RULE = Rule(
    quantity="opening", place="any", kind="stops", value=F(4), clause="R1", status="read", source="", note="",
    binding=True,
)  # fmt: skip
TRIANGLE = Opening(
    where=Where("step triangle", step=7),
    surface=1,
    sphere=3.5,
    sphere_as_marked=3.5,
    rule=RULE,
    passes=True,
    touches=(Touch("strand", 9), Touch("tread")),
    contacts=((0.0, 0.0), (1.0, 1.0)),
    centre=(0.5, 0.5),
)
UNRULED = {"rule": None, "passes": None}
FAILING = {"sphere": 4.001, "passes": False}
BY_LEAVE = {"sphere": 5.0, "leave": RULE}


def rounded(length):
    return f"{float(length):.3g}"


@pytest.mark.parametrize(
    ("changed", "in_detail", "told"),
    [
        ({}, False, ('step triangle, tread 7: sphere ⌀3.50"', 'limit 4"')),
        ({}, True, ('step triangle: sphere ⌀3.50"', 'limit 4"; see detail')),
        (UNRULED, False, ('step triangle, tread 7: sphere ⌀3.50"',)),
        (UNRULED, True, ('step triangle: sphere ⌀3.50"', "see detail")),
        # as many decimals as tell it from its limit
        (FAILING, False, ('step triangle, tread 7: sphere ⌀4.001"', 'FAILS, limit 4"')),
        (BY_LEAVE, False, ('step triangle, tread 7: sphere ⌀5.00"', 'by leave of a low edge, limit 4"')),
    ],
)
def test_a_flag_beside_a_sphere(changed, in_detail, told):
    assert sphere_flag(replace(TRIANGLE, **changed), "in", in_detail=in_detail) == told


@pytest.mark.parametrize(
    ("changed", "dashed", "told"),
    [
        ({}, True, ('largest sphere ⌀3.50"', 'limit ⌀4", dashed', "touches strand 9, tread")),
        ({}, False, ('largest sphere ⌀3.50"', 'limit ⌀4"', "touches strand 9, tread")),
        ({"sphere_as_marked": 3.52}, False,
         ('largest sphere ⌀3.50"', 'as marked ⌀3.52"', 'limit ⌀4"', "touches strand 9, tread")),
        (UNRULED, False, ('largest sphere ⌀3.50"', "touches strand 9, tread")),
        (FAILING | {"sphere_as_marked": 4.001}, False,
         ('largest sphere ⌀4.001"', 'limit ⌀4"', "touches strand 9, tread", "FAILS")),
        (BY_LEAVE | {"sphere_as_marked": 5.0}, False,
         ('largest sphere ⌀5.00"', 'limit ⌀4"', "touches strand 9, tread", "larger by leave of a low edge")),
    ],
)  # fmt: skip
def test_all_of_a_sphere_a_fact_a_line(changed, dashed, told):
    assert sphere_lines(replace(TRIANGLE, **changed), "in", dashed=dashed) == told


def test_a_lone_sphere_stands_by_its_limit():
    assert lone_sphere_lines(3.5, None, "in", apart=True, dashed=False) == ('largest sphere ⌀3.50"',)
    ring = lone_sphere_lines(4.0001, F(4), "in", apart=True, dashed=True)
    assert ring == ('largest sphere ⌀4.0001"', 'limit ⌀4", dashed')
    assert lone_sphere_lines(4.0001, F(4), "in", apart=False, dashed=False) == ('largest sphere ⌀4.00"', 'limit ⌀4"')


def test_a_limit_or_none():
    assert limit_words(TRIANGLE, "in") == '4"'
    assert limit_words(replace(TRIANGLE, **UNRULED), "in") == "-"


def test_the_view_of_one_step_is_titled():
    assert step_title(TRIANGLE, 7) == "STEP TRIANGLE, STEP 7"


def test_plumb_and_square_are_told_apart():
    assert spacing_words(3.0, "plumb", rounded) == ("spacing", "3 plumb")
    assert spacing_words(2.5, "square", rounded) == ("spacing", "2.5 square")
    assert lift_words(1.5, rounded) == ("lift", "1.5 square")
    assert lift_words(-1.5, rounded) == ("under nosing line", "1.5 square")


@pytest.mark.parametrize(
    ("kinds", "told"),
    [
        ({"flight"}, ["flight: ticks; arrows uphill."]),
        ({"ramp", "landing"}, ["ramp: arrow alone; arrows uphill."]),
        ({"ramp", "flight"}, ["flight: ticks; ramp: arrow alone; arrows uphill."]),
        ({"landing"}, []),
    ],
)
def test_how_kinds_of_surfaces_are_drawn(kinds, told):
    assert signs_words(kinds) == told


def test_what_is_left_off():
    assert left_off_words(9, 9) == []
    assert left_off_words(8, 9) == ["And so on, 1 surface: 9."]
    assert left_off_words(6, 9) == ["And so on, 3 surfaces: 7 to 9."]


def test_the_first_few_and_counts():
    assert first_few(["P1", "P2"], 2) == "P1, P2"
    assert first_few(["P1", "P2", "P3", "P4"], 2) == "P1, P2 and 2 more"
    assert (count(1, "riser"), count(2, "riser")) == ("1 riser", "2 risers")


def layout(*surfaces):
    return stairguard.lay_out(replace(BASE, surfaces=surfaces)).layout


@pytest.mark.parametrize(
    ("surfaces", "names"),
    [
        ((land(96), up(4), land(60)), ["lower landing", "flight", "upper landing"]),
        ((land(96), up(4, down=True), land(60)), ["upper landing", "flight", "lower landing"]),
        ((land(96), ramp(60, 5), land(60, 90.0), up(4)), ["landing 1", "ramp", "landing 3", "flight"]),
        ((up(4), land(60), up(4)), ["flight 1", "landing 2", "flight 3"]),
    ],
)
def test_surfaces_are_named_for_their_place(surfaces, names):
    found = layout(*surfaces)
    assert [surface_name(found, surface) for surface in found.line.surfaces] == names


def test_landings_of_one_height_are_told_together():
    found = layout(land(96), up(4), land(60), land(60, 90.0))
    first, flight, *upper = found.line.surfaces
    assert level_note(found, [first], rounded) == ("landing 1", "elevation 0")
    assert level_note(found, upper, rounded) == ("landings 3 to 4", "elevation 28")
    # seven up in eleven
    assert pitch_words(found, flight) == "flight: pitch 32.5°"


def test_strands_over_a_surface_and_what_they_run_along():
    found = layout(land(96), ramp(60, 5), up(4))
    level, sloped, flight = found.line.surfaces
    strands, spacing = field_note(found, level, rounded)
    field = found.fields[level.index]
    assert strands == f"{len(field.heights)} strands ⌀0.125"
    assert spacing == f"spacing {rounded(field.plumb_spacing)} plumb and square"
    for surface, along in ((sloped, "ramp"), (flight, "nosing line")):
        field = found.fields[surface.index]
        assert parallel_note(found, surface, rounded) == (
            f"{len(field.heights)} strands ⌀0.125, parallel to the {along}",
            f"spacing {rounded(field.plumb_spacing)} plumb, {rounded(field.square_spacing)} square",
        )


def test_one_strand_alone_has_no_spacing():
    found = layout(land(96))
    (field,) = found.fields
    alone = replace(found, fields=(replace(field, heights=field.heights[:1], plumb_spacing=F(0)),))
    assert field_note(alone, alone.line.surfaces[0], rounded) == ("1 strand ⌀0.125",)
