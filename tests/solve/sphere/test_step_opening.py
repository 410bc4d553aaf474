"""The step opening: figures given for the tool, ties, the true nosing, and shapely as the independent witness."""

from fractions import Fraction as F

import numpy as np
import pytest
import shapely

from stairguard.errors import GeometryError
from stairguard.solve.sphere.step_opening import step_opening
from stairguard.solve.sphere.step_outline import step_figure
from tests.relations.formulas import scalars


def test_figure_of_the_closed_form():
    found = step_opening(F(31, 4), F(10), F(1), F(1), F(0), False, None)
    assert found.sphere == pytest.approx(5.60826098, abs=5e-9)
    assert set(found.touches) == {"tread", "riser", "member"}
    assert found.passes is None


@pytest.mark.parametrize("scale", [F(1), F(2, 3), F(254, 10), F(1, 7)])
def test_exact_tie_fails_and_a_hair_less_passes(scale):
    # 3-4-5 stair: rise 7.5, run 10, lift 1.2 lets a 6 sphere touch exactly (derived; see the step-sphere relation)
    tie = step_opening(F(15, 2) * scale, 10 * scale, F(0), F(0), F(6, 5) * scale, False, 6 * scale)
    assert tie.sphere == float(6 * scale)
    assert tie.passes is False
    hair = F(6, 5) * scale * (1 - F(1, 10**15))
    assert step_opening(F(15, 2) * scale, 10 * scale, F(0), F(0), hair, False, 6 * scale).passes is True


def polygon(rise, run, nosing, tread, lift):
    """Three steps as a polygon, closed at both ends, for shapely; the middle one is asked about."""
    slope = rise / run
    up = lift * np.hypot(1, slope)
    points = [(-run, -rise)]
    for k in (-1, 0, 1):
        x, z = (k + 1) * run, (k + 1) * rise
        points += [
            (x + nosing, z - rise),
            (x + nosing, z - tread if nosing else z),
            (x, z - tread if nosing else z),
            (x, z),
        ]
    points += [(3 * run, 2 * rise), (3 * run, 3 * rise + up), (-run, -rise + up)]
    return shapely.Polygon(points).buffer(0)


def test_random_steps_with_thick_treads_and_long_nosings_against_shapely():
    rng = np.random.default_rng(2)
    unlike_closed_form = 0
    for _ in range(120):
        rise, run = rng.uniform(4, 9), rng.uniform(8, 14)
        nosing, tread = rng.uniform(0, 4), rng.uniform(0.25, 3.5)
        lift = rng.uniform(0.05, 0.8)
        found = step_opening(F(rise), F(run), F(nosing), F(tread), F(lift), False, None)
        # only what lies over the middle tread and under the member, cut square at both nosings
        window = shapely.box(-0.3, -0.3, run + 0.3 * 0 + nosing + 1e-3, rise + 20)
        region = polygon(rise, run, nosing, tread, lift).intersection(window)
        theirs = 2 * shapely.maximum_inscribed_circle(region, tolerance=1e-7).length
        assert found.sphere == pytest.approx(theirs, abs=1e-6)
        formula = scalars.step_sphere(rise, run, nosing, lift)
        assert found.sphere <= formula * (1 + 1e-12)
        unlike_closed_form += found.sphere < formula * (1 - 1e-6)
        if set(found.touches) == {"tread", "riser", "member"}:
            assert found.sphere == pytest.approx(formula, rel=1e-13)
    assert unlike_closed_form > 10


def grid_best(rise, run, nosing, tread, lift):
    """Brute force over centres above tread 1 of an open stair: twice the greatest distance to boards and member."""
    boards = [shapely.box(k * run, k * rise - tread, (k + 1) * run + nosing, k * rise) for k in (-1, 0, 1, 2)]
    stair = shapely.union_all(boards)
    x, z = np.meshgrid(np.linspace(0, run + nosing, 400), np.linspace(0, rise + 4, 400))
    k = np.hypot(rise, run)
    below = lift - (z * run - x * rise) / k
    clear = np.minimum(shapely.distance(stair, shapely.points(x, z)), below)
    return 2 * clear.max()


@pytest.mark.parametrize(("tread", "nosing", "lift"), [(1, 1, 0), (3, 1, 0), (2, 0, 1), (0.5, 1.25, 3)])
def test_open_riser_against_brute_force(tread, nosing, lift):
    found = step_opening(F(15, 2), F(10), F(nosing), F(tread), F(lift), True, F(4))
    assert found.sphere >= 7.5 - tread
    assert found.sphere == pytest.approx(grid_best(7.5, 10, nosing, tread, lift), rel=5e-3)
    assert found.passes is False
    assert "tread" in found.touches
    assert "nosing" in found.touches
    assert "riser" not in found.touches


def test_high_member_rests_the_sphere_on_two_nosings():
    found = step_opening(F(15, 2), F(10), F(1), F(1), F(20), False, None)
    assert sorted(found.touches) == ["member", "nosing", "nosing"]
    # chord of 12.5 between the nosings: (d/2)^2 = (12.5/2)^2 + (20 - d/2)^2
    assert found.sphere == pytest.approx(20 + 12.5**2 / 80, rel=1e-14)


def test_the_sphere_between_two_treads_is_drawn_where_it_slides():
    """A throat of 6-1/2 between a tread and the board above: its centre may be anywhere over the board, half way up."""
    step = {"rise": F(15, 2), "run": F(10), "nosing": F(1), "tread": F(1), "lift": F(-1)}
    found = step_figure(step, True)
    outline, pocket = found.outline, found.pocket
    assert pocket.diameter == 6.5
    assert pocket.centre == (10.5, 3.25)
    assert pocket.ridge == ((10.0, 3.25), (11.0, 3.25))
    assert [(float(edge.a.x), float(edge.b.x)) for edge in outline.sides] == [(0, 11), (21, 10)]
    with pytest.raises(GeometryError, match="lift: must be high enough to leave an opening over the tread"):
        step_figure({**step, "lift": F(-8)}, False)
