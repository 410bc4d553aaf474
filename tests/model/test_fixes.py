"""Words of fixes, as a person reads them: places counted from 1, figures that can be typed as they stand."""

from fractions import Fraction as F

import pytest

from stairguard.model.fixes import Evened, Inserted, Reshaped

UNIT = ("in", F(1, 16))


@pytest.mark.parametrize(
    ("fix", "words"),
    [
        (Inserted(2, F(36), True, *UNIT), "put a landing of 3' 0\" between surfaces 2 and 3"),
        (
            Inserted(1, F(73, 2), False, *UNIT),
            "put a landing of 3' 1/2\", with level_piece = false, between surfaces 1 and 2",
        ),
        (Evened(0, "risers", F(29, 4), *UNIT), 'even out the risers of surface 1 between its ends, to 7-1/4" each'),
        (
            Reshaped(0, (("A", F(5), F(4)), ("B", F(3), F(13, 4))), None, False, *UNIT),
            'A 4" (1" less) and B 3-1/4" (1/4" more)',
        ),
        (Reshaped(0, (("A", F(5), F(4)),), (F(15, 4),), False, *UNIT), 'A 4" (1" less); to be sure, A 3-3/4"'),
        (Reshaped(0, (("A", F(5), F(4)),), None, True, *UNIT), 'A 4" (1" less), and it is still too close to call'),
    ],
)
def test_what_a_fix_says(fix, words):
    assert str(fix) == words
