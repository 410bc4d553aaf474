"""The opening between two treads and the lowest member, over them or beside: the step triangle, by its true outline."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from stairguard.geometry.clearance.pockets import Pocket, compare, diameter
from stairguard.model.asked.asked_opening import Beside
from stairguard.solve.sphere.step_outline import step_figure


@dataclass(frozen=True, slots=True, kw_only=True)
class StepOpening:
    """The largest sphere through the opening at one step.

    ``touches`` of ``"tread"``, ``"riser"``, ``"member"``, ``"nosing"``, with ``contacts`` in the same order; points
    are (x, z) from the lower nosing, x level into the stair, z up. ``passes`` is None without a limit; a sphere of
    exactly the limit counts as passing through, so it must be smaller. ``beside`` is None where the member is over the
    treads; its contacts on the ``stair side`` are on the stringer's face.
    """

    sphere: float
    touches: tuple[str, ...]
    contacts: tuple[tuple[float, float], ...]
    centre: tuple[float, float]
    limit: Fraction | None
    passes: bool | None
    beside: Beside | None = None


def step_opening(
    rise: Fraction,
    run: Fraction,
    nosing: Fraction,
    tread: Fraction,
    lift: Fraction,
    open_riser: bool,
    limit: Fraction | None,
    *,
    offset: Fraction = Fraction(0),
    strand_diameter: Fraction = Fraction(0),
) -> StepOpening:
    """Largest sphere through a step, any one unit of length.

    Beside the stair it is the largest that finds a way out; where no closed form gives it, its figure is never too
    small, and exactly the limit is what comes within that figure's rounding.

    Parameters
    ----------
    rise, run : positive
    nosing : projection of the nosing beyond the riser face, at least 0 and less than ``run``
    tread : thickness of the nosing, at least 0 and less than ``rise``
    lift : square, from the nosing line up to the underside of the lowest member; beside the stair it may be negative
    open_riser : no riser; the sphere may also pass between the treads
    limit : the sphere to be stopped
    offset, strand_diameter : of a member that stands out from the stair: its axis from the stair's side, level, and its
        own diameter; without an offset nothing is asked of the diameter

    Raises
    ------
    GeometryError
        The member lies too low to leave an opening.
    """
    step = {"rise": rise, "run": run, "nosing": nosing, "tread": tread, "lift": lift}
    if offset:
        step |= {"offset": offset, "strand_diameter": strand_diameter}
    found = step_figure(step, open_riser)
    outline, pocket = found.outline, found.pocket
    touches, contacts = found.touched_once()
    in_space = pocket.error is not None
    exact = None if in_space else diameter(outline, pocket)
    return StepOpening(
        sphere=pocket.diameter if exact is None else float(exact),
        touches=touches,
        contacts=contacts,
        centre=pocket.centre,
        limit=limit,
        passes=None if limit is None else compare(outline, pocket, limit) < 0 if exact is None else exact < limit,
        beside=None if not offset else _beside(pocket, touches, offset, strand_diameter),
    )


def _beside(pocket: Pocket, touches: Sequence[str], offset: Fraction, strand_diameter: Fraction) -> Beside:
    """Where it is out from the stair's side: its stair fills all within, and its member's axis stands at the offset."""
    radius, out = pocket.diameter / 2, pocket.out
    on_member = out + radius / (radius + float(strand_diameter) / 2) * (float(offset) - out)
    contacts = tuple(on_member if name == "member" else min(out, 0.0) for name in touches)
    return Beside(out, contacts, pocket.error or 0.0)
