"""Solve a declared relation for one symbol, with its working, and differentiate it.

Closed forms come from `inverse`, which always ends; where it has none, a bounded search for sign changes
takes over and the answer has no exact text. Every candidate is put back into the equation at 30 digits
before it counts.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

import sympy as sp

from stairguard.errors import Fault, GeometryError
from stairguard.relations.declare import Declared, Expr, Relation
from stairguard.relations.dialects import TEXT, Substituted
from stairguard.relations.records import Solution
from stairguard.relations.solving.inverse import candidates
from stairguard.relations.solving.search import roots

_DIGITS = 30
_SIFTED = 60  # operations in the largest closed form worth rearranging
_LOOSE = {True: sp.Float("1e-24"), False: sp.Float("1e-12")}
"""Relative size of what is taken for rounding, where the inputs are exact and where they are floats."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Problem:
    """A relation with numbers in all places but one: exact in ``equation``, evaluated in ``sides``."""

    relation: Relation
    target: Declared
    values: dict[Expr, Expr]
    equation: Expr
    sides: tuple[Expr, Expr]
    exact: bool

    @property
    def scale(self) -> Expr:
        """Size of the largest number at hand, to judge rounding by."""
        return max([sp.Integer(1), *(abs(v) for v in self.values.values())])

    @property
    def loose(self) -> Expr:
        """Absolute size of what is taken for rounding."""
        return _LOOSE[self.exact] * self.scale


@dataclass(frozen=True, slots=True)
class _Root:
    """A value that satisfies the equation; ``fault`` says why it does not count, or is empty."""

    form: Expr
    number: Expr
    fault: str
    in_domain: bool


def solve(relation: Relation, find: str, known: Mapping[str, Fraction], exact: bool) -> Solution:
    """Solve ``relation`` for ``find``; see `stairguard.relations.engine.solve`.

    Parameters
    ----------
    relation : Relation
        As declared.
    find : str
        One of its symbols.
    known : mapping
        Every other symbol, checked to lie in its domain; lengths in one unit, angles in degrees.
    exact : bool
        Whether the values are what was meant; if not, they came as floats.

    Raises
    ------
    GeometryError
        No value in the symbol's domain satisfies the equation where it is valid, every value does, or it is larger than
        a float can be.
    """
    problem = _problem(relation, find, known, exact)
    chosen, others, rejected = _choose(problem)
    text = str(_tidy(chosen.form)) if exact and not chosen.form.has(sp.Float) else None
    value = float(chosen.number)
    if not abs(value) < float("inf"):
        raise GeometryError(Fault(f"{relation.name}, {find}", "a number a float can hold", sp.N(value, 6)))
    return Solution(
        name=relation.name,
        find=find,
        value=value,
        exact=text,
        working=_working(problem, known, text, value, others, rejected),
        others=tuple(float(root.number) for root in others),
    )


def partials(relation: Relation, find: str, known: Mapping[str, Fraction], exact: bool) -> dict[str, float]:
    """Differentiate the equation implicitly: by each known symbol, at the solution for ``find``.

    Parameters
    ----------
    relation, find, known, exact
        As of `solve`.

    Returns
    -------
    dict
        By symbol, angles counting in degrees.

    Raises
    ------
    GeometryError
        As of `solve`, and where no derivative exists.
    """
    problem = _problem(relation, find, known, exact)
    chosen, _, _ = _choose(problem)
    point = {**problem.values, problem.target.symbol: chosen.number}
    difference = relation.equation.lhs - relation.equation.rhs

    def slope(symbol: Expr) -> Expr:
        return sp.N(sp.diff(difference, symbol).subs(point), _DIGITS)

    upright = slope(problem.target.symbol)
    if not upright.is_finite or abs(upright) <= _LOOSE[exact]:
        raise GeometryError(Fault(f"{relation.name}, {find}", "where a derivative exists", float(chosen.number)))
    return {item.info.name: float(-slope(item.symbol) / upright) for item in relation.symbols if item.info.name != find}


def _problem(relation: Relation, find: str, known: Mapping[str, Fraction], exact: bool) -> _Problem:
    values = {
        relation.declared(name).symbol: sp.Rational(value.numerator, value.denominator) for name, value in known.items()
    }
    target = relation.declared(find)
    put_in = _put_in_exact if exact else _put_in_floats
    equation = sp.Eq(*(put_in(side, values) for side in relation.equation.args), evaluate=False)
    sides = (sp.N(equation.lhs, _DIGITS), sp.N(equation.rhs, _DIGITS))
    return _Problem(relation=relation, target=target, values=values, equation=equation, sides=sides, exact=exact)


def _put_in_exact(side: Expr, values: dict[Expr, Expr]) -> Expr:
    return side.subs(values)


def _put_in_floats(side: Expr, values: dict[Expr, Expr]) -> Expr:
    """Put numbers in, angles by the decimals of their sines: exact ones nest roots that serve nobody here."""
    calls = {}
    for call in side.atoms(sp.sin, sp.cos, sp.tan):
        if call.free_symbols <= values.keys():
            number = sp.N(call.subs({symbol: sp.Float(v, _DIGITS) for symbol, v in values.items()}), _DIGITS)
            calls[call] = number if abs(number) > _LOOSE[True] else sp.Integer(0)
    return side.xreplace(calls).subs(values)


def _choose(problem: _Problem) -> tuple[_Root, list[_Root], list[_Root]]:
    """Return the valid root to take, the other valid ones, and those that do not count."""
    satisfying = _satisfying(problem)
    valid = [root for root in satisfying if not root.fault]
    rejected = [root for root in satisfying if root.fault]
    if not valid:
        raise GeometryError(_nothing_valid(problem, rejected))
    chosen = min(valid, key=lambda root: (bool(root.number < 0), abs(root.number)))
    others = sorted((root for root in valid if root is not chosen), key=lambda root: root.number)
    return chosen, others, rejected


def _nothing_valid(problem: _Problem, rejected: list[_Root]) -> Fault:
    info = problem.target.info
    where = f"{problem.relation.name}, {info.name}"
    if not rejected:
        return Fault(where, "a real number that satisfies the equation", "none that does")
    outside = [root for root in rejected if root.in_domain] or rejected
    got = ", ".join(str(float(root.number)) for root in outside)
    if outside[0].in_domain:
        return Fault(where, f"one for which the formula holds ({outside[0].fault})", got)
    return Fault(where, info.must, f"only {got}")


def _satisfying(problem: _Problem) -> list[_Root]:
    """All real values that satisfy the equation, each once."""
    symbol, equation = problem.target.symbol, problem.equation
    if symbol not in (equation.lhs - equation.rhs).free_symbols:
        raise GeometryError(_not_fixed(problem))
    forms = candidates(equation, symbol)
    if forms is None:
        forms = roots(equation.lhs - equation.rhs, symbol, problem.target.info.domain, problem.scale)
    found: list[_Root] = []
    for form in forms:
        number = _real(problem, form)
        if number is None:
            continue
        form, number = _nearest_turn(problem, form, number)
        if not _satisfies(problem, number):  # a whole turn of the angle is not one of its half
            continue
        if all(abs(number - root.number) > problem.loose for root in found):
            found.append(_judged(problem, form, number))
    return found


def _nearest_turn(problem: _Problem, form: Expr, number: Expr) -> tuple[Expr, Expr]:
    """Take whole turns off an angle that lies beyond half a turn."""
    if problem.target.info.kind != "angle" or abs(number) <= 180 + problem.loose:
        return form, number
    turns = 360 * round(number / 360)
    return form - turns, number - turns


def _not_fixed(problem: _Problem) -> Fault:
    name = problem.target.info.name
    where = f"{problem.relation.name}, {name}"
    if _satisfies(problem, sp.Integer(1)):
        return Fault(where, "fixed by the other values", "any value: they satisfy the equation by themselves")
    return Fault(where, "able to satisfy the equation", f"no part in it: {TEXT.equation(problem.equation)}")


def _real(problem: _Problem, form: Expr) -> Expr | None:
    """Value of a candidate, None if it is not real; a part lost in rounding is left off."""
    real, imaginary = sp.N(form, _DIGITS).as_real_imag()
    if not (real.is_finite and imaginary.is_finite):
        return None
    # A double root splits by the square root of the rounding.
    if abs(imaginary) > sp.sqrt(_LOOSE[problem.exact]) * problem.scale:
        return None
    nearest = sp.Integer(round(real))
    return nearest if abs(real - nearest) <= problem.loose else real


def _satisfies(problem: _Problem, number: Expr) -> bool:
    at = {problem.target.symbol: sp.Float(number, _DIGITS)}
    left, right = (sp.N(side.subs(at), _DIGITS) for side in problem.sides)
    if not (left.is_finite and right.is_finite):
        return False
    size = max(problem.scale, abs(number), abs(right))
    return bool(abs(left - right) <= _LOOSE[False] * size)


def _judged(problem: _Problem, form: Expr, number: Expr) -> _Root:
    info = problem.target.info
    if not info.domain.holds(Fraction(str(number))):
        return _Root(form, number, f"must be {info.domain}", False)
    at = {**problem.values, problem.target.symbol: number}
    for condition in problem.relation.conditions:
        if sp.N(condition.margin.subs(at), _DIGITS) < -problem.loose:
            return _Root(form, number, condition.otherwise, True)
    return _Root(form, number, "", True)


def _tidy(form: Expr) -> Expr:
    """Shortest of a few equal arrangements; sympy's own where an angle nests roots too deep to sift soon."""
    if form.has(sp.Function) or form.count_ops() > _SIFTED:
        return form
    return min((form, sp.radsimp(form), sp.factor_terms(form)), key=lambda f: (f.count_ops(), str(f)))


def _working(
    problem: _Problem,
    known: Mapping[str, Fraction],
    exact: str | None,
    value: float,
    others: list[_Root],
    rejected: list[_Root],
) -> tuple[str, ...]:
    """Lines that show the equation, the numbers put in, what is left of it, the answer and the rest."""
    find = problem.target.info.name
    shown = {name: str(number if problem.exact else float(number)) for name, number in known.items()}
    decimal = repr(value).removesuffix(".0")
    lines = [
        TEXT.equation(problem.relation.equation),
        "with " + ", ".join(f"{name} = {text}" for name, text in shown.items()),
        Substituted(shown).equation(problem.relation.equation),
    ]
    if problem.exact and problem.equation.lhs != problem.target.symbol:
        lines.append(TEXT.equation(problem.equation))
    lines.append(" = ".join(dict.fromkeys([find, *([exact] if exact else []), decimal])))
    lines += [f"also valid: {find} = {float(root.number)}" for root in others]
    lines += [f"does not count: {find} = {float(root.number)}, {root.fault}" for root in rejected]
    return tuple(dict.fromkeys(lines))
