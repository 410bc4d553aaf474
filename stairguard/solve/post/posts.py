"""Every post: where it stands, how long it is, and its holes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import NamedTuple, TypeAlias

from stairguard.geometry.marks import to_mark
from stairguard.model.guard.pieces import BearsOn
from stairguard.model.guard.placed_posts import Hole, PlacedPost
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.relations.printed import scalars
from stairguard.relations.printed.by_slope import rail_plumb_depth
from stairguard.solve.line.footing import below
from stairguard.solve.plan import Plan
from stairguard.solve.post.bearing import bears_on
from stairguard.solve.post.positions import Stand

__all__ = ["place_posts"]

_Bears: TypeAlias = tuple[BearsOn | None, BearsOn | None]


class _Top(NamedTuple):
    length: Fraction
    bevels_deg: tuple[float, float]
    turn: Fraction
    edges: tuple[Fraction, Fraction]


def place_posts(plan: Plan, stands: Sequence[Stand], broken: Mapping[int, frozenset[int]]) -> tuple[PlacedPost, ...]:
    """All posts in station order, labelled P1 on; a wall or newel that ends the line is W or N.

    ``broken`` has the numbers of the strands whose runs end at a stand though their lines pass it, by its index.
    """
    patterns: dict[tuple[object, ...], _Pattern] = {}
    alike: dict[tuple[Fraction, ...], int] = {}
    fields = {i: alike.setdefault(f.heights, len(alike)) for i, f in plan.fields.items()}
    posts: list[PlacedPost] = []
    number = 0
    for index, stand in enumerate(stands):
        number += stand.support == "post"
        label = f"P{number}" if stand.support == "post" else _support_label(plan, stand)
        posts.append(_post(plan, stand, label, broken.get(index, frozenset()), fields, patterns))
    return tuple(posts)


def _support_label(plan: Plan, stand: Stand) -> str:
    """W1 or N1 at the line's start, W2 or N2 at its end."""
    return f"{'W' if stand.support == 'wall' else 'N'}{1 if _starts(plan, stand) else 2}"


def _post(
    plan: Plan, stand: Stand, label: str, broken: frozenset[int],
    fields: Mapping[int, int], cached: dict[tuple[object, ...], _Pattern],
) -> PlacedPost:  # fmt: skip
    before, after = stand.before, stand.after
    base = stand.foot.base - below(plan.job, stand.support)
    key: tuple[object, ...] = (
        stand.support,
        stand.role,
        _starts(plan, stand),
        broken,
        *_side(plan, before, stand.station, base, fields),
    )
    if stand.joint is not None:
        joined = plan.joined[stand.joint]
        # one of a corner's two posts holds one leg's strands, alike on both its sides but for the way to the other
        mitre = joined.ends[0] - plan.meetings[stand.joint].station
        key += (before is after, joined.mitred, mitre, joined.chord, _second(plan, stand), plan.whole(stand.joint))
        key += (stand.stance,)
        key += _side(plan, after, stand.station, base, fields)
    if key not in cached:
        holes, top = _holes(plan, stand, base, broken), _top(plan, stand, base)
        cached[key] = _Pattern(before.index, after.index, holes, top)
    top = cached[key].top
    return PlacedPost(
        label=label,
        role=stand.role,
        station=stand.station,
        base=base,
        width=stand.width,
        length=top.length,
        bevels_deg=top.bevels_deg,
        bevel_break=top.turn,
        edges=top.edges,
        stands_on=stand.foot.surface.index,
        step=stand.foot.step,
        holes=cached[key].over(before.index, after.index),
        clear=stand.foot.clear,
        joint=stand.joint,
        support=stand.support,
        stance=stand.stance,
    )


def _side(
    plan: Plan, surface: PlacedSurface, station: Fraction, base: Fraction, fields: Mapping[int, int]
) -> tuple[object, ...]:
    """All that a post's holes and top take from a surface whose strands it holds."""
    lift = surface.datum(station) - base
    return lift, fields[surface.index], surface.slope, plan.rails.heights[surface.index]


class _Pattern:
    """Holes and top of a post, found for two surfaces, good for every alike pair: one story pole."""

    def __init__(self, before: int, after: int, holes: tuple[Hole, ...], top: _Top) -> None:
        self.top = top
        self._pair = (before, after)
        self._known = {(before, after): holes}

    def over(self, before: int, after: int) -> tuple[Hole, ...]:
        """The holes, over these surfaces."""
        known = self._known.get((before, after))
        if known is None:
            now = {self._pair[1]: after, self._pair[0]: before}
            known = tuple(replace(h, surfaces=tuple(now[i] for i in h.surfaces)) for h in self._known[self._pair])
            self._known[before, after] = known
        return known


def _top(plan: Plan, stand: Stand, base: Fraction) -> _Top:
    """The post's top, cut to the underside of the rails over it."""
    half, job = stand.half, plan.job
    before, after = stand.before, stand.after
    if stand.joint is not None and before is not after and not plan.joined[stand.joint].mitred:
        # the rails end on the post's faces: it runs up to the higher one's top there
        tops = (plan.rails.top(before, stand.station - half), plan.rails.top(after, stand.station + half))
        length = max(tops) - base
        return _Top(length, (0.0, 0.0), Fraction(0), (length, length))
    turn = Fraction(0)
    if before.slope != after.slope:
        # a true mitre leans from where the tops meet to where the undersides cross
        first, second = (rail_plumb_depth(job.rail.depth, plan.secs[surface.index]) for surface in (before, after))
        turn = _mitre_at(plan, stand) + (first - second) / (before.slope - after.slope)

    def under(offset: Fraction) -> Fraction:
        # at the turn both are one, but where it was moved to a face only one is left
        surface = before if offset < turn or offset == turn > 0 else after
        return plan.underside(surface, stand.station + offset) - base

    bevels = (before.pitch_deg, after.pitch_deg)
    if abs(turn) >= half:
        # the turn lies beyond a face: the whole top is under one rail
        bevels = (bevels[0],) * 2 if turn > 0 else (bevels[1],) * 2
        turn = half if turn > 0 else -half
    return _Top(
        under(Fraction(0)), bevels, turn if bevels[0] != bevels[1] else Fraction(0), (under(-half), under(half))
    )


def _mitre_at(plan: Plan, stand: Stand) -> Fraction:
    """How far past its centre the rails over a post are mitred."""
    if stand.joint is None:
        return Fraction(0)
    return plan.joined[stand.joint].ends[0] - plan.meetings[stand.joint].station


def _holes(plan: Plan, stand: Stand, base: Fraction, broken: frozenset[int]) -> tuple[Hole, ...]:
    """Holes from the top down; a strand that passes whole has one, one that ends at a joint has its own."""
    before, after = stand.before, stand.after
    if before is after:
        return tuple(_hole(plan, stand, base, k, (before,), broken) for k in range(len(_heights(plan, before))))
    assert stand.joint is not None  # only a joint has two surfaces
    whole = [k for k in range(plan.whole(stand.joint)) if k + 1 not in broken]
    holes = [_hole(plan, stand, base, k, (before, after), broken) for k in whole]
    for surface in (before, after):
        ended = (k for k in range(len(_heights(plan, surface))) if k not in whole)
        holes += [_hole(plan, stand, base, k, (surface,), broken) for k in ended]
    return tuple(sorted(holes, key=lambda h: (-h.height, h.surfaces)))


def _heights(plan: Plan, surface: PlacedSurface) -> tuple[Fraction, ...]:
    return plan.fields[surface.index].heights


class _Way(NamedTuple):
    """A strand on one side of its post: slope and pitch along stations, and level from centre to face, along it."""

    slope: Fraction
    pitch_deg: float
    reach: Fraction


def _ways(
    plan: Plan, stand: Stand, k: int, surfaces: tuple[PlacedSurface, ...], bears: _Bears
) -> tuple[_Way | None, _Way | None]:
    """The strand, or its fitting that goes through, before and after its post's centre, None where there is neither."""
    before, after = (_Way(s.slope, s.pitch_deg, stand.half) for s in (surfaces[0], surfaces[-1]))
    if stand.joint is None or len(surfaces) == 2 or "outer face" in bears:
        return before, after
    if stand.before is not stand.after:
        return (before, None) if surfaces[0] is stand.before else (None, after)
    across = plan.joined[stand.joint].chord
    first, passes = not _second(plan, stand), k < plan.whole(stand.joint)
    if across is None or not passes:
        return (before, None) if first else (None, after)
    between = _Way(across.slope, across.pitch_deg, stand.half * across.reach)
    return (before, between) if first else (between, after)


def _hole(
    plan: Plan, stand: Stand, base: Fraction, k: int, surfaces: tuple[PlacedSurface, ...], broken: frozenset[int]
) -> Hole:
    height = surfaces[0].datum(stand.station) + _heights(plan, surfaces[0])[k] - base
    ended = k + 1 in broken
    bears = _bears(plan, stand, k, surfaces, ended)
    ways = _ways(plan, stand, k, surfaces, bears)
    there = [way for way in ways if way is not None]
    faces = [
        scalars.hole_face(height, side * way.reach, way.slope)
        for side, way in zip((-1, 1), ways, strict=True)
        if way is not None
    ]
    if there[0].slope != there[-1].slope:
        faces.append(height)  # where it bends it may be highest or lowest
    return Hole(
        strand=k + 1,
        height=height,
        marked=to_mark(height, plan.job.mark),
        drill_deg=max((way.pitch_deg for way in there), key=abs),
        before_deg=there[0].pitch_deg,
        after_deg=there[-1].pitch_deg,
        low_face=min(faces),
        high_face=max(faces),
        surfaces=tuple(s.index for s in surfaces),
        broken=ended,
        bears=bears,
    )


def _bears(plan: Plan, stand: Stand, k: int, surfaces: tuple[PlacedSurface, ...], broken: bool) -> _Bears:
    """What a strand's end in this hole bears on: arriving, and leaving; both where one is broken half way."""
    if stand.joint is not None and stand.before is not stand.after:
        if len(surfaces) == 2:
            return None, None
        leaves = surfaces[0] is stand.after
    elif broken:
        return "inner face", "inner face"
    elif stand.joint is not None and k >= plan.whole(stand.joint):
        leaves = _second(plan, stand)
    elif stand.role == "end":
        leaves = _starts(plan, stand)
    else:
        return None, None
    bears = "inner face" if broken else bears_on(plan, stand, surfaces[0], k)
    return (None, bears) if leaves else (bears, None)


def _second(plan: Plan, stand: Stand) -> bool:
    """Whether it is the second of a corner's two posts, on the leg after the turn."""
    meeting = plan.meetings[stand.joint] if stand.joint is not None else None
    return meeting is not None and meeting.two and stand.before.index == meeting.after.index


def _starts(plan: Plan, stand: Stand) -> bool:
    """Whether it is what the line starts at."""
    return stand.joint is None and stand.station == plan.stops[plan.carriers[0].index][0].station
