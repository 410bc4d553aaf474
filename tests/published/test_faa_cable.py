"""FAA AC 43.13-1B, Table 7-3: minimum breaking strength of flexible 7x19 cable, corrosion-resistant (composition B).

Read at landseaskyspace.com/ac4313/p7-28.html.
"""

from fractions import Fraction as F

import pytest

from stairguard.model.published.strand_materials import breaking_force, strand_steel


@pytest.mark.parametrize(("diameter", "pounds"), [("1/8", 1760), ("5/32", 2400), ("3/16", 3700), ("1/4", 6400)])
def test_7x19_of_corrosion_resistant_steel(diameter, pounds):
    force, (figure,) = breaking_force("7x19", "304", F(diameter), "in")
    assert force == pounds
    assert figure.status == "read"
    assert strand_steel("7x19", "304", F(diameter), "in").breaking == pounds
    # the formula with its remembered factors stays well on the safe side of the table
    formula, _ = breaking_force("7x19", "316", F(diameter), "in")
    assert 0.6 < formula / pounds < 0.8


# The same table's approximate weights, pounds for 100 ft, from memory: ours are 3 to 10 % less, that cable being
# thicker than nominal (its tolerance is only upwards: 0.014 in at 1/8, 0.018 in at 3/16 and 1/4, read).
@pytest.mark.parametrize(("diameter", "pounds"), [("1/8", 2.9), ("5/32", 4.5), ("3/16", 6.5), ("1/4", 11.0)])
def test_within_eleven_per_cent_of_its_weights(diameter, pounds):
    ours = 1200 * strand_steel("7x19", "304", F(diameter), "in").weight
    assert 0.89 * pounds < ours < 0.98 * pounds
