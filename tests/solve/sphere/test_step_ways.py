"""Other steps where no lower member closes a triangle: each, with the lift told beside it, stops the sphere."""

from fractions import Fraction as F

import pytest

from stairguard.solve.sphere.step_opening import step_opening
from stairguard.solve.sphere.step_ways import step_mends

# rise, run, nosing, tread, open riser, lift, limit: metric steps that a sphere of 100 mm asks too much of, and inches
STEPS = [
    ("180", "250", "0", "0", False, "60", "100"), ("180", "250", "0", "0", False, "0", "100"),
    ("180", "250", "25", "20", False, "60", "100"), ("190", "250", "25", "30", False, "15", "100"),
    ("170", "280", "20", "40", False, "10", "100"), ("190", "250", "60", "40", True, "3", "100"),
    ("210", "180", "60", "20", False, "10", "100"), ("7.75", "10", "1.25", "1", False, "2", "4"),
    ("7", "11", "0", "0", False, "1", "4"),
]  # fmt: skip


@pytest.mark.parametrize(("rise", "run", "nosing", "tread", "open_riser", "lift", "limit"), STEPS)
def test_a_step_and_its_lift_together_stop_the_sphere(rise, run, nosing, tread, open_riser, lift, limit):
    """On 0.6.0 the lift that a smaller rise or run goes with was left out: as they stood, none held."""
    rise, run, nosing, tread, lift, limit = map(F, (rise, run, nosing, tread, lift, limit))
    mends = step_mends(rise, run, nosing, tread, open_riser, lift, F(0), limit)
    assert mends
    for mend in mends:
        assert (mend.lift is None) == (lift == 0)
        for part, stops in ((F(1, 10**9), True), (-F(1, 10**9), False)):
            size = F(mend.value) * (1 - part)
            made = {"rise": rise, "run": run, "nosing": nosing, mend.what: size}
            at = lift if mend.lift is None else mend.lift
            assert step_opening(**made, tread=tread, lift=at, open_riser=open_riser, limit=limit).passes is stops
