from fractions import Fraction as F
from math import atan, degrees, pi

import pytest

from stairguard.errors import InputError
from stairguard.model.published.probe_forces import NAMED_PUSHES, named_push
from stairguard.statics.probe_force import CONE_HALF_ANGLE


def test_fifty_pounds_on_the_square_foot_of_a_four_inch_sphere():
    """North Carolina's draft names a pressure; the force is that on the sphere's circle."""
    named = named_push("north-carolina-2018")
    circle = pi * float(named.sphere_in("in")) ** 2 / 4 / 144
    assert float(named.force_in("in")) == pytest.approx(50 * circle, abs=0.005)
    assert named.force.status == "derived"


def test_australias_pull_in_both_units():
    """150 N, "or 15.3 kg over a pulley"; 33.7 lbf worked out by another hand; NCC 2016, read."""
    named = named_push("australia")
    assert named.force_in("mm") == 150
    assert float(named.force_in("in")) == pytest.approx(33.7, abs=0.05)
    assert float(named.newtons()) == pytest.approx(15.3 * 9.80665, rel=0.001)
    assert named.sphere_in("mm") == 125
    assert named.sphere_in("in") == F(125) / F("25.4")
    # 105 mm from a flat tip of 20 mm to the cylinder
    assert degrees(atan((125 - 20) / 2 / 105)) == pytest.approx(CONE_HALF_ANGLE, rel=1e-12)


def test_fifty_pounds_are_0_22_kilonewtons():
    """Both are printed in S72-07/08."""
    named = named_push("icc-s72")
    assert named.force_in("in") == 50
    assert round(float(named.force_in("mm")) / 1000, 2) == 0.22


@pytest.mark.parametrize(("name", "pounds"), [("none", 0), ("cone-proposal", F("16.5"))])
def test_forces_as_named(name, pounds):
    named = named_push(name)
    assert named.force_in("in") == pounds
    assert named.sphere_in("mm") == F("101.6")


def test_only_what_was_seen_in_force_says_so_and_all_name_their_source():
    assert {name for name, named in NAMED_PUSHES.items() if named.standing == "in force"} == {"none", "australia"}
    for name, named in NAMED_PUSHES.items():
        assert named.force.source
        assert named.sphere.source
        assert (named.force.what, named.sphere.what) == ("push", "cylinder" if name == "australia" else "sphere")
        assert named.note
    assert NAMED_PUSHES["cone-proposal"].force.status == "secondary"


def test_no_such_push():
    with pytest.raises(InputError, match=r'push: must be one of .* \(the nearest is "australia"\), got austria'):
        named_push("austria")
