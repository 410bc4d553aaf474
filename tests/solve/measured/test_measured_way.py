"""Uncertainty beside the stair: contacts' derivatives against differences, then Monte Carlo by a formula of its own."""

from __future__ import annotations

import random
from fractions import Fraction as F
from math import sqrt

import numpy as np
import pytest

from stairguard.model.asked.asked_opening import Measurement
from stairguard.solve.measured.measured_way import BESIDE_LENGTHS, beside_slopes, edge_uncertainty, way_uncertainty
from stairguard.solve.sphere.edge_opening import edge_opening
from stairguard.solve.sphere.step_opening import step_opening
from stairguard.solve.sphere.step_outline import step_figure

DRAWS = 3_000


def measured(sizes, plus_minus):
    """Each length with the same +-, or its own."""
    spreads = plus_minus if isinstance(plus_minus, dict) else dict.fromkeys(sizes, F(plus_minus))
    return tuple(Measurement(name.replace("_", " "), value, spreads[name]) for name, value in sizes.items())


def lengths(rng, *, open_riser=False):
    def length(low, high):
        return F(round(rng.uniform(low, high), 3))

    low = 0 if open_riser else -2
    values = length(6, 8), length(9, 12), length(0.3, 1.2), length(0.5, 1.5), length(low, 2), length(0.5, 5)
    return dict(zip(BESIDE_LENGTHS, (*values, length(0.1, 0.4)), strict=True))


@pytest.mark.parametrize(("seed", "open_riser"), [(k, False) for k in range(4)] + [(k, True) for k in range(2)])
def test_slopes_against_differences(seed, open_riser):
    """Central differences of the solver: an error of the second order in the step, and of rounding over it."""
    step = lengths(random.Random(f"way {seed}"), open_riser=open_riser)
    found = step_figure(step, open_riser)
    if found.pocket.error:
        pytest.skip("no contacts hold it")
    slopes = dict(zip(BESIDE_LENGTHS, beside_slopes(step, found), strict=True))
    h = F(1, 2**12)
    for name in BESIDE_LENGTHS:
        up, down = (step_opening(**(step | {name: step[name] + d}), open_riser=open_riser, limit=None) for d in (h, -h))
        if set(up.touches) == set(down.touches) == set(found.names):
            assert slopes[name] == pytest.approx((up.sphere - down.sphere) / float(2 * h), abs=2e-5), name


def spheres(rise, run, nosing, lift, offset, thick):
    """Largest spheres held by tread, riser and member, of arrays: the widest way's narrowest place.

    With a and b the centre's distances from tread or riser and from the member, seen square to the guard, the step
    triangle is a (1 + R/G) + b k = R (1 + P/G) + (L + d/2) k; at y out from the side a^2 = r^2 - y^2 and
    b^2 = (r + d/2)^2 - (o - y)^2. A sphere gets by as long as the greatest left side over all y is no more than the
    right one. Halved over r, the greatest over y by a fine row of them and a parabola's top.
    """
    k = np.hypot(1, rise / run)
    room = rise * (1 + nosing / run) + (lift + thick / 2) * k
    y = np.linspace(0, 1, 100)[:, None] * offset

    def taken(r):
        a, b = np.maximum(r * r - y * y, 0), np.maximum((r + thick / 2) ** 2 - (offset - y) ** 2, 0)
        value = np.sqrt(a) * (1 + rise / run) + np.sqrt(b) * k
        at = np.clip(value.argmax(axis=0), 1, len(y) - 2)
        u, v, w = (value[at + s, np.arange(value.shape[1])] for s in (-1, 0, 1))
        return v + (w - u) ** 2 / (8 * np.maximum(2 * v - u - w, 1e-12))

    low, high = np.zeros_like(room), np.full_like(room, 9.0)
    for _ in range(40):
        middle = (low + high) / 2
        fits = taken(middle) <= room
        low, high = np.where(fits, middle, low), np.where(fits, high, middle)
    return 2 * low


@pytest.mark.parametrize("seed", [0, 1, 3])
def test_a_closed_step_against_monte_carlo(seed):
    rng = random.Random(f"draws {seed}")
    step = lengths(rng)
    spreads = {name: F(round(rng.uniform(0.01, 0.06), 3)) for name in step}
    spreads["strand_diameter"] = F(1, 100)
    rows = measured(step, spreads)
    answer = step_opening(**step, open_riser=False, limit=F(6))
    assert set(answer.touches) == {"tread", "riser", "member"}
    found = way_uncertainty(answer, rows, False)
    draw = np.random.default_rng(seed)
    drawn = {m.name: float(m.value) + float(m.plus_minus) * draw.uniform(-1, 1, DRAWS) for m in rows}
    names = ("rise", "run", "nosing", "lift", "offset", "strand diameter")
    theirs = spheres(*(drawn[name] for name in names))
    as_given = spheres(*(np.array([float(m.value)]) for m in rows if m.name in names))
    assert answer.sphere == pytest.approx(as_given[0], abs=2e-3)
    assert not found.contact_may_change
    assert found.standard == pytest.approx(theirs.std(), rel=0.04)
    assert found.probability == pytest.approx(np.mean(theirs < 6), abs=0.03)
    # the share of the one that matters most: its own variance, all else as given
    best, given = found.shares[0].measurement.name, {m.name: float(m.value) for m in rows}
    alone = {name: drawn[name] if name == best else np.full(DRAWS, given[name]) for name in names}
    assert found.shares[0].percent == pytest.approx(100 * spheres(*alone.values()).var() / theirs.var(), abs=4)


def test_what_touches_may_change_is_told():
    # the riser's nosing is nearly touched: as in the plane the nosing's underside corner, at another thickness
    step = dict(zip(BESIDE_LENGTHS, map(F, ("7", "11", "1", "1/2", "1/2", "1", "1/8")), strict=True))
    told = []
    for tread in ("1/2", "1.5", "1.8", "1.84", "1.9", "2.5"):
        sizes = step | {"tread": F(tread)}
        answer = step_opening(**sizes, open_riser=False, limit=None)
        told.append(
            ("nosing" in answer.touches, way_uncertainty(answer, measured(sizes, "1/8"), False).contact_may_change)
        )
    assert (False, False) in told
    assert any(changes for _, changes in told)
    assert [touched for touched, _ in told] == sorted(touched for touched, _ in told)


def test_an_edge_against_monte_carlo():
    rng = np.random.default_rng(4)
    for height, offset in ((2.79, 3.75), (1.0, 2.5), (5.0, 1.0), (-2.0, 3.75)):
        sizes = {"height": F(height), "offset": F(offset), "strand_diameter": F(1, 8)}
        rows = measured(sizes, {"height": F(1, 16), "offset": F(1, 10), "strand_diameter": F(1, 50)})
        answer = edge_opening(*sizes.values(), F(4))
        found = edge_uncertainty(answer, rows)
        h, o, d = (float(m.value) + float(m.plus_minus) * rng.uniform(-1, 1, 100_000) for m in rows)
        drawn = np.hypot(np.maximum(h, 0), o) - d / 2
        assert not found.contact_may_change
        assert found.standard == pytest.approx(drawn.std(), rel=0.01)
        assert found.probability == pytest.approx(np.mean(drawn < 4), abs=0.02)


def test_an_edge_at_the_surface_may_touch_its_face():
    rows = measured({"height": F(1, 64), "offset": F(3), "strand_diameter": F(1, 8)}, F(1, 16))
    answer = edge_opening(*(row.value for row in rows))
    assert edge_uncertainty(answer, rows).contact_may_change
    assert edge_uncertainty(answer, rows).standard == pytest.approx(hypot_of(rows))


def hypot_of(rows):
    """By hand: h/hyp of next to nothing, o/hyp of one, half of the diameter; +- / sqrt(3)."""
    h, o = float(rows[0].value), float(rows[1].value)
    reach = sqrt(h * h + o * o)
    return sqrt((h / reach) ** 2 + (o / reach) ** 2 + 0.25) / 16 / sqrt(3)
