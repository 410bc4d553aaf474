"""A layout's result as plain data, ready for JSON."""

from __future__ import annotations

from typing import Any, Final

from stairguard.model.guard.guard_openings import Opening, Unguarded
from stairguard.model.guard.pieces import StrandRun
from stairguard.model.guard.rails_and_strands import Field, RailLine
from stairguard.model.guard.solved_layout import Check, Layout
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.guard.told import ToldLayout
from stairguard.model.job import Unit
from stairguard.reports.data.cut_data import CUTS, cuts_data
from stairguard.reports.data.encode import Encoder, Keys, Topic
from stairguard.reports.data.finding_data import FINDINGS, conflicts_data
from stairguard.reports.data.joint_data import JOINTS, joint_data
from stairguard.reports.words.caution_words import caution_texts
from stairguard.reports.words.joints.joint_words import ended_words
from stairguard.reports.words.opening_words import touch_words, where_words
from stairguard.reports.words.rules.finding_words import subject_words
from stairguard.reports.words.rules.rule_words import known_words

LAYOUT: Final[Topic] = {
    Layout: Keys(
        "unit=job.unit title=job.title rules=rules.name passes outcome mark=job.mark surfaces joints posts openings "
        "unguarded give runs cuts comparison straight stock checks findings conflicts cautions",
        left_out="line rails fields closing pack laid_by travel",  # surfaces hold the first three, told one by one
        made={"stock": lambda layout: dict(layout.stock)},
        given="passes outcome give surfaces joints openings runs cuts checks findings conflicts cautions",
    ),
    PlacedSurface: Keys(
        "index kind start end pitch_deg rail_height rail_underside rail strands carries turn_deg=given.turn "
        "heading_deg plan_start plan_end nosings",
        left_out="origin slope edged aside ahead past",
        given="rail_height rail_underside rail strands",
    ),
    RailLine: Keys("start end", left_out="surface height underside"),
    Field: Keys(
        "count plumb_spacing square_spacing heights",
        made={"count": lambda field: len(field.heights)},
        left_out="surface",
    ),
    Opening: Keys(
        "where surface sphere sphere_as_marked limit=rule.value clause=rule.clause inclusive=rule.inclusive passes "
        "touches centre contacts status=rule.status leave=leave.clause give",
        left_out="bounds corner others out error",
        given="give",
        made={
            "where": lambda opening: where_words(opening.where),
            "touches": lambda opening: [touch_words(touch) for touch in opening.touches],
        },
    ),
    Unguarded: Keys(
        "where surface post from=face to=edge length drop asked",
        left_out="marked high",
        made={"where": lambda one: where_words(one.where)},
    ),
    StrandRun: Keys(
        "strand posts angle_changes length cut_length surfaces ends bears tensioner longest_bay bays",
        given="ends",
    ),
    Check: Keys(
        "clause what value limit kind unit passes status",
        left_out="quantity place binding",
        made={
            "what": lambda check: subject_words(check.what),
            "status": lambda check: known_words(check.status, check.binding),
        },
    ),
}

_encode: Final = Encoder(LAYOUT, JOINTS, CUTS, FINDINGS)


def result(told: ToldLayout) -> dict[str, Any]:
    """Put a layout and all that is told of it into plain numbers, text, lists and dictionaries.

    Parameters
    ----------
    told
        The layout with what came of its rules; where nothing that would mend a breach was looked for, every ``fix`` is
        null.

    Returns
    -------
    dict
        ``unit, title, rules, passes, outcome, mark, surfaces, joints, posts, openings, unguarded, give, runs, cuts,
        comparison, straight, stock, checks, findings, conflicts, cautions``. Lengths are floats in ``unit`` at full
        precision, angles degrees, stations and elevations in the guard's frame; heights are plumb. Nothing in it is NaN
        or infinite.

        First it has

        - of a surface its ``index`` and ``kind``, its ``start`` and ``end``, ``pitch_deg``, the ``rail_height`` and
          ``rail_underside`` above it, and its ``strands``: their ``count``, ``plumb_spacing``, ``square_spacing`` and
          the ``heights`` of their centres, highest first;
        - of a joint the surfaces it is ``between``, ``turn_deg`` in plan, left positive, ``bend_deg`` in space, the
          ``mitre_deg`` that halves it, where the rails' tops ``meets``, how far that is ``from_nosing``, uphill
          positive, its ``post``, the ``jog`` left there, and of its ``strands`` the ``number``, ``station`` and
          ``elevation`` on the post's centre, ``bend_deg``, and whether it passes ``whole``;
        - of a post its ``label``, ``station``, ``base`` and ``length``, ``top_bevel_deg``, the steeper of two, its
          ``role`` ("end", "line", "joint") and ``holes``: the ``strand``, its ``height`` above the base, on the centre
          and ``marked`` on the tape, ``drill_deg``, and the heights at both faces, ``low_face`` and ``high_face``;
        - of an opening ``where`` it is, its ``surface``, the largest ``sphere``, as designed and with all holes as
          marked (``sphere_as_marked``), the ``limit`` of a ``clause``, whether exactly that passes (``inclusive``),
          whether it ``passes`` (null: no rule), what the sphere ``touches``, and its ``centre``; where strands stand
          out from the stair also how far ``out`` from its side the centre is, level, on the sphere's way past both: its
          ``centre`` and ``contacts`` are then as seen square to the guard; and by how much the ``sphere`` may be too
          large where none of the parts holds it there: its ``error``, 0 elsewhere;
        - of a run its ``strand`` and ``posts``, its ``angle_changes``, ``length`` and ``cut_length``;
        - cuts of ``rails``, ``posts`` and ``strands``: ``label``, ``count``, ``length``, of a rail ``start_cut`` and
          ``end_cut``, each with ``kind`` and ``angle_deg``, of a post ``top_bevel_deg``;
        - of a check its ``clause``, ``what`` was checked, ``value``, ``limit``, and whether it ``passes``.

        Beyond that there are ``outcome`` ("complies", "does not comply", or "incomplete" where nothing fails but a push
        is not solved everywhere, ``passes`` then null), ``mark``, ``unguarded``, ``give``,
        ``comparison``, ``straight``, ``stock``, ``findings`` and ``conflicts``, and

        - of a surface ``rail``, its start and end; ``turn_deg`` made at its start, ``heading_deg`` in plan from the
          first surface's, left positive, ``plan_start`` and ``plan_end``, x along the first surface and y to its left;
          ``nosings`` in station order, empty but on flights; whether it ``carries`` a rail of its own: over a landing
          that does not, ``rail_height`` is the least of its neighbours' and there are no strands; where a job says on
          which ``hand`` of the stair its guard stands out from it, stations and plan are the guard's, from corner to
          corner of its own line, and ``edge`` has where the surface itself starts and ends, then both seen in plan;
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
          jog, with the ``surface`` whose rail changes or null, the exact ``value``, whether that is ``allowed``,
          the ``settings`` (``key``, ``value``), at marks, that were tried, and the ``effects`` elsewhere, with the
          ``size`` of another jog. ``meets`` is null where the rails run
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
          sphere is larger, or null, and its ``give`` under the job's push: the ``verdict``, one of
          `stairguard.model.guard.strand_deflection.PushVerdict`, null where nothing is judged; the
          ``probe``, the ``strands`` that give and the ``posts`` of the bay where it is weakest, its ``bay`` and
          ``run_length``, ``at`` (null: mid-bay) and ``clear``, ``push``, ``breaking_push`` and
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
          ``sleeves`` like strands, ``fittings`` by kind, the ``totals`` of ``strand``, ``rail``, ``post`` and
          ``sleeve``, of ``terminals``, ``tensioners``, ``angle_fittings`` and ``holes``, and ``weights`` (null where
          not known) with their ``unit``. ``marked`` is the longest length, or the strand's, at its tape mark: totals,
          weights and stock add up these.

        ``comparison`` holds ``through`` and ``break``: ``strands``, ``runs``, ``terminals``, ``tensioners``,
        ``angle_fittings``, ``holes`` and ``strand_total`` of either, null for a way that cannot be laid out, then
        ``why``; ``chosen`` is the job's. ``straight`` has for each measured flight the straight rails in the band
        ``required`` and, where rules that bind only some jobs ask more, ``optional``: ``least`` and ``most`` plumb over
        every nosing, by which ``clauses``, whether one ``exists`` (``why``: what is to be said of that), reach of
        ``slopes`` and of the heights over the ``first`` and ``last`` nosing, ``corners`` of the region of those two
        heights, the ``best`` rail, or the nosings ``blocking`` any; nosings by index in station order. ``stock`` has a
        plan for each of ``rail``, ``post`` and ``strand`` asked for, of the pieces that fit: its ``bars``, each with
        ``length``, ``count``, the ``pieces`` cut from it and its ``waste``, the length ``bought`` in all, ``used``,
        ``kerf_loss`` and ``waste``, the ``bound`` that no plan buys less than, and the ``gap`` above it; ``proven``
        only where none is ``too_long``, and of a rail that is, ``spliced``: its ``label`` and ``surface``, the
        ``posts`` to splice it over and its ``parts`` (both empty: not at posts). ``give``, null where the job says
        nothing of a push or a tension, has the ``force``, ``probe``, ``sphere`` (null: each opening's limit),
        ``friction`` and ``tension`` with its source, and whether all openings hold: ``passes``.
    """
    checked, inspection = told.checked, told.inspection
    layout = checked.layout
    give, by_opening = _give(layout)
    return _encode.record(
        layout,
        passes=checked.passes,
        outcome=inspection.outcome,
        give=give,
        surfaces=[_surface(layout, surface) for surface in layout.line.surfaces],
        joints=[joint_data(joint, layout.job.unit) for joint in layout.joints],
        openings=[_opening(layout, one, by_opening.get(index)) for index, one in enumerate(layout.openings)],
        runs=[_run(run, layout.job.unit) for run in layout.runs],
        cuts=cuts_data(layout),
        checks=_encode(checked.checks),
        findings=_encode(inspection.findings),
        conflicts=conflicts_data(inspection),
        cautions=list(caution_texts(checked.cautions, layout.job.unit)),
    )


def _give(layout: Layout) -> tuple[dict[str, Any] | None, dict[int, dict[str, Any]]]:
    """How strands give, and each opening by its index, where the job says anything of a push or a tension."""
    if layout.give is None:
        return None, {}
    from stairguard.reports.data.deflection_data import guard_give_data

    return guard_give_data(layout.give)


def _opening(layout: Layout, one: Opening, give: dict[str, Any] | None) -> dict[str, Any]:
    """An opening; of a guard that stands in the stair's plane no ``out`` and ``error``, which would be 0."""
    record = _encode.record(one, give=give)
    return {**record, "out": one.out, "error": one.error} if layout.job.post.out else record


def _run(run: StrandRun, unit: Unit) -> dict[str, Any]:
    return _encode.record(run, ends=[ended_words(ended, unit) for ended in run.ends])


def _surface(layout: Layout, surface: PlacedSurface) -> dict[str, Any]:
    rail, field = layout.rails[surface.index], layout.fields[surface.index]
    told: dict[str, Any] = _encode.record(
        surface,
        rail_height=float(rail.height),
        rail_underside=float(rail.underside),
        rail=_encode(rail),
        strands=_encode(field),
    )
    if surface.aside:
        ends = (surface.edge_start, surface.edge_end), surface.edge_in_plan
        told["edge"] = [_encode(place) for pair in ends for place in pair]
    return told
