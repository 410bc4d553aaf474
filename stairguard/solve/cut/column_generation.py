"""The cutting problem by linear programmes over ways to cut a bar, and what no plan can better.

The linear programme: bars enough for every piece, least stock, parts of bars allowed. Where the ways to cut one bar are
few, all are in it; else they are found as they are needed, each by the knapsack whose values are the programme's prices
(Gilmore and Gomory, "A linear programming approach to the cutting-stock problem", Operations Research 9, 1961; from
memory). Then whole bars: HiGHS' branch and bound over the ways found.

The bound does not lean on floats. From any prices, rounded to whole numbers, the dearest content of a bar is found by
dynamic programming in whole numbers; what the demand costs at prices scaled so that no bar's content is dearer than the
bar is a bound (Farley, "A note on bounding a class of linear programming problems", Operations Research 38, 1990; from
memory).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING, Final

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, linprog, milp
from scipy.sparse import csr_array

from stairguard.solve.cut.patterns import (
    Cutting,
    Pattern,
    Problem,
    certain,
    cheapest,
    cost,
    fill,
    greedy,
    least_sum,
    material,
    maximal,
    missing,
    trimmed,
)

if TYPE_CHECKING:  # numpy.typing costs more to import than all of the geometry
    from numpy.typing import NDArray

# Limits are counts of work, not seconds, so that a plan is the same on every machine.
_FEW: Final = 4000
"""Ways to cut one bar, looked at to know whether all can be listed."""
_WORK: Final = 4e8
"""Steps of knapsacks and programmes while columns are found."""
_SEARCHED: Final = 16_000
"""Columns times kinds of piece, past which there is no search for whole bars."""
_NODES: Final = 200
_BRANCHED: Final = 600_000
"""Branches of that search at most, and columns times kinds of piece times branches."""
_STEPS: Final = 60
"""Roundings of the programme."""
_CONTENTS: Final = 4
"""Contents of a bar found from one set of prices, with no kind of piece in two."""
_CELLS: Final = 1 << 14
"""Steps of a bar's room in the knapsack; a finer room is rounded, up for ways to cut and down for the bound."""
_PRICE: Final = 1 << 36
"""The dearest bar in the whole numbers that prices are rounded to."""
_FLOAT_COST: Final = 10**6
_NEARLY: Final = 0.3
"""A bar's part that rounding adds to make it whole."""
_DAMPING: Final = 0.5
"""How much of the prices of the best bound so far is mixed in: without it prices swing, and the bound comes late."""


def improve(given: Problem, cutting: Cutting) -> tuple[Cutting, int]:
    """Better a plan as far as it can be, and return it with a cost that no plan is below.

    The bound is exact whole-number arithmetic, but where every way to cut is listed and the search over them ends:
    there HiGHS' word is taken that it found the least.
    """
    every = maximal(given, _FEW)
    if every is None:
        columns = list(dict.fromkeys(pattern for pattern, _ in cutting))
        columns, bars, bound = _generated(given, columns, cost(given, cutting), _WORK)
    else:
        columns = every
        prices, bars = _programme(given, columns)
        bound = _bound(given, prices, max(Fraction(_value(prices, p), given.costs[p.stock]) for p in columns))
    least = least_sum(given.costs, max(bound, material(given)), cost(given, cutting))
    best = cheapest(given, [cutting, _rounded(given, columns, bars, least, every is None)])
    if certain(given, best, least) or len(columns) * len(given.sizes) > _SEARCHED:
        return best, least
    found, ended = _searched(given, columns, cost(given, best))
    best = cheapest(given, [best, *found])
    if ended and every is not None:
        least = cost(given, best)
    return best, least


def _value(prices: Sequence[int], pattern: Pattern) -> int:
    return sum(n * prices[kind] for kind, n in pattern.takes)


def _bound(given: Problem, prices: Sequence[int], dearest: Fraction) -> Fraction:
    """What no plan costs less than, if no bar's content is dearer than ``dearest`` times the bar's cost."""
    return sum(n * price for n, price in zip(given.counts, prices, strict=True)) / dearest


def _by_length(given: Problem) -> list[int]:
    """Prices in proportion to length."""
    return [round(_PRICE * size / given.rooms[-1]) for size in given.sizes]


def _matrix(given: Problem, columns: Sequence[Pattern]) -> csr_array:
    kinds, places, counts = zip(
        *((kind, j, n) for j, column in enumerate(columns) for kind, n in column.takes), strict=True
    )
    return csr_array((counts, (kinds, places)), shape=(len(given.sizes), len(columns)), dtype=float)


def _programme(given: Problem, columns: Sequence[Pattern]) -> tuple[list[int], NDArray[np.float64]]:
    """Price of each kind of piece, in whole numbers, and how many bars of each column, parts allowed."""
    costs = np.array([given.costs[column.stock] for column in columns], dtype=float) / given.costs[-1]
    solved = linprog(costs, A_ub=-_matrix(given, columns), b_ub=-np.array(given.counts, dtype=float), method="highs")
    prices = [max(0, round(-price * _PRICE)) for price in solved.ineqlin.marginals.tolist()]
    return prices, solved.x


@dataclass(frozen=True, slots=True)
class _Grid:
    """Sizes of pieces and rooms of bars in steps of the knapsack."""

    sizes: tuple[int, ...]
    rooms: tuple[int, ...]


def _grids(given: Problem) -> tuple[_Grid, _Grid]:
    """A grid in which all that fits fits, and one in which only what fits fits; one and the same where exact."""
    most = given.rooms[-1]
    if most <= _CELLS:
        exact = _Grid(given.sizes, given.rooms)
        return exact, exact
    rooms = tuple(room * _CELLS // most for room in given.rooms)
    loose = _Grid(tuple(size * _CELLS // most for size in given.sizes), rooms)
    return loose, _Grid(tuple(-(-size * _CELLS // most) for size in given.sizes), rooms)


class _Knapsack:
    """The dearest content of every room, each kind of piece as often as it is asked for at most."""

    def __init__(self, given: Problem, grid: _Grid, prices: Sequence[int]) -> None:
        self.grid = grid
        self._items: list[tuple[int, int]] = []
        for kind, price in enumerate(prices):
            left, n = min(given.counts[kind], given.rooms[-1] // given.sizes[kind]) if price else 0, 1
            while left:
                n = min(n, left)
                self._items.append((kind, n))
                left -= n
                n *= 2
        cells = grid.rooms[-1] + 1
        self.best = np.zeros(cells, dtype=np.int64)
        self._taken = np.zeros((len(self._items), cells), dtype=np.bool_)
        for (kind, n), taken in zip(self._items, self._taken, strict=True):
            size = n * grid.sizes[kind]
            if size < cells:
                with_it = self.best[: cells - size] + n * prices[kind]
                np.greater(with_it, self.best[size:], out=taken[size:])
                np.maximum(with_it, self.best[size:], out=self.best[size:])
        self.work = float(cells * len(self._items))

    def content(self, stock: int) -> dict[int, int]:
        """Return the dearest content of a bar of that stock."""
        room, out = self.grid.rooms[stock], dict[int, int]()
        for (kind, n), taken in zip(reversed(self._items), self._taken[::-1], strict=True):
            if taken[room]:
                out[kind] = out.get(kind, 0) + n
                room -= n * self.grid.sizes[kind]
        return out


def _generated(
    given: Problem, columns: Sequence[Pattern], goal: int, most: float
) -> tuple[list[Pattern], NDArray[np.float64], Fraction]:
    """Columns found as they are needed beside those given, bars of each, and the bound.

    Stops after ``most`` work, or where a plan that costs ``goal`` proves to be least.
    """
    loose, tight = _grids(given)
    columns, known, work = list(columns), set(columns), 0.0
    bound, centre = material(given), _by_length(given)
    prices, bars = _programme(given, columns)
    while True:
        work += 30.0 * len(columns) * len(given.sizes)
        new: list[Pattern] = []
        for share in (_DAMPING, 0.0):
            mixed = [round(share * c + (1 - share) * p) for c, p in zip(centre, prices, strict=True)]
            knapsack = _Knapsack(given, loose, mixed)
            work += (1 + _CONTENTS) * knapsack.work
            dearest = max(Fraction(int(knapsack.best[r]), c) for r, c in zip(loose.rooms, given.costs, strict=True))
            if (better := _bound(given, mixed, dearest)) > bound:
                bound, scale = better, _PRICE / (float(dearest) * given.costs[-1])
                centre = [round(price * scale) for price in mixed]
            new = [p for p in dict.fromkeys(_dear(given, loose, tight, mixed, knapsack)) if p not in known]
            if new:
                break
        reached = sum(n * p for n, p in zip(given.counts, prices, strict=True)) * Fraction(given.costs[-1], _PRICE)
        if not new or work > most or _settled(given, bound, reached, goal):
            return columns, bars, bound
        columns += new
        known.update(new)
        prices, bars = _programme(given, columns)


def _settled(given: Problem, bound: Fraction, reached: Fraction, goal: int) -> bool:
    """Whether a plan that costs ``goal`` is known to be least, or the bound has come up to the programme."""
    return least_sum(given.costs, bound, goal) >= goal or reached <= bound * (1 + Fraction(1, 10**9))


def _dear(given: Problem, loose: _Grid, tight: _Grid, prices: Sequence[int], knapsack: _Knapsack) -> Iterator[Pattern]:
    """Ways to cut whose content is dearer than the bar: of each stock the dearest, then without its pieces."""
    left = list(prices)
    for _ in range(_CONTENTS):
        used: set[int] = set()
        fitting: _Knapsack | None = None
        for stock, (room, bar) in enumerate(zip(given.rooms, given.costs, strict=True)):
            content = knapsack.content(stock)
            if sum(n * given.sizes[kind] for kind, n in content.items()) > room:
                fitting = fitting or _Knapsack(given, tight, left)
                content = fitting.content(stock)
            if sum(n * left[kind] for kind, n in content.items()) * given.costs[-1] > bar * _PRICE * (1 + 1e-9):
                used |= content.keys()
                rest = room - sum(n * given.sizes[kind] for kind, n in content.items())
                yield Pattern(stock, tuple(sorted(fill(given, given.counts, rest, content).items())))
        left = [0 if kind in used else price for kind, price in enumerate(left)]
        if not used or not any(left):
            return
        knapsack = _Knapsack(given, loose, left)


def _rounded(given: Problem, columns: Sequence[Pattern], bars: NDArray[np.float64], least: int, more: bool) -> Cutting:
    """Whole bars by steps: keep the programme's whole ones, or those nearest to one; solve again for what is left.

    After each step the rest is also cut longest first, and the best of all these plans is returned. With ``more``,
    columns for what is left are added at each step. Ends early with a plan as good as ``least`` allows.
    """
    kept: Cutting = []
    left = given
    plans = []
    for _ in range(_STEPS):
        shares = bars - np.floor(bars)
        whole = np.floor(bars + _NEARLY)
        if not whole.any():
            whole[np.argsort(-shares, kind="stable")[: max(1, np.count_nonzero(shares) // 8)]] = 1
        step = [(columns[j], int(whole[j])) for j in np.flatnonzero(whole).tolist()]
        kept += trimmed(left, left.counts, step)
        left = replace(given, counts=missing(given, kept))
        rest = greedy(left, left.counts)
        plans.append(trimmed(given, given.counts, kept + rest))
        if not any(left.counts) or certain(given, plans[-1], least):
            break
        if more:
            columns, bars, _ = _generated(left, columns, cost(left, rest), _WORK / _STEPS)
        else:
            _, bars = _programme(left, columns)
    return cheapest(given, plans)


def _searched(given: Problem, columns: Sequence[Pattern], most: int) -> tuple[list[Cutting], bool]:
    """Whole bars of the columns with least stock, then fewest bars; and whether the search ended and can be trusted.

    Past a million units of cost a float may tell two plans apart no more.
    """
    fewest = 1 / (1 + most // given.costs[0])  # so that all bars together weigh less than one unit of stock
    costs = np.array([given.costs[column.stock] for column in columns], dtype=float) + fewest
    nodes = min(_NODES, _BRANCHED // (len(columns) * len(given.sizes)))
    solved = milp(
        costs,
        integrality=np.ones(len(columns)),
        bounds=Bounds(0, np.inf),
        constraints=LinearConstraint(_matrix(given, columns), np.array(given.counts, dtype=float), np.inf),
        options={"node_limit": nodes, "mip_rel_gap": 0.0},
    )
    if solved.x is None:
        return [], False
    cutting = [(column, round(n)) for column, n in zip(columns, solved.x.tolist(), strict=True) if n > 0.5]
    whole = not any(missing(given, plan := trimmed(given, given.counts, cutting)))
    return [plan] if whole else [], whole and solved.status == 0 and most < _FLOAT_COST
