"""Relations by name: list them, describe one, solve one for any symbol, differentiate it.

Listing and describing read the printed catalogue; sympy is loaded by `solve` and `partials` only.
"""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches
from fractions import Fraction

from stairguard.errors import Fault, InputError
from stairguard.relations.printed.catalogue import RELATIONS
from stairguard.relations.records import RelationInfo, Solution, SymbolInfo

_LARGEST = Fraction(10) ** 12  # past it, or below its inverse, no stair was meant
_DIGITS = 40  # of a numerator or denominator; any float of that size has fewer
_LONGEST = 10**_DIGITS
_MOST_LISTED = 12


def names() -> tuple[str, ...]:
    """Names of all relations, in the order people read them."""
    return tuple(RELATIONS)


def describe(name: str) -> RelationInfo:
    """Equation, symbols, validity and source of one relation.

    Parameters
    ----------
    name : str
        One of `names`.

    Raises
    ------
    InputError
        There is no relation of that name; the nearest is suggested.
    """
    if name not in RELATIONS:
        raise InputError(Fault("relation", _one_of("the name of a relation", name, names()), name))
    return RELATIONS[name]


def solve(name: str, find: str, known: Mapping[str, Fraction | float]) -> Solution:
    """Solve a relation for one symbol.

    Of several valid values the smallest that is not negative is taken, or the one nearest zero if all are;
    the rest are in ``others``.

    Parameters
    ----------
    name : str
        Of the relation.
    find : str
        The symbol wanted.
    known : mapping
        A value for each other symbol: lengths in one unit, angles in degrees. Fractions and integers are
        exact and give a closed form; a float is used as the binary number it is, and gives none.

    Returns
    -------
    Solution

    Raises
    ------
    InputError
        One fault a symbol that is unknown, missing, out of its domain or not a finite number.
    GeometryError
        No value in the symbol's domain satisfies the equation where it is valid, or every value does.

    Examples
    --------
    >>> found = solve("pitch", "pitch", {"rise": Fraction(15, 2), "run": Fraction(10)})
    >>> found.exact, round(found.value, 4)
    ('180*atan(3/4)/pi', 36.8699)
    """
    exact = _check(describe(name), find, known)
    from stairguard.relations import declared  # sympy: not before it is needed
    from stairguard.relations.solving import solver

    return solver.solve(declared.DECLARED[name], find, _fractions(known), exact)


def partials(name: str, find: str, known: Mapping[str, Fraction | float]) -> dict[str, float]:
    """Partial derivatives of ``find`` by each known symbol, at the values given, by the equation's own.

    Parameters
    ----------
    name, find, known
        As of `solve`.

    Returns
    -------
    dict
        By symbol: how much ``find`` grows for one of it, lengths in one unit, angles in degrees on either side.

    Raises
    ------
    InputError
        As of `solve`.
    GeometryError
        As of `solve`; also where the curve has a corner or stands upright, so that no derivative exists.
    """
    exact = _check(describe(name), find, known)
    from stairguard.relations import declared  # sympy: not before it is needed
    from stairguard.relations.solving import solver

    return solver.partials(declared.DECLARED[name], find, _fractions(known), exact)


def _fractions(known: Mapping[str, Fraction | float]) -> dict[str, Fraction]:
    return {name: Fraction(value) for name, value in known.items()}


def _check(info: RelationInfo, find: str, known: Mapping[str, Fraction | float]) -> bool:
    """Raise for every fault at once; return whether all values are exact."""
    symbols = {symbol.name: symbol for symbol in info.symbols}
    faults = []
    if find not in symbols:
        faults.append(Fault("find", _one_of(f"a symbol of {info.name}", find, tuple(symbols)), find))
    for name, value in known.items():
        if name not in symbols:
            faults.append(Fault(name, _one_of(f"a symbol of {info.name}", name, tuple(symbols)), value))
        elif name == find:
            faults.append(Fault(name, "left out, being the one to find", value))
        elif wrong := _wrong(symbols[name], value):
            faults.append(Fault(name, wrong, value))
    if find in symbols:
        missing = [s for s in info.symbols if s.name != find and s.name not in known]
        faults += [Fault(symbol.name, symbol.must, "") for symbol in missing]
    if faults:
        raise InputError(*faults)
    return not any(isinstance(value, float) for value in known.values())


def _wrong(symbol: SymbolInfo, value: object) -> str:
    """Say what the value must be and is not; empty if nothing is wrong with it."""
    if isinstance(value, bool) or not isinstance(value, int | float | Fraction):
        return symbol.must
    if not symbol.domain.holds(value):
        return symbol.must
    exactly = Fraction(value)
    if exactly and not 1 / _LARGEST <= abs(exactly) <= _LARGEST:
        return f"zero or from 1e-12 to 1e12 in size ({symbol.meaning})"
    if max(abs(exactly.numerator), exactly.denominator) >= _LONGEST:
        return f"a fraction of numbers of {_DIGITS} digits at most ({symbol.meaning})"
    return ""


def _one_of(what: str, got: str, allowed: tuple[str, ...]) -> str:
    (near,) = get_close_matches(got, allowed, 1, 0.0)
    which = ", ".join(allowed) if len(allowed) <= _MOST_LISTED else f"one of {len(allowed)}"
    return f'{what}: {which} (the nearest is "{near}")'
