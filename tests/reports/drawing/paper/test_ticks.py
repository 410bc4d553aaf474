import math
import random
from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stairguard.reports.drawing.paper.ticks import axis

numbers = st.floats(-1e300, 1e300)


@given(st.lists(numbers, max_size=8), st.integers(2, 14))
def test_ticks_cover_the_values_in_round_steps(values, most):
    found = axis(values, most)
    assert 2 <= len(found.ticks) <= most + 1
    assert (found.low, found.high) == (found.ticks[0], found.ticks[-1])
    for value in values:
        assert -1e-8 <= found.share(value) <= 1 + 1e-8
    marks = [Decimal(label) for label in found.labels]
    steps = {b - a for a, b in pairwise(marks)}
    assert len(steps) == 1  # what is written is evenly spaced, to the last digit
    digits = steps.pop().normalize().as_tuple().digits
    assert "".join(map(str, digits)) in ("1", "2", "25", "5")
    assert [float(mark) for mark in marks] == list(found.ticks)


def test_no_rounder_step_would_do():
    """Brute force: of all round steps, the finest that needs no more than so many."""
    rng = random.Random(5)
    for _ in range(300):
        low, high = sorted(rng.uniform(-100, 100) for _ in range(2))
        if not (low <= 0 <= high):
            continue
        found = axis([low, high], 6)
        finer = [m * 10.0**k for k in range(-3, 4) for m in (1, 2, 2.5, 5)]
        fits = [s for s in finer if math.ceil(high / s) - math.floor(low / s) <= 6]
        assert found.ticks[1] - found.ticks[0] == pytest.approx(min(fits))


@pytest.mark.parametrize(
    ("values", "labels"),
    [
        ((), ("0.0", "0.2", "0.4", "0.6", "0.8", "1.0")),
        ((0.0,), ("0.0", "0.2", "0.4", "0.6", "0.8", "1.0")),
        ((200.0, 200.0), ("0", "50", "100", "150", "200")),
        ((-3.0,), ("-3", "-2", "-1", "0")),
        ((-20.0, 110.0), ("-50", "0", "50", "100", "150")),
        ((0.0, 500.0), ("0", "100", "200", "300", "400", "500")),
        ((480.0, 520.0), ("480", "490", "500", "510", "520")),
    ],
)
def test_axes_by_hand(values, labels):
    assert axis(values, 5).labels == labels


def test_nought_is_shown_where_it_is_near():
    assert axis([30, 100], 8).low == 0
    assert axis([-100, -30], 8).high == 0
    assert axis([90, 100], 8).low == 90


def test_thousands_are_taken_out_of_large_and_small_numbers():
    assert axis([0, 4e7], 5).power == 6
    assert axis([0, 4e7], 5).labels == ("0", "10", "20", "30", "40")
    assert axis([0, 4e-5], 5).power == -6
    assert axis([5e-324, 0], 5) == axis([0], 5)
    assert axis([0, 999999], 5).power == 0
