"""The figures of ``figures.toml``, read once; how they are laid out is said at its top."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final

from stairguard.model.published.known_figure import Figure

# By path and not through importlib.resources, whose import alone would slow every start.
_FILE: Final = Path(__file__).with_name("figures.toml")


def table(name: str) -> Mapping[Any, Any]:
    """One of the file's tables as it stands; its keys may be words of a literal type."""
    found: Mapping[Any, Any] = _content()[name]
    return found


def figure(told: Mapping[str, Any], of: str = "") -> Figure:
    """A table's one figure, or that of one row with what its table says beside; ``of`` is what it is known of."""
    low, high = (Fraction(told[key]) if key in told else None for key in ("low", "high"))
    middle = None if low is None or high is None else (low + high) / 2
    return Figure(
        value=Fraction(told.get("value", middle)),
        unit=told["unit"],
        status=told["status"],
        source=told["source"].format_map(table("sources")),
        what=told["what"].format(of),
        low=low,
        high=high,
    )


def figures(told: Mapping[str, Any]) -> Mapping[Any, Figure]:
    """A table's figures, by what each is known of."""
    rows = {of: row if isinstance(row, dict) else {"value": row} for of, row in told["of"].items()}
    return MappingProxyType({of: figure({**told, **row}, of) for of, row in rows.items()})


@cache
def _content() -> dict[str, Any]:
    return tomllib.loads(_FILE.read_text(encoding="utf-8"), parse_float=Fraction)
