"""Which face of its post the fitting at a strand's end bears on."""

from __future__ import annotations

from bisect import bisect_left
from operator import neg
from typing import Final

from stairguard.geometry.mitre import cosine, nearest_square
from stairguard.model.guard.pieces import BearsOn
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.solve.plan import Plan
from stairguard.solve.post.positions import Stand

AT_BREAK: Final[BearsOn] = "inner face"
"""What both runs bear on where one ends and the next begins in one hole: the face each comes to."""


def bears_on(plan: Plan, stand: Stand, surface: PlacedSurface, k: int) -> BearsOn:
    """What strand ``k``, counted from 0, of a surface bears on where it can go no farther than a stand.

    Where a run is broken and the next begins in one hole, both bear on the face they come to, whatever the job asks.
    """
    if stand.support != "post":
        return stand.support
    asked = plan.job.post.bearing
    if asked is None:
        return "outer face" if stand.joint is None else "inner face"
    if asked == "outer face" and _shares_its_hole(plan, stand, surface, k):
        return AT_BREAK
    return asked


def _shares_its_hole(plan: Plan, stand: Stand, surface: PlacedSurface, k: int) -> bool:
    """Whether a strand of a joint post's other side ends so near that two fittings through the post would meet.

    Nearer than one strand's diameter and one mark, anywhere between the post's faces.
    """
    if stand.joint is None or stand.before is stand.after:
        return False
    other = stand.after if surface is stand.before else stand.before
    least = plan.job.holes_apart
    ended = plan.fields[other.index].heights[plan.whole(stand.joint) :]
    height = surface.datum(stand.station) + plan.fields[surface.index].heights[k] - other.datum(stand.station)
    below = bisect_left(ended, -height, key=neg)  # highest first: the nearest stand on either side of this place
    slopes, bend = (surface.slope, other.slope), cosine(plan.meetings[stand.joint].turn_deg)
    return any(
        nearest_square(slopes, bend, one - height, stand.half) < least * least
        for one in ended[max(below - 1, 0) : below + 1]
    )
