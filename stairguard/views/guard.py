"""The guard itself: rail pieces with their end cuts, posts, every strand."""

from __future__ import annotations

from collections.abc import Iterator
from math import radians, tan
from typing import Final

from stairguard.model.guard import Layout, PlacedPost, PlacedSurface
from stairguard.views.clip import Pair
from stairguard.views.drafting import lines_on, shapes_on
from stairguard.views.scene import Part, Rect, View

__all__ = ["datum", "draw_guard", "draw_strands", "post_outline", "rail_outline", "reach"]

_PAPER: Final = "#ffffff"
_TONE: Final = "#dcdcdc"


def datum(surface: PlacedSurface, s: float) -> float:
    """Elevation of the nosing line or surface at a station, in floats."""
    return float(surface.origin.z) + (s - float(surface.origin.s)) * float(surface.slope)


def reach(layout: Layout, index: int) -> tuple[float, float]:
    """Stations between which a surface's strands run: the centres of the posts that bound it."""
    posts, joints = layout.posts, {j.between: float(j.station) for j in layout.joints}
    first = joints.get((index - 1, index), float(posts[0].station))
    last = joints.get((index, index + 1), float(posts[-1].station))
    return first, last


def draw_strands(layout: Layout, view: View, room: Rect | None = None) -> Iterator[Part]:
    """Draw every strand, from post centre to post centre."""
    for field in layout.fields:
        surface = layout.line.surfaces[field.surface]
        first, last = reach(layout, field.surface)
        for number, height in enumerate(map(float, field.heights), 1):
            points = tuple((s, datum(surface, s) + height) for s in (first, last))
            what = f"strand {number}, surface {field.surface + 1}"
            yield from lines_on(view, "strand", points, what, room)


def draw_guard(layout: Layout, view: View) -> Iterator[Part]:
    """Draw strands, then posts over them, then the rail."""
    yield from draw_strands(layout, view)
    for post in layout.posts:
        yield from shapes_on(view, "outline", _PAPER, post_outline(post), f"post {post.label}")
    for rail in layout.rails:
        yield from shapes_on(
            view,
            "outline",
            _TONE,
            rail_outline(layout, rail.surface),
            f"rail over surface {rail.surface + 1}",
        )


def post_outline(post: PlacedPost) -> tuple[Pair, ...]:
    """Return the outline of a post, its top cut to the undersides of the rails over it."""
    s, low, half = float(post.station), float(post.base), float(post.width) / 2
    before, after = (low + float(edge) for edge in post.edges)
    faces = (s - half, low), (s + half, low), (s + half, after)
    if post.bevels_deg[0] == post.bevels_deg[1]:
        return (*faces, (s - half, before))
    turn = float(post.bevel_break)
    crown = before + tan(radians(post.bevels_deg[0])) * (turn + half)
    return (*faces, (s + turn, crown), (s - half, before))


def rail_outline(layout: Layout, index: int) -> tuple[Pair, ...]:
    """Return a rail piece's outline: mitred where it meets its neighbour, plumb at other ends."""
    rail, surface = layout.rails[index], layout.line.surfaces[index]
    first, last = (float(rail.start.s), float(rail.start.z)), (float(rail.end.s), float(rail.end.z))
    return (
        first,
        last,
        _under(layout, index, index + 1, last[0]),
        _under(layout, index, index - 1, first[0], surface),
    )


def _under(layout: Layout, index: int, neighbour: int, s: float, surface: PlacedSurface | None = None) -> Pair:
    """Where a piece's underside ends: on the mitre if the two tops meet, else plumb under the top."""
    here = surface or layout.line.surfaces[index]
    own = layout.rails[index]
    level = datum(here, s) + float(own.underside)
    if not 0 <= neighbour < len(layout.rails):
        return s, level
    other, there = layout.rails[neighbour], layout.line.surfaces[neighbour]
    touching = own.end == other.start if neighbour > index else own.start == other.end
    fall = float(here.slope - there.slope)
    if not touching or fall == 0:
        return s, level
    along = (datum(there, s) + float(other.underside) - level) / fall
    return s + along, level + along * float(here.slope)
