"""Washington Administrative Code 296-24-76511, Table D-1: angle of a stair by rise and tread run.

The table is in shared/stair_pitch.csv with its source line. Its angles are whole minutes. One row is a
misprint: 8 over 9-1/2 is printed 40 08 and is 40 06.1.
"""

import csv
import math
from fractions import Fraction

import pytest

from stairguard.relations import engine
from tests.places import ROOT
from tests.relations.formulas import arrays, scalars

TABLE = ROOT / "shared" / "stair_pitch.csv"
MISPRINTED = ("8", "9.5")
# Half a minute for rounding, and a little: 6-3/4 over 10-3/4 is 32 07.48 and is printed 32 08.
MINUTES = 0.55


def rows() -> list[tuple[str, str, float]]:
    lines = [line for line in TABLE.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    out = []
    for row in csv.DictReader(lines):
        degrees, minutes = row["angle_deg_min"].split()
        out.append((row["rise_in"], row["run_in"], int(degrees) + int(minutes) / 60))
    return out


SOUND = [row for row in rows() if row[:2] != MISPRINTED]


def test_table_is_whole():
    assert len(rows()) == 13
    assert len(SOUND) == 12


@pytest.mark.parametrize(("rise", "run", "degrees"), SOUND)
def test_pitch(rise, run, degrees):
    got = scalars.pitch(Fraction(rise), Fraction(run))
    assert abs(got - degrees) * 60 <= MINUTES


@pytest.mark.parametrize(("rise", "run", "degrees"), SOUND)
def test_exact_pitch(rise, run, degrees):
    found = engine.solve("pitch", "pitch", {"rise": Fraction(rise), "run": Fraction(run)})
    assert abs(found.value - degrees) * 60 <= MINUTES
    assert found.exact == ("45" if rise == run else f"180*atan({Fraction(rise) / Fraction(run)})/pi")


def test_pitch_of_the_whole_column():
    rise, run, degrees = zip(*SOUND, strict=True)
    got = arrays.pitch([float(r) for r in rise], [float(r) for r in run])
    assert max(abs(got - degrees)) * 60 <= MINUTES


def test_the_misprinted_row_is_two_minutes_off():
    ((rise, run, degrees),) = [row for row in rows() if row[:2] == MISPRINTED]
    got = scalars.pitch(Fraction(rise), Fraction(run))
    assert got == pytest.approx(40 + 6.1 / 60, abs=0.05 / 60)
    assert (degrees - got) * 60 == pytest.approx(1.9, abs=0.05)


def test_complementary_rows():
    """The table mirrors itself about 45 degrees: swapping rise and run gives what is left of 90."""
    angles = {(rise, run): degrees for rise, run, degrees in SOUND}
    pairs = [key for key in angles if key[::-1] in angles and float(key[0]) < float(key[1])]
    assert pairs
    for rise, run in pairs:
        assert angles[rise, run] + angles[run, rise] == pytest.approx(90, abs=1.1 / 60)
        assert math.isclose(scalars.pitch(float(rise), float(run)) + scalars.pitch(float(run), float(rise)), 90)
