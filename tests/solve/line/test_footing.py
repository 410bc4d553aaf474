from fractions import Fraction as F
from types import SimpleNamespace

import pytest

from stairguard.solve.line.footing import tread_at


@pytest.mark.parametrize("count", [2, 3, 4, 7, 8, 13])
def test_the_tread_under_a_post_is_the_last_whose_nosing_it_has_passed(count):
    # nosings 10 apart, the first at 10; the last one is the upper floor's and no tread
    up = SimpleNamespace(count=count, x=lambda n: F(10 * n))
    for x in range(0, 10 * count + 6, 5):
        passed = [n for n in range(1, count) if 10 * n <= x]
        assert tread_at(up, F(x)) == max(passed, default=1)
