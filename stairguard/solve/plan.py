"""A guard line while it is being solved: rails, joints, what bounds each surface's strands, and the strands."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from stairguard.model.guard.passages import Bar
from stairguard.model.guard.rails_and_strands import Field
from stairguard.model.guard.surfaces import PlacedSurface, SurfaceLine
from stairguard.model.job import Ending, Job
from stairguard.model.rules import RuleSet
from stairguard.solve.joint.rail_ends import Joined
from stairguard.solve.joint.rail_meeting import Meeting, Rails
from stairguard.solve.line.footing import Footing
from stairguard.solve.line.surface_line import Uphill
from stairguard.solve.sphere.step_profile import Profile
from stairguard.solve.strand.fields import Terrain


@dataclass(frozen=True, slots=True)
class Stop:
    """What bounds a surface's strands on one side: a support centred at ``station``, faces ``half`` to each side of it.

    ``joint`` is the index of the joint whose post it is, None at an end of the line, where ``foot`` says what it
    stands on; a wall or newel has no half.
    """

    station: Fraction
    half: Fraction
    joint: int | None
    support: Ending
    foot: Footing


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """Everything decided, nothing yet drawn up.

    ``carriers`` are the surfaces that carry a rail, in order; joint i of ``meetings``, ``joined`` and ``barred`` lies
    between carrier i and the next. ``barred`` is why strands end at the joint, None where they pass whole. All dicts
    are by surface index: ``stops`` before and after, ``profiles`` of flights, which have their line posts, ``fields``.
    """

    job: Job
    rules: RuleSet
    line: SurfaceLine
    rails: Rails
    carriers: tuple[PlacedSurface, ...]
    meetings: tuple[Meeting, ...]
    joined: tuple[Joined, ...]
    secs: tuple[Fraction, ...]
    undersides: tuple[Fraction, ...]
    ups: dict[int, Uphill]
    stops: dict[int, tuple[Stop, Stop]]
    profiles: dict[int, Profile]
    fields: dict[int, Field]
    barred: tuple[Bar | None, ...]
    terrain: Terrain

    def whole(self, joint: int) -> int:
        """How many strands, from the rail down, pass whole through a joint post."""
        if self.barred[joint] is not None:
            return 0
        meeting = self.meetings[joint]
        return min(len(self.fields[s.index].heights) for s in (meeting.before, meeting.after))

    def underside(self, surface: PlacedSurface, station: Fraction) -> Fraction:
        """Elevation of the underside of a surface's rail, produced."""
        return surface.datum(station) + self.undersides[surface.index]

    def fold(self, one: PlacedSurface, other: PlacedSurface) -> Fraction:
        """Station where the undersides of two rails of unlike slopes cross: where a mitre, which leans, cuts them."""
        at = one.start.s
        return at + (self.underside(other, at) - self.underside(one, at)) / (one.slope - other.slope)
