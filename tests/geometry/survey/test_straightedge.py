"""The straightedge on the nosings against scipy's linear programme, every pair tried, and mirror images."""

from __future__ import annotations

from fractions import Fraction as F
from itertools import combinations, pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from stairguard.errors import GeometryError
from stairguard.geometry.survey.straightedge import Straight, heights_over, nosing_line, spread
from tests.geometry.survey.surveys import KINDS, survey

GAPS = st.lists(st.tuples(st.integers(1, 4), st.integers(-4, 4)), min_size=2, max_size=9)


def walk(gaps):
    """Points from level and plumb steps: small whole numbers, so that ties are common."""
    s = z = F(0)
    points = []
    for level, plumb in gaps:
        s, z = s + level, z + plumb
        points.append((s, z))
    return points


def mirrored(points):
    return [(-s, z) for s, z in points[::-1]]


def pairs(points):
    """Lines through any two points that have no point above: the best is among them, an optimum being at a corner."""
    for (s0, z0), (s1, z1) in combinations(points, 2):
        slope = (z1 - z0) / (s1 - s0)
        over = [z0 + (s - s0) * slope - z for s, z in points]
        if min(over) >= 0:
            yield sum(over), slope


@given(GAPS)
def test_no_point_above_and_the_gaps_least(gaps):
    points = walk(gaps)
    line = nosing_line(points)
    over = heights_over(points, line)
    assert min(over) == 0
    assert line.touches == tuple(i for i, gap in enumerate(over) if gap == 0)
    assert sum(over) == min(total for total, _ in pairs(points))


@given(GAPS)
def test_a_mirror_image_has_the_mirror_image_of_the_line(gaps):
    points = walk(gaps)
    line, image = nosing_line(points), nosing_line(mirrored(points))
    assert image.slope == -line.slope
    assert image.elevation(-points[0][0]) == line.elevation(points[0][0])
    assert image.touches == tuple(sorted(len(points) - 1 - i for i in line.touches))


@given(GAPS, st.fractions(-3, 3, max_denominator=8), st.fractions(-9, 9, max_denominator=8))
def test_where_the_survey_starts_does_not_matter(gaps, east, up):
    points = walk(gaps)
    line, moved = nosing_line(points), nosing_line([(s + east, z + up) for s, z in points])
    assert (moved.slope, moved.touches) == (line.slope, line.touches)
    assert moved.elevation(east) == line.elevation(F(0)) + up


def test_mean_on_a_corner_takes_the_longer_edge_then_the_steeper():
    # Corners at 0, 2 and 10; four points well below bring the mean to exactly 2. Edges of slope 2 and 1/2.
    low = [(F(eighths, 8), F(-9)) for eighths in (2, 3, 5, 6)]
    points = sorted([(F(0), F(0)), (F(2), F(4)), (F(10), F(8)), *low])
    assert sum(s for s, _ in points) == 2 * len(points)
    assert nosing_line(points).slope == F(1, 2)  # 8 level against 2
    # Both edges 2 level: slopes 2 and 1, mean on the corner between.
    assert nosing_line([(F(0), F(0)), (F(2), F(4)), (F(4), F(6))]).slope == 2
    assert nosing_line([(F(0), F(6)), (F(2), F(4)), (F(4), F(0))]).slope == -2
    # A mirror image in itself: level.
    assert nosing_line([(F(0), F(0)), (F(2), F(1)), (F(4), F(0))]) == Straight(F(2), F(1), F(0), (1,))


@pytest.mark.parametrize("kind", KINDS)
def test_against_the_linear_programme(kind):
    rng = np.random.default_rng(KINDS.index(kind))
    for _ in range(60):
        points = survey(kind, rng)
        line = nosing_line(points)
        s, z = np.array(points, dtype=float).T
        ones = np.ones_like(s)
        # elevation a and slope b, about the mean station: least sum of gaps with no point above
        found = linprog(
            [len(s), 0], A_ub=-np.c_[ones, s - s.mean()], b_ub=-z, bounds=[(None, None)] * 2, method="highs"
        )
        assert float(sum(heights_over(points, line))) == pytest.approx(found.fun - z.sum(), abs=1e-7)
        assert min(heights_over(points, line)) == 0


def test_equal_steps_all_touch():
    points = [(F(21, 2) * k, F(29, 4) * (k + 1)) for k in range(7)]
    assert nosing_line(points) == Straight(F(0), F(29, 4), F(29, 42), tuple(range(7)))


@pytest.mark.parametrize(
    ("points", "says"),
    [
        ([], "two points or more"),
        ([(F(0), F(0))], "two points or more"),
        ([(F(0), F(0)), (F(0), F(1))], "nosing 2: must be at a station beyond 0"),
        ([(F(0), F(0)), (F(2), F(1)), (F(1), F(2))], "nosing 3"),
    ],
)
def test_what_no_straightedge_can_be_laid_on(points, says):
    with pytest.raises(GeometryError, match=says):
        nosing_line(points)


@given(st.lists(st.fractions(-5, 5, max_denominator=4), min_size=2, max_size=9))
def test_spread_is_the_largest_of_all_differences(values):
    found = spread(values)
    assert found.largest == max(abs(a - b) for a, b in combinations(values, 2))
    assert abs(values[found.between[0]] - values[found.between[1]]) == found.largest
    assert found.adjacent == max(abs(a - b) for a, b in pairwise(values))
    before, after = found.neighbours
    assert after == before + 1
    assert abs(values[before] - values[after]) == found.adjacent


def test_one_step_has_no_spread():
    assert spread([]) is None
    assert spread([F(7)]) is None
