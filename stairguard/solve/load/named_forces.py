"""What would hold the pushes that publications name, whatever the job itself asks."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.strand_deflection import NamedTension, OpeningGive, Taut
from stairguard.model.job import Push, Unit
from stairguard.model.published.probe_forces import NAMED_PUSHES, NamedPush
from stairguard.solve.load.guard_deflection import under_each
from stairguard.solve.load.strand_properties import steel

_SHAPE_KNOWN = NAMED_PUSHES["australia"]
"""The one publication whose cone is known; others' are reckoned as the sphere of each opening's own limit."""


def named_tensions(layout: Layout) -> tuple[NamedTension, ...]:
    """The tension at which strands would hold each push that a publication names, sliding, in the order of those."""
    job = layout.job
    slack = Taut(steel(job.strand, job.strand.diameter, job.unit), Fraction(0), "assumed")
    pushed = [name for name in NAMED_PUSHES.values() if name.force.value]
    found = dict(zip(pushed, under_each(layout, slack, [_push(job.push, n, job.unit) for n in pushed]), strict=True))
    return tuple(_needed(name, job.unit, found.get(name)) for name in NAMED_PUSHES.values())


def _push(asked: Push, name: NamedPush, unit: Unit) -> Push:
    if name is _SHAPE_KNOWN:
        return replace(asked, force=name.force_in(unit), probe="cone", sphere=name.sphere_in(unit))
    return replace(asked, force=name.force_in(unit), probe="sphere", sphere=None)


def _needed(name: NamedPush, unit: Unit, found: tuple[OpeningGive, ...] | None) -> NamedTension:
    """Gather what each opening needs; nothing is pushed with no force."""
    if found is None:
        return NamedTension(push=name, force=name.force_in(unit), sized=True, tension=None, beyond=0)
    needed = [one.holding.needed.free for one in found if one.holding is not None and one.verdict != "turned aside"]
    untouched = sum(one.verdict == "passes untouched" and one.holding is None for one in found)
    return NamedTension(
        push=name,
        force=name.force_in(unit),
        sized=bool(found),
        tension=max((value for value in needed if value is not None), default=None),
        beyond=sum(value is None for value in needed) + untouched,
        unsolved=sum(one.verdict == "not solved" for one in found),
    )
