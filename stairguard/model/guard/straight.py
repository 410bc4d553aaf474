"""What straight rails a measured flight allows, as data."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from stairguard.geometry.survey.straight_rails import RailBand

__all__ = ["StraightBand", "StraightRail"]


@dataclass(frozen=True, slots=True)
class StraightBand:
    """Straight rails within one band of plumb heights over every nosing of a flight.

    ``clauses`` set the band's limits, least first. ``rails`` has them all (its indices are of the nosings in station
    order); ``heights`` are those of the best rail over each nosing, in the same order, empty where there is none.
    """

    clauses: tuple[str, ...]
    rails: RailBand
    heights: tuple[Fraction, ...]

    @property
    def exists(self) -> bool:
        """Whether any straight rail keeps the band."""
        return self.rails.blocking is None

    @property
    def blocking(self) -> tuple[int, ...]:
        """The fewest nosings that forbid a straight rail, by index in station order; empty where there is one."""
        found = self.rails.blocking
        return () if found is None else tuple(sorted({*found.too_low, *found.too_high}))


@dataclass(frozen=True, slots=True)
class StraightRail:
    """The straight rails over one measured flight, by index of its surface.

    ``required`` is the band of the rules that bind; ``optional`` the band with every rule taken up that binds only some
    jobs (a rail that also serves as handrail, say), None where they ask nothing more.
    """

    surface: int
    required: StraightBand
    optional: StraightBand | None
