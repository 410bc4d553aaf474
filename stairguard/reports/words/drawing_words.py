"""The words on a drawing, the trade's own: surfaces and the strands over them; plumb and square always told apart."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from stairguard.model.guard.guard_openings import Opening
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Unit
from stairguard.reports.words.lengths import Formatter, degrees_words, given_words, marked


def limit_words(opening: Opening, unit: Unit) -> str:
    """Write the limit an opening answers to, or a hyphen."""
    if opening.rule is None:
        return "-"
    return marked(opening.rule.value, unit)


def first_few(names: Sequence[str], most: int) -> str:
    """Write the first few names, and how many more there are."""
    text = ", ".join(names[:most])
    return text if len(names) <= most else f"{text} and {len(names) - most} more"


def count(number: int, thing: str) -> str:
    """Write a number of things: 1 riser, 2 risers."""
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"


def surface_name(layout: Layout, surface: PlacedSurface) -> str:
    """Name a surface for its place beside the flight: lower landing, upper landing, flight."""
    if surface.kind != "landing":
        alone = sum(s.kind == surface.kind for s in layout.line.surfaces) == 1
        return surface.kind if alone else f"{surface.kind} {surface.index + 1}"
    heights = [float(s.start.z) for s in layout.line.surfaces if s.kind == "landing"]
    if len(layout.line.surfaces) == _LANDING_TO_LANDING and len(heights) == 2 and heights[0] != heights[1]:
        return "lower landing" if float(surface.start.z) == min(heights) else "upper landing"
    return f"landing {surface.index + 1}"


_LANDING_TO_LANDING: Final = 3
"""Surfaces of a line from one landing to the next, where "lower" and "upper" say which is which."""


def level_note(layout: Layout, together: Sequence[PlacedSurface], fmt: Formatter) -> tuple[str, str]:
    """Name a landing, or landings of one height one after the other, and how high they are."""
    surface = together[0]
    name = surface_name(layout, surface)
    if len(together) > 1:
        name = f"landings {surface.index + 1} to {together[-1].index + 1}"
    return name, f"elevation {fmt(surface.start.z)}"


def pitch_words(layout: Layout, surface: PlacedSurface) -> str:
    """Say the pitch of a flight or ramp."""
    return f"{surface_name(layout, surface)}: pitch {degrees_words(abs(surface.pitch_deg))}"


def parallel_note(layout: Layout, surface: PlacedSurface, fmt: Formatter) -> tuple[str, ...]:
    """Say number, size and spacing of the strands over a flight or ramp, and what they run along."""
    strands, *spacing = field_note(layout, surface, fmt)
    return f"{strands}, parallel to the {'nosing line' if surface.nosings else surface.kind}", *spacing


def field_note(layout: Layout, surface: PlacedSurface, fmt: Formatter) -> tuple[str, ...]:
    """Say number, size and, of several, spacing of the strands over a surface."""
    field = layout.fields[surface.index]
    strands = f"{count(len(field.heights), 'strand')} ⌀{given_words(layout.job, fmt)(layout.job.strand.diameter)}"
    if not field.plumb_spacing:
        return (strands,)
    square = f", {fmt(field.square_spacing)} square" if surface.slope else " and square"
    return strands, f"spacing {fmt(field.plumb_spacing)} plumb{square}"
