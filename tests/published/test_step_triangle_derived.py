"""The step triangle. Derived, not published: two searches found no published worked example.

Independent witnesses: a table worked by another route (plumb gap v under the member, inradius of the right
triangle d0 = R + G - sqrt(R^2 + G^2), sphere d0 (1 + p/G + v/R)), and shapely's maximum inscribed circle,
which knows nothing of steps.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

import pytest
import shapely
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from stairguard.solve.sphere.step_opening import step_opening
from tests.relations.formulas import scalars

# rise, run, projection, sphere, largest plumb gap and its square equal as worked by hand to two places
TABLE = [
    (7.75, 10, 0, 6, 1.37, 1.08),
    (7.75, 10, 0.75, 6, 0.79, 0.62),
    (7.75, 10, 1.25, 6, 0.40, 0.32),
    (7.5, 10, 0, 6, 1.50, 1.20),
    (7.5, 10, 0.75, 6, 0.94, 0.75),
    (7.5, 10, 1.25, 6, 0.56, 0.45),
    (7, 11, 0, 6, 1.47, 1.24),
    (7, 11, 1.25, 6, 0.67, 0.57),
    (6.5, 12, 0, 6, 1.54, 1.35),
    (6.5, 12, 1.25, 6, 0.86, 0.76),
    (6, 12, 0, 6, 1.85, 1.66),
    (6, 12, 1.25, 6, 1.23, 1.10),
]
METRIC = [  # the same in millimetres, the plumb gap to one place
    (190, 280, 0, 150, 26.5),
    (190, 280, 25, 150, 9.6),
    (200, 250, 0, 150, 31.0),
    (200, 250, 25, 150, 11.0),
    (190, 250, 0, 125, -1.5),
    (190, 250, 25, 125, -20.5),
]
INRADII = [(7.75, 10, 5.098), (7.5, 10, 5.000), (7, 11, 4.962), (6.5, 12, 4.853), (6, 12, 4.584),
           (190, 280, 131.6), (200, 250, 129.8), (190, 250, 126.0)]  # fmt: skip
HALF = 0.5 + 1e-9  # of the last place worked out


@pytest.mark.parametrize(("rise", "run", "nosing", "sphere", "plumb", "square"), TABLE)
def test_lift_that_a_sphere_allows(rise, run, nosing, sphere, plumb, square):
    lift = scalars.step_lift(rise, run, nosing, sphere)
    cosine = run / math.hypot(rise, run)
    # The square figures were worked from the plumb ones already rounded, so both roundings count: the row of
    # 7 over 11 with 1-1/4 says 0.57 where 0.5645 is right.
    assert lift == pytest.approx(square, abs=0.01 * HALF * (1 + cosine))
    assert lift * math.hypot(rise, run) / run == pytest.approx(plumb, abs=0.01 * HALF)


@pytest.mark.parametrize(("rise", "run", "nosing", "sphere", "plumb"), METRIC)
def test_lift_in_millimetres(rise, run, nosing, sphere, plumb):
    lift = scalars.step_lift(rise, run, nosing, sphere)
    assert lift * math.hypot(rise, run) / run == pytest.approx(plumb, abs=0.1 * HALF)


@pytest.mark.parametrize(("rise", "run", "inradius_twice"), INRADII)
def test_bare_triangle(rise, run, inradius_twice):
    places = 0.001 if rise < 100 else 0.1
    assert scalars.step_sphere(rise, run, 0, 0) == pytest.approx(inradius_twice, abs=places * HALF)


@dataclass(frozen=True)
class Step:
    """A step and the lowest member's square lift, in 64ths of an inch so that all figures are exact."""

    rise: Fraction
    run: Fraction
    nosing: Fraction
    tread: Fraction
    lift: Fraction

    def room(self) -> shapely.Polygon:
        """Where a sphere's section may be: over three like steps, under the member; middle step from (0, 0).

        The middle pocket is bounded by its own step alone; the outer ones are shut by plumb lines
        at the outermost nosings, which can only make them smaller.
        """
        rise, run, nosing, tread = map(float, (self.rise, self.run, self.nosing, self.tread))
        profile = [(-run, -rise)]
        for k in (-1, 0, 1):
            x, z = k * run, k * rise
            back = x + run + nosing
            profile += [(back, z), (back, z + rise - tread), (x + run, z + rise - tread), (x + run, z + rise)]
        high = 10 * (rise + run)
        over = shapely.Polygon([*profile, (2 * run, high), (-run, high)])
        up = float(self.lift) * math.hypot(1, rise / run)
        ends = [(x, x * rise / run + up) for x in (-2 * run, 3 * run)]
        under = shapely.Polygon([*ends, (3 * run, -high), (-2 * run, -high)])
        return over.intersection(under)

    def witness(self, tolerance: float) -> float:
        """Diameter of the largest circle by shapely, low by at most twice the tolerance.

        Shapely is asked for a tenth of it: it stops somewhat short of the tolerance that it is given.
        """
        parts = getattr(self.room(), "geoms", [self.room()])
        return max(2 * shapely.maximum_inscribed_circle(part, tolerance=tolerance / 10).length for part in parts)


@st.composite
def steps(draw: st.DrawFn) -> Step:
    """Steps with up to thick treads and long nosings, members from under the nosing line to well over it."""
    run, rise = draw(st.integers(8 * 64, 16 * 64)), draw(st.integers(4 * 64, 9 * 64))
    nosing, tread = draw(st.integers(0, run * 2 // 5)), draw(st.integers(1, rise * 17 // 20))
    lift = draw(st.integers(-32, 3 * 64))
    return Step(*(Fraction(figure, 64) for figure in (rise, run, nosing, tread, lift)))


TOLERANCE = 1e-4


def _holds(step: Step) -> tuple[bool, float]:
    """Whether the closed form's circle, on tread, riser face and member, is in the room; its diameter."""
    sphere = scalars.step_sphere(step.rise, step.run, step.nosing, step.lift)
    r = sphere / 2
    if r <= 0:
        return False, sphere
    room, x = step.room(), float(step.run + step.nosing) - r
    clear = room.boundary.distance(shapely.Point(x, r)) if room.covers(shapely.Point(x, r)) else 0
    return clear >= r - 1e-9 and r <= step.rise - step.tread and x >= 0, sphere


@settings(max_examples=150, deadline=None)
@given(steps())
def test_closed_form_against_shapely(step):
    holds, sphere = _holds(step)
    assume(holds)
    assert step.witness(TOLERANCE) == pytest.approx(sphere, abs=2 * TOLERANCE + 1e-9)


@settings(max_examples=200, deadline=None)
@example(Step(Fraction(4), Fraction(16), Fraction(189, 32), Fraction(1, 64), Fraction(1, 64)))  # under a thin tread
@given(steps())
def test_true_outline_against_shapely(step):
    # Thick treads and long nosings included, where the closed form does not hold.
    found = step_opening(step.rise, step.run, step.nosing, step.tread, step.lift, False, None)
    assert step.witness(TOLERANCE) == pytest.approx(found.sphere, abs=2 * TOLERANCE + 1e-9)


@settings(max_examples=100, deadline=None)
@given(steps())
def test_closed_form_bounds_the_true_outline(step):
    # A circle in the room lies also between tread, riser face and member produced, if it rests on the tread.
    found = step_opening(step.rise, step.run, step.nosing, step.tread, step.lift, False, None)
    holds, sphere = _holds(step)
    if holds:
        assert found.sphere == pytest.approx(sphere, rel=1e-12)
    elif {"tread", "member"} <= set(found.touches):
        assert found.sphere <= sphere * (1 + 1e-12)


def test_cases_beyond_the_closed_form():
    # Named so that a run without chance covers them: the nosing is touched before the riser's face.
    for step in (
        Step(Fraction(7), Fraction(11), Fraction(4), Fraction(5), Fraction(1)),
        Step(Fraction(15, 2), Fraction(10), Fraction(3), Fraction(6), Fraction(1)),
        Step(Fraction(6), Fraction(12), Fraction(3), Fraction(5), Fraction(2)),
    ):
        holds, sphere = _holds(step)
        assert not holds
        found = step_opening(step.rise, step.run, step.nosing, step.tread, step.lift, False, None)
        assert "nosing" in found.touches
        assert found.sphere < sphere - 0.01
        assert step.witness(1e-5) == pytest.approx(found.sphere, abs=2e-5 + 1e-9)
