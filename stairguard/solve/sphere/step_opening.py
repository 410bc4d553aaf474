"""The opening between two treads and the lowest member: the step triangle, by its true outline."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from stairguard.geometry.clearance.pockets import diameter
from stairguard.solve.sphere.step_outline import step_figure
from stairguard.solve.sphere.step_profile import Found


@dataclass(frozen=True, slots=True, kw_only=True)
class StepOpening:
    """The largest sphere through the opening at one step.

    ``touches`` of ``"tread"``, ``"riser"``, ``"member"``, ``"nosing"``, with ``contacts`` in the same order; points
    are (x, z) from the lower nosing, x level into the stair, z up. ``passes`` is None without a limit; a sphere of
    exactly the limit counts as passing through, so it must be smaller.
    """

    sphere: float
    touches: tuple[str, ...]
    contacts: tuple[tuple[float, float], ...]
    centre: tuple[float, float]
    limit: Fraction | None
    passes: bool | None


def step_opening(
    rise: Fraction,
    run: Fraction,
    nosing: Fraction,
    tread: Fraction,
    lift: Fraction,
    open_riser: bool,
    limit: Fraction | None,
) -> StepOpening:
    """Largest sphere through a step, any one unit of length.

    Parameters
    ----------
    rise, run : positive
    nosing : projection of the nosing beyond the riser face, at least 0 and less than ``run``
    tread : thickness of the nosing, at least 0 and less than ``rise``
    lift : square, from the nosing line up to the underside of the lowest member
    open_riser : no riser; the sphere may also pass between the treads
    limit : the sphere to be stopped

    Raises
    ------
    GeometryError
        The member lies too low to leave an opening.
    """
    outline, pocket = step_figure(
        {"rise": rise, "run": run, "nosing": nosing, "tread": tread, "lift": lift}, open_riser
    )
    exact = diameter(outline, pocket)
    passes = None if limit is None else exact < limit
    touches, contacts = touched_once(Found(pocket, outline, tuple(outline.name(s) for s in pocket.sites)))
    return StepOpening(
        sphere=float(exact), touches=touches, contacts=contacts, centre=pocket.centre, limit=limit, passes=passes
    )


def touched_once(found: Found) -> tuple[tuple[str, ...], tuple[tuple[float, float], ...]]:
    """Names and points touched, each once, though an edge and its own end corner both report the same point."""
    kept: dict[tuple[str, int, int], tuple[float, float]] = {}
    grain = found.pocket.diameter * 1e-7
    for name, (x, z) in zip(found.names, found.pocket.contacts, strict=True):
        kept.setdefault((name, round(x / grain), round(z / grain)), (x, z))
    return tuple(k[0] for k in kept), tuple(kept.values())
