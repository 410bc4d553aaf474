"""Tapes' greatest errors.

NIST Handbook 44, section 5.52, as given in the US Access Board's report "Dimensional tolerances in construction and for
surface accessibility", metal measuring tapes (corada.com), read second hand: 1/32 in to 6 ft, 1/16 for 7 to 30 ft, 1/8
for 31 to 55, 3/16 for 56 to 80, 1/4 for 81 to 100 ft.

Directive 2014/32/EU, annex X (MI-008): a + b L with L in metres rounded up; a/b are 0.1/0.1, 0.3/0.2, 0.6/0.4 mm for
classes I, II, III, so 0.6, 1.3, 2.6 mm at 5 m. From memory: check against the directive.
"""

from fractions import Fraction as F

import pytest

from stairguard.io.parse.plus_minus import TAPES
from stairguard.io.parse.tapes import read_tape


@pytest.mark.parametrize(
    ("feet", "error"),
    [("1", "1/32"), ("6", "1/32"), ("6.01", "1/16"), ("7", "1/16"), ("30", "1/16"), ("31", "1/8"), ("55", "1/8"),
     ("56", "3/16"), ("80", "3/16"), ("81", "1/4"), ("100", "1/4")],
)  # fmt: skip
def test_handbook_44(feet, error):
    assert read_tape("us", "in").plus_minus(12 * F(feet)) == F(error)
    assert read_tape("us", "mm").plus_minus(F("304.8") * F(feet)) == F(error) * F("25.4")


def test_handbook_44_ends_at_100_feet():
    assert read_tape("us", "in").plus_minus(F(1201)) is None


@pytest.mark.parametrize(
    ("name", "at_5_m", "at_1_m"), [("eu-1", "0.6", "0.2"), ("eu-2", "1.3", "0.5"), ("eu-3", "2.6", "1")]
)
def test_eu_classes(name, at_5_m, at_1_m):
    tape = read_tape(name, "mm")
    assert tape.plus_minus(F(5000)) == tape.plus_minus(F(4001)) == F(at_5_m)
    assert tape.plus_minus(F(1000)) == F(at_1_m)
    assert read_tape(name, "in").plus_minus(F(10)) == F(at_1_m) / F("25.4")
    assert tape.status == "from memory"


def test_every_tape_says_where_it_is_from():
    for name in TAPES:
        tape = read_tape(name, "mm")
        assert tape.title
        assert tape.source
        assert tape.note
        assert tape.status in ("secondary", "from memory")
