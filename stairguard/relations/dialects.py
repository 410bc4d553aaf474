"""Ways to write an expression down: as Python on floats, on arrays, and as text for a reader.

Angles are degrees in every declaration, written ``pi*x/180``; text leaves the factor out where it belongs to an angle:
under a sine, cosine or tangent, and beside the inverse of one.
"""

from __future__ import annotations

from collections.abc import Mapping

import sympy as sp
from sympy.printing.precedence import PRECEDENCE
from sympy.printing.str import StrPrinter

from stairguard.relations.declare import Expr

_DIRECT = (sp.sin, sp.cos, sp.tan)
_INVERSE = (sp.asin, sp.acos, sp.atan, sp.atan2)
_MATH = ("sqrt", "sin", "cos", "tan", "asin", "acos", "atan", "atan2", "radians", "degrees")
_ARRAY = ("sqrt", "sin", "cos", "tan", "arcsin", "arccos", "arctan", "arctan2", "radians", "degrees")


class Dialect(StrPrinter):  # type: ignore[misc]  # sympy ships no types
    """Sympy's text with its own names for functions and sums that start with a positive term."""

    def __init__(self, calls: Mapping[str, str]) -> None:
        super().__init__()
        self._calls = calls

    def call(self, name: str, *args: Expr) -> str:
        """Write a call of a function known by its name in `math`.

        Raises
        ------
        KeyError
            The dialect has no such function.
        """
        return f"{self._calls[name]}({', '.join(self._print(arg) for arg in args)})"

    def _as_ordered_terms(self, expr: Expr, order: str | None = None) -> list[Expr]:
        terms = super()._as_ordered_terms(expr, order=order)
        return sorted(terms, key=lambda term: bool(term.could_extract_minus_sign()))

    def _print_Function(self, expr: Expr) -> str:  # noqa: N802  # sympy's dispatch is by class name
        return self.call(type(expr).__name__, *expr.args)

    def _print_Pow(self, expr: Expr, rational: bool = False) -> str:  # noqa: N802  # sympy's dispatch
        if expr.exp == sp.Rational(1, 2):
            return self.call("sqrt", expr.base)
        if expr.exp == -sp.Rational(1, 2):
            return f"1/{self.call('sqrt', expr.base)}"
        if expr.exp.is_Rational and expr.exp.q == 2:  # a root refuses what is negative; a power turns complex
            return f"{self.call('sqrt', expr.base)}**{self.parenthesize(sp.Integer(expr.exp.p), PRECEDENCE['Pow'])}"
        return str(super()._print_Pow(expr, rational=rational))


class PlainText(Dialect):
    """For a reader: ``^`` for powers, no factors between degrees and radians."""

    def __init__(self) -> None:
        super().__init__({name: name for name in _MATH})
        self._under = False  # whether what is being written is the angle of a sine, cosine or tangent

    def _print_Function(self, expr: Expr) -> str:  # noqa: N802  # sympy's dispatch
        before, self._under = self._under, isinstance(expr, _DIRECT)
        text = super()._print_Function(expr)
        self._under = before
        return text

    def _print_Mul(self, expr: Expr) -> str:  # noqa: N802  # sympy's dispatch
        angle = expr.has(*_INVERSE)
        for inside, factor, meant in ((sp.pi, 180 / sp.pi, self._under), (1 / sp.pi, sp.pi / 180, angle)):
            if meant and inside in expr.args:
                inner = expr * factor
                text = self._print(inner)
                return text if inner.is_Atom or inner.is_Function else f"({text})"
        return str(super()._print_Mul(expr))

    def _print_Pow(self, expr: Expr, rational: bool = False) -> str:  # noqa: N802  # sympy's dispatch
        return super()._print_Pow(expr, rational=rational).replace("**", "^")

    def equation(self, equation: Expr) -> str:
        """Write both sides of a `sympy.Eq` with ``=`` between."""
        return f"{self._print(equation.lhs)} = {self._print(equation.rhs)}"


class Substituted(PlainText):
    """Text with numbers in the symbols' places, nothing worked out."""

    def __init__(self, values: Mapping[str, str]) -> None:
        super().__init__()
        self._values = values

    def _print_Symbol(self, expr: Expr) -> str:  # noqa: N802  # sympy's dispatch is by class name
        text = self._values.get(expr.name, expr.name)
        return text if text.isidentifier() or text.replace(".", "").isdigit() else f"({text})"


PLAIN = Dialect({name: f"math.{name}" for name in _MATH})
NUMPY = Dialect({name: f"np.{other}" for name, other in zip(_MATH, _ARRAY, strict=True)})
TEXT = PlainText()
