"""What strands hand on, against vectors added up by numpy and posts in equilibrium. Pounds-force and inches."""

from math import cos, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stairguard.statics.loads import EndPull, edge_pressure, end_pull, fitting_force, rail_compression, sleeve_pressure

strands = st.lists(st.tuples(st.floats(1, 900), st.floats(0.5, 60)), min_size=1, max_size=15)
pitches = st.floats(-60, 60)


def vectors(tensions, heights, pitch):
    """Sum of the pulls in the plane of the guard, and of their moments about the base's middle, out of the plane."""
    pulls = [np.array([t * cos(radians(pitch)), t * sin(radians(pitch)), 0]) for t in tensions]
    moments = [np.cross([0, h, 0], pull) for h, pull in zip(heights, pulls, strict=True)]
    return sum(pulls), sum(moments)


@given(strands, pitches)
def test_pull_is_the_sum_of_vectors(drawn, pitch):
    tensions, heights = zip(*drawn, strict=True)
    got = end_pull(tensions, heights, pitch)
    force, moment = vectors(tensions, heights, pitch)
    assert got.pull == pytest.approx(np.linalg.norm(force), rel=1e-12)
    assert (got.level, got.plumb) == pytest.approx(tuple(force[:2]), rel=1e-12, abs=1e-9)
    # a level pull over the base turns the post its own way: minus about the axis that comes out of the guard
    assert got.moment == pytest.approx(-moment[2], rel=1e-12, abs=1e-9)
    assert got.level * got.height == pytest.approx(got.moment, rel=1e-12)
    assert min(heights) * (1 - 1e-12) <= got.height <= max(heights) * (1 + 1e-12)


def test_ten_strands_of_one_tension_pull_a_ton_at_their_middle_height():
    """Worked by hand: level, ten at 3 in from 4 to 31 in, 200 lbf each."""
    got = end_pull([200.0] * 10, [4.0 + 3 * k for k in range(10)], 0)
    assert got == EndPull(2000.0, 2000.0, 0.0, 17.5, 35000.0)


def test_strands_that_climb_away_lift_their_post_and_those_that_fall_press_it():
    up, down = (end_pull([200.0], [20.0], pitch) for pitch in (30, -30))
    assert (up.level, up.plumb) == pytest.approx((200 * 3**0.5 / 2, 100))
    assert (down.level, down.plumb) == pytest.approx((200 * 3**0.5 / 2, -100))
    assert up.moment == down.moment


def test_uneven_tensions_act_nearer_to_the_taut_one():
    assert end_pull([300.0, 100.0], [10.0, 30.0], 0).height == 15


def test_no_strands_do_not_pull():
    assert end_pull([], [], 35) == EndPull(0, 0, 0, 0, 0)
    assert end_pull([0.0, 0.0], [3.0, 6.0], 35) == EndPull(0, 0, 0, 0, 0)


def test_a_height_for_every_strand():
    with pytest.raises(ValueError, match="shorter"):
        end_pull([200.0, 200.0], [3.0], 0)


@given(strands, pitches, st.floats(30, 70))
def test_a_post_on_a_hinge_stands_still_between_base_and_rail(drawn, pitch, rail):
    """Base and rail together take the level pull; the rail's share turns the post back."""
    tensions, heights = zip(*drawn, strict=True)
    got = end_pull(tensions, heights, pitch)
    base, top = np.linalg.solve([[1, 1], [0, rail]], [got.level, got.moment])
    assert rail_compression(got.moment, rail) == pytest.approx(top, rel=1e-12)
    # the base is left with what acts below the rail; it is pulled back if the strands' middle is over it
    assert base == pytest.approx(got.level * (1 - got.height / rail), rel=1e-9, abs=1e-9)


def test_a_rail_at_the_base_holds_no_post():
    with pytest.raises(ZeroDivisionError):
        rail_compression(35000, 0)


@given(st.floats(1, 2000), st.floats(0, 180))
def test_fitting_takes_two_pulls_in_space(tension, bend):
    """Two unit vectors at the bend, turned into any direction: the difference of the pulls' directions, by numpy."""
    turned, _ = np.linalg.qr(np.random.default_rng(3).normal(size=(3, 3)))
    before, after = (turned @ [cos(radians(a)), sin(radians(a)), 0] for a in (0, bend))
    assert fitting_force(tension, bend) == pytest.approx(
        float(np.linalg.norm(tension * (after - before))), abs=1e-12 * tension
    )


def test_straight_on_no_force_straight_back_both_pulls():
    assert fitting_force(200, 0) == 0
    assert fitting_force(200, 60) == pytest.approx(200)
    assert fitting_force(200, 180) == pytest.approx(400)


def test_bearing_by_hand():
    """The areas are assumptions, no source: a square of the strand's diameter on each edge; all a sleeve's breadth."""
    assert edge_pressure(100.0, 0.125) == 50 * 64
    assert sleeve_pressure(100.0, 0.25, 1.5) == pytest.approx(100 / 0.375)
    # a whole stair pitch at one post
    force = fitting_force(200, 34)
    assert force == pytest.approx(2 * 200 * sin(radians(17)))
    assert edge_pressure(force, 0.125) / sleeve_pressure(force, 0.25, 3.5) == pytest.approx(0.25 * 3.5 / 2 / 0.125**2)
