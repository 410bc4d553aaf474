"""Which stretch of a guard line each sheet shows: broken at joint posts, alike stretches drawn once."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator
from dataclasses import dataclass, replace

from stairguard.model.guard.rail_joints import Joint
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Flight, MeasuredFlight

_MARGIN = 1.5
"""How far a leaf runs on past the centre of the joint post it is broken at, in post widths."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """Surfaces ``first`` to ``last``, by index, drawn from station ``start`` to ``end``.

    ``number`` is its sheet's, from 1. ``before`` and ``after`` are the labels of the joint posts it is broken at, with
    the number of the sheet that shows what lies beyond; None at an end of the line. ``twins`` are the first and last
    surfaces of other stretches that are alike in all but their places, and drawn here.
    """

    first: int
    last: int
    start: float
    end: float
    number: int = 1
    before: tuple[str, int] | None = None
    after: tuple[str, int] | None = None
    twins: tuple[tuple[int, int], ...] = ()

    def of(self, layout: Layout) -> tuple[PlacedSurface, ...]:
        """Its surfaces."""
        return layout.line.surfaces[self.first : self.last + 1]

    def around(self, layout: Layout) -> tuple[PlacedSurface, ...]:
        """Its surfaces and the one before and after them."""
        return layout.line.surfaces[max(self.first - 1, 0) : self.last + 2]

    def shows(self, joint: Joint) -> bool:
        """Whether a joint is on it; the one where the line closes is at its end."""
        if joint.closes:
            return joint.between[0] <= self.last
        return joint.between[1] >= self.first and joint.between[0] <= self.last


def whole_line(layout: Layout) -> Leaf:
    """All of a line on one sheet; a top step that the line starts or ends on with its riser."""
    surfaces = layout.line.surfaces
    first, last = surfaces[0], surfaces[-1]
    before = _projection(first) if first.slope < 0 else 0.0
    after = _projection(last) if last.slope > 0 else 0.0
    return Leaf(first=0, last=len(surfaces) - 1, start=float(first.start.s) - before, end=float(last.end.s) + after)


def _projection(surface: PlacedSurface) -> float:
    """How far a flight's nosings project from their risers; zero on a landing or ramp."""
    return float(surface.given.nosing) if isinstance(surface.given, Flight | MeasuredFlight) else 0.0


def leaves(layout: Layout, fits: Callable[[Leaf], bool]) -> tuple[Leaf, ...]:
    """Break a line into leaves, each as long as ``fits`` lets it be and at least from one joint to the next.

    A line of one landing, one flight and one landing, or less, is never broken. Alike leaves are given once.
    """
    whole = whole_line(layout)
    if len(layout.joints) <= _FEW_JOINTS or fits(whole):
        return (whole,)
    cut = list(_broken(layout, fits))
    kept: dict[Hashable, int] = {}
    sheet: dict[int, int] = {}
    for i, leaf in enumerate(cut):
        key = _likeness(layout, leaf)
        sheet[i] = kept.setdefault(key, len(kept) + 1)
    shown: dict[int, Leaf] = {}
    for i, leaf in enumerate(cut):
        number = sheet[i]
        if number in shown:
            twins = (*shown[number].twins, (leaf.first, leaf.last))
            shown[number] = replace(shown[number], twins=twins)
            continue
        before = (leaf.before[0], sheet[i - 1]) if leaf.before else None
        after = (leaf.after[0], sheet[i + 1]) if leaf.after else None
        shown[number] = replace(leaf, number=number, before=before, after=after)
    return tuple(shown.values())


_FEW_JOINTS = 2


def _broken(layout: Layout, fits: Callable[[Leaf], bool]) -> Iterator[Leaf]:
    """Leaves from the start of the line, each as long as fits."""
    joints = (None, *(joint for joint in layout.joints if not joint.closes), None)
    at = 0
    while at + 1 < len(joints):
        end = at + 1
        leaf = _leaf(layout, joints[at], joints[end])
        while end + 1 < len(joints) and fits(longer := _leaf(layout, joints[at], joints[end + 1])):
            end, leaf = end + 1, longer
        yield leaf
        at = end


def _leaf(layout: Layout, before: Joint | None, after: Joint | None) -> Leaf:
    """From one joint to another, or to an end of the line."""
    surfaces, margin = layout.line.surfaces, _MARGIN * float(layout.job.post.width)
    whole = whole_line(layout)
    first = 0 if before is None else before.between[0] + 1
    last = len(surfaces) - 1 if after is None else after.between[1] - 1
    return Leaf(
        first=first,
        last=last,
        start=whole.start if before is None else max(float(before.station) - margin, whole.start),
        end=whole.end if after is None else min(float(after.station) + margin, whole.end),
        number=1,
        before=None if before is None else (before.post, 0),
        after=None if after is None else (after.post, 0),
    )


def _likeness(layout: Layout, leaf: Leaf) -> Hashable:
    """All that is drawn of a leaf, but its place and labels."""
    surfaces = leaf.of(layout)
    start = surfaces[0].start
    parts: list[Hashable] = [leaf.before is None, leaf.after is None]
    for s in leaf.around(layout):
        rail, field = layout.rails[s.index], layout.fields[s.index]
        parts.append((s.kind, s.start.s - start.s, s.start.z - start.z, s.end.s - start.s, s.slope, s.given.turn))
        parts.append(
            (rail.height, rail.underside, field.heights, tuple((p.s - start.s, p.z - start.z) for p in s.nosings))
        )
    parts += (
        (p.role, p.station - start.s, p.base - start.z, p.length, len(p.holes), p.bevels_deg)
        for p in layout.along
        if leaf.start <= p.station <= leaf.end
    )
    parts += (
        (j.station - start.s, j.jog, j.mitred, j.through, sum(x.whole for x in j.strands))
        for j in layout.joints
        if leaf.shows(j)
    )
    return tuple(parts)
