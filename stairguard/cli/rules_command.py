"""The command ``rules``: which packs there are, and what one says."""

from __future__ import annotations

from typing import Annotated

import typer

from stairguard.cli.options import Answer, AsJson, Unit, Words, check_unit


def rules(
    pack: Annotated[Words, typer.Argument(metavar="[PACK]", show_default=False)] = None,
    unit: Unit = "in",
    as_json: AsJson = False,
) -> Answer:
    """List the rule packs, or show one: by name, or the path of your own."""
    import stairguard
    from stairguard.reports.data.encode import json_text

    check_unit(unit)
    names = stairguard.rule_packs() if pack is None else (pack,)
    read = [stairguard.read_rules(name, unit) for name in names]
    shown = read if pack is None else read[0]
    if as_json:
        return Answer(json_text(stairguard.rules_result(shown, unit=unit)))
    return Answer(stairguard.rules_report(shown, unit=unit))
