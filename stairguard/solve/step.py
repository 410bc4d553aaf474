"""The opening between two treads and the lowest member: the step triangle, by its true outline."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from stairguard.errors import Fault, GeometryError
from stairguard.geometry.pockets import compare, diameter
from stairguard.solve.profile import Found, Member, Profile, cell_pockets

__all__ = ["StepOpening", "step_opening", "touched_once"]


@dataclass(frozen=True, slots=True)
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
    profile = Profile(rise, run, nosing, tread, open_riser)
    member = Member("member", Fraction(0), -lift)
    found = next(cell_pockets(profile, member, 1), None)
    throat = rise - tread
    if open_riser and (found is None or compare(found.outline, found.pocket, throat) <= 0):
        return _throat(rise, run, nosing, tread, limit)
    if found is None:
        raise GeometryError(Fault("lift", "high enough to leave an opening over the tread", float(lift)))
    exact = diameter(found.outline, found.pocket)
    passes = None if limit is None else exact < limit
    touches, contacts = touched_once(found)
    return StepOpening(float(exact), touches, contacts, found.pocket.centre, limit, passes)


def _throat(rise: Fraction, run: Fraction, nosing: Fraction, tread: Fraction, limit: Fraction | None) -> StepOpening:
    """Between two treads of an open stair: as wide where they overlap, or from back edge to front edge."""
    gap = rise - tread
    x = float(run + nosing / 2)
    passes = None if limit is None else gap < limit
    contacts = ((x, 0.0), (x, float(gap)))
    return StepOpening(float(gap), ("tread", "nosing"), contacts, (x, float(gap) / 2), limit, passes)


def touched_once(found: Found) -> tuple[tuple[str, ...], tuple[tuple[float, float], ...]]:
    """Names and points touched, each once, though an edge and its own end corner both report the same point."""
    kept: dict[tuple[str, int, int], tuple[float, float]] = {}
    grain = found.pocket.diameter * 1e-7
    for name, (x, z) in zip(found.names, found.pocket.contacts, strict=True):
        kept.setdefault((name, round(x / grain), round(z / grain)), (x, z))
    return tuple(k[0] for k in kept), tuple(kept.values())
