"""What a strand's tension does to it and what changes its tension: stretch, sag, temperature, drying wood, a hung mass.

All take numbers or arrays, broadcast against each other, in one unit of length and one of force.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Literal

import numpy as np

from stairguard.relations.printed import arrays

if TYPE_CHECKING:  # numpy.typing costs more to import than all of this
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

_STEPS: Final = 60
_CLOSE: Final = 1e-14


def softened(stiffness: ArrayLike, run: ArrayLike, spring: ArrayLike) -> Floats:
    """EA of a strand together with a spring at each anchor: run / (run/EA + 2/spring).

    What gives way in line adds up; of two unlike springs take the harmonic mean. Derived. Put into ``strand-force``,
    what stretch adds comes out too much by no more than the tension over this EA: tension stiffens a strand a
    little, and no springs.
    """
    long, ea, k = (np.asarray(part, dtype=np.float64) for part in (run, stiffness, spring))
    with np.errstate(divide="ignore"):  # no stiffness on the way leaves none, an infinite one takes nothing away
        return np.asarray(long / (long / ea + 2 / k))


def changed_tension(
    tension: ArrayLike, stiffness: ArrayLike, bay: ArrayLike, weight: ArrayLike, strain: ArrayLike,
    weight_before: ArrayLike | None = None,
) -> Floats:  # fmt: skip
    """Tension after a change of state, the strand's own weight counted: with any, it never falls quite to nothing.

    A strand under tension T in a bay L sags, and so is longer than the straight line by w^2 L^2 / (24 T^2) of it
    (parabola). That, less what it is stretched, T/EA, grows by the free strain: the positive root T2 of

        T2^3 + T2^2 (EA w1^2 L^2 / (24 T1^2) + EA strain - T1) - EA w2^2 L^2 / 24 = 0

    Strain beside one is left out, as everywhere in this, and so is the tension's change along a sloping strand.

    Parameters
    ----------
    tension : before, more than zero
    stiffness : EA, with the give of its anchors (`softened`); finite
    bay : along the strand, where it is held at both posts. Where it slides freely through several, one tension is in
        all and their excess lengths add up: sqrt(sum of L^3 / sum of L), which is L of equal ones
    weight, weight_before : force on one unit of length, square to the strand (of a sloping one, times the pitch's
        cosine); the same before if not given
    strain : free lengthening of the strand less that of its frame, per unit: (a_s - a_f) dTheta, what anchors have
        come nearer by, over the run, and the part by which new strand settles

    Returns
    -------
    array of the shape the arguments have together; without weight the straight strand's, or zero where that is slack.
    NaN outside what is said above.
    """
    t1, ea, long, w2, e = (np.asarray(part, dtype=np.float64) for part in (tension, stiffness, bay, weight, strain))
    w1 = w2 if weight_before is None else np.asarray(weight_before, dtype=np.float64)
    with np.errstate(all="ignore"):  # what has no answer is settled at the end
        p = ea * (w1 * long / t1) ** 2 / 24 + ea * e - t1
        r = ea * (w2 * long) ** 2 / 24
        # above the root the cubic rises and is convex: Newton's steps come down to it and never pass
        t = np.maximum(-p, 0.0) + np.cbrt(r)
        for _ in range(_STEPS):
            step = (t * t * (t + p) - r) / (t * (3 * t + 2 * p))
            step = np.where(np.isfinite(step), step, 0.0)  # zero is a root already
            t = t - step
            if not np.any(np.abs(step) > _CLOSE * t):
                break
        sound = (t1 > 0) & (ea >= 0) & np.isfinite(ea) & (long >= 0) & ~np.isnan(t)
    return np.asarray(np.where(sound, np.maximum(t, 0.0), np.nan))


def catenary_sag(weight: ArrayLike, bay: ArrayLike, tension: ArrayLike, pitch_deg: ArrayLike = 0.0) -> Floats:
    """Plumb sag below the middle of a bay's straight line, exact; what the relation ``strand-sag`` comes near to.

    With x = w L / T, z the pitch, of the catenary through the bay's two ends (derived):

        2 T/w sinh^2(x/4) sqrt(cos^2 z + sin^2 z (x/2)^2 / sinh^2(x/2))

    The parabola's w L^2 / 8T is right on every pitch but for x^2 (1/48 - sin^2(z)/24) of it, and powers beyond.

    Parameters
    ----------
    weight : force on one unit of length
    bay : along the straight line between the ends
    tension : where the strand is parallel to that line; its level part, in a level bay
    pitch_deg : of that line

    Returns
    -------
    array of the shape the arguments have together; infinite without tension
    """
    w, long, t = (np.asarray(part, dtype=np.float64) for part in (weight, bay, tension))
    pitch = np.radians(np.asarray(pitch_deg, dtype=np.float64))
    with np.errstate(all="ignore"):
        x = w * long / t
        deep = long / 8 * x * _sinhc(x / 4) ** 2
        sag = deep * np.sqrt(np.cos(pitch) ** 2 + (np.sin(pitch) / _sinhc(x / 2)) ** 2)
    return np.asarray(np.where((t == 0) & (w > 0) & (long > 0), np.inf, sag))


def _sinhc(x: Floats) -> Floats:
    """Hyperbolic sine over its argument, one at zero."""
    return np.asarray(np.where(x == 0, 1.0, np.sinh(x) / x))


def hung_deflection(
    force: ArrayLike, tension: ArrayLike, stiffness: ArrayLike, bay: ArrayLike, run: ArrayLike
) -> Floats:
    """Deflection at mid-bay under a force square to the strand: where the relation ``strand-force`` gives that force.

    A tension less than nothing is slack, as from `tension_from_deflection`: the strand's own length is
    run EA / (EA + tension), more than its run. The force then starts where the two halves have taken that up.

    Returns
    -------
    array of the shape the arguments have together; zero without a force, infinite where neither tension nor stiffness
    resists, NaN of a force or stiffness less than nothing or slack of all of EA
    """
    given = np.broadcast_arrays(*(np.asarray(part, dtype=np.float64) for part in (force, tension, stiffness, bay, run)))
    p, t, ea, long, total = given
    with np.errstate(all="ignore"):  # what has no answer is settled at the end
        low, high = _bracket(p, t, ea, long, total)
        q = np.where(np.isfinite(high), high, 0.0)
        for _ in range(_STEPS):
            # strand-force rises with the deflection: Newton's steps kept within the bracket, which they close
            found = arrays.strand_force(t, ea, long, total, q)
            slope = (found * long**2 / 4 / q + 4 * (ea + t) / total * q**2) / (long**2 / 4 + q**2)
            high, low = np.where(found > p, q, high), np.where(found > p, low, q)
            nextq = q - (found - p) / slope
            nextq = np.where((nextq >= low) & (nextq <= high), nextq, (low + high) / 2)
            nextq = np.where(np.isfinite(high), nextq, 0.0)
            far = np.abs(nextq - q) > _CLOSE * q
            q = nextq
            if not far.any():
                break
        wrong = np.isnan(p + t + ea + long + total) | (p < 0) | (ea < 0) | ((t < 0) & (ea + t <= 0))
    return np.where(wrong, np.nan, np.where(p == 0, 0.0, np.where(np.isfinite(high), q, np.inf)))


def _bracket(p: Floats, t: Floats, ea: Floats, long: Floats, total: Floats) -> tuple[Floats, Floats]:
    """A deflection that needs no force, and one that needs as much as the force or more; infinite if nothing does."""
    slack = np.maximum(-t, 0.0) * total / (ea + t)
    low = np.sqrt(slack * (2 * long + slack)) / 2
    # tension alone would hold it there. In large deflections the pull along the strand counts.
    by_tension = np.where(t > p / 2, long / 2 * p / np.sqrt(4 * t * t - p * p), np.inf)
    high = low + np.cbrt(p * long**2 * total / (8 * (ea + t)))
    # the exact force is under the cubic's: grow until it is enough; an elastic strand always gets there
    for _ in range(_STEPS):
        short = arrays.strand_force(t, ea, long, total, high) < p
        if not (short & np.isfinite(high)).any():
            break
        high = np.where(short, low + 1.5 * (high - low), high)
    return low, np.fmin(by_tension, high)


def tension_from_deflection(
    force: ArrayLike, deflection: ArrayLike, stiffness: ArrayLike, bay: ArrayLike, run: ArrayLike
) -> Floats:
    """Tension at rest, from how far a force square to the strand takes it at mid-bay; negative says it was slack.

    What a person finds with a hung mass and a rule instead of a gauge. Infinite where the strand does not move under a
    force, NaN without both, and of either less than nothing.
    """
    q, p = (np.asarray(part, dtype=np.float64) for part in (deflection, force))
    with np.errstate(divide="ignore", invalid="ignore"):
        found = arrays.strand_force_tension(stiffness, bay, run, q, p)
    return np.where((q < 0) | (p < 0), np.nan, found)


def seat_shortening(
    width_start: ArrayLike, width_end: ArrayLike, part: ArrayLike, seated: Literal["inner face", "centre"]
) -> Floats:
    """How much nearer the anchors' seats come as two end posts lose a part of their widths.

    Seats are on the posts' outer faces. Where inner faces stay put, against a rail fitted between the posts, each seat
    comes in by its post's whole shrinkage; where centres do, by half of it. Derived.
    """
    first, last, lost = (np.asarray(given, dtype=np.float64) for given in (width_start, width_end, part))
    whole = (first + last) * lost
    return np.asarray(whole if seated == "inner face" else whole / 2)
