"""The greatest force along a probe's way between two strands, or between a strand and what is rigid.

Seen along the strands, a probe comes forward on a line that lies ``clear`` from the axis of each strand at rest. It
touches a strand at the angle f from the strands' plane, and pushes it along the contact's normal, turned on by the
friction angle r. So the strand moves by q in the direction f + r, with the force F(q) that its tension, its stretch and
its bay give (`bay_force`):

    q = (A + B cos f - clear) / cos(f + r)        (1)
    push = 2 F(q) sin(f + r)                      (2), two strands
    push = F(q) sin(f + 2 r) / cos r              (3), one strand: the rigid side rubs too

A sphere has A = 0 and B = (sphere + diameter)/2. A cone turns into a cylinder at a shoulder, where A is half the
cylinder, B half the strand, and f no more than the cone's half-angle. The push is greatest once on the way (its
logarithm is concave in f), where its derivative by f is zero:

    e q' g + q g' = 0,  e = q F'(q) / F(q),  g = sin(f + r) or sin(f + 2 r)       (4)

All functions take numbers or arrays, broadcast against each other, in one unit of length and one of force.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

import numpy as np

if TYPE_CHECKING:  # numpy.typing costs more to import than all of this
    from collections.abc import Callable

    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

CONE_HALF_ANGLE: Final = float(np.degrees(np.arctan(0.5)))
"""Degrees: a cone of 105 mm from a tip of 20 mm to a cylinder of 125 mm."""

_BLOCK: Final = 8192
"""Bays worked at a time, so that what is between stays in the processor's cache."""
_STEPS: Final = 40
_TOO_STEEP: Final = float(np.radians(85))
"""Contact and friction angle together: past it friction drags a strand along and does not let it be spread."""
_CLOSE: Final = 3e-9
"""Of the half-angle's tangent: the push is flat at its greatest, so that it is then right to rounding."""


@dataclass(frozen=True, slots=True)
class Bay:
    """Strand between two posts, numbers or arrays.

    Parameters
    ----------
    length : clear between the posts, along the strand
    tension : at rest, not negative
    stiffness : EA, a force; zero for a tension that stays as it is, infinite for a strand that cannot stretch
    run : strand that stretches: ``length`` where both posts hold it, the whole run where it slides through its holes
    at : distance of the probe from one post, along the strand; None for mid-bay
    spring : force that brings one support nearer by one unit of length, along the strand; infinite where rigid
    """

    length: ArrayLike
    tension: ArrayLike
    stiffness: ArrayLike
    run: ArrayLike
    at: ArrayLike | None = None
    spring: ArrayLike = float("inf")


@dataclass(frozen=True, slots=True)
class Probe:
    """What is pushed, with the strand's diameter: ``a`` and ``b`` of equation (1), the steepest contact in degrees."""

    a: ArrayLike
    b: ArrayLike
    steepest: float


@dataclass(frozen=True, slots=True)
class Pushed:
    """The greatest push, and how things stand there.

    ``force`` along the probe's way; ``contact`` angle f in degrees from the strands' plane; ``deflection`` q of a
    strand, along the force on it; ``tension`` it has then. All zero (the tension as at rest) where the probe passes
    untouched.
    """

    force: Floats
    contact: Floats
    deflection: Floats
    tension: Floats


def sphere(diameter: ArrayLike, strand: ArrayLike) -> Probe:
    """A sphere of this diameter against strands of that."""
    return Probe(0.0, (_floats(diameter) + _floats(strand)) / 2, 90.0)


def cone(diameter: ArrayLike, strand: ArrayLike, half_angle: float = CONE_HALF_ANGLE) -> Probe:
    """A cone of this half-angle, degrees, that ends in a cylinder of this diameter."""
    return Probe(np.asarray(diameter, dtype=np.float64) / 2, np.asarray(strand, dtype=np.float64) / 2, half_angle)


def deflection(probe: Probe, clear: ArrayLike, contact: ArrayLike, along: ArrayLike) -> Floats:
    """How far a strand has moved at a contact angle, in the direction ``along`` of the force on it, both degrees."""
    cos_f, cos_p = np.cos(np.radians(contact)), np.cos(np.radians(along))
    return _moved(_floats(probe.a), _floats(probe.b), _floats(clear), cos_f, cos_p)


def _moved(a: Floats, b: Floats, clear: Floats, cos_f: Floats, cos_p: Floats) -> Floats:
    """Equation (1)."""
    return (a + b * cos_f - clear) / cos_p


def _floats(values: ArrayLike) -> Floats:
    return np.asarray(values, dtype=np.float64)


def bay_force(bay: Bay, deflection: ArrayLike) -> tuple[Floats, Floats]:
    """Force square to the strand that holds it deflected at one place, and the tension it then has.

    Two straight parts, elastic, no weight. Derived: the parts' true lengthening over the unstretched run gives
    the tension along them; with springs at both supports, run/(EA + T) and 2/spring add up.

    Returns
    -------
    force, tension : arrays of the shape the arguments have together
    """
    a, b, tension, rate = _sides(bay)
    return _force(np.asarray(deflection, dtype=np.float64), a, b, tension, rate)[:2]


def push(bay: Bay, probe: Probe, clear: ArrayLike, strands: ArrayLike = 2, friction: float = 0.0) -> Pushed:
    """Greatest force on a probe's way through.

    Parameters
    ----------
    bay : where it is pushed
    probe : from `sphere` or `cone`
    clear : from the line the probe's middle moves on to a strand's axis at rest, square to both: half the spacing
        between two strands, else the distance from where the rigid parts hold the middle. Zero or less has no answer
        (NaN): the probe's middle is past the strand. Nor has friction that would drag a strand along.
    strands : 2, or 1 against what is rigid
    friction : coefficient, of probe on strand and on what is rigid; below 0.5

    Returns
    -------
    Pushed

    Raises
    ------
    ValueError
        The friction is not from 0 to below 0.5.
    """
    if not 0 <= friction < 0.5:
        raise ValueError("friction must be from 0 to below 0.5")
    given = np.broadcast_arrays(*_sides(bay), *_shape(probe, clear, strands))
    shape = given[0].shape
    flat = [np.ascontiguousarray(part).reshape(-1) for part in given]
    out = np.empty((4, flat[0].size))
    for start in range(0, flat[0].size, _BLOCK):
        block = slice(start, start + _BLOCK)
        out[:, block] = _greatest([part[block] for part in flat], float(np.arctan(friction)))
    return Pushed(*(part.reshape(shape) for part in out))


def push_at(
    contact: ArrayLike, bay: Bay, probe: Probe, clear: ArrayLike, strands: ArrayLike = 2, friction: float = 0.0
) -> Pushed:
    """The push at one contact angle, degrees, on the probe's way: equations (1) to (3) as they stand."""
    a, b, tension, rate = _sides(bay)
    big_a, big_b, _, clear, strands = _shape(probe, clear, strands)
    rub = float(np.arctan(friction))
    state = _State(
        a=a,
        b=b,
        tension=tension,
        rate=rate,
        big_a=big_a,
        big_b=big_b,
        clear=clear,
        two=strands == 2,
        cos_r=float(np.cos(rub)),
        sin_r=float(np.sin(rub)),
    )
    q, pushed = state.at(np.tan(np.radians(contact) / 2))
    force, taut, _ = _force(q, a, b, tension, rate)
    return Pushed(force * pushed, np.asarray(contact, dtype=np.float64), q, taut)


def first_contact(probe: Probe, clear: ArrayLike) -> Floats:
    """Contact angle, degrees, at which the probe comes to bear on a strand at rest; NaN where it never does."""
    big_a, big_b, steepest, clear, _ = _shape(probe, clear, 2)
    with np.errstate(invalid="ignore"):
        first = np.degrees(np.arccos(np.maximum((clear - big_a) / big_b, -1.0)))
    return np.minimum(first, steepest)


def least_clear(probe: Probe, friction: float) -> Floats:
    """Clear down to which `push` has an answer: nearer, this friction drags the strand along; without any, zero."""
    big_a, big_b, steepest, _, _ = _shape(probe, 0.0, 2)
    steep = _TOO_STEEP - np.arctan(friction)
    dragged = (friction > 0) & (np.radians(steepest) > steep)
    return np.asarray(np.where(dragged, big_a + big_b * np.cos(steep), 0.0))


def tension_for(
    force: ArrayLike, bay: Bay, probe: Probe, clear: ArrayLike, strands: ArrayLike = 2, friction: float = 0.0
) -> Floats:
    """Least tension at rest at which the probe needs at least this force; the bay's own is not looked at.

    Zero where the strand holds it untensioned; NaN where the probe passes untouched, or `push` has no answer.
    """
    # The unstretching strand's tension is enough: stretch only adds. From there down by Newton's steps, which stay
    # above (the greatest of rising lines is convex): the push grows as the tension that the strand then has.
    plain, stiffness = Bay(bay.length, 1.0, 0.0, bay.run, bay.at), _floats(bay.stiffness)
    with np.errstate(divide="ignore", invalid="ignore"):
        wanted = _floats(force)
        tension = wanted / push(plain, probe, clear, strands, friction).force
        tension = np.where(np.isfinite(tension), tension, np.nan)
        for _ in range(_STEPS):
            taut = Bay(bay.length, tension, bay.stiffness, bay.run, bay.at, bay.spring)
            found = push(taut, probe, clear, strands, friction)
            # of one more at rest the strand gets more than one, being stretched from a shorter unstretched run
            gain = 1 + np.where(np.isinf(stiffness), 0.0, (found.tension - tension) / (stiffness + tension))
            step = found.tension * (wanted / found.force - 1) / gain
            # nothing is needed where even an untensioned strand's stretch holds, and a strand that cannot stretch does
            lower = np.where(np.isfinite(step), np.maximum(tension + step, 0.0), 0.0)
            lower = np.where(np.isnan(tension + found.force), np.nan, lower)
            done = ~(np.abs(lower - tension) > 1e-12 * found.tension)
            tension = lower
            if done.all():
                break
        step = np.spacing(found.tension)
        for _ in range(_STEPS):  # short of its push by rounding: raised until it is not
            short = push(replace(bay, tension=tension), probe, clear, strands, friction).force < wanted
            if not short.any():
                break
            tension, step = np.where(short, tension + step, tension), 4 * step
    return tension


def _sides(bay: Bay) -> tuple[Floats, Floats, Floats, Floats]:
    """Lengths each side of the probe, tension, and by how much that grows for one unit of lengthening."""
    length, tension, stiffness = _floats(bay.length), _floats(bay.tension), _floats(bay.stiffness)
    a = length / 2 if bay.at is None else _floats(bay.at)
    with np.errstate(divide="ignore", invalid="ignore"):
        rate = 1 / (_floats(bay.run) / (stiffness + tension) + 2 / _floats(bay.spring))
    # a stiffness of zero: nothing stretches, and the tension stays
    rate = np.where(stiffness == 0, 0.0, rate)
    return a, length - a, tension, rate


def _force(q: Floats, a: Floats, b: Floats, tension: Floats, rate: Floats) -> tuple[Floats, Floats, Floats]:
    """Force and tension at a deflection, and the elasticity e: growth of force by that of deflection, both relative."""
    square = q * q
    before, after = np.sqrt(a * a + square), np.sqrt(b * b + square)
    spread = 1 / before + 1 / after
    taut = tension + rate * square * (1 / (before + a) + 1 / (after + b))
    with np.errstate(divide="ignore", invalid="ignore"):
        stretch = np.where(taut > 0, rate * square * spread / taut, 2.0)
    bend = square * (before**-3 + after**-3) / spread
    return taut * q * spread, taut, 1 + stretch - bend


def _greatest(given: list[Floats], rub: float) -> Floats:
    """Push, contact, deflection and tension of one block, equation (4) solved by chords in the half-angle's tangent."""
    a, b, tension, rate, big_a, big_b, steepest, clear, strands = given
    cos_r, sin_r = np.cos(rub), np.sin(rub)
    two = strands == 2
    with np.errstate(all="ignore"):  # what has no answer is settled at the end
        first = np.arccos(np.clip((clear - big_a) / big_b, -1.0, 1.0))
        # neither further back than friction turns the force, nor than where the strand is at rest again
        low = np.tan(np.maximum(np.where(two, -rub, -2 * rub), -first) / 2)
        first = np.minimum(first, np.radians(steepest))
        high = np.tan(first / 2)
        state = _State(
            a=a,
            b=b,
            tension=tension,
            rate=rate,
            big_a=big_a,
            big_b=big_b,
            clear=clear,
            two=two,
            cos_r=cos_r,
            sin_r=sin_r,
        )
        contact = _root(state.slope, low, high)
        q, pushed = state.at(contact)
        force, taut, _ = _force(q, a, b, tension, rate)
        out = np.array([force * pushed, np.degrees(2 * np.arctan(contact)), q, taut])
    rigid = np.isinf(rate)
    out[0, rigid] = out[3, rigid] = np.inf
    untouched = clear >= big_a + big_b
    out[:3, untouched], out[3, untouched] = 0.0, tension[untouched]
    unanswered = (clear <= 0) | ((first + rub > _TOO_STEEP) & (rub > 0)) | np.isnan(clear + big_a + big_b + a + tension)
    out[:, unanswered] = np.nan
    return out


@dataclass(frozen=True, slots=True, kw_only=True)
class _State:
    """What equations (1) to (4) need, beside the contact angle."""

    a: Floats
    b: Floats
    tension: Floats
    rate: Floats
    big_a: Floats
    big_b: Floats
    clear: Floats
    two: NDArray[np.bool_]
    cos_r: float
    sin_r: float

    def _turned(self, t: Floats) -> tuple[Floats, ...]:
        """Sine of f, then cosine and sine of f + r and of what g takes the sine of."""
        over = 1 + t * t
        cos_f, sin_f = (1 - t * t) / over, 2 * t / over
        cos_p, sin_p = cos_f * self.cos_r - sin_f * self.sin_r, sin_f * self.cos_r + cos_f * self.sin_r
        if self.sin_r == 0:
            return cos_f, sin_f, cos_p, sin_p, cos_p, sin_p
        cos_g = np.where(self.two, cos_p, cos_p * self.cos_r - sin_p * self.sin_r)
        sin_g = np.where(self.two, sin_p, sin_p * self.cos_r + cos_p * self.sin_r)
        return cos_f, sin_f, cos_p, sin_p, cos_g, sin_g

    def slope(self, t: Floats) -> Floats:
        """Left side of equation (4)."""
        cos_f, sin_f, cos_p, sin_p, cos_g, sin_g = self._turned(t)
        q = _moved(self.big_a, self.big_b, self.clear, cos_f, cos_p)
        by_angle = (q * sin_p - self.big_b * sin_f) / cos_p
        return _force(q, self.a, self.b, self.tension, self.rate)[2] * by_angle * sin_g + q * cos_g

    def at(self, t: Floats) -> tuple[Floats, Floats]:
        """Deflection, and the push over the force on one strand."""
        cos_f, _, cos_p, _, _, sin_g = self._turned(t)
        q = np.maximum(_moved(self.big_a, self.big_b, self.clear, cos_f, cos_p), 0.0)
        return q, np.where(self.two, 2 * sin_g, sin_g / self.cos_r)


def _root(slope: Callable[[Floats], Floats], low: Floats, high: Floats) -> Floats:
    """Where a falling function crosses zero; ``high`` where it never does. Chords, the end that stays counting half."""
    at_low, at_high = slope(low), slope(high)
    last, never = high, at_high >= 0
    best, side, settled = low, np.zeros_like(high), never.copy()
    for _ in range(_STEPS):
        middle = high - at_high * (high - low) / (at_high - at_low)
        middle = np.where((middle > low) & (middle < high), middle, (low + high) / 2)
        at = slope(middle)
        down = at < 0
        at_low = np.where(down & (side < 0), at_low / 2, np.where(down, at_low, at))
        at_high = np.where(~down & (side > 0), at_high / 2, np.where(down, at, at_high))
        low, high = np.where(down, low, middle), np.where(down, middle, high)
        side = np.where(down, -1.0, 1.0)
        settled |= np.abs(middle - best) <= _CLOSE  # for good: rounding may turn the next chord anywhere
        best = np.where(settled, best, middle)
        if settled.all():
            break
    return np.where(never, last, best)


def _shape(probe: Probe, clear: ArrayLike, strands: ArrayLike) -> tuple[Floats, ...]:
    parts = probe.a, probe.b, probe.steepest, clear, strands
    return tuple(np.asarray(part, dtype=np.float64) for part in parts)
