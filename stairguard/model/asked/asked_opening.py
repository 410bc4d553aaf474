"""An opening as it was asked about and answered, whatever way it was given: what was measured, and how sure that is."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import sqrt
from typing import TYPE_CHECKING, Literal, TypeAlias

from stairguard.model.outcome import FigureOutcome, Outcome, Settling, of_passes

if TYPE_CHECKING:  # a plain question needs none of these
    from stairguard.geometry.clearance.outline import Outline, Vec
    from stairguard.geometry.clearance.pockets import Pocket
    from stairguard.model.fixes import Fix
    from stairguard.model.job import Unit

Form: TypeAlias = Literal["closed step", "open step", "edge", "points", "sides", "lengths", "strands"]
StepSize: TypeAlias = Literal["lift", "rise", "run", "nosing", "offset"]


@dataclass(frozen=True, slots=True)
class Measurement:
    """A length as measured: the true one lies within ``plus_minus`` of ``value``; any one unit."""

    name: str
    value: Fraction
    plus_minus: Fraction

    @property
    def standard(self) -> float:
        """Standard uncertainty of a rectangular distribution (JCGM 100, 4.3.7; from memory)."""
        return float(self.plus_minus) / sqrt(3)


@dataclass(frozen=True, slots=True)
class Share:
    """What one measurement adds: ``derivative`` of the sphere by it, ``percent`` of the sphere's variance."""

    measurement: Measurement
    derivative: float
    percent: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Uncertainty:
    """What is known of a sphere, and what can be said against its limit.

    ``standard`` is the sphere's combined standard uncertainty (JCGM 100, 5.1.2; from memory). The decision rule is
    guarded acceptance and guarded rejection (JCGM 106, 8.3; from memory): with a guard band of ``ratio`` times
    ``2 standard``, an opening complies if its sphere is smaller than the limit by more than the guard band,
    does not if it is at or above the limit by at least as much, and is else too close to call. ``probability`` that
    it complies is for a normal distribution. ``settling`` is what would settle it; None unless it is too close to call.
    ``contact_may_change``
    says that within the uncertainty the sphere may touch something else: the linear figures are then only indicative.
    ``probability`` and ``verdict`` are None without a limit. ``shares`` come largest first.
    """

    standard: float
    ratio: Fraction
    guard_band: float
    probability: float | None
    verdict: FigureOutcome | None
    contact_may_change: bool
    settling: Settling | None
    shares: tuple[Share, ...]

    @property
    def alone(self) -> Settling | None:
        """What would settle it where one measurement does; None where it takes several, or nothing would."""
        return self.settling if self.settling is not None and len(self.settling.again) == 1 else None


@dataclass(frozen=True, slots=True)
class Move:
    """A side of an outline moved square to itself: by the ``edges`` that are its pieces, in order along it, from 1."""

    edges: tuple[int, ...]


NoGreatest: TypeAlias = Literal[
    "open between treads", "open below nosing", "open beside", "no lift stops it", "no move stops it", "moves freely",
    "grows at once",
]  # fmt: skip
"""Why no greatest length is told, or (``grows at once``) why the sphere there is not the limit itself."""


@dataclass(frozen=True, slots=True)
class Inverse:
    """The greatest ``what`` below which a sphere of the limit is stopped, and the ``sphere`` there, by substitution.

    Where there is none, both are None and ``why`` says so.
    """

    what: Literal["lift", "height", "spacing"] | Move
    greatest: float | None
    sphere: float | None
    why: NoGreatest | None = None


@dataclass(frozen=True, slots=True)
class Beside:
    """Where a sphere on its way past a guard that stands out from the stair is: out from the stair's side, level.

    ``out`` is its centre's, ``contacts`` are where it touches, in their order. Its diameter is at most ``error`` too
    large: nothing where what it touches holds it.
    """

    out: float
    contacts: tuple[float, ...]
    error: float = 0.0


@dataclass(frozen=True, slots=True)
class StepMend:
    """One length of a step, or of an edge, to change, to less than ``value``, by more than ``by``.

    It holds with the member set to ``lift`` besides; None where the member stays as it is, or is itself what changes.
    """

    what: StepSize
    value: float
    by: float
    lift: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """The largest sphere through an opening, all lengths in ``unit``.

    ``sphere`` is its diameter, ``centre`` where; it touches ``touches`` at ``contacts``, same order. On a step, points
    are (x, z) from the lower nosing, x level into the stair, z up. ``stops`` is the exact verdict on the figures as
    given, None without a ``limit``: a sphere of exactly the limit counts as passing through, so it must be smaller.
    ``pockets`` of ``outline`` come largest first; ``points`` are its corners as given, in order, where it has such.
    ``measurements`` are what was given; ``assumed`` says in words what stood in for a +- not given; ``uncertainty`` is
    None where all is taken as exact, ``inverse`` where not asked for. ``binding`` says whether that uncertainty is the
    asker's own, by a +- or a tape named: then it decides what comes of it; the usual tape's is told beside. ``mends``
    are, where the inverse is asked for, other lengths of a step over whose treads no lift stops the sphere.
    ``closed_form`` says whether the formula for a sphere on tread, riser and member gives it. ``fixes`` are ways to
    make it comply, off the tape, where it does not and they were worked out. ``beside`` is where the sphere is out from
    the stair, whose strands stand in another plane; None where all is in one. Of a level edge ``centre`` and
    ``contacts`` are (x, z) from it, x along it, and the ``outline`` is a section: out from the edge, and up.
    ``own_diameters`` are those of an outline's edges, by number from 1, that do not share one.
    """

    form: Form
    unit: Unit
    sphere: float
    touches: tuple[str, ...]
    contacts: tuple[tuple[float, float], ...]
    centre: tuple[float, float]
    limit: Fraction | None
    stops: bool | None
    outline: Outline
    pockets: tuple[Pocket, ...]
    measurements: tuple[Measurement, ...]
    assumed: str
    uncertainty: Uncertainty | None
    inverse: Inverse | None
    points: tuple[Vec, ...] = ()
    binding: bool = True
    mends: tuple[StepMend, ...] = ()
    closed_form: bool = False
    fixes: tuple[Fix, ...] = ()
    beside: Beside | None = None
    own_diameters: tuple[tuple[int, Measurement], ...] = ()

    @property
    def of_step(self) -> bool:
        """Whether it is that of a step, else of an outline."""
        return self.form in ("closed step", "open step")

    @property
    def outcome(self) -> Outcome | None:
        """What came of it, a binding uncertainty of the figures in it; None without a limit."""
        if self.stops is None:
            return None
        verdict = None if self.uncertainty is None or not self.binding else self.uncertainty.verdict
        return of_passes(self.stops) if verdict is None else verdict

    @property
    def passes(self) -> bool | None:
        """Whether it complies, and not too closely to call; None without a limit."""
        return None if self.outcome is None else self.outcome == "complies"
