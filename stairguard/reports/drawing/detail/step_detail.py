"""One step triangle at a larger scale: its largest sphere, what that touches, and the limit."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import islice, product
from math import cos, hypot, radians, sin
from typing import Final

from stairguard.model.guard.guard_openings import Opening
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Flight, MeasuredFlight
from stairguard.reports.drawing.elevation.framing import scales
from stairguard.reports.drawing.elevation.guard_lines import draw_strands, reach
from stairguard.reports.drawing.elevation.stair_lines import (
    datum,
    draw_stair,
    drop_under,
    nosing_line,
    run_of,
    steps_of,
)
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.drafting import CAP, Note, place_notes, span
from stairguard.reports.drawing.paper.free_room import Space
from stairguard.reports.drawing.paper.scene import (
    ACCENT,
    INK,
    Circle,
    Leader,
    Line,
    Part,
    Place,
    Polygon,
    Rect,
    Text,
    View,
    Window,
)
from stairguard.reports.drawing.section.section_facts import section_of
from stairguard.reports.words.drawing_words import lift_words, spacing_words, sphere_lines, step_title
from stairguard.reports.words.lengths import Formatter
from stairguard.reports.words.opening_words import touch_words
from stairguard.reports.words.section_words import in_space_title

_TITLE: Final = 7.0
_STEPS: Final = ("cut", "outline")
"""Pens that steps are drawn with."""


@dataclass(frozen=True, slots=True)
class _Step:
    """The step shown: its flight, number, lower nosing, and the plumb heights of strands, lowest first."""

    surface: PlacedSurface
    rise: float
    run: float
    tread: float
    number: int
    nosing: tuple[float, float]
    heights: tuple[float, ...]


def step_detail(
    layout: Layout, opening: Opening, room: Rect, fmt: Formatter
) -> tuple[tuple[Part, ...], View, tuple[Note, ...]]:
    """Draw the step of an opening, enlarged.

    Returns
    -------
    tuple
        What is drawn, the view it is drawn in, and the notes that found no room.
    """
    picture = Rect(room.left, room.bottom + _TITLE, room.right, room.top)
    step = _step(layout, opening)
    for view, over in product(islice(_views(layout, step, opening, picture), _SCALES), (False, True)):
        parts, left, covered = _drawn(layout, step, opening, view, picture, fmt, over)
        if not covered:
            break
    title, section = step_title(opening, step.number), section_of(layout, opening)
    longer = title if section is None else title + in_space_title(section.letter)
    fits = metrics.width(longer, CAP) + 4.0 + metrics.width(view.scale_text, CAP) <= room.width
    return (*parts, *_titled(longer if fits else title, view.scale_text, room)), view, left


_SCALES: Final = 2
"""Scales that are tried, from the largest on, until no words cover the sphere."""


def _drawn(
    layout: Layout, step: _Step, opening: Opening, view: View, picture: Rect, fmt: Formatter, over: bool
) -> tuple[tuple[Part, ...], tuple[Note, ...], bool]:
    """Draw the step in a view; also the notes without room, and whether words cover the sphere.

    ``over``: words may stand over the edges of the steps, where nothing else is free.
    """
    space = Space(picture)
    parts: list[Part] = [
        *draw_stair(layout, view, picture),
        *nosing_line(layout, view, picture),
        *draw_strands(layout, view, picture),
    ]
    _take(space, parts, edges=not over)
    notes: list[Note] = []
    unseen: list[Note] = []
    for more, note in (*_sphere(layout, opening, view, picture), *_spacings(layout, step, view, fmt)):
        if not all(picture.has(p) for part in more if isinstance(part, Line) for p in part.points):
            unseen.append(note)
            continue
        parts += more
        notes.append(note)
        _take(space, more, hard=True)  # words on a dimension would read as its own, its end as a sign before them
    drawn, left = place_notes(space, notes)
    centre, radius = view.to_paper(*opening.centre), opening.sphere / 2 * view.scale
    assert centre is not None  # the view was made around it
    words = [text.bounds() for part in drawn if isinstance(part, Leader) for text in part.text]
    covered = any(_away(centre, box) < radius for box in words)
    return (*parts, *drawn), (*left, *unseen), covered


def _away(place: Place, box: Rect) -> float:
    """How far a place is from a box; zero inside."""
    return hypot(max(box.left - place.x, 0.0, place.x - box.right), max(box.bottom - place.y, 0.0, place.y - box.top))


def _titled(title: str, scale: str, room: Rect) -> tuple[Part, ...]:
    y = room.bottom + 2.0
    start = room.left + metrics.width(title, CAP) + 4.0
    return (
        Text(title, Place(room.left, y), CAP, what="view title"),
        Text(scale, Place(start, y), CAP, what="scale"),
    )


def _take(space: Space, parts: Iterable[Part], *, hard: bool = False, edges: bool = False) -> None:
    """Keep words off what is drawn: lines as they run, circles and filled shapes by the box around them.

    Words had better not stand on lines, and must not where ``hard``, or on those of steps where ``edges``.
    """
    for part in parts:
        if isinstance(part, Line):
            space.line_at(part.points, hard=hard or (edges and part.pen in _STEPS))
        elif isinstance(part, Polygon):
            space.area_at(Rect.around(part.points))
        elif isinstance(part, Circle):
            (x, y), r = part.centre, part.radius
            space.area_at(Rect(x - r, y - r, x + r, y + r))


def _step(layout: Layout, opening: Opening) -> _Step:
    surface = layout.line.surfaces[opening.surface]
    flight = surface.given
    assert isinstance(flight, Flight | MeasuredFlight)  # the opening was chosen on one
    nosings = steps_of(surface)
    height = opening.centre[1]
    below = [i for i, (_, z) in enumerate(nosings[:-1]) if z <= height] or [0]
    number = below[-1]
    field = layout.fields[surface.index]
    (s, z), (t, y) = nosings[number], nosings[min(number + 1, len(nosings) - 1)]
    rise, run = (y - z, abs(t - s)) if y > z else (drop_under(surface), run_of(surface))
    # strands stand over the straightedge, which may pass a measured nosing above it
    over = datum(surface, s) - z
    heights = tuple(float(h) + over for h in field.heights[::-1])
    return _Step(surface, rise, run, float(flight.tread), number + 1, nosings[number], heights)


def _views(layout: Layout, step: _Step, opening: Opening, room: Rect) -> Iterator[View]:
    """Scale and place the step, largest first: both nosings, the sphere and the two lowest strands in the panel."""
    run, rise = step.run, step.rise
    up = 1.0 if step.surface.slope > 0 else -1.0
    low_strand = step.heights[0] if step.heights else 0.0
    s, z = step.nosing
    spacing = step.heights[1] - step.heights[0] if len(step.heights) > 1 else 0.0
    low, high = (
        0.2 * rise + step.tread,
        max(1.15 * rise, low_strand + 0.5 * rise + 1.2 * spacing),
    )
    x, y, r = *opening.centre, opening.sphere / 2
    left, right = min(s + up * 0.5 * run - 0.675 * run, x - r), max(s + up * 0.5 * run + 0.675 * run, x + r)
    bottom, top = min(z - low, y - r), max(z + high, y + r)
    wide, tall = right - left, top - bottom
    for scale, words in scales(layout.job.unit):
        if scale * wide <= room.width and scale * tall <= room.height:
            dx = (room.left + room.right) / 2 - scale * (left + right) / 2
            dy = room.top - scale * top  # spare height goes under the tread, to the words
            window = Window((room.left - dx) / scale, (room.right - dx) / scale, dx, dy)
            yield View("STEP", scale, words, (window,))


def _sphere(layout: Layout, opening: Opening, view: View, room: Rect) -> Iterator[tuple[tuple[Part, ...], Note]]:
    """Draw the largest sphere, its radii and contacts, and the limit's circle dashed about its centre."""
    centre = view.to_paper(*opening.centre)
    assert centre is not None  # the view was made around it
    limit = float(opening.rule.value) if opening.rule is not None else None
    radius = opening.sphere / 2 * view.scale
    parts: list[Part] = [Circle(centre, radius, "circle", None, "largest sphere")]
    parts.append(Circle(centre, 0.4, None, ACCENT, "centre of largest sphere"))
    for touched, contact in zip(opening.touches, opening.contacts, strict=False):
        at = view.to_paper(*contact)
        if at is not None and room.has(at):
            parts.append(Line("radius", (centre, at), f"radius to {touch_words(touched)}"))
            parts.append(Circle(at, 0.8, None, ACCENT, f"contact with {touch_words(touched)}"))
    ring = limit / 2 * view.scale if limit is not None else 0.0
    corners = Place(centre.x - ring, centre.y - ring), Place(centre.x + ring, centre.y + ring)
    dashed = limit is not None and all(room.has(corner) for corner in corners)
    if dashed:
        parts.append(Circle(centre, ring, "dashed", None, "limit"))
    words = sphere_lines(opening, layout.job.unit, dashed=dashed)
    side = 1.0 if layout.line.surfaces[opening.surface].slope > 0 else -1.0
    edge = Place(centre.x + side * radius * cos(radians(40)), centre.y - radius * sin(radians(40)))
    below = Place(edge.x + side * 18, edge.y - 14)
    ink = ACCENT if opening.passes is False else INK
    yield tuple(parts), Note(words, edge, below, "largest sphere", ink, "arrow", "radius")


def _spacings(layout: Layout, step: _Step, view: View, fmt: Formatter) -> Iterator[tuple[tuple[Part, ...], Note]]:
    """Dimension plumb and square spacing of the two lowest strands, and the lowest one's square lift."""
    surface, run = step.surface, step.run
    up = 1.0 if surface.slope > 0 else -1.0
    turn = radians(surface.pitch_deg)
    field = layout.fields[surface.index]
    s = step.nosing[0]

    def place(station: float, height: float) -> Place:
        """A point of the view by its height over the nosing line."""
        at = view.windows[0]
        return Place(at.dx + view.scale * station, at.dy + view.scale * (datum(surface, station) + height))

    def square(foot: Place, length: float) -> Place:
        """The point of the view so far from another, square to the slope."""
        return Place(foot.x - view.scale * length * sin(turn), foot.y + view.scale * length * cos(turn))

    heights = [float(height) for height in field.heights[::-1]]
    if len(heights) > 1:
        low, high = heights[:2]
        window = view.windows[0]
        edge = 5.0 / view.scale
        first, last = reach(layout, surface.index)  # beyond it there are no strands of this flight
        foot = max(window.first, first) + edge if up > 0 else min(window.last, last) - edge
        a, b = place(foot, low), place(foot, high)
        words = spacing_words(field.plumb_spacing, "plumb", fmt)
        yield span(a, b, "plumb spacing"), _aside(words, a, b, (-up * 4, -16), "plumb spacing")
        a = place(s + up * 0.2 * run, low)
        b = square(a, field.square_spacing)
        words = spacing_words(field.square_spacing, "square", fmt)
        yield span(a, b, "square spacing"), _aside(words, a, b, (-up * 8, 22), "square spacing")
    if heights:
        lift = float(layout.lift(surface.index))
        a = place(s + up * 0.3 * run, 0.0)
        b = square(a, lift)
        yield span(a, b, "lift"), _aside(lift_words(lift, fmt), a, b, (-up * 22, -18), "lift")


def _aside(words: tuple[str, ...], a: Place, b: Place, way: tuple[float, float], what: str) -> Note:
    """Words for a dimension too short to hold them."""
    middle = _mid(a, b)
    return Note(words, middle, Place(middle.x + way[0], middle.y + way[1]), what, end="none")


def _mid(a: Place, b: Place) -> Place:
    return Place((a.x + b.x) / 2, (a.y + b.y) / 2)
