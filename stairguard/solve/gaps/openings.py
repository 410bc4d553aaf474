"""Every opening of a guard with its largest sphere, as designed and as the tape marks will make it."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple, TypeAlias

from stairguard.geometry.exact.surd import Surd, sqrt
from stairguard.geometry.marks import to_mark
from stairguard.geometry.slope import secant
from stairguard.model.guard.guard_openings import Drawn, Gap, Opening, Section
from stairguard.model.guard.opening_kinds import PARTS, Touch, TouchedPart, Where
from stairguard.model.guard.placed_posts import Hole, PlacedPost, by_surface
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.rules import Rule
from stairguard.relations.printed.by_slope import plumb_of_square, square_of_plumb
from stairguard.solve.gaps.corner_openings import across_corners
from stairguard.solve.gaps.overruns import overruns
from stairguard.solve.gaps.valleys import past_mitres
from stairguard.solve.plan import Plan
from stairguard.solve.sphere.below_lowest import STEPS, TRIANGLE, Pocketed, PocketPlace, along
from stairguard.solve.sphere.edge_sphere import edge_sphere
from stairguard.solve.sphere.step_profile import Member, Profile
from stairguard.solve.sphere.verdicts import edge_within, keeps, verdict


class _Mark(NamedTuple):
    """One post as marked: plumb heights of a surface's strands above its datum, highest first, and under the rail."""

    heights: tuple[Fraction, ...]
    under_rail: Fraction


_Marks: TypeAlias = Sequence[_Mark]


class _Pocket(NamedTuple):
    """A pocket under the lowest strand of a flight, in the flight's own frame: like flights share it, up or down."""

    cell: int
    place: PocketPlace
    sphere: float
    as_marked: float
    rule: Rule | None
    passes: bool | None
    touches: tuple[Touch, ...]
    contacts: tuple[tuple[float, float], ...]
    centre: tuple[float, float]
    sections: tuple[Section, Section]
    leave: Rule | None
    out: float
    error: float


_Templates: TypeAlias = dict[tuple[Profile, Fraction, Fraction, int], tuple[_Pocket, ...]]


def measure(plan: Plan, posts: tuple[PlacedPost, ...]) -> tuple[Opening, ...]:
    """All openings: surface by surface, under the rail, between strands, under the lowest."""
    found: list[Opening] = []
    templates: _Templates = {}
    held, labels = by_surface(posts), {post.station: post.label for post in posts}
    lowest: dict[int, Fraction] = {}
    for surface in plan.carriers:
        marks = _marks(plan, surface, held[surface.index])
        shown = _shown(surface, held[surface.index])
        lowest[surface.index] = max(m.heights[-1] for m in marks)
        found.extend(_under_rail(plan, surface, marks, shown, labels))
        found.extend(_between(plan, surface, marks, shown))
        if surface.kind == "flight":
            found.extend(_under_flight(plan, surface, marks, posts, templates))
            found.extend(_open_risers(plan, surface))
        else:
            found.extend(_under_level(plan, surface, marks, shown))
    found.extend(across_corners(plan, posts))
    if plan.job.post.handed:
        from stairguard.solve.gaps.corner_ways import round_corners  # only where strands may stand out from the stair

        found.extend(round_corners(plan, lowest))
    return tuple(found)


def _marks(plan: Plan, surface: PlacedSurface, posts: Sequence[PlacedPost]) -> _Marks:
    """A surface's strands as marked at each post, posts marked alike taken once.

    Holes, the post's length (which carries the rail) and its station are all at their marks.
    """
    mark = plan.job.mark
    found: dict[_Mark, None] = {}
    for post in posts:
        holes = sorted((h for h in post.holes if surface.index in h.surfaces), key=lambda h: h.strand)
        lift = post.base - surface.datum(to_mark(post.station, mark))
        carries_rail = post.joint is None or plan.joined[post.joint].mitred or plan.meetings[post.joint].two
        raised = to_mark(post.length, mark) - post.length if carries_rail else Fraction(0)
        drilled = [_drilled(hole) for hole in holes]
        rail = plan.underside(surface, post.station) - post.base + raised
        found[_Mark(tuple(h + lift for h in drilled), rail - drilled[0])] = None
    return list(found)


def _drilled(hole: Hole) -> Fraction:
    """Height on the post's centre line of a strand whose hole is at its mark: there, or on the face it ends at."""
    face = hole.only_face
    return hole.marked if face is None else hole.height + face.marked - face.height


def _shown(surface: PlacedSurface, posts: Sequence[PlacedPost]) -> Fraction:
    """Station at which openings that are alike all along a surface are shown: the middle of its widest bay."""
    bays = [(a.station + a.half, b.station - b.half) for a, b in pairwise(posts)]
    over = [(max(low, surface.start.s), min(high, surface.end.s)) for low, high in bays]
    low, high = max(over, key=lambda bay: bay[1] - bay[0])
    return (low + high) / 2


@lru_cache(maxsize=1024)
def _gap_figures(
    slope: Fraction, plumb: Fraction, marked: Fraction, less: Fraction, rules: tuple[Rule, ...]
) -> tuple[float, float, tuple[bool | None, ...]]:
    """A gap square to its slope, as designed and as marked, less what strands take of it, and the exact verdicts."""
    sec = sqrt(1 + slope * slope)
    designed, as_marked = (square_of_plumb(Surd(size), sec) - less for size in (plumb, marked))
    return float(designed), float(as_marked), tuple(verdict(rule, (designed, as_marked)) for rule in rules)


def _gap(
    plan: Plan, surface: PlacedSurface, where: Where, touches: tuple[Touch, Touch],
    top: Fraction, plumb: Fraction, marked: Fraction, radii: tuple[Fraction, Fraction], strands: tuple[int, ...],
    shown: Fraction,
) -> Opening:  # fmt: skip
    """An opening between two parallel lines, ``plumb`` apart, the upper one ``top`` above the datum.

    Its largest sphere is shown centred at the station ``shown``.
    """
    rules = _speaking(plan, surface, top, plumb, radii)
    diameter, as_marked, verdicts = _gap_figures(surface.slope, plumb, marked, sum(radii, Fraction(0)), rules)
    ruled = [(rule, bool(passes)) for rule, passes in zip(rules, verdicts, strict=True)]
    rule, passes = ruled[0] if ruled else (None, None)
    sec = float(secant(surface.slope))
    cos, sin = 1 / sec, float(surface.slope) / sec
    # down from the upper line, square to it
    first = float(radii[0])
    s = float(shown) - (first + diameter / 2) * sin
    high = float(surface.datum(shown) + top) - (first + diameter / 2) * sin * float(surface.slope)
    a, centre, b = ((s + w * sin, high - w * cos) for w in (first, first + diameter / 2, first + diameter))
    return Opening(
        where=where,
        surface=surface.index,
        sphere=diameter,
        sphere_as_marked=as_marked,
        rule=rule,
        passes=passes,
        touches=touches,
        contacts=(a, b),
        centre=centre,
        bounds=Gap(strands),
        others=tuple(ruled[1:]),
    )


def _speaking(
    plan: Plan, surface: PlacedSurface, top: Fraction, plumb: Fraction, radii: tuple[Fraction, Fraction]
) -> tuple[Rule, ...]:
    """The rules on what is clear between two parallel lines."""
    sec = secant(surface.slope)
    high, low = top - plumb_of_square(radii[0], sec), top - plumb + plumb_of_square(radii[1], sec)
    return plan.rules.openings(surface.kind, low=max(low, Fraction(0)), high=high, edged=surface.edged)


def _under_rail(
    plan: Plan, surface: PlacedSurface, marks: _Marks, shown: Fraction, labels: Mapping[Fraction, str]
) -> Iterator[Opening]:
    """Between the rail and strand 1: alike all along, and what the neighbours' rails leave beside their posts."""
    under, first = plan.undersides[surface.index], plan.fields[surface.index].heights[0]
    radii = (Fraction(0), plan.job.strand.diameter / 2)
    plumb, marked = under - first, max(m.under_rail for m in marks)
    touches = Touch("rail"), Touch("strand", 1)
    strip = _gap(plan, surface, Where("under rail"), touches, under, plumb, marked, radii, (1,), shown)
    yield strip
    yield from past_mitres(plan, strip, (plumb, marked), labels)


def _between(plan: Plan, surface: PlacedSurface, marks: _Marks, shown: Fraction) -> Iterator[Opening]:
    """Equal as designed; as marked, the widest between any two strands at any post, of those under the same rules."""
    field, radius = plan.fields[surface.index], plan.job.strand.diameter / 2
    alike: dict[tuple[Rule, ...], list[int]] = {}
    for k in range(len(field.heights) - 1):
        rules = _speaking(plan, surface, field.heights[k], field.plumb_spacing, (radius, radius))
        alike.setdefault(rules, []).append(k)
    for upper in alike.values():
        widest, k = max((m.heights[k] - m.heights[k + 1], -k) for m in marks for k in upper)
        numbers = (1 - k, 2 - k)
        touches = Touch("strand", numbers[0]), Touch("strand", numbers[1])
        yield _gap(
            plan, surface, Where("between strands"), touches, field.heights[-k], field.plumb_spacing, widest,
            (radius, radius), numbers, shown,
        )  # fmt: skip


def _under_level(plan: Plan, surface: PlacedSurface, marks: _Marks, shown: Fraction) -> Iterator[Opening]:
    """Between the lowest strand and a landing or ramp, and at its ends where the strands overrun the next surface."""
    lowest, number = plan.fields[surface.index].heights[-1], len(plan.fields[surface.index].heights)
    radii = (plan.job.strand.diameter / 2, Fraction(0))
    marked = max(m.heights[-1] for m in marks)
    touches = Touch("strand", number), Touch(surface.kind)
    if plan.job.post.out:
        yield _past_edge(plan, surface, lowest, marked, shown)
    else:
        where = Where("under lowest strand")
        yield _gap(plan, surface, where, touches, lowest, lowest, marked, radii, (number,), shown)
    yield from overruns(plan, surface, lowest, marked)


def _under_flight(
    plan: Plan, surface: PlacedSurface, marks: _Marks, posts: tuple[PlacedPost, ...], templates: _Templates
) -> Iterator[Opening]:
    """Each pocket under the lowest strand; as marked, with the strand wherever it is highest at any post."""
    profile, heights = plan.profiles[surface.index], plan.fields[surface.index].heights
    lowest, marked, number = heights[-1], max(m.heights[-1] for m in marks), len(heights)
    key = (profile, lowest, marked, number)
    if key not in templates:
        templates[key] = tuple(_pockets(plan, *key))
    for pocket in templates[key]:
        yield _pocket(plan, surface, pocket, posts)


def _pockets(plan: Plan, profile: Profile, lowest: Fraction, marked: Fraction, number: int) -> Iterator[_Pocket]:
    radius = plan.job.strand.diameter / 2
    edge = plan.rules.leave_by_edge(apart=bool(profile.offset))
    let_off = edge if edge is not None and edge_within(edge, max(lowest, marked), radius, profile.slope) else None
    as_designed = {_key(p): p for p in along(profile, Member("strand", lowest, radius), plan.rules)}
    as_marked = {_key(p): p for p in along(profile, Member("strand", marked, radius), plan.rules)}
    for key in sorted(as_designed | as_marked):
        # a pocket that only one of the two has is judged by that one
        one, other = as_designed.get(key) or as_marked[key], as_marked.get(key) or as_designed[key]
        passes = keeps(one.rule, ((p.found.outline, p.found.pocket) for p in (one, other)))
        leave = let_off if passes is False and one.place in STEPS else None
        names, contacts = one.found.touched_once()
        dx, dz = float(one.dx), float(one.dz)
        centre = one.found.pocket.centre
        yield _Pocket(
            one.cell,
            one.place,
            one.found.pocket.diameter,
            other.found.pocket.diameter,
            one.rule,
            True if leave else passes,
            tuple(Touch(PARTS[name]) for name in names),
            tuple((x + dx, z + dz) for x, z in contacts),
            (centre[0] + dx, centre[1] + dz),
            _sections(number, one, other),
            leave,
            one.found.pocket.out,
            one.found.pocket.error or 0.0,
        )


def _sections(number: int, one: Pocketed, other: Pocketed) -> tuple[Section, Section]:
    """Of a flight that goes up, and of one that goes down."""
    drawn = (Drawn(p.found.outline, tuple(found.pocket for found in p.every)) for p in (one, other))
    designed, marked = drawn
    return Section(number, 1, designed, marked), Section(number, -1, designed, marked)


def _key(p: Pocketed) -> tuple[int, PocketPlace]:
    return p.cell, p.place


def _pocket(plan: Plan, surface: PlacedSurface, p: _Pocket, posts: tuple[PlacedPost, ...]) -> Opening:
    up = plan.ups[surface.index]
    s0, z0, way = float(up.nosing_1.s), float(up.nosing_1.z), up.way
    return Opening(
        where=_where(plan, surface, p, posts),
        surface=surface.index,
        sphere=p.sphere,
        sphere_as_marked=p.as_marked,
        rule=p.rule,
        passes=p.passes,
        touches=p.touches,
        contacts=tuple((s0 + way * x, z0 + z) for x, z in p.contacts),
        centre=(s0 + way * p.centre[0], z0 + p.centre[1]),
        bounds=p.sections[way < 0],
        leave=p.leave,
        out=p.out,
        error=p.error,
    )


def _where(plan: Plan, surface: PlacedSurface, p: _Pocket, posts: tuple[PlacedPost, ...]) -> Where:
    beside = Touch("post") in p.touches and p.place != TRIANGLE
    profile, risers = plan.profiles[surface.index], plan.ups[surface.index].count
    if p.cell in (0, risers):
        if beside:
            return Where("wedge at post", post=_bounding(plan, surface, posts, int(p.cell == risers)))
        if p.cell == 0:
            return Where("first riser", walked=profile.low_floor)
        return Where("over head", walked=profile.high_floor)
    if beside:
        return Where("beside post", step=p.cell)
    return Where("step triangle" if p.place == TRIANGLE else "over tread", step=p.cell)


def _bounding(plan: Plan, surface: PlacedSurface, posts: tuple[PlacedPost, ...], end: int) -> str:
    """Label of the post that bounds a flight's strands at its bottom (0) or top (1)."""
    stop = plan.stops[surface.index][:: plan.ups[surface.index].way][end]
    at = bisect_left(posts, stop.station, key=lambda p: p.station)
    return posts[at].label


def _past_edge(plan: Plan, surface: PlacedSurface, lowest: Fraction, marked: Fraction, shown: Fraction) -> Opening:
    """Under a lowest strand that stands out from the edge of a landing or ramp: the way between edge and strand.

    Where the strand is as low as the edge, or lower, the way is between it and the side below that.
    """
    out, diameter = plan.job.post.out, plan.job.strand.diameter
    number, sec = len(plan.fields[surface.index].heights), secant(surface.slope)
    designed, as_marked = (edge_sphere(height, out, diameter, surface.slope) for height in (lowest, marked))
    radii = (diameter / 2, Fraction(0))
    rules = _speaking(plan, surface, lowest, lowest, radii)
    ruled = [(rule, bool(verdict(rule, (designed, as_marked)))) for rule in rules]
    rule, passes = ruled[0] if ruled else (None, None)
    square = float(square_of_plumb(max(lowest, Fraction(0)), sec))
    edge = float(shown), float(surface.datum(shown) + min(lowest, Fraction(0)))
    share = float(designed) / 2 / (float(designed) + float(diameter) / 2)
    up = -float(surface.slope) / float(sec), 1 / float(sec)  # square to the surface, in elevation
    centre, met = ((edge[0] + square * by * up[0], edge[1] + square * by * up[1]) for by in (share, 2 * share))
    side: TouchedPart = "stair side" if lowest <= 0 else surface.kind
    return Opening(
        where=Where("under lowest strand"),
        surface=surface.index,
        sphere=float(designed),
        sphere_as_marked=float(as_marked),
        rule=rule,
        passes=passes,
        touches=(Touch("strand", number), Touch(side)),
        contacts=(met, edge),
        centre=centre,
        bounds=Gap((number,)),
        others=tuple(ruled[1:]),
        out=float(out) * share,
    )


def _open_risers(plan: Plan, surface: PlacedSurface) -> Iterator[Opening]:
    """Between one tread and the next where risers are open: seen along the flight, a slot of one height."""
    up = plan.ups[surface.index]
    flight = up.given
    if not flight.open_risers:
        return
    low, high = plan.profiles[surface.index].cells
    rule = plan.rules.opening("open riser", "flight")
    for i in range(low, min(high + 1, up.count)):
        floor = up.z(i) if i else -up.first_rise
        gap = Surd(up.z(i + 1) - floor - flight.tread)
        passes = verdict(rule, (gap,))
        s = float(up.station(up.x(i + 1) + flight.nosing / 2))
        z = float(up.elevation(floor))
        d = float(gap)
        below = Touch("landing" if i == 0 else "tread")
        yield Opening(
            where=Where("open riser", step=i + 1),
            surface=surface.index,
            sphere=d,
            sphere_as_marked=d,
            rule=rule,
            passes=passes,
            touches=(below, Touch("nosing")),
            contacts=((s, z), (s, z + d)),
            centre=(s, z + d / 2),
        )
