"""Public functions: the formulas themselves."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from stairguard.rim.asked import read_known, read_unit
from stairguard.rim.kinds import named, text

if TYPE_CHECKING:
    from stairguard.relations.records import RelationInfo, Solution

__all__ = [
    "describe_relation",
    "relation_names",
    "solve_relation",
]


def relation_names() -> tuple[str, ...]:
    """Names of all formulas."""
    from stairguard.relations.engine import names

    return names()


def describe_relation(name: str) -> RelationInfo:
    """Equation, symbols, validity and source of a formula; InputError names the nearest to an unknown one."""
    from stairguard.relations.engine import describe

    return describe(text(name, "relation"))


def solve_relation(name: str, find: str, known: Mapping[str, object], *, unit: str = "in") -> Solution:
    """Solve a formula for any one of its symbols.

    Parameters
    ----------
    name
        One of `relation_names`.
    find
        The symbol to solve for.
    known
        A value for every other symbol: lengths, angles in degrees, or plain numbers, as the symbol asks.
    unit
        ``"in"`` or ``"mm"``, of bare lengths and of the answer.

    Raises
    ------
    InputError
        One fault for every symbol that is unknown, missing or out of its domain.
    GeometryError
        No valid value satisfies the formula.

    Examples
    --------
    >>> known = {"rise": "7.5in", "run": 10, "nosing": 0, "sphere": "6in"}
    >>> solve_relation("step-sphere", "lift", known).exact
    '6/5'
    """
    from stairguard.relations.engine import describe, solve

    kinds = {symbol.name: symbol.kind for symbol in describe(text(name, "relation")).symbols}
    return solve(name, text(find, "find"), read_known(named(known, "known"), kinds, read_unit(unit)))
