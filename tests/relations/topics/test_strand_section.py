import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from tests.relations.formulas import scalars

FILL, STEEL, TAKE_UP = 0.76, 7.98e-3, 0.03  # g/mm3


# Worked out independently to the digits shown, not published: diameter mm, metallic area mm2, mass g/m; 7.98 g/cm3 and
# 3 % of take-up in the lay.
@pytest.mark.parametrize(
    ("diameter", "area", "mass"),
    [
        (25.4 / 8, 6.017, 49.5), (25.4 * 3 / 16, 13.539, 111.3), (25.4 / 4, 24.069, 197.8), (3, 5.372, 44.2),
        (4, 9.550, 78.5), (5, 14.923, 122.7), (6, 21.488, 176.6),
    ],
)  # fmt: skip
def test_area_and_mass_worked_out_by_another_hand(diameter, area, mass):
    ours = scalars.strand_area(diameter, FILL)
    assert ours == pytest.approx(area, abs=6e-4)
    assert 1000 * scalars.strand_mass(ours, STEEL, TAKE_UP) == pytest.approx(mass, abs=0.06)


@given(st.floats(0.5, 20))
def test_area_by_nineteen_circles_drawn_out(diameter):
    """One wire, six round it, twelve round those: all inside, and GEOS adds up the area that they cover together."""
    wire = diameter / 5
    centres = [(0.0, 0.0)]
    for ring, count in ((1, 6), (2, 12)):
        # Six of the outer ring lie two wires out; those between sit in the valleys, a little nearer.
        for k in range(count):
            angle = 2 * math.pi * k / count
            out = ring * wire * (math.cos(math.pi / 6) if ring == 2 and k % 2 else 1)
            centres.append((out * math.cos(angle), out * math.sin(angle)))
    circles = [shapely.Point(c).buffer(wire / 2, quad_segs=64) for c in centres]
    together = shapely.union_all(circles)
    assert shapely.Point(0, 0).buffer(diameter / 2 * 1.001, quad_segs=256).contains(together)
    # a polygon of 256 sides has 1e-4 less area than its circle
    assert together.area == pytest.approx(scalars.strand_area(diameter, 19 / 25), rel=2e-4)


@given(st.floats(0.5, 20), st.floats(0.1, 1), st.floats(1, 20), st.floats(0, 0.2))
def test_mass_grows_as_the_square_of_the_diameter_and_with_the_helix(diameter, fill, density, take_up):
    one = scalars.strand_mass(scalars.strand_area(diameter, fill), density, take_up)
    assert scalars.strand_mass(scalars.strand_area(2 * diameter, fill), density, take_up) == pytest.approx(4 * one)
    straight = scalars.strand_mass(scalars.strand_area(diameter, fill), density, 0.0)
    assert one / straight == pytest.approx(1 + take_up)
