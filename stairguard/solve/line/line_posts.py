"""Where line posts stand: fewest that keep every clear gap, then as even as the treads allow."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from math import ceil, floor, lcm
from typing import NamedTuple

from stairguard.errors import Fault, JobError
from stairguard.geometry.marks import mark_above, plain_text
from stairguard.model.job import Post
from stairguard.solve.line.surface_line import Uphill


def on_level(first: Fraction, last: Fraction, sec: Fraction, post: Post) -> tuple[Fraction, ...]:
    """Centres of line posts on a landing or ramp, evenly spaced between what bounds its strands.

    Parameters
    ----------
    first, last : stations half a post's width outside the first and last clear gap, as post centres are
    sec : length along the slope per level unit: gaps are measured along the strands
    """
    bays = max(1, ceil((last - first) / (post.max_gap / sec + post.width)))
    return tuple(first + (last - first) * k / bays for k in range(1, bays))


def on_treads(
    up: Uphill, low: Fraction, high: Fraction, sec: Fraction, post: Post, treads: tuple[int, int], mark: Fraction
) -> tuple[int, ...]:
    """Treads, 1 next above the lower landing, that carry a line post.

    Of all choices with the fewest posts that keep every gap, those whose widest gap is least; of these, those whose
    narrowest is greatest; of these, the one whose gaps squared add up to least; of equals, the nearest to even parts.

    Parameters
    ----------
    low, high : x in the flight's uphill frame, half a post's width outside the first and last clear gap, as post
        centres are
    sec : length along the slope per level unit: gaps are measured along the strands
    treads : first and last tread free for line posts
    mark : to which the gap that is asked for, where none keeps it, is told

    Raises
    ------
    JobError
        Not even a post on every tread keeps the gap.
    """
    widest = post.max_gap / sec + post.width
    exact = [low, *(up.x(tread) + post.setback for tread in range(treads[0], treads[1] + 1)), high]
    scale = lcm(*(x.denominator for x in exact))
    places = [int(x * scale) for x in exact]  # whole numbers of one small part: exact, and quicker than fractions
    fewest = _stepped(places, floor(widest * scale))
    if fewest is None:
        needed = mark_above((max(b - a for a, b in pairwise(exact)) - post.width) * sec, mark)
        must = f"at least {plain_text(needed)}, the clear gap along the strands that posts on every tread still leave"
        raise JobError(Fault("post.max_gap", must, float(post.max_gap)))
    if not fewest:
        return ()
    chosen = _most_even(places, len(fewest), _least_widest(places, fewest))
    return tuple(treads[0] + place - 1 for place in chosen)


class _Way(NamedTuple):
    """The best way to a place: gaps squared, squares of how far off an even division it is, and the place before."""

    squares: int
    off: int
    before: int


def _stepped(places: Sequence[int], widest: int) -> list[int] | None:
    """Places taken, by index, each as far from the one before as ``widest`` allows; None where one is too far."""
    chosen: list[int] = []
    at, last = 0, len(places) - 1
    while places[last] - places[at] > widest:
        reach = bisect_right(places, places[at] + widest) - 1
        if reach <= at:
            return None
        at = reach
        chosen.append(at)
    return chosen


def _least_widest(places: Sequence[int], fewest: Sequence[int]) -> int:
    """The least that the widest gap can be with as few posts."""
    under, least = 0, max(b - a for a, b in pairwise([places[0], *(places[i] for i in fewest), places[-1]]))
    while least - under > 1:
        middle = (under + least) // 2
        got = _stepped(places, middle)
        if got is not None and len(got) == len(fewest):
            least = middle
        else:
            under = middle
    return least


def _most_even(places: Sequence[int], count: int, widest: int) -> list[int]:
    """The most even choice of ``count`` places with no gap wider than ``widest``."""
    bands = _bands(places, count, widest)
    reached = {0: widest}  # the narrowest gap on the way to each place, where it is greatest
    for band in bands:
        ways = {
            i: [(before, gap) for before in reached if 0 < (gap := places[i] - places[before]) <= widest] for i in band
        }
        reached = {i: max(min(reached[before], gap) for before, gap in way) for i, way in ways.items() if way}
    (narrowest,) = reached.values()
    return _least_squares(places, bands, narrowest, widest)


def _bands(places: Sequence[int], count: int, widest: int) -> list[range]:
    """Which places each post in turn may take, so that no gap need be wider; the last band is the end alone."""
    last = len(places) - 1
    lows, highs = [last], [0]
    for _ in range(count):
        lows.append(bisect_left(places, places[lows[-1]] - widest))
        highs.append(min(bisect_right(places, places[highs[-1]] + widest) - 1, last - 1))
    lows.reverse()
    inner = [range(max(low, 1), high + 1) for low, high in zip(lows[:-1], highs[1:], strict=True)]
    return [*inner, range(last, last + 1)]


def _least_squares(places: Sequence[int], bands: Sequence[range], narrowest: int, widest: int) -> list[int]:
    """Of choices of one place a band, all gaps within bounds, the one whose gaps squared add up to least.

    Of equals the one nearest to an even division, then the lower.
    """
    length, shares = places[-1] - places[0], len(bands)
    ways: list[dict[int, _Way]] = [{0: _Way(0, 0, -1)}]
    for number, band in enumerate(bands, 1):
        found: dict[int, _Way] = {}
        for i in band:
            off = (places[i] - places[0]) * shares - length * number
            sums = [
                _Way(way.squares + gap * gap, way.off + off * off, before)
                for before, way in ways[-1].items()
                if narrowest <= (gap := places[i] - places[before]) <= widest
            ]
            if sums:
                found[i] = min(sums)
        ways.append(found)
    chosen = [len(places) - 1]
    for reached in reversed(ways[1:]):
        chosen.append(reached[chosen[-1]].before)
    return chosen[-2:0:-1]
