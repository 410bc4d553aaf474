"""Public functions: the formulas themselves."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from stairguard.io.parse.arguments import read_known, read_unit
from stairguard.io.parse.types import named, text

if TYPE_CHECKING:
    from stairguard.relations.records import RelationInfo, Solution, SymbolKind


def relation_names() -> tuple[str, ...]:
    """Names of all formulas.

    Returns
    -------
    tuple of str
        In the order people read them; `describe_relation` and `solve_relation` take any.
    """
    from stairguard.relations.engine import names

    return names()


def describe_relation(name: str) -> RelationInfo:
    """Equation, symbols, validity and source of a formula.

    Parameters
    ----------
    name
        One of `relation_names`.

    Returns
    -------
    RelationInfo
        Its equation is text with angles in degrees; each of its symbols tells its meaning, its kind (a length or a
        force in any one unit, an angle in degrees, a plain number) and what values it may have.

    Raises
    ------
    InputError
        There is no formula of that name; the nearest is suggested.

    Examples
    --------
    >>> [(symbol.name, symbol.kind) for symbol in describe_relation("pitch").symbols]
    [('rise', 'length'), ('run', 'length'), ('pitch', 'angle')]
    """
    from stairguard.relations.engine import describe

    return describe(text(name, "relation"))


def relation_arrays(function: str) -> Callable[..., Any]:
    """Make a function of a formula on arrays, from the formula's declaration.

    It is made once, in hundredths or tenths of a second beside what sympy takes to load; it then runs as numpy written
    by hand does, and tells its own formula, arguments, validity and source in its docstring.

    Parameters
    ----------
    function
        One of the ``functions`` that `describe_relation` lists: ``"step_sphere"`` finds ``sphere`` of ``step-sphere``,
        ``"step_lift"`` its ``lift``; ``"step_sphere_partials"`` finds how ``sphere`` changes with each of the others.

    Returns
    -------
    callable
        Its arguments are the formula's other symbols, by name or in order with angles last, as numbers or arrays that
        numpy broadcasts: lengths in any one unit, forces in any one unit, angles in degrees. It returns an array of
        floats of the shape the arguments have together, in the same units; of ``_partials`` one such array an argument,
        angles counting per degree. Domains are not checked: outside them, as `describe_relation` tells them, it gives
        nan, an infinity or a number without meaning, with numpy's own warnings. An argument of nan gives nan.

    Raises
    ------
    InputError
        No formula lists a function of that name; the nearest is suggested.

    Examples
    --------
    >>> step_sphere = relation_arrays("step_sphere")
    >>> step_sphere(rise=7.5, run=10, nosing=0, lift=[0, 1.2]).round(6).tolist()
    [5.0, 6.0]
    """
    from stairguard.relations.compiled import on_arrays

    return on_arrays(text(function, "function"))


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

    Returns
    -------
    Solution
        The ``value``, in ``unit``, degrees or a plain number; its ``exact`` form where there is one, the ``others``
        that are valid, and the ``working``.

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


def relation_report(shown: RelationInfo | Solution | Sequence[RelationInfo], *, unit: str = "in") -> str:
    """Write a formula, its solution, or a list of formulas as a plain page.

    Parameters
    ----------
    shown
        From `describe_relation`, several of them, or from `solve_relation`.
    unit
        ``"in"`` or ``"mm"``, as of the solution.

    Returns
    -------
    str
        At most 100 columns, ending in a line break.

    Raises
    ------
    InputError
        Another unit.

    Examples
    --------
    >>> print(relation_report(describe_relation("bend")).splitlines()[0])
    bend: Bend between two slopes that turn in plan
    """
    from stairguard.relations.records import RelationInfo, Solution
    from stairguard.reports.page.asked import relation_page

    of = read_unit(unit)
    if isinstance(shown, Solution):
        return relation_page.solution_text(shown, _kind(shown), of)
    return (
        relation_page.relation_text(shown, of)
        if isinstance(shown, RelationInfo)
        else relation_page.relations_text(shown)
    )


def relation_result(shown: RelationInfo | Solution | Sequence[RelationInfo], *, unit: str = "in") -> dict[str, Any]:
    """Put a formula, its solution, or a list of formulas into plain data, ready for JSON.

    Parameters
    ----------
    shown, unit
        As of `relation_report`.

    Returns
    -------
    dict
        See `stairguard.reports.data.relation_data`.

    Raises
    ------
    InputError
        Another unit.
    """
    from stairguard.relations.records import RelationInfo, Solution
    from stairguard.reports.data import relation_data

    of = read_unit(unit)
    if isinstance(shown, Solution):
        return relation_data.solution_data(shown, _kind(shown), of)
    return (
        relation_data.relation_data(shown) if isinstance(shown, RelationInfo) else relation_data.relations_data(shown)
    )


def _kind(found: Solution) -> SymbolKind:
    """What the symbol is that was solved for."""
    from stairguard.relations.engine import describe

    return next(symbol.kind for symbol in describe(found.name).symbols if symbol.name == found.find)
