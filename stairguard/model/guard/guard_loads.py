"""What a guard's strands do as a whole: every bay, the loads they hand on, their upkeep, and the guard otherwise.

Forces are lbf or N by the job's unit, lengths in it; a pressure is force on a square of it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from stairguard.model.fixes import Fix
from stairguard.model.guard.solved_layout import Check
from stairguard.model.guard.strand_deflection import STOPPED, GuardGive, HeldAndFree, Holding, NamedTension, Upkeep
from stairguard.model.job import TensionSource
from stairguard.model.outcome import Outcome, of_passes
from stairguard.model.published.strand_materials import StrandSteel

PostSide: TypeAlias = Literal["before", "after"]


@dataclass(frozen=True, slots=True, kw_only=True)
class BayGive:
    """Strands between two posts.

    ``holding`` is a probe's push between two of them (None of a single one, or without a
    size to hold to), ``sag`` under their own weight, None slack, ``sinks`` under the check mass hung at mid-bay, each
    square to the strand and None where that is unknown.
    """

    surface: int
    posts: tuple[str, str]
    numbers: tuple[int, ...]
    length: float
    run: float
    holding: Holding | None
    sag: float | None
    sinks: HeldAndFree


@dataclass(frozen=True, slots=True, kw_only=True)
class EndLoad:
    """Strands that end on a post, coming to it from ``side`` as stations increase.

    ``pull`` is along them, ``level`` and ``plumb`` its parts, ``height`` where it acts, plumb above the post's base,
    ``moment`` about that; ``compression`` what the rail takes, level, if the post may turn at its base: the most.
    """

    post: str
    side: PostSide
    numbers: tuple[int, ...]
    pull: float
    level: float
    plumb: float
    height: float
    moment: float
    compression: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FittingLoad:
    """One strand turned at a post: the ``force`` of each, and what it presses on a wooden hole with.

    ``edge`` is on the two edges of a bare hole, ``sleeve`` all along one that is sleeved.
    """

    post: str
    joint: int
    numbers: tuple[int, ...]
    bend_deg: float
    force: float
    edge: float
    sleeve: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Variant:
    """The guard otherwise, for comparing: what is ``changed``, and figures of the whole; None where there is none."""

    changed: str
    diameter: float
    construction: str
    spacing: float
    max_gap: float
    tension: float | None
    source: TensionSource
    strands: int
    worst_sphere: float
    weakest: HeldAndFree
    needed: HeldAndFree
    held: int
    openings: int
    end_pull: float | None
    weight: float
    sag: float | None
    passes: bool | None


@dataclass(frozen=True, slots=True, kw_only=True)
class GuardReport:
    """A guard under its push, whole.

    ``steel`` is what its strands are made of. ``mass`` is the weight hung for ``BayGive.sinks``; ``ends`` and
    ``fittings`` are empty and ``upkeep`` None without a tension (or, of the upkeep, a climate). ``tabled`` are the
    checks by a published table of tensions. ``fixes`` would hold the push at every opening; none where it holds,
    nothing is asked, or they were not looked for. ``named`` is what would hold the pushes that publications name; none
    where that was not asked for.
    """

    give: GuardGive
    mass: float
    bays: tuple[BayGive, ...]
    ends: tuple[EndLoad, ...]
    fittings: tuple[FittingLoad, ...]
    upkeep: Upkeep | None
    upkeep_run: tuple[str, str] | None
    compared: tuple[Variant, ...]
    steel: StrandSteel
    tabled: tuple[Check, ...] = ()
    fixes: tuple[Fix, ...] = ()
    named: tuple[NamedTension, ...] = ()

    @property
    def loads_at_highest(self) -> float | None:
        """By how much loads grow at the highest tension to come; None where that is not known."""
        if self.upkeep is None or self.give.taut is None or not self.give.taut.tension:
            return None
        return self.upkeep.highest.most / float(self.give.taut.tension)

    @property
    def greatest_at_highest(self) -> tuple[float, float] | None:
        """The greatest pull on an end and the greatest moment, at the highest tension to come; None where not known."""
        times = self.loads_at_highest
        if times is None or not self.ends:
            return None
        return times * max(end.pull for end in self.ends), times * max(end.moment for end in self.ends)

    @property
    def passes(self) -> bool | None:
        """Whether every opening holds the push, at every tension to come and by the table; None: nothing is judged."""
        kept = self.upkeep
        broken = kept is not None and kept.breaks
        lost = kept is not None and self.give.push.force is not None and kept.holding.verdict not in STOPPED
        if broken or lost or not all(check.passes for check in self.tabled):
            return False
        return self.give.passes

    @property
    def outcome(self) -> Outcome:
        """What came of it; where nothing is judged, nothing fails."""
        return "incomplete" if self.passes is None and self.give.unsolved else of_passes(self.passes)
