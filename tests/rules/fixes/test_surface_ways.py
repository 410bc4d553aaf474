"""Ways to mend steps, landings, ramps and handrails, before any is tried: each figure worked out by hand beside it."""

from dataclasses import replace
from fractions import Fraction as F

import pytest

from stairguard.model.findings import Finding, Location
from stairguard.model.job import Flight, Handrail, Landing, Ramp
from stairguard.model.subjects import RuledQuantity
from stairguard.rules.fixes.surface_ways import Ways
from stairguard.solve.line.surface_line import place
from tests.rules.fixes.brief import brief


def flight(risers, rise=7, run=11, **more):
    return Flight(
        risers=risers,
        rise=F(rise),
        run=F(run),
        nosing=F(1),
        tread=F(1),
        open_risers=False,
        down=False,
        turn=0.0,
        **more,
    )


def fixes(surfaces, quantity, kind, limit, index=0, value=None, landing=None, **handrail):
    finding = Finding(
        clause="T1",
        status="read",
        quantity=quantity,
        verdict="fail",
        what=RuledQuantity(quantity, "any"),
        place=Location(index),
        value=value,
        kind=kind,
        limit=float(limit),
    )
    made = Ways(place(surfaces).surfaces, Handrail(**handrail), "in", F(1, 16), landing)
    return list(made.of(finding, F(limit)))


def ways(*asked, **more):
    return list(map(brief, fixes(*asked, **more)))


@pytest.mark.parametrize("way", [1, -1])
def test_ramps_alike_are_made_longer_up_or_down(way):
    ramp = Ramp(length=F(100), rise=F(10) * way, turn=0.0)
    told = "surface[1, 3].length = 120 (+20)"  # 1 in 12, and of every ramp alike
    assert ways((ramp, Landing(length=F(40), turn=0.0), ramp), "ramp slope", "at most", F(1, 12)) == [told]


@pytest.mark.parametrize(
    ("surfaces", "asked", "told"),
    [
        # seven risers of 8 are 56: eight of 7, nine of 6.2222; or six of 9.3333, five of 11.2
        ((flight(7, 8),), ("riser", "at most", F(31, 4)), [
            "surface[1].risers = 8 and surface[1].rise = 7 (-1)",
            "surface[1].risers = 9 and surface[1].rise = 6.2222 (-1.7778)"]),
        ((flight(7, 8),), ("riser", "at least", 9), [
            "surface[1].risers = 6 and surface[1].rise = 9.3334 (+1.3334)",
            "surface[1].risers = 5 and surface[1].rise = 11.2 (+3.2)"]),
        # 7 / tan 35 is 9.997, and 9 tan 35 is 6.30, of 49 in all eight; 5 / tan 30 is 8.66, and 12 tan 30 is 6.93
        ((flight(7, 7, 9),), ("pitch", "at most", 35), [
            "surface[1].run = 10 (+1)", "surface[1].run = 10.0625 (+1.0625)",
            "surface[1].risers = 8 and surface[1].rise = 6.125 (-0.875)",
            "surface[1].risers = 9 and surface[1].rise = 5.4444 (-1.5556)"]),
        ((flight(7, 5, 12),), ("pitch", "at least", 30), [
            "surface[1].run = 8.625 (-3.375)", "surface[1].run = 8.5625 (-3.4375)",
            "surface[1].risers = 5 and surface[1].rise = 7 (+2)",
            "surface[1].risers = 4 and surface[1].rise = 8.75 (+3.75)"]),
        # two rises of 7 and a run of 10 are 24, of 7-1/2 and 9 too; of 7 and 11 they are 25, of 5-1/2 and 14 too
        ((flight(7, 7, 9),), ("step comfort", "at least", 24), [
            "surface[1].run = 10 (+1)", "surface[1].run = 10.0625 (+1.0625)",
            "surface[1].risers = 6 and surface[1].rise = 8.1667 (+1.1667)",
            "surface[1].risers = 5 and surface[1].rise = 9.8 (+2.8)"]),
        ((flight(7, 7, 14),), ("step comfort", "at most", 25), [
            "surface[1].run = 11 (-3)", "surface[1].run = 10.9375 (-3.0625)",
            "surface[1].risers = 9 and surface[1].rise = 5.4444 (-1.5556)",
            "surface[1].risers = 10 and surface[1].rise = 4.9 (-2.1)"]),
        ((flight(7),), ("nosing projection", "at most", F(3, 4)), [
            "surface[1].nosing = 0.75 (-0.25)", "surface[1].nosing = 0.6875 (-0.3125)"]),
        ((flight(7),), ("nosing projection", "at least", F(5, 4)), [
            "surface[1].nosing = 1.25 (+0.25)", "surface[1].nosing = 1.3125 (+0.3125)"]),
        ((flight(7),), ("nosing projection", "at most", 0), ["surface[1].nosing = 0 (-1)"]),
    ],
)  # fmt: skip
def test_steps_of_other_sizes(surfaces, asked, told):
    """On the bound and one further; on a mark where a tape shows it, else on the safe side of four decimals."""
    assert ways(surfaces, *asked) == told


def test_flights_alike_change_together_and_say_how_long_they_are():
    alike = flight(7, 7, 10)
    told = fixes((alike, Landing(length=F(48), turn=0.0), alike, flight(8, 7, 10)), "run", "at least", 11)
    assert list(map(brief, told)) == ["surface[1, 3].run = 11 (+1)", "surface[1, 3].run = 11.0625 (+1.0625)"]
    # six runs
    assert [(fix.long.surfaces, fix.long.level) for fix in told] == [((0, 2), 66), ((0, 2), F("66.375"))]


def test_landings_are_longer_or_deeper_by_the_key_that_they_have():
    told, stated = Landing(length=F(30), turn=0.0), Landing(length=F(30), turn=0.0, depth=F(32))
    between = lambda landing, index, limit: ways(  # noqa: E731  # one question, asked of each landing below
        (flight(7), landing, flight(7)), "landing length", "at least", limit, index
    )
    longer = ["surface[2].length = 36.0625 (+6.0625)", "surface[2].length = 36.125 (+6.125)"]
    assert between(told, 1, F("36.03")) == longer
    assert between(told, 0, F("36.03")) == longer[:1]  # asked of the two flights, for a tread between them
    assert between(stated, 1, 36) == [
        "surface[2].depth = 36 (+4)",
        "surface[2].depth = 36.0625 (+4.0625)",
    ]
    assert between(stated, 0, 36) == ["surface[2].depth = 36 (+4)"]


@pytest.mark.parametrize(("landing", "longest"), [(None, 48), (F(36), 36)])
def test_two_flights_that_follow_one_another_get_a_landing_between(landing, longest):
    assert ways((flight(7), replace(flight(7), turn=90.0)), "landing length", "at least", 11, landing=landing) == [
        "1 | 11 (no level piece) | 2",
        "1 | 11 | 2",
        f"1 | {longest} | 2",
    ]


def test_a_handrail_s_section_and_height_are_set_where_they_are_stated():
    both = (flight(7), Landing(length=F(48), turn=0.0))
    assert ways(both, "handrail size", "at most", 2) == []
    assert ways(both, "handrail size", "at most", 2, diameter=F(3)) == [
        "handrail.diameter = 2 (-1)", "handrail.diameter = 1.9375 (-1.0625)",
    ]  # fmt: skip
    assert ways(both, "handrail clearance", "at least", F(3, 2), clearance=F(1)) == [
        "handrail.clearance = 1.5 (+0.5)", "handrail.clearance = 1.5625 (+0.5625)",
    ]  # fmt: skip
    assert ways(both, "handrail height", "at least", 34, value=33.0) == []
    low = {"height": F(33), "landing_height": F(32)}
    # what is measured an inch short is raised an inch, whatever the job says of it
    assert ways(both, "handrail height", "at least", 34, 0, 33.0, **low)[0] == "handrail.height = 34 (+1)"
    assert ways(both, "handrail height", "at least", 34, 1, 33.0, **low)[0] == "handrail.landing_height = 33 (+1)"
    assert ways(both, "handrail height", "at least", 34, 1, 33.0, height=F(33))[0] == "handrail.landing_height = 34"
