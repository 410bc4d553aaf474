"""What comes to a post, hole by hole: each strand that passes it, and each that ends there, and why."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple, TypeAlias

from stairguard.model.guard.passages import Ended, LineEnd, Passage, RunLimit, StrandSides
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.solve.plan import Plan
from stairguard.solve.post.positions import Stand, is_second, starts_line

BrokenRuns: TypeAlias = Mapping[int, RunLimit]
"""Numbers of the strands whose runs end at a stand though their lines pass it, each with the limit that breaks it."""


class Passing(NamedTuple):
    """Strand ``k``, counted from 0, in a hole of its own over ``surfaces``, the one before first."""

    k: int
    surfaces: tuple[PlacedSurface, ...]
    passage: Passage


def passing(plan: Plan, stand: Stand, broken: BrokenRuns) -> tuple[Passing, ...]:
    """All that comes to a stand: where its sides lie over two surfaces, what passes whole first, then each side's."""
    before, after = stand.before, stand.after
    if before is after:
        strands = range(_count(plan, before))
        return tuple(Passing(k, (before,), _of_one_surface(plan, stand, k, broken.get(k + 1))) for k in strands)
    assert stand.joint is not None  # only a joint has two surfaces
    whole = [k for k in range(plan.whole(stand.joint)) if k + 1 not in broken]
    beyond = _beyond(plan, stand.joint)
    found = [Passing(k, (before, after), Passage("both")) for k in whole]
    sides: tuple[tuple[PlacedSurface, StrandSides], ...] = (before, "before"), (after, "after")
    for surface, side in sides:
        ended = (k for k in range(_count(plan, surface)) if k not in whole)
        found += (Passing(k, (surface,), Passage(side, broken.get(k + 1) or beyond)) for k in ended)
    return tuple(found)


def _count(plan: Plan, surface: PlacedSurface) -> int:
    return len(plan.fields[surface.index].heights)


def _beyond(plan: Plan, joint: int) -> Ended:
    """Why a strand's line ends at a joint."""
    return plan.barred[joint] or "none beyond"


def _of_one_surface(plan: Plan, stand: Stand, k: int, limit: RunLimit | None) -> Passage:
    """How a strand comes to a post that holds strands of one surface only: one of a corner's two, or of no joint."""
    if limit is not None:
        return Passage("both", limit)
    if stand.joint is not None and k >= plan.whole(stand.joint):
        return Passage("after" if is_second(plan, stand) else "before", _beyond(plan, stand.joint))
    if stand.role == "end":
        ends_at: LineEnd = "last post" if stand.support == "post" else stand.support
        return Passage("after" if starts_line(plan, stand) else "before", ends_at)
    return Passage("both")
