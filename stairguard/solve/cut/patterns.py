"""Cutting bars as a problem in whole numbers: ways to cut one bar, and filling bars with the longest piece first.

A bar of length L yields n pieces if their lengths and the n - 1 kerfs between them fit, so each piece counts with one
kerf and each bar with one more: ``sum(length + kerf) <= L + kerf``, exactly.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import gcd, lcm
from typing import Final, NamedTuple, TypeAlias


class Pattern(NamedTuple):
    """One way to cut a bar of stock number ``stock``: ``takes`` are (kind of piece, how many), in order of kind."""

    stock: int
    takes: tuple[tuple[int, int], ...]


Cutting: TypeAlias = list[tuple[Pattern, int]]
"""Patterns and how many bars are cut by each."""

_SUMS: Final = 10**6
"""Units of cost up to which sums of bars are listed: a bit each."""


@dataclass(frozen=True, slots=True)
class Problem:
    """Pieces of distinct lengths, longest first, and stock, shortest first, all in whole numbers.

    ``sizes`` (pieces) and ``rooms`` (stock) are lengths with one kerf added, in the largest unit that divides sizes;
    ``costs`` are stock lengths in the largest unit that divides those. ``counts`` are how many pieces of each size.
    """

    sizes: tuple[int, ...]
    counts: tuple[int, ...]
    rooms: tuple[int, ...]
    costs: tuple[int, ...]

    def size(self, pattern: Pattern) -> int:
        """How much of a bar's room a pattern takes."""
        return sum(n * self.sizes[kind] for kind, n in pattern.takes)


def problem(lengths: Sequence[Fraction], counts: Sequence[int], stock: Sequence[Fraction], kerf: Fraction) -> Problem:
    """State the problem in whole numbers; ``lengths`` are distinct, longest first, ``stock`` shortest first."""
    whole = lcm(kerf.denominator, *(x.denominator for x in (*lengths, *stock)))
    sizes = [int((length + kerf) * whole) for length in lengths]
    unit = gcd(*sizes)
    costs = [int(bar * whole) for bar in stock]
    coin = gcd(*costs)
    return Problem(
        tuple(size // unit for size in sizes),
        tuple(counts),
        # Every sum of sizes is a whole number of units, so room for a part of one is of no use.
        tuple(int((bar + kerf) * whole) // unit for bar in stock),
        tuple(c // coin for c in costs),
    )


def cost(given: Problem, cutting: Cutting) -> int:
    """Stock bought, in units of ``given.costs``."""
    return sum(times * given.costs[pattern.stock] for pattern, times in cutting)


def cheapest(given: Problem, cuttings: Sequence[Cutting]) -> Cutting:
    """Return the plan that buys least stock, of several the one with fewest bars."""
    return min(cuttings, key=lambda cutting: (cost(given, cutting), sum(times for _, times in cutting)))


def certain(given: Problem, cutting: Cutting, least: int) -> bool:
    """Whether nothing betters a plan: it costs the least there is, in the fewest bars that can be so much."""
    bought = cost(given, cutting)
    return bought == least and sum(times for _, times in cutting) == -(-bought // given.costs[-1])


def fill(given: Problem, left: Sequence[int], room: int, takes: dict[int, int] | None = None) -> dict[int, int]:
    """Fill a room with the pieces that are ``left``, longest first, beside ``takes``, which ``room`` no longer has."""
    out = dict(takes or {})
    for kind, size in enumerate(given.sizes):
        n = min(left[kind] - out.get(kind, 0), room // size)
        if n > 0:
            out[kind] = out.get(kind, 0) + n
            room -= n * size
            if room < given.sizes[-1]:
                break
    return out


def greedy(given: Problem, demand: Sequence[int]) -> Cutting:
    """Cut ``demand`` by filling bar after bar with the longest piece first; the best of several ways to choose the bar.

    With one stock length this is first fit decreasing. The ways: always the one stock length where it holds the
    longest piece left, else the next that does; or, bar by bar, the one that wastes the least part of itself.
    """
    ways = [_greedy(given, demand, stock) for stock in range(len(given.rooms))]
    if len(given.rooms) > 1:
        ways.append(_greedy(given, demand, None))
    return cheapest(given, [trimmed(given, demand, way) for way in ways])


def _greedy(given: Problem, demand: Sequence[int], stock: int | None) -> Cutting:
    left = list(demand)
    cutting: Cutting = []
    while any(left):
        longest = next(size for size, n in zip(given.sizes, left, strict=True) if n)
        holding = [k for k, room in enumerate(given.rooms) if room >= longest]
        tried = holding if stock is None else [max(stock, holding[0])]
        fills = [Pattern(k, tuple(sorted(fill(given, left, given.rooms[k]).items()))) for k in tried]
        best = max(fills, key=lambda p: Fraction(given.size(p), given.costs[p.stock]))
        times = min(left[kind] // n for kind, n in best.takes)
        cutting.append((best, times))
        for kind, n in best.takes:
            left[kind] -= times * n
    return cutting


def missing(given: Problem, cutting: Cutting) -> tuple[int, ...]:
    """How many pieces of each size a plan leaves uncut."""
    left = list(given.counts)
    for pattern, times in cutting:
        for kind, n in pattern.takes:
            left[kind] -= times * n
    return tuple(left)


def trimmed(given: Problem, demand: Sequence[int], cutting: Cutting) -> Cutting:
    """The same bars with pieces beyond the demand left out, each bar the shortest that holds what is left on it."""
    left = list(demand)
    out: dict[Pattern, int] = {}
    for pattern, times in cutting:
        while times:
            takes = tuple((kind, min(n, left[kind])) for kind, n in pattern.takes if left[kind])
            if not takes:
                break
            # So many bars alike before one of its pieces runs out.
            alike = min(times, *(left[kind] // n for kind, n in takes))
            size = sum(n * given.sizes[kind] for kind, n in takes)
            shortest = next(k for k, room in enumerate(given.rooms) if room >= size)
            kept = Pattern(shortest, takes)
            out[kept] = out.get(kept, 0) + alike
            for kind, n in takes:
                left[kind] -= alike * n
            times -= alike
    return list(out.items())


def maximal(given: Problem, most: int) -> list[Pattern] | None:
    """Every way to cut a bar that leaves no room for another piece; None if there are more than ``most`` to look at."""
    out: list[Pattern] = []
    seen = 0
    for stock, room in enumerate(given.rooms):
        shorter = given.rooms[stock - 1] if stock else 0
        stack: list[tuple[int, int, tuple[tuple[int, int], ...]]] = [(0, room, ())]
        while stack:
            start, rest, takes = stack.pop()
            seen += 1
            if seen > most:
                return None
            if room - rest > shorter and _full(given, rest, takes):  # else a shorter bar would do
                out.append(Pattern(stock, takes))
            stack.extend(_longer(given, start, rest, takes))
    return out


def _full(given: Problem, rest: int, takes: tuple[tuple[int, int], ...]) -> bool:
    taken = dict(takes)
    kinds = range(len(given.sizes) - 1, -1, -1)
    spare = next((kind for kind in kinds if taken.get(kind, 0) < given.counts[kind]), None)
    return spare is None or given.sizes[spare] > rest


def _longer(
    given: Problem, start: int, rest: int, takes: tuple[tuple[int, int], ...]
) -> list[tuple[int, int, tuple[tuple[int, int], ...]]]:
    """Each way to add one more kind of piece, from ``start`` on; of the last kind, as many as fit."""
    out = []
    last = len(given.sizes) - 1
    for kind in range(start, last + 1):
        size = given.sizes[kind]
        most = min(given.counts[kind], rest // size)
        least = most if kind == last and most else 1
        out += [(kind + 1, rest - n * size, (*takes, (kind, n))) for n in range(least, most + 1)]
    return out


def material(given: Problem) -> Fraction:
    """Cost that no plan is below, by length alone: the pieces at the price of the stock with most room for it."""
    most = max(Fraction(room, bar) for room, bar in zip(given.rooms, given.costs, strict=True))
    return sum(n * size for n, size in zip(given.counts, given.sizes, strict=True)) / most


def least_sum(costs: Sequence[int], bound: Fraction, known: int) -> int:
    """Return the least sum of whole bars that is not below ``bound``; ``known`` is one such sum."""
    first = -(-bound.numerator // bound.denominator)
    if known > _SUMS:
        return first
    reach, mask = 1, (1 << (known + 1)) - 1
    for step in costs:
        shift = step
        while shift <= known:
            reach |= (reach << shift) & mask
            shift *= 2
    above = reach >> first
    return first + (above & -above).bit_length() - 1
