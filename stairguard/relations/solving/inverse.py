"""Solve an equation for one symbol by steps that always end: sympy rearranges, nothing searches.

Handled: a symbol alone on one side; polynomials; polynomials with one square root; and, for angles,
anything linear in the sine and cosine of one angle or of its half. Of the candidates returned some may not satisfy the
equation (squaring adds roots); the caller substitutes and sees.
"""

from __future__ import annotations

import sympy as sp

from stairguard.relations.declare import Closed, Expr, Relation

_HIGHEST = 2  # of polynomials solved in closed form; cubics have closed forms nobody can read


def candidates(equation: Expr, symbol: Expr) -> tuple[Expr, ...] | None:
    """Find closed forms that may solve ``equation`` for ``symbol``; None where there is none to be had.

    Parameters
    ----------
    equation : sympy.Eq
        Symbolic, or with rational numbers in place of the other symbols.
    symbol : sympy.Symbol
        Present in the equation. An angle stands in it as ``pi*symbol/180``.

    Returns
    -------
    tuple of sympy.Expr, or None
        Empty where the symbol drops out.
    """
    if equation.lhs == symbol and symbol not in equation.rhs.free_symbols:
        return (equation.rhs,)
    difference = equation.lhs - equation.rhs
    if any(call.has(symbol) for call in difference.atoms(sp.cos, sp.sin, sp.tan)):
        return _angles(difference, symbol)
    poly = polynomial(difference, symbol)
    if poly is None or poly.degree() > _HIGHEST:
        return None
    if poly.degree() < 1:
        return ()
    return _roots(poly)


def explicit(relation: Relation, closed: Closed) -> Expr:
    """Return the closed form of a relation for one symbol, in its shortest arrangement.

    Where the equation has several roots the first is the one in the symbol's declared domain.

    Parameters
    ----------
    relation : Relation
        As declared.
    closed : Closed
        One of its closed forms.

    Raises
    ------
    ValueError
        None is declared, and none can be found.
    """
    if closed.form is not None:
        return closed.form
    symbol = relation.declared(closed.find).symbol
    found = candidates(relation.equation, symbol)
    if not found:
        raise ValueError(f"{relation.name} has no closed form for {closed.find}")
    first = found[0]
    forms = (first, sp.factor(first), sp.cancel(first), sp.expand(sp.cancel(first)))
    return min(forms, key=lambda form: (form.count_ops(), str(form)))


def _roots(poly: Expr) -> tuple[Expr, ...]:
    *square, linear, constant = poly.all_coeffs()
    if not square:
        return (-constant / linear,)
    (a,) = square
    root = sp.sqrt(linear**2 - 4 * a * constant)
    return ((-linear + root) / (2 * a), (-linear - root) / (2 * a))


def polynomial(difference: Expr, symbol: Expr) -> Expr | None:
    """Polynomial in ``symbol`` whose roots include those of ``difference``; None if there is none.

    A single square root that holds the symbol is put alone on one side and squared.

    Parameters
    ----------
    difference : sympy.Expr
        Left side less right side of an equation.
    symbol : sympy.Symbol
        Present in it.
    """
    numerator = sp.numer(sp.together(difference))
    roots = {p for p in numerator.atoms(sp.Pow) if p.exp == sp.Rational(1, 2) and p.base.has(symbol)}
    if len(roots) > 1:
        return None
    if roots:
        numerator = _squared(numerator, roots.pop())
    try:
        return sp.Poly(sp.expand(numerator), symbol)
    except sp.PolynomialError:
        return None


def _squared(numerator: Expr, root: Expr) -> Expr:
    """Turn ``rest + factor*root = 0`` into ``rest**2 - factor**2*root**2 = 0``, cleared of fractions."""
    alone = sp.Dummy("root", positive=True)
    replaced = sp.Poly(sp.expand(numerator.subs(root, alone)), alone)
    rest = factor = sp.Integer(0)
    for (power,), coefficient in replaced.terms():
        value = coefficient * root.base ** (power // 2)
        rest, factor = (rest, factor + value) if power % 2 else (rest + value, factor)
    return sp.numer(sp.together(rest**2 - factor**2 * root.base))


def _angles(difference: Expr, symbol: Expr) -> tuple[Expr, ...] | None:
    """Solve ``a*cos + b*sin + c = 0`` in the angle, or else in its half; whole turns of that may be added."""
    for parts in (1, 2):
        values = _linear(difference, symbol, parts)
        if values is not None:
            return tuple(180 * parts * value / sp.pi for value in values)
    return None


def _linear(difference: Expr, symbol: Expr, parts: int) -> tuple[Expr, ...] | None:
    """Radians of ``symbol/parts``; None unless the equation is linear in its sine and cosine."""
    theta = sp.Dummy("theta", real=True)
    cosine, sine = sp.Dummy("cosine"), sp.Dummy("sine")
    numerator = difference.subs(symbol, 180 * parts * theta / sp.pi)
    numerator = numerator.subs(sp.tan(theta), sine / cosine).subs({sp.cos(theta): cosine, sp.sin(theta): sine})
    numerator = sp.numer(sp.together(numerator))
    if numerator.has(theta):
        return None
    poly = sp.Poly(numerator, cosine, sine)
    if poly.total_degree() > 1:
        return None
    if poly.total_degree() < 1:
        return ()
    a, b, c = poly.coeff_monomial(cosine), poly.coeff_monomial(sine), poly.coeff_monomial(1)
    return _circle(a, b, c)


def _circle(a: Expr, b: Expr, c: Expr) -> tuple[Expr, ...]:
    if b == 0:
        value = sp.acos(-c / a)
        return value, -value
    if a == 0:
        value = sp.asin(-c / b)
        return value, sp.pi - value
    if c == 0:
        value = sp.atan(-a / b)
        return value, value + sp.pi
    middle, half = sp.atan2(b, a), sp.acos(-c / sp.sqrt(a**2 + b**2))
    return middle + half, middle - half
