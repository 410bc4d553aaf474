"""Strands from terminal to terminal, and everything to be cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise

from stairguard.errors import Fault, JobError
from stairguard.model.guard import (
    Cuts,
    EndCut,
    LongPoint,
    PlacedPost,
    PlacedSurface,
    PostCut,
    RailCut,
    RailLine,
    Run,
    StrandCut,
)
from stairguard.relations import scalars
from stairguard.solve.plan import Plan
from stairguard.solve.posts import whole_count

__all__ = ["cut_list", "strand_runs"]

_SAME = 1e-9


def strand_runs(plan: Plan, posts: tuple[PlacedPost, ...]) -> tuple[Run, ...]:
    """Every strand, top down, in station order.

    A strand bears on the outer face of an end post; at a joint post where it ends, on the face it comes to.
    """
    runs: list[Run] = []
    whole = _whole(plan)
    for k in range(max(len(f.heights) for f in plan.fields)):
        runs.extend(_run(plan, posts, k + 1, stretch) for stretch in _stretches(plan, whole, k))
    return tuple(runs)


def _whole(plan: Plan) -> list[int]:
    """How many strands pass whole at the joint after each surface but the last."""
    whole = []
    for before, after in pairwise(plan.line.surfaces):
        landing = before if after is plan.flight else after
        whole.append(whole_count(plan, plan.meeting(landing.index)))
    return whole


def _stretches(plan: Plan, whole: Sequence[int], k: int) -> Iterator[list[PlacedSurface]]:
    """Surfaces that strand k lies over unbroken."""
    stretch: list[PlacedSurface] = []
    for surface in plan.line.surfaces:
        if stretch and k >= whole[surface.index - 1]:
            yield stretch
            stretch = []
        if k < len(plan.fields[surface.index].heights):
            stretch.append(surface)
    if stretch:
        yield stretch


def _run(plan: Plan, posts: tuple[PlacedPost, ...], number: int, stretch: list[PlacedSurface]) -> Run:
    indices = tuple(s.index for s in stretch)
    carries = [p for p in posts if any(h.strand == number and set(h.surfaces) & set(indices) for h in p.holes)]
    first, last = carries[0], carries[-1]
    start = first.station + (first.width if first.role == "joint" else -first.width) / 2
    end = last.station - (last.width if last.role == "joint" else -last.width) / 2
    bends = [p.station for p in carries[1:-1] if p.role == "joint"]
    places = [start, *bends, end]
    length = sum(
        float(b - a) * (float(plan.sec) if surface is plan.flight else 1.0)
        for (a, b), surface in zip(pairwise(places), stretch, strict=True)
    )
    take_up = plan.job.strand.terminal_take_up + plan.job.strand.tensioner_take_up
    if length <= take_up:
        must = f"take-ups of less, together, than the shortest strand's {length:.6g} between bearing faces"
        raise JobError(Fault("strand.terminal_take_up and tensioner_take_up", must, float(take_up)))
    labels = tuple(p.label for p in carries)
    return Run(number, indices, labels, len(bends), length, length - float(take_up))


def cut_list(plan: Plan, rails: tuple[RailLine, ...], posts: tuple[PlacedPost, ...], runs: tuple[Run, ...]) -> Cuts:
    """Rails, posts and strands, equal pieces grouped."""
    rail_cuts = tuple(_rail_cuts(plan, rails))
    strands = tuple(_strand_cuts(runs))
    return Cuts(
        rail_cuts,
        tuple(_post_cuts(posts)),
        strands,
        sum(s.length * s.count for s in strands),
        sum(r.longest * r.count for r in rail_cuts),
        len(runs),
        len(runs),
        sum(r.angle_changes for r in runs),
        sum(len(p.holes) for p in posts),
    )


def _end_cut(plan: Plan, surface: PlacedSurface, joint: PlacedSurface | None) -> EndCut:
    """Cut at the end of a surface's rail towards ``joint`` (None: the line's end)."""
    if joint is None:
        return EndCut("square", 0.0, "neither")
    meeting = plan.meeting((joint if surface is plan.flight else surface).index)
    if meeting.jog and surface is not plan.flight:
        return EndCut("square", 0.0, "neither")
    pitch = abs(plan.flight.pitch_deg)
    # uphill end: the top edge reaches farther; downhill end: the underside. So for plumb cuts and for mitres
    long_point: LongPoint = "top" if meeting.at == "top" else "underside"
    if meeting.jog:
        return EndCut("plumb", pitch, long_point)
    return EndCut("mitre", scalars.mitre(scalars.bend(pitch, 0, 0)), long_point)


def _extra(plan: Plan, cut: EndCut) -> float:
    """How much longer the underside is than the top at an end cut."""
    if cut.kind == "square":
        return 0.0
    offset = scalars.mitre_point(plan.job.rail.depth, cut.angle_deg)
    return offset if cut.long_point == "underside" else -offset


def _rail_cuts(plan: Plan, rails: tuple[RailLine, ...]) -> Iterator[RailCut]:
    pieces = []
    surfaces = plan.line.surfaces
    for rail in rails:
        surface = surfaces[rail.surface]
        before = surfaces[rail.surface - 1] if rail.surface else None
        after = surfaces[rail.surface + 1] if rail.surface + 1 < len(surfaces) else None
        start, end = _end_cut(plan, surface, before), _end_cut(plan, surface, after)
        length = float(rail.end.s - rail.start.s) * (float(plan.sec) if surface is plan.flight else 1.0)
        underside = length + _extra(plan, start) + _extra(plan, end)
        tips = [max(_extra(plan, c), 0.0) for c in (start, end)]
        pieces.append((rail.surface, length, underside, length + sum(tips), start, end))
    ordered = sorted(pieces, key=lambda p: (round(p[1] / _SAME), str(p[4:]), p[0]))
    groups = [list(g) for _, g in groupby(ordered, key=lambda p: (round(p[1] / _SAME), str(p[4:])))]
    for number, group in enumerate(sorted(groups, key=lambda g: g[0][0]), 1):
        _, length, underside, longest, start, end = group[0]
        yield RailCut(f"R{number}", len(group), tuple(p[0] for p in group), length, underside, longest, start, end)


def _post_cuts(posts: tuple[PlacedPost, ...]) -> Iterator[PostCut]:
    groups: dict[tuple[object, ...], list[PlacedPost]] = {}
    for post in posts:
        holes = tuple(
            (h.height, h.before_deg, h.after_deg, h.surfaces if post.role == "joint" else ()) for h in post.holes
        )
        groups.setdefault((post.length, post.bevels_deg, post.bevel_break, holes), []).append(post)
    for number, group in enumerate(groups.values(), 1):
        post = group[0]
        low, high = min(post.edges), max(post.edges)
        yield PostCut(
            f"post {_letters(number)}",
            len(group),
            tuple(p.label for p in group),
            post.length,
            post.bevels_deg,
            high,
            low,
        )


def _letters(number: int) -> str:
    """A, B, ... Z, AA, AB, ..."""
    text = ""
    while number:
        number, rest = divmod(number - 1, 26)
        text = chr(ord("A") + rest) + text
    return text


def _strand_cuts(runs: tuple[Run, ...]) -> Iterator[StrandCut]:
    groups: dict[int, list[Run]] = {}
    for run in runs:
        groups.setdefault(round(run.cut_length / _SAME), []).append(run)
    for number, group in enumerate(groups.values(), 1):
        names = tuple(_strand_name(r) for r in group)
        yield StrandCut(f"S{number}", len(group), names, group[0].cut_length)


def _strand_name(run: Run) -> str:
    return f"{run.strand} ({run.posts[0]}-{run.posts[-1]})"
