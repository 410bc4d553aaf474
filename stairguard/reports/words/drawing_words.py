"""The words on a drawing, the trade's own: surfaces and the strands over them; plumb and square always told apart."""

from __future__ import annotations

from collections.abc import Container, Mapping, Sequence
from fractions import Fraction
from typing import Final, Literal

from stairguard.model.guard.guard_openings import Opening
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Unit
from stairguard.reports.words.lengths import (
    Formatter,
    degrees_words,
    diameter_words,
    exact_words,
    given_words,
    marked,
    sphere_words,
)
from stairguard.reports.words.opening_words import touch_words, where_words
from stairguard.reports.words.rules.verdict_words import FAILS

_SIGNS: Final[Mapping[str, str]] = {"flight": "flight: ticks", "ramp": "ramp: arrow alone"}


def sphere_flag(opening: Opening, unit: Unit, *, in_detail: bool) -> tuple[str, ...]:
    """Say beside a largest sphere which opening it is of, and what comes of it; ``in_detail`` it is drawn again."""
    limit = None if opening.rule is None else float(opening.rule.value)
    name = where_words(opening.where.unnumbered if in_detail else opening.where)
    first = f"{name}: sphere ⌀{sphere_words(opening.sphere, limit, unit)}"
    verdict = "" if opening.rule is None else f"limit {limit_words(opening, unit)}"
    if opening.passes is False:
        verdict = f"{FAILS}, {verdict}"
    if opening.leave is not None:
        verdict = f"by leave of a low edge, {verdict}"
    if in_detail:
        verdict = f"{verdict}; see detail" if verdict else "see detail"
    return (first, verdict) if verdict else (first,)


def sphere_lines(opening: Opening, unit: Unit, *, dashed: bool) -> tuple[str, ...]:
    """Say all of an opening's largest sphere, a fact a line; ``dashed`` where the limit's is drawn about it."""
    limit = None if opening.rule is None else float(opening.rule.value)
    designed, as_marked = (sphere_words(d, limit, unit) for d in (opening.sphere, opening.sphere_as_marked))
    lines = [f"largest sphere ⌀{designed}"]
    if as_marked != designed:
        lines.append(f"as marked ⌀{as_marked}")
    if opening.rule is not None:
        lines.append(_ring_words(limit_words(opening, unit), dashed=dashed))
    lines.append(f"touches {', '.join(map(touch_words, opening.touches))}")
    if opening.passes is False:
        lines.append(FAILS)
    if opening.leave is not None:
        lines.append("larger by leave of a low edge")
    return tuple(lines)


def lone_sphere_lines(
    diameter: float, limit: Fraction | None, unit: Unit, *, apart: bool, dashed: bool
) -> tuple[str, ...]:
    """Say the largest sphere of an opening by itself, and its limit; ``apart`` where the two differ, however little."""
    bound = None if limit is None or not apart else float(limit)
    first = f"largest sphere ⌀{diameter_words(diameter, bound, unit)}"
    return (first,) if limit is None else (first, _ring_words(exact_words(limit, unit), dashed=dashed))


def _ring_words(size: str, *, dashed: bool) -> str:
    return f"limit ⌀{size}{', dashed' if dashed else ''}"


def step_title(opening: Opening, step: int) -> str:
    """Title the view of one step."""
    return f"{where_words(opening.where.unnumbered)}, step {step}".upper()


def spacing_words(spacing: float | Fraction, way: Literal["plumb", "square"], fmt: Formatter) -> tuple[str, str]:
    """Say how far apart strands are, and measured which way, in two lines."""
    return "spacing", f"{fmt(spacing)} {way}"


def lift_words(lift: float, fmt: Formatter) -> tuple[str, str]:
    """Say how far the lowest strand stands over the nosing line, or under it, in two lines."""
    if lift < 0 and fmt(lift) != fmt(0.0):
        return "under nosing line", f"{fmt(-lift)} square"
    return "lift", f"{fmt(lift)} square"


def signs_words(kinds: Container[str]) -> list[str]:
    """Say how kinds of surfaces are drawn on a plan key."""
    said = [words for kind, words in _SIGNS.items() if kind in kinds]
    return [f"{'; '.join([*said, 'arrows uphill'])}."] if said else []


def edge_words(layout: Layout) -> list[str]:
    """Say how the stair's edge is drawn on a plan key where the guard stands out from it."""
    apart = any(surface.aside for surface in layout.line.surfaces)
    return ["thin, beside the guard: the stair's edge."] if apart else []


def left_off_words(drawn: int, of: int) -> list[str]:
    """Say which surfaces are not drawn, where the first so many are."""
    if drawn == of:
        return []
    if drawn + 1 == of:
        return [f"And so on, 1 surface: {of}."]
    return [f"And so on, {of - drawn} surfaces: {drawn + 1} to {of}."]


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
