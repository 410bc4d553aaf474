"""Rail heights, pitch, post labels and break lines on an elevation."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import atan2, cos, degrees, hypot, radians, sin
from typing import Final

from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import MeasuredFlight
from stairguard.reports.drawing.elevation.sheet_breaks import Leaf
from stairguard.reports.drawing.elevation.stair_lines import datum, drop_under
from stairguard.reports.drawing.paper.drafting import CAP, Note, between, span
from stairguard.reports.drawing.paper.free_room import Space
from stairguard.reports.drawing.paper.scene import Arc, Dimension, Line, Part, Place, Rect, Text, View
from stairguard.reports.words.drawing_words import count
from stairguard.reports.words.lengths import Formatter, degrees_words, given_words

_OUT: Final = 6.0
_TICK: Final = 1.0


def landing_height(
    layout: Layout, view: View, space: Space, fmt: Formatter, surface: PlacedSurface, *, left: bool
) -> tuple[Dimension, ...]:
    """Dimension the rail's plumb height over the outer end, in view, of a sheet's first (``left``) or last surface."""
    rail, index = layout.rails[surface.index], surface.index
    s = max(float(surface.start.s), view.windows[0].first) if left else min(float(surface.end.s), view.windows[-1].last)
    foot = view.to_paper(s, datum(surface, s))
    head = view.to_paper(s, datum(surface, s) + float(rail.height))
    if foot is None or head is None or not surface.carries:
        return ()
    side = -1.0 if left else 1.0
    window, edge = (view.windows[0], view.windows[0].first) if left else (view.windows[-1], view.windows[-1].last)
    x = _beside(foot.x, window.dx + view.scale * edge, side)
    what = f"rail height over surface {index + 1}"
    extensions = tuple(
        Line("fine", (Place(p.x + side * _TICK, p.y), Place(x + side * _TICK, p.y)), what) for p in (foot, head)
    )
    words = f"{given_words(layout.job, fmt)(rail.height)} plumb"
    at = Place(x - 1.2 if left else x + 1.2 + CAP, (foot.y + head.y) / 2)
    text = Text(words, at, CAP, "middle", 90.0, box=True, what=what)
    space.words_at(text.bounds())
    return (between(Place(x, foot.y), Place(x, head.y), text, what, extensions),)


def _beside(foot: float, edge: float, side: float) -> float:
    """Where a dimension line stands: out from its foot, or from the edge of what is drawn if that is near."""
    return (edge if abs(edge - foot) < _OUT else foot) + side * _OUT


def nosing_height(layout: Layout, view: View, fmt: Formatter, leaf: Leaf) -> tuple[tuple[Part, ...], tuple[Note, ...]]:
    """Dimension the rail's plumb height over a nosing, once for flights of one height; its words go over the rail."""
    parts: list[Part] = []
    notes: list[Note] = []
    said: set[Fraction] = set()
    for surface in leaf.of(layout):
        rail = layout.rails[surface.index]
        if rail.height in said or not any(view.window(float(p.s)) is not None for p in surface.nosings):
            continue
        number, s, z = _clear_nosing(layout, surface, view)
        over = datum(surface, s) - z  # a measured nosing lies under the straightedge
        high = fmt(over + float(rail.height))
        if not isinstance(surface.given, MeasuredFlight):
            high = given_words(layout.job, fmt)(rail.height)
            said.add(rail.height)
        foot, head = view.to_paper(s, z), view.to_paper(s, z + over + float(rail.height))
        assert foot is not None  # the nosing was chosen in view
        assert head is not None
        what = f"rail height over nosing {number} of surface {surface.index + 1}"
        parts += span(foot, head, what)
        downhill = -1.0 if surface.slope > 0 else 1.0
        words = f"rail {high} plumb", f"over nosing {number}"
        notes.append(Note(words, head, Place(head.x + downhill * 20, head.y + 14), what, end="none"))
    return tuple(parts), tuple(notes)


def _clear_nosing(layout: Layout, surface: PlacedSurface, view: View) -> tuple[int, float, float]:
    """Return number and place of the nosing in view nearest two thirds up, not behind a post."""
    spots = [(float(p.station), float(p.width) / 2 + 2 / view.scale) for p in layout.along]
    nosings = surface.nosings if surface.slope > 0 else surface.nosings[::-1]
    numbered = [(i, float(p.s), float(p.z)) for i, p in enumerate(nosings, 1) if view.window(float(p.s)) is not None]
    clear = [n for n in numbered if all(abs(n[1] - s) > half for s, half in spots)]
    wanted = 0.62 * len(nosings)
    return min(clear or numbered, key=lambda n: abs(n[0] - wanted))


def pitch_sign(surface: PlacedSurface, layout: Layout, view: View, space: Space) -> tuple[Part, ...]:
    """Draw a level leg, a plumb leg and the angle over the rail of a flight; nothing if there is no room."""
    rail = layout.rails[surface.index]
    words = f"pitch {degrees_words(abs(surface.pitch_deg))}"
    for s in in_view(surface, view, (0.3, 0.22, 0.4, 0.5, 0.6, 0.7, 0.8, 0.12)):
        foot = view.to_paper(s, datum(surface, s) + float(rail.height))
        if foot is not None:
            parts = _pitch_at(foot, surface, words, space, view)
            if parts:
                return parts
    return ()


def in_view(surface: PlacedSurface, view: View, fractions: tuple[float, ...]) -> Iterator[float]:
    """Stations at fractions of each stretch of a surface that is drawn."""
    for window in view.windows:
        first, last = max(window.first, float(surface.start.s)), min(window.last, float(surface.end.s))
        if first < last:
            yield from (first + fraction * (last - first) for fraction in fractions)


_LEG: Final = 15.0


def _pitch_at(foot: Place, surface: PlacedSurface, words: str, space: Space, view: View) -> tuple[Part, ...]:
    turn = radians(surface.pitch_deg)
    along = 1.0 if turn > 0 else -1.0  # uphill, on paper
    head = Place(foot.x + along * _LEG * cos(turn), foot.y + _LEG * abs(sin(turn)))
    corner = Place(foot.x, head.y)
    if view.to_model(head) is None or hypot(head.x - foot.x, head.y - foot.y) < 1:
        return ()
    what = "pitch"
    text = Text(words, Place(corner.x, corner.y + 1.4), CAP, "start" if along < 0 else "end", box=True, what=what)
    shape = Rect(min(corner.x, head.x), foot.y + 1, max(corner.x, head.x), corner.y + 1)
    if not (space.free(text.bounds()) and space.free(shape)):
        return ()
    space.words_at(text.bounds())
    space.words_at(shape)
    angle = degrees(atan2(foot.y - head.y, foot.x - head.x)) % 360
    level = 180.0 if along > 0 else 0.0
    start, end = (level, angle) if along > 0 else (angle, 360.0)
    return (
        Line("thin", (foot, corner, head), what),
        Arc("thin", head, 0.62 * abs(head.x - corner.x), start, end, what),
        text,
    )


def post_labels(layout: Layout, view: View, space: Space) -> tuple[Text, ...]:
    """Label posts under their feet, ends and joints first; those without room are left out."""
    placed: list[Text] = []
    for post in sorted(layout.along, key=lambda p: p.role == "line"):
        at = view.to_paper(float(post.station), float(post.base))
        if at is None:
            continue
        texts = [
            Text(
                post.label,
                Place(at.x + aside, at.y - drop),
                CAP,
                "middle",
                box=True,
                what=f"label of {post.label}",
            )
            for drop, aside in _LABEL_AT
        ]
        free = [text for text in texts if space.free(text.bounds(0.4))]
        text = next((text for text in free if space.clear(text.bounds(0.2))), free[0] if free else None)
        if text is not None:
            space.words_at(text.bounds(0.4))
            placed.append(text)
    return tuple(placed)


_LABEL_AT: Final = ((7.0, 0.0), (7.0, 2.0), (7.0, -2.0), (9.0, 0.0), (11.4, 0.0), (11.4, 3.0), (11.4, -3.0))
"""How far under a post's foot and aside of it its label may stand, best first, millimetres."""


def draw_breaks(layout: Layout, view: View, space: Space, fmt: Formatter) -> Iterator[Part]:
    """Draw both edges of every break, and say in between what is left out."""
    for before, after in zip(view.windows, view.windows[1:], strict=False):
        surface = next(s for s in layout.line.surfaces if float(s.end.s) >= before.last)
        rail = float(layout.rails[surface.index].height)
        drop = drop_under(surface)
        edges = []
        for window, s in ((before, before.last), (after, after.first)):
            x = window.dx + view.scale * s
            low = window.dy + view.scale * (datum(surface, s) - drop) - 3.0
            high = window.dy + view.scale * (datum(surface, s) + rail) + 3.0
            edges.append((x, low, high))
            yield Line("thin", _zigzag(x, low, high), "break line")
        if surface.nosings:
            hidden = sum(before.last < float(n.s) < after.first for n in surface.nosings)
            words = f"{count(hidden, 'riser')} not drawn"
        else:
            words = f"{fmt(after.first - before.last)} not drawn"
        x, middle = (edges[0][0] + edges[1][0]) / 2, sum(e[1] + e[2] for e in edges) / 4
        text = Text(words, Place(x + CAP / 2, middle), CAP, "middle", 90.0, what="break")
        space.words_at(text.bounds())
        yield text


def _zigzag(x: float, low: float, high: float) -> tuple[Place, ...]:
    middle = (low + high) / 2
    return (
        Place(x, low), Place(x, middle - 2), Place(x - 1.5, middle - 1), Place(x + 1.5, middle + 1),
        Place(x, middle + 2), Place(x, high),
    )  # fmt: skip
