"""What measurements say: the uncertainty of a sphere found from them, and a verdict that knows when it cannot say.

Measurements are taken as independent of one another.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import erfc, hypot, sqrt
from typing import Final, Literal, TypeAlias

from stairguard.solve.measurement import Measurement

__all__ = ["Share", "Uncertainty", "Verdict", "called", "judge"]

Verdict: TypeAlias = Literal["conforms", "does not conform", "too close to call"]


@dataclass(frozen=True, slots=True)
class Share:
    """What one measurement adds: ``derivative`` of the sphere by it, ``percent`` of the sphere's variance."""

    measurement: Measurement
    derivative: float
    percent: float


@dataclass(frozen=True, slots=True)
class Uncertainty:
    """What is known of a sphere, and what can be said against its limit.

    ``standard`` is the sphere's combined standard uncertainty (JCGM 100, 5.1.2; from memory). The decision rule is
    guarded acceptance and guarded rejection (JCGM 106, 8.3; from memory): with a guard band of ``ratio`` times
    ``2 standard``, an opening conforms if its sphere is smaller than the limit by more than the guard band,
    does not if it is at or above the limit by at least as much, and is else too close to call. ``probability`` that
    it conforms is for a normal distribution. ``settle`` is the measurement that, taken better, would settle it alone,
    and ``settle_plus_minus`` how well; both None where none would or nothing is to be settled. ``contact_may_change``
    says that within the uncertainty the sphere may touch something else: the linear figures are then only indicative.
    ``probability`` and ``verdict`` are None without a limit. ``shares`` come largest first.
    """

    standard: float
    ratio: Fraction
    guard_band: float
    probability: float | None
    verdict: Verdict | None
    contact_may_change: bool
    settle: str | None
    settle_plus_minus: float | None
    shares: tuple[Share, ...]


def judge(
    sphere: float,
    measurements: Sequence[Measurement],
    derivatives: Sequence[float],
    *,
    limit: Fraction | None,
    passes: bool | None,
    ratio: Fraction = Fraction(1),
    contact_may_change: bool = False,
) -> Uncertainty:
    """Uncertainty of a sphere, and the verdict of three.

    Parameters
    ----------
    sphere : diameter found
    measurements, derivatives : what it was found from, and its derivative by each; same order
    limit : the sphere to be stopped; exactly this size goes through
    passes : the exact verdict on the figures as given, which stands where the guard band is nothing
    ratio : of the guard band to twice the standard uncertainty; 0 is simple acceptance
    contact_may_change : whether within the uncertainty the sphere may touch something else; then the linear figure is
        only indicative, and the guard band is doubled
    """
    parts = [abs(slope) * m.standard for m, slope in zip(measurements, derivatives, strict=True)]
    standard = hypot(*parts)
    variance = standard * standard or 1.0
    shares = [
        Share(m, float(slope), 100 * part * part / variance)
        for m, slope, part in zip(measurements, derivatives, parts, strict=True)
    ]
    shares.sort(key=lambda share: -share.percent)
    wide = float(ratio) * (2 if contact_may_change else 1)
    band = 2 * wide * standard
    verdict = probability = settle = None
    if limit is not None and passes is not None:
        gap = float(limit) - sphere
        verdict = _CONFORMITY[called(gap, band, passes)]
        probability = 0.5 * erfc(-gap / (standard * sqrt(2))) if standard else float(passes)
        settle = _settle(shares, gap, wide, standard) if verdict == "too close to call" else None
    name, better = settle or (None, None)
    return Uncertainty(
        standard, ratio, band, probability, verdict, contact_may_change, name, better, tuple(shares)
    )  # fmt: skip


def called(margin: float, band: float, passes: bool) -> Literal["pass", "fail", "too close to call"]:
    """Call a figure by its margin inside its limit; the exact verdict decides where there is no guard band."""
    if band == 0:
        return "pass" if passes else "fail"
    if margin > band:
        return "pass"
    return "fail" if margin <= -band else "too close to call"


_FINE, _COARSE = 1e-15, 1e-3
_CONFORMITY: Final[dict[str, Verdict]] = {
    "pass": "conforms", "fail": "does not conform", "too close to call": "too close to call",
}  # fmt: skip


def _settle(shares: Sequence[Share], gap: float, ratio: float, standard: float) -> tuple[str, float] | None:
    """The largest share's measurement, if the rest leave a guard band within the gap; and the +- it then may have."""
    first = shares[0]
    rest = max(standard * standard * (1 - first.percent / 100), 0.0)
    allowed = (gap / (2 * ratio)) ** 2 - rest
    if allowed <= 0:
        return None
    better = sqrt(3 * allowed) / abs(first.derivative)
    others = [share.derivative * share.measurement.standard for share in shares[1:]]
    part = _FINE
    while called(gap, 2 * ratio * hypot(first.derivative * (better / sqrt(3)), *others), True) == "too close to call":
        if part > _COARSE:
            return None
        better, part = better * (1 - part), 2 * part  # by rounding, or just at the tie, which settles nothing
    return first.measurement.name, better
