"""Figures of strand from several sources, each named at its test, with how it is known."""

from fractions import Fraction as F
from math import cos, pi, radians, sin

import pytest
import shapely

from stairguard.model.published.constructions import CONSTRUCTIONS
from stairguard.model.published.frame_expansion import FRAMES
from stairguard.model.published.strand_materials import MATERIALS, breaking_force, strand_steel


# Derived: equal circles touching each other, counted, and drawn to see that they lie apart and inside.
@pytest.mark.parametrize(
    ("name", "strands", "wires", "fill"),
    [("1x19", 1, 19, F(19, 25)), ("7x7", 7, 7, F(49, 81)), ("7x19", 7, 19, F(133, 225))],
)
def test_fill_by_counting_circles(name, strands, wires, fill):
    assert CONSTRUCTIONS[name].fill.value == fill
    assert CONSTRUCTIONS[name].fill.status == "derived"
    across = {1: 1, 7: 3, 19: 5}
    wire = 1 / (across[strands] * across[wires])
    centres = [(x + u, y + v) for x, y in _circles(strands, wire * across[wires]) for u, v in _circles(wires, wire)]
    assert len(centres) == strands * wires
    drawn = [shapely.Point(centre).buffer(wire / 2 * (1 - 1e-9), quad_segs=32) for centre in centres]
    together = shapely.union_all(drawn)
    # a polygon of 128 sides has 4e-4 less area than its circle; any overlap would take more away
    assert sum(circle.area for circle in drawn) == pytest.approx(together.area, rel=1e-6)
    assert together.area / (pi / 4) == pytest.approx(float(fill), rel=5e-4)
    assert shapely.Point(0, 0).buffer(0.5 * 1.001, quad_segs=256).contains(together)


def _circles(count, size):
    """Centres of touching circles: one, six round it, twelve round those, six of which sit in valleys."""
    found = [(0.0, 0.0)]
    for ring, n in ((1, 6), (2, 12)):
        for k in range(n if count > len(found) else 0):
            out = ring * size * (cos(pi / 6) if ring == 2 and k % 2 else 1)
            turn = radians(360 * k / n)
            found.append((out * cos(turn), out * sin(turn)))
    return found


# EN 1993-1-11:2006, Table 3.1, modulus on metallic area, GPa; from memory.
@pytest.mark.parametrize(
    ("name", "family", "gpa"),
    [("1x19", "stainless", 130), ("1x19", "carbon", 150), ("7x7", "stainless", 90), ("7x7", "carbon", 100),
     ("7x19", "stainless", 90), ("7x19", "carbon", 100)],
)  # fmt: skip
def test_effective_modulus(name, family, gpa):
    modulus = CONSTRUCTIONS[name].modulus[family]
    assert (modulus.least, modulus.value, modulus.most) == (gpa - 10, gpa, gpa + 10)
    assert modulus.status == "from memory"


def test_spiral_strand_of_carbon_steel_against_another_code():
    """DNV-OS-E301 (2008), Ch. 2 Sec. 2 B106: 113 GPa on the gross area; read second hand, in a research note."""
    gross = CONSTRUCTIONS["1x19"].modulus["carbon"].value * CONSTRUCTIONS["1x19"].fill.value
    assert float(gross) == pytest.approx(113, rel=0.01)


# Callister, Materials Science and Engineering, Table B.6, 1e-6/K (pdfslide.us thermal-expansion-data-table), and 3rd
# edition, appendix B, p. 816 (issuhub.com/view/index/5550?pageIndex=844); read.
def test_thermal_expansion():
    assert {name: metal.expansion.value for name, metal in MATERIALS.items()} == {
        "316": F("15.9"), "304": F("17.2"), "galvanized": F("11.7"),
    }  # fmt: skip
    assert [MATERIALS[name].expansion.status for name in ("316", "304", "galvanized")] == ["read", "read", "assumed"]
    assert [FRAMES[name].value for name in ("steel", "stainless", "aluminium")] == [F("11.7"), F("15.9"), F("23.6")]
    assert all(FRAMES[name].status == "read" for name in ("steel", "stainless", "aluminium"))


# Wood Handbook, ch. 4, along the grain, from memory; Record, The Mechanical Properties of Wood (1914), has 4.92 for
# oak, read at s-twc.com.
def test_thermal_expansion_of_wood_along_the_grain():
    wood = FRAMES["wood"]
    assert (wood.least, wood.most, wood.status) == (F("3.1"), F("4.5"), "from memory")
    assert 1 < F("4.92") / wood.most < F("1.1")


# MIL-DTL-87161, type II (1x19), compositions A and B, lbf; from memory, to be checked against the specification.
@pytest.mark.parametrize(("diameter", "pounds"), [("1/8", 2100), ("5/32", 3300), ("3/16", 4700), ("1/4", 8200)])
@pytest.mark.parametrize("material", ["304", "galvanized"])
def test_breaking_force_of_1x19(diameter, pounds, material):
    force, (figure,) = breaking_force("1x19", material, F(diameter), "in")
    assert (force, figure.status) == (pounds, "from memory")
    # on the metallic area, N/mm2: near the wire grade, as strands of a few wires are
    stress = float(force) * 4.4482216152605 / strand_steel("1x19", material, F(diameter) * F("25.4"), "mm").area
    assert 1510 < stress < 1570
    # type 316 wire is drawn 10 to 15 % less hard; from memory
    assert 0.87 < breaking_force("1x19", "316", F(diameter), "in")[0] / force < 0.92
