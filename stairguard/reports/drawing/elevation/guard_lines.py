"""The guard itself: rail pieces with their end cuts, posts, every strand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, hypot, radians, sin
from typing import Final

from stairguard.model.guard.placed_posts import PlacedPost, by_surface
from stairguard.model.guard.rail_joints import Joint
from stairguard.model.guard.rails_and_strands import Field
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.relations.printed import scalars
from stairguard.reports.drawing.elevation.stair_lines import datum, seen
from stairguard.reports.drawing.elevation.supports import draw_supports
from stairguard.reports.drawing.paper.clip import Pair
from stairguard.reports.drawing.paper.drafting import lines_on, shapes_on
from stairguard.reports.drawing.paper.scene import Line, Part, Rect, View

_PAPER: Final = "#ffffff"
_TONE: Final = "#dcdcdc"


def reach(layout: Layout, index: int) -> tuple[float, float]:
    """Stations between which a surface's strands run: the centres of the posts that bound it."""
    posts = [float(p.station) for p in layout.along if any(index in hole.surfaces for hole in p.holes)]
    return posts[0], posts[-1]


def corner_strands(joint: Joint, posts: Sequence[PlacedPost], view: View, room: Rect | None) -> Iterator[Line]:
    """Draw the strands that run between the two posts of a corner, unrolled, whether they end at one or at neither."""
    first, second = posts
    heights = {hole.strand: second.base + hole.height for hole in second.holes}
    for hole in first.holes:
        if hole.passage.side != "both":
            continue
        points = tuple((float(s), float(z)) for s, z in (
            (first.station, first.base + hole.height), (second.station, heights[hole.strand]),
        ))  # fmt: skip
        yield from lines_on(view, "strand", points, f"strand {hole.strand}, corner {joint.post}", room)


def field_strands(
    surface: PlacedSurface, field: Field, ends: tuple[float, float], view: View, room: Rect | None
) -> Iterator[Line]:
    """Draw the strands over one surface between two stations."""
    for number, height in enumerate(map(float, field.heights), 1):
        points = tuple((s, datum(surface, s) + height) for s in ends)
        yield from lines_on(view, "strand", points, f"strand {number}, surface {surface.index + 1}", room)


def draw_strands(layout: Layout, view: View, room: Rect | None = None) -> Iterator[Part]:
    """Draw every strand, from post centre to post centre."""
    for joint in layout.joints:
        if joint.second_post is not None:
            yield from corner_strands(joint, layout.posts_of(joint), view, room)
    held = by_surface(layout.along)
    for field in layout.fields:
        surface = layout.line.surfaces[field.surface]
        if not field.heights:
            continue
        first, last = (float(held[field.surface][end].station) for end in (0, -1))
        if not any(w.first <= last and first <= w.last for w in view.windows):
            continue
        yield from field_strands(surface, field, (first, last), view, room)


def draw_guard(layout: Layout, view: View) -> Iterator[Part]:
    """Draw strands, then posts over them, then the rail."""
    yield from draw_strands(layout, view)
    for post in layout.along:
        if post.support == "post":
            yield from shapes_on(view, "outline", _PAPER, post_outline(post), f"post {post.label}")
    yield from draw_supports(layout, view)
    for rail in layout.rails:
        if rail.start == rail.end or not seen(view, layout.line.surfaces[rail.surface]):
            continue
        yield from shapes_on(
            view,
            "outline",
            _TONE,
            rail_outline(layout, rail.surface),
            f"rail over surface {rail.surface + 1}",
        )


def post_outline(post: PlacedPost) -> tuple[Pair, ...]:
    """Return the outline of a post, its top cut to the undersides of the rails over it."""
    s, low, half = float(post.station), float(post.base), float(post.half)
    before, after = (low + float(edge) for edge in post.edges)
    faces = (s - half, low), (s + half, low), (s + half, after)
    if post.bevels_deg[0] == post.bevels_deg[1]:
        return (*faces, (s - half, before))
    turn = float(post.bevel_break)
    crown = before + scalars.post_bevel(turn + half, post.bevels_deg[0])
    return (*faces, (s + turn, crown), (s - half, before))


def rail_outline(layout: Layout, index: int) -> tuple[Pair, ...]:
    """Return a rail piece's outline: mitred where it meets its neighbour, plumb at other ends."""
    rail, surface = layout.rails[index], layout.line.surfaces[index]
    first, last = (float(rail.start.s), float(rail.start.z)), (float(rail.end.s), float(rail.end.z))
    before = next((j for j in layout.joints if j.between[1] == index), None)
    after = next((j for j in layout.joints if j.between[0] == index), None)
    return (
        first,
        last,
        _under(layout, surface, last[0], after, 1),
        _under(layout, surface, first[0], before, 0),
    )


def _under(layout: Layout, here: PlacedSurface, s: float, joint: Joint | None, side: int) -> Pair:
    """Where a piece's underside ends: on the mitre if it is mitred there, else plumb under the top."""
    level = datum(here, s) + float(layout.rails[here.index].underside)
    if joint is None or not joint.mitred:
        return s, level
    there = layout.line.surfaces[joint.between[side]]
    fall = float(here.slope - there.slope)
    if fall == 0:  # in line: a square butt joint
        turn, depth = radians(here.pitch_deg), float(layout.job.rail.depth)
        return s + depth * sin(turn), level + depth * (1 / cos(turn) - cos(turn))
    along = float(layout.job.rail.depth) * (hypot(1, float(here.slope)) - hypot(1, float(there.slope))) / fall
    return s + along, level + along * float(here.slope)
