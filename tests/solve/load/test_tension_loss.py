"""What weather, drying wood and settling do to one strand, against Hooke's law by hand and scipy's roots.

A straight strand's tension falls by EA times its free lengthening less its frame's. Its own weight adds what its sag
takes up, k = EA w^2 L^2 / 24 of the parabola: T2 - k/T2^2 = T1 - k/T1^2 - EA strain.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F

import pytest
from scipy.optimize import brentq

from stairguard.model.guard.strand_deflection import BayQuestion, HeldAndFree, ProbePlace, Taut
from stairguard.model.job import Push
from stairguard.model.published.strand_materials import strand_steel, with_given
from stairguard.solve.load.resistance import holding
from stairguard.solve.load.tension_loss import WeatheredStrand, bay_upkeep, most_needed, to_set, upkeep
from tests.solve.load.bay import bay
from tests.solve.load.pushed import climate


def known(diameter, unit):
    """A strand whose EA is given, so that it has no bounds of its own."""
    made = strand_steel("1x19", "316", diameter, unit)
    return with_given(made, stiffness=F(made.stiffness))


INCH, MM = known(F(1, 8), "in"), known(F("3.175"), "mm")
BAY = bay(INCH)
EA, STRAND = INCH.stiffness, 15.9e-6  # 316: read, Callister Table B.6
RATES = {"rigid": 0.0, "steel": 11.7e-6, "stainless": 15.9e-6, "aluminium": 23.6e-6}
"""Per kelvin: read in Callister, tables of thermal expansion (A36, 316, 6061)."""
WOOD = (3.1e-6, 4.5e-6)  # along the grain: from memory, Wood Handbook ch. 4


def sagging(tension, strain, bay=42.0, ea=EA, weight=INCH.weight):
    """The tension after a strain, by a bracketed root of the change of state."""
    k = ea * (weight * bay) ** 2 / 24
    target = tension - k / tension**2 - ea * strain
    return brentq(lambda t: t - k / t**2 - target, 1e-6, 10 * tension + ea * abs(strain), xtol=1e-12)


def of(frame):
    return ((frame, F(1)),)


def asked(tension=200, **changed):
    return replace(BAY, taut=replace(BAY.taut, tension=F(tension)), **changed)


@pytest.mark.parametrize("frame", RATES)
def test_tension_against_temperature_in_frames_of_one_figure(frame):
    found = bay_upkeep(asked(), climate(frame=of(frame)), None)
    assert [point.temperature for point in found.points] == sorted({*(-20 + 8.75 * k for k in range(9)), 20.0})
    for point in found.points:
        strain = (STRAND - RATES[frame]) * (point.temperature - 20)
        assert point.most == pytest.approx(sagging(200, strain), rel=1e-9)
        assert point.least == point.most  # nothing dries or settles
        # what sag adds to the straight strand's is small while it is taut
        assert point.most == pytest.approx(200 - EA * strain, abs=EA * (INCH.weight * 42) ** 2 / 24 / 60**2)
    cold, hot = (-20, 50) if RATES[frame] <= STRAND else (50, -20)
    if RATES[frame] != STRAND:
        assert (found.highest.temperature, found.lowest.temperature) == (cold, hot)
    assert found.drop == pytest.approx(0, abs=1e-9)
    assert not found.slack


@pytest.mark.parametrize(("frame", "newtons"), [("rigid", -12.4), ("steel", -3.28), ("aluminium", 6.02)])
def test_newtons_for_one_kelvin(frame, newtons):
    """Regression: 1/8 in, EA 782 kN, as worked out beforehand from the tabled expansions."""
    question = BayQuestion(
        unit="mm",
        diameter=F("3.175"),
        spacing=F(76),
        strands=2,
        bay=F(1000),
        run=F(1000),
        at=None,
        taut=Taut(MM, F(1500), "set"),
        push=Push(),
    )
    question = replace(question, push=Push(sphere=F(100)))
    found = bay_upkeep(question, climate(frame=of(frame), now=F(20), coldest=F(20), warmest=F(21)), None)
    by_temperature = {point.temperature: point.most for point in found.points}
    assert by_temperature[21.0] - by_temperature[20.0] == pytest.approx(newtons, rel=0.005)
    assert MM.stiffness == pytest.approx(782e3, rel=0.001)


def test_a_frame_of_two_materials_grows_by_their_shares():
    mixed = climate(frame=(("aluminium", F(3, 5)), ("steel", F(2, 5))))
    rate = 0.6 * RATES["aluminium"] + 0.4 * RATES["steel"]
    for point in bay_upkeep(asked(), mixed, None).points:
        assert point.most == pytest.approx(sagging(200, (STRAND - rate) * (point.temperature - 20)), rel=1e-9)


def test_a_figure_with_bounds_gives_the_most_as_set_and_the_least_to_come():
    """A wooden frame grows by 3.1 to 4.5 millionths, so that a warm strand may have either tension."""
    found = bay_upkeep(asked(), climate(frame=of("wood")), None)
    assert found.points[0].most > found.points[0].least + 1
    for point in found.points:
        both = [sagging(200, (STRAND - rate) * (point.temperature - 20)) for rate in WOOD]
        assert point.most == pytest.approx(max(both), rel=1e-9)
        assert point.least == pytest.approx(min(both), rel=1e-9)
    shares = climate(frame=(("wood", F(1, 2)), ("concrete", F(1, 2))))  # concrete 7 to 13, from memory
    warm = bay_upkeep(asked(), shares, None).points[-1]
    both = [sagging(200, (STRAND - (a + b) / 2) * 30) for a, b in ((3.1e-6, 7e-6), (4.5e-6, 13e-6))]
    assert (warm.most, warm.least) == (pytest.approx(max(both)), pytest.approx(min(both)))


def test_so_does_a_stiffness_with_bounds():
    """EA by a modulus of 130 with 10 more or less (from memory: EN 1993-1-11): cold draws the stiffer tighter."""
    made = strand_steel("1x19", "316", F(1, 8), "in")
    found = bay_upkeep(replace(BAY, taut=replace(BAY.taut, steel=made)), climate(frame=of("rigid")), None)
    soft, stiff = EA * 120 / 130, EA * 140 / 130
    for point, least, most in ((found.points[0], soft, stiff), (found.points[-1], stiff, soft)):
        strain = STRAND * (point.temperature - 20)
        assert point.least == pytest.approx(sagging(200, strain, ea=least), rel=1e-9)
        assert point.most == pytest.approx(sagging(200, strain, ea=most), rel=1e-9)


def test_other_frames_beside_it_by_their_figures_alone():
    found = bay_upkeep(asked(), climate(settling=F(1, 1000)), None)
    assert [name for name, _ in found.otherwise] == ["aluminium", "wood"]
    for (_, line), rate in zip(found.otherwise, (RATES["aluminium"], 3.8e-6), strict=True):
        for point, tension in zip(found.points, line, strict=True):
            assert tension == pytest.approx(sagging(200, (STRAND - rate) * (point.temperature - 20)), rel=1e-9)


LOSES_15 = {"wood": "white oak", "moisture_from": F(12), "moisture_to": 12 - F(300, 73)}
"""1.5 % of a tangential width: 0.00365 for one per cent of moisture (white oak, read: Wood Handbook, Table 13-5)."""
STILL = {"coldest": F(20), "warmest": F(20)}


def test_posts_that_lose_a_sixteenth_take_77_pounds():
    """Worked out beforehand: a 3.5 in post losing 1.5 %, at both ends of 20 ft, EA 176 kip: 0.105 in and 77 lbf."""
    found = bay_upkeep(asked(bay=F(240)), climate(frame=of("rigid"), **LOSES_15, **STILL), F(7, 2))
    assert found.shortening == pytest.approx(0.105, rel=1e-12)
    assert found.drop == pytest.approx(77, rel=0.005)
    assert found.lowest.least == pytest.approx(sagging(200, 0.105 / 240, 240), rel=1e-9)
    assert found.highest.most == pytest.approx(200, rel=1e-9)
    centre = bay_upkeep(asked(bay=F(240)), climate(frame=of("rigid"), seated="centre", **LOSES_15, **STILL), F(7, 2))
    assert centre.shortening == pytest.approx(0.0525, rel=1e-12)
    assert centre.drop == pytest.approx(77 / 2, rel=0.01)
    radial = bay_upkeep(asked(bay=F(240)), climate(frame=of("rigid"), grain="radial", **LOSES_15, **STILL), F(7, 2))
    assert radial.shortening == pytest.approx(2 * 3.5 * 0.0018 * 300 / 73, rel=1e-12)


def test_where_posts_grip_the_strand_the_bay_beside_a_drying_post_loses_the_most():
    """One post's 0.0525 in over 42 in, and not both over 240."""
    found = bay_upkeep(asked(tension=400), climate(frame=of("rigid"), **LOSES_15, **STILL), F(7, 2))
    assert found.lowest.least == pytest.approx(sagging(400, 0.0525 / 42), rel=1e-9)
    bays = (60.0, 30.0, 48.0)
    for widths, part in (((3.5, 0.0), 0.0525 / 60), ((0.0, 3.5), 0.0525 / 48), ((3.5, 3.5), 0.0525 / 48)):
        strung = WeatheredStrand(Taut(INCH, F(400), "set"), bays, 240.0, widths, float("inf"))
        place = ProbePlace(bay=60.0, run=240.0, clear=1.5, strands=2, probe=4.0)
        dried = upkeep(strung, climate(frame=of("rigid"), **LOSES_15, **STILL), (place,), Push()).lowest.least
        # what sag gives back is counted in the shortest bay, where it is least
        assert dried == pytest.approx(sagging(400, part, 30.0), rel=1e-9)


def test_a_wooden_rail_shortens_along_its_grain_too():
    """0.1 to 0.3 % along the grain, green to oven-dry (read: FPL 1093), in step with 12 - 4.11 of 30 % moisture."""
    moist = climate(frame=(("wood", F(1, 2)), ("rigid", F(1, 2))), **LOSES_15, **STILL)
    found = bay_upkeep(asked(bay=F(240)), moist, F(7, 2))

    def lost(percent):
        before, after = (percent / 100 * (30 - moisture) / 30 for moisture in (12, 12 - 300 / 73))
        return (after - before) / (1 - before) / 2

    assert found.shortening == pytest.approx(0.105 + 240 * lost(0.3), rel=1e-9)
    assert found.lowest.least == pytest.approx(sagging(200, 0.105 / 240 + lost(0.3), 240), rel=1e-9)


def test_settling_and_an_anchors_spring():
    settled = bay_upkeep(asked(tension=400), climate(settling=F(1, 1000), **STILL), None)
    assert settled.drop == pytest.approx(400 - sagging(400, 1e-3), rel=1e-9)
    assert settled.drop == pytest.approx(EA / 1000, rel=0.01)
    # run/EA' = run/EA + 2/k: a spring in line at either end
    soft = 240 / (240 / EA + 2 / 500)
    springy = bay_upkeep(
        asked(push=replace(BAY.push, anchor_stiffness=F(500))), climate(frame=of("rigid"), warmest=F(50)), None
    )
    assert springy.lowest.least == pytest.approx(sagging(200, STRAND * 30, ea=soft), rel=1e-9)


def test_the_lowest_is_held_to_the_push():
    found = bay_upkeep(asked(), climate(frame=of("rigid")), None)
    again = holding((found.holding.place,), replace(BAY.taut, tension=F(found.lowest.least)), BAY.push)[0]
    assert found.holding == again
    assert found.lowest.least == min(point.least for point in found.points)
    assert found.highest.most == max(point.most for point in found.points)
    assert again.verdict == "gives way"
    assert again.needed.free > found.lowest.least


@pytest.mark.parametrize(
    "weather",
    [
        climate(frame=of("rigid")), climate(frame=of("aluminium")), climate(frame=of("wood"), settling=F(1, 2000)),
        climate(frame=of("steel"), **LOSES_15),
    ],
)  # fmt: skip
@pytest.mark.parametrize("tension", [20, 200])
def test_what_is_to_be_set_leaves_what_is_needed_at_the_lowest(weather, tension):
    """Whatever it is set to now; the way back is the forward reckoning."""
    found = bay_upkeep(asked(tension=tension), weather, F(7, 2))
    needed = found.holding.needed
    for way in ("held", "free"):
        set_ = getattr(found.to_set, way)
        again = bay_upkeep(asked(tension=F(set_)), weather, F(7, 2))
        assert again.lowest.least == pytest.approx(getattr(needed, way), rel=1e-9)
    assert again.holding.push.free == pytest.approx(8, rel=1e-6)
    assert again.holding.verdict == "holds"  # as told, digit by digit


def test_none_to_set_where_there_is_no_force_or_no_tension_does():
    quiet = bay_upkeep(asked(push=Push(sphere=F(4))), climate(), None)
    assert (quiet.to_set, quiet.holding.verdict) == (HeldAndFree(None, None), None)
    # it settles by so much that what is left of its whole strength is too little
    dry = climate(frame=of("rigid"), settling=F(1, 100))
    found = bay_upkeep(asked(push=Push(force=F(45), sphere=F(4))), dry, None)
    assert found.holding.needed.free > INCH.breaking - EA / 100 > 0
    assert found.to_set.free is None
    strung = WeatheredStrand(BAY.taut, (42.0,), 240.0, (0.0, 0.0), float("inf"))
    assert to_set(strung, climate(), HeldAndFree(None, 0.0)) == HeldAndFree(None, 0.0)


def test_none_to_set_where_the_cold_would_break_it():
    """Rigid frame: 83.9 lbf are lost at 50 degrees, 111.8 gained at -20; needed and 195 more is what it must bear."""
    needed = bay_upkeep(asked(), climate(frame=of("rigid")), None).holding.needed.free
    for more, known_ in ((190, False), (200, True)):
        weak = with_given(INCH, breaking=F(needed + more))
        found = bay_upkeep(replace(BAY, taut=Taut(weak, F(150), "set")), climate(frame=of("rigid")), None)
        assert (found.to_set.free is not None) is known_
    for tension, breaks in ((INCH.breaking - 112.5, False), (INCH.breaking - 111, True)):
        assert bay_upkeep(asked(tension=F(tension)), climate(frame=of("rigid")), None).breaks is breaks


def test_slack_is_where_only_its_weight_is_left():
    """A rigid frame takes EA times 15.9 millionths of 30 kelvin, 83.9 lbf, off the straight strand."""
    by_heat = EA * STRAND * 30
    assert by_heat == pytest.approx(83.9, abs=0.05)
    for tension, slack in ((F(by_heat) + F(1, 1000), False), (F(by_heat) - F(1, 1000), True), (F(10), True)):
        found = bay_upkeep(asked(tension=tension), climate(frame=of("rigid")), None)
        assert found.slack is slack
        assert found.lowest.least > 0  # its weight keeps it from falling quite to nothing
    slackened = bay_upkeep(asked(tension=0), climate(frame=of("rigid")), None)
    assert {point.least for point in slackened.points} == {0.0}
    assert slackened.slack


def test_the_weakest_of_several_places_and_the_most_any_needs():
    strung = WeatheredStrand(BAY.taut, (42.0, 48.0), 240.0, (0.0, 0.0), float("inf"))
    places = tuple(
        ProbePlace(bay=bay, run=240.0, clear=clear, strands=2, probe=4.0)
        for bay, clear in ((42.0, 1.5), (48.0, 1.6), (30.0, 1.4))
    )
    found = upkeep(strung, climate(frame=of("rigid")), places, BAY.push)
    each = holding(places, replace(BAY.taut, tension=F(found.lowest.least)), BAY.push)
    assert found.holding.place == min(each, key=lambda one: one.push.free).place == places[1]
    needed = most_needed(each)
    assert needed.free == max(one.needed.free for one in each)
    assert found.to_set.free > needed.free
