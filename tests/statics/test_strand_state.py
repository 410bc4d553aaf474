"""Changes of a strand's tension, its sag, a hung mass: limits, scipy and numpy as witnesses, arrays against numbers.

Bays are in inches and lbf, or metres and newtons where it says so; EA of 176 kip is about that of 1x19 strand of 1/8 in
(130 kN/mm2 on metallic area, from memory).
"""

from functools import partial
from math import asinh, cosh, hypot, radians, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq, minimize

from stairguard.statics.strand_state import (
    catenary_sag,
    changed_tension,
    hung_deflection,
    seat_shortening,
    softened,
    tension_from_deflection,
)
from tests.relations.formulas import scalars

INF, NAN = float("inf"), float("nan")
EA = 176000.0
WEIGHT = 0.0332 / 12  # lbf/in, 3.32 lb/100 ft: worked out from 7.98 g/cm3, from memory

tensions = st.floats(1, 2000)
stiffnesses = st.floats(1e4, 1e6)
bays = st.floats(10, 100)
longer = st.floats(1, 10)  # the run, in bays
forces = st.floats(0.01, 500)


# ---- anchors that give


def test_three_things_that_give_in_line():
    """A strand of EA/run and two springs under one force: what each lengthens by adds up."""
    force, k = 300.0, 2500.0
    lengthened = force * 240 / EA + force / k + force / k
    assert softened(EA, 240, k) == pytest.approx(force / lengthened * 240, rel=1e-14)


def test_rigid_anchors_and_none():
    assert softened(EA, 240, INF) == EA
    assert softened(EA, 240, 0) == 0
    assert softened(0, 240, 2500) == 0
    # a strand that cannot stretch leaves the two springs, in line
    assert softened(INF, 240, 2500) == pytest.approx(1250 * 240)


# ---- change of state


def states(count, seed):
    rng = np.random.default_rng(seed)
    return (
        10 ** rng.uniform(-1, 3.3, count), 10 ** rng.uniform(4, 6, count), 10 ** rng.uniform(1, 2.3, count),
        10 ** rng.uniform(-4, 0, count), rng.uniform(-0.005, 0.02, count), 10 ** rng.uniform(-4, 0, count),
    )  # fmt: skip


def test_it_is_the_one_positive_root_that_numpy_finds():
    for t1, ea, bay, w2, strain, w1 in zip(*states(300, 1), strict=True):
        roots = np.roots(
            [1, ea * (w1 * bay / t1) ** 2 / 24 + ea * strain - t1, 0, -ea * (w2 * bay) ** 2 / 24],
        )
        (real,) = [root.real for root in roots if abs(root.imag) <= 1e-9 * abs(root) and root.real > 0]
        assert changed_tension(t1, ea, bay, w2, strain, w1) == pytest.approx(real, rel=1e-7)


@pytest.mark.parametrize("unit", [1e-12, 1e-6, 1e6, 1e12])
def test_a_change_of_state_scales_with_its_unit_of_force(unit):
    """However small or large forces come out, all of their digits are found: taut, all but slack and slack."""
    strain = np.array([-1e-3, 0.0, 1e-3, 2e-3, 1e-2])
    known = changed_tension(200, EA, 48, 0.002, strain)
    assert changed_tension(200 * unit, EA * unit, 48, 0.002 * unit, strain) / unit == pytest.approx(known, rel=1e-12)


def test_strand_without_weight_is_straight_or_slack():
    strain = np.array([-1e-3, 0.0, 5e-4, 200 / EA, 2e-3])
    assert changed_tension(200, EA, 48, 0, strain) == pytest.approx(np.maximum(200 - EA * strain, 0), abs=1e-9)
    assert changed_tension(200, EA, 48, 0, 0) == 200
    assert changed_tension(200, EA, 48, 0, 1) == 0
    # without stiffness nothing changes it
    assert changed_tension(200, 0, 48, 0, 1e-3) == 200


def test_without_weight_it_is_the_relations():
    got = changed_tension(200, EA, 48, 0, (15.9e-6 - 23.6e-6) * -40)
    assert got == pytest.approx(scalars.tension_by_temperature(200, EA, 15.9e-6, 23.6e-6, -40), rel=1e-12)
    assert changed_tension(200, EA, 48, 0, 0.1 / 240) == pytest.approx(
        scalars.tension_by_shortening(200, EA, 240, 0.1), rel=1e-12
    )


def test_weight_of_a_taut_strand_hardly_matters_and_of_a_slack_one_is_all():
    taut = changed_tension(200, EA, 48, WEIGHT, 5e-4)
    assert taut == pytest.approx(200 - EA * 5e-4, rel=1e-4)
    # far past slack the strand only hangs: the excess length of its parabola is the strain
    for strain in (0.01, 0.1):
        slack = changed_tension(200, EA, 48, WEIGHT, strain)
        excess = strain - 200 / EA
        assert slack == pytest.approx(WEIGHT * 48 / sqrt(24 * excess), rel=1e-3)


@given(tensions, stiffnesses, bays, st.floats(1e-4, 0.1), st.floats(-0.002, 0.01))
def test_there_and_back(t1, ea, bay, weight, strain):
    after = changed_tension(t1, ea, bay, weight, strain)
    assert after > 0
    # a slack strand's tension says little of how long it is: its last digit is worth (3 T + 2 p)/T of them at the start
    worth = 1 + ea * (weight * bay) ** 2 / 12 / float(after) ** 3
    assert changed_tension(after, ea, bay, weight, -strain) == pytest.approx(t1, rel=1e-12 * worth + 1e-9, abs=1e-6)


@given(tensions, stiffnesses, bays, st.floats(1e-4, 0.1), st.floats(-0.002, 0.01), st.floats(1e-6, 1e-3))
def test_the_longer_it_grows_the_less_tension(t1, ea, bay, weight, strain, more):
    assert changed_tension(t1, ea, bay, weight, strain + more) < changed_tension(t1, ea, bay, weight, strain)


def test_a_load_that_goes_lets_a_strand_down_by_its_excess():
    """Loaded before and weightless after: taut again, less what its sag had taken up."""
    sagged = (0.5 * 48) ** 2 / (24 * 200**2)
    assert changed_tension(200, EA, 48, 0, 0, weight_before=0.5) == pytest.approx(200 - EA * sagged, rel=1e-12)


def unstretched(level, weight, bay, ea):
    """Own length of an elastic strand that hangs in a level bay with this level part of its tension.

    Half of the bay is H/w asinh(w s/H) + H s/EA, where s is half of the own length and weight is of own length
    (the elastic catenary of textbooks of cables, from memory; its two parts are the catenary's and Hooke's).
    """

    def too_long(half):
        return level / weight * asinh(weight * half / level) + level * half / ea - bay / 2

    return 2 * brentq(too_long, 0, 2 * bay, xtol=1e-15 * bay, rtol=1e-15)


@pytest.mark.parametrize("strain", [-1e-3, 3e-4, 1e-3, 2e-3, 5e-3])
@pytest.mark.parametrize("weight", [WEIGHT, 20 * WEIGHT])
def test_against_the_elastic_catenary(strain, weight):
    """Strain beside one is left out, so it is that close; of a slack strand, all there is is the parabola's excess."""
    own = unstretched(200.0, weight, 48.0, EA) * (1 + strain)
    found = brentq(lambda level: unstretched(level, weight, 48.0, EA) - own, 18 * weight, 2000, xtol=1e-12, rtol=1e-14)
    assert changed_tension(200, EA, 48, weight, strain) == pytest.approx(found, rel=3 * abs(strain) + 5e-4)


def test_sliding_through_unequal_bays():
    """One tension, lengths added up, against the own length solved for by scipy."""
    spans, strain = (60.0, 24.0, 48.0, 9.0), 2e-3
    run = sum(spans)
    one = sqrt(sum(span**3 for span in spans) / run)

    def own(tension):
        return sum(span * (1 + (10 * WEIGHT * span / tension) ** 2 / 24) for span in spans) / run - tension / EA

    found = brentq(lambda tension: own(tension) - own(200) - strain, 1e-3, 200, xtol=1e-13)
    assert changed_tension(200, EA, one, 10 * WEIGHT, strain) == pytest.approx(found, rel=1e-10)
    assert changed_tension(200, EA, 48, 10 * WEIGHT, strain) != pytest.approx(found, rel=1e-3)


def test_posts_that_lean_back_as_tension_goes():
    """Each anchor has come in by T/k: when it slackens, the run grows, which the softened EA takes in exactly."""
    k, strain, run = 900.0, 1e-3, 48.0

    def over(tension):  # own length over that of the unloaded run, less what the posts have come in by
        return (WEIGHT * run / tension) ** 2 / 24 - tension / EA - 2 * tension / k / run

    found = brentq(lambda tension: over(tension) - over(200) - strain, 1e-3, 200, xtol=1e-13)
    assert changed_tension(200, softened(EA, run, k), run, WEIGHT, strain) == pytest.approx(found, rel=1e-10)


@pytest.mark.parametrize(
    "wrong", [(0, EA, 48, WEIGHT, 0), (-5, EA, 48, WEIGHT, 0), (200, -1, 48, WEIGHT, 0), (200, INF, 48, WEIGHT, 1e-3),
              (200, EA, -1, WEIGHT, 0), (200, EA, 48, WEIGHT, NAN), (200, EA, 48, NAN, 0)],
)  # fmt: skip
def test_change_of_what_there_is_not_has_no_answer(wrong):
    assert np.isnan(changed_tension(*wrong))


# ---- sag


def hanging(weight, bay, tension, pitch):
    """Mid-bay sag of the catenary through two points, its lowest place found by scipy."""
    level, rise = bay * np.cos(radians(pitch)), bay * np.sin(radians(pitch))
    c = tension * np.cos(radians(pitch)) / weight
    reach = 3 * c + 2 * bay
    lowest = brentq(lambda x: c * (cosh((level - x) / c) - cosh(x / c)) - rise, -reach, reach, xtol=1e-13)
    middle = c * cosh((level / 2 - lowest) / c)
    return (c * cosh(lowest / c) + c * cosh((level - lowest) / c)) / 2 - middle


@pytest.mark.parametrize("pitch", [0, 4.8, 35, -35, 60])
@pytest.mark.parametrize("heavy", [0.1, 0.5, 1.0, 3.0])
def test_catenary_through_two_points(pitch, heavy):
    weight = heavy * 200 / 48
    assert catenary_sag(weight, 48, 200, pitch) == pytest.approx(hanging(weight, 48, 200, pitch), rel=1e-9)


@pytest.mark.parametrize("pitch", [0, 20, 35, 45, 70, 90])
def test_parabola_is_right_but_for_the_stated_part(pitch):
    off = np.sin(radians(pitch)) ** 2 / 24 - 1 / 48
    for x in (0.02, 0.1, 0.5):
        exact = float(catenary_sag(x * 200 / 48, 48, 200, pitch))
        parabola = scalars.strand_sag(x * 200 / 48, 48, 200)
        assert parabola / exact - 1 == pytest.approx(off * x**2, abs=x**4 / 100)


def test_parabola_of_a_strand_in_a_guard():
    """In a bay of six feet, even at a fifth of a usual tension, right to 1e-6: sag is the same on every pitch."""
    for pitch in (0, 33, 45):
        exact = float(catenary_sag(WEIGHT, 72, 40, pitch))
        assert scalars.strand_sag(WEIGHT, 72, 40) == pytest.approx(exact, rel=1e-6)


def test_sag_without_weight_length_or_tension():
    assert catenary_sag(0, 48, 200, 30) == 0
    assert catenary_sag(WEIGHT, 0, 200, 30) == 0
    assert catenary_sag(WEIGHT, 48, 0) == catenary_sag(WEIGHT, 0.5, 0) == INF
    assert catenary_sag(1e4, 48, 1e-3) == INF  # deeper than a number can tell
    assert np.isnan(catenary_sag(0, 48, 0))


# ---- a hung mass


def energy_least(force, tension, ea, bay, run, spring=INF):
    """Deflection of least energy, scipy's own search over deflection and what both supports come in by together."""
    own = run / (1 + tension / ea)
    soft = np.isfinite(spring)

    def energy(at):
        q, come_in = at[0], at[1] if soft else 0.0
        stretched = run - bay + 2 * hypot(bay / 2, q) - come_in - own
        # the springs push back by what they were pressed by at rest already
        springs = come_in * tension + spring / 4 * come_in**2 if soft else 0.0
        return ea / own / 2 * max(stretched, 0.0) ** 2 + springs - force * q

    scale = bay / 50
    found = minimize(
        lambda at: energy(at * scale), [1.0, 0.0], method="Nelder-Mead",
        options={"xatol": 1e-9, "fatol": 1e-13, "maxiter": 4000},
    )  # fmt: skip
    return found.x[0] * scale


@pytest.mark.parametrize(
    ("force", "tension", "run"), [(50, 200, 42), (50, 0, 42), (5, 100, 240), (150, 20, 100), (20, -50, 42)]
)
def test_deflection_of_least_energy(force, tension, run):
    least = energy_least(force, tension, EA, 42, run)
    assert hung_deflection(force, tension, EA, 42, run) == pytest.approx(least, rel=1e-6)


@pytest.mark.parametrize("spring", [300.0, 3000.0, 30000.0])
def test_deflection_on_springs(spring):
    """Within the tension over the softened EA, as said there."""
    ea = float(softened(EA, 42, spring))
    least = energy_least(50.0, 200.0, EA, 42, 42, spring)
    assert hung_deflection(50, 200, ea, 42, 42) == pytest.approx(least, rel=200 / ea)


@given(forces, tensions, stiffnesses, bays, longer)
def test_substituted_it_gives_the_force(force, tension, ea, bay, bays_long):
    q = float(hung_deflection(force, tension, ea, bay, bays_long * bay))
    assert scalars.strand_force(tension, ea, bay, bays_long * bay, q) == pytest.approx(force, rel=1e-12)


@given(forces, st.floats(-200, 2000), stiffnesses, bays, longer)
def test_tension_found_again_taut_or_slack(force, tension, ea, bay, bays_long):
    q = hung_deflection(force, tension, ea, bay, bays_long * bay)
    found = tension_from_deflection(force, q, ea, bay, bays_long * bay)
    # what stretch holds is taken away from what was there: digits go with it
    stretch = ea * (2 * float(q) / bay) ** 2 / bays_long
    assert found == pytest.approx(tension, abs=1e-12 * (abs(tension) + stretch + force * bay / 4 / float(q)) + 1e-12)


@given(forces, tensions, stiffnesses, bays, longer, st.floats(1.001, 2))
def test_more_of_what_resists_lets_it_down_less(force, tension, ea, bay, bays_long, more):
    run = bays_long * bay
    q = hung_deflection(force, tension, ea, bay, run)
    assert hung_deflection(force, tension * more, ea, bay, run) < q
    assert hung_deflection(force, tension, ea * more, bay, run) < q
    assert hung_deflection(force, tension, ea, bay, run * more) > q
    assert hung_deflection(force * more, tension, ea, bay, run) > q


def test_small_deflection_is_the_cubic():
    for run in (42, 240):
        q = float(hung_deflection(1, 200, EA, 42, run))
        assert scalars.strand_force_small(200, EA, 42, run, q) == pytest.approx(1, rel=1e-5)


def test_untensioned_it_goes_by_the_cube_root():
    """(L/2) (P/EA)^(1/3): worked in physics problems of a wire, see ``published/test_midspan_wire.py``."""
    q = hung_deflection(1e-4, 0, EA, 42, 42)
    assert q == pytest.approx(21 * (1e-4 / EA) ** (1 / 3), rel=1e-5)


def test_run_without_end_keeps_its_tension():
    """Then 2 T sin of the halves' slope is the force: no more than 2 T is ever held."""
    assert hung_deflection(60, 50, EA, 42, INF) == pytest.approx(21 * 60 / sqrt(100**2 - 60**2), rel=1e-12)
    assert hung_deflection(100, 50, EA, 42, INF) == INF
    assert hung_deflection(120, 50, EA, 42, INF) == INF


def test_nothing_hung_nothing_to_hold_it_nothing_that_stretches():
    assert hung_deflection(0, 200, EA, 42, 42) == 0
    assert hung_deflection(0, 0, 0, 42, 42) == 0
    assert hung_deflection(5, 0, 0, 42, 42) == INF
    # of no stiffness, tension grows as the strand does: twice the length, twice of it
    assert hung_deflection(2 * 20 * 0.75**0.5 * 2, 20, 0, 42, 42) == pytest.approx(21 * 3**0.5, rel=1e-12)
    assert hung_deflection(5, 200, INF, 42, 42) == 0
    assert hung_deflection(5, 0, INF, 42, 42) == 0


def test_force_far_beyond_any_strand_still_has_its_deflection():
    q = float(hung_deflection(1e9, 200, EA, 42, 42))
    assert scalars.strand_force(200, EA, 42, 42, q) == pytest.approx(1e9, rel=1e-12)


def test_slack_is_taken_up_first():
    """Own length 1 % over the bay: the halves are a triangle of that length before anything is held."""
    own = 42 * 1.01
    slack = -EA * (1 - 42 / own)  # own length is 42 EA/(EA + T)
    taken_up = sqrt(own**2 - 42**2) / 2
    assert hung_deflection(1e-60, slack, EA, 42, 42) == pytest.approx(taken_up, rel=1e-12)
    assert hung_deflection(20, slack, EA, 42, 42) > taken_up


@pytest.mark.parametrize(
    "wrong", [(-1, 200, EA, 42, 42), (5, -EA, EA, 42, 42), (5, -2 * EA, EA, 42, 42), (5, 200, -1, 42, 42),
              (NAN, 200, EA, 42, 42), (5, 200, EA, NAN, 42)],
)  # fmt: skip
def test_deflection_of_what_there_is_not_has_no_answer(wrong):
    assert np.isnan(hung_deflection(*wrong))


def test_deflection_measured_of_a_strand_that_does_not_move_or_is_not_loaded():
    assert tension_from_deflection(5, 0, EA, 42, 42) == INF
    assert np.isnan(tension_from_deflection(0, 0, EA, 42, 42))
    assert np.isnan(tension_from_deflection(5, -0.1, EA, 42, 42))
    assert np.isnan(tension_from_deflection(-5, 0.1, EA, 42, 42))
    # hanging in a triangle without any force on it: slack
    assert tension_from_deflection(0, 0.3, EA, 42, 42) < 0


# ---- posts that dry


def test_posts_shrunk_on_paper():
    """Faces set out before and after: posts from 0 to 3.5 and 100 to 105.5, each to lose 2 % of its width."""
    kept = 0.98
    inner = (100 + 5.5 * kept) - (3.5 - 3.5 * kept)  # inner faces at 3.5 and at 100 stay
    centre = (102.75 + 2.75 * kept) - (1.75 - 1.75 * kept)  # centres at 1.75 and 102.75 do
    assert seat_shortening(3.5, 5.5, 0.02, "inner face") == pytest.approx(105.5 - inner, rel=1e-12)
    assert seat_shortening(3.5, 5.5, 0.02, "centre") == pytest.approx(105.5 - centre, rel=1e-12)
    assert seat_shortening(3.5, 0, 0.02, "inner face") == pytest.approx(0.07)  # the other end on a wall
    assert seat_shortening(3.5, 3.5, -0.02, "inner face") == pytest.approx(-0.14)  # wetter


# ---- arrays


def drawn(*names, count=400):
    rng = np.random.default_rng(7)
    made = {
        "tension": rng.uniform(1, 900, count), "stiffness": rng.uniform(5e4, 8e5, count),
        "bay": rng.uniform(15, 90, count), "weight": 10 ** rng.uniform(-4, -1, count),
        "strain": rng.uniform(-2e-3, 1e-2, count), "force": rng.uniform(0, 60, count),
        "deflection": rng.uniform(0.1, 3, count), "pitch": rng.uniform(-60, 60, count),
        "width": rng.uniform(1, 6, count), "part": rng.uniform(-0.05, 0.05, count),
        "spring": 10 ** rng.uniform(2, 5, count),
    }  # fmt: skip
    made["run"] = made["bay"] * rng.uniform(1, 8, count)
    return [made[name] for name in names]


ARRAYS = {
    "softened": (softened, drawn("stiffness", "run", "spring")),
    "changed": (changed_tension, drawn("tension", "stiffness", "bay", "weight", "strain")),
    "catenary": (catenary_sag, drawn("weight", "bay", "tension", "pitch")),
    "hung": (hung_deflection, drawn("force", "tension", "stiffness", "bay", "run")),
    "measured": (tension_from_deflection, drawn("force", "deflection", "stiffness", "bay", "run")),
    "seats": (partial(seat_shortening, seated="centre"), drawn("width", "width", "part")),
}


@pytest.mark.parametrize("name", ARRAYS)
def test_arrays_are_as_numbers(name):
    function, columns = ARRAYS[name]
    together = function(*columns)
    alone = [float(function(*map(float, row))) for row in zip(*columns, strict=True)]
    assert together == pytest.approx(np.array(alone), rel=1e-13)
    assert np.isfinite(together).all()


@pytest.mark.parametrize("name", ARRAYS)
def test_arrays_hold_nans_apart_are_empty_and_broadcast(name):
    function, columns = ARRAYS[name]
    for k in range(len(columns)):
        holed = [column.copy() for column in columns]
        holed[k][::7] = NAN
        got = function(*holed)
        assert np.isnan(got[::7]).all()
        kept = np.arange(len(got)) % 7 != 0
        assert got[kept] == pytest.approx(function(*columns)[kept], rel=1e-13)
    assert function(np.array([]), *[column[0] for column in columns[1:]]).shape == (0,)
    table = function(columns[0][:3, None], *[column[:4] for column in columns[1:]])
    assert table.shape == (3, 4)
    assert table[2, 1] == pytest.approx(
        float(function(columns[0][2], *[column[1] for column in columns[1:]])), rel=1e-13
    )


# ---- regressions: worked out once from other code of the same formulas, no source beyond them


@pytest.mark.parametrize(("force", "sinks"), [(150, 21.650), (19.6133, 4.737)])
def test_regression_deflection_in_one_metre(force, sinks):
    """Newtons and millimetres; EA 782 kN, 1 kN at rest. 4.737 is with the stretch, 4.903 would be without."""
    assert hung_deflection(force, 1000, 782e3, 1000, 1000) == pytest.approx(sinks, abs=6e-4)


@pytest.mark.parametrize(
    ("run", "sinks"), [(42, (1.381, 1.260, 1.142, 1.028, 0.922)), (240, (2.469, 2.085, 1.727, 1.418, 1.172))]
)
def test_regression_50_pounds_on_one_strand(run, sinks):
    """Those were the cubic's; at a slope of 1 in 9 it is 0.4 % off."""
    ea = 130e3 * 6.017 / 4.4482216  # N/mm2, mm2 of 1/8 in, lbf
    got = hung_deflection(50, np.arange(0, 500, 100), ea, 42, run)
    cubic = [
        brentq(lambda q, t=t: scalars.strand_force_small(t, ea, 42, run, q) - 50, 1e-3, 9) for t in range(0, 500, 100)
    ]
    assert cubic == pytest.approx(sinks, abs=6e-4)
    assert got == pytest.approx(sinks, rel=4e-3)


@pytest.mark.parametrize(("newtons", "millimetres"), [(445, 0.20), (890, 0.10), (1334, 0.07)])
def test_regression_sag_of_an_eighth_inch_strand(newtons, millimetres):
    weight = 49.5e-6 * 9.80665  # N/mm
    assert scalars.strand_sag(weight, 48 * 25.4, newtons) == pytest.approx(millimetres, abs=0.005)
    assert catenary_sag(weight, 48 * 25.4, newtons, 35) == pytest.approx(millimetres, abs=0.005)


@pytest.mark.parametrize(
    ("ea", "rate", "newtons"),
    [(782e3, 0.0, -12.4), (782e3, 11.7e-6, -3.28), (782e3, 23.6e-6, 6.02),
     (1760e3, 0.0, -28.0), (1760e3, 11.7e-6, -7.39), (1760e3, 23.6e-6, 13.6)],
)  # fmt: skip
def test_regression_one_kelvin_warmer(ea, rate, newtons):
    """316 strand, 15.9e-6, in a frame that does not move, of steel and of aluminium, where the sign turns round."""
    after = changed_tension(1000, ea, 1000, 0, 15.9e-6 - rate)
    assert after - 1000 == pytest.approx(newtons, rel=5e-3)
    assert after == pytest.approx(scalars.tension_by_temperature(1000, ea, 15.9e-6, rate, 1), rel=1e-12)


def test_regression_posts_of_three_and_a_half_inches():
    """Each loses 1.5 %: 0.0525, together 0.105, and a run of 20 ft of 1/8 in strand 77 lbf."""
    short = float(seat_shortening(3.5, 3.5, 0.015, "inner face"))
    assert short == pytest.approx(0.105, rel=1e-12)
    assert 300 - changed_tension(300, EA, 48, 0, short / 240) == pytest.approx(77, abs=0.5)
    assert 300 - scalars.tension_by_shortening(300, EA, 240, short) == pytest.approx(77, abs=0.5)


def test_settling_of_a_thousandth_takes_176_pounds():
    """EA times the part: what a first settling of 0.1 % (from memory) does to new 1/8 in strand."""
    assert 400 - changed_tension(400, EA, 48, 0, 0.001) == pytest.approx(176, rel=1e-12)


def test_without_weight_a_strand_that_goes_slack_has_no_tension_at_all():
    """The cubic is T^2 (T + p) with p above zero: its root is nothing, beside strands whose root is not."""
    found = changed_tension(200.0, 176000.0, 48.0, 0.0, [0.01, 0.0, 0.0005])
    assert found.tolist() == pytest.approx([0.0, 200.0, 200.0 - 176000 * 0.0005], abs=1e-9)
