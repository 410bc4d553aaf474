"""What surfaces and pieces are called in text: as a reader counts them, from 1; alike ones together."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from fractions import Fraction
from typing import TypeVar

from stairguard.model.guard.guard_openings import Opening
from stairguard.model.guard.pieces import StrandPiece
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.reports.words.grouping import Series, SeriesPlace, groups, in_steps, series
from stairguard.reports.words.lengths import Figures
from stairguard.reports.words.opening_words import where_words

T = TypeVar("T")


def numbered(numbers: Iterable[int]) -> str:
    """Write whole numbers in order, each once, a row of three or more by its ends: ``1, 4 to 7``."""
    rows: list[list[int]] = []
    for number in sorted(set(numbers)):
        if rows and number == rows[-1][-1] + 1:
            rows[-1].append(number)
        else:
            rows.append([number])
    return ", ".join(f"{row[0]} to {row[-1]}" if len(row) > 2 else ", ".join(map(str, row)) for row in rows)


def surface_names(layout: Layout) -> dict[int, str]:
    """Name surfaces as a reader counts them."""
    return {s.index: f"surface {number} ({s.kind})" for number, s in enumerate(layout.line.surfaces, 1)}


def counted_surface(index: int, kind: str) -> str:
    """A surface by its number, counted from 1, and its kind, where the table says that it is one."""
    return f"{index + 1} ({kind})"


def others_words(same: Sequence[object]) -> str:
    """How many more there are like the first of what is told together; "" where it is alone."""
    return f" and {len(same) - 1} like it" if len(same) > 1 else ""


def surfaces_words(numbers: Iterable[int]) -> str:
    """Surfaces by their numbers, counted from 1."""
    found = sorted(set(numbers))
    return f"surface{'s' if len(found) > 1 else ''} {in_steps(found)}"


def surfaces_text(layout: Layout, indices: Iterable[int]) -> str:
    """Name several surfaces: ``surfaces 2, 4 (flight), 3 (landing)``."""
    found = sorted(set(indices))
    kinds = groups(found, lambda index: layout.line.surfaces[index].kind)
    texts = (f"{in_steps(i + 1 for i in kind)} ({layout.line.surfaces[kind[0]].kind})" for kind in kinds)
    return f"surface{'s' if len(found) > 1 else ''} {', '.join(texts)}"


def alike_openings_words(layout: Layout, same: Sequence[Opening]) -> str:
    """Where openings that are told together are: as of the first, with the surfaces of all where there are several."""
    surfaces = {each.surface for each in same}
    also = f", on {surfaces_text(layout, surfaces)}" if len(surfaces) > 1 else ""
    return f"{surface_names(layout)[same[0].surface]}: {where_words(same[0].where)}{others_words(same)}{also}"


def piece_name(piece: StrandPiece) -> str:
    """Name a piece of a strand: ``7 (P1-P5)``."""
    return f"{piece.strand} ({'-'.join(piece.posts)})"


def rail_section(layout: Layout, figures: Figures) -> str:
    """Write the rail's section: depth, square to the rail, by width."""
    return f"{figures.tape(layout.job.rail.depth)} x {figures.tape(layout.job.rail.width)}"


def surface_series(layout: Layout) -> list[Series[PlacedSurface]]:
    """Surfaces alike in all but their places, together where each follows the last by one step."""

    def key(surface: PlacedSurface) -> Hashable:
        rail, field = layout.rails[surface.index], layout.fields[surface.index]
        return surface.given, surface.ahead, surface.past, rail.height, rail.underside, field.heights

    def place(surface: PlacedSurface) -> SeriesPlace:
        return surface.index, surface.start.s, surface.start.z

    return series(layout.line.surfaces, key, place)


def repeats(
    found: Sequence[Series[T]], level: int, name: Callable[[Sequence[T]], str], figures: Figures
) -> Iterator[str]:
    """Say of every series how many there are and how far apart, those of one step together.

    ``level`` is the place in their steps of the level distance; the plumb one follows it.
    """
    several = [one for one in found if len(one.members) > 1]
    for same in groups(several, lambda one: one.step[level:]):
        texts = "; ".join(f"{name(one.members)}, {len(one.members)} in all" for one in same)
        yield f"Alike, {_farther(figures, *same[0].step[level:])}: {texts}."


def _farther(figures: Figures, level: Fraction | int, plumb: Fraction | int) -> str:
    up = "higher" if plumb >= 0 else "lower"
    rise = f" and {figures.given(abs(Fraction(plumb)))} plumb {up}" if plumb else ""
    return f"each {figures.given(level)} level farther on{rise} than the one before"
