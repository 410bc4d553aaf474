"""An opening as it was asked about and answered, whatever way it was given."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Literal, TypeAlias

from stairguard.geometry.clearance.outline import Outline, Vec
from stairguard.geometry.clearance.pockets import Pocket
from stairguard.model.outcome import Outcome, of_passes

if TYPE_CHECKING:  # a plain question needs none of these
    from stairguard.model.fixes import Fix
    from stairguard.model.job import Unit
    from stairguard.solve.measured.measurement import Measurement
    from stairguard.solve.measured.uncertainty import Uncertainty
    from stairguard.solve.sphere.inverse_opening import Inverse
    from stairguard.solve.sphere.step_ways import StepMend

__all__ = ["Form", "Opened"]

Form: TypeAlias = Literal["closed step", "open step", "points", "sides", "lengths", "strands"]


@dataclass(frozen=True, slots=True)
class Opened:
    """The largest sphere through an opening, all lengths in ``unit``.

    ``sphere`` is its diameter, ``centre`` where; it touches ``touches`` at ``contacts``, same order. On a step, points
    are (x, z) from the lower nosing, x level into the stair, z up. ``stops`` is the exact verdict on the figures as
    given, None without a ``limit``: a sphere of exactly the limit counts as passing through, so it must be smaller.
    ``pockets`` of ``outline`` come largest first; ``points`` are its corners as given, in order, where it has such.
    ``measurements`` are what was given; ``assumed`` says in words what stood in for a +- not given; ``uncertainty`` is
    None where all is taken as exact, ``inverse`` where not asked for. ``binding`` says whether that uncertainty is the
    asker's own, by a +- or a tape named: then it decides what comes of it; the usual tape's is told beside. ``mends``
    are, where the inverse is asked for, other lengths of a step over whose treads no lift stops the sphere. ``fixes``
    are ways to make it comply, off the tape, where it does not and they were worked out.
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
    fixes: tuple[Fix, ...] = ()

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
