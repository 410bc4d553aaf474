"""A joint in the developed elevation, enlarged: strands, posts, rails with their end cuts, dimensions and names."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, floor, inf
from typing import Final

from stairguard.model.guard.placed_posts import PlacedPost
from stairguard.model.guard.rail_joints import Joint
from stairguard.model.guard.solved_layout import Layout
from stairguard.reports.drawing.detail.strands_in_post import strands_in_post
from stairguard.reports.drawing.elevation.framing import scales
from stairguard.reports.drawing.elevation.guard_lines import (
    corner_strands,
    field_strands,
    post_outline,
    rail_outline,
    reach,
)
from stairguard.reports.drawing.elevation.stair_lines import datum
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.clip import Bounds, Pair, clip_polygon
from stairguard.reports.drawing.paper.drafting import CAP, Note, between, place_notes, shapes_on
from stairguard.reports.drawing.paper.free_room import Space
from stairguard.reports.drawing.paper.scene import INK, Circle, Dimension, Line, Part, Place, Rect, Text, View, Window
from stairguard.reports.words.joints.jog_words import jog_size_note
from stairguard.reports.words.joints.meeting_words import edge_name, from_edge_note
from stairguard.reports.words.lengths import Formatter

_PAPER: Final = "#ffffff"
_TONE: Final = "#dcdcdc"
_BAND: Final = 9.0
"""Over the rails, for the level dimension from the nosing, millimetres."""

_FEWEST_STRANDS: Final = 2
"""Strands on either side that a picture is made to hold."""


@dataclass(frozen=True, slots=True)
class _Extent:
    """What a picture must hold, in the model."""

    first: float
    last: float
    low: float
    high: float


def _extent(layout: Layout, joint: Joint, posts: Sequence[PlacedPost]) -> _Extent:
    """Return both rails some way from the post, and the first strands under them."""
    width = max(float(p.width) for p in posts)
    first, last = float(posts[0].station) - 1.5 * width, float(posts[-1].station) + 1.5 * width
    lows: list[float] = []
    highs: list[float] = []
    for index, (a, b) in zip(joint.between, ((first, float(joint.station)), (float(joint.station), last)), strict=True):
        surface, rail, field = layout.line.surfaces[index], layout.rails[index], layout.fields[index]
        shown = field.heights[:_FEWEST_STRANDS]
        low = float(shown[-1]) if shown else float(rail.underside) - 2 * float(rail.height - rail.underside)
        lows += (datum(surface, s) + low for s in (a, b))
        highs += (datum(surface, s) + float(rail.height) for s in (a, b))
    return _Extent(first, last, min(lows), max(highs))


def joint_view(layout: Layout, joint: Joint, posts: Sequence[PlacedPost], room: Rect, largest: float) -> View:
    """Scale and place a joint in its picture: both rails at the post and the first strands under them."""
    e = _extent(layout, joint, posts)
    tall = room.height - _BAND - 3.0
    scale, words = next(
        (k, w)
        for k, w in scales(layout.job.unit)
        if k <= largest and k * (e.high - e.low) <= tall and k * (e.last - e.first) <= 0.8 * room.width
    )
    dx = (room.left + room.right) / 2 - scale * (e.first + e.last) / 2
    dy = room.top - _BAND - scale * e.high
    window = Window((room.left - dx) / scale, (room.right - dx) / scale, dx, dy)
    return View("JOINT", scale, words, (window,))


def joint_picture(
    layout: Layout, joint: Joint, posts: Sequence[PlacedPost], view: View, room: Rect, fmt: Formatter
) -> Iterator[Part]:
    """Draw strands, post or posts over them, rails over those; then dimensions and names where there is room."""
    space = Space(room, solid=True)
    below = Rect(room.left, room.bottom, room.right, room.top - _BAND + 3.0)
    parts: list[Part] = [*_strands(layout, joint, posts, view, below)]
    solids: list[tuple[Pair, ...]] = []
    for post in _posts_seen(layout, view):
        solids.append(post_outline(post))
        parts += shapes_on(view, "outline", _PAPER, solids[-1], f"post {post.label}", below)
        if post in posts:
            parts += strands_in_post(layout, joint, post, view, below)
    for index in _rails_seen(layout, view):
        solids.append(_piece(layout, joint, index))
        parts += shapes_on(view, "outline", _TONE, solids[-1], f"rail over surface {index + 1}", below)
    for line in parts:
        if isinstance(line, Line):
            space.line_at(line.points)
    for solid in solids:
        _take(space, solid, view)
    parts += _numbers(layout, joint, view, below, space)
    dimensions, notes = _dimensions(layout, joint, view, room, space, fmt)
    parts += dimensions
    placed, _ = place_notes(space, (*notes, *_names(layout, joint, posts, view, below)))
    yield from (*parts, *placed)


_NEAR: Final = 3
"""How many surfaces beyond a joint's own can be in its picture."""


def _strands(layout: Layout, joint: Joint, posts: Sequence[PlacedPost], view: View, room: Rect) -> Iterator[Line]:
    """Draw strands over all surfaces whose posts or strands are in the picture, and between two posts of a corner."""
    window = view.windows[0]
    near = layout.fields[max(0, joint.between[0] - _NEAR) : joint.between[1] + 1 + _NEAR]
    if joint.closes:
        near = tuple(layout.fields[index] for index in joint.between)
    for field in near:
        surface = layout.line.surfaces[field.surface]
        first, last = reach(layout, field.surface) if field.heights else (inf, -inf)
        if first > window.last or last < window.first:
            continue
        yield from field_strands(surface, field, (first, last), view, room)
    if len(posts) > 1:
        yield from corner_strands(joint, posts, view, room)


def _posts_seen(layout: Layout, view: View) -> Iterator[PlacedPost]:
    window = view.windows[0]
    for post in layout.along:
        half = float(post.half)
        if post.support == "post" and window.first - half < post.station < window.last + half:
            yield post


def _rails_seen(layout: Layout, view: View) -> Iterator[int]:
    window = view.windows[0]
    for rail in layout.rails:
        if rail.start != rail.end and float(rail.start.s) <= window.last and float(rail.end.s) >= window.first:
            yield rail.surface


def _piece(layout: Layout, joint: Joint, index: int) -> tuple[Pair, ...]:
    """Return a rail piece's outline; where it runs straight on uphill its end is square, not plumb."""
    outline = list(rail_outline(layout, index))
    if joint.mitred and joint.bend_deg == 0 and index in joint.between:
        slope, rail = float(layout.line.surfaces[index].slope), layout.rails[index]
        over = float(rail.height - rail.underside) * slope / (1 + slope**2)
        corner = 2 if index == joint.between[0] else 3
        s, z = outline[corner]
        outline[corner] = (s + over, z + over * slope)
    return tuple(outline)


def _take(space: Space, outline: Sequence[Pair], view: View) -> None:
    """Keep words off a filled shape, a millimetre of paper at a time."""
    window, room = view.windows[0], space.room
    paper = [(window.dx + view.scale * s, window.dy + view.scale * z) for s, z in outline]
    first, last = max(room.left, min(x for x, _ in paper)), min(room.right, max(x for x, _ in paper))
    for x in range(floor(first), ceil(last)):
        kept = clip_polygon(paper, Bounds(x, x + 1))
        if kept:
            ys = [y for _, y in kept]
            space.area_at(Rect(x, min(ys), x + 1, max(ys)))


def _numbers(layout: Layout, joint: Joint, view: View, room: Rect, space: Space) -> Iterator[Text]:
    """Number the strands where they leave the picture."""
    window = view.windows[0]
    for index, s, side in ((joint.between[0], window.first, 1.0), (joint.between[1], window.last, -1.0)):
        surface, field = layout.line.surfaces[index], layout.fields[index]
        if not field.heights:
            continue
        first, last = reach(layout, index)
        half = float(layout.job.post.width) / 2  # clear of the post at the other end, if it is in the picture
        s = max(s, first + half) if side > 0 else min(s, last - half)
        x = window.dx + view.scale * s + side * 4.0
        for number, over in enumerate(map(float, field.heights), 1):
            y = window.dy + view.scale * (datum(surface, (x - window.dx) / view.scale) + over) - CAP / 2
            text = Text(f"{number}", Place(x, y), CAP, "middle", box=True, what=f"number of strand {number}")
            box = text.bounds(0.2)
            if box.bottom > room.bottom and box.top < room.top and space.free(box):
                space.words_at(box)
                yield text


_ASIDE: Final = (14.0, 8.0, 4.0, 1.5)
"""How far from the post a rail is pointed at, the first that is in the picture, millimetres."""


def _names(layout: Layout, joint: Joint, posts: Sequence[PlacedPost], view: View, room: Rect) -> Iterator[Note]:
    """Name the rails' pieces and the posts; the words below say the rest."""
    window = view.windows[0]
    for index, side in zip(joint.between, (-1.0, 1.0), strict=True):
        surface, rail = layout.line.surfaces[index], layout.rails[index]
        post = posts[0 if side < 0 else -1]
        for out in _ASIDE:
            s = float(post.station) + side * (float(post.half) + out / view.scale)
            s = min(max(s, float(rail.start.s)), float(rail.end.s))
            x, depth = window.dx + view.scale * s, float(rail.height - rail.underside) / 2
            y = window.dy + view.scale * (datum(surface, s) + float(rail.height) - depth)
            if room.left < x < room.right and room.bottom < y < room.top:
                what = f"rail {layout.cuts.rail_over(index).label}"
                yield Note((what,), Place(x, y), Place(x + side * 14, y + 12), what)
                break
    for post, side in zip(posts, (1.0, -1.0) if len(posts) > 1 else (1.0,), strict=True):
        x = window.dx + view.scale * float(post.station)
        y = room.bottom + 4.0
        yield Note((f"post {post.label}",), Place(x, y), Place(x - side * 12, y), f"post {post.label}")


def _dimensions(
    layout: Layout, joint: Joint, view: View, room: Rect, space: Space, fmt: Formatter
) -> tuple[list[Part], list[Note]]:
    """Dimension the jog, plumb, and how far the joint is from the nosing or edge, level; mark where rails meet."""
    window = view.windows[0]
    parts: list[Part] = []
    notes: list[Note] = []
    ends = [Place(window.dx + view.scale * float(e.s), window.dy + view.scale * float(e.z)) for e in joint.ends]
    y = max(end.y for end in ends)
    at = joint.ends[0] if joint.mitred else joint.meets
    if at is not None and not joint.jog:
        meets = view.to_paper(float(at.s), float(at.z))
        if meets is not None and room.bottom < meets.y:
            parts.append(Circle(meets, 0.7, None, INK, "rails meet"))
    if joint.jog:
        # measured at the face where the lower rail ends
        low, high = sorted(ends, key=lambda end: end.y)
        parts.append(Line("fine", (Place(low.x, high.y), high), "jog"))
        x, high = low.x, Place(low.x, high.y)
        words = Text("", high, CAP)
        dimension = between(low, high, words, "jog")
        parts += (*dimension.lines, *dimension.marks)
        middle = Place(x, (low.y + high.y) / 2)
        notes.append(Note((jog_size_note(joint, fmt),), middle, Place(x + 16, high.y + 4), "jog", end="none"))
    parts += _level(layout, joint, view, room, space, fmt, y)
    return parts, notes


def _level(
    layout: Layout, joint: Joint, view: View, room: Rect, space: Space, fmt: Formatter, top: float
) -> Iterator[Line | Dimension]:
    """Dimension the level distance from the nosing, or the edge, to the post's centre or the corner."""
    edge, name = joint.edge, edge_name(joint)
    y = room.top - 5.6
    window = view.windows[0]
    x, centre = (window.dx + view.scale * float(s) for s in (edge, joint.station))
    if joint.second_post is None:
        yield Line("chain", (Place(centre, top + 1), Place(centre, y + 0.8)), "post centre")
    if edge == joint.station or not room.left + 2 < x < room.right - 2:
        return
    level = window.dy + view.scale * (datum(layout.line.surfaces[joint.between[0]], float(edge)))
    yield Line("fine", (Place(x, max(room.bottom, level)), Place(x, y + 0.8)), f"plumb over the {name}")
    words = from_edge_note(joint, fmt)
    wide = metrics.width(words, CAP)
    left = min(max((x + centre) / 2 - wide / 2, room.left + 1), room.right - wide - 1)
    text = Text(words, Place(left, y + 2.0), CAP, what=f"from the {name}")
    space.words_at(Rect(room.left, y - 2.0, room.right, room.top))  # nothing reads on from it
    yield between(Place(min(x, centre), y), Place(max(x, centre), y), text, f"level distance from the {name}")
