from fractions import Fraction as F

import pytest

from stairguard.errors import InputError
from stairguard.model.published.frame_expansion import FRAMES, frame_expansion
from stairguard.model.published.strand_materials import MATERIALS, strand_steel


def test_every_frame_says_how_its_figure_is_known():
    for name, figure in FRAMES.items():
        assert frame_expansion(name) is figure
        assert figure.least <= figure.value <= figure.most
        assert figure.what
        assert figure.source
    assert FRAMES["rigid"].value == 0


def test_a_frame_of_the_strands_own_steel_keeps_its_tension():
    assert FRAMES["stainless"].value == MATERIALS["316"].expansion.value
    assert FRAMES["steel"].value == MATERIALS["galvanized"].expansion.value


# Worked out by another hand: N for each kelvin of warming, 316 strand of 1/8 and 3/16 in, ends fixed to the frame.
@pytest.mark.parametrize(
    ("frame", "eighth", "three_sixteenths"),
    [("rigid", -12.4, -28.0), ("steel", -3.28, -7.39), ("aluminium", 6.02, 13.6)],
)
def test_tension_by_temperature_has_the_signs_of_its_frame(frame, eighth, three_sixteenths):
    for diameter, newtons in ((F("3.175"), eighth), (F("4.7625"), three_sixteenths)):
        steel = strand_steel("1x19", "316", diameter, "mm")
        changed = -steel.stiffness * (steel.expansion - float(frame_expansion(frame).value) / 1e6)
        assert changed == pytest.approx(newtons, rel=0.005)


def test_no_such_frame():
    with pytest.raises(InputError, match=r'frame: must be one of .* \(the nearest is "aluminium"\), got aluminum'):
        frame_expansion("aluminum")
