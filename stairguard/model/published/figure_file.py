"""Figures from files of data, each read once; ``strand_figures.toml`` says at its top how they are laid out."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any, Literal, TypeAlias

from stairguard.model.published.known_figure import Figure

FigureTopic: TypeAlias = Literal["strand", "wood", "push"]
"""What each file is about: a layout without a push reads those of strand alone."""


def table(topic: FigureTopic, name: str) -> Mapping[Any, Any]:
    """One of a file's tables as it stands, sources in full; its keys may be words of a literal type."""
    found: Mapping[Any, Any] = _content(topic)[name]
    return found


def figure(told: Mapping[str, Any], of: str = "") -> Figure:
    """A table's one figure, or that of one row with what its table says beside; ``of`` is what it is known of."""
    low, high = (Fraction(told[key]) if key in told else None for key in ("low", "high"))
    middle = None if low is None or high is None else (low + high) / 2
    return Figure(
        value=Fraction(told.get("value", middle)),
        unit=told["unit"],
        status=told["status"],
        source=told["source"],
        what=told["what"].format(of),
        low=low,
        high=high,
    )


def figures(told: Mapping[str, Any]) -> Mapping[Any, Figure]:
    """A table's figures, by what each is known of."""
    rows = {of: row if isinstance(row, dict) else {"value": row} for of, row in told["of"].items()}
    return MappingProxyType({of: figure({**told, **row}, of) for of, row in rows.items()})


@cache
def _content(topic: FigureTopic) -> dict[str, Any]:
    # By path and not through importlib.resources, whose import alone would slow every start.
    path = Path(__file__).with_name(f"{topic}_figures.toml")
    content = tomllib.loads(path.read_text(encoding="utf-8"), parse_float=Fraction)
    _cite(content, content.pop("sources"))
    return content


def _cite(told: dict[str, Any], sources: Mapping[str, str]) -> None:
    """Put the sources that are named in braces in full."""
    for key, within in told.items():
        if isinstance(within, dict):
            _cite(within, sources)
        elif key == "source":
            told[key] = within.format_map(sources)
