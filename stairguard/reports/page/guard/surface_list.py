"""The page's first part: surfaces, rail and strands over them; alike surfaces said once."""

from __future__ import annotations

from collections.abc import Sequence

from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.reports.page.page_text import heading, listed, paragraph, paragraphs, table
from stairguard.reports.words.grouping import groups
from stairguard.reports.words.lengths import Figures, degrees_words
from stairguard.reports.words.lists.surface_words import (
    field_words,
    line_words,
    rails_words,
    remarks_words,
    steps_words,
    strands_words,
    under_rail_words,
)
from stairguard.reports.words.names import counted_surface, repeats, surface_names, surface_series, surfaces_text


def surface_list(layout: Layout, figures: Figures) -> list[str]:
    """List the surfaces: where each starts and ends, its pitch, turn and steps."""
    names, found = surface_names(layout), surface_series(layout)
    rows = [
        [
            counted_surface(one.first.index, one.first.kind),
            figures.tape(one.first.edge_start.s),
            figures.tape(one.first.edge_end.s),
            figures.tape(one.first.start.z),
            figures.tape(one.first.end.z),
            degrees_words(one.first.pitch_deg),
            remarks_words(one),
        ]
        for one in found
    ]
    head = ["surface", "from station", "to station", "elevation", "to elevation", "pitch", "remarks"]
    return [
        *heading("NOSING LINE"),
        *paragraph(line_words(layout)),
        *_without_empty(head, rows),
        *listed(repeats(found, 1, lambda members: surfaces_text(layout, (s.index for s in members)), figures)),
        *paragraphs(words for one in found for words in steps_words(one, names, figures)),
    ]


def _without_empty(head: Sequence[str], rows: Sequence[Sequence[str]]) -> list[str]:
    """Write a table whose last column is left out where it says nothing."""
    if any(row[-1] for row in rows):
        return table(head, rows, words=True)
    return table(head[:-1], [row[:-1] for row in rows])


def rail_list(layout: Layout, figures: Figures) -> list[str]:
    """List the rail's heights over every surface, those alike together."""

    def key(surface: PlacedSurface) -> tuple[object, ...]:
        rail = layout.rails[surface.index]
        return surface.kind, surface.carries, rail.height, rail.underside

    rows = []
    for same in groups(layout.line.surfaces, key):
        rail = layout.rails[same[0].index]
        rows.append([figures.tape(rail.height), figures.tape(rail.underside), under_rail_words(layout, same)])
    return [
        *heading("RAIL"),
        *paragraph(rails_words(layout, figures)),
        *table(["top, plumb", "underside, plumb", "over"], rows, left=0, words=True),
    ]


def strand_list(layout: Layout, figures: Figures) -> list[str]:
    """List the strands' heights and spacings over every surface that has its own, those alike together."""
    own = [field for field in layout.fields if field.heights]
    kinds = groups(own, lambda field: (layout.line.surfaces[field.surface].kind, field.heights, field.square_spacing))
    return [
        *heading("STRANDS"),
        *paragraph(strands_words(layout, figures)),
        *listed(field_words(same, layout, figures) for same in kinds),
    ]
