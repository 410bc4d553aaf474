"""Where line posts stand: fewest that keep every clear gap, then as even as the treads allow."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from math import ceil

from stairguard.errors import Fault, JobError
from stairguard.model.job import Post

__all__ = ["on_landing", "on_treads"]


def on_landing(start: Fraction, end: Fraction, post: Post) -> tuple[Fraction, ...]:
    """Centres of line posts between two posts at ``start`` and ``end`` on a level surface, evenly spaced."""
    bays = max(1, ceil((end - start) / (post.max_gap + post.width)))
    return tuple(start + (end - start) * k / bays for k in range(1, bays))


def on_treads(low: Fraction, high: Fraction, run: Fraction, treads: int, sec: Fraction, post: Post) -> tuple[int, ...]:
    """Treads, 1 next above the lower landing, that carry a line post.

    Parameters
    ----------
    low, high : x of the joint posts' centres in the flight's uphill frame
    treads : how many there are; a post on tread i stands at ``(i - 1) * run + setback``
    sec : length along the slope per level unit: gaps are measured along the strands

    Raises
    ------
    JobError
        Not even a post on every tread keeps the gap.
    """
    widest = post.max_gap / sec + post.width
    first, last = post.setback - low, high - (post.setback - run)
    # clear distances there can be: low post to tread, tread to tread, tread to high post, none between at all
    spans: set[Fraction] = {
        high - low,
        *(k * run for k in range(1, treads)),
        *(first + k * run for k in range(treads)),
        *(last - k * run for k in range(1, treads + 1)),
    }
    possible = sorted(s for s in spans if 0 < s <= widest)
    fewest = _stepped(low, high, run, treads, post.setback, widest)
    if fewest is None:
        needed = float((max(run, first, last - treads * run) - post.width) * sec)
        must = f"at least {needed:.6g}, the clear gap along the strands that posts on every tread still leave"
        raise JobError(Fault("post.max_gap", must, float(post.max_gap)))
    lo, hi = 0, len(possible) - 1
    while lo < hi:
        middle = (lo + hi) // 2
        got = _stepped(low, high, run, treads, post.setback, possible[middle])
        lo, hi = (lo, middle) if got is not None and len(got) == len(fewest) else (middle + 1, hi)
    least: Fraction = possible[lo] if possible else widest
    return _even(low, high, run, treads, post.setback, len(fewest), least) or (
        _stepped(low, high, run, treads, post.setback, least) or fewest
    )


def _stepped(
    low: Fraction, high: Fraction, run: Fraction, treads: int, setback: Fraction, widest: Fraction
) -> tuple[int, ...] | None:
    """Posts set as far apart as ``widest`` allows, from the bottom up; None if a tread is too far."""
    chosen: list[int] = []
    at, tread = low, 0
    while high - at > widest:
        reach = min(treads, (at + widest - setback) // run + 1)
        if reach <= tread:
            return None
        tread = int(reach)
        at = (tread - 1) * run + setback
        chosen.append(tread)
    return tuple(chosen)


def _even(
    low: Fraction, high: Fraction, run: Fraction, treads: int, setback: Fraction, count: int, widest: Fraction
) -> tuple[int, ...] | None:
    """The treads nearest to an even division, if no gap then exceeds ``widest``."""
    ideal = [low + (high - low) * k / (count + 1) for k in range(1, count + 1)]
    chosen = [min(max(round((x - setback) / run) + 1, 1), treads) for x in ideal]
    places = [low, *((i - 1) * run + setback for i in chosen), high]
    gaps = [b - a for a, b in pairwise(places)]
    return tuple(chosen) if all(0 < g <= widest for g in gaps) else None
