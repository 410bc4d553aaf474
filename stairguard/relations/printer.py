"""Print what is in `printed` from the declarations: the functions that the package calls, and the catalogue.

Run ``python -m stairguard.relations.printer`` after changing a formula, or after calling one for the first time or no
more; a test compares what is committed.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

from stairguard.relations.declare import Relation
from stairguard.relations.declared import DECLARED
from stairguard.relations.dialects import TEXT
from stairguard.relations.records import SymbolInfo
from stairguard.relations.writing.called import called
from stairguard.relations.writing.functions import (
    FORMS,
    HEAD,
    WrittenFunction,
    arrays_module,
    by_slope_module,
    scalars_module,
)

_PACKAGE = Path(__file__).parents[1]
_ABOUT = "Loads no sympy. Angles are degrees."


def printed() -> dict[str, str]:
    """Text of each printed module, by file name."""
    return {
        "scalars.py": scalars_module(_called("scalars"), "The closed forms that the package calls, on single numbers."),
        "arrays.py": arrays_module(_called("arrays"), "The closed forms that the package calls, on arrays."),
        "by_slope.py": by_slope_module(_called("by_slope"), "The closed forms that the package calls, by a slope."),
        "catalogue.py": _catalogue(),
    }


def main() -> None:
    """Write the printed modules."""
    folder = Path(__file__).parent / "printed"
    for name, text in printed().items():
        (folder / name).write_text(text, encoding="utf-8")


def _called(module: str) -> list[WrittenFunction]:
    return [FORMS[name] for name in called(f"stairguard.relations.printed.{module}", _PACKAGE)]


def _catalogue() -> str:
    head = HEAD.format(title="Every relation as plain data, for lists and descriptions.", about=_ABOUT)
    lines = [
        "# ruff: noqa: E501  # one line a symbol, however long",
        "from stairguard.relations.records import Domain, RelationInfo, SymbolInfo",
        "",
        '__all__ = ["RELATIONS"]',
        "",
        "RELATIONS: dict[str, RelationInfo] = {",
        *(line for relation in DECLARED.values() for line in _entry(relation)),
        "}",
    ]
    return head + "\n".join(lines) + "\n"


def _entry(relation: Relation) -> Iterator[str]:
    functions = [closed.function for closed in relation.closed]
    functions.insert(1, f"{functions[0]}_partials")
    yield f"    {_quoted(relation.name)}: RelationInfo("
    yield f"        name={_quoted(relation.name)},"
    yield f"        title={_quoted(relation.title)},"
    yield f"        equation={_quoted(TEXT.equation(relation.equation))},"
    yield "        symbols=("
    yield from (f"            {_symbol(item.info)}," for item in relation.symbols)
    yield "        ),"
    yield f"        validity={_quoted(relation.validity)},"
    yield f"        source={_quoted(relation.source)},"
    yield f"        status={_quoted(relation.status)},"
    yield f"        functions=({', '.join(map(_quoted, functions))}),"
    yield "    ),"


def _symbol(info: SymbolInfo) -> str:
    at = info.domain
    domain = f"Domain({at.low}, {at.low_open}, {at.high}, {at.high_open})"
    return f"SymbolInfo({_quoted(info.name)}, {_quoted(info.meaning)}, {_quoted(info.kind)}, {domain})"


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


if __name__ == "__main__":
    main()
