"""Print `scalars`, `arrays` and `catalogue` from the declarations.

Run ``python -m stairguard.relations.printer`` after changing one; a test compares what is committed.
"""

from __future__ import annotations

import json
import textwrap
from dataclasses import dataclass
from pathlib import Path

import sympy as sp

from stairguard.relations.declare import Closed, Expr, Relation
from stairguard.relations.declared import DECLARED
from stairguard.relations.dialects import NUMPY, PLAIN, TEXT, Dialect
from stairguard.relations.inverse import candidates
from stairguard.relations.records import SymbolInfo

__all__ = ["explicit", "main", "printed"]

_WIDTH = 108

_HEAD = '''"""{title}

Printed from the declarations by ``python -m stairguard.relations.printer``: change those, not this file.
{about}
"""
# Laid out by the printer and compared byte for byte.
# fmt: off

from __future__ import annotations

'''

_SCALARS_ABOUT = """
Lengths are in any one unit, angles in degrees. Partial derivatives count per degree. Rational
formulas given Fractions answer in Fractions; the others take Fractions too and answer in floats. Domains are
not checked: outside them, and at a corner for a derivative, the arithmetic raises ZeroDivisionError or
ValueError, or gives a number without meaning. NaN gives NaN."""

_ARRAYS_ABOUT = """
The functions of `scalars` on arrays of floats, broadcast against each other. Lengths are in any one unit,
angles in degrees. Domains are not checked: outside them numpy gives nan or inf, with its own warnings."""

_CATALOGUE_ABOUT = """
Loads no sympy. Angles are degrees."""


@dataclass(frozen=True, slots=True)
class _Function:
    """One function to print: ``results`` has one expression, or one per argument for partials."""

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


def explicit(relation: Relation, closed: Closed) -> Expr:
    """Return the closed form of a relation for one symbol, in its shortest arrangement.

    Where the equation has several roots the first is the one in the symbol's declared domain.
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


def _functions() -> list[_Function]:
    out = []
    for relation in DECLARED.values():
        for place, closed in enumerate(relation.closed):
            args = sorted(
                (item for item in relation.symbols if item.info.name != closed.find),
                key=lambda item: item.info.kind == "angle",  # angles last, so that inverses read alike
            )
            infos = tuple(item.info for item in args)
            find = relation.declared(closed.find).info
            value = explicit(relation, closed)
            out.append(_Function(closed.function, relation, find, infos, (value,), False))
            if place == 0:
                slopes = tuple(sp.diff(value, item.symbol) for item in args)
                name = f"{closed.function}_partials"
                out.append(_Function(name, relation, find, infos, slopes, True))
    return sorted(out, key=lambda function: function.name)


def _lines(text: str, indent: str) -> list[str]:
    return textwrap.wrap(
        text,
        _WIDTH,
        initial_indent=indent,
        subsequent_indent=indent,
        break_long_words=False,
        break_on_hyphens=False,
    )


def _doc(function: _Function) -> list[str]:
    relation, find = function.relation, function.find
    if function.partial:
        return [f'    """Differentiate `{relation.closed[0].function}` by each argument, in its order."""']
    out = _lines(f'"""{_upper(find.meaning)}.', "    ")
    out += ["", *_lines(f"From ``{TEXT.equation(relation.equation)}`` (``{relation.name}``).", "    "), ""]
    out += ["    Parameters", "    ----------"]
    for info in function.args:
        out += [f"    {info.name} : {info.kind}", *_described(info)]
    out += ["", "    Returns", "    -------", f"    {find.name} : {find.kind}", *_described(find)]
    out += ["", "    Notes", "    -----", *_lines(f"Valid for: {relation.validity}.", "    ")]
    out += [*_lines(f"Source: {relation.source}.", "    "), '    """']
    return out


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
    for info in function.args:
        symbol = function.relation.declared(info.name).symbol
        if info.kind == "angle" and any(call.has(symbol) for r in results for call in r.atoms(sp.Function)):
            radians = sp.Symbol(f"{info.name}_rad", real=True)
            results = [r.subs(symbol, 180 * radians / sp.pi) for r in results]
            lines.append(f"    {radians} = {dialect.call('radians', symbol)}")
    trig = (sp.sin, sp.cos, sp.tan)
    return [r.replace(lambda e: isinstance(e, trig), lambda e: e.func(sp.expand(e.args[0]))) for r in results], lines


def _scalar(function: _Function) -> str:
    kind, out = ("Number", "Number") if function.rational else ("Real", "float")
    if function.partial:
        out = "tuple[Number | int, ...]" if function.rational else "tuple[float, ...]"
    args = ", ".join(f"{info.name}: {kind}" for info in function.args)
    lines, results = _body(function, PLAIN)
    value = f"({', '.join(results)},)" if function.partial else results[0]
    return "\n".join([*_definition(function.name, args, out), *_doc(function), *lines, *_assignment("return ", value)])


def _definition(name: str, args: str, out: str) -> list[str]:
    line = f"def {name}({args}) -> {out}:"
    return [line] if len(line) <= _WIDTH else [f"def {name}(", f"    {args},", f") -> {out}:"]


def _array(function: _Function) -> str:
    args = ", ".join(f"{info.name}: ArrayLike" for info in function.args)
    names = [info.name for info in function.args]
    given = [f"    {name} = np.asarray({name}, dtype=np.float64)" for name in names]
    lines, results = _body(function, NUMPY)
    out = "tuple[Floats, ...]" if function.partial else "Floats"
    joined = ", ".join(results)
    value = f"_spread(({joined},), {', '.join(names)})" if function.partial else f"np.asarray({joined})"
    return "\n".join(
        [
            *_definition(function.name, args, out),
            *_doc(function),
            *given,
            *lines,
            *_assignment("return ", value),
        ]
    )


def _exported(functions: list[_Function]) -> str:
    return "__all__ = [\n" + "".join(f'    "{f.name}",\n' for f in functions) + "]\n"


def _scalars(functions: list[_Function]) -> str:
    head = _HEAD.format(title="Every closed form, on single numbers.", about=_SCALARS_ABOUT)
    imports = (
        "import math\nfrom fractions import Fraction\nfrom typing import TypeAlias, TypeVar\n\n"
        f"{_exported(functions)}\n"
        'Number = TypeVar("Number", Fraction, float)\nReal: TypeAlias = Fraction | float\n'
    )
    return head + imports + "".join(f"\n\n{_scalar(f)}\n" for f in functions)


def _arrays(functions: list[_Function]) -> str:
    head = _HEAD.format(title="Every closed form, on arrays.", about=_ARRAYS_ABOUT)
    imports = (
        "from typing import TypeAlias\n\nimport numpy as np\nfrom numpy.typing import ArrayLike, NDArray\n\n"
        f"{_exported(functions)}\nFloats: TypeAlias = NDArray[np.float64]\n\n\n"
        "def _spread(parts: tuple[ArrayLike, ...], *given: Floats) -> tuple[Floats, ...]:\n"
        '    """Give every part the shape that the arguments have together."""\n'
        "    shape = np.broadcast_shapes(*(item.shape for item in given))\n"
        "    return tuple(np.array(np.broadcast_to(part, shape), dtype=np.float64) for part in parts)\n"
    )
    return head + imports + "".join(f"\n\n{_array(f)}\n" for f in functions)


def _text(value: str, indent: str) -> str:
    """Write a string constant, over several lines where it is long."""
    rows = textwrap.wrap(value, 88, drop_whitespace=False, break_on_hyphens=False)
    if len(rows) == 1:
        return _quoted(value)
    return "(\n" + "".join(f"{indent}    {_quoted(row)}\n" for row in rows) + f"{indent})"


def _quoted(value: str) -> str:
    return json.dumps(value, ensure_ascii=False)


def _facts(facts: dict[str, str]) -> list[str]:
    return [f"        {key}={_text(value, ' ' * 8)}," for key, value in facts.items()]


def _entry(relation: Relation) -> str:
    rows = [f"    {_quoted(relation.name)}: RelationInfo("]
    equation = TEXT.equation(relation.equation)
    rows += _facts({"name": relation.name, "title": relation.title, "equation": equation})
    rows.append("        symbols=(")
    for item in relation.symbols:
        info, domain = item.info, item.info.domain
        limits = f"{domain.low}, {domain.low_open}, {domain.high}, {domain.high_open}"
        rows += ["            SymbolInfo(", f"                {_quoted(info.name)},"]
        rows += [
            f"                {_text(info.meaning, ' ' * 16)},",
            f"                {_quoted(info.kind)},",
        ]
        rows += [f"                Domain({limits}),", "            ),"]
    rows.append("        ),")
    rows += _facts({"validity": relation.validity, "source": relation.source, "status": relation.status})
    functions = [c.function for c in relation.closed]
    functions.insert(1, f"{functions[0]}_partials")
    rows += ["        functions=(", *(f"            {_quoted(name)}," for name in functions)]
    rows += ["        ),", "    ),"]
    return "\n".join(rows) + "\n"


def _catalogue() -> str:
    head = _HEAD.format(title="Every relation as plain data, for lists and descriptions.", about=_CATALOGUE_ABOUT)
    return (
        head
        + "from stairguard.relations.records import Domain, RelationInfo, SymbolInfo\n\n"
        + '__all__ = ["RELATIONS"]\n\nRELATIONS: dict[str, RelationInfo] = {\n'
        + "".join(_entry(relation) for relation in DECLARED.values())
        + "}\n"
    )


def printed() -> dict[str, str]:
    """Text of each printed module, by file name."""
    functions = _functions()
    return {"scalars.py": _scalars(functions), "arrays.py": _arrays(functions), "catalogue.py": _catalogue()}


def main() -> None:
    """Write the printed modules beside this one."""
    folder = Path(__file__).parent
    for name, text in printed().items():
        (folder / name).write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
