"""What came of a whole question, decided once: exit status, the first line of a page and JSON all go by it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

Outcome: TypeAlias = Literal["does not comply", "too close to call", "incomplete", "complies"]
"""``incomplete``: nothing fails, but something that could have been judged was not measured."""

OUTCOMES: Final[tuple[Outcome, ...]] = ("does not comply", "too close to call", "incomplete", "complies")
"""The gravest first."""

FigureOutcome: TypeAlias = Literal["complies", "does not comply", "too close to call"]
"""What comes of one figure, its uncertainty in it."""

Called: TypeAlias = Literal["pass", "fail", "too close to call"]
"""What a guard band makes of one figure, in the words of a finding's verdict."""

_OF_CALLED: Final[Mapping[Called, FigureOutcome]] = {
    "pass": "complies", "fail": "does not comply", "too close to call": "too close to call",
}  # fmt: skip


def worst(outcomes: Iterable[Outcome]) -> Outcome:
    """The gravest of several; of none, that all complies."""
    return min(outcomes, key=OUTCOMES.index, default="complies")


def of_passes(passes: bool | None) -> Outcome:
    """What comes of a verdict on exact figures; where nothing was to be judged, nothing fails."""
    return "does not comply" if passes is False else "complies"


def of_called(called: Called) -> FigureOutcome:
    """What comes of a question on one figure."""
    return _OF_CALLED[called]


@dataclass(frozen=True, slots=True)
class Settling:
    """What would settle a figure that is too close to call, if it comes out the same.

    Each of the measurements ``again``, taken to less than ``plus_minus``, the others as they are. None where no tape
    can be read so finely, or the figure is just its limit: then it can only be mended.
    """

    again: tuple[str, ...]
    plus_minus: float
