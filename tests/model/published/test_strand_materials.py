"""Strand from construction and material: worked out by another hand, the two units against each other, and faults."""

from fractions import Fraction as F
from math import hypot, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stairguard.errors import InputError
from stairguard.model.published.constructions import CONSTRUCTIONS
from stairguard.model.published.strand_materials import MATERIALS, breaking_force, strand_steel, with_given

NEWTONS = 4.4482216152605  # in a pound's force, exact by definition
MADE = st.sampled_from(tuple(CONSTRUCTIONS))
OF = st.sampled_from(tuple(MATERIALS))
DIAMETERS = st.fractions(F(1, 16), F(1, 2), max_denominator=64)


# Worked out independently to the digits shown, not published: diameter mm, EA and its range in kN (130 +- 10 GPa on the
# metallic area), g/m, breaking force in kN by d^2 1570 0.525. Type 316, 1x19.
@pytest.mark.parametrize(
    ("mm", "ea", "low", "high", "mass", "breaking"),
    [
        ("3.175", 782, 722, 842, 49.5, 8.31), ("4.7625", 1760, 1625, 1895, 111.3, 18.70),
        ("6.35", 3129, 2888, 3370, 197.8, 33.24), ("3", 698, 645, 752, 44.2, 7.42),
        ("4", 1242, 1146, 1337, 78.5, 13.19), ("5", 1940, 1791, 2089, 122.7, 20.61),
        ("6", 2794, 2579, 3008, 176.6, 29.67),
    ],
)  # fmt: skip
def test_316_strand_worked_out_by_another_hand(mm, ea, low, high, mass, breaking):
    steel = strand_steel("1x19", "316", F(mm), "mm")
    found = [steel.stiffness, steel.stiffness_low, steel.stiffness_high]
    assert [kn / 1000 for kn in found] == pytest.approx([ea, low, high], abs=0.51)
    assert steel.weight / 9.80665 * 1e6 == pytest.approx(mass, abs=0.051)
    assert steel.breaking / 1000 == pytest.approx(breaking, abs=0.0051)


# The same hand, in inches: kip, lb for 100 ft, lbf.
@pytest.mark.parametrize(
    ("diameter", "kip", "pounds", "lbf"),
    [("1/8", 176, 3.32, 1868), ("3/16", 396, 7.48, 4203), ("1/4", 703, 13.29, 7472)],
)
def test_316_strand_in_inches(diameter, kip, pounds, lbf):
    steel = strand_steel("1x19", "316", F(diameter), "in")
    assert steel.stiffness / 1000 == pytest.approx(kip, abs=0.51)
    assert 1200 * steel.weight == pytest.approx(pounds, abs=0.0051)
    assert steel.breaking == pytest.approx(lbf, abs=0.51)


@given(MADE, OF, DIAMETERS)
def test_one_strand_in_both_units(construction, material, diameter):
    inches, mm = (
        strand_steel(construction, material, diameter * scale, unit) for scale, unit in ((1, "in"), (F("25.4"), "mm"))
    )
    same = {"rel": 1e-12}
    assert mm.area == pytest.approx(inches.area * 25.4**2, **same)
    for name in ("stiffness", "stiffness_low", "stiffness_high", "breaking"):
        assert getattr(mm, name) == pytest.approx(getattr(inches, name) * NEWTONS, **same)
    assert mm.weight == pytest.approx(inches.weight * NEWTONS / 25.4, **same)
    assert mm.expansion == inches.expansion
    assert mm.figures == inches.figures


@given(MADE, OF, DIAMETERS)
def test_stiffness_lies_in_its_bounds_and_below_solid_wire(construction, material, diameter):
    steel = strand_steel(construction, material, diameter, "mm")
    # Young's modulus of the wire, from memory: 193 GPa of stainless steel, 200 to 210 of carbon steel
    solid = 210_000 * pi / 4 * float(diameter) ** 2
    assert 0 < steel.stiffness_low < steel.stiffness < steel.stiffness_high < solid


@given(MADE, OF, st.integers(1, 40))
def test_all_but_tabled_strength_grows_with_the_square_of_the_diameter(construction, material, tenths):
    one, two = (strand_steel(construction, material, F(n * tenths, 10), "mm") for n in (1, 2))
    for name in ("area", "stiffness", "breaking", "weight"):
        assert getattr(two, name) == pytest.approx(4 * getattr(one, name))


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
def test_the_lays_take_up_lies_between_those_of_lays_of_8_and_10_diameters(construction):
    """A wire at radius r gains sqrt(1 + (2 pi r/lay)^2); in a rope both as a wire in its strand, and as that strand."""

    def gain(rings, lay):
        return sum(n * hypot(1, 2 * pi * r / lay) for n, r in rings) / sum(n for n, _ in rings)

    seven, nineteen = ((1, 0), (6, 1 / 3)), ((1, 0), (6, 0.2), (12, 0.4))
    layers = {"1x19": (nineteen,), "7x7": (seven, seven), "7x19": (seven, nineteen)}[construction]
    short, long = 1.0, 1.0
    for rings in layers:
        short, long = short * gain(rings, 8), long * gain(rings, 10)
    assert long - 1 < CONSTRUCTIONS[construction].lay_take_up.value < short - 1


def test_breaking_force_is_exact():
    force, figures = breaking_force("7x7", "316", F(3), "mm")
    assert force == 9 * 1570 * F("0.359")
    assert {figure.status for figure in figures} == {"from memory"}


@pytest.mark.parametrize(
    ("construction", "material", "status"),
    [("7x19", "304", "read"), ("1x19", "304", "from memory"), ("1x19", "galvanized", "from memory")],
)
def test_a_specifications_strength_serves_its_own_diameters_only(construction, material, status):
    tabled, figures = breaking_force(construction, material, F("3.175"), "mm")
    assert tabled == breaking_force(construction, material, F(1, 8), "in")[0] * F("4.4482216152605")
    assert [(figure.unit, figure.status) for figure in figures] == [("lbf", status)]
    near, figures = breaking_force(construction, material, F("3.2"), "mm")
    assert near == F("3.2") ** 2 * 1570 * CONSTRUCTIONS[construction].factor.value
    assert len(figures) == 2


def test_every_figure_says_what_it_is_and_where_it_is_from():
    for construction in CONSTRUCTIONS:
        for material in MATERIALS:
            figures = strand_steel(construction, material, F(1, 8), "in").figures
            assert len(figures) == len(set(figures)) >= 6
            assert all(figure.what and figure.source for figure in figures)
            assert all(figure.least <= figure.value <= figure.most for figure in figures)
    for name, each in CONSTRUCTIONS.items():
        assert name in each.factor.what
        assert name in each.settling.what
        assert each.settling.value == (each.settling.least + each.settling.most) / 2
        assert all(name in figure.what and f"{family} wire" in figure.what for family, figure in each.modulus.items())
    settling = CONSTRUCTIONS["1x19"].settling
    assert (settling.least, settling.most, settling.status) == (F("0.001"), F("0.0025"), "from memory")


def test_the_users_own_figures_stand_in_and_say_so():
    steel = strand_steel("1x19", "316", F(1, 8), "in")
    own = with_given(steel, stiffness=F(170_000), breaking=F(2000), weight=F("0.003"), expansion=F("16e-6"))
    assert (own.stiffness_low, own.stiffness, own.stiffness_high) == (170_000, 170_000, 170_000)
    assert (own.breaking, own.weight, own.expansion) == (2000, 0.003, 16e-6)
    assert {figure.status for figure in own.figures} == {"given"}
    assert {figure.unit for figure in own.figures} == {"lbf", "lbf/in", "1/K"}
    assert with_given(steel) == steel
    part = with_given(steel, breaking=F(2000))
    assert part.stiffness == steel.stiffness
    assert part.basis.weight == steel.basis.weight
    assert [figure.status for figure in part.basis.breaking] == ["given"]


@pytest.mark.parametrize(
    ("given_", "told"),
    [
        (("1x7", "316", F(1)), 'construction: must be one of 1x19, 7x7, 7x19 (the nearest is "7x7"), got 1x7'),
        (
            ("1x19", "galvanised", F(1)),
            'material: must be one of 316, 304, galvanized (the nearest is "galvanized"), got galvanised',
        ),
        (("1x19", "316", F(0)), "diameter: must be more than zero, got 0"),
        (("1x19", "316", F(-1, 8)), "diameter: must be more than zero, got -1/8"),
    ],
)
@pytest.mark.parametrize("ask", [strand_steel, breaking_force])
def test_faults_name_what_is_wrong(ask, given_, told):
    with pytest.raises(InputError) as caught:
        ask(*given_, "in")
    assert str(caught.value) == told
