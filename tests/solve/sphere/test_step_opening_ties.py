"""Verdicts at exact ties: spheres that are rational by construction, with rational and with irrational contacts."""

from fractions import Fraction as F

import pytest

from stairguard.solve.sphere.step_opening import step_opening

HAIR = F(1, 10**15)


def verdicts(step, sphere):
    """The verdict one part in 10^15 below the sphere, at it, and as much above it."""
    limits = (sphere * (1 - HAIR), sphere, sphere * (1 + HAIR))
    return [step_opening(*step, False, limit).passes for limit in limits]


def test_verdicts_of_the_3_4_5_family():
    # rise 7.5, run 10: k = 5/4, so D = 2 (R + L k) / (k + 1 + R/G) = (2 R + 5 L / 2) / 3 = 6 for a lift of 1.2
    for q in (F(1), F(127, 5), F(1, 3), F(7, 11), F(10**9 + 7, 10**9), F(22, 7)):
        assert verdicts([q * F(x) for x in ("7.5", "10", "0", "0", "1.2")], 6 * q) == [False, False, True]


@pytest.mark.parametrize("q", [F(1), F(1, 2), F(127, 50), F(3, 7), F(10**6 + 3, 10**6)])
@pytest.mark.parametrize(
    ("rise", "offset"),
    # r = 5: the nosing's corner stands 3 above and 4 past the centre, so a tread of rise - 8
    [("17/2", 4), ("9", 4)],
)
def test_ties_at_the_nosing_with_an_irrational_contact(rise, offset, q):
    """Ten ties: the centre on the nosing line, the lift equal to the radius.

    A centre at height r on the nosing line stands at x = G r / R, and a member r over that line touches the sphere
    square to it: at an irrational point where sqrt(R^2 + G^2) is. With G (R - r) / R = 4, r = 5 the nosing's corner,
    8 up, is 5 from the centre.
    """
    rise, r = F(rise), F(5)
    run = offset * rise / (rise - r)
    square = rise * rise + run * run
    root = round(float(square * square.denominator**2) ** 0.5)
    assert root * root != square * square.denominator**2  # no rational slope length, so no rational contact
    step = [q * x for x in (rise, run, F(3, 2), rise - 8, r)]
    found = step_opening(*step, False, None)
    assert set(found.touches) == {"tread", "member", "nosing"}
    assert found.sphere == pytest.approx(float(2 * r * q), rel=1e-15)
    assert verdicts(step, 2 * r * q) == [False, False, True]


@pytest.mark.parametrize("lift", [F(23), F(251, 10), F(10**4 + 1, 400)])
def test_ties_between_two_nosings_and_the_member(lift):
    # a circle through both nosings, square below the member: (r - L)^2 + (R^2 + G^2) / 4 = r^2, so
    # D = (R^2 + G^2) / (4 L) + L, rational, about a centre that is not: it lies on the nosings' bisector
    rise, run = F(7), F(11)
    sphere = (rise * rise + run * run) / (4 * lift) + lift
    step = [rise, run, F(0), F(0), lift]
    assert set(step_opening(*step, False, None).touches) == {"nosing", "member"}
    assert verdicts(step, sphere) == [False, False, True]
