from fractions import Fraction as F

import pytest

from stairguard.model.rules import Rule


@pytest.mark.parametrize(
    ("band", "low", "high", "spans", "reached"),
    [
        ((None, None), F(0), None, True, True),
        ((None, F(36)), F(0), F(36), True, True),
        ((None, F(36)), F(0), F(37), False, True),
        ((None, F(36)), F(0), None, False, True),
        ((None, F(36)), F(36), F(40), False, False),
        ((F(4), None), F(4), None, True, True),
        ((F(4), None), F(3), F(40), False, True),
        ((F(4), None), F(0), F(4), False, False),
        ((F(4), F(36)), F(4), F(36), True, True),
        ((F(4), F(36)), F(5), F(36), True, True),
    ],
)
def test_a_band_of_heights_by_hand(band, low, high, spans, reached):
    rule = Rule("opening", "any", "stops", F(4), "1", "read", "", "", True, from_height=band[0], to_height=band[1])
    assert (rule.spans(low, high), rule.reached(low, high)) == (spans, reached)
