"""Ways to close an opening of a layout, as keys of its job: strands, steps, boards, posts."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from stairguard.geometry.slope import secant
from stairguard.model.findings import Finding
from stairguard.model.fixes import Advice, Change, Fix, Long, SideEffect, TapeMark
from stairguard.model.guard.guard_openings import Gap, Opening, Unguarded
from stairguard.model.guard.opening_kinds import Touch
from stairguard.model.guard.solved_layout import Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Flight, Landing
from stairguard.model.subjects import RuledQuantity
from stairguard.relations.printed.by_slope import square_of_plumb
from stairguard.rules.fixes.job_ways import JobWays
from stairguard.rules.fixes.surface_ways import Ways, down, fine, up
from stairguard.solve.strand.fields import room_below

FILL: Final = Fix((), advice=Advice.FILL_TRIANGLE)
FILL_BESIDE: Final = Fix((), advice=Advice.FILL_BESIDE)


def opening_ways(layout: Layout, opening: Opening, finding: Finding) -> Iterator[Fix]:
    """Ways to close an opening, the least intrusive first, to be put to the test."""
    ways = JobWays(layout)
    surface = layout.line.surfaces[opening.surface]
    past = Fraction(max(finding.value or 0, 0) - (finding.limit or 0))
    if finding.scope == "open riser" or opening.where.kind == "open riser":
        yield from _boards(ways.steps, surface, finding)
        return
    stretch = next((one for one in layout.unguarded if one.where == opening.where), None)
    if stretch is not None:
        yield from _to_the_end(stretch, surface)
        return
    if layout.apart(opening):
        yield from _apart(layout, opening, surface, finding)
    elif isinstance(opening.bounds, Gap) or Touch("rail") in opening.touches:
        yield from ways.nearer(-past)
    else:
        yield from _lower(layout, surface, past)
        yield from _level_pieces(layout, surface)
        yield from step_ways(layout, opening, surface)
        yield from _boards(ways.steps, surface, finding)
    yield from _posts(layout, ways, surface)


def _to_the_end(stretch: Unguarded, surface: PlacedSurface) -> Iterator[Fix]:
    """The guard carried to the end of its line: its own post there, or what stands there already."""
    end = "start" if stretch.edge < stretch.face else "end"
    forced = surface.given.start_post if end == "start" else None
    left: tuple[Change, ...] = ()
    if forced is not None:
        left = (Change("surface", "start_post", None, surfaces=(surface.index,)),)
        yield Fix(left)
    if surface.kind == "flight":
        yield Fix((*left, Change("ends", end, "newel")), (SideEffect.NEWEL_OR_LANDING,))


def _lower(layout: Layout, surface: PlacedSurface, past: Fraction) -> Iterator[Fix]:
    """The lowest strand of flights lower."""
    strand, mark = layout.job.strand, layout.job.mark
    if surface.kind != "flight" or not layout.fields[surface.index].heights:
        return
    room = layout.lift(surface.index) + room_below(layout.job)
    for times in (1, 2, 4):
        by = up(times * past, mark)
        if 0 < by < room:
            yield Fix((Change("strand", "lower", strand.lower + by, by, TapeMark(layout.job.unit, mark)),))


def _level_pieces(layout: Layout, surface: PlacedSurface) -> Iterator[Fix]:
    """A level piece of rail over a landing that its neighbours' rails cross: it gets strands of its own, lower ones."""
    given = layout.job.surfaces
    for index in (surface.index, surface.index + 1, surface.index - 1):
        crossed = given[index] if 0 <= index < len(given) else None
        if isinstance(crossed, Landing) and not crossed.level_piece and crossed.length:
            yield Fix((Change("surface", "level_piece", value=True, surfaces=(index,)),))


def step_ways(layout: Layout, opening: Opening, surface: PlacedSurface) -> Iterator[Fix]:
    """Other steps, where no lower strand closes their triangle: more risers, shorter runs, a shorter nosing.

    The layout places the strands anew over them, as low as their own openings ask.
    """
    given, rule = surface.given, opening.rule
    on_tread = opening.where.kind == "first riser" or Touch("tread") in opening.touches  # what a first riser stands on
    if not isinstance(given, Flight) or rule is None or not on_tread:
        return
    from stairguard.solve.sphere.step_ways import step_mends  # only where an opening fails

    ways, mark = JobWays(layout).steps, layout.job.mark
    lift = layout.lift(surface.index)
    least = square_of_plumb(mark, secant(surface.slope))
    where = tuple(s.index for s in layout.line.surfaces if s.given == given)
    for one in step_mends(given.rise, given.run, given.nosing, given.tread, given.open_risers, lift, least, rule.value):
        if one.what == "rise":
            yield from _more_risers(ways, given, Fraction(one.value), where)
        elif one.what in ("run", "nosing"):
            now = getattr(given, one.what)
            for marks in (0, 1, 2):
                size = down(Fraction(one.value), mark) - marks * mark
                if 0 <= size < now:
                    long = None if one.what == "nosing" else _long(ways, given, given.risers, size, where)
                    yield Fix((ways.change("surface", one.what, size, now, where),), long=long)


def _more_risers(ways: Ways, given: Flight, rise: Fraction, where: tuple[int, ...]) -> Iterator[Fix]:
    """So many risers that each is less than ``rise``, of the same whole rise."""
    total = given.rise * given.risers
    count = int(total / rise) + 1
    for risers in (count, count + 1):
        each = fine(total / risers, "at most")
        if each > given.tread:
            changes = (
                ways.change("surface", "risers", risers, None, where),
                ways.change("surface", "rise", each, given.rise, where),
            )
            yield Fix(changes, long=_long(ways, given, risers, given.run, where))


def _long(ways: Ways, given: Flight, risers: int, run: Fraction, where: tuple[int, ...]) -> Long | None:
    """How long flights are then, where that is another length than now."""
    level = (risers - 1) * run
    return None if level == (given.risers - 1) * given.run else ways.long(where, level)


def _boards(ways: Ways, surface: PlacedSurface, finding: Finding) -> Iterator[Fix]:
    """Open risers: thicker treads, more risers, or risers that are closed."""
    given = surface.given
    if not isinstance(given, Flight) or not given.open_risers:
        return
    limit, where = Fraction(finding.limit or 0), (surface.index,)
    tread = up(given.rise - limit, ways.mark)
    for thick in (tread, tread + ways.mark):
        if given.tread < thick < given.rise:
            yield Fix((ways.change("surface", "tread", thick, given.tread, where),))
    yield Fix((Change("surface", "open_risers", value=False, surfaces=where),))
    yield from _more_risers(ways, given, limit + given.tread, where)


def _apart(layout: Layout, opening: Opening, surface: PlacedSurface, finding: Finding) -> Iterator[Fix]:
    """Between stair and strands that stand out from it: strands lower, feet to bear them lower still, or all nearer.

    A sphere that comes down past a strand as low as the edge passes between it and the stair's side: how low it is
    makes no difference then.
    """
    limit, ways = Fraction(finding.limit or 0), JobWays(layout).steps
    past = Fraction(finding.value or 0) - limit
    post, mark, radius = layout.job.post, layout.job.mark, layout.job.strand.diameter / 2
    if post.out - radius < limit:
        yield from _lower(layout, surface, past)
        for times in (1, 2, 4):
            yield Fix((ways.change("post", "drop", post.drop + up(times * past + radius, mark), post.drop),))
    for share in (Fraction(1), Fraction(1, 2), Fraction(0)):
        offset = down(min(limit + radius, post.out) * share, mark)
        for value in (offset, offset - mark):
            if 0 <= value < post.out:
                yield Fix((ways.change("post", "offset", value, post.offset),))
    if not isinstance(opening.bounds, Gap):
        yield from _level_pieces(layout, surface)
        yield from step_ways(layout, opening, surface)
        yield from _boards(ways, surface, finding)


def _posts(layout: Layout, ways: JobWays, surface: PlacedSurface) -> Iterator[Fix]:
    """Posts elsewhere: rails of one height, a post against the nosing, corners of two posts, strands ended there."""
    rail, change = layout.job.rail, ways.steps.change
    if rail.height != rail.landing_height:
        yield Fix((change("rail", "landing_height", rail.height, rail.landing_height),))
        yield Fix((change("rail", "height", rail.landing_height, rail.height),))
    half = layout.job.post.width / 2
    for index in (surface.index, surface.index + 1):
        if 0 < index < len(layout.job.surfaces):
            given = layout.job.surfaces[index]
            for at in (half, -half):
                place = up(at, layout.job.mark) if at > 0 else down(at, layout.job.mark)
                if given.start_post != place:
                    yield Fix((change("surface", "start_post", place, given.start_post, (index,)),))
    yield from ways.unforced(Finding(clause="", status="", quantity="", verdict="fail", what=RuledQuantity("", "")))
    if layout.job.strand.at_joints == "through":
        yield Fix((Change("strand", "at_joints", "break"),))
    yield from ways.posts_elsewhere()
