"""The result as plain data, ready for JSON."""

from __future__ import annotations

from typing import Any

from stairguard.model.guard.guard_openings import Opening, Unguarded
from stairguard.model.guard.pieces import Run
from stairguard.model.guard.solved_layout import Check, CheckedLayout, Layout
from stairguard.model.guard.strand_deflection import OpeningGive
from stairguard.model.guard.surfaces import PlacedSurface, PlanPoint, Point
from stairguard.reports.data.cut_data import comparison_data, cuts_data, stock_data, straight_data
from stairguard.reports.data.deflection_data import opening_give_data, push_data
from stairguard.reports.data.joint_data import joint_data, post_data, top_bevel
from stairguard.reports.page.rules.finding_list import findings_data
from stairguard.rules.findings.designed import inspect_layout

__all__ = ["result", "top_bevel"]


def result(checked: CheckedLayout, *, fixes: bool = True) -> dict[str, Any]:
    """Put a checked layout into plain numbers, text, lists and dictionaries.

    Parameters
    ----------
    checked
        The layout with its rules applied.
    fixes
        Whether to look for what would mend each breach, and for conflicts that nothing mends; without it every ``fix``
        is null, and of a failing guard the result comes several times as quickly.

    Returns
    -------
    dict
        ``unit, title, rules, passes, outcome, mark, surfaces, joints, posts, openings, unguarded, give, runs, cuts,
        comparison, straight, stock, checks, findings, conflicts, cautions``. Lengths are floats in ``unit`` at full
        precision, angles degrees, stations and elevations in the guard's frame; heights are plumb. Nothing in it is NaN
        or infinite.

        Beyond the command contract it holds ``outcome`` ("complies" or "does not comply"), ``mark``, ``unguarded``,
        ``give``, ``comparison``, ``straight``, ``stock``, ``findings`` and ``conflicts``, and

        - of a surface ``rail``, its start and end; ``turn_deg`` made at its start, ``heading_deg`` in plan from the
          first surface's, left positive, ``plan_start`` and ``plan_end``, x along the first surface and y to its left;
          ``nosings`` in station order, empty but on flights; whether it ``carries`` a rail of its own: over a landing
          that does not, ``rail_height`` is the least of its neighbours' and there are no strands;
        - of a line that closes the closing joint last, ``between`` the last surface and the first, at its end;
          where one post makes it that post is listed once, at the line's start;
        - of a joint its post's ``station`` and ``second_post``, null but at a corner of two; the ``boundary`` of its
          two surfaces; whether the rails are ``mitred`` and the ``advice`` if not; the true mitre's ``cut``, null where
          there is none: for the piece before and after (``first``, ``second``) the saw's ``flat_mitre_deg,
          flat_tilt_deg`` with the piece laid flat and ``edge_mitre_deg, edge_tilt_deg`` on edge, ``twist_deg`` between
          the sections and whether they are ``flush``; whether strands pass ``through`` and the ``reason`` if not; the
          ``ends`` of both rails' tops, where a jog is measured, which rail is the ``higher``, by its surface (null: no
          jog), and by how much two of one height but for less than half a mark stand ``apart``; how far from
          a sharp corner the rails of both legs ``lap``, in one another (0: they do not); the ``remedies`` of a
          jog, with the ``surface`` whose rail changes or null, the exact ``value``, the ``settings`` of job keys, at
          marks, that were tried, and the ``effects`` elsewhere. ``meets`` is null where the rails run
          parallel and apart. ``chord`` is how strands run between the two posts of a corner, else null: ``level`` in
          plan and ``length`` from centre to centre, ``pitch_deg``, ``skew_deg`` in plan from square to the inner faces,
          ``bends_deg`` at the two posts;
        - of a joint's strand the ``surfaces`` it lies over, its ``fitting``, ``slopes_deg`` and ``skews_deg`` at the
          post's faces before and after (of two posts the outer ones), null where it is not there; one that passes
          one of two posts and ends at the other bends by ``bend_deg`` at the first, on to the ``chord``, and comes to
          the inner face of the other ``end_skew_deg`` from square in plan (null: it does not);
        - of a post its ``width``; the surface it ``stands_on`` and the ``step``, null on a landing or ramp
          and of a wall or newel at an end of a flight, whose base is the floor there; its
          ``support`` ("post", or the "wall" or "newel" the line ends on), how far its foot is ``clear`` of the nearer
          edge (negative: it overhangs; null: none is near) and the index of the ``joint`` it makes, or null;
          ``top_bevels_deg``, the slopes of its top before and after ``bevel_break``, the level distance
          from the centre line, positive along stations, at which the top turns (0 where it is one plane);
          ``edges``, the top's heights above the base at the faces before and after; how it stands in plan:
          ``turned_deg`` of its faces from square to the surface before it, left positive, ``askews_deg`` of what
          arrives and leaves from square to the face it comes to, ``half`` from its centre to its faces, level along it;
        - of a hole ``drill_deg``, ``before_deg`` and ``after_deg``, the strand's slopes on both sides of the post, all
          positive where it rises in the direction of stations, ``drill_deg`` the steeper of the two; whether it is
          ``broken`` (one run ends there, the next begins); ``bears``: what the end of a run bears on that comes to the
          post from before, and that of one that leaves it, each "outer face" (away from its strand, through the post),
          "inner face" (the one it comes to), "wall" or "newel", null where there is no such end; and the
          ``surfaces`` whose strand uses it: two where it passes whole, one on a line or end post and where
          it ends; where that is on the inner face of a joint's post, ``low_face`` and ``high_face`` are both the height
          on that face;
        - of an opening the ``contacts``, the rule's ``status``, the clause by whose ``leave`` it passes though its
          sphere is larger, or null, and its ``give`` under the job's push: the ``verdict``, null where nothing is
          judged; the ``probe``, the ``strands`` that give and the ``posts`` of the bay where it is
          weakest, its ``bay`` and ``run_length``, ``at`` (null: mid-bay) and ``clear``, ``push``, ``breaking_push`` and
          ``tension_for_force``, each ``held`` and ``free``, and by how much ``nearer`` a strand would hold;
        - of what is ``unguarded``, the walking surface between an end post and the end of the line, ``where`` (that of
          its opening, if the rules ask for a guard there: ``asked``), its ``surface`` and ``post``, the stations it
          runs ``from`` and ``to``, its ``length`` and the ``drop`` beside it, as far as the job tells;
        - of a run its ``surfaces``, what made its two ``ends``, what they bear on (``bears``, as of a hole), the post
          of its ``tensioner``, its ``longest_bay`` and all ``bays``, clear along the strand;
        - of a check its ``kind``, ``unit`` and ``status``;
        - a finding a rule and place, the gravest first: ``verdict`` ("fail", "too close to call", "needs a decision",
          "not checked", "pass"), ``clause, status, binding, quantity, scope`` (the rule's place) and ``kind``; ``what``
          was found and where: ``surface, where, station``; ``value, limit, unit, margin`` (how far inside the limit),
          ``guard_band`` of a measured value, ``why`` it neither passes nor fails, and what would ``fix`` it;
        - of a rail cut ``underside``, ``longest``, ``marked``, ``surfaces`` and each end's ``long_point`` and
          ``tilt_deg``, and of one that turns in plan its ``side`` as stations increase and, of a compound cut,
          ``edge``, else null; of a post cut its ``posts``, ``top_bevels_deg``, ``bevel_break`` and ``edges`` as of a
          post, ``long_edge``, ``short_edge`` and ``marked``; of a strand cut its ``strands`` and ``marked``;
          ``sleeves`` like strands, ``fittings`` by kind, the ``totals`` and ``weights`` (null where not known) with
          their ``unit``. ``marked`` is the longest length, or the strand's, at its tape mark: totals, weights and stock
          add up these.

        ``comparison`` holds ``through`` and ``break``, null for a way that cannot be laid out, then ``why``; ``chosen``
        is the job's. ``straight`` has for each measured flight the straight rails in the band ``required`` and, where
        rules that bind only some jobs ask more, ``optional``: ``least`` and ``most`` plumb over every nosing, reach of
        ``slopes`` and of the heights over the ``first`` and ``last`` nosing, ``corners`` of the region of those two
        heights, the ``best`` rail, or the nosings ``blocking`` any; nosings by index in station order. ``stock`` has a
        plan for each of ``rail``, ``post`` and ``strand`` asked for, of the pieces that fit; ``proven`` only where none
        is ``too_long``, and of a rail that is, ``spliced``: its ``label`` and ``surface``, the ``posts`` to splice it
        over and its ``parts`` (both empty: not at posts). ``give``, null where the job says nothing of a
        push or a tension, has the ``force``, ``probe``, ``sphere`` (null: each opening's limit), ``friction`` and
        ``tension`` with its source, and whether all openings hold: ``passes``.
    """
    layout, inspection = checked.layout, inspect_layout(checked, fixes)
    give = {} if layout.give is None else {one.opening: one for one in layout.give.openings}
    return {
        "unit": layout.job.unit,
        "title": layout.job.title,
        "rules": layout.rules.name,
        "passes": checked.passes,
        "outcome": inspection.outcome,
        "mark": float(layout.job.mark),
        "surfaces": [_surface(layout, surface) for surface in layout.line.surfaces],
        "joints": [joint_data(joint) for joint in layout.joints],
        "posts": [post_data(post) for post in layout.posts],
        "openings": [_opening(opening, give.get(i)) for i, opening in enumerate(layout.openings)],
        "unguarded": [_unguarded(one) for one in layout.unguarded],
        "give": push_data(layout.give),
        "runs": [_run(run) for run in layout.runs],
        "cuts": cuts_data(layout),
        "comparison": comparison_data(layout.comparison),
        "straight": [straight_data(straight) for straight in layout.straight],
        "stock": stock_data(layout),
        "checks": [_check(check) for check in checked.checks],
        "findings": findings_data(inspection.findings),
        "conflicts": list(inspection.conflicts),
        "cautions": list(checked.cautions),
    }


def _point(point: Point) -> list[float]:
    return [float(point.s), float(point.z)]


def _plan(point: PlanPoint) -> list[float]:
    return [float(point.x), float(point.y)]


def _surface(layout: Layout, surface: PlacedSurface) -> dict[str, Any]:
    rail, field = layout.rails[surface.index], layout.fields[surface.index]
    return {
        "index": surface.index,
        "kind": surface.kind,
        "start": _point(surface.start),
        "end": _point(surface.end),
        "pitch_deg": surface.pitch_deg,
        "rail_height": float(rail.height),
        "rail_underside": float(rail.underside),
        "rail": {"start": _point(rail.start), "end": _point(rail.end)},
        "strands": {
            "count": len(field.heights),
            "plumb_spacing": float(field.plumb_spacing),
            "square_spacing": field.square_spacing,
            "heights": [float(height) for height in field.heights],
        },
        "carries": surface.carries,
        "turn_deg": surface.given.turn,
        "heading_deg": surface.heading_deg,
        "plan_start": _plan(surface.plan_start),
        "plan_end": _plan(surface.plan_end),
        "nosings": [_point(nosing) for nosing in surface.nosings],
    }


def _unguarded(one: Unguarded) -> dict[str, Any]:
    return {
        "where": one.where,
        "surface": one.surface,
        "post": one.post,
        "from": float(one.face),
        "to": float(one.edge),
        "length": float(one.length),
        "drop": float(one.drop),
        "asked": one.asked,
    }


def _opening(opening: Opening, give: OpeningGive | None) -> dict[str, Any]:
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
        "leave": None if opening.leave is None else opening.leave.clause,
        "give": None if give is None else opening_give_data(give),
    }


def _run(run: Run) -> dict[str, Any]:
    return {
        "strand": run.strand,
        "posts": list(run.posts),
        "angle_changes": run.angle_changes,
        "length": run.length,
        "cut_length": run.cut_length,
        "surfaces": list(run.surfaces),
        "ends": list(run.ends),
        "bears": list(run.bears),
        "tensioner": run.tensioner,
        "longest_bay": run.longest_bay,
        "bays": list(run.bays),
    }


def _check(check: Check) -> dict[str, Any]:
    return {
        "clause": check.clause,
        "what": check.what,
        "value": float(check.value),
        "limit": float(check.limit),
        "kind": check.kind,
        "unit": check.unit,
        "passes": check.passes,
        "status": check.status,
    }
