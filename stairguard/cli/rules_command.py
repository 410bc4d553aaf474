"""The command ``rules``: which packs there are, and what one says."""

from __future__ import annotations

from typing import Annotated

import typer

from stairguard.cli.options import Answer, AsJson, Unit, Words, renamed_call

__all__ = ["rules"]


def rules(
    pack: Annotated[Words, typer.Argument(metavar="[PACK]", show_default=False)] = None,
    unit: Unit = "in",
    as_json: AsJson = False,
) -> Answer:
    """List the rule packs, or show one: by name, or the path of your own."""
    from stairguard.io.parse.arguments import read_unit
    from stairguard.reports.data.encode import json_text
    from stairguard.reports.data.pack_data import pack_data, packs_data
    from stairguard.reports.page.rules.pack_page import pack_text, packs_text
    from stairguard.rules.pack.reader import available, read_rules

    of = renamed_call(read_unit, unit)
    if pack is None:
        packs = [read_rules(name, of) for name in available()]
        return Answer(json_text(packs_data(packs)) if as_json else packs_text(packs))
    one = read_rules(pack, of)
    return Answer(json_text(pack_data(one, of)) if as_json else pack_text(one, of))
