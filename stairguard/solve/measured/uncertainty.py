"""What measurements say: the uncertainty of a sphere found from them, and a verdict that knows when it cannot say.

Measurements are taken as independent of one another.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import erfc, hypot, sqrt
from typing import TYPE_CHECKING, Final

from stairguard.model.asked.asked_opening import Measurement, Share, Uncertainty
from stairguard.model.outcome import Called, Settling, of_called

if TYPE_CHECKING:  # the whole job's classes come with it
    from stairguard.model.job import Unit

FINEST_READING: Final[Mapping[Unit, float]] = {"in": 1 / 64, "mm": 0.5}
"""What a tape can be read to at the best: common practice, no source."""


def judge(
    sphere: float,
    measurements: Sequence[Measurement],
    derivatives: Sequence[float],
    *,
    limit: Fraction | None,
    passes: bool | None,
    ratio: Fraction = Fraction(1),
    contact_may_change: bool = False,
    finest: float = 0.0,
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
    finest : reading of the tape that it would be measured again with; see `FINEST_READING`
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
    verdict = probability = settling = None
    if limit is not None and passes is not None:
        gap = float(limit) - sphere
        verdict = of_called(called(gap, band, passes))
        probability = 0.5 * erfc(-gap / (standard * sqrt(2))) if standard else float(passes)
        settling = _settling(shares, gap, wide, finest) if verdict == "too close to call" else None
    return Uncertainty(
        standard=standard,
        ratio=ratio,
        guard_band=band,
        probability=probability,
        verdict=verdict,
        contact_may_change=contact_may_change,
        settling=settling,
        shares=tuple(shares),
    )


def called(margin: float, band: float, passes: bool) -> Called:
    """Call a figure by its margin inside its limit; the exact verdict decides where there is no guard band."""
    if band == 0:
        return "pass" if passes else "fail"
    if margin > band:
        return "pass"
    return "fail" if margin <= -band else "too close to call"


_FINE, _COARSE = 1e-15, 1e-3
_NONE: Final = Settling((), 0.0)


def settled_by_one(what: str, margin: float, wide: float, finest: float) -> Settling:
    """How well one length must be measured whose own margin inside its limit is too close to call.

    ``wide`` is the ratio of its guard band to twice the standard uncertainty of a single figure.
    """
    better = _taken_to([Share(Measurement(what, Fraction(0), Fraction(0)), 1.0, 100.0)], (), margin, wide)
    return _NONE if better is None or better < finest else Settling((what,), better)


def _settling(shares: Sequence[Share], gap: float, wide: float, finest: float) -> Settling:
    """The one of largest share taken better, if that is enough; else as many as it takes, all alike."""
    moving = [share for share in shares if share.derivative and share.measurement.plus_minus]
    for again in range(1, len(moving) + 1):
        better = _taken_to(moving[:again], moving[again:], gap, wide)
        if better is not None and better >= finest:
            return Settling(tuple(share.measurement.name for share in moving[:again]), better)
    return _NONE


def _taken_to(again: Sequence[Share], rest: Sequence[Share], gap: float, wide: float) -> float | None:
    """To less than what +- these must be measured, all alike, for the guard band to come within the gap; or None."""
    others = [share.derivative * share.measurement.standard for share in rest]
    allowed = (gap / (2 * wide)) ** 2 - hypot(*others) ** 2
    if allowed <= 0:
        return None
    slopes = [share.derivative for share in again]
    better, part = sqrt(3 * allowed) / hypot(*slopes), _FINE

    def open_still() -> bool:
        parts = [slope * (better / sqrt(3)) for slope in slopes]
        return called(gap, 2 * wide * hypot(*parts, *others), True) == "too close to call"

    while open_still():
        if part > _COARSE:
            return None
        better, part = better * (1 - part), 2 * part  # by rounding, or just at the tie, which settles nothing
    return better
