"""Posts in English: how their figures are read, what each stands on, and how its top is cut."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from stairguard.model.guard.pieces import PostCut
from stairguard.model.guard.placed_posts import PlacedPost
from stairguard.model.guard.solved_layout import Layout
from stairguard.reports.words.grouping import Series, labels
from stairguard.reports.words.lengths import Figures, degrees_words
from stairguard.reports.words.names import surface_names

_HALF_TURN: Final = 180

POSTS_TOLD: Final = (
    "Centres level from the start of surface 1, never from post to post; bases plumb from the same "
    "datum. Length plumb from base to the rail's underside, on the centre line. Bevel from level, "
    "positive where the top rises as stations increase. Clear: how far the foot is inside its tread or "
    "surface, level, at the nearer edge along the guard."
)


def mounting_words(layout: Layout, figures: Figures) -> str:
    """How posts on the stair's side are mounted."""
    post = layout.job.post
    return (
        f"Mounted on the stair's side: feet {figures.tape(post.drop)} plumb below the tread or surface named, strands "
        f"{figures.tape(post.offset)} level out from the side.{_held_off(layout, figures)}{_on_a_hand(layout, figures)}"
    )


def _held_off(layout: Layout, figures: Figures) -> str:
    """What lies between the side and a post as deep as it is wide, its centre where the strands are."""
    post = layout.job.post
    if not post.out:
        return ""
    clear = post.out - post.width / 2
    if clear > 0:
        return f" Posts as deep as wide then stand {figures.tape(clear)} clear of the side: what fills that holds them."
    return f" Posts as deep as wide are then let {figures.tape(-clear)} into the side, or notched." if clear else ""


def _on_a_hand(layout: Layout, figures: Figures) -> str:
    """What turns do to the lengths of a guard that stands out from the stair's edge."""
    post, turns = layout.job.post, {abs(joint.turn_deg) for joint in layout.joints} - {0}
    if not post.aside or not turns:
        return ""
    words = (
        f" The guard stands on the {post.hand} hand of the walk: stations are along it, from corner to corner of "
        "its own line, which is longer than the edge on the outside of a turn and shorter on the inside."
    )
    if _HALF_TURN in turns:
        words += f" A half-turn's well is taken as {figures.tape(2 * post.offset)} wide, the guard in its middle."
    return words


def stands_on(one: Series[PlacedPost], layout: Layout) -> str:
    """What a post stands on, and how many there are like it."""
    post, names = one.first, surface_names(layout)
    flights = sum(surface.kind == "flight" for surface in layout.line.surfaces)
    words = names[post.stands_on]
    if post.step is not None:
        words = f"tread {post.step}" if flights == 1 else f"tread {post.step} of surface {post.stands_on + 1}"
    elif (flight := layout.line.surfaces[post.stands_on]).kind == "flight" and post.support != "post":
        words = f"floor {'above' if post.base == max(flight.start.z, flight.end.z) else 'below'} {words}"
    elif layout.line.surfaces[post.stands_on].kind == "flight":
        words = f"landing at surface {post.stands_on + 1}"
    if layout.past_edge_of_turn(post):
        words += ", at its corner"
    elif post.clear is not None and post.clear < 0 and layout.job.post.mount == "surface" and post.support == "post":
        words += ", OVERHANGS"
    if len(one.members) > 1:
        words += f", {len(one.members)} alike"
    return words


def bevel_text(post: PlacedPost | PostCut) -> str:
    """Write a top's bevel, or its two."""
    before, after = (degrees_words(bevel) for bevel in post.bevels_deg)
    return before if before == after else f"{before} / {after}"


def joint_top_words(same: Sequence[PlacedPost], layout: Layout, figures: Figures) -> Iterator[str]:
    """Say how a joint post's top is cut, and how high it is at each face; of a level and square one nothing."""
    post = same[0]
    before, after = layout.neighbours(post)
    alike = f" Alike: {labels(other.label for other in same[1:])}." if len(same) > 1 else ""
    tops = [figures.tape(top) for top in layout.rail_tops_at(post)]
    if tops:
        yield (
            f"{post.label}: the rails end on its faces, their tops {tops[0]} high at the face towards {before}, "
            f"{tops[1]} at the face towards {after}; the post runs up past their undersides, as high as the higher "
            f"top.{alike}"
        )
    elif post.bevels_deg != (0, 0):
        yield f"{post.label}: {top_text(post, layout, figures)}.{alike}"


def top_text(post: PlacedPost, layout: Layout, figures: Figures) -> str:
    """Tell a joint post's top from one face to the other."""
    before, after = layout.neighbours(post)
    edges = [figures.tape(edge) for edge in post.edges]
    slopes = [degrees_words(bevel) for bevel in post.bevels_deg]
    cut = f"top {slopes[0]} throughout"
    if post.bevels_deg[0] != post.bevels_deg[1]:
        off, side = figures.tape(abs(post.bevel_break)), after if post.bevel_break > 0 else before
        where = f"{off} from the centre line towards {side}" if post.bevel_break else "on the centre line"
        cut = f"top {slopes[0]} from the face towards {before}, then {slopes[1]}; it turns {where}"
    return f"{cut}; {edges[0]} high at the face towards {before}, {edges[1]} at the face towards {after}"


def turning_words(same: Sequence[PlacedPost], cuts: Mapping[str, str], layout: Layout, figures: Figures) -> str:
    """Where the top of two slopes turns of posts that are cut alike; ``cuts`` names each post's piece."""
    post, others = same[0], [cuts[other.label].removeprefix("post ") for other in same[1:]]
    alike = f" So post{'s' if len(others) > 1 else ''} {', '.join(others)}." if others else ""
    return f"{cuts[post.label]} ({post.label}): {top_text(post, layout, figures)}.{alike}"
