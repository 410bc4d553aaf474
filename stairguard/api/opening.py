"""Public functions: openings asked about one by one, and where rails meet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from stairguard.io.parse.csv_rows import Rows
    from stairguard.model.asked.asked_opening import Opened
    from stairguard.model.asked.opening_question import OpeningQuestion
    from stairguard.model.asked.rail_transition import Transition


def step_opening(
    rise: object,
    run: object,
    lift: object,
    *,
    nosing: object = None,
    tread: object = None,
    open_riser: bool = False,
    offset: object = None,
    strand_diameter: object = None,
    limit: object = None,
    tape: str | None = None,
    guard_band: object = 1,
    inverse: bool = False,
    unit: str = "in",
) -> Opened:
    """Find the largest sphere through a step triangle.

    Parameters
    ----------
    rise, run
        Of the step, plumb and level; more than zero. Like every length but the limit, each may carry a +-
        (``"7-3/4in +- 1/32in"``, or a pair of lengths).
    lift
        Square, from the nosing line to the underside of the lowest member; not negative, unless there is an offset.
    nosing
        Projection of the nosing past the riser below it; less than the run; none if not given.
    tread
        Thickness of tread and nosing; less than the rise; none if not given.
    open_riser
        Whether the riser is open.
    offset, strand_diameter
        Of a member that stands out from the stair: its axis from the stair's side, level, and its own diameter; both
        or neither. The sphere then passes in space, over the tread's side and behind the member.
    limit
        Diameter of the sphere to stop. A sphere of exactly the limit counts as passing through.
    tape
        ``"us"``, ``"eu-1"``, ``"eu-2"``, ``"eu-3"``: the tape whose greatest error stands in for a +- not given;
        ``"none"``: such lengths are exact. If not given, none, but the unit's usual tape once any length has a +-
        (of an outline, which is measured, always).
    guard_band
        Its ratio to twice the standard uncertainty of the sphere; 0 is simple acceptance.
    inverse
        Whether to find the greatest lift for the limit, and where it is not kept what would keep it, too.
    unit
        ``"in"`` or ``"mm"``, of bare numbers and of the answer.

    Returns
    -------
    Opened
        Its ``sphere`` is the diameter, in ``unit``, which touches ``touches``; ``passes`` says whether it is stopped.

    Raises
    ------
    InputError
        One fault for every argument that cannot be used.
    GeometryError
        The member lies too low to leave an opening.

    Examples
    --------
    >>> found = step_opening("7-3/4in", "10in", 0, nosing="1in", tread="1in")
    >>> round(found.sphere, 8), found.touches
    (5.60826098, ('tread', 'riser', 'member'))
    """
    from stairguard.io.read.opening_arguments import Given, read_step

    given = {
        "rise": rise, "run": run, "nosing": nosing, "tread": tread, "lift": lift,
        "offset": offset, "strand_diameter": strand_diameter,
    }  # fmt: skip
    return _answered(
        read_step(
            given,
            open_riser,
            Given(limit=limit, tape=tape, guard_band=guard_band, inverse=inverse, move=None, unit=unit),
        )
    )


def edge_opening(
    height: object,
    offset: object,
    strand_diameter: object,
    *,
    limit: object = None,
    tape: str | None = None,
    guard_band: object = 1,
    inverse: bool = False,
    unit: str = "in",
) -> Opened:
    """Find the largest sphere over the edge of a landing, deck or ramp, under the lowest strand along it.

    Parameters
    ----------
    height
        Square, from the surface to the middle of the lowest strand; negative where it is below the surface.
    offset
        Level, from the edge out to the middle of the strand; not negative.
    strand_diameter
        More than zero.
    inverse
        Whether to find the greatest height for the limit, and where it is not kept what would keep it, too.
    limit, tape, guard_band, unit
        As for `step_opening`. A strand's diameter is no tape's to measure: without a +- it is exact.

    Returns
    -------
    Opened
        Its ``sphere`` is the diameter, in ``unit``; ``beside`` says how far out from the edge it is where it is held.

    Raises
    ------
    InputError
        One fault for every argument that cannot be used.
    GeometryError
        The strand lies on the edge, or its face, and leaves no opening.

    Examples
    --------
    >>> found = edge_opening("2.79in", "3-3/4in", "1/8in", limit="4in")
    >>> round(found.sphere, 2), found.touches, found.passes
    (4.61, ('edge', 'strand'), False)
    """
    from stairguard.io.read.opening_arguments import Given, read_edge

    terms = Given(limit=limit, tape=tape, guard_band=guard_band, inverse=inverse, move=None, unit=unit)
    return _answered(read_edge(height, offset, strand_diameter, terms))


def points_opening(
    points: Rows,
    *,
    strand_diameter: object = None,
    strand_edges: Sequence[int | str] | Mapping[int, object] | str = (),
    limit: object = None,
    tape: str | None = None,
    guard_band: object = 1,
    move: int | str | None = None,
    inverse: bool = False,
    unit: str = "in",
) -> Opened:
    """Find the largest sphere through a closed outline of straight edges.

    Parameters
    ----------
    points
        Corners in order, either way round: pairs of lengths x and z, or the path of a CSV file of them. Where edges
        stand in two planes, x, z and y, which is out of the drawing: each edge in one plane, or straight out from one
        to the other. A plain edge reaches in from the near plane or out from the far one; strands are round.
    strand_diameter, strand_edges
        Edges, by number from 1 (edge k runs from point k to the next), that are axes of strands of that diameter; a
        list, or a text with commas. One of a diameter of its own has it after a colon: ``"1,3:1-1/2in"``, or all have
        them in a mapping, ``{1: "1/8in", 3: "1-1/2in"}``.
    move
        The number of an edge: also find how far it may move, square to itself, for the limit; not in two planes.
    inverse
        Whether to find what would keep the limit, where it is not kept, too; in two planes that is not worked out.
    limit, tape, guard_band, unit
        As for `step_opening`.

    Returns
    -------
    Opened
        Its ``sphere`` is the diameter, in ``unit``, which touches ``touches``; ``passes`` says whether it is stopped.

    Raises
    ------
    InputError
        One fault for every argument that cannot be used, or what keeps the points from bounding a region.

    Examples
    --------
    >>> found = points_opening([(0, 0), (4, 0), (4, 3)], limit="2in")
    >>> found.sphere, found.touches, found.passes
    (2.0, ('edge 1', 'edge 2', 'edge 3'), False)
    """
    from stairguard.io.read.opening_arguments import Given, read_outline

    terms = Given(limit=limit, tape=tape, guard_band=guard_band, inverse=inverse, move=move, unit=unit)
    return _answered(read_outline(points, strand_diameter, strand_edges, terms))


def sides_opening(
    sides: Sequence[object] | str,
    *,
    diagonal: object = None,
    strand_diameter: object = None,
    strand_edges: Sequence[int | str] | Mapping[int, object] | str = (),
    limit: object = None,
    tape: str | None = None,
    guard_band: object = 1,
    move: int | str | None = None,
    inverse: bool = False,
    unit: str = "in",
) -> Opened:
    """Find the largest sphere through a triangle, or through four sides and a diagonal.

    Parameters
    ----------
    sides
        Three lengths, or four in order round the opening; edge k is the k-th.
    diagonal
        With four sides: from the corner where side 1 starts to the one where side 3 starts.
    strand_diameter, strand_edges, limit, tape, guard_band, move, inverse, unit
        As for `points_opening`.

    Returns
    -------
    Opened
        Its ``sphere`` is the diameter, in ``unit``, which touches ``touches``; ``passes`` says whether it is stopped.

    Raises
    ------
    InputError
        One fault for every argument that cannot be used; lengths that make no figure, and by how much.

    Examples
    --------
    >>> sides_opening([5, 5, 6]).sphere
    3.0
    """
    from stairguard.io.read.opening_arguments import Given, read_sides

    terms = Given(limit=limit, tape=tape, guard_band=guard_band, inverse=inverse, move=move, unit=unit)
    return _answered(read_sides(sides, diagonal, strand_diameter, strand_edges, terms))


def lengths_opening(
    lengths: Rows,
    *,
    strand_diameter: object = None,
    strand_edges: Sequence[int | str] | Mapping[int, object] | str = (),
    limit: object = None,
    tape: str | None = None,
    guard_band: object = 1,
    move: int | str | None = None,
    inverse: bool = False,
    unit: str = "in",
) -> Opened:
    """Find the largest sphere through any figure given by its sides and the diagonals that cut it into triangles.

    Parameters
    ----------
    lengths
        Rows of two corners' names and the length between them, or the path of a CSV file of them: the sides in order
        round the opening, then diagonals that do not cross, three fewer than the sides.
    strand_diameter, strand_edges, limit, tape, guard_band, move, inverse, unit
        As for `points_opening`.

    Returns
    -------
    Opened
        Its ``sphere`` is the diameter, in ``unit``, which touches ``touches``; ``passes`` says whether it is stopped.

    Raises
    ------
    InputError
        One fault for every row that cannot be used; lengths that make no figure, and by how much.

    Examples
    --------
    >>> lengths_opening([("A", "B", 5), ("B", "C", 5), ("C", "A", 6)]).touches
    ('edge 1', 'edge 2', 'edge 3')
    """
    from stairguard.io.read.opening_arguments import Given, read_lengths

    terms = Given(limit=limit, tape=tape, guard_band=guard_band, inverse=inverse, move=move, unit=unit)
    return _answered(read_lengths(lengths, strand_diameter, strand_edges, terms))


def strands_opening(
    spacing: object,
    strand_diameter: object,
    *,
    limit: object = None,
    tape: str | None = None,
    guard_band: object = 1,
    inverse: bool = False,
    unit: str = "in",
) -> Opened:
    """Find the largest sphere between two parallel strands, open at both ends.

    Parameters
    ----------
    spacing
        Square, centre to centre; more than zero.
    strand_diameter
        Of both; more than zero and less than the spacing.
    inverse
        Whether to find the greatest spacing for the limit, and where it is not kept what would keep it, too.
    limit, tape, guard_band, unit
        As for `step_opening`. A strand's diameter is no tape's to measure: without a +- it is exact.

    Returns
    -------
    Opened
        Its ``sphere`` is the diameter, in ``unit``, which touches ``touches``; ``passes`` says whether it is stopped.

    Raises
    ------
    InputError
        One fault for every argument that cannot be used.
    GeometryError
        The strands touch or overlap.

    Examples
    --------
    >>> strands_opening("3in", "1/8in").sphere
    2.875
    """
    from stairguard.io.read.opening_arguments import Given, read_strands

    terms = Given(limit=limit, tape=tape, guard_band=guard_band, inverse=inverse, move=None, unit=unit)
    return _answered(read_strands(spacing, strand_diameter, terms))


def _answered(question: OpeningQuestion) -> Opened:
    """Solve it; with what would make it comply, where it does not and the other way round is asked for."""
    from stairguard.solve.measured.opening_answer import answer_opening

    opened, terms = answer_opening(question), question.terms
    if not terms.inverse or opened.outcome in (None, "complies"):
        return opened
    from dataclasses import replace

    from stairguard.model.asked.opening_question import OutlineQuestion
    from stairguard.rules.fixes.asked_ways import opened_fixes

    if isinstance(question, OutlineQuestion):
        fixes = opened_fixes(opened, question.strand_edges, terms.ratio, question.move)
    else:
        fixes = opened_fixes(opened, frozenset(), terms.ratio)
    return replace(opened, fixes=fixes)


def transition(
    rise: object,
    run: object,
    flight_height: object,
    landing_height: object,
    at: str,
    *,
    post_at: object = None,
    unit: str = "in",
) -> Transition:
    """Find where a flight's rail meets a landing's.

    Parameters
    ----------
    rise, run
        Of the flight's steps, plumb and level; more than zero.
    flight_height, landing_height
        Top of rail, plumb above the nosing line and above the landing.
    at
        ``"top"`` or ``"bottom"`` of the flight.
    post_at
        Level distance of a post from the flight's nosing at that end, uphill positive: gives the landing
        height that keeps the rail unbroken there, and the jog.
    unit
        ``"in"`` or ``"mm"``, of bare numbers and of the answer.

    Returns
    -------
    Transition
        Where they ``meets``, level from the nosing at that end, uphill positive; bend and mitre in degrees; with a
        post, the landing height that leaves no jog there, and the ``jog``, the landing's rail above the flight's.

    Raises
    ------
    InputError
        One fault for every argument that cannot be used.

    Examples
    --------
    >>> transition("7.25", "10.5", 35, 36, "top").meets
    Fraction(42, 29)
    """
    from stairguard.io.read.transition_arguments import read_transition
    from stairguard.solve.joint.transition import transition as solve

    given = {
        "rise": rise,
        "run": run,
        "flight_height": flight_height,
        "landing_height": landing_height,
        "post_at": post_at,
    }
    return solve(read_transition(given, at, unit))
