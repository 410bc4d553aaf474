"""All that is found again of a result but its openings: the line, its pieces in space, marks and lists, in words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from tests.rebuild import line, marks, pieces
from tests.rebuild.laid import cut_off
from tests.rebuild.space import Space

Table = dict[str, Any]


def placed(job: Table, result: Table) -> Iterator[str]:
    """Surfaces, joints, feet and open ends on the line; strands, holes, rails and tops of posts in space."""
    space = Space(job, result)
    under = line.Line(job, space)
    for found in (line.surfaces, line.joints, line.feet, line.open_ends):
        yield from found(under)
    yield from pieces.strands(space, job, cut_off(job))
    yield from pieces.sleeves(space, job)
    for found in (pieces.holes, pieces.joints, pieces.rails, pieces.tops):
        yield from found(space)


def counted(job: Table, result: Table) -> Iterator[str]:
    """Marks, lists, totals, fittings and what to buy."""
    yield from marks.marked_holes(result)
    yield from marks.lists(result)
    yield from marks.totals(job, result)
    yield from marks.fittings(result)
    yield from marks.compared(job, result)
    yield from marks.stock(job, result)
