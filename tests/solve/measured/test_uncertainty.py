"""Uncertainty and verdicts: the rules of JCGM 100 and 106 (from memory), worked by hand; then Monte Carlo."""

from dataclasses import replace
from fractions import Fraction as F
from itertools import combinations
from math import cos, pi, sin, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm

from stairguard.geometry.clearance.pockets import pockets
from stairguard.model.asked.asked_opening import Measurement
from stairguard.model.outcome import Settling
from stairguard.solve.measured.measured_outline import by_lengths, by_points, by_strands, outline_uncertainty
from stairguard.solve.measured.measured_step import LENGTHS, step_sensitivity, step_uncertainty
from stairguard.solve.measured.uncertainty import judge, settled_by_one
from stairguard.solve.sphere.outlined import between_strands, outline_opening
from stairguard.solve.sphere.step_opening import step_opening
from stairguard.solve.sphere.step_outline import step_pockets
from tests.relations.formulas import arrays

DRAWS = 100_000


def one(plus_minus=F(1), **kwargs):
    return judge(kwargs.pop("sphere", 10.0), [Measurement("a", F(5), plus_minus)], [1.0], **kwargs)


# --- the rules ----------------------------------------------------------------------------------------------


def test_rectangular_standard_uncertainty():
    # JCGM 100, 4.3.7: half-width over the square root of three; against the variance of a uniform distribution
    draws = np.random.default_rng(0).uniform(-0.3, 0.3, DRAWS)
    assert Measurement("a", F(1), F(3, 10)).standard == pytest.approx(draws.std(), rel=5e-3)


def test_shares_add_up_as_variances_do():
    # JCGM 100, 5.1.2: u^2 is the sum of (derivative times u_i)^2; 3 and 4 give 5, and 36 % and 64 %
    parts = [Measurement(n, F(1), F(1)) for n in "abc"]
    found = judge(1.0, parts, [3 * sqrt(3), -4 * sqrt(3), 0.0], limit=None, passes=None)
    assert found.standard == pytest.approx(5)
    assert [(s.measurement.name, round(s.percent, 9)) for s in found.shares] == [("b", 64), ("a", 36), ("c", 0)]
    assert (found.verdict, found.probability, found.settling) == (None, None, None)


@pytest.mark.parametrize(
    ("limit", "ratio", "verdict"),
    [
        # u = 1/sqrt(3) = 0.577, U = 2 u = 1.155: the guard band for ratio 1 (JCGM 106, 8.3)
        ("11.16", 1, "complies"),
        ("11.15", 1, "too close to call"),
        ("8.85", 1, "too close to call"),
        ("8.84", 1, "does not comply"),
        # half the band
        ("10.58", F(1, 2), "complies"),
        ("10.57", F(1, 2), "too close to call"),
        # simple acceptance: the exact verdict, whatever the uncertainty
        ("10.01", 0, "complies"),
        ("10", 0, "does not comply"),
        ("9.99", 0, "does not comply"),
    ],
)
def test_guarded_acceptance_and_rejection(limit, ratio, verdict):
    limit = F(limit)
    assert one(limit=limit, passes=limit > 10, ratio=F(ratio)).verdict == verdict


def test_false_accept_is_at_most_two_and_a_half_percent_at_ratio_one():
    # ILAC-G8 (from memory): with w = 2 u an accepted opening is bad with 2.3 % at most
    found = one(limit=F(10) + F(2 / sqrt(3)) + F(1, 10**9), passes=True)
    assert found.verdict == "complies"
    assert 1 - found.probability == pytest.approx(norm.sf(2), rel=1e-6)


@given(st.floats(-5, 5))
def test_probability_is_the_normal_distribution_s(gap):
    # against scipy.stats.norm
    found = one(limit=F(10 + gap), passes=gap > 0)
    assert found.probability == pytest.approx(norm.cdf(gap * sqrt(3)), abs=1e-12)


def test_without_any_uncertainty_the_exact_verdict_stands():
    for limit, passes in ((F(10) + F(1, 10**30), True), (F(10), False)):
        found = one(F(0), limit=limit, passes=passes)
        assert (found.standard, found.verdict) == (0, "complies" if passes else "does not comply")
        assert found.probability == float(passes)


def test_the_one_measurement_that_would_settle_it():
    big, small = Measurement("big", F(1), F(3)), Measurement("small", F(1), F(1, 100))
    found = judge(10.0, [small, big], [1.0, 0.5], limit=F(11), passes=True)
    assert (found.verdict, found.settling.again) == ("too close to call", ("big",))
    better = Measurement("big", F(1), F(found.settling.plus_minus))
    assert judge(10.0, [small, better], [1.0, 0.5], limit=F(11), passes=True).verdict == "complies"
    worse = Measurement("big", F(1), F(found.settling.plus_minus) * F(1001, 1000))
    assert judge(10.0, [small, worse], [1.0, 0.5], limit=F(11), passes=True).verdict == "too close to call"


@pytest.mark.parametrize("gap", ["1", "0.9", "0.37", "-0.61"])
@pytest.mark.parametrize("spreads", [(3, 0.01, 0.2), (2, 0.1, 0.1), (5, 0.3, 0.001)])
def test_what_would_settle_it_does_digit_by_digit(gap, spreads):
    """On 0.6.0 two of three such figures were the tie itself, which settles nothing."""
    rows = [Measurement(name, F(1), F(str(spread))) for name, spread in zip("abc", spreads, strict=True)]
    of = {"limit": 10 + F(gap), "passes": F(gap) > 0}
    found = judge(10.0, rows, [0.7, 0.5, -0.3], **of)
    assert (found.verdict, found.settling.again) == ("too close to call", ("a",))
    better = [replace(rows[0], plus_minus=F(found.settling.plus_minus)), *rows[1:]]
    assert judge(10.0, better, [0.7, 0.5, -0.3], **of).verdict != "too close to call"


def test_where_several_measurements_would_settle_it():
    """Four alike, u = 2 / sqrt(3): three taken exactly leave 2 u = 2 / sqrt(3) > 1; all four to sqrt(3) / 4 leave 1."""
    alike = [Measurement(n, F(1), F(1)) for n in "abcd"]
    of = {"limit": F(11), "passes": True}
    found = judge(10.0, alike, [1.0] * 4, **of)
    assert (found.verdict, found.settling.again) == ("too close to call", tuple("abcd"))
    assert found.settling.plus_minus == pytest.approx(sqrt(3) / 4)
    better = [replace(row, plus_minus=F(found.settling.plus_minus)) for row in alike]
    assert judge(10.0, better, [1.0] * 4, **of).verdict == "complies"
    assert judge(10.0, alike, [1.0] * 4, **of, finest=0.44).settling == Settling((), 0.0)


def test_nothing_settles_a_tie_or_what_no_tape_can_be_read_to():
    """The same of one +- as of many: 0.6.0 asked for "several" of one."""
    assert one(limit=F(10), passes=False).settling == Settling((), 0.0)
    # 2 u = 2 p / sqrt(3) within a gap of 0.01 is p < 0.00866
    assert one(limit=F("10.01"), passes=True, finest=0.0086).settling.again == ("a",)
    assert one(limit=F("10.01"), passes=True, finest=0.0087).settling == Settling((), 0.0)
    assert settled_by_one("it", 0.01, 1.0, 0.0086).plus_minus == pytest.approx(0.01 * sqrt(3) / 2)
    assert settled_by_one("it", 0.0, 1.0, 0.0) == Settling((), 0.0)


# --- steps --------------------------------------------------------------------------------------------------


def step_of(*sizes, plus_minus="1/32"):
    step = dict(zip(LENGTHS, map(F, sizes), strict=True))
    return step, {name: Measurement(name, value, F(plus_minus)) for name, value in step.items()}


def test_closed_form_and_contacts_agree():
    # the derivatives of the closed form (printed by sympy) against the envelope theorem on the true outline
    rng = np.random.default_rng(1)
    tried = 0
    for _ in range(60):
        sizes = [F(round(float(x), 4)) for x in rng.uniform([6, 9, 0.2, 0, 0], [8, 12, 1.5, 1.5, 1.5])]
        step, measured = step_of(*sizes)
        answer = step_opening(*sizes, False, None)
        if set(answer.touches) != {"tread", "riser", "member"}:
            continue
        tried += 1
        closed = {s.measurement.name: s.derivative for s in step_uncertainty(answer, measured, False).shares}
        contacts = step_sensitivity(step, step_pockets(step, False)[0]).diameter
        assert [closed[name] for name in LENGTHS] == pytest.approx(list(contacts), rel=1e-9, abs=1e-12)
    assert tried > 40


@pytest.mark.parametrize(
    ("sizes", "open_riser", "touches"),
    [
        ((7, 11, 2, 2, 3), False, {"tread", "member", "nosing"}),
        ((7, 10, 1, 1, 22), False, {"nosing", "member"}),
        ((9, 9, "3/2", 1, 5), False, {"tread", "member", "nosing"}),
        ((7, 11, 1, 1, 1), True, {"tread", "member", "nosing"}),
        ((7, 10, 1, 1, 0), True, {"tread", "member", "nosing"}),
        ((7, 11, 1, "1/4", "1/8"), True, {"tread", "nosing"}),
    ],
)
def test_other_contacts_against_finite_differences(sizes, open_riser, touches):
    step, measured = step_of(*sizes)
    answer = step_opening(*step.values(), open_riser, None)
    assert set(answer.touches) == touches
    slopes = {s.measurement.name: s.derivative for s in step_uncertainty(answer, measured, open_riser).shares}
    h = F(1, 10**6)
    for name in LENGTHS:
        up, down = (
            (step_opening(*(step | {name: step[name] + d}).values(), open_riser, None).sphere for d in (h, -h))
            if step[name] > 0
            else (step_opening(*(step | {name: h}).values(), open_riser, None).sphere, answer.sphere)
        )
        numeric = (up - down) / float(2 * h if step[name] > 0 else h)
        assert slopes[name] == pytest.approx(numeric, rel=1e-5, abs=1e-6)


def test_steps_against_monte_carlo():
    # 10^5 draws each through the closed form, where the contacts stay tread, riser and member
    rng = np.random.default_rng(100)
    tried = 0
    while tried < 20:
        sizes = [F(round(float(x), 3)) for x in rng.uniform([6.5, 9.5, 0.3, 0.2, 0.2], [7.75, 11, 1.2, 1, 1])]
        spreads = [F(round(float(x), 3)) for x in rng.uniform(0.01, 0.06, 5)]
        step = dict(zip(LENGTHS, sizes, strict=True))
        measured = {n: Measurement(n, v, s) for (n, v), s in zip(step.items(), spreads, strict=True)}
        answer = step_opening(*sizes, False, F(6))
        found = step_uncertainty(answer, measured, False)
        if found.contact_may_change or set(answer.touches) != {"tread", "riser", "member"}:
            continue
        tried += 1
        draws = {n: float(m.value) + float(m.plus_minus) * rng.uniform(-1, 1, DRAWS) for n, m in measured.items()}
        spheres = arrays.step_sphere(draws["rise"], draws["run"], draws["nosing"], draws["lift"])
        assert found.standard == pytest.approx(spheres.std(), rel=0.02)
        # a normal distribution against sums of a few rectangular ones
        assert found.probability == pytest.approx(np.mean(spheres < 6), abs=0.03)


def test_a_step_about_to_touch_its_nosing_says_so():
    # centre (G + P - r, r) reaches the nosing's underside corner (G, R - T) where (r - P)^2 + (R - T - r)^2 = r^2:
    # for the closed form's r = 2.91636 that is T = 1.88530
    for tread, changes in (("1/2", False), ("1.87", True), ("1.885", True), ("1.90", True), ("3", False)):
        step, measured = step_of(7, 11, 1, tread, "1/2")
        answer = step_opening(*step.values(), False, None)
        assert ("nosing" in answer.touches) is (float(step["tread"]) > 1.88530)
        assert step_uncertainty(answer, measured, False).contact_may_change is changes


def test_open_treads_that_tie_with_the_step_say_so():
    # rise 7, tread 1/4: a throat of 6.75, whose sphere in its mouth at (11, 3.375) stands 3.0583 square below the
    # nosing line: a member 0.3167 over that line just touches it
    for lift, throat, changes in (
        ("0.1", True, False),
        ("0.30", True, True),
        ("0.33", False, True),
        ("1", False, False),
    ):
        step, measured = step_of(7, 11, 1, "1/4", lift)
        answer = step_opening(*step.values(), True, None)
        assert ("member" not in answer.touches) is throat
        assert step_uncertainty(answer, measured, True).contact_may_change is changes


@pytest.mark.parametrize(("lift", "changes"), [("0.2667", False), ("0.2867", True)])
def test_a_rise_that_may_be_off_may_open_the_mouth(lift, changes):
    """As above, with f the room under the member: df/dR = G/2k - G (R + T) R/2k^3 - 1/2 = -0.204, of 1/8 +- alone.

    Three standard uncertainties are 3 * 0.204 / 8 / sqrt(3) = 0.0442, and the member is at -f = 0.05 and 0.03.
    """
    step, measured = step_of(7, 11, 1, "1/4", lift, plus_minus=0)
    measured["rise"] = replace(measured["rise"], plus_minus=F(1, 8))
    answer = step_opening(*step.values(), True, None)
    assert step_uncertainty(answer, measured, True).contact_may_change is changes


# --- figures ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("case", range(15))
def test_triangles_against_monte_carlo(case):
    # incircle of a triangle from its sides: D = 4 area / perimeter, with Heron's area; 10^5 draws
    rng = np.random.default_rng(200 + case)
    sides = [F(round(float(x), 3)) for x in rng.uniform(8, 14, 3)]
    measured = [Measurement(f"side {k}", s, F(round(float(a), 3))) for k, (s, a) in
                enumerate(zip(sides, rng.uniform(0.02, 0.12, 3), strict=True), 1)]  # fmt: skip
    drawn = by_lengths(measured)
    found = outline_uncertainty(outline_opening(drawn.outline, F(5)), drawn)
    a, b, c = (float(m.value) + float(m.plus_minus) * rng.uniform(-1, 1, DRAWS) for m in measured)
    half = (a + b + c) / 2
    spheres = 2 * np.sqrt((half - a) * (half - b) * (half - c) / half)
    assert not found.contact_may_change
    assert found.standard == pytest.approx(spheres.std(), rel=0.02)


def corners(sides, diagonal):
    """Corners of a four-sided figure by the law of cosines: shape (4, 2, draws)."""
    ab, bc, cd, da = sides
    zero = np.zeros_like(ab)
    up = np.arccos((ab**2 + diagonal**2 - bc**2) / (2 * ab * diagonal))
    more = up + np.arccos((da**2 + diagonal**2 - cd**2) / (2 * da * diagonal))
    return np.array([(zero, zero), (ab, zero), (diagonal * np.cos(up), diagonal * np.sin(up)),
                     (da * np.cos(more), da * np.sin(more))])  # fmt: skip


def largest(points):
    """Largest circle in many convex four-sided figures: diameter and which three sides hold it.

    The greatest r with n . c + r <= h on every side is, by duality of linear programmes, the least over the trios of
    sides whose weights are not negative; each trio is a batch of 3 by 3 solves.
    """
    step = np.roll(points, -1, axis=0) - points
    normal = np.stack([step[:, 1], -step[:, 0]], axis=1) / np.hypot(step[:, 0], step[:, 1])[:, None]
    reach = (normal * points).sum(axis=1)
    sizes = []
    for trio in map(list, combinations(range(4), 3)):
        rows = np.concatenate([normal[trio], np.ones_like(normal[trio][:, :1])], axis=1).transpose(2, 0, 1)
        r = np.linalg.solve(rows, reach[trio].T[:, :, None])[:, 2, 0]
        aim = np.broadcast_to(np.array([0.0, 0.0, 1.0])[:, None], (len(r), 3, 1))
        weights = np.linalg.solve(rows.transpose(0, 2, 1), aim)[:, :, 0]
        sizes.append(np.where((weights >= -1e-12).all(axis=1), 2 * r, np.inf))
    sizes = np.array(sizes)
    return sizes.min(axis=0), sizes.argmin(axis=0)


@pytest.mark.parametrize("case", range(15))
def test_four_sides_against_monte_carlo(case):
    # 10^5 draws of the five lengths, each solved on all its trios of sides
    rng = np.random.default_rng(300 + case)
    upright = case % 3 == 0  # a third of them nearly rectangles, whose sphere may run to either end
    spread = 0.01 if upright else 1.0
    ring = np.array([(0, 0), (12, 0), (12, 7), (0, 7)]) + spread * rng.uniform(-1, 1, (4, 2))
    measured = [
        Measurement(f"side {k + 1}", F(round(float(np.hypot(*(ring[(k + 1) % 4] - ring[k]))), 4)), F(1, 32))
        for k in range(4)
    ]
    across = Measurement("diagonal", F(round(float(np.hypot(*(ring[2] - ring[0]))), 4)), F(1, 32))
    drawn = by_lengths(measured, [(0, 2, across)])
    opening = outline_opening(drawn.outline, None)
    found = outline_uncertainty(opening, drawn)
    draws = [float(m.value) + float(m.plus_minus) * rng.uniform(-1, 1, DRAWS) for m in (*measured, across)]
    spheres, trios = largest(corners(draws[:4], draws[4]))
    as_given, trio = largest(corners([np.array([float(m.value)]) for m in measured], np.array([float(across.value)])))
    assert opening.sphere == pytest.approx(as_given[0], rel=1e-9)
    changed = np.mean(trios != trio[0])
    if found.contact_may_change:
        assert upright or changed > 0 or len(opening.pockets) > 1
    else:
        assert changed < 1e-4
        assert found.standard == pytest.approx(spheres.std(), rel=0.02)
    assert found.contact_may_change or not upright


def test_strands_are_linear():
    # gap = spacing - diameter: variances of both add (JCGM 100, 5.1.2)
    opening = between_strands(F(3), F(1, 8), F(3))
    parts = Measurement("spacing", F(3), F(3, 100)), Measurement("strand diameter", F(1, 8), F(4, 100))
    found = outline_uncertainty(opening, by_strands(opening, *parts))
    assert found.standard == pytest.approx(0.05 / sqrt(3))
    assert not found.contact_may_change


def test_points_with_a_strand():
    # a triangle's lowest edge a strand: 10^4 draws, each a new outline through the whole engine
    rng = np.random.default_rng(9)
    at = [(0, 0), (40, 2), (22, 30)]
    pairs = [
        tuple(Measurement(f"{a}{k}", F(v), F(1, 2)) for a, v in zip("xz", p, strict=True)) for k, p in enumerate(at)
    ]
    strand = Measurement("strand", F(4), F(1, 10))
    drawn = by_points(pairs, strand, frozenset({1}))
    found = outline_uncertainty(outline_opening(drawn.outline), drawn)
    spheres = []
    for _ in range(1500):
        moved = [
            tuple(Measurement(m.name, m.value + m.plus_minus * F(float(rng.uniform(-1, 1))), F(0)) for m in pair)
            for pair in pairs
        ]
        thick = Measurement("strand", strand.value + strand.plus_minus * F(float(rng.uniform(-1, 1))), F(0))
        spheres.append(pockets(by_points(moved, thick, frozenset({1})).outline)[0].diameter)
    assert not found.contact_may_change
    assert found.standard == pytest.approx(np.std(spheres), rel=0.06)  # 1500 draws know their spread to 2 %


def test_two_pockets_that_tie_say_so():
    # an hourglass: two rooms of the same size; which is larger is anybody's guess within the uncertainty
    def rooms(width):
        ring = [(0, 0), (10, 0), (10, 4), (7, 4), (7, 6), (10, 6), (10, 10), (10 - width, 10), (0, 10), (0, 6), (3, 6),
                (3, 4), (0, 4)]  # fmt: skip
        return [tuple(Measurement(f"{a}{k}", F(v), F(1, 100)) for a, v in zip("xz", p, strict=True))
                for k, p in enumerate(ring)]  # fmt: skip

    drawn = by_points(rooms(1))
    assert outline_uncertainty(outline_opening(drawn.outline), drawn).contact_may_change


def test_regular_polygons_touch_more_than_three_sides():
    # every side is touched, so any change lets one go
    ring = [(10 * cos(2 * pi * k / 8), 10 * sin(2 * pi * k / 8)) for k in range(8)]
    pairs = [
        tuple(Measurement(f"{a}{k}", F(v), F(1, 10)) for a, v in zip("xz", p, strict=True)) for k, p in enumerate(ring)
    ]
    drawn = by_points(pairs)
    assert outline_uncertainty(outline_opening(drawn.outline), drawn).contact_may_change


@pytest.mark.parametrize("sizes", [(2, 4, 4, 4, 4, 6), (2, 4, 5, 3, 4, 4), (3, 3, 5, 4, 4, 6), (3, 4, 4, 4, 5, 4)])
def test_a_figure_of_many_roots_is_at_a_tie_what_it_is(sizes):
    """A room 12 by 5 with narrowing ends of one and of two triangles: 5 is the widest sphere, and 5 fails.

    Its corners have three unlike square roots, so that they are rounded, and the room may come out narrower by a hair.
    """
    first, second, *ends = (Measurement("", F(size), F(0)) for size in sizes)
    room, side = Measurement("", F(12), F(0)), Measurement("", F(5), F(0))
    across, below, third, fourth = ends
    sides = [first, second, room, third, fourth, room, below]
    diagonals = [(0, 2, across), (2, 6, side), (3, 5, side), (2, 5, Measurement("", F(13), F(0)))]  # Euclid I.47
    drawn = by_lengths(sides, diagonals)
    assert 0 < drawn.grain < F(1, 10**50)
    opening = outline_opening(drawn.outline, F(5), drawn.grain)
    assert opening.sphere == pytest.approx(5, rel=1e-14)
    assert opening.passes is False
    assert outline_opening(drawn.outline, 5 + F(1, 10**40), drawn.grain).passes is True


def test_a_figure_of_few_roots_needs_no_grain():
    assert by_lengths([Measurement("", F(size), F(0)) for size in (3, 4, 6)]).grain == 0
