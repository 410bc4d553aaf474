"""The greatest push: arrays against numbers, a dense grid, and the tension for a push."""

from __future__ import annotations

import math
from dataclasses import astuple, replace

import numpy as np
import pytest

from stairguard.statics.probe_force import Bay, Probe, cone, first_contact, push, push_at, sphere, tension_for
from tests.statics.bays import BAY, CLEAR, INF, NAN, SPHERE, bays

# ---- arrays against numbers


def test_array_is_what_its_numbers_are():
    bay, probe, clear = bays(60)
    strands = np.where(np.arange(60) % 2, 1, 2)
    many = push(bay, probe, clear, strands, 0.2)
    wanted = tension_for(30.0, bay, probe, clear, strands, 0.2)
    for k in range(60):
        one = Bay(*(float(part[k]) for part in astuple(bay)))
        ball = Probe(0.0, float(probe.b[k]), 90.0)
        single = push(one, ball, float(clear[k]), int(strands[k]), 0.2)
        assert single.force.shape == ()
        assert single.force == pytest.approx(many.force[k], rel=1e-13)
        assert single.contact == pytest.approx(many.contact[k], abs=1e-6)
        single = tension_for(30.0, one, ball, float(clear[k]), int(strands[k]), 0.2)
        assert single == pytest.approx(wanted[k], rel=1e-9, abs=1e-9)


def test_no_bays_have_no_pushes():
    none = np.empty(0)
    got = push(Bay(none, 200.0, 176000.0, none), SPHERE, CLEAR)
    assert [part.shape for part in astuple(got)] == [(0,)] * 4
    assert tension_for(none, Bay(42.0, 0.0, 1e5, 42.0), SPHERE, CLEAR).shape == (0,)


def test_shapes_broadcast():
    tension = np.array([[50.0], [200.0]])
    spacing = np.array([2.5, 3.0, 3.5])
    got = push(replace(BAY, tension=tension), SPHERE, spacing / 2)
    assert got.force.shape == got.tension.shape == (2, 3)
    for i in range(2):
        for k in range(3):
            alone = push(replace(BAY, tension=tension[i, 0]), SPHERE, spacing[k] / 2).force
            assert got.force[i, k] == pytest.approx(alone, rel=1e-13)
    assert tension_for([[5.0], [9.0]], BAY, SPHERE, spacing / 2).shape == (2, 3)


def test_more_bays_than_one_block():
    bay, probe, clear = bays(20001)
    whole = push(bay, probe, clear, friction=0.1)
    last = Bay(*(part[-9:] for part in astuple(bay)))
    tail = push(last, Probe(0.0, probe.b[-9:], 90.0), clear[-9:], friction=0.1)
    assert tail.force == pytest.approx(whole.force[-9:], rel=1e-13)


@pytest.mark.parametrize("field", ["length", "tension", "stiffness", "run", "at", "spring"])
def test_what_is_not_a_number_has_no_answer(field):
    plain = replace(BAY, at=21.0)
    bay = replace(plain, **{field: np.array([NAN, getattr(plain, field)])})
    got = push(bay, SPHERE, CLEAR)
    assert np.isnan(got.force[0])
    assert got.force[1] == pytest.approx(push(BAY, SPHERE, CLEAR).force, rel=1e-13)
    if field != "tension":
        assert np.isnan(tension_for(5.0, bay, SPHERE, CLEAR)[0])


def test_probe_that_is_not_a_number_has_no_answer():
    assert np.isnan(push(BAY, sphere(NAN, 0.125), CLEAR).force)
    assert np.isnan(push(BAY, SPHERE, NAN).force)
    assert np.isnan(tension_for(NAN, BAY, SPHERE, CLEAR))


@pytest.mark.parametrize("clear", [0.0, -1.0])
def test_middle_past_the_strand_has_no_answer(clear):
    assert np.isnan(push(BAY, SPHERE, clear).force)
    assert np.isnan(tension_for(5.0, BAY, SPHERE, clear))


@pytest.mark.parametrize("friction", [-0.1, 0.5, NAN])
def test_friction_out_of_reach(friction):
    with pytest.raises(ValueError, match=r"friction must be from 0 to below 0\.5"):
        push(BAY, SPHERE, CLEAR, friction=friction)


# ---- a dense grid


def evaluated(contact, bay, a, b, clear, strands, friction):
    """Equations (1) to (3) as they are written, for one bay and many angles in radians."""
    rub = math.atan(friction)
    q = (a + b * np.cos(contact) - clear) / np.cos(contact + rub)
    at = bay.length / 2 if bay.at is None else bay.at
    far = bay.length - at
    before, after = np.hypot(at, q), np.hypot(far, q)
    longer = before - at + (after - far)
    tension = np.full_like(q, bay.tension)
    if bay.stiffness:
        unstretched = bay.run * bay.stiffness / (bay.stiffness + bay.tension)
        # one more of tension draws the strand out by its unstretched length over EA, and each support by 1/spring
        tension += longer / (unstretched / bay.stiffness + 2 / bay.spring)
    force = tension * (q / before + q / after)
    way = 2 * np.sin(contact + rub) if strands == 2 else np.sin(contact + 2 * rub) / math.cos(rub)
    return np.where(q > 0, force * way, 0.0)


def test_hundred_random_cases_on_a_dense_grid():
    rng = np.random.default_rng(7)
    for case in range(100):
        length = rng.uniform(10, 90)
        bay = Bay(
            length,
            rng.choice([0.0, rng.uniform(5, 900)], p=[0.1, 0.9]),
            rng.uniform(5e4, 8e5),
            length * rng.choice([1.0, rng.uniform(1, 10)]),
            None if case % 3 else length * rng.uniform(0.1, 0.9),
            rng.choice([INF, 10 ** rng.uniform(2, 5)]),
        )
        diameter, strand = rng.uniform(3, 8), rng.uniform(0.09, 0.3)
        strands, friction = rng.choice([1, 2]), rng.choice([0.0, rng.uniform(0, 0.45)])
        if case % 4 == 0:
            steepest = rng.uniform(12, 55)
            probe, a, b = cone(diameter, strand, steepest), diameter / 2, strand / 2
        else:
            probe, a, b, steepest = sphere(diameter, strand), 0.0, (diameter + strand) / 2, 90.0
        clear = (a + b) * rng.uniform(0.4, 0.99)
        first = min(math.acos(max((clear - a) / b, -1.0)), math.radians(steepest))
        assert first_contact(probe, clear) == pytest.approx(math.degrees(first), abs=1e-9)
        # further back than both frictions turn the force, nothing holds the probe any more
        grid = np.linspace(-2 * math.atan(friction), first, 40001)
        best = evaluated(grid, bay, a, b, clear, strands, friction)
        got = push(bay, probe, clear, strands, friction)
        assert got.force == pytest.approx(best.max(), rel=1e-6), case
        assert got.force >= best.max() * (1 - 1e-9), case
        there = evaluated(np.radians(got.contact), bay, a, b, clear, strands, friction)
        assert there == pytest.approx(got.force, rel=1e-9), case
        along = push_at(np.degrees(grid[::4000]), bay, probe, clear, strands, friction).force
        assert along == pytest.approx(best[::4000], rel=1e-6, abs=1e-9), case


def test_sphere_hardly_larger_than_the_gap_with_much_friction():
    """The strand is at rest again long before friction lets go: the grid must not be searched from there back."""
    bay, reach = Bay(0.12, 10.0, 0.0, 0.12), 2.7
    best = evaluated(np.linspace(0, math.acos(2.66 / reach), 40001), bay, 0.0, reach, 2.66, 1, 0.48)
    assert push(bay, Probe(0.0, reach, 90.0), 2.66, 1, 0.48).force == pytest.approx(best.max(), rel=1e-6)


# ---- the way back


@pytest.mark.parametrize(("strands", "friction"), [(2, 0.0), (2, 0.25), (1, 0.25)])
def test_tension_for_is_the_pushs_inverse(strands, friction):
    bay, probe, clear = bays(500, seed=2)
    force = push(bay, probe, clear, strands, friction).force
    back = tension_for(force, replace(bay, tension=NAN), probe, clear, strands, friction)
    assert back == pytest.approx(bay.tension, rel=1e-6)
    assert push(replace(bay, tension=back), probe, clear, strands, friction).force == pytest.approx(force, rel=1e-9)


@pytest.mark.parametrize("length", [0.5, 2.0, 5.0])
@pytest.mark.parametrize("times", [1, 10])
def test_tension_for_in_bays_shorter_than_the_sphere(length, times):
    bay = Bay(length, 500.0, 2e4, times * length)
    force = push(bay, sphere(5.0, 0.125), 1.0).force
    assert tension_for(force, bay, sphere(5.0, 0.125), 1.0) == pytest.approx(500.0, rel=1e-6)


def test_no_tension_is_needed_where_stretch_alone_holds():
    bay, probe, clear = bays(500, seed=3)
    untensioned = push(replace(bay, tension=0.0), probe, clear).force
    assert (tension_for(0.99 * untensioned, bay, probe, clear) == 0).all()
    assert (tension_for(1.01 * untensioned, bay, probe, clear) > 0).all()
    assert (tension_for(0.0, bay, probe, clear) == 0).all()


def test_one_tension_holds_one_strand_and_not_the_next():
    """By its own meaning: a little less lets the probe through, a little more does not."""
    bay, probe, clear = bays(300, seed=4)
    force = 40.0
    least = tension_for(force, bay, probe, clear)
    held = least > 1e-6
    assert 50 < held.sum() < 300
    less, more = (push(replace(bay, tension=least * by), probe, clear).force for by in (0.999, 1.001))
    assert (less < force)[held].all()
    assert (more > force)[held].all()


def test_a_sphere_first_bears_where_its_radius_reaches_and_no_further_round_than_a_quarter():
    """4 and 1/8 reach 2.0625: half of it is at 60 degrees, all of it straight on; nothing is touched beyond."""
    found = first_contact(SPHERE, np.array([-0.1, 0.0, 1.03125, 2.0625, 3.0]))
    assert found == pytest.approx([90, 90, 60, 0, NAN], nan_ok=True)


def test_a_push_at_a_contact_angle_tells_that_angle():
    found = push_at([10, 20.5], Bay(42.0, 200.0, 176000.0, 42.0), SPHERE, CLEAR)
    assert found.contact.tolist() == [10.0, 20.5]
