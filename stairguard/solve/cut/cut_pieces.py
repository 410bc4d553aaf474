"""Everything to be cut, equal pieces grouped: rails, posts, strands, sleeves; and what the counts come to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final, Literal

from stairguard.geometry.marks import piece_mark
from stairguard.geometry.mitre import SawCut, face_cut
from stairguard.model.guard.pieces import (
    Cuts,
    EndCut,
    Fitting,
    FittingCount,
    LongPoint,
    PostCut,
    RailCut,
    StrandCut,
    StrandPiece,
    StrandRun,
)
from stairguard.model.guard.placed_posts import Hole, PlacedPost
from stairguard.model.guard.rails_and_strands import RailLine
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.relations.printed import scalars
from stairguard.solve.cut.part_weights import strand_weight, weight
from stairguard.solve.joint.corner_posts import under_before
from stairguard.solve.plan import Plan
from stairguard.solve.strand.fittings import passes

_SAME: Final = 1e-9
_FITTINGS: Final[tuple[Fitting, ...]] = ("terminal", "tensioner", "one plane", "compound", "straight")
_SQUARE: Final = EndCut(kind="square", angle_deg=0.0, long_point="neither")


def cut_list(
    plan: Plan,
    rails: Sequence[RailLine],
    posts: Sequence[PlacedPost],
    runs: Sequence[StrandRun],
) -> Cuts:
    """Rails, posts, strands, sleeves and fittings, equal pieces grouped."""
    job = plan.job
    rail_cuts = tuple(_rail_cuts(plan, rails))
    own = [p for p in posts if p.support == "post"]
    post_cuts = tuple(_post_cuts(plan, own))
    strands = tuple(_strand_cuts(plan, runs))
    sleeves = tuple(_sleeves(plan, own)) if job.post.sleeves else ()
    strand_total, rail_total, post_total = (_total(pieces) for pieces in (strands, rail_cuts, post_cuts))
    counted: dict[Fitting, int] = {"terminal": len(runs), "tensioner": len(runs), **passes(plan, own)}
    return Cuts(
        rails=rail_cuts,
        posts=post_cuts,
        strands=strands,
        strand_total=strand_total,
        rail_total=rail_total,
        post_total=post_total,
        terminals=len(runs),
        tensioners=len(runs),
        angle_fittings=sum(r.angle_changes for r in runs),
        holes=sum(len(p.holes) for p in posts),
        fittings=tuple(FittingCount(kind, counted[kind]) for kind in _FITTINGS if counted.get(kind)),
        sleeves=sleeves,
        sleeve_total=_total(sleeves),
        strand_weight=strand_weight(job.strand.diameter, float(strand_total), job.unit),
        rail_weight=weight(job.rail.weight, float(rail_total)),
        post_weight=weight(job.post.weight, float(post_total)),
    )


def _total(pieces: Sequence[RailCut] | Sequence[PostCut] | Sequence[StrandCut]) -> Fraction:
    return sum((piece.marked * piece.count for piece in pieces), Fraction(0))


def _end_cut(plan: Plan, surface: PlacedSurface, last: bool) -> EndCut:
    """Cut at the end of a surface's rail, at its last or first station."""
    stop = plan.stops[surface.index][last]
    uphill = surface.slope > 0 if last else surface.slope < 0
    # uphill end: the top edge reaches farther; downhill end: the underside
    edge: Literal["top", "underside"] = "top" if uphill else "underside"
    plumb = EndCut(kind="plumb", angle_deg=abs(surface.pitch_deg), long_point=edge) if surface.slope else _SQUARE
    if stop.joint is None:
        return plumb
    joined, meeting = plan.joined[stop.joint], plan.meetings[stop.joint]
    if not joined.mitred or joined.cut is None:
        askew = meeting.stance.askews_deg[not last]
        return _askew(face_cut(surface.slope, askew), meeting.turn_deg, last, edge if surface.slope else "")
    if meeting.turn_deg:
        # the joint plane of opposite slopes is plumb: seen from the side, a plumb cut
        saw = joined.cut.first if last else joined.cut.second
        return _askew(saw, meeting.turn_deg, last, edge if surface.slope else "")
    if joined.bend_deg == 0:
        return _SQUARE
    over = meeting.before.slope > meeting.after.slope
    return EndCut(kind="mitre", angle_deg=scalars.mitre(joined.bend_deg), long_point="top" if over else "underside")


def _askew(saw: SawCut, turn_deg: float, last: bool, edge: Literal["top", "underside", ""]) -> EndCut:
    """A cut in a plumb plane, by a saw's settings: at a post's face, or a mitre of level or of opposite slopes."""
    if not saw.flat_mitre:
        return EndCut(kind="plumb", angle_deg=abs(saw.flat_tilt), long_point=edge) if edge else _SQUARE
    side: Literal["left", "right"] = "right" if (saw.flat_mitre > 0) == last else "left"
    long_point: LongPoint = "outside" if (side == "right") == (turn_deg > 0) else "inside"
    kind: Literal["compound", "plan mitre"] = "compound" if edge else "plan mitre"
    return EndCut(
        kind=kind,
        angle_deg=abs(saw.flat_mitre),
        long_point=long_point,
        tilt_deg=abs(saw.flat_tilt),
        side=side,
        edge=edge,
    )


def _extra(plan: Plan, surface: PlacedSurface, cut: EndCut) -> float:
    """How much longer the underside is than the top at an end cut, both on their centre lines."""
    edge = cut.edge or cut.long_point
    if edge not in ("top", "underside"):
        return 0.0
    # down the rail's side a compound cut is plumb
    angle = abs(surface.pitch_deg) if cut.kind == "compound" else cut.angle_deg
    offset = scalars.mitre_point(plan.job.rail.depth, angle)
    return offset if edge == "underside" else -offset


def tip(plan: Plan, surface: PlacedSurface, cut: EndCut) -> float:
    """How far the long point reaches past the end of the top's centre line."""
    aside = scalars.mitre_point(plan.job.rail.width / 2, cut.angle_deg) if cut.side else 0.0
    return aside + max(_extra(plan, surface, cut), 0.0)


def _rail_cuts(plan: Plan, rails: Sequence[RailLine]) -> Iterator[RailCut]:
    groups: dict[tuple[object, ...], list[RailCut]] = {}
    for rail in rails:
        surface = plan.line.surfaces[rail.surface]
        if not surface.carries:
            continue
        start, end = (_end_cut(plan, surface, last) for last in (False, True))
        length = float(rail.end.s - rail.start.s) * float(plan.secs[rail.surface])
        underside = length + sum(_extra(plan, surface, cut) for cut in (start, end))
        longest = length + sum(tip(plan, surface, cut) for cut in (start, end))
        marked = piece_mark(longest, plan.job.mark)
        piece = RailCut(
            label="",
            count=1,
            surfaces=(rail.surface,),
            length=length,
            underside=underside,
            longest=longest,
            start_cut=start,
            end_cut=end,
            marked=marked,
        )
        groups.setdefault((round(length / _SAME), start, end), []).append(piece)
    for number, group in enumerate(groups.values(), 1):
        first = group[0]
        yield RailCut(
            label=f"R{number}",
            count=len(group),
            surfaces=tuple(p.surfaces[0] for p in group),
            length=first.length,
            underside=first.underside,
            longest=first.longest,
            start_cut=first.start_cut,
            end_cut=first.end_cut,
            marked=first.marked,
        )


def _sides(plan: Plan, post: PlacedPost, hole: Hole) -> tuple[bool, ...]:
    """Whether a hole's strand may pass its joint, and on which sides it lies: posts of other joints may be alike."""
    if post.joint is None:
        return ()
    after = plan.meetings[post.joint].after.index
    return (hole.passage.passes or hole.broken, *(i == after for i in hole.surfaces))


def _top(plan: Plan, post: PlacedPost) -> tuple[Fraction, Fraction]:
    """Least and greatest height above the base of a post's top: at a face, or where its two bevels meet."""
    if post.joint is None or post.bevels_deg[0] == post.bevels_deg[1]:
        return min(post.edges), max(post.edges)
    meeting, half = plan.meetings[post.joint], post.width / 2
    slope = meeting.before.slope
    if not meeting.turn_deg:
        ridge = post.edges[0] + (post.bevel_break + half) * slope
        return min(*post.edges, ridge), max(*post.edges, ridge)
    # in plan the bevels meet across the corner, and the rail before climbs on to that line's outer end
    ends = [post.length + half * reach * slope for reach in under_before(post.stance, meeting.turn_deg)]
    return min(ends), max(ends)


def _post_cuts(plan: Plan, posts: Sequence[PlacedPost]) -> Iterator[PostCut]:
    groups: dict[tuple[object, ...], list[PlacedPost]] = {}
    for post in posts:
        holes = tuple((h.height, h.before_deg, h.after_deg, _sides(plan, post, h)) for h in post.holes)
        turn = 0.0 if post.joint is None else plan.meetings[post.joint].turn_deg
        groups.setdefault((post.length, post.bevels_deg, post.bevel_break, turn, holes), []).append(post)
    for number, group in enumerate(groups.values(), 1):
        post = group[0]
        low, high = _top(plan, post)
        yield PostCut(
            label=f"post {_letters(number)}",
            count=len(group),
            posts=tuple(p.label for p in group),
            length=post.length,
            bevels_deg=post.bevels_deg,
            long_edge=high,
            short_edge=low,
            marked=piece_mark(high, plan.job.mark),
        )


def _letters(number: int) -> str:
    """A, B, ... Z, AA, AB, ..."""
    text = ""
    while number:
        number, rest = divmod(number - 1, 26)
        text = chr(ord("A") + rest) + text
    return text


def _strand_cuts(plan: Plan, runs: Sequence[StrandRun]) -> Iterator[StrandCut]:
    groups: dict[int, list[StrandRun]] = {}
    for run in runs:
        groups.setdefault(round(run.cut_length / _SAME), []).append(run)
    for number, group in enumerate(groups.values(), 1):
        names = tuple(StrandPiece(run.strand, (run.posts[0], run.posts[-1])) for run in group)
        length = group[0].cut_length
        yield StrandCut(
            label=f"S{number}", count=len(group), strands=names, length=length, marked=piece_mark(length, plan.job.mark)
        )


def _bore(post: PlacedPost, hole: Hole) -> float:
    """Length of a hole along its strand, which may bend half way; one that ends goes through as it came."""
    half = float(post.half)
    return sum(scalars.strand_bore(half, abs(face.tilt_deg)) * float(face.reach) for face in hole.crossed)


def _sleeves(plan: Plan, posts: Sequence[PlacedPost]) -> Iterator[StrandCut]:
    """One sleeve a hole that a strand goes through, as long as the hole is along it; equal ones grouped.

    A fitting that bears on the face its strand comes to leaves nothing in the post for a sleeve to line.
    """
    groups: dict[int, tuple[float, list[StrandPiece]]] = {}
    for post in posts:
        for hole in post.holes:
            if "inner face" in hole.bears:
                continue
            length = _bore(post, hole)
            groups.setdefault(round(length / _SAME), (length, []))[1].append(StrandPiece(hole.strand, (post.label,)))
    for number, (length, names) in enumerate(groups.values(), 1):
        yield StrandCut(
            label=f"T{number}",
            count=len(names),
            strands=tuple(names),
            length=length,
            marked=piece_mark(length, plan.job.mark),
        )
