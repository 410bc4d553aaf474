"""An opening as it was asked about and answered, whatever way it was given."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Literal, TypeAlias

from stairguard.geometry.outline import Outline, Vec
from stairguard.geometry.pockets import Pocket

if TYPE_CHECKING:  # a plain question needs none of these
    from stairguard.model.job import Unit
    from stairguard.solve.inverse import Inverse
    from stairguard.solve.measured import Uncertainty
    from stairguard.solve.measurement import Measurement

__all__ = ["Form", "Opened"]

Form: TypeAlias = Literal["closed step", "open step", "points", "sides", "lengths", "strands"]


@dataclass(frozen=True, slots=True)
class Opened:
    """The largest sphere through an opening, all lengths in ``unit``.

    ``sphere`` is its diameter, ``centre`` where; it touches ``touches`` at ``contacts``, same order. On a step, points
    are (x, z) from the lower nosing, x level into the stair, z up. ``passes`` is the exact verdict on the figures as
    given, None without a ``limit``: a sphere of exactly the limit counts as passing through, so it must be smaller.
    ``pockets`` of ``outline`` come largest first; ``points`` are its corners as given, in order, where it has such.
    ``measurements`` are what was given; ``assumed`` says in words what stood in for a +- not given; ``uncertainty`` is
    None where all is taken as exact, ``inverse`` where not asked for.
    """

    form: Form
    unit: Unit
    sphere: float
    touches: tuple[str, ...]
    contacts: tuple[tuple[float, float], ...]
    centre: tuple[float, float]
    limit: Fraction | None
    passes: bool | None
    outline: Outline
    pockets: tuple[Pocket, ...]
    measurements: tuple[Measurement, ...]
    assumed: str
    uncertainty: Uncertainty | None
    inverse: Inverse | None
    points: tuple[Vec, ...] = ()
