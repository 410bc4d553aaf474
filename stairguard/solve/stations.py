"""Where line posts stand: fewest that keep every clear gap, then as even as the treads allow."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from math import ceil

from stairguard.errors import Fault, JobError
from stairguard.model.job import Post
from stairguard.solve.surfaces import Uphill

__all__ = ["on_level", "on_treads"]

_HALVINGS = 60


def on_level(first: Fraction, last: Fraction, sec: Fraction, post: Post) -> tuple[Fraction, ...]:
    """Centres of line posts on a landing or ramp, evenly spaced between what bounds its strands.

    Parameters
    ----------
    first, last : stations half a post's width outside the first and last clear gap, as post centres are
    sec : length along the slope per level unit: gaps are measured along the strands
    """
    bays = max(1, ceil((last - first) / (post.max_gap / sec + post.width)))
    return tuple(first + (last - first) * k / bays for k in range(1, bays))


class _Treads:
    """Places for line posts on a flight: tread i's is ``setback`` behind its nosing."""

    def __init__(self, up: Uphill, setback: Fraction, first: int, last: int) -> None:
        self.up, self.setback, self.first, self.last = up, setback, first, last

    def place(self, tread: int) -> Fraction:
        return self.up.x(tread) + self.setback

    def furthest(self, reach: Fraction) -> int:
        """Last tread whose place is at most ``reach``; one before the first where there is none."""
        low, high = self.first - 1, self.last
        while low < high:
            middle = (low + high + 1) // 2
            low, high = (middle, high) if self.place(middle) <= reach else (low, middle - 1)
        return low


def on_treads(
    up: Uphill, low: Fraction, high: Fraction, sec: Fraction, post: Post, treads: tuple[int, int]
) -> tuple[int, ...]:
    """Treads, 1 next above the lower landing, that carry a line post.

    Parameters
    ----------
    low, high : x of the bounding posts' centres in the flight's uphill frame
    sec : length along the slope per level unit: gaps are measured along the strands
    treads : first and last tread free for line posts

    Raises
    ------
    JobError
        Not even a post on every tread keeps the gap.
    """
    widest = post.max_gap / sec + post.width
    free = _Treads(up, post.setback, *treads)
    fewest = _stepped(free, low, high, widest)
    if fewest is None:
        places = [low, *(free.place(i) for i in range(free.first, free.last + 1)), high]
        needed = float((max(b - a for a, b in pairwise(places)) - post.width) * sec)
        must = f"at least {needed:.6g}, the clear gap along the strands that posts on every tread still leave"
        raise JobError(Fault("post.max_gap", must, float(post.max_gap)))
    if not fewest:
        return ()
    chosen = fewest
    under, least = Fraction(0), _widest(free, low, high, fewest)
    for _ in range(_HALVINGS):
        # a choice tells its own widest gap, so the bracket closes on one that occurs
        middle = (under + least) / 2
        got = _stepped(free, low, high, middle)
        if got is not None and len(got) == len(fewest):
            chosen, least = got, _widest(free, low, high, got)
        else:
            under = middle
    return _even(free, low, high, len(fewest), least) or chosen


def _widest(free: _Treads, low: Fraction, high: Fraction, chosen: tuple[int, ...]) -> Fraction:
    places = [low, *(free.place(i) for i in chosen), high]
    return max(b - a for a, b in pairwise(places))


def _stepped(free: _Treads, low: Fraction, high: Fraction, widest: Fraction) -> tuple[int, ...] | None:
    """Posts set as far apart as ``widest`` allows, from the bottom up; None if a tread is too far."""
    chosen: list[int] = []
    at, tread = low, free.first - 1
    while high - at > widest:
        reach = free.furthest(at + widest)
        if reach <= tread:
            return None
        tread = reach
        at = free.place(tread)
        chosen.append(tread)
    return tuple(chosen)


def _even(free: _Treads, low: Fraction, high: Fraction, count: int, widest: Fraction) -> tuple[int, ...] | None:
    """The treads nearest to an even division, if no gap then exceeds ``widest``."""
    chosen = []
    for k in range(1, count + 1):
        ideal = low + (high - low) * k / (count + 1)
        below = min(max(free.furthest(ideal), free.first), free.last)
        above = min(below + 1, free.last)
        chosen.append(below if ideal - free.place(below) <= free.place(above) - ideal else above)
    places = [low, *(free.place(i) for i in chosen), high]
    gaps = [b - a for a, b in pairwise(places)]
    return tuple(chosen) if all(0 < g <= widest for g in gaps) else None
