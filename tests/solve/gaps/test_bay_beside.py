"""Between two posts, over ground that strand and posts stand out from: limits, and a path search of its own."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F
from math import hypot

import pytest

from stairguard.geometry.clearance.outline import Vec
from stairguard.solve.gaps.bay_beside import way_beside
from stairguard.solve.gaps.bay_openings import StrandAxis, bay
from tests.solve.lines import odd, solved


def outline(high: F, slope: F, fall: F = F(0)):
    """Level ground for twenty along, then sloping; the strand so high over its start."""
    ground = [Vec(F(0), F(0)), Vec(F(20), F(0)), Vec(F(40), -fall)]
    return bay(ground, ("landing", "ramp"), StrandAxis(5, Vec(F(0), high), slope, F(1, 16)))


@pytest.mark.parametrize("out", [F(1, 2), F(2), F(15, 4)])
def test_over_level_ground_it_is_the_edge(out):
    """hypot(h, o) - d/2, derived."""
    (pocket,) = way_beside(outline(F(2), F(0)), float(out), 1.5, 7.0)
    assert pocket.diameter == pytest.approx(hypot(2, float(out)) - 1 / 16, abs=1e-9)


def test_under_a_strand_that_rises_from_the_ground_it_grows_to_the_post():
    """Where ground falls away the way is widest at the far post, and never wider than the strand there leaves."""
    sizes = [way_beside(outline(F(2), F(0), F(4)), out, 1.5, 7.0)[0].diameter for out in (0.01, 1.0, 2.0, 4.0)]
    assert sizes == sorted(sizes)
    assert hypot(2, 4) - 1 / 16 < sizes[-1] < hypot(6, 4) - 1 / 16


def test_between_the_side_and_the_posts_a_sphere_drops_past_their_feet():
    """Wider than the bay: held by the side and both posts' near corners, r = y and r^2 = (3/2)^2 + (19/4 - y)^2."""
    ground = [Vec(F(0), F(0)), Vec(F(1), F(0)), Vec(F(3), F(0))]
    short = bay(ground, ("landing", "landing"), StrandAxis(5, Vec(F(0), F(0)), F(0), F(1, 16)))
    (pocket,) = way_beside(short, 5.5, 1.5, 7.0)
    assert pocket.diameter == pytest.approx((1.5**2 + 4.75**2) / 4.75, abs=1e-9)


def test_where_strands_overrun_an_edge_a_guard_beside_it_leaves_no_less():
    job = odd("post forced at a gentle joint")
    beside = replace(job, post=replace(job.post, mount="side", drop=F(7), offset=F(1, 10_000)))
    farther = replace(beside, post=replace(beside.post, offset=F(3)))
    plane, near, far = (
        {o.surface: o for o in solved(one).openings if o.where.kind == "under overrun"}
        for one in (job, beside, farther)
    )
    assert plane
    for surface, opening in near.items():
        assert opening.sphere == pytest.approx(plane[surface].sphere, abs=1e-3)
        assert opening.out > 0
    for surface, opening in far.items():
        job_heights = solved(beside).fields[surface].heights, solved(farther).fields[surface].heights
        if job_heights[0] == job_heights[1]:
            assert opening.sphere >= near[surface].sphere
