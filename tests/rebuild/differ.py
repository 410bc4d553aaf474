"""Told figures against those found again, or told another way round: the disagreements in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

CLOSE = 1e-7


def differ(
    what: str, told: float | Sequence[float], found: float | Sequence[float], close: float = CLOSE
) -> Iterator[str]:
    """One line where a told figure, or one of a row, is not as it is found."""
    these, those = ([x] if isinstance(x, (int, float)) else list(x) for x in (told, found))
    if len(these) != len(those):
        yield f"{what}: {len(these)} told, {len(those)} found"
        return
    for a, b in zip(these, those, strict=True):
        if abs(a - b) > close * max(1.0, abs(b)):
            yield f"{what}: {a:.9g} told, {b:.9g} found"
            return


def unlike(what: str, told: Any, found: Any) -> Iterator[str]:
    """One line where what is told, a number counted or a name, is something else."""
    if told != found:
        yield f"{what}: {told} told, {found} found"
