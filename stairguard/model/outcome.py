"""What came of a whole question, decided once: exit status, the first line of a page and JSON all go by it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final, Literal, TypeAlias

__all__ = ["OUTCOMES", "Outcome", "of_passes", "worst"]

Outcome: TypeAlias = Literal["does not comply", "too close to call", "incomplete", "complies"]
"""``incomplete``: nothing fails, but something that could have been judged was not measured."""

OUTCOMES: Final[tuple[Outcome, ...]] = ("does not comply", "too close to call", "incomplete", "complies")
"""The gravest first."""


def worst(outcomes: Iterable[Outcome]) -> Outcome:
    """The gravest of several; of none, that all complies."""
    return min(outcomes, key=OUTCOMES.index, default="complies")


def of_passes(passes: bool | None) -> Outcome:
    """What comes of a verdict on exact figures; where nothing was to be judged, nothing fails."""
    return "does not comply" if passes is False else "complies"
