"""Surfaces, and rail and strands over them, in English: how their figures are read, and what is remarked of each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from stairguard.model.guard.rails_and_strands import Field
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Flight, MeasuredFlight
from stairguard.reports.words.grouping import Series
from stairguard.reports.words.lengths import Figures, stated, turned_words
from stairguard.reports.words.names import rail_section, surfaces_text


def line_words(layout: Layout) -> str:
    """From where stations and elevations are measured, and which way pitches count."""
    turned = " The line is unrolled at its turns." if any(s.given.turn for s in layout.line.surfaces) else ""
    if any(s.ahead or s.past for s in layout.line.surfaces):
        turned += " Each surface is told from where it starts to where it ends itself, beside the guard's line."
    return (
        "Stations are level from the start of surface 1; elevations plumb from there. Pitch is positive where "
        f"stations climb.{turned}"
    )


def remarks_words(one: Series[PlacedSurface]) -> str:
    """What is remarked of a surface, and how many there are like it."""
    return "; ".join(_remarks(one))


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


def steps_words(one: Series[PlacedSurface], names: Mapping[int, str], figures: Figures) -> Iterator[str]:
    """The steps of a flight, and of those like it; of another surface nothing."""
    flight, surface = one.first.given, one.first
    if not isinstance(flight, Flight | MeasuredFlight):
        return
    risers = "open" if flight.open_risers else "closed"
    name = f"{names[surface.index]}{_and_others(one)}, {'down' if flight.down else 'up'}"
    if isinstance(flight, Flight):
        rise, run = figures.tape(flight.rise), figures.tape(flight.run)
        steps = f"{flight.risers} {risers} risers of {rise} plumb, run {run} level"
    else:
        steps = f"{len(flight.nosings)} {risers} risers as measured (see MEASURED FLIGHTS)"
    yield (
        f"{name[0].upper()}{name[1:]}: {steps}, nosing projection {figures.tape(flight.nosing)}, tread "
        f"{figures.tape(flight.tread)} thick."
    )


def _and_others(one: Series[PlacedSurface]) -> str:
    others = len(one.members) - 1
    return f" and {others} alike" if others else ""


def rails_words(layout: Layout, figures: Figures) -> str:
    """The rail's section, and from where its heights are measured."""
    return (
        f"Section {rail_section(layout, figures)}: depth square to the rail, width level across it. Heights "
        "plumb, above the nosing line on a flight and above the surface on a landing or ramp."
    )


def under_rail_words(layout: Layout, same: Sequence[PlacedSurface]) -> str:
    """Over which surfaces a rail has its heights, and whether it is one of their own."""
    words = surfaces_text(layout, (surface.index for surface in same))
    return words if same[0].carries else f"{words}: no rail of its own, the least heights of its neighbours' over it"


def strands_words(layout: Layout, figures: Figures) -> str:
    """The strand, and how its heights and spacings are measured."""
    low = any(field.heights and field.heights[-1] < 0 for field in layout.fields)
    below = ", or below it where that is said" if low else ""
    out = layout.job.post.out
    beside = f" All stand {figures.tape(out)} level out from the side of the stair." if out else ""
    return (
        f"Strand {figures.decimal(layout.job.strand.diameter)} {figures.unit} in diameter, numbered from "
        f"the rail down. Centres plumb above the nosing line or surface{below}. Holes are spaced plumb.{beside}"
    )


def field_words(same: Sequence[Field], layout: Layout, figures: Figures) -> str:
    """How many strands there are over surfaces that are alike, how they are spaced, and where their centres are."""
    field, names = same[0], surfaces_text(layout, (each.surface for each in same))
    heights = ", ".join(figures.above(height) for height in field.heights)
    if len(field.heights) == 1:
        return f"{names}: 1 strand. Centre: {heights}."
    return (
        f"{names}: {len(field.heights)} strands, plumb spacing {figures.tape(field.plumb_spacing)} "
        f"({figures.decimal(field.plumb_spacing)}), square spacing {figures.tape(field.square_spacing)} "
        f"({figures.decimal(field.square_spacing)}). Centres: {heights}."
    )
