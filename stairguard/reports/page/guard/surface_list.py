"""The page's first part: surfaces, rail and strands over them; alike surfaces said once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stairguard.model.guard.rails_and_strands import Field
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Flight, MeasuredFlight
from stairguard.reports.page.page_text import heading, listed, paragraph, table
from stairguard.reports.words.grouping import Series, groups
from stairguard.reports.words.lengths import Figures, degrees_words, stated, turned_words
from stairguard.reports.words.names import rail_section, repeats, surface_names, surface_series, surfaces_text


def surface_list(layout: Layout, figures: Figures) -> list[str]:
    """List the surfaces: where each starts and ends, its pitch, turn and steps."""
    names, found = surface_names(layout), surface_series(layout)
    rows = [
        [
            f"{one.first.index + 1} ({one.first.kind})",
            figures.tape(one.first.start.s),
            figures.tape(one.first.end.s),
            figures.tape(one.first.start.z),
            figures.tape(one.first.end.z),
            degrees_words(one.first.pitch_deg),
            "; ".join(_remarks(one)),
        ]
        for one in found
    ]
    turned = " The line is unrolled at its turns." if any(s.given.turn for s in layout.line.surfaces) else ""
    head = ["surface", "from station", "to station", "elevation", "to elevation", "pitch", "remarks"]
    return [
        *heading("NOSING LINE"),
        *paragraph(
            "Stations are level from the start of surface 1; elevations plumb from there. Pitch is positive where "
            f"stations climb.{turned}"
        ),
        *_without_empty(head, rows),
        *listed(repeats(found, 1, lambda members: surfaces_text(layout, (s.index for s in members)), figures)),
        *(line for one in found for line in _steps(one, names, figures)),
    ]


def _without_empty(head: Sequence[str], rows: Sequence[Sequence[str]]) -> list[str]:
    """Write a table whose last column is left out where it says nothing."""
    if any(row[-1] for row in rows):
        return table(head, rows, words=True)
    return table(head[:-1], [row[:-1] for row in rows])


def _remarks(one: Series[PlacedSurface]) -> Iterator[str]:
    surface, turn = one.first, one.first.given.turn
    if turn:
        yield f"turn {turned_words(turn)} at its start"
    if surface.kind == "ramp" and surface.slope:
        yield f"1 in {stated(abs(1 / surface.slope))}"
    if not surface.carries:
        yield "no level piece of rail"
    if len(one.members) > 1:
        yield f"{len(one.members)} alike"


def _steps(one: Series[PlacedSurface], names: dict[int, str], figures: Figures) -> list[str]:
    flight, surface = one.first.given, one.first
    if not isinstance(flight, Flight | MeasuredFlight):
        return []
    risers = "open" if flight.open_risers else "closed"
    name = f"{names[surface.index]}{_and_others(one)}, {'down' if flight.down else 'up'}"
    if isinstance(flight, Flight):
        rise, run = figures.tape(flight.rise), figures.tape(flight.run)
        steps = f"{flight.risers} {risers} risers of {rise} plumb, run {run} level"
    else:
        steps = f"{len(flight.nosings)} {risers} risers as measured (see MEASURED FLIGHTS)"
    return paragraph(
        f"{name[0].upper()}{name[1:]}: {steps}, nosing projection {figures.tape(flight.nosing)}, tread "
        f"{figures.tape(flight.tread)} thick."
    )


def _and_others(one: Series[PlacedSurface]) -> str:
    others = len(one.members) - 1
    return f" and {others} alike" if others else ""


def rail_list(layout: Layout, figures: Figures) -> list[str]:
    """List the rail's heights over every surface, those alike together."""

    def key(surface: PlacedSurface) -> tuple[object, ...]:
        rail = layout.rails[surface.index]
        return surface.kind, surface.carries, rail.height, rail.underside

    rows = []
    for same in groups(layout.line.surfaces, key):
        rail = layout.rails[same[0].index]
        words = surfaces_text(layout, (surface.index for surface in same))
        if not same[0].carries:
            words += ": no rail of its own, the least heights of its neighbours' over it"
        rows.append([figures.tape(rail.height), figures.tape(rail.underside), words])
    return [
        *heading("RAIL"),
        *paragraph(
            f"Section {rail_section(layout, figures)}: depth square to the rail, width level across it. Heights "
            "plumb, above the nosing line on a flight and above the surface on a landing or ramp."
        ),
        *table(["top, plumb", "underside, plumb", "over"], rows, left=0, words=True),
    ]


def strand_list(layout: Layout, figures: Figures) -> list[str]:
    """List the strands' heights and spacings over every surface that has its own, those alike together."""
    own = [field for field in layout.fields if field.heights]
    kinds = groups(own, lambda field: (layout.line.surfaces[field.surface].kind, field.heights, field.square_spacing))
    return [
        *heading("STRANDS"),
        *paragraph(
            f"Strand {figures.decimal(layout.job.strand.diameter)} {figures.unit} in diameter, numbered from "
            "the rail down. Centres plumb above the nosing line or surface. Holes are spaced plumb."
        ),
        *listed(_strands(same, layout, figures) for same in kinds),
    ]


def _strands(same: Sequence[Field], layout: Layout, figures: Figures) -> str:
    field, names = same[0], surfaces_text(layout, (each.surface for each in same))
    heights = ", ".join(figures.tape(height) for height in field.heights)
    if len(field.heights) == 1:
        return f"{names}: 1 strand. Centre: {heights}."
    return (
        f"{names}: {len(field.heights)} strands, plumb spacing {figures.tape(field.plumb_spacing)} "
        f"({figures.decimal(field.plumb_spacing)}), square spacing {figures.tape(field.square_spacing)} "
        f"({figures.decimal(field.square_spacing)}). Centres: {heights}."
    )
