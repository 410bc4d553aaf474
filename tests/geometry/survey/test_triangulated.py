"""Corners from lengths: against textbook triangles, distances measured back, shapely and finite differences."""

from fractions import Fraction as F
from itertools import pairwise
from math import dist, sqrt

import numpy as np
import pytest
import shapely

from stairguard.errors import OutlineError
from stairguard.geometry.clearance.pockets import compare, diameter, pockets
from stairguard.geometry.clearance.polygon import polygon
from stairguard.geometry.exact.surd import Surd
from stairguard.geometry.survey.triangulated import Diagonal, corner_names, figure


def floats(drawn):
    return [(float(p.x), float(p.z)) for p in drawn.points]


def random_figure(rng, n):
    """A star-shaped ring of n corners with one triangulation of it: sides, diagonals and the ring."""
    while True:
        angle = np.sort(rng.uniform(0, 2 * np.pi, n))
        ring = np.c_[np.cos(angle), np.sin(angle)] * rng.uniform(2, 6, n)[:, None]
        shape = shapely.Polygon(ring)
        if not shape.is_valid or np.diff(angle).min() < 0.2 or 2 * np.pi - angle[-1] + angle[0] > 2.5:
            continue
        diagonals, left = [], list(range(n))
        while len(left) > 3:  # cut ears off, as in the textbook proof that every polygon has a triangulation
            for i, j, k in zip(left, left[1:] + left[:1], left[2:] + left[:2], strict=True):
                ear = shapely.Polygon(ring[[i, j, k]])
                if ear.exterior.is_ccw and ear.area > 0.3 and shapely.Polygon(ring[left]).buffer(1e-9).contains(ear):
                    diagonals.append((i, k))
                    left.remove(j)
                    break
            else:
                break
        if len(diagonals) == n - 3:
            return ring, diagonals


def lengths_of(ring, diagonals):
    n = len(ring)
    sides = [F(dist(ring[k], ring[(k + 1) % n])) for k in range(n)]
    return sides, [Diagonal(i, j, F(dist(ring[i], ring[j]))) for i, j in diagonals]


def test_the_3_4_5_triangle_is_exact():
    # Euclid, Elements I.47: 3, 4, 5 has a right angle
    drawn = figure([F(3), F(4), F(5)])
    assert drawn.points == ((0, 0), (3, 0), (3, 4))


def test_incircle_of_5_5_6_is_3_wide_exactly():
    # inradius = area / semi-perimeter = 12 / 8 (Euclid IV.4; Heron's formula for the area)
    outline = polygon(figure([F(5), F(5), F(6)]).points)
    (pocket,) = pockets(outline)
    assert diameter(outline, pocket) == 3
    assert compare(outline, pocket, F(3)) == 0


@pytest.mark.parametrize("scale", [F(1), F(7, 3), F(10**15 + 1, 10**15), F(127, 5)])
def test_scaled_3_4_5_triangles_tie_exactly(scale):
    # inradius of 3-4-5 is 1: the diameter is twice the scale, whatever that is
    outline = polygon(figure([3 * scale, 4 * scale, 5 * scale]).points)
    (pocket,) = pockets(outline)
    assert compare(outline, pocket, 2 * scale) == 0
    assert compare(outline, pocket, 2 * scale * (1 + F(1, 10**15))) == -1
    assert compare(outline, pocket, 2 * scale * (1 - F(1, 10**15))) == 1


def test_irrational_corners_are_exact():
    # an equilateral triangle of side 2 has height sqrt(3) and an incircle 2/sqrt(3) wide
    drawn = figure([F(2)] * 3)
    assert isinstance(drawn.points[2].z, Surd)
    assert drawn.points[2].z * drawn.points[2].z == 3
    outline = polygon(drawn.points)
    (pocket,) = pockets(outline)
    exact = diameter(outline, pocket)
    assert exact * exact * 3 == 4
    below = F(11547005383792515, 10**16)  # 2/sqrt(3) = 1.15470053837925152...
    assert compare(outline, pocket, below) == 1
    assert compare(outline, pocket, below + F(1, 10**15)) == -1


def test_a_kite_that_ties_though_its_corners_are_irrational():
    # two equal triangles 2, 2, 2 share the diagonal: a rhombus whose incircle is as wide as the triangle is high
    drawn = figure([F(2)] * 4, [Diagonal(0, 2, F(2))])
    assert float(drawn.points[3].x) == pytest.approx(-1)
    assert float(drawn.points[3].z) == pytest.approx(sqrt(3))
    assert drawn.points[3].z == drawn.points[2].z  # one root serves both


@pytest.mark.parametrize("n", range(3, 11))
def test_every_length_measures_back_and_the_shape_is_the_one_given(n):
    rng = np.random.default_rng(n)
    for _ in range(5):
        ring, cuts = random_figure(rng, n)
        sides, diagonals = lengths_of(ring, cuts)
        points = floats(figure(sides, diagonals))
        for (a, b), side in zip(pairwise([*points, points[0]]), sides, strict=True):
            assert dist(a, b) == pytest.approx(float(side), rel=1e-12)
        for d in diagonals:
            assert dist(points[d.start], points[d.end]) == pytest.approx(float(d.length), rel=1e-12)
        ours, theirs = shapely.Polygon(points), shapely.Polygon(ring)
        assert ours.exterior.is_ccw
        assert ours.area == pytest.approx(theirs.area, rel=1e-10)  # a flipped triangle would change it


@pytest.mark.parametrize("n", [3, 4, 6, 9])
def test_partials_against_finite_differences(n):
    rng = np.random.default_rng(40 + n)
    ring, cuts = random_figure(rng, n)
    sides, diagonals = lengths_of(ring, cuts)
    partials = figure(sides, diagonals).partials
    step = F(1, 10**6)

    def corners(place, by):
        moved = [side + by * (place == k) for k, side in enumerate(sides)]
        across = [Diagonal(d.start, d.end, d.length + by * (place == n + k)) for k, d in enumerate(diagonals)]
        return np.array(floats(figure(moved, across)))

    for place in range(len(sides) + len(diagonals)):
        difference = (corners(place, step) - corners(place, -step)) / float(2 * step)
        assert partials[:, :, place] == pytest.approx(difference, rel=1e-6, abs=1e-6)


IMPOSSIBLE = [
    ([10, 3, 6], [], "triangle A-B-C: .*side A-B .*too long by 1$"),
    ([3, 4, 7], [], "triangle A-B-C: .*one line"),
    ([10, 3, 4, 8], [(0, 2, 14)], r"triangle A-B-C: .*diagonal A-C .*too long by 1\ntriangle A-C-D: .*too long by 2"),
    ([10, 3, 9, 8], [(0, 2, 6)], r"triangle A-B-C: .*side A-B .*by 1 \(or diagonal A-C is too short\)"),
    ([1, 1], [], "sides: must be at least 3, got 2"),
    ([1, 1, 1, 1], [], "diagonals: must be 1 for 4 sides"),
    ([1, 1, 1], [(0, 2, 1)], "diagonals: must be 0 for 3 sides"),
    ([1] * 5, [(0, 2, 1), (1, 3, 1)], "diagonals A-C and B-D: must be without crossing"),
    ([1] * 5, [(0, 2, 1), (2, 0, 1)], "diagonal A-C: must be given once"),
    ([1] * 4, [(0, 3, 1)], "diagonal A-D: must be between corners that are no neighbours"),
]


@pytest.mark.parametrize(("sides", "diagonals", "words"), IMPOSSIBLE)
def test_impossible_lengths_are_refused_with_by_how_much(sides, diagonals, words):
    # by the triangle inequality (Euclid I.20)
    with pytest.raises(OutlineError, match=words):
        figure([F(s) for s in sides], [Diagonal(i, j, F(d)) for i, j, d in diagonals])


def test_names():
    assert corner_names(3) == ("A", "B", "C")
    assert corner_names(28)[25:] == ("Z", "27", "28")
    with pytest.raises(OutlineError, match="triangle foot-post-rail"):
        figure([F(9), F(1), F(1)], names=["foot", "post", "rail"])


def test_three_corners_of_equilateral_triangles_hold_a_circumcircle_exactly():
    # nine corners, fifteen lengths of 1: on each side of one triangle an arm of two more, so that its corners are
    # reflex and hold their circumcircle, 2/sqrt(3) wide (Euclid IV.5)
    pairs = [(0, 2), (0, 3), (3, 5), (3, 6), (6, 8), (0, 6)]
    outline = polygon(figure([F(1)] * 9, [Diagonal(i, j, F(1)) for i, j in pairs]).points)
    best = pockets(outline)[0]
    assert {outline.name(site) for site in best.sites} >= {"corner 1", "corner 4", "corner 7"}
    exact = diameter(outline, best)
    assert exact * exact * 3 == 4


def test_many_roots_are_rounded_far_beyond_any_length():
    # measured back in exact fractions: off by less than 1e-59 of the size, and the sphere decided to 1e-15 all the same
    ring, cuts = random_figure(np.random.default_rng(5), 9)
    sides, diagonals = lengths_of(ring, cuts)
    drawn = figure(sides, diagonals)
    assert drawn.rounded
    assert all(isinstance(v, F) for p in drawn.points for v in p)
    for (a, b), side in zip(pairwise([*drawn.points, drawn.points[0]]), sides, strict=True):
        square = (a.x - b.x) ** 2 + (a.z - b.z) ** 2
        assert abs(square / side**2 - 1) < F(1, 10**59)
    outline = polygon(drawn.points)
    best = pockets(outline)[0]
    near = F(float(diameter(outline, best)))
    assert compare(outline, best, near * (1 + F(1, 10**15))) == -1
    assert compare(outline, best, near * (1 - F(1, 10**15))) == 1
