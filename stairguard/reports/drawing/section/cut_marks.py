"""Where sections are cut, on an elevation: a stroke over the rail and one under the stair, each with its letter."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from stairguard.model.guard.solved_layout import Layout
from stairguard.reports.drawing.elevation.sheet_breaks import Leaf
from stairguard.reports.drawing.elevation.stair_lines import drop_under
from stairguard.reports.drawing.paper.free_room import Space
from stairguard.reports.drawing.paper.scene import Line, Part, Place, Rect, Text, View
from stairguard.reports.drawing.section.section_facts import SideSection, side_sections

_CAP: Final = 3.0
_STROKE: Final = 4.0
_CLEAR: Final = 1.5
_OFF: Final = 1.2
"""Length of a stroke, and how far it is from the guard, and from its letter, millimetres."""
_APART: Final = 2.0
"""Other words keep so far from a letter: they would read as one, millimetres."""
_FARTHER: Final = (0.0, 4.0, 8.0, 12.0, 16.0)
"""How much farther off it is looked for a place that is free."""


def draw_cut_marks(layout: Layout, view: View, space: Space, leaf: Leaf) -> Iterator[Part]:
    """Mark the sections cut on a leaf, and keep words off the marks."""
    for section in side_sections(layout):
        if not leaf.first <= section.surface.index <= leaf.last:
            continue
        for z, way in ((_over(layout, section), 1.0), (_under(layout, section), -1.0)):
            at = view.to_paper(section.station, z)
            if at is not None:
                yield from _mark(section.letter, at, way, space)


def _over(layout: Layout, section: SideSection) -> float:
    """Elevation of the rail's top at a section."""
    return section.line + float(layout.rails[section.surface.index].height)


def _under(layout: Layout, section: SideSection) -> float:
    """Elevation under all that is drawn of the stair and the posts beside it."""
    return section.edge - max(drop_under(section.surface), float(layout.job.post.drop))


def _mark(letter: str, at: Place, way: float, space: Space) -> Iterator[Part]:
    for more in _FARTHER:
        near = Place(at.x, at.y + way * (_CLEAR + more))
        far = Place(at.x, near.y + way * _STROKE)
        text = Text(letter, Place(at.x, far.y + (_OFF if way > 0 else -_OFF - _CAP)), _CAP, "middle", what="section")
        box = text.bounds(_APART)
        stroke = Rect(at.x - 0.5, min(near.y, far.y), at.x + 0.5, max(near.y, far.y))
        if space.free(box) and space.free(stroke):
            space.words_at(box)
            space.words_at(stroke)
            yield Line("cut", (near, far), f"section {letter}")
            yield text
            return
