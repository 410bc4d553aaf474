"""Every opening of a guard with its largest sphere, as designed and as the tape marks will make it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple, TypeAlias

from stairguard.geometry.marks import to_mark
from stairguard.geometry.pockets import compare
from stairguard.geometry.slope import secant
from stairguard.geometry.surd import Surd, sqrt
from stairguard.model.guard import Hole, Opening, PlacedPost, PlacedSurface
from stairguard.model.rules import Rule
from stairguard.solve.plan import Plan
from stairguard.solve.profile import Member
from stairguard.solve.step import touched_once
from stairguard.solve.under import Pocketed, along, stops

__all__ = ["measure"]


class _Mark(NamedTuple):
    """One post as marked: plumb heights of a surface's strands above its datum, highest first, and under the rail."""

    heights: tuple[Fraction, ...]
    under_rail: Fraction


_Marks: TypeAlias = Sequence[_Mark]


def measure(plan: Plan, posts: tuple[PlacedPost, ...]) -> tuple[Opening, ...]:
    """All openings: surface by surface, under the rail, between strands, under the lowest."""
    found: list[Opening] = []
    for surface in plan.line.surfaces:
        marks = _marks(plan, surface, posts)
        found.append(_under_rail(plan, surface, marks))
        found.extend(_between(plan, surface, marks))
        if surface is plan.flight:
            found.extend(_under_flight(plan, marks, posts))
            found.extend(_open_risers(plan, surface))
        else:
            found.append(_under_level(plan, surface, marks))
    return tuple(found)


def _marks(plan: Plan, surface: PlacedSurface, posts: tuple[PlacedPost, ...]) -> _Marks:
    """A surface's strands as marked at each post, posts marked alike taken once.

    Holes, the post's length (which carries the rail) and its station are all at their marks.
    """
    mark = plan.job.mark
    found: dict[_Mark, None] = {}
    for post in posts:
        holes = sorted((h for h in post.holes if surface.index in h.surfaces), key=lambda h: h.strand)
        if not holes:
            continue
        lift = post.base - surface.datum(to_mark(post.station, mark))
        carries_rail = post.role != "joint" or not plan.meeting(post.stands_on).jog
        raised = to_mark(post.length, mark) - post.length if carries_rail else Fraction(0)
        drilled = [_drilled(post, hole, mark) for hole in holes]
        rail = surface.datum(post.station) + plan.undersides[surface.index] - post.base + raised
        found[_Mark(tuple(h + lift for h in drilled), rail - drilled[0])] = None
    return list(found)


def _drilled(post: PlacedPost, hole: Hole, mark: Fraction) -> Fraction:
    """Height on the post's centre line of a strand whose hole is at its mark: there, or on the face it ends at."""
    if post.role == "joint" and len(hole.surfaces) == 1:
        return hole.height + to_mark(hole.low_face, mark) - hole.low_face
    return hole.marked


def verdict(rule: Rule | None, spheres: Iterable[Surd]) -> bool | None:
    if rule is None:
        return None
    return all(stops(rule, (sphere - rule.value).sign()) for sphere in spheres)


def _square(plumb: Fraction, surface: PlacedSurface, less: Fraction) -> Surd:
    """A plumb distance measured square to the slope, less what the strands take of it."""
    return Surd(plumb) / sqrt(1 + surface.slope * surface.slope) - less


def _gap(
    plan: Plan, surface: PlacedSurface, where: str, touches: tuple[str, str],
    top: Fraction, plumb: Fraction, marked: Fraction, radii: tuple[Fraction, Fraction],
) -> Opening:  # fmt: skip
    """An opening between two parallel lines, ``plumb`` apart, the upper one ``top`` above the datum."""
    rule = plan.rules.opening(surface.kind)
    sphere = _square(plumb, surface, sum(radii, Fraction(0)))
    as_marked = _square(marked, surface, sum(radii, Fraction(0)))
    sec = float(secant(surface.slope))
    cos, sin = 1 / sec, float(surface.slope) / sec
    # shown at mid-length: down from the upper line, square to it
    s = (surface.start.s + surface.end.s) / 2
    high = float(surface.datum(s) + top)
    first, diameter = float(radii[0]), float(sphere)
    a, centre, b = ((float(s) + w * sin, high - w * cos) for w in (first, first + diameter / 2, first + diameter))
    passes = verdict(rule, (sphere, as_marked))
    return Opening(where, surface.index, diameter, float(as_marked), rule, passes, touches, (a, b), centre)


def _under_rail(plan: Plan, surface: PlacedSurface, marks: _Marks) -> Opening:
    under, first = plan.undersides[surface.index], plan.fields[surface.index].heights[0]
    radii = (Fraction(0), plan.job.strand.diameter / 2)
    marked = max(m.under_rail for m in marks)
    return _gap(plan, surface, "under the rail", ("rail", "strand 1"), under, under - first, marked, radii)


def _between(plan: Plan, surface: PlacedSurface, marks: _Marks) -> Iterator[Opening]:
    """Equal as designed; as marked, the widest between any two strands at any post."""
    field = plan.fields[surface.index]
    if len(field.heights) < 2:
        return
    widest, k = max((m.heights[k] - m.heights[k + 1], -k) for m in marks for k in range(len(field.heights) - 1))
    radius = plan.job.strand.diameter / 2
    names = (f"strand {1 - k}", f"strand {2 - k}")
    yield _gap(
        plan,
        surface,
        "between strands",
        names,
        field.heights[-k],
        field.plumb_spacing,
        widest,
        (radius, radius),
    )


def _under_level(plan: Plan, surface: PlacedSurface, marks: _Marks) -> Opening:
    lowest, number = plan.fields[surface.index].heights[-1], len(plan.fields[surface.index].heights)
    radii = (plan.job.strand.diameter / 2, Fraction(0))
    marked = max(m.heights[-1] for m in marks)
    touches = (f"strand {number}", surface.kind)
    return _gap(plan, surface, "under the lowest strand", touches, lowest, lowest, marked, radii)


def _under_flight(plan: Plan, marks: _Marks, posts: tuple[PlacedPost, ...]) -> Iterator[Opening]:
    """Each pocket under the lowest strand; as marked, with the strand wherever it is highest at any post."""
    radius = plan.job.strand.diameter / 2
    designed = Member("strand", plan.fields[plan.flight.index].heights[-1], radius)
    marked = Member("strand", max(m.heights[-1] for m in marks), radius)
    as_designed = {_key(p): p for p in along(plan.profile, designed, plan.rules)}
    as_marked = {_key(p): p for p in along(plan.profile, marked, plan.rules)}
    for key in sorted(as_designed | as_marked):
        # a pocket that only one of the two has is judged by that one
        one, other = as_designed.get(key), as_marked.get(key)
        yield _pocket(plan, one or as_marked[key], other or as_designed[key], posts)


def _key(p: Pocketed) -> tuple[int, str]:
    return p.cell, p.place


def _pocket(plan: Plan, designed: Pocketed, marked: Pocketed, posts: tuple[PlacedPost, ...]) -> Opening:
    rule = designed.rule
    passes = None
    if rule is not None:
        passes = all(stops(rule, compare(p.found.outline, p.found.pocket, rule.value)) for p in (designed, marked))
    names, contacts = touched_once(designed.found)
    return Opening(
        _where(plan, designed, posts),
        plan.flight.index,
        designed.found.pocket.diameter,
        marked.found.pocket.diameter,
        rule,
        passes,
        names,
        tuple(_global(plan, designed, c) for c in contacts),
        _global(plan, designed, designed.found.pocket.centre),
    )


def _global(plan: Plan, p: Pocketed, at: tuple[float, float]) -> tuple[float, float]:
    x, z = at[0] + float(p.dx), at[1] + float(p.dz)
    return float(plan.up.nosing_1.s) + plan.up.way * x, float(plan.up.nosing_1.z) + z


def _where(plan: Plan, p: Pocketed, posts: tuple[PlacedPost, ...]) -> str:
    beside = "post" in p.found.names and p.place != "step triangle"
    if p.cell == 0:
        return f"wedge at post {_joint(plan, posts, 'bottom')}" if beside else "first riser, over the lower landing"
    if p.cell == plan.profile.risers:
        return f"wedge at post {_joint(plan, posts, 'top')}" if beside else "over the upper landing, before the post"
    if beside:
        return f"beside a post, tread {p.cell}"
    return f"step triangle, tread {p.cell}" if p.place == "step triangle" else f"over tread {p.cell}, open riser"


def _joint(plan: Plan, posts: tuple[PlacedPost, ...], at: str) -> str:
    landing = (plan.lower if at == "bottom" else plan.upper).landing.index
    return next(p.label for p in posts if p.role == "joint" and p.stands_on == landing)


def _open_risers(plan: Plan, surface: PlacedSurface) -> Iterator[Opening]:
    """Between one tread and the next where risers are open: seen along the flight, a slot of one height."""
    flight = plan.up.given
    if not flight.open_risers:
        return
    rule = plan.rules.opening("open riser", "flight")
    gap = Surd(flight.rise - flight.tread)
    passes = verdict(rule, (gap,))
    for i in range(flight.risers):
        s = float(plan.up.station(i * flight.run + flight.nosing / 2))
        z = float(plan.up.elevation((i - 1) * flight.rise))
        d = float(gap)
        below = "landing" if i == 0 else "tread"
        yield Opening(
            f"open riser {i + 1}", surface.index, d, d, rule, passes, (below, "nosing"),
            ((s, z), (s, z + d)), (s, z + d / 2),
        )  # fmt: skip
