"""A corner of a guard beside the stair on paper: the edge, the guard's line beside it, posts and dimensions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from stairguard.model.guard.solved_layout import Layout
from stairguard.reports.drawing.elevation.framing import scales
from stairguard.reports.drawing.paper.drafting import Note, arrow, place_notes, span
from stairguard.reports.drawing.paper.free_room import Space
from stairguard.reports.drawing.paper.lettering import outline_of
from stairguard.reports.drawing.paper.scene import ACCENT, INK, Circle, Line, Part, Place, Polygon, Rect, View, Window
from stairguard.reports.drawing.section.corner_facts import CornerLeg, CornerPost, LevelPlace, SideCorner
from stairguard.reports.words.lengths import Formatter, given_words
from stairguard.reports.words.section_words import (
    GUARD_LINE,
    WALK,
    along_words,
    corner_post_words,
    edge_words,
    out_words,
    past_words,
    sphere_note,
)

_HALF: Final = 0.5**0.5
_STAIR: Final = "#e2e2e2"
_PAPER: Final = "#ffffff"
_AROUND: Final = 44.0
"""Room round the drawing for dimensions and words, millimetres."""
_OFF: Final = 7.0
"""From the guard's line to a dimension along it, millimetres."""
_SHORT: Final = 0.82
"""How much of a leg is there where its distance from the edge is dimensioned."""


def corner_view(layout: Layout, corner: SideCorner, room: Rect, largest: float) -> View:
    """Scale and place a corner in its picture."""
    box = Rect.around(_extent(corner))
    wide, tall = room.width - _AROUND, room.height - _AROUND
    scale, words = next(
        (k, w) for k, w in scales(layout.job.unit) if k <= largest and k * box.width <= wide and k * box.height <= tall
    )
    dx = (room.left + room.right - scale * (box.left + box.right)) / 2
    dy = (room.bottom + room.top - scale * (box.bottom + box.top)) / 2
    return View("CORNER", scale, words, (Window((room.left - dx) / scale, (room.right - dx) / scale, dx, dy),))


def corner_picture(layout: Layout, corner: SideCorner, view: View, room: Rect, fmt: Formatter) -> tuple[Part, ...]:
    """Draw the stair along its edge, the guard's line, posts and dimensions, then words where there is room."""
    space = Space(room)
    drawing = [*_stair(corner, view), *_line(corner, view), *_posts(corner, view), *_walk(corner, view)]
    drawing += _sphere(corner, view)
    dimensions, notes = _dimensions(layout, corner, view, fmt)
    for part in (*drawing, *dimensions):
        if isinstance(part, Line):
            space.line_at(part.points, hard=part.pen != "fine")
        elif isinstance(part, Circle):
            space.line_at(outline_of(part), hard=True)
        elif isinstance(part, Polygon) and part.fill == _PAPER:
            space.area_at(Rect.around(part.points))
    placed, _ = place_notes(space, [*notes, *_notes(layout, corner, view)])
    return (*drawing, *dimensions, *placed)


def _reach(corner: SideCorner) -> float:
    """How far along the guard's line each leg is drawn from its corner."""
    out, posts = _out(corner), corner.posts
    width = abs(posts[0].corners[0][0] - posts[0].corners[2][0])
    return max(3.0 * out, 2.0 * abs(corner.past), max(post.along for post in posts) + 2.5 * width, 3.0 * width)


def _out(corner: SideCorner) -> float:
    return abs(float(corner.legs[0].surface.aside))


def _far(corner: SideCorner, leg: CornerLeg, out: float) -> LevelPlace:
    """Where a leg is broken off, so far out from the guard's line; no farther than its surface goes."""
    (ax, ay), (bx, by) = leg.line
    along = min(_reach(corner), (bx - ax) * leg.away[0] + (by - ay) * leg.away[1])
    return _moved((ax, ay), leg, along, out)


def _moved(at: LevelPlace, leg: CornerLeg, along: float, out: float) -> LevelPlace:
    return (
        at[0] + along * leg.away[0] + out * leg.outward[0],
        at[1] + along * leg.away[1] + out * leg.outward[1],
    )


def _extent(corner: SideCorner) -> list[LevelPlace]:
    deep = _out(corner) + _band(corner)
    found = [at for leg in corner.legs for at in (leg.edge[0], _far(corner, leg, 0.0), _far(corner, leg, -deep))]
    return [*found, *(at for post in corner.posts for at in post.corners), *_inner(corner)]


def _band(corner: SideCorner) -> float:
    """How much of the surface is drawn along its edge."""
    return 1.2 * _out(corner)


def _inner(corner: SideCorner) -> tuple[LevelPlace, LevelPlace]:
    """Where the drawn band of either leg ends within the corner: mitred, or square where the legs run side by side."""
    one, other = corner.legs
    (px, py), (qx, qy) = (_moved(leg.edge[0], leg, 0.0, -_band(corner)) for leg in corner.legs)
    (ux, uy), (vx, vy) = one.away, other.away
    cross = ux * vy - uy * vx
    if abs(cross) < _PARALLEL:
        return (px, py), (qx, qy)
    along = ((qx - px) * vy - (qy - py) * vx) / cross
    met = px + along * ux, py + along * uy
    return met, met


_PARALLEL: Final = 1e-9


def _place(view: View, at: LevelPlace) -> Place:
    window = view.windows[0]
    return Place(window.dx + view.scale * at[0], window.dy + view.scale * at[1])


def _stair(corner: SideCorner, view: View) -> Iterator[Part]:
    """Draw the surfaces along their edges, and a flight's nosings."""
    out, band = _out(corner), _band(corner)
    for leg, inner in zip(corner.legs, _inner(corner), strict=True):
        end, deep = _far(corner, leg, -out), _far(corner, leg, -out - band)
        what = f"surface {leg.surface.index + 1}"
        outline = tuple(_place(view, at) for at in (leg.edge[0], end, deep, inner))
        yield Polygon(outline, None, _STAIR, what)
        for tip in leg.nosings:
            if _between(tip, leg.edge[0], end, leg):
                line = tuple(_place(view, at) for at in (tip, _moved(tip, leg, 0.0, -band)))
                yield Line("thin", line, f"nosing, {what}")
        yield Line("cut", (_place(view, leg.edge[0]), _place(view, end)), f"edge of {what}")


def _between(at: LevelPlace, start: LevelPlace, end: LevelPlace, leg: CornerLeg) -> bool:
    """Whether a place on an edge is in the stretch that is drawn."""
    along, whole = (((p[0] - start[0]) * leg.away[0] + (p[1] - start[1]) * leg.away[1]) for p in (at, end))
    return -_PARALLEL <= along <= whole


def _line(corner: SideCorner, view: View) -> Iterator[Part]:
    """Draw the guard's line to its corner, and the strands, which cut across from post to post."""
    for leg in corner.legs:
        ends = _place(view, leg.line[0]), _place(view, _far(corner, leg, 0.0))
        yield Line("chain", ends, f"guard's line beside surface {leg.surface.index + 1}")
    first, last = (_far(corner, leg, 0.0) for leg in corner.legs)
    way = (first, *(post.centre for post in corner.posts), last)
    yield Line("strand", tuple(_place(view, at) for at in way), "strands")


def _posts(corner: SideCorner, view: View) -> Iterator[Part]:
    for post in corner.posts:
        yield Polygon(tuple(_place(view, at) for at in post.corners), "outline", _PAPER, f"post {post.label}")


def _sphere(corner: SideCorner, view: View) -> Iterator[Circle]:
    """Draw the largest sphere that gets past the corner, where its way is narrowest."""
    if corner.opening is not None:
        at = _place(view, corner.centre)
        yield Circle(at, corner.opening.sphere / 2 * view.scale, "circle", None, "largest sphere")
        yield Circle(at, 0.4, None, ACCENT, "centre of largest sphere")


def _walk(corner: SideCorner, view: View) -> Iterator[Part]:
    """Draw an arrow the way one walks, on the surface before the corner."""
    leg = corner.legs[0]
    deep = -_out(corner) - 0.55 * _band(corner)
    far = _place(view, _far(corner, leg, deep))
    tip = Place(far.x - leg.away[0] * _WALK, far.y - leg.away[1] * _WALK)
    yield Line("thin", (far, tip), "walking direction")
    yield arrow(tip, far, "walking direction")


_WALK: Final = 12.0


def _dimensions(layout: Layout, corner: SideCorner, view: View, fmt: Formatter) -> tuple[list[Part], list[Note]]:
    """Dimension how far out the line is on both legs; along it what its corner is past the edge's, and the posts."""
    parts: list[Part] = []
    notes: list[Note] = []
    out, exact = _out(corner), given_words(layout.job, fmt)
    for leg in corner.legs:
        a, b = (_place(view, _far_less(corner, leg, o)) for o in (-out, 0.0))
        parts += span(a, b, "offset")
        notes.append(_aside(out_words(exact, layout.job.post.out), a, b, leg, -1.0, "words on the offset"))
    leg = corner.legs[0]
    square = _moved(corner.legs[0].edge[0], leg, 0.0, out)
    if abs(corner.past) > _PARALLEL:
        words = past_words(fmt, abs(corner.past), outer=corner.outer)
        drawn, note = _along(view, leg, (square, leg.line[0]), _OFF, words, "past the edge's corner")
        parts += [
            *drawn,
            Line("fine", (_place(view, leg.edge[0]), _place(view, square)), "square to the edge's corner"),
        ]
        notes.append(note)
    for post, leg in list(zip(corner.posts, corner.legs, strict=False))[-1:]:  # the other is as far, on its own leg
        if post.along:
            words = along_words(exact, post.along)
            drawn, note = _along(
                view, leg, (leg.line[0], post.centre), _OFF, words, f"post {post.label} from the corner"
            )
            parts += drawn
            notes.append(note)
    return parts, notes


def _far_less(corner: SideCorner, leg: CornerLeg, out: float, share: float = _SHORT) -> LevelPlace:
    """A little nearer than where a leg is broken off."""
    far, start = _far(corner, leg, out), _moved(leg.line[0], leg, 0.0, out)
    return start[0] + share * (far[0] - start[0]), start[1] + share * (far[1] - start[1])


def _along(
    view: View, leg: CornerLeg, ends: Sequence[LevelPlace], off: float, words: Sequence[str], what: str
) -> tuple[list[Part], Note]:
    """Dimension a stretch of the guard's line, so far outside it on paper."""
    on = [_place(view, at) for at in ends]
    (ox, oy) = leg.outward
    a, b = (Place(p.x + off * ox, p.y + off * oy) for p in on)
    extensions = [
        Line("fine", (Place(p.x + 0.8 * ox, p.y + 0.8 * oy), Place(q.x + 1.2 * ox, q.y + 1.2 * oy)), what)
        for p, q in zip(on, (a, b), strict=True)
    ]
    middle = Place((a.x + b.x) / 2, (a.y + b.y) / 2)
    near = Place(middle.x + 9 * ox + 6 * leg.away[0], middle.y + 9 * oy + 6 * leg.away[1])
    return [*extensions, *span(a, b, what)], Note(tuple(words), middle, near, f"words on {what}", end="none")


def _aside(words: str, a: Place, b: Place, leg: CornerLeg, way: float, what: str) -> Note:
    """Words beside a dimension, towards or away from the corner."""
    middle = Place((a.x + b.x) / 2, (a.y + b.y) / 2)
    near = Place(middle.x + way * 14 * leg.away[0], middle.y + way * 14 * leg.away[1])
    return Note((words,), middle, near, what, end="none")


def _notes(layout: Layout, corner: SideCorner, view: View) -> Iterator[Note]:
    """Say how large the sphere is; name posts, edges, the guard's line and the walk."""
    if corner.opening is not None:
        words = sphere_note(corner.opening, layout.job.unit, dashed=False)
        at, radius = _place(view, corner.centre), corner.opening.sphere / 2 * view.scale
        (ox, oy), (ax, ay) = corner.legs[0].outward, corner.legs[0].away
        edge = Place(at.x + radius * _HALF * (ox + ax), at.y + radius * _HALF * (oy + ay))
        ink = ACCENT if corner.opening.passes is False else INK
        near = Place(edge.x + 14 * (ox + ax), edge.y + 14 * (oy + ay))
        yield Note(words, edge, near, "words on the largest sphere", ink, "arrow", "radius")
    for post in corner.posts:
        yield _post_note(corner, post, view)
    for leg in corner.legs:
        middle = _place(view, _mid(leg.edge[0], _far(corner, leg, -_out(corner))))
        ox, oy = leg.outward
        inside = Place(middle.x - (9 + 14 * abs(ox)) * ox, middle.y - 9 * oy)
        what = f"words on the edge of surface {leg.surface.index + 1}"
        yield Note((edge_words(layout, leg.surface),), middle, inside, what, end="arrow")
    leg = corner.legs[0]
    at = _place(view, _far_less(corner, leg, 0.0, 0.94))
    yield Note((GUARD_LINE,), at, Place(at.x + 4, at.y + 12 * leg.outward[1]), "guard's line", end="arrow")
    far = _place(view, _far(corner, leg, -_out(corner) - 0.55 * _band(corner)))
    yield Note((WALK,), far, Place(far.x, far.y - 5), "walking direction", end="none")


def _post_note(corner: SideCorner, post: CornerPost, view: View) -> Note:
    at = _place(view, post.centre)
    legs = corner.legs
    ox, oy = (legs[0].outward[i] + legs[1].outward[i] for i in (0, 1))
    near = Place(at.x + 12 * ox, at.y + 12 * oy)
    return Note((corner_post_words(post.label),), at, near, f"post {post.label}", end="dot")


def _mid(a: LevelPlace, b: LevelPlace) -> LevelPlace:
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
