"""Round the corner of a level deck: closed forms in plan, and two equations of the halving plane, derived here.

With strands no higher than the deck all is in plan. ``c`` is the cosine of half the turn, ``o`` the offset, ``q`` half
the strand: on the outer hand a circle touches the edge's corner and both strands, on the inner both edges and where the
strands meet.
"""

from __future__ import annotations

import random
from math import cos, hypot, inf, radians, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import fsolve

from stairguard.solve.sphere.corner_way import EdgeCorner, EdgeLeg, PostInPlan, highest_round, round_corner
from tests.geometry.space import corners

Q = 1 / 16


def deck(turn: float, out: float, high: float, wide: float = 0.0) -> EdgeCorner:
    """Of one level floor, the guard on the left; posts square to the leg before, down past all that counts."""
    leg = EdgeLeg(((-inf, inf, 0.0),), high, 0.0)
    posts = (PostInPlan(0.0, wide / 2, 0.0, -9.0),) if wide else ()
    return EdgeCorner(turn, out, Q, leg, leg, posts, across=False)


def diameter(corner: EdgeCorner) -> float:
    way = round_corner(corner)
    assert way is not None
    assert way.error == 0
    return way.diameter


@pytest.mark.parametrize("turn", [20, 45, 60, 90, 120])
@pytest.mark.parametrize("high", [0.0, -1.5])
def test_outside_it_is_the_circle_in_plan(turn, high):
    c = cos(radians(turn / 2))
    assert diameter(deck(-turn, 3.75, high)) == pytest.approx(2 * (3.75 - Q) / (1 + c), abs=1e-9)


@pytest.mark.parametrize("turn", [20, 45, 60, 90, 120])
def test_inside_it_is_the_circle_in_plan(turn):
    c = cos(radians(turn / 2))
    assert diameter(deck(turn, 3.75, -1.0)) == pytest.approx(2 * (3.75 / c - Q) / (1 + 1 / c), abs=1e-9)


@pytest.mark.parametrize("turn", [30, 45, 90])
@pytest.mark.parametrize("high", [0.75, 2.5])
def test_outside_over_the_deck_it_is_held_in_the_halving_plane(turn, high):
    """The directions from corner and strands to the centre lie opposite one another there, and both are touched."""
    c, out = cos(radians(turn / 2)), 3.75

    def off(centre: tuple[float, float, float]) -> list[float]:
        u, z, r = centre
        level, down = out - u * c, high - z
        return [u * down - z * c * level, hypot(u, z) - r, hypot(level, down) - r - Q]

    (_, _, radius), _, solved, _ = fsolve(off, (out / 2.5, high / 2, out / 2), xtol=1e-13, full_output=True)
    assert solved == 1
    assert diameter(deck(-turn, out, high)) == pytest.approx(2 * radius, abs=1e-9)


def test_a_wide_post_leaves_what_the_legs_do():
    """Then the corner has nothing of its own to tell; a narrow post leaves more than the edge does.

    Figures by a path search in space, whose bounds are 0.014 apart at the most.
    """
    assert round_corner(deck(-90, 3.75, 2.5, 3.5)) is None
    assert round_corner(deck(90, 3.75, 2.5, 1.5)) is None
    assert 4.241 <= diameter(deck(-90, 3.75, 0.0, 1.5)) <= 4.255
    assert 4.655 <= diameter(deck(-90, 3.75, 2.5, 1.5)) <= 4.667
    assert diameter(deck(-90, 3.75, 2.5, 1.5)) > hypot(3.75, 2.5) - Q


@settings(max_examples=6, deadline=None)
@given(st.floats(20, 110), st.floats(1.0, 5.0), st.floats(0.0, 0.5))
def test_farther_out_leaves_no_less(turn, out, more):
    for sign in (-1, 1):
        near, far = (round_corner(deck(sign * turn, o, -0.5)) for o in (out, out + more))
        assert near is not None
        assert far is not None
        assert far.diameter >= near.diameter - 1e-9


def test_as_high_as_stops_a_sphere():
    corner = deck(-90, 3.0, 0.0, 1.0)
    found = highest_round(corner, 4.0, (-1.0, sqrt((4 + Q) ** 2 - 9)), 1e-6)
    leg = EdgeLeg(((-inf, inf, 0.0),), found, 0.0)
    assert diameter(corner._replace(before=leg, after=leg)) == pytest.approx(4.0, abs=1e-5)
    assert found < sqrt((4 + Q) ** 2 - 9)  # lower than along the edge


def seeds(every_day: int, more: int) -> list:
    return [*range(every_day), *(pytest.param(k, marks=pytest.mark.exhaustive) for k in range(every_day, more))]


@pytest.mark.parametrize("seed", seeds(3, 20))
def test_round_a_corner_with_a_post_nothing_larger_gets_by_and_that_does(seed):
    """Within the bounds of a path search in space, and never below them; where no corner is told, along its legs."""
    rng = random.Random(f"post at a corner {seed}")
    scene = corners.Corner(
        turn=rng.choice([30, 45, 60, 90]), inner=rng.random() < 0.4, offset=rng.uniform(2, 5),
        strands=(rng.choice([0.0, rng.uniform(-2, -0.5), rng.uniform(0.5, 3)]),), radius=rng.choice([1 / 16, 1 / 8]),
        post_width=rng.choice([1.0, 1.5, 2.0, 3.5]), leg=5.0,
    )  # fmt: skip
    high = scene.strands[0]
    leg = EdgeLeg(((-inf, inf, 0.0),), high, 0.0)
    post = PostInPlan(0.0, scene.post_width / 2, 0.0, -scene.drop)
    turn = scene.turn if scene.inner else -scene.turn
    way = round_corner(EdgeCorner(turn, scene.offset, scene.radius, leg, leg, (post,), across=False))
    told = max(corners.past_edge(scene.offset, high, scene.radius), 0.0 if way is None else way.diameter / 2)
    least, most, _ = corners.out_at(scene, close=0.02)
    assert least - 1e-9 <= told <= most, scene
