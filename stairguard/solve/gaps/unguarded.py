"""Past the ends of the guard: walking surface of the line that its last post leaves beside no strand.

What stands there the job does not say. At best it is something right at the line's end: then what is left is an
opening as wide as the stretch is long, and it is held to the rules as one, wherever a guard is asked for. Where the
surface stands too low over the line's lowest ground for that, it is told, and the authority decides.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from stairguard.geometry.exact.surd import Surd
from stairguard.geometry.marks import to_mark
from stairguard.model.guard.guard_openings import Opening, Unguarded
from stairguard.model.guard.opening_kinds import Touch, Where
from stairguard.model.guard.placed_posts import PlacedPost
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.solve.line.footing import tread_at
from stairguard.solve.plan import Plan
from stairguard.solve.sphere.verdicts import verdict

_TOUCHES: Final = (Touch("post"), Touch("line end"))


def unguarded(plan: Plan, posts: tuple[PlacedPost, ...]) -> tuple[Unguarded, ...]:
    """The stretches before the first post and after the last; none at a wall or newel, or where the line closes."""
    if plan.job.closed:
        return ()
    ends = (posts[0], plan.carriers[0], 1), (posts[-1], plan.carriers[-1], -1)
    return tuple(found for end in ends for found in _stretch(plan, *end))


def _stretch(plan: Plan, post: PlacedPost, surface: PlacedSurface, inward: int) -> Iterator[Unguarded]:
    edge = surface.start.s if inward > 0 else surface.end.s
    half = post.width / 2
    face = post.station - inward * half
    length = inward * (face - edge)
    if post.support != "post" or length <= 0:
        return
    marked = abs(to_mark(post.station, plan.job.mark) - inward * half - edge)
    high = _highest(plan, surface, (face, edge))
    drop = _drop(plan, high)
    # what no rule speaks of counts as asking for a guard
    asking = [rule for rule in plan.rules.rules if rule.quantity == "guard required"]
    asked = not asking or any(
        drop >= rule.value if rule.kind == "where at least" else drop > rule.value for rule in asking
    )
    yield Unguarded(
        where=_where(plan, surface, post, inward),
        surface=surface.index,
        post=post.label,
        face=face,
        edge=edge,
        marked=marked,
        high=high,
        drop=drop,
        asked=asked,
    )


def _where(plan: Plan, surface: PlacedSurface, post: PlacedPost, inward: int) -> Where:
    if surface.kind != "flight":
        return Where("past end", post=post.label, walked=surface.kind)
    return Where("past end", post=post.label, end="top" if inward != plan.ups[surface.index].way else "bottom")


def _highest(plan: Plan, surface: PlacedSurface, ends: tuple[Fraction, Fraction]) -> Fraction:
    """Elevation of the highest walking surface of a stretch: of a flight, a tread."""
    if surface.kind != "flight":
        return max(surface.datum(s) for s in ends)
    up = plan.ups[surface.index]
    return up.elevation(up.z(tread_at(up, max(up.local(s) for s in ends))))


def _drop(plan: Plan, high: Fraction) -> Fraction:
    """The fall beside a surface so high, as far as the job tells: to the line's lowest, or by the greatest stated."""
    levels = [point.z for surface in plan.line.surfaces for point in (surface.start, surface.end)]
    lowest, stated = min(levels), plan.job.site.drop
    if stated is not None:
        lowest = min(lowest, max(levels) - stated)
    return high - lowest


def past_ends(plan: Plan, stretches: tuple[Unguarded, ...]) -> Iterator[Opening]:
    """The openings of the stretches beside which a guard is asked for: at the least as wide as each is long."""
    for one in stretches:
        if not one.asked:
            continue
        surface = plan.line.surfaces[one.surface]
        sizes = Surd(one.length), Surd(one.marked)
        ruled = [(rule, bool(verdict(rule, sizes))) for rule in plan.rules.openings(surface.kind, edged=surface.edged)]
        rule, passes = ruled[0] if ruled else (None, None)
        middle = float(one.face + one.edge) / 2
        at = float(one.high + plan.rails.heights[one.surface] / 2)
        yield Opening(
            where=one.where,
            surface=one.surface,
            sphere=float(one.length),
            sphere_as_marked=float(one.marked),
            rule=rule,
            passes=passes,
            touches=_TOUCHES,
            contacts=((float(one.face), at), (float(one.edge), at)),
            centre=(middle, at),
            others=tuple(ruled[1:]),
        )
