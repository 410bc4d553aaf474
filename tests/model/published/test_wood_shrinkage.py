"""Shrinkage of wood: the two forms' own laws, the direction of change, and faults."""

from fractions import Fraction as F

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from stairguard.errors import InputError
from stairguard.model.published.wood_shrinkage import ALONG, SPECIES, shrinkage, wood_movement

NAMES = st.sampled_from(tuple(SPECIES))
GRAINS = st.sampled_from(("radial", "tangential", "along"))


def moistures(low, high):
    """Percents to the tenth: whole numbers are drawn many times quicker than fractions."""
    return st.integers(10 * low, 10 * high).map(lambda tenths: F(tenths, 10))


MOISTURES = moistures(0, 100)
MIDDLING = moistures(6, 14)


@given(NAMES, GRAINS, MOISTURES, MOISTURES)
def test_drying_shrinks_and_wetting_swells(species, grain, wet, dry):
    assume(wet > dry)
    lost, gained = shrinkage(species, grain, wet, dry), shrinkage(species, grain, dry, wet)
    if dry < 30:
        assert lost > 0 > gained
    else:
        assert lost == gained == 0
    assert shrinkage(species, grain, wet, wet) == 0


@given(NAMES, GRAINS, moistures(15, 100), MOISTURES, moistures(0, 5))
def test_what_is_lost_in_two_steps_is_what_is_lost_in_one(species, grain, wet, between, dry):
    """Sizes multiply, whatever moisture is passed on the way: by the linear estimate all through."""
    assume(not 6 <= between <= 14)
    steps = (1 - shrinkage(species, grain, wet, between)) * (1 - shrinkage(species, grain, between, dry))
    assert steps == 1 - shrinkage(species, grain, wet, dry)


@given(NAMES, MIDDLING, MIDDLING, MIDDLING)
def test_coefficients_add_up(species, one, two, three):
    assume(species != "ipe")
    parts = shrinkage(species, "tangential", one, two) + shrinkage(species, "tangential", two, three)
    assert parts == shrinkage(species, "tangential", one, three)
    assert parts == SPECIES[species].tangential_change.value * (one - three)


@given(NAMES, GRAINS)
def test_all_that_green_wood_loses_is_its_total_shrinkage(species, grain):
    wood = SPECIES[species]
    total = {"radial": wood.radial, "tangential": wood.tangential, "along": ALONG}[grain]
    for green in (F(30), F(45), F(100)):
        movement = wood_movement(species, grain, green, F(0))
        assert (movement.part, movement.low, movement.high) == (
            total.value / 100, total.least / 100, total.most / 100,
        )  # fmt: skip
        assert (movement.by, movement.figures[0]) == ("linear estimate", total)


@given(NAMES, MOISTURES, MOISTURES)
def test_along_the_grain_it_is_far_less_and_bounded_both_ways(species, wet, dry):
    along = wood_movement(species, "along", wet, dry)
    assert along.low <= along.part <= along.high
    assert abs(along.part) <= abs(shrinkage(species, "radial", wet, dry)) / 5


@pytest.mark.parametrize(
    ("before", "after", "by"),
    [(14, 6, "coefficient"), (6, 14, "coefficient"), ("14.1", 6, "linear estimate"), (14, "5.9", "linear estimate")],
)
def test_which_form_serves(before, after, by):
    assert wood_movement("white oak", "radial", F(before), F(after)).by == by
    assert wood_movement("ipe", "radial", F(before), F(after)).by == "linear estimate"
    assert wood_movement("white oak", "along", F(before), F(after)).by == "linear estimate"


def test_a_movement_names_its_figures():
    movement = wood_movement("Douglas-fir, coast", "tangential", F(12), F(8))
    assert [(figure.value, figure.status) for figure in movement.figures] == [(F("0.00267"), "from memory")]
    movement = wood_movement("Douglas-fir, coast", "tangential", F(19), F(8))
    assert [(figure.value, figure.status) for figure in movement.figures] == [(F("7.6"), "read"), (30, "from memory")]


def test_only_redcedars_two_rows_disagree_and_it_says_so():
    """A coefficient is about the total shrinkage over 30 % of moisture; from memory of the Wood Handbook's chapter."""
    for name, wood in SPECIES.items():
        for total, change in ((wood.radial, wood.radial_change), (wood.tangential, wood.tangential_change)):
            if change is None:
                assert name == "ipe"
            elif name == "western redcedar":
                assert float(change.value / (total.value / 3000)) == pytest.approx(1.4, abs=0.02)
                assert "do not agree" in wood.note
            else:
                assert 0.96 < change.value / (total.value / 3000) < 1.1


def test_every_figure_says_what_it_is_and_where_it_is_from():
    for wood in SPECIES.values():
        figures = [wood.radial, wood.tangential, wood.radial_change, wood.tangential_change]
        assert all(figure.what and figure.source for figure in figures if figure is not None)


@pytest.mark.parametrize(
    ("given_", "told"),
    [
        (("white aok", "radial", F(9), F(8)), '(the nearest is "white oak"), got white aok'),
        (("ipe", "radiall", F(9), F(8)), 'grain: must be one of radial, tangential, along (the nearest is "radial")'),
        (("ipe", "radial", F(101), F(8)), "moisture before: must be from 0 to 100 % of the dry wood's weight, got 101"),
        (("ipe", "radial", F(9), F(-1)), "moisture after: must be from 0 to 100 % of the dry wood's weight, got -1"),
        (("ipe", "radial", F(9), float("nan")), "moisture after: must be from 0 to 100 % of the dry wood's weight"),
    ],
)  # fmt: skip
def test_faults_name_what_is_wrong(given_, told):
    with pytest.raises(InputError) as caught:
        shrinkage(*given_)
    assert told in str(caught.value)
    assert "\n" not in str(caught.value)


def test_every_figure_of_a_species_says_which_it_is():
    for name, each in SPECIES.items():
        for grain, figure in (
            ("radial", each.radial), ("radial", each.radial_change),
            ("tangential", each.tangential), ("tangential", each.tangential_change),
        ):  # fmt: skip
            assert figure is None or (figure.what.startswith(f"{grain} ") and name in figure.what and figure.source)
