"""A section of a guard beside the stair in lines: the stair cut, the post beyond, strands, sphere and way."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, pi, sin
from typing import Final

from stairguard.model.guard.solved_layout import Layout
from stairguard.reports.drawing.paper.clip import Pair
from stairguard.reports.drawing.paper.drafting import arrow, lines_on, shapes_on
from stairguard.reports.drawing.paper.scene import ACCENT, INK, Circle, Line, Part, Place, Polygon, Rect, View
from stairguard.reports.drawing.section.section_facts import SideSection
from stairguard.reports.words.opening_words import touch_words

_CUT: Final = "#e2e2e2"
_BEYOND: Final = "#f4f4f4"
_PAPER: Final = "#ffffff"
_ARC: Final = 24
"""Chords of half an oval."""


def draw_stair(section: SideSection, view: View, room: Rect) -> Iterator[Part]:
    """Draw what the section cuts: the surface and the stair's side below it, both going on."""
    left, low = _corner(view, room)
    solid = ((left, section.edge), (0.0, section.edge), (0.0, low), (left, low))
    yield from shapes_on(view, None, _CUT, solid, "stair", room)
    yield from lines_on(view, "cut", ((left, section.edge), (0.0, section.edge), (0.0, low)), "edge and side", room)


def _corner(view: View, room: Rect) -> Pair:
    """Lower left corner of a room in the model."""
    found = view.to_model(Place(room.left, room.bottom))
    assert found is not None  # the window is as wide as the room
    return found


def draw_beyond(section: SideSection, view: View, room: Rect) -> Iterator[Part]:
    """Draw the next step up as it is seen beyond the section."""
    if section.beyond is None:
        return
    (left, _), (foot, under, top) = _corner(view, room), section.beyond
    for low, high, what in ((foot, under, "riser, beyond"), (under, top, "board, beyond")):
        if low < high:
            shape = ((left, high), (0.0, high), (0.0, low), (left, low))
            yield from shapes_on(view, None, _BEYOND, shape, what, room)
            yield from lines_on(view, "thin", ((left, high), (0.0, high), (0.0, low), (left, low)), what, room)


def draw_post(section: SideSection, view: View, room: Rect) -> Iterator[Part]:
    """Draw the post beyond, from its foot up."""
    if section.post is None:
        return
    near, far, foot = section.out - section.post_half, section.out + section.post_half, float(section.post.base)
    top = foot + float(section.post.length)
    shape = ((near, foot), (far, foot), (far, top), (near, top))
    yield from shapes_on(view, "outline", _PAPER, shape, f"post {section.post.label}", room)


def draw_strands(section: SideSection, view: View, room: Rect) -> Iterator[Part]:
    """Draw strands as they are cut: round where they run level, tall where they slope; dashed where one is touched."""
    for number, z in section.strands:
        at = view.to_paper(section.out, z)
        if at is None or not room.inset(view.scale * section.radius).has(at):
            continue
        what = f"strand {number}"
        if section.sec == 1:
            yield Circle(at, view.scale * section.radius, None, INK, what)
        else:
            yield Polygon(tuple(_oval(section, view, at)), None, INK, what)
    touched = section.touched_strand
    if touched is not None:
        at = view.to_paper(*touched)
        if at is not None and room.has(at):
            yield Circle(at, view.scale * section.radius, "dashed", _PAPER, f"strand {section.strands[0][0]}, touched")


def _oval(section: SideSection, view: View, at: Place) -> Iterator[Place]:
    radius = view.scale * section.radius
    for k in range(2 * _ARC):
        turn = k * pi / _ARC
        yield Place(at.x + radius * cos(turn), at.y + section.sec * radius * sin(turn))


def draw_sphere(layout: Layout, section: SideSection, view: View, room: Rect) -> Iterator[Part]:
    """Draw the way, the sphere at its narrowest place, the limit about it, and its contacts."""
    centre = view.to_paper(*section.centre)
    assert centre is not None  # the view was made around it
    opening = section.opening
    yield from _way(section, view, room)
    if opening.rule is not None and ring_fits(layout, section, view, room):
        yield Circle(centre, float(opening.rule.value) / 2 * view.scale, "dashed", None, "limit")
    yield Circle(centre, opening.sphere / 2 * view.scale, "circle", None, "largest sphere")
    yield Circle(centre, 0.4, None, ACCENT, "centre of largest sphere")
    for touch, (y, z), _ in section.contacts():
        at = view.to_paper(y, z)
        if at is not None and room.has(at):
            yield Line("radius", (centre, at), f"radius to {touch_words(touch)}")
            yield Circle(at, 0.7, None, ACCENT, f"contact with {touch_words(touch)}")


def ring_fits(layout: Layout, section: SideSection, view: View, room: Rect) -> bool:
    """Whether the limit's circle lies in the picture, and is told apart from the sphere's."""
    rule, centre = section.opening.rule, view.to_paper(*section.centre)
    if rule is None or centre is None:
        return False
    ring = float(rule.value) / 2 * view.scale
    return room.inset(ring).has(centre) and abs(ring - section.opening.sphere / 2 * view.scale) > _TOLD_APART


_TOLD_APART: Final = 0.3


def _way(section: SideSection, view: View, room: Rect) -> Iterator[Part]:
    """Draw the centre's way, with an arrow head where it goes on down."""
    for line in lines_on(view, "way", section.way, "way of the centre", room):
        yield line
        yield arrow(line.points[-1], line.points[-2], "way of the centre", ACCENT)
