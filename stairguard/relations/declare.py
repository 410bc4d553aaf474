"""How a formula is declared: symbols with meaning, kind and domain, one equation, validity, source.

Lengths are in any one unit; the geometry is homogeneous. Angles are degrees: an equation writes
``cosd(pitch)``, which is ``cos(pi*pitch/180)``, so that exact values and derivatives per degree follow.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal, TypeAlias

import sympy as sp

from stairguard.relations.records import Domain, SymbolInfo, SymbolKind

Expr: TypeAlias = Any  # sympy ships no types

POSITIVE = Domain(0, True, None, False)
NOT_NEGATIVE = Domain(0, False, None, False)
ANY = Domain(None, False, None, False)
PITCH = Domain(-90, True, 90, True)


@dataclass(frozen=True, slots=True)
class Declared:
    """A symbol as declared: sympy's, with the facts sympy does not keep."""

    symbol: Expr
    info: SymbolInfo


@dataclass(frozen=True, slots=True)
class Validity:
    """A check on the symbols: ``margin`` must not be negative, ``otherwise`` says what is wrong if it is."""

    margin: Expr
    otherwise: str


@dataclass(frozen=True, slots=True)
class Closed:
    """A closed form to be printed as ``function``, solving the relation for ``find``.

    ``form`` is an equal expression that keeps its digits where the derived one loses them, or None.
    """

    function: str
    find: str
    form: Expr = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Relation:
    """One formula. The first of ``closed`` is the principal one; its partial derivatives are printed too."""

    name: str
    title: str
    equation: Expr
    symbols: tuple[Declared, ...]
    closed: tuple[Closed, ...]
    validity: str
    source: str
    status: Literal["derived", "published"]
    conditions: tuple[Validity, ...] = ()

    def declared(self, name: str) -> Declared:
        """Return the symbol called ``name``.

        Raises
        ------
        KeyError
            There is none.
        """
        for item in self.symbols:
            if item.info.name == name:
                return item
        raise KeyError(name)


def _declare(name: str, kind: SymbolKind, meaning: str, domain: Domain) -> Declared:
    low = domain.low is not None and domain.low >= 0
    sign = {"positive": True} if low and domain.low_open else {"nonnegative": True} if low else {"real": True}
    return Declared(sp.Symbol(name, **sign), SymbolInfo(name, meaning, kind, domain))


def length(name: str, meaning: str, domain: Domain = POSITIVE) -> Declared:
    """Declare a length, in the one unit of all lengths of a relation.

    Parameters
    ----------
    name : str
        Of the symbol, as in equations and as asked by a caller.
    meaning : str
        Between what and how it is taken, in a phrase that follows the name.
    domain : Domain
        Values it may have.
    """
    return _declare(name, "length", meaning, domain)


def angle(name: str, meaning: str, domain: Domain = PITCH) -> Declared:
    """Declare an angle in degrees; parameters as of `length`."""
    return _declare(name, "angle", meaning, domain)


def force(name: str, meaning: str, domain: Domain = POSITIVE) -> Declared:
    """Declare a force, in the one unit of all forces of a relation; parameters as of `length`."""
    return _declare(name, "force", meaning, domain)


def number(name: str, meaning: str, domain: Domain = ANY) -> Declared:
    """Declare a plain number; parameters as of `length`."""
    return _declare(name, "number", meaning, domain)


def cosd(degrees: Expr) -> Expr:
    """Cosine of an angle in degrees."""
    return sp.cos(sp.pi * degrees / 180)


def sind(degrees: Expr) -> Expr:
    """Sine of an angle in degrees."""
    return sp.sin(sp.pi * degrees / 180)


def tand(degrees: Expr) -> Expr:
    """Tangent of an angle in degrees."""
    return sp.tan(sp.pi * degrees / 180)
