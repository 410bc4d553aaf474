"""How strands give under a push, as results: every figure with the two bounds it lies between.

``held`` is with the strand held at both posts of its bay, ``free`` with it sliding through its holes over its whole
run: the truth lies between, and ``free`` is the careful one. Forces are lbf or N by the job's unit, lengths in it.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal, TypeAlias

from stairguard.model.job import Climate, Frame, Push, TensionSource, Unit
from stairguard.model.outcome import Outcome, of_passes
from stairguard.model.published.probe_forces import NamedPush
from stairguard.model.published.strand_materials import StrandSteel

PushVerdict: TypeAlias = Literal[
    "holds", "between", "gives way", "passes untouched", "turned aside", "no answer", "not solved", "rigid"
]
"""``between``: enough if every post holds the strand, too little if it slides. ``rigid``: rigid parts alone stop the
probe. ``turned aside``: its middle lies past the strand, which does not let it in here but leads it to the next
opening, judged there. ``no answer``: friction would drag the strand along. ``not solved``: the strand stands out from
the stair, so that the probe's way past both, and its push, are other than in one plane."""

STOPPED: Final[tuple[PushVerdict, ...]] = ("holds", "rigid", "turned aside")
"""Verdicts that let no probe through."""


StrandBound: TypeAlias = Literal["held", "free"]
"""Which of the two figures one stands for."""


@dataclass(frozen=True, slots=True)
class HeldAndFree:
    """One figure with the strand held at both posts, and sliding over its run; None where there is none."""

    held: float | None
    free: float | None


@dataclass(frozen=True, slots=True)
class Taut:
    """A strand under tension: what it is made of, its ``tension`` at rest, and how that is known."""

    steel: StrandSteel
    tension: Fraction
    source: TensionSource

    @property
    def of_breaking(self) -> float:
        """The tension in hundredths of the breaking force."""
        return 100 * float(self.tension) / self.steel.breaking


@dataclass(frozen=True, slots=True, kw_only=True)
class ProbePlace:
    """Where a probe is pushed.

    ``bay`` is clear between posts along the strand, ``run`` what slides, ``at`` the probe's distance from one post
    (None: mid-bay). ``clear`` is from the line that the probe's middle moves on to each strand's axis at rest;
    ``strands`` give, 2 or 1.
    """

    bay: float
    run: float
    clear: float
    strands: int
    probe: float
    at: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Holding:
    """What it takes to get a probe through at one place.

    ``push`` is the greatest force on its way; None where the strand reaches its breaking force first, at the push in
    ``breaking``. There ``contact_deg``, ``deflection`` and the strand's ``tension`` are. ``needed`` is the tension at
    rest that makes the push the force asked for (None without one, or where no tension short of breaking does).
    """

    place: ProbePlace
    push: HeldAndFree
    breaking: HeldAndFree
    contact_deg: HeldAndFree
    deflection: HeldAndFree
    tension: HeldAndFree
    needed: HeldAndFree
    verdict: PushVerdict | None

    @property
    def withstood(self) -> HeldAndFree:
        """The push it takes, or that at which the strand breaks where it breaks first; None where there is neither."""
        return HeldAndFree(
            self.breaking.held if self.push.held is None else self.push.held,
            self.breaking.free if self.push.free is None else self.push.free,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningGive:
    """One opening of a guard under the push: ``opening`` is its index among the layout's.

    ``numbers`` are the strands that give, ``posts`` those of the bay where it is weakest, ``holding`` how it stands
    there (None where nothing gives, or nothing is touched). Where it does not hold, ``nearer`` is by how much each
    strand would have to start nearer to the probe's middle, square, to hold even if it slides (between two, half of
    what the spacing is too wide by); None where that cannot be told.
    """

    opening: int
    probe: float
    numbers: tuple[int, ...]
    posts: tuple[str, ...]
    holding: Holding | None
    verdict: PushVerdict | None
    nearer: float | None = None

    @property
    def between(self) -> bool:
        """Whether the probe comes between two strands, and not between one and what is rigid."""
        return len(self.numbers) == 2

    @property
    def too_wide(self) -> float | None:
        """By how much the spacing of two strands is too wide to hold, or one strand too far from what is rigid."""
        return None if self.nearer is None else self.nearer * (2 if self.between else 1)


@dataclass(frozen=True, slots=True)
class GuardGive:
    """Every opening of a guard under the job's push.

    ``taut`` is None where the job gives no tension: then ``holding`` is that of slack strands, and tells only what
    tension would be needed. ``passes`` is None where no force is asked for, no
    tension known, or no opening has a size to hold to; or where some are not solved and no other gives way.
    """

    taut: Taut | None
    push: Push
    openings: tuple[OpeningGive, ...]
    passes: bool | None

    @property
    def yielding(self) -> tuple[OpeningGive, ...]:
        """The openings that do not hold the push; none where that is not judged."""
        held = (*STOPPED, "not solved")
        return () if self.passes is None else tuple(one for one in self.openings if one.verdict not in held)

    @property
    def unsolved(self) -> tuple[OpeningGive, ...]:
        """The openings whose push is not solved, where one is asked for."""
        asked = self.push.force is not None and self.taut is not None
        return tuple(one for one in self.openings if asked and one.verdict == "not solved")


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedTension:
    """What would hold a ``push`` that a publication names, its ``force`` in the job's unit.

    ``sized`` tells whether any opening has a size to hold to. ``tension`` at rest holds every opening that one can
    hold, the strand sliding; None where none is needed, or none does. ``beyond`` is how many openings no tension short
    of breaking holds, ``unsolved`` at how many the push is not solved.
    """

    push: NamedPush
    force: Fraction
    sized: bool
    tension: float | None
    beyond: int
    unsolved: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class BayQuestion:
    """One bay: equal strands at ``spacing``, or, with ``strands`` 1, one at that distance from a rigid edge, square."""

    unit: Unit
    diameter: Fraction
    spacing: Fraction
    strands: int
    bay: Fraction
    run: Fraction
    at: Fraction | None
    taut: Taut
    push: Push


@dataclass(frozen=True, slots=True, kw_only=True)
class BayAnswer:
    """One bay answered.

    ``sag`` is None of a slack strand; ``widest`` and ``longest`` are the spacing and the bay up to which the force
    asked for is held at this tension, None without one. ``weakest_at`` is the place along the bay, from the nearer
    post, where the sliding strand takes the least push, and ``weakest`` that push. ``settles`` is by how much a new
    strand of this length stretches once for all, at least and at most, and ``loses`` how much tension that takes.
    """

    asked: BayQuestion
    gap: Fraction
    holding: Holding
    elongation: float
    sag: float | None
    widest: HeldAndFree
    longest: HeldAndFree
    weakest_at: float
    weakest: float | None
    settles: tuple[float, float]
    loses: tuple[float, float]

    @property
    def reach(self) -> float:
        """Half of probe and strand together: from the probe's middle, or a cone's shoulder, to the strand's axis."""
        return (self.holding.place.probe + float(self.asked.diameter)) / 2

    @property
    def weakest_at_middle(self) -> bool:
        """Whether the weakest place is the middle of the bay."""
        return self.weakest_at == float(self.asked.bay) / 2

    @property
    def loses_all(self) -> bool:
        """Whether settling takes all tension there is, even at the least."""
        return self.loses[0] == float(self.asked.taut.tension)

    @property
    def weaker_elsewhere(self) -> bool:
        """Whether the force asked for at one place opens the bay at its weakest, where a probe will find it."""
        force = self.asked.push.force
        return self.asked.at is not None and force is not None and self.weakest is not None and self.weakest < force


@dataclass(frozen=True, slots=True)
class Hung:
    """A mass hung at mid-bay: its weight, and how far the strand went down there (None: not measured), square."""

    weight: Fraction
    sinks: Fraction | None


@dataclass(frozen=True, slots=True)
class Weathered:
    """A strand's tension at one temperature, degrees Celsius: the most and the least that there may be."""

    temperature: float
    most: float
    least: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Upkeep:
    """What temperature, drying wood and settling do to one strand.

    Tensions are the most and the least, as set and after wood has moved and strand has settled, within the bounds of
    every figure: EA, expansions, shrinkage. ``shortening`` is by how much the anchors' seats come nearer as wood
    moves, ``drop`` the most tension lost by that and by settling at today's temperature. ``points`` run from the
    coldest to the warmest. ``lowest`` and ``highest`` are where the least and the most are; the strand is ``slack``
    where the least is nothing but its own weight in a sag, and ``breaks`` where the most is its breaking force.
    ``holding`` is the push at the lowest; ``to_set`` the tension to set today so that every place that a tension can
    hold still holds the force asked for then, of each bound; None without a force, or where none can without breaking.
    ``otherwise`` are tensions at ``points`` in frames of other materials, nothing drying.
    """

    climate: Climate
    shortening: float
    drop: float
    points: tuple[Weathered, ...]
    lowest: Weathered
    highest: Weathered
    slack: bool
    breaks: bool
    holding: Holding
    to_set: HeldAndFree
    otherwise: tuple[tuple[Frame, tuple[float, ...]], ...]


@dataclass(frozen=True, slots=True)
class HungAnswer:
    """A mass hung at mid-bay: how far the strand should go down there, square to itself.

    ``tension`` is, where that was measured, what it says of the tension at rest; less than nothing says slack.
    """

    hung: Hung
    expected: HeldAndFree
    tension: HeldAndFree

    @property
    def slack(self) -> bool:
        """Whether what was measured says less than nothing of the tension, in either bound."""
        return min(self.tension.held or 0.0, self.tension.free or 0.0) < 0


@dataclass(frozen=True, slots=True)
class PushCurve:
    """The greatest push over tensions at rest, with the strand held and sliding; it ends where the strand breaks."""

    tensions: tuple[float, ...]
    held: tuple[float, ...]
    free: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What a published table asks of strands: up to a ``spacing`` and a ``bay``, this ``tension``.

    None where it does not permit them; ``met`` says whether the tension at rest is enough.
    """

    clause: str
    spacing: Fraction
    bay: Fraction
    tension: Fraction | None
    met: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class BayReport:
    """One bay with all that was asked about it.

    ``turns`` of the tensioner reach the tension from slack; ``compared`` is the same bay otherwise, each with what is
    different, and ``compared_upkeep`` the upkeep of those; ``table`` what a published table asks where the push is
    its own.
    """

    answer: BayAnswer
    turns: float | None
    hung: HungAnswer | None
    upkeep: Upkeep | None
    compared: tuple[tuple[str, BayAnswer], ...]
    table: Asked | None = None
    compared_upkeep: tuple[Upkeep, ...] = ()

    @property
    def passes(self) -> bool:
        """Whether nothing that was asked for fails: without a force nothing is."""
        if (self.table is not None and not self.table.met) or (self.upkeep is not None and self.upkeep.breaks):
            return False
        answer = self.answer
        if answer.asked.push.force is None:
            return True
        if answer.weaker_elsewhere:
            return False
        found = [answer.holding, *([] if self.upkeep is None else [self.upkeep.holding])]
        return all(one.verdict in STOPPED for one in found)

    @property
    def outcome(self) -> Outcome:
        """What came of it."""
        return of_passes(self.passes)
