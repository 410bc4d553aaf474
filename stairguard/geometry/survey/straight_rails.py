"""Every straight rail that keeps all points within a band of plumb heights, and the best of them, exactly.

A rail z = a + b s is a point (b, a). "At least" over every point says a >= f(b) = max(z + least - b s), "at most" says
a <= g(b) = min(z + most - b s). f turns at the slopes of the upper hull's edges, g at those of the lower hull's.
With W(b) the plumb width of the strip of slope b that holds all points, g - f = (most - least) - W. W is convex and
its least, always at one slope, is where an edge of one hull lies opposite a corner of the other: the antipodal pairs
are met by merging the two lists of slopes. That is the linear programme solved, with its certificate: one edge and one
corner, three points, bind the best rail or forbid any.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Literal, TypeAlias

from stairguard.errors import GeometryError
from stairguard.geometry.survey.straightedge import Straight, SurveyPoint, faults_of, hull, slope_between

Reach: TypeAlias = tuple[Fraction | None, Fraction | None]
"""Least and greatest of something; None where nothing bounds it."""

NoBestRail: TypeAlias = Literal["no limit", "one limit", "too narrow", "contradiction"]
"""Why no rail is the best: the farther from one limit alone the better; or no rail keeps both."""


@dataclass(frozen=True, slots=True)
class BestRail:
    """The rail whose least margin to both limits is largest; there is just one.

    ``at_least`` are the indices of the points over which it is lowest, ``margin`` above the least height;
    ``at_most`` those over which it is highest, ``margin`` below the greatest.
    """

    line: Straight
    margin: Fraction
    at_least: tuple[int, ...]
    at_most: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Blocking:
    """Why no straight rail keeps the band: the fewest points that forbid it, by index.

    A rail high enough over ``too_low`` is too high over ``too_high``, whatever its slope. ``by`` is how much
    wider the band would have to be.
    """

    too_low: tuple[int, ...]
    too_high: tuple[int, ...]
    by: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class RailBand:
    """All straight rails whose plumb height over every point is from ``least`` to ``most``; None: no such limit.

    ``slopes`` (elevation per station), ``first`` and ``last`` (height over the first and the last point) reach over
    all those rails, and are None where there is none. ``corners`` are the corners of the region of (height over the
    first, height over the last), in order round it: every rail of the band is a mean of them. They are given only
    where both limits hold, since with one the region has no end; then ``best`` is None too, and ``why`` says so.
    """

    least: Fraction | None
    most: Fraction | None
    slopes: Reach | None
    first: Reach | None
    last: Reach | None
    corners: tuple[tuple[Fraction, Fraction], ...]
    best: BestRail | None
    blocking: Blocking | None
    why: NoBestRail | None


def rail_band(points: Sequence[SurveyPoint], least: Fraction | None, most: Fraction | None) -> RailBand:
    """Find all straight rails within a band of heights over points, and the best of them.

    Parameters
    ----------
    points : two or more, station and elevation, stations increasing
    least, most : plumb heights over every point; None for no limit

    Raises
    ------
    GeometryError
        Fewer than two points, or stations that do not increase.
    """
    faults = faults_of(points)
    if faults:
        raise GeometryError(*faults)
    if least is None or most is None:
        # Each end may then be moved away from the limit as far as one likes, and up to it alone.
        why: NoBestRail = "no limit" if least == most else "one limit"
        reach = (least, most)
        return RailBand(
            least=least,
            most=most,
            slopes=(None, None),
            first=reach,
            last=reach,
            corners=(),
            best=None,
            blocking=None,
            why=why,
        )
    strips = _strips(points)
    narrowest = min(range(len(strips)), key=lambda k: strips[k].width)
    spare = most - least - strips[narrowest].width
    if spare < 0:
        why = "too narrow" if least <= most else "contradiction"
        blocking = _blocking(points, strips[narrowest], -spare)
        return RailBand(
            least=least,
            most=most,
            slopes=None,
            first=None,
            last=None,
            corners=(),
            best=None,
            blocking=blocking,
            why=why,
        )
    corners = _corners(points, strips, least, most)
    ends = [(_over(points, 0, c), _over(points, -1, c)) for c in corners]
    slopes, first, last = zip(*((b, u, v) for (b, _), (u, v) in zip(corners, ends, strict=True)), strict=True)
    best = _best(points, strips[narrowest], least, spare / 2)
    return RailBand(
        least=least,
        most=most,
        slopes=_reach(slopes),
        first=_reach(first),
        last=_reach(last),
        corners=tuple(ends),
        best=best,
        blocking=None,
        why=None,
    )


@dataclass(frozen=True, slots=True)
class _Strip:
    """The strip of one slope that just holds all points.

    ``high`` are the upper hull's corners on it for slopes just below and just above this one (the same where it has no
    edge of this slope), ``low`` the lower hull's.
    """

    slope: Fraction
    width: Fraction
    high: tuple[int, int]
    low: tuple[int, int]


def _strips(points: Sequence[SurveyPoint]) -> list[_Strip]:
    """Strips at every slope at which either hull has an edge, slopes increasing."""
    # As the slope grows the highest corner runs from the last point back to the first, the lowest the other way.
    highs, lows = hull(points, 1)[::-1], hull(points, -1)
    high_slopes = [slope_between(points, i, j) for i, j in pairwise(highs)]
    low_slopes = [slope_between(points, i, j) for i, j in pairwise(lows)]
    strips = []
    h = k = 0
    while h < len(high_slopes) or k < len(low_slopes):
        slope = min(high_slopes[h : h + 1] + low_slopes[k : k + 1])
        h0, k0 = h, k
        h += high_slopes[h : h + 1] == [slope]
        k += low_slopes[k : k + 1] == [slope]
        width = _above(points, highs[h], slope) - _above(points, lows[k], slope)
        strips.append(_Strip(slope, width, (highs[h0], highs[h]), (lows[k0], lows[k])))
    return strips


def _corners(
    points: Sequence[SurveyPoint], strips: Sequence[_Strip], least: Fraction, most: Fraction
) -> list[tuple[Fraction, Fraction]]:
    """Corners (slope, elevation at station 0) of the region of rails, once round."""
    band = most - least
    inside = [strip for strip in strips if strip.width <= band]
    lows = [(s.slope, _above(points, s.high[1], s.slope) + least) for s in inside if s.high[0] != s.high[1]]
    highs = [(s.slope, _above(points, s.low[1], s.slope) + most) for s in inside if s.low[0] != s.low[1]]
    # Beyond the outermost of those strips the width grows evenly, by the level distance of its two corners.
    start = _touching(points, inside[0], inside[0].high[0], inside[0].low[0], band)
    end = _touching(points, inside[-1], inside[-1].high[1], inside[-1].low[1], band)
    round_trip = [
        (start, _above(points, inside[0].high[0], start) + least), *lows,
        (end, _above(points, inside[-1].high[1], end) + least), *highs[::-1],
    ]  # fmt: skip
    return list(dict.fromkeys(round_trip))


def _touching(points: Sequence[SurveyPoint], strip: _Strip, high: int, low: int, band: Fraction) -> Fraction:
    """The slope at which the strip between two corners is as wide as the band."""
    return strip.slope + (band - strip.width) / (points[low][0] - points[high][0])


def _best(points: Sequence[SurveyPoint], strip: _Strip, least: Fraction, margin: Fraction) -> BestRail:
    above = [z - strip.slope * s for s, z in points]
    high, low = max(above), min(above)
    height = high + least + margin
    station = points[0][0]
    line = Straight(station, height + strip.slope * station, strip.slope)
    return BestRail(
        line, margin, tuple(i for i, a in enumerate(above) if a == high),
        tuple(i for i, a in enumerate(above) if a == low),
    )  # fmt: skip


def _blocking(points: Sequence[SurveyPoint], strip: _Strip, by: Fraction) -> Blocking:
    """One edge of the narrowest strip and a point of its other side between the edge's two ends."""
    high, low = sorted(set(strip.high)), sorted(set(strip.low))
    for edge, other in ((high, low), (low, high)):
        opposite = [i for i in other if edge[0] <= i <= edge[-1]]
        if len(edge) == 2 and opposite:
            one = (opposite[0],)
            return Blocking(tuple(edge), one, by) if edge is high else Blocking(one, tuple(edge), by)
    raise AssertionError("the narrowest strip has an edge opposite a corner between its ends")


def _over(points: Sequence[SurveyPoint], index: int, corner: tuple[Fraction, Fraction]) -> Fraction:
    """Height over a point of the rail that is a corner of the region."""
    slope, height = corner
    station, elevation = points[index]
    return height + slope * station - elevation


def _above(points: Sequence[SurveyPoint], index: int, slope: Fraction) -> Fraction:
    """Elevation at station 0 of the line of a slope through a point."""
    station, elevation = points[index]
    return elevation - slope * station


def _reach(values: Sequence[Fraction]) -> Reach:
    return min(values), max(values)
