"""The command ``relation``: the formulas listed, one shown, or one solved for any of its symbols."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Annotated

import typer

from stairguard.cli.options import Answer, AsJson, Unit, Words, check_unit
from stairguard.errors import Fault, InputError

if TYPE_CHECKING:
    from stairguard.relations.records import RelationInfo, Solution


def relation(
    name: Annotated[Words, typer.Argument(metavar="[NAME]", show_default=False)] = None,
    known: Annotated[list[str] | None, typer.Argument(metavar="[KEY=VALUE]...", show_default=False)] = None,
    find: Annotated[Words, typer.Option(metavar="SYMBOL", help="The symbol to solve for.")] = None,
    unit: Unit = "in",
    as_json: AsJson = False,
) -> Answer:
    """List the formulas, show one, or solve one for any of its symbols."""
    import stairguard
    from stairguard.reports.data.encode import json_text

    check_unit(unit)
    shown: RelationInfo | Solution | list[RelationInfo]
    if name is None:
        shown = [stairguard.describe_relation(each) for each in stairguard.relation_names()]
    else:
        shown = stairguard.describe_relation(name)
        if known or find is not None:
            shown = _solved(shown, find, known or (), unit)
    if as_json:
        return Answer(json_text(stairguard.relation_result(shown, unit=unit)))
    return Answer(stairguard.relation_report(shown, unit=unit))


def _solved(one: RelationInfo, find: str | None, known: Iterable[str], unit: str) -> Solution:
    import stairguard

    if find is None:
        symbols = ", ".join(symbol.name for symbol in one.symbols)
        raise InputError(Fault("--find", f"a symbol of {one.name}: {symbols}", ""))
    return stairguard.solve_relation(one.name, find, _pairs(known), unit=unit)


def _pairs(texts: Iterable[str]) -> dict[str, object]:
    """Split ``key=value`` arguments, every bad one a fault."""
    pairs: dict[str, object] = {}
    faults: list[Fault] = []
    for text in texts:
        key, equals, value = text.partition("=")
        if not equals or not key:
            faults.append(Fault("argument", "SYMBOL=VALUE", text))
        elif key in pairs:
            faults.append(Fault(key, "given once", f"{pairs[key]} and {value}"))
        else:
            pairs[key] = value
    if faults:
        raise InputError(*faults)
    return pairs
