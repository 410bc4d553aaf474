"""The command ``starter``: a commented job file to begin with."""

from __future__ import annotations

from typing import Annotated

import typer

from stairguard.cli.options import Answer, plain


def starter(path: Annotated[str, typer.Argument(metavar="PATH", show_default=False)]) -> Answer:
    """Write a commented job file, to standard output where PATH is "-"; it never overwrites."""
    import stairguard

    if path == "-":
        return Answer(stairguard.starter_text())
    stairguard.write_starter(path)
    return Answer(f"Written: {plain(path)}\n")
