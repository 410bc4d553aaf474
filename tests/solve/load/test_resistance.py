"""Verdicts on one place under a push, against equations written out here and solved by scipy. Inches and lbf.

The exact elastic strand: halves l = sqrt(L^2/4 + q^2) of a bay L, tension T = T0 + (EA + T0)(2l - L)/run, force
2 T q/l.
A sphere that with the strand reaches R has q = R - clear/cos f at contact angle f, and two strands push 2 F sin f.
"""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction as F
from itertools import permutations
from random import Random

import pytest
from scipy.optimize import brentq, minimize_scalar

from stairguard.errors import JobError
from stairguard.model.guard.strand_deflection import HeldAndFree, ProbePlace, Taut
from stairguard.model.job import Push
from stairguard.model.published.strand_materials import strand_steel, with_given
from stairguard.solve.load.resistance import check_tension, holding, nearer_by

STEEL = strand_steel("1x19", "316", F(1, 8), "in")
TAUT = Taut(STEEL, F(200), "set")
PLACE = ProbePlace(bay=42.0, run=240.0, clear=1.5, strands=2, probe=4.0)
PLACES = (
    PLACE,
    replace(PLACE, clear=1.6, at=9.0),
    replace(PLACE, bay=48.0, run=48.0),
    replace(PLACE, clear=1.0, strands=1),
    replace(PLACE, clear=0.4, strands=1, at=3.0),
    replace(PLACE, clear=2.05),
    replace(PLACE, probe=6.0, clear=2.0, strands=1),
)


class Way:
    """A sphere's way through one place, strand held (run = bay) or sliding."""

    def __init__(self, place, tension=200.0, held=False, ea=STEEL.stiffness):
        self.place, self.tension, self.ea = place, tension, ea
        self.run = place.bay if held else place.run
        self.reach = (place.probe + 0.125) / 2
        self.first = math.acos(place.clear / self.reach)
        self.near = place.bay / 2 if place.at is None else place.at

    def state(self, contact):
        """Push, and the tension then."""
        a, b = self.near, self.place.bay - self.near
        q = self.reach - self.place.clear / math.cos(contact)
        before, after = math.hypot(a, q), math.hypot(b, q)
        taut = self.tension + (self.ea + self.tension) * (before + after - a - b) / self.run
        return self.place.strands * taut * q * (1 / before + 1 / after) * math.sin(contact), taut

    def greatest(self):
        found = minimize_scalar(
            lambda f: -self.state(f)[0], bounds=(0, self.first), method="bounded", options={"xatol": 1e-9}
        )
        return float(-found.fun), float(found.x)


def one(place=PLACE, taut=TAUT, **push):
    return holding((place,), taut, Push(**push))[0]


@pytest.mark.parametrize("place", PLACES)
def test_push_and_state_at_its_greatest(place):
    found = one(place)
    for way, held in (("held", True), ("free", False)):
        greatest, contact = Way(place, held=held).greatest()
        assert getattr(found.push, way) == pytest.approx(greatest, rel=1e-9)
        assert getattr(found.contact_deg, way) == pytest.approx(math.degrees(contact), abs=1e-3)
        assert getattr(found.tension, way) == pytest.approx(Way(place, held=held).state(contact)[1], rel=1e-5)
    assert found.needed == found.breaking == HeldAndFree(None, None)
    assert found.verdict is None  # no force, no verdict
    assert found.push.held >= found.push.free


def next_to(value, way):
    """The nearest float on one side, exact."""
    return F(math.nextafter(value, way * math.inf))


@pytest.mark.parametrize("place", PLACES)
def test_the_verdict_is_right_at_the_exact_tie_and_one_float_beside_it(place):
    push = one(place).push
    assert one(place, force=F(push.free)).verdict == "holds"
    assert one(place, force=next_to(push.free, -1)).verdict == "holds"
    if place.run == place.bay:
        assert push.held == push.free
        assert one(place, force=next_to(push.free, 1)).verdict == "gives way"
        return
    assert one(place, force=next_to(push.free, 1)).verdict == "between"
    assert one(place, force=F(push.held)).verdict == "between"
    assert one(place, force=next_to(push.held, 1)).verdict == "gives way"


def test_a_probe_that_just_fits_passes_untouched():
    tie = 2.0625  # half of 4 and 1/8, without rounding
    for strands in (1, 2):
        found = one(replace(PLACE, clear=tie, strands=strands), force=F(5))
        assert (found.verdict, found.push, found.needed) == (
            "passes untouched",
            HeldAndFree(0, 0),
            HeldAndFree(None, None),
        )
        just = one(replace(PLACE, clear=math.nextafter(tie, 0), strands=strands), force=F(5))
        assert just.verdict == "gives way"
        assert just.push.held < 1e-9
        # without a force nothing is judged but this
        assert one(replace(PLACE, clear=tie, strands=strands)).verdict == "passes untouched"


def test_a_probe_whose_middle_is_past_the_strand_is_turned_aside():
    for clear in (0.0, -0.3):
        found = one(replace(PLACE, clear=clear, strands=1), force=F(5))
        assert (found.verdict, found.push) == ("turned aside", HeldAndFree(None, None))
    # from there on it has to move the strand by all but half of sphere and strand: more than from farther off
    near, far = (one(replace(PLACE, clear=clear, strands=1)).push.free for clear in (1e-6, 0.5))
    assert near > far > 0


def test_friction_that_would_drag_the_strand_has_no_answer():
    """Contact of 83 degrees and a friction angle of 5.7: past 85 no figure is given, and it does not count as held."""
    steep = replace(PLACE, clear=2.0625 * math.cos(math.radians(83)), strands=1)
    assert one(steep, force=F(5)).verdict == "holds"
    rubbed = one(steep, force=F(5), friction=F(1, 10))
    assert (rubbed.verdict, rubbed.push.free) == ("no answer", None)


def test_a_cone_is_asked_as_a_cone():
    """Where the shoulder is past it is a cylinder: contact never steeper than the cone's side, 26.565 degrees.

    At that angle equal to 0: half of the cylinder and half of the strand's thickness past the clear, less what the
    strand's own curve takes (q = A + B cos f - clear)."""
    found = one(force=F(5), probe="cone")
    side = math.degrees(math.atan(0.5))
    assert found.contact_deg.free == pytest.approx(side)
    q = 2 + 0.0625 * math.cos(math.atan(0.5)) - 1.5
    q /= math.cos(math.radians(side))
    half = math.hypot(21, q)
    taut = 200 + (STEEL.stiffness + 200) * (2 * half - 42) / 240
    assert found.push.free == pytest.approx(2 * 2 * taut * q / half * math.sin(math.radians(side)), rel=1e-9)


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("most", [201, 230, 600])
def test_the_push_at_which_a_strand_breaks(place, most):
    """The root of the tension on the way in; a strand that never gets there has its greatest push instead."""
    weak = with_given(STEEL, breaking=F(most))
    found = holding((place,), Taut(weak, F(200), "set"), Push(force=F(1)))[0]
    broken = 0
    for way, held in (("held", True), ("free", False)):
        mine = Way(place, held=held)
        greatest, contact = mine.greatest()
        push, at_break = getattr(found.push, way), getattr(found.breaking, way)
        if mine.state(contact)[1] < most:
            assert at_break is None
            assert push == pytest.approx(greatest, rel=1e-9)
            continue
        broken += 1
        at = brentq(lambda f, mine=mine: mine.state(f)[1] - most, contact, mine.first, xtol=1e-14, rtol=1e-14)
        assert push is None
        assert at_break == pytest.approx(mine.state(at)[0], rel=1e-6)
        assert at_break <= greatest
        assert getattr(found.contact_deg, way) is getattr(found.tension, way) is getattr(found.deflection, way) is None
    if place == PLACE:
        assert broken == {201: 2, 230: 1, 600: 0}[most]


def test_breaking_decides_the_verdict_at_its_exact_tie():
    """At 230 lbf the strand breaks held, at 201 both ways, and held at the lesser push."""
    weak = Taut(with_given(STEEL, breaking=F(230)), F(200), "set")
    found = one(taut=weak)
    assert found.push.free < found.breaking.held
    assert one(taut=weak, force=F(found.push.free)).verdict == "holds"
    assert one(taut=weak, force=F(found.breaking.held)).verdict == "between"
    assert one(taut=weak, force=next_to(found.breaking.held, 1)).verdict == "gives way"
    weaker = Taut(with_given(STEEL, breaking=F(201)), F(200), "set")
    least = one(taut=weaker).breaking
    assert least.held < least.free
    assert one(taut=weaker, force=F(least.held)).verdict == "holds"
    for force in (next_to(least.held, 1), F(least.free)):
        assert one(taut=weaker, force=force).verdict == "gives way"  # it would break, if posts hold it


def test_no_tension_needs_as_much_as_breaks_the_strand():
    """Needed is by the push alone, and None from the breaking force on."""
    found = one(force=F(30)).needed
    assert found.held is not None
    assert found.free > found.held
    for off, known in ((1 + 1e-9, True), (1 - 1e-9, False)):
        weak = Taut(with_given(STEEL, breaking=F(found.free * off)), F(50), "set")
        again = one(taut=weak, force=F(30)).needed
        assert again.held == pytest.approx(found.held, rel=1e-9)
        assert (again.free is not None) == known
    assert one(force=F(10**7)).needed == HeldAndFree(None, None)


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("force", [2, 10, 45])
def test_the_tension_needed_is_the_root_of_the_push(place, force):
    found = one(place, force=F(force)).needed
    for way, held in (("held", True), ("free", False)):

        def short(tension, held=held):
            return Way(place, tension, held).greatest()[0] - force

        if short(0.0) >= 0:
            assert getattr(found, way) == 0
        elif short(STEEL.breaking) < 0:
            assert getattr(found, way) is None
        else:
            assert getattr(found, way) == pytest.approx(brentq(short, 0, STEEL.breaking, xtol=1e-9), rel=1e-6)


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("force", [5, 30])
def test_moved_nearer_by_that_it_just_holds(place, force):
    asked = Push(force=F(force))
    found = one(place, force=F(force))
    if found.verdict == "holds":
        assert Way(place).greatest()[0] >= force
        return
    by = nearer_by([place], TAUT, asked)[0]
    moved = replace(place, clear=place.clear - by)
    assert 0 < moved.clear < place.clear
    assert Way(moved).greatest()[0] == pytest.approx(force, rel=1e-6)
    assert holding((moved,), TAUT, Push(force=F(force) * F(999_999, 1_000_000)))[0].verdict == "holds"


def test_nearer_by_with_the_strands_breaking_counted_in():
    """Nearer it holds both ways, though the strand that posts hold breaks before the sliding one gives way."""
    for most, force in ((201, 2), (230, 8)):
        weak = Taut(with_given(STEEL, breaking=F(most)), F(200), "set")
        assert one(taut=weak, force=F(force)).verdict == "gives way"
        by = nearer_by([PLACE], weak, Push(force=F(force)))[0]
        there = holding((replace(PLACE, clear=PLACE.clear - by),), weak, Push(force=F(force)))[0]
        assert there.push.held is None
        least = min(there.breaking.held, there.breaking.free or there.push.free)
        assert least == pytest.approx(force, rel=1e-6)
    assert nearer_by([PLACE], TAUT, Push(force=F(10**6)))[0] is None


def test_places_in_any_order_and_twice_give_the_same():
    asked = Push(force=F(10))
    places = (*PLACES[:5], replace(PLACE, clear=3.0), replace(PLACE, clear=-1.0, strands=1))
    alone = {place: one(place, force=F(10)) for place in places}
    orders = Random(5).sample(list(permutations(places)), 12)
    for order in (*orders, places + places, places[::-1] + places):
        for place, found in zip(order, holding(order, TAUT, asked), strict=True):
            assert found.place == place
            assert found.verdict == alone[place].verdict
            for name in ("push", "breaking", "needed", "tension", "deflection"):
                here, there = getattr(found, name), getattr(alone[place], name)
                for one_, other in ((here.held, there.held), (here.free, there.free)):
                    assert one_ is other is None or one_ == pytest.approx(other, rel=1e-10)
    assert holding((), TAUT, asked) == ()


def test_springs_of_posts_and_anchors_soften_the_push():
    """A post is in line with its strand's anchor where that slides; held at posts, the anchors are out of it."""
    plain = one().push
    post, anchor = one(post_stiffness=F(500)).push, one(anchor_stiffness=F(500)).push
    assert post.held < plain.held
    assert post.free == anchor.free < plain.free
    assert anchor.held == plain.held
    both = one(post_stiffness=F(1000), anchor_stiffness=F(1000)).push  # two in line: half as stiff
    assert both.free == pytest.approx(anchor.free, rel=1e-12)


@pytest.mark.parametrize("friction", [F(1, 10), F(2, 5)])
def test_nearer_by_with_friction_too(friction):
    """Nearest of all friction would drag the strand: that is not where it is looked for."""
    for place in (PLACE, replace(PLACE, clear=1.9, strands=1)):
        asked = Push(force=F(25), friction=friction)
        assert holding((place,), TAUT, asked)[0].verdict in ("gives way", "between")
        there = holding((replace(place, clear=place.clear - nearer_by([place], TAUT, asked)[0]),), TAUT, asked)[0]
        assert there.push.free == pytest.approx(25, rel=1e-6)
        hopeless = Push(force=F(10**6), friction=friction)
        assert nearer_by([place], TAUT, hopeless)[0] is None


def test_a_tension_of_the_breaking_force_is_refused():
    for tension, sound in ((F(STEEL.breaking), False), (next_to(STEEL.breaking, -1), True), (F(10**5), False)):
        taut = Taut(STEEL, tension, "measured")
        if sound:
            check_tension(taut)
            continue
        with pytest.raises(JobError) as caught:
            holding((PLACE,), taut, Push())
        (fault,) = caught.value.faults
        assert fault.where == "strand.tension"
        assert float(fault.got) == pytest.approx(float(tension), rel=1e-5)
