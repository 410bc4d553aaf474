"""The pockets under one sloping member over one step: in one plane with the stair, or beside it."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from stairguard.geometry.clearance.pockets import Pocket, pockets
from stairguard.solve.sphere.step_profile import Found, Member, Profile, drawn

# strands are looked for at the same heights again, and a change tried elsewhere leaves most cells as they were
_pockets = lru_cache(maxsize=4096)(pockets)


@lru_cache(maxsize=1024)
def _beside(profile: Profile, member: Member, cell: int) -> tuple[Found, ...]:
    from stairguard.solve.sphere.beside_step import ways_beside  # only where strands stand out from the stair

    return tuple(ways_beside(profile, member, cell))


def cell_pockets(profile: Profile, member: Member, cell: int) -> Iterator[Found]:
    """The pockets of one cell, largest first; of a guard beside the stair its widest way out."""
    if profile.offset:
        yield from _beside(profile, member, cell)
        return
    outline, cells = drawn(profile, member, cell)
    for pocket in _pockets(outline):
        names = tuple(outline.name(s) for s in pocket.sites)
        if _cell_of(pocket, names, cells) == cell and _over_tread(profile, pocket, cell):
            yield Found(pocket, outline, names)


def _cell_of(pocket: Pocket, names: tuple[str, ...], cells: tuple[int, ...]) -> int:
    """A pocket belongs to the tread it rests on, else to the riser or post it meets, else to its upper nosing."""
    for kinds in (("tread", "landing", "ramp"), ("riser",), ("post",)):
        for site, name in zip(pocket.sites, names, strict=True):
            if name in kinds:
                return cells[site]
    return max((cells[s] for s, name in zip(pocket.sites, names, strict=True) if name == "nosing"), default=-1)


def _over_tread(p: Profile, pocket: Pocket, cell: int) -> bool:
    """Whether the centre is over the cell's tread, between the bounding faces, not behind an open riser."""
    x, z = pocket.centre
    if p.risers is not None:
        under = p.high_foot is not None and z < p.high_foot
        if x <= p.low_face or (x >= p.high_face and not under):
            return False
    behind = p.open_risers and cell != p.risers and x > p.x(cell + 1) + p.nosing
    floor = p.z(cell)
    if p.risers is not None and cell in (0, p.risers):
        floor = min(floor, p.ground(cell, p.high_face if cell else p.low_face))
    return z > floor and not behind
