"""A measured flight's own figures, and the straight rails that its nosings allow, as data."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from stairguard.geometry.survey.straight_rails import RailBand
from stairguard.geometry.survey.straightedge import Spread


@dataclass(frozen=True, slots=True)
class StepSpread:
    """Largest differences within a flight, by index from the lowest up; None where there is but one."""

    rises: Spread | None
    runs: Spread | None


@dataclass(frozen=True, slots=True)
class MeasuredSteps:
    """What a measured flight has at each nosing, from the lower landing up.

    ``rises`` lead plumb to each nosing from the one below it, the first from the lower landing; ``runs`` level to each
    but the first. ``gaps`` are plumb from each nosing up to the straightedge, ``tops`` up to the rail's top as laid
    out.
    """

    rises: tuple[Fraction, ...]
    runs: tuple[Fraction, ...]
    gaps: tuple[Fraction, ...]
    tops: tuple[Fraction, ...]
    spread: StepSpread


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
    """The steps of one measured flight, by index of its surface, and the straight rails over it.

    ``required`` is the band of the rules that bind; ``optional`` the band with every rule taken up that binds only some
    jobs (a rail that also serves as handrail, say), None where they ask nothing more.
    """

    surface: int
    steps: MeasuredSteps
    required: StraightBand
    optional: StraightBand | None

    @property
    def best_heights(self) -> tuple[Fraction, ...]:
        """Heights of the best rail, that of the optional band where the binding rules have none; in station order."""
        if self.required.heights or self.optional is None:
            return self.required.heights
        return self.optional.heights
