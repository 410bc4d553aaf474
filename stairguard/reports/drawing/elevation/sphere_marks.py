"""Largest spheres on an elevation: the step triangle's with its contacts, and openings that fail."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from stairguard.model.guard.guard_openings import Opening
from stairguard.model.guard.opening_kinds import Where
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.job import Unit
from stairguard.reports.drawing.elevation.sheet_breaks import Leaf
from stairguard.reports.drawing.paper.drafting import Note, unseen
from stairguard.reports.drawing.paper.scene import ACCENT, INK, Circle, Place, Rect, View
from stairguard.reports.words.drawing_words import sphere_flag
from stairguard.reports.words.opening_words import touch_words, where_words

_MOST_FLAGGED: Final = 3


def step_triangle(layout: Layout, view: View | None = None, leaf: Leaf | None = None) -> Opening | None:
    """Return the largest opening over a step; of equal ones one in view, nearest the middle of its flight."""
    found = [
        o
        for o in layout.openings
        if (leaf is None or leaf.first <= o.surface <= leaf.last)
        and layout.line.surfaces[o.surface].kind == "flight"
        and o.where.kind in ("step triangle", "over tread")
    ]
    if not found:
        return None
    worst = max(o.sphere for o in found)
    equal = [o for o in found if o.sphere >= worst * (1 - _ALIKE)]

    def wanted(opening: Opening) -> tuple[bool, float]:
        surface = layout.line.surfaces[opening.surface]
        hidden = view is not None and view.window(opening.centre[0]) is None
        return hidden, abs(opening.centre[0] - float(surface.start.s + surface.end.s) / 2)

    return min(equal, key=wanted)


_ALIKE: Final = 1e-9


def failing(layout: Layout) -> tuple[Opening, ...]:
    """List openings that fail, one of each kind, the worst against its limit first."""
    worst: dict[Where, Opening] = {}
    for opening in layout.openings:
        if opening.passes is False and opening.rule is not None:
            best = worst.setdefault(opening.where.unnumbered, opening)
            if opening.sphere_as_marked > best.sphere_as_marked:
                worst[opening.where.unnumbered] = opening
    return tuple(sorted(worst.values(), key=lambda o: -o.sphere_as_marked / float(o.rule.value if o.rule else 1)))


def mark_spheres(
    layout: Layout, view: View, unit: Unit, room: Rect, leaf: Leaf | None = None
) -> Iterator[tuple[tuple[Circle, ...], Note]]:
    """Yield circles and a note for the step triangle and each failing opening in view; circles stay in the room."""
    step = step_triangle(layout, view, leaf)
    wanted = ([step] if step is not None else []) + [
        o for o in failing(layout) if o.where.unnumbered != (step and step.where.unnumbered)
    ][:_MOST_FLAGGED]
    for opening in wanted:
        centre = view.to_paper(*opening.centre)
        if centre is None:
            continue
        what = f"largest sphere, {where_words(opening.where)}"
        note = _note(layout, opening, centre, unit, what, is_step=opening is step)
        circles = [Circle(centre, opening.sphere / 2 * view.scale, "circle", None, what)]
        for touched, contact in zip(opening.touches, opening.contacts, strict=False):
            at = view.to_paper(*contact)
            if at is not None:
                contact_with = f"contact with {touch_words(touched)}, {where_words(opening.where)}"
                circles.append(Circle(at, 0.45, None, ACCENT, contact_with))
        yield (tuple(circles), note) if all(_holds(room, c) for c in circles) else ((), unseen(note))


def _holds(room: Rect, circle: Circle) -> bool:
    """Whether a circle lies in the room: the centre of one that fails by far may be anywhere."""
    return room.inset(circle.radius).has(circle.centre)


def _note(layout: Layout, opening: Opening, centre: Place, unit: Unit, what: str, *, is_step: bool) -> Note:
    ink = ACCENT if opening.passes is False else INK
    downhill = 1.0 if layout.line.surfaces[opening.surface].slope > 0 else -1.0
    near = Place(centre.x + downhill * 22, centre.y - 18)
    return Note(sphere_flag(opening, unit, in_detail=is_step), centre, near, what, ink, "dot", "radius")
