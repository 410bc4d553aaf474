"""The meeting of a flight's rail and a landing's, as a designer asks for it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

__all__ = ["End", "Transition"]

End: TypeAlias = Literal["top", "bottom"]
"""Of the flight."""


@dataclass(frozen=True, slots=True)
class Transition:
    """Where two rails meet: ``meets`` is level from the nosing ``at`` that end, uphill positive.

    ``bend_deg`` is between the rails, ``mitre_deg`` half of it. ``landing_height_for_post`` keeps the rail unbroken at
    the given post; ``jog`` is the landing's height less that. Both are None without a post.
    """

    at: End
    meets: Fraction
    bend_deg: float
    mitre_deg: float
    landing_height_for_post: Fraction | None
    jog: Fraction | None
