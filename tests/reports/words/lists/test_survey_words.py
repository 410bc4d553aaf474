"""Measured flights in words: how far steps differ, and which nosings forbid a straight rail."""

from dataclasses import replace
from fractions import Fraction as F

import pytest

from stairguard.geometry.survey.straightedge import Spread
from stairguard.reports.words.lengths import Figures
from stairguard.reports.words.lists.survey_words import band_words, difference_words
from tests.reports.lines import checked

FIGURES = Figures("in", F(1, 16))


def test_how_far_steps_differ():
    spread = Spread(largest=F(3, 8), between=(2, 0), adjacent=F(1, 4), neighbours=(1, 2))
    assert difference_words("riser", spread, FIGURES) == (
        f"risers, numbered from below: largest difference of any two {FIGURES.between(F(3, 8))} (riser 3 the smallest, "
        f"1 the largest); of neighbours {FIGURES.between(F(1, 4))} (2 and 3)"
    )
    assert difference_words("run", replace(spread, largest=F(0)), FIGURES) == "runs: all equal"


@pytest.mark.parametrize(("optional", "where"), [(False, ""), (True, " for the optional rules too")])
def test_nosings_that_forbid_a_straight_rail(optional, where):
    layout = checked("bad survey").layout
    (straight,) = layout.straight
    surface = layout.line.surfaces[straight.surface]
    rails = straight.optional.rails
    blocking = replace(rails.blocking, too_low=(1,), too_high=(0, 3), by=F(1, 2))
    band = replace(
        straight.optional, clauses=("R1", "R2"), rails=replace(rails, least=F(34), most=F(38), blocking=blocking)
    )
    assert band_words(surface, band, straight.steps.tops, FIGURES, optional=optional) == (
        f"straight rails{where}, at least 34 and at most 38 in, plumb, over every nosing (R1; R2): there is none. A "
        "rail high enough over nosing 2 is too high over nosings 1, 4: the band would have to be "
        f"{FIGURES.between(F(1, 2))} wider"
    )
