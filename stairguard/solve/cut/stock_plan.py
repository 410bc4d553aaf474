"""Which stock to buy and how to cut it, with least stock bought."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import chain, islice, repeat

from stairguard.errors import Fault, InputError
from stairguard.model.guard.pieces import Cuts, PostCut, RailCut, StrandCut
from stairguard.model.guard.stock import StockBar, StockPiece, StockPlan
from stairguard.model.job import Job
from stairguard.solve.cut.patterns import Cutting, certain, cost, greedy, least_sum, material, problem


def stock_plans(job: Job, cuts: Cuts) -> tuple[tuple[str, StockPlan], ...]:
    """Plan the stock of rails, posts and strands, of each where the job gives stock lengths for it.

    A piece counts as long as it is marked on the tape: a rail from long point to long point, a post at its long edge.
    Strand is cut with shears, which waste none: the kerf is rails' and posts'.
    """
    kerf = job.stock.kerf
    wanted: tuple[tuple[str, Sequence[Fraction], Fraction, Sequence[RailCut | PostCut | StrandCut]], ...] = (
        ("rail", job.stock.rail, kerf, cuts.rails),
        ("post", job.stock.post, kerf, cuts.posts),
        ("strand", job.stock.strand, Fraction(0), cuts.strands),
    )
    return tuple(
        (what, plan_stock([(piece.label, piece.marked, piece.count) for piece in pieces], stock, waste))
        for what, stock, waste, pieces in wanted
        if stock
    )


def plan_stock(pieces: Sequence[tuple[str, Fraction, int]], stock: Sequence[Fraction], kerf: Fraction) -> StockPlan:
    """Choose bars and cut them, so that least stock is bought; of plans that buy the same, one with fewest bars.

    Parameters
    ----------
    pieces : (label, length, count); equal lengths may come under several labels
    stock : lengths that bars come in, any number of each
    kerf : what one cut wastes

    Returns
    -------
    StockPlan
        Checked to fit exactly. Where ``gap`` is zero no plan of the pieces that fit buys less; else it is the most that
        a better plan could save. Pieces longer than all stock come back in ``too_long``.

    Raises
    ------
    InputError
        No stock, a length that is not positive, a count or a kerf below zero.

    Notes
    -----
    A bar's first end is used as it comes. n pieces take n - 1 cuts if the last ends with the bar, else n; where what
    is left of the bar is less than a kerf, the last cut takes just that.

    Examples
    --------
    >>> plan = plan_stock([("R1", Fraction(50), 2), ("R2", Fraction(40), 2)], [Fraction(96)], Fraction(1, 8))
    >>> plan.bought, plan.proven, [(bar.count, bar.pieces) for bar in plan.bars]
    (Fraction(192, 1), True, [(2, (('R1', 1), ('R2', 1)))])
    """
    _refuse(pieces, stock, kerf)
    longest = max(stock)
    fitting = [StockPiece(*piece) for piece in pieces if piece[1] <= longest and piece[2]]
    too_long = tuple(StockPiece(*piece) for piece in pieces if piece[1] > longest and piece[2])
    if not fitting:
        none = Fraction(0)
        return StockPlan(
            bars=(), bought=none, used=none, kerf_loss=none, waste=none, bound=none, gap=none, too_long=too_long
        )
    demand = Counter[Fraction]()
    for piece in fitting:
        demand[piece.length] += piece.count
    lengths = sorted(demand, reverse=True)
    # A bar shorter than every piece is of no use.
    lengths_of_stock = sorted({bar for bar in stock if bar >= lengths[-1]})
    given = problem(lengths, [demand[length] for length in lengths], lengths_of_stock, kerf)
    cutting = greedy(given, given.counts)
    least = least_sum(given.costs, material(given), cost(given, cutting))
    if not certain(given, cutting, least):
        from stairguard.solve.cut.column_generation import improve  # numpy and scipy only where they are needed

        cutting, least = improve(given, cutting)
    bars = _bars(fitting, lengths, lengths_of_stock, kerf, cutting)
    coin = lengths_of_stock[0] / given.costs[0]
    return _plan(fitting, bars, least * coin, too_long)


def _refuse(pieces: Sequence[tuple[str, Fraction, int]], stock: Sequence[Fraction], kerf: Fraction) -> None:
    faults = [Fault("stock", "lengths more than 0", bar) for bar in stock if bar <= 0]
    if not stock:
        faults.append(Fault("stock", "one length or more", "none"))
    if kerf < 0:
        faults.append(Fault("kerf", "0 or more", kerf))
    for label, length, count in pieces:
        if length <= 0:
            faults.append(Fault(f"length of {label}", "more than 0", length))
        if count < 0:
            faults.append(Fault(f"count of {label}", "0 or more", count))
    if faults:
        raise InputError(*faults)


def _bars(
    pieces: Sequence[StockPiece],
    lengths: Sequence[Fraction],
    stock: Sequence[Fraction],
    kerf: Fraction,
    cutting: Cutting,
) -> tuple[StockBar, ...]:
    """Bars with the pieces' labels, longest bars first; of one length, labels are handed out in the order given."""
    named: dict[Fraction, list[Iterator[str]]] = {length: [] for length in lengths}
    for piece in pieces:
        named[piece.length].append(repeat(piece.label, piece.count))
    labels = {length: chain(*names) for length, names in named.items()}
    alike = Counter[tuple[Fraction, Fraction, tuple[tuple[str, int], ...]]]()
    for pattern, times in cutting:
        used = sum((n * lengths[kind] for kind, n in pattern.takes), Fraction(0))
        for _ in range(times):
            held = [label for kind, n in pattern.takes for label in islice(labels[lengths[kind]], n)]
            alike[stock[pattern.stock], used, tuple(Counter(held).items())] += 1
    ordered = sorted(alike.items(), key=lambda bar: -bar[0][0])
    return tuple(
        StockBar(length, count, held, _left(length - used, sum(n for _, n in held), kerf))
        for (length, used, held), count in ordered
    )


def _left(rest: Fraction, pieces: int, kerf: Fraction) -> Fraction:
    """What is left of a bar, given what its pieces leave, kerfs not yet taken off."""
    if rest < (pieces - 1) * kerf:
        raise AssertionError("a bar was given more than it holds")
    return rest - min(rest, pieces * kerf)


def _plan(
    pieces: Sequence[StockPiece], bars: tuple[StockBar, ...], bound: Fraction, too_long: tuple[StockPiece, ...]
) -> StockPlan:
    """Totals, once every piece is known to be cut exactly once."""
    asked, cut = Counter[str](), Counter[str]()
    for piece in pieces:
        asked[piece.label] += piece.count
    for bar in bars:
        for label, n in bar.pieces:
            cut[label] += bar.count * n
    if asked != cut:
        raise AssertionError("a piece was left out or cut twice")
    bought = sum((bar.count * bar.length for bar in bars), Fraction(0))
    used = sum((piece.count * piece.length for piece in pieces), Fraction(0))
    waste = sum((bar.count * bar.waste for bar in bars), Fraction(0))
    gap = bought - bound
    return StockPlan(
        bars=bars,
        bought=bought,
        used=used,
        kerf_loss=bought - used - waste,
        waste=waste,
        bound=bound,
        gap=gap,
        too_long=too_long,
    )
