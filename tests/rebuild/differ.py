"""Told figures against true ones: the disagreements in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

__all__ = ["CLOSE", "differ", "unlike"]

CLOSE = 1e-7


def differ(
    what: str, told: float | Sequence[float], true: float | Sequence[float], close: float = CLOSE
) -> Iterator[str]:
    """One line where a told figure, or one of a row, is not the true one."""
    tolds, trues = ([x] if isinstance(x, (int, float)) else list(x) for x in (told, true))
    if len(tolds) != len(trues):
        yield f"{what}: {len(tolds)} told, truly {len(trues)}"
        return
    for a, b in zip(tolds, trues, strict=True):
        if abs(a - b) > close * max(1.0, abs(b)):
            yield f"{what}: told {a:.9g}, true {b:.9g}"
            return


def unlike(what: str, told: Any, true: Any) -> Iterator[str]:
    """One line where what is told, a number counted or a name, is something else."""
    if told != true:
        yield f"{what}: told {told}, true {true}"
