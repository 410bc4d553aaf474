"""Where the rails of a joint meet, in words."""

from fractions import Fraction as F

from stairguard.reports.words.joints.meeting_words import uphill_words


def test_how_far_uphill():
    def fmt(length):
        return f"{length} mm"

    assert uphill_words(F(0), "nosing 1", fmt) == "plumb over nosing 1"
    assert uphill_words(F(12), "nosing 1", fmt) == "12 mm level uphill of nosing 1"
    assert uphill_words(F(-12), "nosing 1", fmt) == "12 mm level downhill of nosing 1"
