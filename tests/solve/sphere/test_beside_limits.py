"""A step whose member stands beside it, against a search in the plane; what would stop it, by substitution."""

from __future__ import annotations

import random
from fractions import Fraction as F

import pytest

from stairguard.solve.sphere.beside_limits import beside_mends, greatest_lift_beside
from stairguard.solve.sphere.step_opening import step_opening
from tests.solve.sphere.flights import largest

STEP = {"rise": F(31, 4), "run": F(10), "nosing": F(1), "tread": F(1)}
STRAND = F(1, 8)


def sphere(lift, offset, *, limit=None, open_riser=False, **other):
    return step_opening(
        **{**STEP, **other}, lift=F(lift), open_riser=open_riser, limit=limit, offset=F(offset), strand_diameter=STRAND
    )


@pytest.mark.parametrize("seed", range(8))
def test_a_closed_step_against_a_search_in_the_plane(seed):
    rng = random.Random(f"step beside {seed}")
    size = {
        "rise": F(round(rng.uniform(6, 8), 2)), "run": F(round(rng.uniform(9, 12), 2)),
        "nosing": F(round(rng.uniform(0.25, 1.25), 2)), "tread": F(round(rng.uniform(0.75, 1.5), 2)),
    }  # fmt: skip
    lift, offset = F(round(rng.uniform(-3, 2), 2)), F(round(rng.uniform(0.5, 5), 2))
    found = sphere(lift, offset, **size).sphere
    least, most = largest(*map(float, size.values()), float(lift), float(offset), float(STRAND), 0.06)
    assert least <= found <= most


def test_near_the_stair_it_is_the_plane_s_and_it_grows_with_the_offset():
    for open_riser in (False, True):
        plane = step_opening(**STEP, lift=F(1, 2), open_riser=open_riser, limit=None)
        grown = [sphere(F(1, 2), out, open_riser=open_riser).sphere for out in ("0.0001", "1", "2", "3.75", "6")]
        assert grown[0] == pytest.approx(plane.sphere, abs=1e-6)
        assert grown == sorted(grown)
    # without an offset, to the last digit
    assert sphere(F(1, 2), 0) == step_opening(**STEP, lift=F(1, 2), open_riser=False, limit=None)


def test_contacts_are_a_radius_from_the_centre():
    found = sphere(0, F(15, 4))
    assert set(found.touches) == {"tread", "riser", "member"}
    (x, z), out = found.centre, found.beside.out
    for (cx, cz), y in zip(found.contacts, found.beside.contacts, strict=True):
        assert (cx - x) ** 2 + (cz - z) ** 2 + (y - out) ** 2 == pytest.approx(found.sphere**2 / 4, rel=1e-9)
    assert found.beside.error == 0


@pytest.mark.parametrize(("limit", "offset"), [(4, 2), (6, "3.75"), (4, "3.75"), (5, "0.5")])
def test_the_greatest_lift_stops_it_and_hardly_more_does_not(limit, offset):
    inverse = greatest_lift_beside({**STEP, "offset": F(offset), "strand_diameter": STRAND}, False, F(limit))
    assert sphere(F(inverse.greatest) - F(1, 10**7), offset, limit=F(limit)).passes
    assert not sphere(F(inverse.greatest) + F(1, 10**7), offset, limit=F(limit)).passes
    assert inverse.sphere == pytest.approx(limit, abs=1e-8)


def test_what_drops_between_stringer_and_member_is_stopped_by_no_lift():
    # 4-1/16 less half of 1/8: a sphere of 4 drops at the stair's side
    assert (
        greatest_lift_beside({**STEP, "offset": F("4.0625"), "strand_diameter": STRAND}, False, F(4)).why
        == "open beside"
    )
    deep = greatest_lift_beside({**STEP, "offset": F(4), "strand_diameter": STRAND}, False, F(4))
    assert deep.greatest < -3


def test_open_treads_let_it_through_whatever_the_lift():
    asked = {**STEP, "offset": F(2), "strand_diameter": STRAND, "lift": F(0)}
    assert greatest_lift_beside(asked, True, F(4)).why == "open between treads"
    assert beside_mends(asked, True, F(4)) == ()


def test_nearer_the_stair_it_is_stopped():
    asked = {**STEP, "offset": F("3.75"), "strand_diameter": STRAND, "lift": F(0)}
    (mend,) = beside_mends(asked, False, F(6))
    assert mend.what == "offset"
    assert sphere(0, F(mend.value) - F(1, 10**7), limit=F(6)).passes
    assert not sphere(0, F(mend.value) + F(1, 10**7), limit=F(6)).passes
    # already in the plane 5.608 goes through 5
    assert beside_mends(asked, False, F(5)) == ()
