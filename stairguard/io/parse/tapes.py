"""Tapes and how far each may be out: a +- for lengths given without one."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from pathlib import Path
from typing import Any, Final

from stairguard.io.parse.exact_lengths import parse_length
from stairguard.model.job import Unit

_FILE: Final = Path(__file__).parents[2] / "data" / "tapes.toml"


@dataclass(frozen=True, slots=True, kw_only=True)
class Tape:
    """A tape's greatest errors: by ``steps`` (up to a length), or ``error`` and ``more`` for each begun length."""

    name: str
    title: str
    status: str
    source: str
    note: str
    steps: tuple[tuple[Fraction, Fraction], ...]
    error: Fraction
    more: Fraction
    each: Fraction

    def plus_minus(self, length: Fraction) -> Fraction | None:
        """Greatest error over a length; None where the tape's standard gives none so long."""
        if not self.steps:
            return self.error + self.more * ceil(abs(length) / self.each)
        return next((error for to, error in self.steps if abs(length) <= to), None)


def read_tape(name: str, unit: Unit) -> Tape:
    """A tape by its name, one of `stairguard.io.parse.plus_minus.TAPES`, its errors in ``unit``."""
    table: dict[str, Any] = tomllib.loads(_FILE.read_text(encoding="utf-8"))[name]

    def length(key: str, of: dict[str, Any] = table) -> Fraction:
        return parse_length(of.get(key, 0), unit)  # shipped, so without fault

    steps = tuple((length("to", step), length("error", step)) for step in table.get("steps", ()))
    title, status, source, note = (str(table[key]) for key in ("title", "status", "source", "note"))
    return Tape(
        name=name,
        title=title,
        status=status,
        source=source,
        note=note,
        steps=steps,
        error=length("error"),
        more=length("more"),
        each=length("each"),
    )
