"""Rails and their joints as data: what the parts of solving a joint pass to one another."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal

from stairguard.model.guard.placed_posts import Stance
from stairguard.model.guard.rail_joints import JointNosing
from stairguard.model.guard.surfaces import PlacedSurface, SurfaceLine
from stairguard.model.job import Job
from stairguard.solve.line.footing import Footing

HALF_TURN: Final = 180


@dataclass(frozen=True, slots=True)
class Rails:
    """The rails of a job before they are joined: ``heights`` by surface, plumb above its datum."""

    job: Job
    line: SurfaceLine
    heights: tuple[Fraction, ...]

    def top(self, surface: PlacedSurface, station: Fraction) -> Fraction:
        """Elevation of the top of a surface's rail, produced, at a station."""
        return surface.datum(station) + self.heights[surface.index]


@dataclass(frozen=True, slots=True, kw_only=True)
class Meeting:
    """One joint between the rails of two surfaces, ``before`` and ``after`` along stations.

    ``meets`` is the station where the rails' tops cross, None where they are parallel and apart. ``station`` is the
    post's, or the corner's where two posts make a turn; ``feet`` are the posts' own stations and footings, ``stance``
    how one stands there (of two, each to its own leg). ``rises`` is how far the rail after, produced, stands above the
    rail before on the post's centre line; a strand has ``shift`` more height over the datum after it than over the one
    before. Where the line closes, ``after`` is its first surface moved on by the line's length, ``circuit``, which is
    zero at every other joint.
    """

    index: int
    before: PlacedSurface
    after: PlacedSurface
    crossed: tuple[PlacedSurface, ...]
    boundary: Fraction
    turn_deg: float
    meets: Fraction | None
    station: Fraction
    feet: tuple[tuple[Fraction, Footing], ...]
    stance: Stance
    rises: Fraction
    shift: Fraction
    circuit: Fraction = Fraction(0)

    @property
    def two(self) -> bool:
        """Whether two posts make the turn, the strands running straight from one to the other."""
        return len(self.feet) > 1

    @property
    def nosing(self) -> JointNosing | None:
        """The flight's nosing at this joint; of two flights, the first's."""
        for surface, last in ((self.before, True), (self.after, False)):
            if surface.nosings:
                way: Literal[1, -1] = 1 if surface.slope > 0 else -1
                number = len(surface.nosings) if last == (way > 0) else 1
                return JointNosing(surface.index, number, edge_of(surface, last), way)
        return None

    def from_nosing(self) -> Fraction | None:
        """Level distance of the meeting point from the flight's nosing, uphill positive."""
        nosing = self.nosing
        return None if nosing is None or self.meets is None else nosing.uphill(self.meets)


@dataclass(frozen=True, slots=True)
class RailPair:
    """Two surfaces whose rails meet, before it is known where; ``turn_at`` is a plan turn's station."""

    before: PlacedSurface
    after: PlacedSurface
    crossed: tuple[PlacedSurface, ...]
    turn_deg: float
    turn_at: Fraction | None

    @property
    def edges(self) -> tuple[Fraction, Fraction]:
        """Stations where the surface before ends and where the one after begins, at its nosing if it has one."""
        return edge_of(self.before, True), edge_of(self.after, False)


def edge_of(surface: PlacedSurface, last: bool) -> Fraction:
    """Station of a surface's nosing, or edge, at one of its ends."""
    if surface.nosings:
        return surface.nosings[-1 if last else 0].s
    return surface.edge_end.s if last else surface.edge_start.s
