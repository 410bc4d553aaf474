"""Values to try relations on, drawn from the domains they declare."""

from fractions import Fraction

from hypothesis import strategies as st

from stairguard.relations.printed.catalogue import RELATIONS
from stairguard.relations.records import RelationInfo, SymbolInfo

NAMES = tuple(RELATIONS)


def principal(info: RelationInfo) -> str:
    """The symbol that the relation's first function answers with: the one its partials leave out."""
    from stairguard.relations.declared import DECLARED

    return DECLARED[info.name].closed[0].find


def value(symbol: SymbolInfo) -> st.SearchStrategy[Fraction]:
    """Sensible sizes: lengths to 100, angles to a degree of an open bound, in sixteenths."""
    low, high = symbol.domain.low, symbol.domain.high
    start = -100 if low is None else low + symbol.domain.low_open
    end = 100 if high is None else high - symbol.domain.high_open
    return st.integers(16 * start, 16 * end).map(lambda n: Fraction(n, 16))


def known(info: RelationInfo, find: str) -> st.SearchStrategy[dict[str, Fraction]]:
    """A value for every symbol but ``find``, in the relation's order."""
    symbols = [symbol for symbol in info.symbols if symbol.name != find]
    return st.tuples(*map(value, symbols)).map(
        lambda drawn: {symbol.name: number for symbol, number in zip(symbols, drawn, strict=True)}
    )
