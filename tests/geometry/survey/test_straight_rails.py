"""The rails of a band against scipy's linear programme, exact brute force, and images of the survey."""

from __future__ import annotations

from fractions import Fraction as F
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from stairguard.errors import GeometryError
from stairguard.geometry.survey.straight_rails import rail_band
from stairguard.geometry.survey.straightedge import heights_over
from tests.geometry.survey.surveys import KINDS, survey
from tests.geometry.survey.test_straightedge import GAPS, mirrored, walk

LEAST = F(34)
BAND = st.fractions(-1, 6, max_denominator=4)
FREE = (None, None)


class Programme:
    """The same question put to a solver in floats: rail height a at the mean station, slope b, margin t."""

    def __init__(self, points, least, most):
        s, z = np.array(points, dtype=float).T
        self.s, self.z, self.mean = s, z, s.mean()
        ones = np.ones_like(s)
        over = np.c_[ones, s - self.mean]
        self.rows = np.r_[np.c_[-over, ones], np.c_[over, ones]]
        self.sides = np.r_[-(z + float(least)), z + float(most)]

    def margin(self):
        found = linprog([0, 0, -1], self.rows, self.sides, bounds=[FREE] * 3, method="highs")
        assert found.status == 0, found.message
        return found.x[2]

    def reach(self, cost):
        """Least and greatest of a linear function of (a, b) over the rails that keep the band."""
        ends = []
        for sign in (1, -1):
            found = linprog(sign * np.array(cost), self.rows[:, :2], self.sides, bounds=[FREE] * 2, method="highs")
            assert found.status == 0, found.message
            ends.append(sign * found.fun)
        return ends


def corners_by_brute_force(points, least, most):
    """Corners (height over the first, height over the last): where any two limits meet and all hold, exactly."""
    limits = [(s, z + h) for s, z in points for h in (least, most)]
    found = set()
    for (s0, z0), (s1, z1) in combinations(limits, 2):
        if s0 == s1:
            continue
        slope = (z1 - z0) / (s1 - s0)
        over = [z0 + (s - s0) * slope - z for s, z in points]
        if least <= min(over) and max(over) <= most:
            found.add((over[0], over[-1]))
    return found


def narrowest_by_brute_force(points):
    """The least plumb width of a strip that holds all points: at the slope of some two of them."""
    widths = []
    for (s0, z0), (s1, z1) in combinations(points, 2):
        slope = (z1 - z0) / (s1 - s0)
        level = [z - slope * s for s, z in points]
        widths.append(max(level) - min(level))
    return min(widths)


def test_a_thousand_flights_against_the_linear_programme():
    told = {True: 0, False: 0}
    for seed in range(1000):
        rng = np.random.default_rng(seed)
        points = survey(KINDS[seed % len(KINDS)], rng)
        most = LEAST + F(int(rng.integers(0, 65)), 16)  # bands up to 4 in, US handrails' own width
        band = rail_band(points, LEAST, most)
        margin = Programme(points, LEAST, most).margin()
        exists = band.blocking is None
        told[exists] += 1
        exact = band.best.margin if exists else -band.blocking.by / 2
        assert float(exact) == pytest.approx(margin, abs=1e-8), seed
        assert exists is (band.best is not None)
        if exists:
            over = heights_over(points, band.best.line)
            assert min(over) == LEAST + exact
            assert max(over) == most - exact
        else:
            few = [points[i] for i in sorted({*band.blocking.too_low, *band.blocking.too_high})]
            assert Programme(few, LEAST, most).margin() == pytest.approx(margin, abs=1e-8), seed
    assert min(told.values()) > 200, told  # both answers are put to the test


def test_reaches_against_the_linear_programme():
    tried = 0
    for seed in range(150):
        rng = np.random.default_rng(10_000 + seed)
        points = survey(KINDS[seed % len(KINDS)], rng)
        most = LEAST + 4
        band = rail_band(points, LEAST, most)
        if band.blocking is not None or band.best.margin < F(1, 1000):
            continue  # the solver's tolerance would decide
        tried += 1
        programme = Programme(points, LEAST, most)
        s, z, mean = programme.s, programme.z, programme.mean
        first = np.array(programme.reach([1, s[0] - mean])) - z[0]
        last = np.array(programme.reach([1, s[-1] - mean])) - z[-1]
        assert np.array(band.slopes, dtype=float) == pytest.approx(programme.reach([0, 1]), abs=1e-7)
        assert np.array(band.first, dtype=float) == pytest.approx(first, abs=1e-6)
        assert np.array(band.last, dtype=float) == pytest.approx(last, abs=1e-6)
    assert tried > 60


@given(GAPS, BAND)
def test_margin_and_corners_by_brute_force(gaps, width):
    points = walk(gaps)
    least, most = F(34), 34 + width
    band = rail_band(points, least, most)
    spare = width - narrowest_by_brute_force(points)
    corners = corners_by_brute_force(points, least, most)
    if spare < 0:
        assert band.blocking.by == -spare
        assert (band.slopes, band.first, band.last, band.best, band.corners) == (None, None, None, None, ())
        assert not corners
    else:
        assert band.best.margin == spare / 2
        assert set(band.corners) == corners
        assert len(band.corners) == len(corners)
        assert band.first == (min(u for u, _ in corners), max(u for u, _ in corners))
        assert band.last == (min(v for _, v in corners), max(v for _, v in corners))


@given(GAPS, BAND)
def test_corners_go_once_round_a_convex_figure(gaps, width):
    corners = rail_band(walk(gaps), F(34), 34 + width).corners
    turns = []
    for k in range(len(corners)):
        (ax, ay), (bx, by), (cx, cy) = (corners[(k + j) % len(corners)] for j in range(3))
        turns.append((bx - ax) * (cy - by) - (by - ay) * (cx - bx))
    if len(corners) > 2:
        assert min(turns) > 0 or max(turns) < 0


@given(GAPS, BAND)
def test_blocking_nosings_forbid_and_no_fewer_do(gaps, width):
    points = walk(gaps)
    blocking = rail_band(points, F(34), 34 + width).blocking
    if blocking is None:
        return
    few = sorted({*blocking.too_low, *blocking.too_high})
    # Those alone ask for exactly as much more.
    assert narrowest_by_brute_force([points[i] for i in few]) == width + blocking.by
    if width < 0:
        return  # then any nosing forbids it
    assert len(few) == 3
    assert {len(blocking.too_low), len(blocking.too_high)} == {1, 2}
    for left in combinations(few, 2):
        assert narrowest_by_brute_force([points[i] for i in left]) <= width  # two points bind nobody
    # The one lies between the two, above their line where the rail would be too low over it, else below.
    (one,), (before, after) = sorted((blocking.too_low, blocking.too_high), key=len)
    assert before < one < after
    (s0, z0), (s1, z1), (s, z) = points[before], points[after], points[one]
    above = z - (z0 + (s - s0) * (z1 - z0) / (s1 - s0))
    assert (above > 0) is (blocking.too_low == (one,))


@given(GAPS, BAND)
def test_binding_nosings(gaps, width):
    points = walk(gaps)
    best = rail_band(points, F(34), 34 + width).best
    if best is None:
        return
    over = heights_over(points, best.line)
    assert best.at_least == tuple(i for i, h in enumerate(over) if h == 34 + best.margin)
    assert best.at_most == tuple(i for i, h in enumerate(over) if h == 34 + width - best.margin)
    assert len({*best.at_least, *best.at_most}) >= min(3, len(points))


@given(GAPS, BAND, st.fractions(-2, 2, max_denominator=4))
def test_images_of_the_survey(gaps, width, lean):
    points = walk(gaps)
    least, most = F(34), 34 + width
    band = rail_band(points, least, most)
    mirror = rail_band(mirrored(points), least, most)
    turned = rail_band([(s, -z) for s, z in points], -most, -least)
    leant = rail_band([(s, z + lean * s) for s, z in points], least, most)
    if band.best is None:
        assert {b.blocking.by for b in (mirror, turned, leant)} == {band.blocking.by}
        return
    low, high = band.slopes
    assert mirror.slopes == turned.slopes == (-high, -low)
    assert leant.slopes == (low + lean, high + lean)
    assert (mirror.first, mirror.last) == (band.last, band.first)
    assert turned.first == (-band.first[1], -band.first[0])
    assert (leant.first, leant.last) == (band.first, band.last)
    assert {b.best.margin for b in (mirror, turned, leant)} == {band.best.margin}
    assert mirror.best.line.slope == turned.best.line.slope == -band.best.line.slope
    assert leant.best.line.slope == band.best.line.slope + lean


def test_equal_steps_by_hand():
    # Seven equal steps in a band of 34 to 38: the best rail runs parallel at 36; rails lean until they span the band.
    points = [(F(10) * k, F(7) * (k + 1)) for k in range(7)]
    band = rail_band(points, F(34), F(38))
    assert heights_over(points, band.best.line) == (36,) * 7
    assert band.best.margin == 2
    assert band.slopes == (F(7, 10) - F(4, 60), F(7, 10) + F(4, 60))
    assert set(band.corners) == {(34, 34), (34, 38), (38, 34), (38, 38)}


def test_a_crowned_flight_by_hand():
    # The middle nosing stands 3 in over the line of its neighbours: a band of 3 leaves one rail, of 2 none, by 1.
    points = [(F(0), F(0)), (F(10), F(10)), (F(20), F(14))]
    band = rail_band(points, F(34), F(37))
    assert band.slopes == (F(7, 10), F(7, 10))
    assert band.corners == ((37, 37),)
    assert (band.best.at_least, band.best.at_most) == ((1,), (0, 2))
    blocking = rail_band(points, F(34), F(36)).blocking
    assert (blocking.too_low, blocking.too_high, blocking.by) == ((1,), (0, 2), 1)


def test_one_limit_or_none():
    points = [(F(0), F(0)), (F(10), F(10)), (F(20), F(14))]
    for least, most, why in ((F(34), None, "one limit"), (None, F(38), "one limit"), (None, None, "no limit")):
        band = rail_band(points, least, most)
        assert band.slopes == (None, None)
        assert band.first == band.last == (least, most)
        assert (band.best, band.blocking, band.corners) == (None, None, ())
        assert band.why == why
    # And truly so: over the first nosing a rail of exactly the least height may rise as steep as one likes.
    for slope in (1, 10, 1000):
        assert all(34 + slope * s - z >= 34 for s, z in points)


def test_limits_that_contradict_each_other():
    band = rail_band([(F(0), F(0)), (F(10), F(7))], F(38), F(34))
    assert (band.best, band.blocking.by) == (None, 4)
    assert band.why == "contradiction"


def test_a_survey_of_ten_thousand():
    points = [(F(k), F(k * (10_000 - k), 10_000)) for k in range(10_000)]  # every point a corner of the upper hull
    band = rail_band(points, F(34), F(3000))
    # A crown: the narrowest strip lies between its chord and the tangent parallel to it.
    chord = points[-1][1] / points[-1][0]
    level = [z - chord * s for s, z in points]
    assert band.best.margin == (F(3000) - 34 - (max(level) - min(level))) / 2
    with pytest.raises(GeometryError, match="nosing 2"):
        rail_band(points[:1] + points, F(34), F(38))
