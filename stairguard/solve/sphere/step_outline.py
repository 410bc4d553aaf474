"""The outline at one step with the pocket of its largest sphere, as drawings and sensitivities take it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import hypot

from stairguard.errors import Fault, GeometryError
from stairguard.geometry.clearance.outline import Edge, Outline, Vec
from stairguard.geometry.clearance.pockets import Pocket, compare
from stairguard.relations.printed.by_slope import plumb_of_square
from stairguard.solve.sphere.step_pockets import cell_pockets
from stairguard.solve.sphere.step_profile import Found, Member, Profile


def step_figure(step: Mapping[str, Fraction], open_riser: bool) -> Found:
    """The outline at one step, the pocket of its largest sphere, and what that touches.

    Where the sphere between two treads of an open stair is the largest, those two surfaces alone.

    Parameters
    ----------
    step : rise, run, nosing, tread and lift, any one unit, and of a member beside the stair offset and strand_diameter;
        see `stairguard.solve.sphere.step_opening.step_opening`

    Raises
    ------
    GeometryError
        The member lies too low to leave an opening.
    """
    found = step_pockets(step, open_riser)
    if not throat_governs(step, open_riser, found):
        if not found:
            raise GeometryError(Fault("lift", "high enough to leave an opening over the tread", float(step["lift"])))
        return found[0]
    gap, front, back = step["rise"] - step["tread"], step["run"], step["run"] + step["nosing"]
    tread = Edge(Vec(Fraction(0), Fraction(0)), Vec(back, Fraction(0)), "tread")
    board = Edge(Vec(front + back, gap), Vec(front, gap), "nosing")
    x = float(front + back) / 2
    ends = ((float(front), float(gap) / 2), (float(back), float(gap) / 2))
    contacts = ((x, 0.0), (x, float(gap)))
    throat = Pocket(float(gap), (x, float(gap) / 2), (0, 1), contacts, ends)
    return Found(throat, Outline((tread, board), ()), ("tread", "nosing"))


def step_pockets(step: Mapping[str, Fraction], open_riser: bool) -> list[Found]:
    """All pockets at one step, largest first; not what is between two treads."""
    return list(cell_pockets(*step_profile(step, open_riser), 1))


def step_profile(step: Mapping[str, Fraction], open_riser: bool) -> tuple[Profile, Member]:
    """Equal steps without end, and the member over them, or beside them where there is an ``offset``."""
    offset, radius = step.get("offset", Fraction(0)), step.get("strand_diameter", Fraction(0)) / 2
    profile = Profile(
        rise=step["rise"],
        run=step["run"],
        nosing=step["nosing"],
        tread=step["tread"],
        open_risers=open_riser,
        offset=offset,
    )
    if not offset:
        return profile, Member("member", Fraction(0), -step["lift"])
    sec = Fraction(hypot(1.0, profile.slope))
    return profile, Member("member", plumb_of_square(step["lift"] + radius, sec), radius)


def throat_governs(step: Mapping[str, Fraction], open_riser: bool, found: Sequence[Found]) -> bool:
    """Whether no pocket is larger than the sphere between two treads of an open stair."""
    throat = step["rise"] - step["tread"]
    return open_riser and (not found or compare(found[0].outline, found[0].pocket, throat) <= 0)
