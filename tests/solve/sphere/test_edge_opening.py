"""Over a level edge: the closed form against distances by GEOS, and ties worked by hand."""

from __future__ import annotations

import random
from fractions import Fraction as F

import pytest
import shapely

from stairguard.errors import GeometryError
from stairguard.solve.sphere.edge_opening import edge_opening, greatest_height, offset_mend


def test_it_is_the_distance_between_deck_and_strand():
    """A sphere between two bodies is no larger than they are apart: GEOS's distance of a point from a wide deep box."""
    rng = random.Random("edge")
    deck = shapely.box(-1000, -1000, 0, 0)
    for _ in range(1000):
        height, offset = F(round(rng.uniform(-6, 8), 4)), F(round(rng.uniform(0.3, 6), 4))
        diameter = F(rng.choice((1, 2, 4)), 16)
        found = edge_opening(height, offset, diameter)
        apart = shapely.distance(deck, shapely.Point(float(offset), float(height)))
        assert found.sphere == pytest.approx(apart - float(diameter) / 2, abs=1e-12)


def test_contacts_are_a_radius_from_the_centre_and_on_what_is_touched():
    for height, offset in ((F("2.79"), F(15, 4)), (F(-1), F(15, 4)), (F(0), F(2)), (F(3), F(0))):
        found = edge_opening(height, offset, F(1, 8))
        y, z = found.beside.out, found.centre[1]
        for out, (_, up) in zip(found.beside.contacts, found.contacts, strict=True):
            assert (out - y) ** 2 + (up - z) ** 2 == pytest.approx(found.sphere**2 / 4)
        (_, (out, up)) = zip(found.beside.contacts, (z for _, z in found.contacts), strict=True)
        assert (out - float(offset)) ** 2 + (up - float(height)) ** 2 == pytest.approx(1 / 256)


def test_by_hand():
    # 3-3/4 out and 2.790 up, 1/8 thick: hypot = 4.674, less 1/16
    found = edge_opening(F("2.790"), F(15, 4), F(1, 8), F(4))
    assert found.sphere == pytest.approx(4.61, abs=5e-3)
    assert (found.touches, found.passes) == (("edge", "strand"), False)


@pytest.mark.parametrize(("limit", "stops"), [("4", False), ("4.0000000000000000000000001", True)])
def test_a_tie_is_settled_exactly(limit, stops):
    # 3-4-5, and a strand of 2: 5 - 1 = 4 goes through a limit of 4
    assert edge_opening(F(3), F(4), F(2), F(limit)).passes is stops


def test_no_higher_than_the_surface_it_drops_at_the_face():
    for height in (F(0), F(-1), F(-20)):
        assert edge_opening(height, F(15, 4), F(1, 8)).sphere == 3.6875
    assert edge_opening(F(-1), F(15, 4), F(1, 8)).touches == ("face", "strand")


def test_a_strand_on_the_face_leaves_nothing():
    with pytest.raises(GeometryError, match="wide enough"):
        edge_opening(F(0), F(1, 16), F(1, 8))


def test_the_greatest_height_and_offset_let_through_just_the_limit():
    inverse = greatest_height(F(15, 4), F(1, 8), F(4))
    # 4.0625^2 - 3.75^2 = 1.5625^2
    assert inverse.greatest == 1.5625
    (mend,) = offset_mend(F("2.79"), F(15, 4), F(1, 8), F(4))
    assert edge_opening(F("2.79"), F(mend.value), F(1, 8)).sphere == pytest.approx(4, abs=1e-12)
    assert mend.by == pytest.approx(3.75 - mend.value)
    assert greatest_height(F(5), F(1, 8), F(4)).why == "open beside"
    assert offset_mend(F(5), F(15, 4), F(1, 8), F(4)) == ()  # it is too high, however near
    assert offset_mend(F(1), F(3), F(1, 8), F(4)) == ()  # nothing to mend
