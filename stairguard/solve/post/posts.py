"""Every post: where it stands, how long it is, and its holes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import NamedTuple, TypeAlias

from stairguard.geometry.marks import to_mark
from stairguard.model.guard.pieces import BearsOn
from stairguard.model.guard.placed_posts import CloseHoles, Face, Hole, PlacedPost, post_label
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.relations.printed import scalars
from stairguard.relations.printed.by_slope import rail_plumb_depth
from stairguard.solve.line.footing import below
from stairguard.solve.plan import Plan
from stairguard.solve.post.bearing import AT_BREAK, bears_on
from stairguard.solve.post.close_holes import close_holes
from stairguard.solve.post.passing import BrokenRuns, Passing, passing
from stairguard.solve.post.positions import Stand, is_second, starts_line

_Bears: TypeAlias = tuple[BearsOn | None, BearsOn | None]


class _Top(NamedTuple):
    length: Fraction
    bevels_deg: tuple[float, float]
    turn: Fraction
    edges: tuple[Fraction, Fraction]


def place_posts(plan: Plan, stands: Sequence[Stand], broken: Mapping[int, BrokenRuns]) -> tuple[PlacedPost, ...]:
    """All posts in station order, labelled P1 on; a wall or newel that ends the line is W or N.

    ``broken`` is what is broken at a stand, by its index.
    """
    patterns: dict[tuple[object, ...], _Pattern] = {}
    alike: dict[tuple[Fraction, ...], int] = {}
    fields = {i: alike.setdefault(f.heights, len(alike)) for i, f in plan.fields.items()}
    posts: list[PlacedPost] = []
    number = 0
    for index, stand in enumerate(stands):
        number += stand.support == "post"
        # a wall or newel is the first at the line's start, the second at its end
        at_end = 1 if starts_line(plan, stand) else 2
        label = post_label(stand.support, number if stand.support == "post" else at_end)
        posts.append(_post(plan, stand, label, broken.get(index, {}), fields, patterns))
    return tuple(posts)


def _post(
    plan: Plan, stand: Stand, label: str, broken: BrokenRuns,
    fields: Mapping[int, int], cached: dict[tuple[object, ...], _Pattern],
) -> PlacedPost:  # fmt: skip
    before, after = stand.before, stand.after
    base = stand.foot.base - below(plan.job, stand.support)
    key: tuple[object, ...] = (
        stand.support,
        stand.role,
        starts_line(plan, stand),
        tuple(sorted(broken.items())),
        *_side(plan, before, stand.station, base, fields),
    )
    if stand.joint is not None:
        joined = plan.joined[stand.joint]
        # one of a corner's two posts holds one leg's strands, alike on both its sides but for the way to the other
        mitre = joined.ends[0] - plan.meetings[stand.joint].station
        key += (before is after, joined.mitred, mitre, joined.chord, is_second(plan, stand), stand.stance)
        key += (plan.whole(stand.joint), plan.barred[stand.joint])
        key += _side(plan, after, stand.station, base, fields)
    if key not in cached:
        cached[key] = _Pattern(plan, stand, base, broken)
    top, drilled = cached[key].top, cached[key].over(before.index, after.index)
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
        holes=drilled.holes,
        clear=stand.foot.clear,
        joint=stand.joint,
        support=stand.support,
        stance=stand.stance,
        close=drilled.close,
    )


def _side(
    plan: Plan, surface: PlacedSurface, station: Fraction, base: Fraction, fields: Mapping[int, int]
) -> tuple[object, ...]:
    """All that a post's holes and top take from a surface whose strands it holds."""
    lift = surface.datum(station) - base
    return lift, fields[surface.index], surface.slope, plan.rails.heights[surface.index]


class _Drilled(NamedTuple):
    """A post's holes, and pairs of them that come too close."""

    holes: tuple[Hole, ...]
    close: tuple[CloseHoles, ...]


class _Pattern:
    """Holes and top of a post, found for two surfaces, good for every alike pair: one story pole."""

    def __init__(self, plan: Plan, stand: Stand, base: Fraction, broken: BrokenRuns) -> None:
        self.top = _top(plan, stand, base)
        holes = _holes(plan, stand, base, broken)
        self._close = tuple(close_holes(holes, plan.job.holes_apart))
        self._pair = (stand.before.index, stand.after.index)
        self._known = {self._pair: self._drilled(holes)}

    def _drilled(self, holes: tuple[Hole, ...]) -> _Drilled:
        return _Drilled(holes, tuple(replace(close, first=holes[i], second=holes[j]) for i, j, close in self._close))

    def over(self, before: int, after: int) -> _Drilled:
        """The holes, over these surfaces."""
        known = self._known.get((before, after))
        if known is None:
            now = {self._pair[1]: after, self._pair[0]: before}
            holes = self._known[self._pair].holes
            known = self._drilled(tuple(replace(h, surfaces=tuple(now[i] for i in h.surfaces)) for h in holes))
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


def _holes(plan: Plan, stand: Stand, base: Fraction, broken: BrokenRuns) -> tuple[Hole, ...]:
    """Holes from the top down; a strand that passes whole has one, one that ends at a joint has its own."""
    holes = [_hole(plan, stand, base, one) for one in passing(plan, stand, broken)]
    return tuple(sorted(holes, key=lambda hole: -hole.height))  # at one height what arrives stays before what leaves


def _hole(plan: Plan, stand: Stand, base: Fraction, one: Passing) -> Hole:
    surface = one.surfaces[0]
    height = surface.datum(stand.station) + plan.fields[surface.index].heights[one.k] - base
    bears = _bears(plan, stand, one)
    before, after = _ways(plan, stand, one, bears)
    return Hole(
        strand=one.k + 1,
        height=height,
        marked=to_mark(height, plan.job.mark),
        surfaces=tuple(s.index for s in one.surfaces),
        passage=one.passage,
        faces=(_face(plan, stand, before, -1, height), _face(plan, stand, after, 1, height)),
        bears=bears,
    )


class _Way(NamedTuple):
    """A strand on one side of its post: slope and pitch along stations, and how it meets the face, as `Face` has it."""

    slope: Fraction
    pitch_deg: float
    skew_deg: float
    reach: Fraction


def _face(plan: Plan, stand: Stand, way: _Way | None, side: int, centre: Fraction) -> Face | None:
    if way is None:
        return None
    height = scalars.hole_face(centre, side * stand.half * way.reach, way.slope)
    return Face(
        height=height,
        marked=to_mark(height, plan.job.mark),
        tilt_deg=way.pitch_deg,
        skew_deg=way.skew_deg,
        reach=way.reach,
    )


def _ways(plan: Plan, stand: Stand, one: Passing, bears: _Bears) -> tuple[_Way | None, _Way | None]:
    """The strand, or its fitting that goes through, before and after its post's centre, None where there is neither."""
    before, after = (
        _Way(surface.slope, surface.pitch_deg, abs(askew), Fraction(1))
        for surface, askew in zip((one.surfaces[0], one.surfaces[-1]), stand.stance.askews_deg, strict=True)
    )
    if stand.joint is None or len(one.surfaces) == 2 or "outer face" in bears:
        return before, after
    if one.passage.side != "both":
        return (before, None) if one.passage.side == "before" else (None, after)
    across = plan.joined[stand.joint].chord
    assert across is not None  # what passes one of a corner's two posts comes from the other
    between = _Way(across.slope, across.pitch_deg, across.skew_deg, across.reach)
    return (between, after) if is_second(plan, stand) else (before, between)


def _bears(plan: Plan, stand: Stand, one: Passing) -> _Bears:
    """What a strand's end in a hole bears on: arriving, and leaving; both where one is broken half way."""
    if one.passage.passes:
        return None, None
    if one.passage.side == "both":
        return AT_BREAK, AT_BREAK
    bears = AT_BREAK if one.passage.broken else bears_on(plan, stand, one.surfaces[0], one.k)
    return (None, bears) if one.passage.side == "after" else (bears, None)
