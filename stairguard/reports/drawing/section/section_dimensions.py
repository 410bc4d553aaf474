"""Dimensions of a section: how far out the strands are, how high the lowest is, how far down the post's foot."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from stairguard.model.guard.solved_layout import Layout
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.drafting import CAP, Note, between, span
from stairguard.reports.drawing.paper.scene import Line, Part, Place, Rect, Text, View
from stairguard.reports.drawing.section.section_facts import SideSection
from stairguard.reports.words.lengths import Formatter, given_words
from stairguard.reports.words.section_words import datum_name, drop_words, out_words, strand_height_words

_FIRST: Final = 9.0
_APART: Final = 10.0
"""From the post to the first plumb dimension, and from one to the next, millimetres."""
_BEYOND: Final = 6.0
"""From a dimension to words that stand beyond its end: past an arrow head that points in from outside."""


def draw_datum(section: SideSection, view: View) -> Iterator[Line]:
    """Draw the level that heights are told from, out to the dimensions, and the edge's, where drops are."""
    x = _first_dimension(section, view)
    if section.line != section.edge:
        a = view.to_paper(-TICK / view.scale, section.line)
        if a is not None:
            yield Line("chain", (a, Place(x, a.y)), "nosing line")
    if section.line == section.edge or section.post is not None:
        a = view.to_paper(0.0, section.edge)
        reach = _APART if section.post is not None else 0.0
        if a is not None:
            yield Line("fine", (a, Place(x + reach + 1.2, a.y)), "level of the edge")


TICK: Final = 4.0


def _first_dimension(section: SideSection, view: View) -> float:
    """Where the first plumb dimension stands."""
    right = max(section.out + max(section.post_half, section.radius), section.centre[0] + section.opening.sphere / 2)
    return view.windows[0].dx + view.scale * right + _FIRST


def section_dimensions(
    layout: Layout, section: SideSection, view: View, above: Rect, room: Rect, fmt: Formatter
) -> tuple[list[Part], list[Note]]:
    """Dimension how far out the strands are, how high the lowest is, and how far down the post's foot."""
    at, exact = view.windows[0], given_words(layout.job, fmt)
    parts: list[Part] = []
    notes: list[Note] = []
    side, plane = Place(at.dx, room.bottom + 4.0), Place(at.dx + view.scale * section.out, room.bottom + 4.0)
    parts.append(Line("fine", (Place(side.x, above.bottom), Place(side.x, side.y - 1.2)), "stair's side"))
    parts += _offset(out_words(exact, layout.job.post.out), side, plane)
    x = _first_dimension(section, view)
    number, height = section.strands[0]
    low, high = sorted((height, section.line))
    strand = view.to_paper(section.out, height)
    a, b = (Place(x, at.dy + view.scale * z) for z in (low, high))
    if strand is not None:
        half = view.scale * max(section.post_half, section.radius)
        clear = strand.x + half + 2.4 + metrics.width(f"{number}", CAP)  # past the strand's number
        parts.append(Line("fine", (Place(clear, strand.y), Place(x + 1.2, strand.y)), "height of the lowest strand"))
    parts += span(a, b, "height of the lowest strand")
    told = strand_height_words(number, height - section.line, datum_name(flight=bool(section.surface.nosings)), fmt)
    middle = Place(x, (a.y + b.y) / 2)
    notes.append(Note(told, middle, Place(x + 17, b.y + 9), f"height of strand {number}", end="none"))
    if section.post is not None:
        drawn, note = _drop(section, view, x + _APART, drop_words(exact, layout.job.post.drop))
        parts += drawn
        notes += note
    return parts, notes


def _offset(words: str, side: Place, plane: Place) -> Iterator[Part]:
    """Dimension from the stair's side to the plane of the strands; the words stand beyond it where it is too short."""
    y = side.y - CAP / 2
    if metrics.width(words, CAP) + 2.0 < plane.x - side.x:
        text = Text(words, Place((side.x + plane.x) / 2, side.y + 1.0), CAP, "middle", what="offset")
    else:
        text = Text(words, Place(plane.x + _BEYOND, y), CAP, what="offset")
        yield Line("thin", (plane, Place(plane.x + _BEYOND - 0.6, plane.y)), "offset")
    yield between(side, plane, text, "offset")


def _drop(section: SideSection, view: View, x: float, words: str) -> tuple[list[Part], list[Note]]:
    """Dimension how far below the surface the post's foot is; words too long to stand along it stand aside."""
    assert section.post is not None  # asked only where one is drawn
    at, foot = view.windows[0], float(section.post.base)
    low, high = (Place(x, at.dy + view.scale * z) for z in (foot, section.edge))
    far = at.dx + view.scale * (section.out + section.post_half)
    extension = Line("fine", (Place(far + 0.8, low.y), Place(x + 1.2, low.y)), "foot of the post")
    middle = Place(x, (low.y + high.y) / 2)
    if metrics.width(words, CAP) > high.y - low.y - 1.0:
        return [extension, *span(low, high, "drop")], [
            Note((words,), middle, Place(x + 17, low.y), "drop of the post", end="none")
        ]
    text = Text(words, Place(x - 1.0, middle.y), CAP, "middle", 90.0, what="drop")
    return [between(low, high, text, "drop", (extension,))], []
