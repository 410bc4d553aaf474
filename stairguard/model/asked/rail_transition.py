"""The meeting of a flight's rail and a landing's, as a designer asks for it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Literal, TypeAlias

from stairguard.geometry.marks import one_height

if TYPE_CHECKING:  # the whole job's classes come with it
    from stairguard.model.job import Unit

FlightEnd: TypeAlias = Literal["top", "bottom"]
"""Of the flight."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TransitionQuestion:
    """A flight's steps and rail, a landing's rail, and the end of the flight where they meet; all in ``unit``.

    Heights are plumb to the same line of the rail. ``post_at`` is a post's level distance from the nosing there, uphill
    positive, None without one.
    """

    unit: Unit
    rise: Fraction
    run: Fraction
    flight_height: Fraction
    landing_height: Fraction
    at: FlightEnd
    post_at: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Transition:
    """Where two rails meet: ``meets`` is level from the nosing at the end ``asked`` about, uphill positive.

    ``bend_deg`` is between the rails, ``mitre_deg`` half of it. ``landing_height_for_post`` keeps the rail unbroken at
    the given post; ``jog`` is the landing's height less that. Both are None without a post.
    """

    asked: TransitionQuestion
    meets: Fraction
    bend_deg: float
    mitre_deg: float
    landing_height_for_post: Fraction | None
    jog: Fraction | None

    @property
    def higher(self) -> Literal["landing", "flight"] | None:
        """Whose rail stands higher at the post; None where they meet there, or without a post."""
        return None if not self.jog else "landing" if self.jog > 0 else "flight"

    @property
    def mark(self) -> Fraction:
        """The mark of a usual tape in its unit."""
        from stairguard.model.job import USUAL_MARK  # the whole job's classes come with it

        return USUAL_MARK[self.asked.unit]

    @property
    def made(self) -> bool:
        """Whether the jog is one to be made: a tape shows it."""
        return self.jog is not None and not one_height(self.jog, self.mark)

    @property
    def at(self) -> FlightEnd:
        """Which end of the flight it is."""
        return self.asked.at
