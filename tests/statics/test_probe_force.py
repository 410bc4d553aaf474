"""The greatest push: what the strand does, exact limits, and what it grows with.

Arrays, a dense grid and the way back are in ``test_probe_force_arrays.py``, the checks by energy in
``test_probe_force_energy.py``.
"""

from __future__ import annotations

import math
from dataclasses import astuple, replace

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from stairguard.statics.probe_force import CONE_HALF_ANGLE, Bay, bay_force, cone, push, sphere, tension_for
from tests.relations.formulas import scalars
from tests.statics.bays import BAY, CLEAR, INF, SPHERE, bays

# ---- what the strand itself does


def test_force_of_a_wire_that_hangs_untensioned():
    """NCERT, Physics XI, exercise 9.19: steel wire of 1.0 m and 0.50e-6 m2, 2e11 Pa, 100 g at its middle.

    Published as 0.0106 m and 1.074 cm (idealhometuition.com, careers360), both loose by about 1 %.
    """
    wire = Bay(1.0, 0.0, 2e11 * 0.5e-6, 1.0)
    for published in (0.0106, 0.01074):
        assert float(bay_force(wire, published)[0]) ** (1 / 3) == pytest.approx(0.98 ** (1 / 3), rel=0.01)


@pytest.mark.parametrize("run", [42.0, 240.0])
def test_force_at_mid_bay_is_the_relations(run):
    bay = replace(BAY, run=run)
    for q in (0.01, 0.7, 6.0):
        assert bay_force(bay, q)[0] == pytest.approx(scalars.strand_force(200.0, 176000.0, 42.0, run, q), rel=1e-12)
    small = scalars.strand_force_small(200.0, 176000.0, 42.0, run, 0.01)
    assert bay_force(bay, 0.01)[0] == pytest.approx(small, rel=1e-6)


def test_force_is_the_slope_of_the_strands_energy():
    """Away from mid-bay and on springs too: work done is energy stored, T0 e + k e^2/2 of the lengthening e."""
    bay = replace(BAY, run=100.0, at=10.0, spring=3000.0)
    rate = 1 / (100 / (176000 + 200) + 2 / 3000)

    def energy(q):
        longer = math.hypot(10, q) + math.hypot(32, q) - 42
        return 200 * longer + rate * longer**2 / 2

    force, tension = bay_force(bay, 1.3)
    assert force == pytest.approx((energy(1.3 + 1e-4) - energy(1.3 - 1e-4)) / 2e-4, rel=1e-6)
    assert tension == pytest.approx(200 + rate * (math.hypot(10, 1.3) + math.hypot(32, 1.3) - 42), rel=1e-12)


# ---- exact limits


@pytest.mark.parametrize("diameter", [1.0, 2.75, 2.875])
@pytest.mark.parametrize("friction", [0.0, 0.25])
def test_sphere_no_larger_than_the_gap_passes_untouched(diameter, friction):
    # spacing 3, strand 1/8: the clear gap is 2.875, all exact in binary
    got = push(BAY, sphere(diameter, 0.125), CLEAR, friction=friction)
    assert astuple(got) == (0.0, 0.0, 0.0, 200.0)
    assert np.isnan(tension_for(5.0, BAY, sphere(diameter, 0.125), CLEAR, friction=friction))


def test_hardly_larger_sphere_hardly_needs_a_push():
    pushes = [float(push(BAY, sphere(2.875 + more, 0.125), CLEAR).force) for more in (1e-3, 1e-6, 1e-9)]
    # q is half of what it is larger by, and sin f the root of that over the reach: together a power of 3/2
    assert pushes[0] / pushes[1] == pytest.approx(10**4.5, rel=1e-3)
    assert pushes[1] / pushes[2] == pytest.approx(10**4.5, rel=1e-3)


@pytest.mark.parametrize("length", [1e4, 1e6])
def test_without_stretch_and_with_small_deflection_it_is_the_relation(length):
    contact = scalars.hardest_contact(4.0, 0.125, 3.0)
    got = push(Bay(length, 200.0, 0.0, length), SPHERE, CLEAR)
    assert got.force == pytest.approx(scalars.push_without_stretch(200.0, 4.0, 0.125, length, contact), rel=1e-6)
    assert got.contact == pytest.approx(contact, abs=1e-5)
    assert got.tension == 200.0


def test_without_tension_stretch_alone_holds():
    """Small deflection: two strands of force 8 EA q^3/L^3, greatest over the way, found here by scipy."""
    length, ea, reach = 5000.0, 176000.0, 4.125 / 2
    found = minimize_scalar(
        lambda f: -2 * 8 * ea * (reach - CLEAR / math.cos(f)) ** 3 / length**3 * math.sin(f),
        bounds=(0, math.acos(CLEAR / reach)),
        method="bounded",
        options={"xatol": 1e-9},
    )
    # without friction q = B - clear/cos f, which is equation (1)
    got = push(Bay(length, 0.0, ea, length), SPHERE, CLEAR)
    assert got.force == pytest.approx(-found.fun, rel=1e-6)
    assert got.contact == pytest.approx(math.degrees(found.x), abs=1e-3)


def test_without_tension_it_is_as_the_stiffness():
    bay, probe, clear = bays(500)
    loose = replace(bay, tension=0.0, spring=INF)
    twice = replace(loose, stiffness=2 * bay.stiffness)
    assert push(twice, probe, clear).force == pytest.approx(2 * push(loose, probe, clear).force, rel=1e-12)


def test_neither_tension_nor_stretch_holds_nothing():
    got = push(Bay(42.0, 0.0, 0.0, 42.0), SPHERE, CLEAR)
    assert got.force == 0.0
    assert got.tension == 0.0


def test_strand_that_cannot_stretch_lets_nothing_through():
    got = push(replace(BAY, stiffness=INF), SPHERE, CLEAR)
    assert got.force == INF
    assert got.tension == INF
    assert push(replace(BAY, stiffness=INF), sphere(2.5, 0.125), CLEAR).force == 0.0
    assert tension_for(33.0, replace(BAY, stiffness=INF), SPHERE, CLEAR) == 0.0
    # and on springs it is the springs that give
    on_springs = push(replace(BAY, stiffness=INF, spring=900.0), SPHERE, CLEAR)
    # EA + T over a run of 2 (EA + T)/900 gives as much as two springs of 900 do, T itself kept out of it
    alike = Bay(42.0, 200.0, 176000.0, 2 * 176200.0 / 900.0)
    assert on_springs.force == pytest.approx(push(alike, SPHERE, CLEAR).force, rel=1e-12)
    stiff = [float(push(replace(BAY, stiffness=ea), SPHERE, CLEAR).force) for ea in (1e11, 1e12)]
    assert stiff[1] / stiff[0] == pytest.approx(10, rel=1e-3)


def test_long_bay_needs_a_push_of_one_over_its_length():
    pushes = [float(push(Bay(n, 200.0, 176000.0, n), SPHERE, CLEAR).force) * n for n in (1e5, 1e6, 1e7)]
    assert pushes == pytest.approx([pushes[-1]] * 3, rel=1e-3)
    assert pushes[-1] == pytest.approx(4 * 200 * 4.125 * (1 - (3 / 4.125) ** (2 / 3)) ** 1.5, rel=1e-6)


def test_short_bay_hangs_straight_down_from_the_probe():
    """Without stretch each strand pulls with all of twice its tension at once: 4 T sin f of first contact."""
    got = push(Bay(1e-9, 200.0, 0.0, 1e-9), SPHERE, CLEAR)
    assert got.force == pytest.approx(4 * 200 * math.sqrt(1 - (3 / 4.125) ** 2), rel=1e-3)
    # with stretch, shorter is harder without end
    pushes = [float(push(Bay(n, 200.0, 176000.0, n), SPHERE, CLEAR).force) for n in (4.0, 1.0, 0.25)]
    assert pushes[2] > 3.5 * pushes[1] > 3.5**2 * pushes[0]


@pytest.mark.parametrize("soft", [0.0, 1e-9])
def test_soft_supports_take_the_stretch_away(soft):
    bay, probe, clear = bays(200)
    plain = push(replace(bay, stiffness=0.0), probe, clear)
    assert push(replace(bay, spring=soft), probe, clear).force == pytest.approx(plain.force, rel=1e-6)


def test_run_without_end_takes_the_stretch_away():
    bay, probe, clear = bays(200)
    plain = push(replace(bay, stiffness=0.0), probe, clear)
    assert push(replace(bay, run=INF), probe, clear).force == pytest.approx(plain.force, rel=1e-12)


def test_rigid_supports_are_the_limit_of_stiff_ones():
    bay, probe, clear = bays(200)
    rigid = push(replace(bay, spring=INF), probe, clear).force
    assert push(replace(bay, spring=1e15), probe, clear).force == pytest.approx(rigid, rel=1e-6)


def test_one_strand_without_friction_needs_half_of_two():
    bay, probe, clear = bays(300)
    assert 2 * push(bay, probe, clear, 1).force == pytest.approx(push(bay, probe, clear, 2).force, rel=1e-12)


def test_cone_holds_its_angle_until_its_shoulder():
    """Where the push falls from there on, it is greatest at the cone's own angle; 2 tan of it is 1."""
    got = push(Bay(1000.0, 1500.0, 7e5, 1e9), cone(125.0, 3.0), 40.0)
    assert got.contact == pytest.approx(math.degrees(math.atan(0.5)), abs=1e-9)
    assert pytest.approx(got.contact) == CONE_HALF_ANGLE
    # half of 125, less what the strand's own roundness and the spacing take: (1)
    q = (62.5 + 1.5 * math.cos(math.atan(0.5)) - 40) / math.cos(math.atan(0.5))
    assert got.deflection == pytest.approx(q, rel=1e-12)
    # 150 N of push is 167.7 N on the strand and 150 N in the plane of the strands (each), by its geometry
    assert float(got.force) / 2 / math.sin(math.atan(0.5)) == pytest.approx(167.7 / 150 * float(got.force), rel=1e-4)


def test_steep_cone_is_a_shoulder_alone():
    """What the strand then rolls over is an edge: half the cylinder and its own radius, (1), and it needs more."""
    blunt = push(BAY, cone(4.0, 0.125, 80.0), CLEAR)
    across = 2.0 + 0.0625 * np.cos(np.radians(blunt.contact)) - CLEAR
    assert blunt.deflection * np.cos(np.radians(blunt.contact)) == pytest.approx(across, rel=1e-12)
    assert blunt.force > push(BAY, cone(4.0, 0.125), CLEAR).force


# ---- what it grows with


MORE = {
    "tension": lambda b, p, c: (replace(b, tension=b.tension * 1.01), p, c),
    "stiffness": lambda b, p, c: (replace(b, stiffness=b.stiffness * 1.01), p, c),
    "stiffer supports": lambda b, p, c: (replace(b, spring=b.spring * 1.01), p, c),
    "shorter run": lambda b, p, c: (replace(b, run=b.run * 0.99), p, c),
    "shorter bay of the same run": lambda b, p, c: (replace(b, length=b.length * 0.99, at=b.at * 0.99), p, c),
    "shorter bay, held": lambda b, p, c: (
        replace(b, length=b.length * 0.99, at=b.at * 0.99, run=b.run * 0.99),
        p,
        c,
    ),
    "larger sphere": lambda b, p, c: (b, replace(p, b=p.b * 1.01), c),
    "closer strands": lambda b, p, c: (b, p, c * 0.99),
}


@pytest.mark.parametrize("what", MORE)
@pytest.mark.parametrize(("strands", "friction"), [(2, 0.0), (2, 0.2), (1, 0.2)])
def test_grows(what, strands, friction):
    given = bays(400)
    more = push(*MORE[what](*given), strands, friction).force
    assert (more > push(*given, strands, friction).force).all()


@pytest.mark.parametrize("strands", [1, 2])
def test_friction_only_adds(strands):
    given = bays(400)
    pushes = [push(*given, strands, friction).force for friction in (0.0, 0.1, 0.25, 0.4)]
    assert (np.diff(pushes, axis=0) > 0).all()


def test_held_is_never_less_than_free():
    bay, probe, clear = bays(400)
    held, free = (push(replace(bay, run=run), probe, clear).force for run in (bay.length, bay.run))
    assert (held >= free).all()
    assert (push(replace(bay, run=bay.length), probe, clear).tension > bay.tension).all()


def test_mid_bay_is_worst():
    bay, probe, clear = bays(400)
    places = [push(replace(bay, at=bay.length * part), probe, clear).force for part in (0.5, 0.45, 0.3, 0.1)]
    assert (np.diff(places, axis=0) > 0).all()
    mirrored = push(replace(bay, at=bay.length * 0.7), probe, clear).force
    assert mirrored == pytest.approx(places[2], rel=1e-9)
    assert push(replace(bay, at=None), probe, clear).force == pytest.approx(places[0], rel=1e-12)


def test_mid_bay_is_not_worst_in_a_bay_shorter_than_the_give():
    """Known limit: 1/sqrt(a^2 + q^2) is convex only past q/sqrt 2, so such a bay's tension holds best amid it."""
    bay, probe = Bay(1.0, 200.0, 0.0, 1.0), sphere(6.0, 0.1)
    assert push(bay, probe, 1.0).force > push(replace(bay, at=0.05), probe, 1.0).force


def test_scales_with_its_units():
    """Twice the lengths and thrice the forces of the same bay: thrice the push, at the same angle."""
    bay, probe, clear = bays(300)
    other = Bay(2 * bay.length, 3 * bay.tension, 3 * bay.stiffness, 2 * bay.run, 2 * bay.at, 1.5 * bay.spring)
    mine, theirs = (
        push(bay, probe, clear, friction=0.1),
        push(other, replace(probe, b=2 * probe.b), 2 * clear, friction=0.1),
    )
    assert theirs.force == pytest.approx(3 * mine.force, rel=1e-9)
    assert theirs.contact == pytest.approx(mine.contact, abs=1e-5)
    assert theirs.deflection == pytest.approx(2 * mine.deflection, rel=1e-6)
