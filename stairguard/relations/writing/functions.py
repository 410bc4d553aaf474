"""A closed form, or its partial derivatives, as the text of a Python function.

On single numbers, on arrays, or on numbers with an angle told by its slope and secant, which keeps Fractions exact.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterable
from dataclasses import dataclass, replace

import sympy as sp

from stairguard.relations.declare import Closed, Expr, Relation
from stairguard.relations.declared import DECLARED
from stairguard.relations.dialects import NUMPY, PLAIN, TEXT, Dialect
from stairguard.relations.records import Domain, SymbolInfo
from stairguard.relations.solving.inverse import explicit

_WIDTH = 108
_PARTIALS = "_partials"

HEAD = '''"""{title}

Printed from the declarations by ``python -m stairguard.relations.printer``: change those, not this file.

{about}
"""
# Laid out by the printer and compared byte for byte.
# fmt: off

from __future__ import annotations

'''

_SCALARS_ABOUT = """\
Lengths are in any one unit, angles in degrees. Partial derivatives count per degree. Rational
formulas given Fractions answer in Fractions; the others take Fractions too and answer in floats. Domains are
not checked: outside them, and at a corner for a derivative, the arithmetic raises ZeroDivisionError or
ValueError, or gives a number without meaning. NaN gives NaN."""

_ARRAYS_ABOUT = """\
On arrays of floats, broadcast against each other. Lengths are in any one unit, angles in degrees. Domains are
not checked: outside them numpy gives nan or inf, with its own warnings."""

_BY_SLOPE_ABOUT = """\
In place of its angle each takes the angle's slope, its secant, or both. What is rational in them is exact for every
kind of exact number, all arguments of one kind. Lengths are in any one unit. Domains are not checked."""

_EXACT = '''

class Exact(Protocol):
    """A Fraction, a float, or any number with their arithmetic."""

    def __neg__(self) -> Self: ...

    def __add__(self, other: Self | int, /) -> Self: ...

    def __sub__(self, other: Self | int, /) -> Self: ...

    def __mul__(self, other: Self | int, /) -> Self: ...

    def __truediv__(self, other: Self | int, /) -> Self: ...


Number = TypeVar("Number", bound=Exact)
'''

_SPREAD = '''

def _spread(parts: tuple[ArrayLike, ...], *given: Floats) -> tuple[Floats, ...]:
    """Give every part the shape that the arguments have together."""
    shape = np.broadcast_shapes(*(item.shape for item in given))
    return tuple(np.array(np.broadcast_to(part, shape), dtype=np.float64) for part in parts)
'''


_SLOPE = SymbolInfo("slope", "rise for one of level run", "number", Domain(None, False, None, False))
_SEC = SymbolInfo("sec", "length along the slope for one of level run", "number", Domain(1, False, None, False))


@dataclass(frozen=True, slots=True)
class WrittenFunction:
    """A function that can be written: a closed form of a relation, or the partial derivatives of the principal one."""

    relation: Relation
    closed: Closed
    partial: bool

    @property
    def name(self) -> str:
        """Of the function."""
        return f"{self.closed.function}{_PARTIALS}" if self.partial else self.closed.function


def _forms() -> Iterable[WrittenFunction]:
    for relation in DECLARED.values():
        yield WrittenFunction(relation, relation.closed[0], True)
        yield from (WrittenFunction(relation, closed, False) for closed in relation.closed)


FORMS: dict[str, WrittenFunction] = {form.name: form for form in sorted(_forms(), key=lambda form: form.name)}
"""Every function that can be written, by its name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Function:
    """A form worked out: ``results`` has one expression, or one per argument for partials."""

    name: str
    relation: Relation
    find: SymbolInfo
    args: tuple[SymbolInfo, ...]
    results: tuple[Expr, ...]
    partial: bool

    @property
    def rational(self) -> bool:
        """Whether Fractions give Fractions: no roots, no angles, no bare fraction to print as a float."""
        return all(
            r.is_rational_function() and not r.has(sp.pi) and (r.is_Integer or not r.is_Number) for r in self.results
        )


def scalars_module(forms: Iterable[WrittenFunction], title: str) -> str:
    """Text of a module with these forms as functions on single numbers.

    Parameters
    ----------
    forms : iterable of Form
        Of `FORMS`, in the order they are to stand in.
    title : str
        First line of the module's docstring.
    """
    functions = [_worked_out(form) for form in forms]
    imports = (
        "import math\nfrom fractions import Fraction\nfrom typing import TypeAlias, TypeVar\n\n"
        f"{_exported(functions)}\n"
        'Number = TypeVar("Number", Fraction, float)\nReal: TypeAlias = Fraction | float\n'
    )
    head = HEAD.format(title=title, about=_SCALARS_ABOUT)
    return head + imports + "".join(f"\n\n{_scalar(f)}\n" for f in functions)


def arrays_module(forms: Iterable[WrittenFunction], title: str) -> str:
    """Text of a module with these forms as functions on arrays; parameters as of `scalars_module`."""
    functions = [_worked_out(form) for form in forms]
    imports = (
        "from typing import TypeAlias\n\nimport numpy as np\nfrom numpy.typing import ArrayLike, NDArray\n\n"
        f"{_exported(functions)}\nFloats: TypeAlias = NDArray[np.float64]\n"
    )
    spread = _SPREAD if any(f.partial for f in functions) else ""
    head = HEAD.format(title=title, about=_ARRAYS_ABOUT)
    return head + imports + spread + "".join(f"\n\n{_array(f)}\n" for f in functions)


def by_slope_module(forms: Iterable[WrittenFunction], title: str) -> str:
    """Text of a module with these forms as functions of a slope and its secant; parameters as of `scalars_module`.

    Raises
    ------
    ValueError
        A form has no angle, or more of it than its sine, cosine and tangent.
    """
    functions = [_in_slope(_worked_out(form)) for form in forms]
    imports = f"from typing import Protocol, Self, TypeVar\n\n{_exported(functions)}{_EXACT}"
    head = HEAD.format(title=title, about=_BY_SLOPE_ABOUT)
    return head + imports + "".join(f"\n\n{_scalar(f)}\n" for f in functions)


def _exported(functions: list[_Function]) -> str:
    return "__all__ = [\n" + "".join(f'    "{f.name}",\n' for f in functions) + "]\n"


def _worked_out(form: WrittenFunction) -> _Function:
    relation, closed = form.relation, form.closed
    args = sorted(
        (item for item in relation.symbols if item.info.name != closed.find),
        key=lambda item: item.info.kind == "angle",  # angles last, so that inverses read alike
    )
    value = explicit(relation, closed)
    results = tuple(sp.diff(value, item.symbol) for item in args) if form.partial else (value,)
    find = relation.declared(closed.find).info
    return _Function(
        name=form.name,
        relation=relation,
        find=find,
        args=tuple(item.info for item in args),
        results=results,
        partial=form.partial,
    )


def _in_slope(function: _Function) -> _Function:
    """The same function of a slope and its secant."""
    angles = [info for info in function.args if info.kind == "angle"]
    if len(angles) != 1:
        raise ValueError(f"{function.name} is no function of one angle")
    (angle,) = angles
    degrees = function.relation.declared(angle.name).symbol
    of = sp.pi * degrees / 180
    slope, sec = sp.Symbol("slope", real=True), sp.Symbol("sec", positive=True)
    results = tuple(r.subs({sp.cos(of): 1 / sec, sp.sin(of): slope / sec, sp.tan(of): slope}) for r in function.results)
    rest = tuple(info for info in function.args if info is not angle)
    told = (info for info, symbol in ((_SLOPE, slope), (_SEC, sec)) if any(r.has(symbol) for r in results))
    found = replace(function, args=(*rest, *told), results=results)
    if not found.rational or any(r.has(degrees) for r in results):
        raise ValueError(f"{function.name} is not rational in its angle's slope and secant")
    return found


def _scalar(function: _Function) -> str:
    kind, out = ("Number", "Number") if function.rational else ("Real", "float")
    if function.partial:
        out = "tuple[Number | int, ...]" if function.rational else "tuple[float, ...]"
    args = ", ".join(f"{info.name}: {kind}" for info in function.args)
    lines, results = _body(function, PLAIN)
    value = f"({', '.join(results)},)" if function.partial else results[0]
    text = [*_definition(function.name, args, out), *_doc(function, ""), *lines, *_assignment("return ", value)]
    return "\n".join(text)


def _array(function: _Function) -> str:
    args = ", ".join(f"{info.name}: ArrayLike" for info in function.args)
    names = [info.name for info in function.args]
    given = [f"    {name} = np.asarray({name}, dtype=np.float64)" for name in names]
    lines, results = _body(function, NUMPY)
    out = "tuple[Floats, ...]" if function.partial else "Floats"
    joined = ", ".join(results)
    value = f"_spread(({joined},), {', '.join(names)})" if function.partial else f"np.asarray({joined})"
    doc = _doc(function, "array of ")
    return "\n".join([*_definition(function.name, args, out), *doc, *given, *lines, *_assignment("return ", value)])


def _definition(name: str, args: str, out: str) -> list[str]:
    line = f"def {name}({args}) -> {out}:"
    return [line] if len(line) <= _WIDTH else [f"def {name}(", f"    {args},", f") -> {out}:"]


def _doc(function: _Function, each: str) -> list[str]:
    relation, find = function.relation, function.find
    does = f"Differentiate ``{find.name}`` by each argument, in order" if function.partial else f"Find ``{find.name}``"
    out = _lines(f'"""{does}: {find.meaning}.', "    ")
    out += ["", *_lines(f"From ``{TEXT.equation(relation.equation)}`` (``{relation.name}``).", "    "), ""]
    out += ["    Parameters", "    ----------"]
    for info in function.args:
        out += [f"    {info.name} : {each}{info.kind}", *_described(info)]
    out += ["", "    Returns", "    -------", *_returned(function, each)]
    out += ["", "    Notes", "    -----", *_lines(f"Valid for: {relation.validity}.", "    ")]
    out += [*_lines(f"Source: {relation.source}.", "    "), '    """']
    return out


def _returned(function: _Function, each: str) -> list[str]:
    find = function.find
    if not function.partial:
        return [f"    {find.name} : {each}{find.kind}", *_described(find)]
    kind = "arrays of floats" if each else "numbers"
    return [f"    tuple of {kind}", f"        One an argument: by how much {find.name} grows for one of it."]


def _lines(text: str, indent: str) -> list[str]:
    return textwrap.wrap(
        text,
        _WIDTH,
        initial_indent=indent,
        subsequent_indent=indent,
        break_long_words=False,
        break_on_hyphens=False,
    )


def _upper(text: str) -> str:
    return text[:1].upper() + text[1:]


def _described(info: SymbolInfo) -> list[str]:
    return _lines(f"{_upper(info.meaning)}. {_upper(str(info.domain))}.", " " * 8)


def _assignment(target: str, value: str) -> list[str]:
    line = f"    {target}{value}"
    if len(line) <= _WIDTH:
        return [line]
    bare = value[1:-1] if value.endswith(",)") else value  # a tuple brings its own brackets
    return [f"    {target}(", *_lines(bare, " " * 8), "    )"]


def _body(function: _Function, dialect: Dialect) -> tuple[list[str], list[str]]:
    """Lines that name common parts, and one text per result."""
    results, lines = _in_radians(function, dialect)
    wrapped = not function.partial and 1 / sp.pi in sp.Mul.make_args(results[0])
    if wrapped:
        results = [sp.pi * results[0] / 180]
    degree = sp.Symbol("degree", positive=True)
    results = [r.subs(sp.pi, 180 * degree) for r in results]
    if any(r.has(degree) for r in results):
        lines.append(f"    {degree} = {dialect.call('radians', sp.Integer(1))}")
    parts, results = sp.cse(results, symbols=sp.numbered_symbols("part"))
    for name, part in parts:
        lines += _assignment(f"{name} = ", dialect.doprint(part))
    if wrapped:
        return lines, [dialect.call("degrees", results[0])]
    return lines, [dialect.doprint(result) for result in results]


def _in_radians(function: _Function, dialect: Dialect) -> tuple[list[Expr], list[str]]:
    """Rewrite results on angles in radians, with the lines that turn the arguments into them."""
    results, lines = list(function.results), []
    for info in (info for info in function.args if info.kind == "angle"):
        symbol = function.relation.declared(info.name).symbol
        if any(call.has(symbol) for r in results for call in r.atoms(sp.Function)):
            radians = sp.Symbol(f"{info.name}_rad", real=True)
            results = [r.subs(symbol, 180 * radians / sp.pi) for r in results]
            lines.append(f"    {radians} = {dialect.call('radians', symbol)}")
    trig = (sp.sin, sp.cos, sp.tan)
    return [r.replace(lambda e: isinstance(e, trig), lambda e: e.func(sp.expand(e.args[0]))) for r in results], lines
