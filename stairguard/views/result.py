"""The result as plain data, ready for JSON."""

from __future__ import annotations

from typing import Any

from stairguard.model.guard import (
    CheckedLayout,
    EndCut,
    Hole,
    Joint,
    Layout,
    Opening,
    PlacedPost,
    PlacedSurface,
    Point,
    Run,
)

__all__ = ["result", "top_bevel"]


def result(checked: CheckedLayout) -> dict[str, Any]:
    """Put a checked layout into plain numbers, text, lists and dictionaries.

    Parameters
    ----------
    checked
        The layout with its rules applied.

    Returns
    -------
    dict
        ``unit, title, rules, passes, mark, surfaces, joints, posts, openings, runs, cuts, checks,
        cautions``. Lengths are floats in ``unit`` at full precision, angles degrees, stations and
        elevations in the guard's frame; heights are plumb. Nothing in it is NaN or infinite.

        Beyond the command contract it holds ``mark`` and

        - of a surface ``rail``, its start and end;
        - of a joint its post's ``station``; whether strands pass ``through`` and the ``reason`` if not; the
          ``remedies`` of a jog; of a joint's strand the ``surfaces`` it lies over;
        - of a post its ``width``; the surface it ``stands_on`` and the ``step``, null on a landing;
          ``top_bevels_deg``, the slopes of its top before and after ``bevel_break``, the level distance
          from the centre line, positive along stations, at which the top turns (0 where it is one plane);
          ``edges``, the top's heights above the base at the faces before and after;
        - of a hole ``before_deg`` and ``after_deg``, the strand's slopes on both sides of the post, and the
          ``surfaces`` whose strand uses it: two where it passes whole, one on a line or end post and where
          it ends, and there ``low_face`` and ``high_face`` are both the height on the face it comes to;
        - of an opening the ``contacts`` and the rule's ``status``;
        - of a run its ``surfaces``;
        - of a check its ``kind``, ``unit`` and ``status``;
        - of a rail cut ``underside``, ``longest``, ``surfaces`` and each end's ``long_point``; of a post cut
          its ``posts``, ``top_bevels_deg``, ``bevel_break`` and ``edges`` as of a post, ``long_edge`` and
          ``short_edge``; of a strand cut its ``strands``; and the ``totals``.
    """
    layout = checked.layout
    rails = {rail.surface: rail for rail in layout.rails}
    fields = {field.surface: field for field in layout.fields}
    return {
        "unit": layout.job.unit,
        "title": layout.job.title,
        "rules": layout.rules.name,
        "passes": checked.passes,
        "mark": float(layout.job.mark),
        "surfaces": [
            _surface(surface)
            | {
                "rail_height": float(rails[surface.index].height),
                "rail_underside": float(rails[surface.index].underside),
                "rail": {
                    "start": _point(rails[surface.index].start),
                    "end": _point(rails[surface.index].end),
                },
                "strands": {
                    "count": len(fields[surface.index].heights),
                    "plumb_spacing": float(fields[surface.index].plumb_spacing),
                    "square_spacing": fields[surface.index].square_spacing,
                    "heights": [float(height) for height in fields[surface.index].heights],
                },
            }
            for surface in layout.line.surfaces
        ],
        "joints": [_joint(joint) for joint in layout.joints],
        "posts": [_post(post) for post in layout.posts],
        "openings": [_opening(opening) for opening in layout.openings],
        "runs": [_run(run) for run in layout.runs],
        "cuts": _cuts(layout),
        "checks": [
            {
                "clause": check.clause,
                "what": check.what,
                "value": float(check.value),
                "limit": float(check.limit),
                "kind": check.kind,
                "unit": check.unit,
                "passes": check.passes,
                "status": check.status,
            }
            for check in checked.checks
        ],
        "cautions": list(checked.cautions),
    }


def top_bevel(bevels_deg: tuple[float, float]) -> float:
    """One bevel of a post's top: the steeper of its two sides, with its sign."""
    return max(bevels_deg, key=abs)


def _point(point: Point) -> list[float]:
    return [float(point.s), float(point.z)]


def _surface(surface: PlacedSurface) -> dict[str, Any]:
    return {
        "index": surface.index,
        "kind": surface.kind,
        "start": _point(surface.start),
        "end": _point(surface.end),
        "pitch_deg": surface.pitch_deg,
    }


def _joint(joint: Joint) -> dict[str, Any]:
    return {
        "between": list(joint.between),
        "turn_deg": joint.turn_deg,
        "bend_deg": joint.bend_deg,
        "mitre_deg": joint.mitre_deg,
        "meets": {"station": float(joint.meets.s), "elevation": float(joint.meets.z)},
        "from_nosing": None if joint.from_nosing is None else float(joint.from_nosing),
        "post": joint.post,
        "jog": float(joint.jog),
        "strands": [
            {
                "number": strand.number,
                "station": float(strand.station),
                "elevation": float(strand.elevation),
                "bend_deg": strand.bend_deg,
                "whole": strand.whole,
                "surfaces": list(strand.surfaces),
            }
            for strand in joint.strands
        ],
        "station": float(joint.station),
        "through": joint.through,
        "reason": joint.reason,
        "remedies": [
            {
                "what": remedy.what,
                "value": float(remedy.value),
                "allowed": remedy.allowed,
                "why": remedy.why,
            }
            for remedy in joint.remedies
        ],
    }


def _post(post: PlacedPost) -> dict[str, Any]:
    return {
        "label": post.label,
        "station": float(post.station),
        "base": float(post.base),
        "length": float(post.length),
        "top_bevel_deg": top_bevel(post.bevels_deg),
        "role": post.role,
        "holes": [_hole(hole) for hole in post.holes],
        "width": float(post.width),
        "stands_on": post.stands_on,
        "step": post.step,
        "top_bevels_deg": list(post.bevels_deg),
        "bevel_break": float(post.bevel_break),
        "edges": [float(edge) for edge in post.edges],
    }


def _hole(hole: Hole) -> dict[str, Any]:
    return {
        "strand": hole.strand,
        "height": float(hole.height),
        "marked": float(hole.marked),
        "drill_deg": hole.drill_deg,
        "low_face": float(hole.low_face),
        "high_face": float(hole.high_face),
        "before_deg": hole.before_deg,
        "after_deg": hole.after_deg,
        "surfaces": list(hole.surfaces),
    }


def _opening(opening: Opening) -> dict[str, Any]:
    rule = opening.rule
    return {
        "where": opening.where,
        "surface": opening.surface,
        "sphere": opening.sphere,
        "sphere_as_marked": opening.sphere_as_marked,
        "limit": None if rule is None else float(rule.value),
        "clause": None if rule is None else rule.clause,
        "inclusive": None if rule is None else rule.inclusive,
        "passes": opening.passes,
        "touches": list(opening.touches),
        "centre": list(opening.centre),
        "contacts": [list(contact) for contact in opening.contacts],
        "status": None if rule is None else rule.status,
    }


def _run(run: Run) -> dict[str, Any]:
    return {
        "strand": run.strand,
        "posts": list(run.posts),
        "angle_changes": run.angle_changes,
        "length": run.length,
        "cut_length": run.cut_length,
        "surfaces": list(run.surfaces),
    }


def _end_cut(cut: EndCut) -> dict[str, Any]:
    return {"kind": cut.kind, "angle_deg": cut.angle_deg, "long_point": cut.long_point}


def _cuts(layout: Layout) -> dict[str, Any]:
    cuts, posts = layout.cuts, {post.label: post for post in layout.posts}
    return {
        "rails": [
            {
                "label": rail.label,
                "count": rail.count,
                "length": rail.length,
                "start_cut": _end_cut(rail.start_cut),
                "end_cut": _end_cut(rail.end_cut),
                "underside": rail.underside,
                "longest": rail.longest,
                "surfaces": list(rail.surfaces),
            }
            for rail in cuts.rails
        ],
        "posts": [
            {
                "label": post.label,
                "count": post.count,
                "length": float(post.length),
                "top_bevel_deg": top_bevel(post.bevels_deg),
                "posts": list(post.posts),
                "top_bevels_deg": list(post.bevels_deg),
                "long_edge": float(post.long_edge),
                "short_edge": float(post.short_edge),
                "bevel_break": float(posts[post.posts[0]].bevel_break),
                "edges": [float(edge) for edge in posts[post.posts[0]].edges],
            }
            for post in cuts.posts
        ],
        "strands": [
            {
                "label": strand.label,
                "count": strand.count,
                "length": strand.length,
                "strands": list(strand.strands),
            }
            for strand in cuts.strands
        ],
        "totals": {
            "strand": cuts.strand_total,
            "rail": cuts.rail_total,
            "terminals": cuts.terminals,
            "tensioners": cuts.tensioners,
            "angle_fittings": cuts.angle_fittings,
            "holes": cuts.holes,
        },
    }
