"""What might be done about a jog, with the keys that do it: move the post, change a rail's height, move the risers.

Each aims at rails whose tops cross on the post's centre line. Whether it does is found by laying the changed job out:
`stairguard.rules.fixes.jog_remedies`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from typing import Final

from stairguard.geometry.marks import to_mark
from stairguard.model.guard.jogs import Altered, Barred, EdgesApart, Remedy, Setting
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Job
from stairguard.solve.joint.rail_meeting import Meeting, Rails, edge_of

_RAIL_HEIGHT: Final = {
    "landing": Altered.LANDING_RAIL_HEIGHT,
    "flight": Altered.FLIGHT_RAIL_HEIGHT,
    "ramp": Altered.RAMP_RAIL_HEIGHT,
}
"""What changes with a rail's height over each kind of surface."""


def proposals(rails: Rails, meeting: Meeting) -> tuple[Remedy, ...]:
    """Ways to be rid of a jog, none of them tried; the gentler one's height before the other's."""
    before, after, rises = meeting.before, meeting.after, meeting.rises
    ways: list[Remedy] = []
    if meeting.turn_deg == 0 and meeting.meets is not None:
        ways.append(_post_station(rails, meeting, meeting.meets))
    changes = sorted([(before, rises), (after, -rises)], key=lambda change: abs(change[0].slope))
    ways += [_height(rails, surface, rails.heights[surface.index] + by) for surface, by in changes]
    if meeting.turn_deg or meeting.crossed:
        ways += _risers(rails, meeting)
    return tuple(ways)


def with_settings(job: Job, settings: tuple[Setting, ...]) -> Job:
    """The job with keys of its surfaces set."""
    surfaces = list(job.surfaces)
    for setting in settings:
        surfaces[setting.surface] = replace(surfaces[setting.surface], **{setting.key: setting.value})  # type: ignore[arg-type]  # by its own key
    return replace(job, surfaces=tuple(surfaces))


def _lengths(crossed: Sequence[PlacedSurface], by: Fraction, mark: Fraction) -> tuple[Setting, ...]:
    """New lengths of the landings between: of the longest if it can take it all, else of each in its share."""
    old = [s.edge_end.s - s.edge_start.s for s in crossed]
    longest = max(range(len(old)), key=old.__getitem__)
    whole = to_mark(old[longest] + by, mark)
    if whole > 0:
        return (Setting(crossed[longest].index, "length", whole),)
    if sum(old) + by <= 0:
        return ()
    shares = [to_mark(length * (sum(old) + by) / sum(old), mark) for length in old]
    if not all(shares):
        return ()
    return tuple(Setting(s.index, "length", share) for s, share in zip(crossed, shares, strict=True))


def _post_station(rails: Rails, meeting: Meeting, meets: Fraction) -> Remedy:
    from_nosing = meeting.from_nosing()
    value = meets - meeting.boundary if from_nosing is None else from_nosing
    marked = to_mark(meets - meeting.after.edge_start.s, rails.job.mark)
    return Remedy(
        what=Altered.POST_STATION,
        value=value,
        allowed=None,
        why=None,
        surface=None,
        settings=(Setting(meeting.after.index, "start_post", marked),),
    )


def _height(rails: Rails, surface: PlacedSurface, value: Fraction) -> Remedy:
    what, marked = _RAIL_HEIGHT[surface.kind], to_mark(value, rails.job.mark)
    if marked <= rails.job.rail.depth:
        return Remedy(what=what, value=value, allowed=False, why=Barred.RAIL_ON_GROUND, surface=surface.index)
    setting = Setting(surface.index, "rail_height", marked)
    return Remedy(what=what, value=value, allowed=None, why=None, surface=surface.index, settings=(setting,))


def _risers(rails: Rails, meeting: Meeting) -> Iterator[Remedy]:
    """How much farther apart the edges of both sides would let the rails meet, and the level piece instead."""
    moved = meeting.after if meeting.after.slope else meeting.before
    if not moved.slope:
        return
    by = meeting.rises / moved.slope
    apart = EdgesApart(_edges_apart(meeting), rails.job.unit)
    if not meeting.crossed:
        why = Barred.NO_LANDING_BETWEEN if by > 0 else apart
        yield Remedy(what=Altered.RISER_OFFSET, value=by, allowed=False, why=why)
        return
    lengths = _lengths(meeting.crossed, by, rails.job.mark)
    if lengths:
        yield Remedy(what=Altered.RISER_OFFSET, value=by, allowed=None, why=None, surface=None, settings=lengths)
    else:
        yield Remedy(what=Altered.RISER_OFFSET, value=by, allowed=False, why=apart)
    if by < 0:
        pieces = tuple(Setting(s.index, "level_piece", True) for s in meeting.crossed)
        yield Remedy(what=Altered.LEVEL_PIECE, value=-by, allowed=None, why=None, surface=None, settings=pieces)


def _edges_apart(meeting: Meeting) -> Fraction:
    """How far the edges of both sides are apart along the stair, which a guard's corner does not follow."""
    between = (meeting.before, *meeting.crossed, meeting.after)
    jumps = sum((b.edge_start.s - a.edge_end.s for a, b in pairwise(between)), Fraction(0))
    return edge_of(meeting.after, False) - edge_of(meeting.before, True) - jumps
