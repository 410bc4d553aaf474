"""The public functions: flat, unit-aware, each one question.

Wherever a length, an angle or a force is asked for, a number, a `fractions.Fraction`, text or a pint
quantity will do. Nothing heavy is imported before it is needed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from stairguard.rim.asked import read_known, read_transition, read_unit
from stairguard.rim.jobfile import built_in_job, read_job, starter_text, write_starter
from stairguard.rim.lengths import format_length, parse_length
from stairguard.rim.measures import parse_angle, parse_force, parse_temperature

if TYPE_CHECKING:
    from stairguard.model.compared import RulesCompared
    from stairguard.model.findings import Inspection
    from stairguard.model.give import BayReport
    from stairguard.model.guard import CheckedLayout
    from stairguard.model.handed import GuardReport
    from stairguard.model.job import Job
    from stairguard.model.rules import RuleSet
    from stairguard.relations.records import RelationInfo, Solution
    from stairguard.rim.rows import Rows
    from stairguard.solve.opened import Opened
    from stairguard.solve.transition import Transition

__all__ = [
    "built_in_job",
    "compare_rules",
    "describe_relation",
    "draw_opening",
    "findings_table",
    "format_length",
    "give_report",
    "give_result",
    "guard_give",
    "inspect",
    "inspection_report",
    "inspection_result",
    "lay_out",
    "lengths_opening",
    "opening_report",
    "opening_result",
    "parse_angle",
    "parse_force",
    "parse_length",
    "parse_temperature",
    "points_opening",
    "read_job",
    "read_rules",
    "relation_names",
    "report",
    "result",
    "sides_opening",
    "solve_relation",
    "starter_text",
    "step_opening",
    "strand_give",
    "strands_opening",
    "transition",
    "write",
    "write_give",
    "write_inspection",
    "write_starter",
]


def lay_out(job: Job) -> CheckedLayout:
    """Solve a job and hold it to its rules.

    Parameters
    ----------
    job
        From `read_job`, `built_in_job`, or made by hand.

    Returns
    -------
    CheckedLayout
        Everything placed and measured in the job's unit; ``passes`` is the verdict.

    Raises
    ------
    PackError
        The job's rules cannot be read.
    JobError, GeometryError
        The job asks for what cannot be laid out, or no such guard exists.
    """
    from stairguard.rules.checks import check
    from stairguard.rules.read import read_rules as read
    from stairguard.solve.layout import lay_out as solve

    return check(solve(job, read(job.rules, job.unit)))


def read_rules(name_or_path: str | Path, unit: str = "in") -> RuleSet:
    """Read a rule pack by name or path, its lengths in ``unit``; PackError where there is no sound one."""
    from stairguard.rules.read import read_rules as read

    return read(str(name_or_path), read_unit(unit))


def step_opening(
    rise: object,
    run: object,
    lift: object,
    *,
    nosing: object = None,
    tread: object = None,
    open_riser: bool = False,
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
        Square, from the nosing line to the underside of the lowest member; not negative.
    nosing
        Projection of the nosing past the riser below it; less than the run; none if not given.
    tread
        Thickness of tread and nosing; less than the rise; none if not given.
    open_riser
        Whether the riser is open.
    limit
        Diameter of the sphere to stop. A sphere of exactly the limit counts as passing through.
    tape
        ``"us"``, ``"eu-1"``, ``"eu-2"``, ``"eu-3"``: the tape whose greatest error stands in for a +- not given;
        ``"none"``: such lengths are exact. If not given, none, but the unit's usual tape once any length has a +-
        (of an outline, which is measured, always).
    guard_band
        Its ratio to twice the standard uncertainty of the sphere; 0 is simple acceptance.
    inverse
        Whether to find the greatest lift for the limit too.
    unit
        ``"in"`` or ``"mm"``, of bare numbers and of the answer.

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
    from stairguard.rim import openings

    given = {"rise": rise, "run": run, "nosing": nosing, "tread": tread, "lift": lift}
    return openings.of_step(given, open_riser, openings.Terms(limit, tape, guard_band, inverse, None, unit))


def points_opening(
    points: Rows,
    *,
    strand_diameter: object = None,
    strand_edges: Sequence[int] = (),
    limit: object = None,
    tape: str | None = None,
    guard_band: object = 1,
    move: int | None = None,
    unit: str = "in",
) -> Opened:
    """Find the largest sphere through a closed outline of straight edges.

    Parameters
    ----------
    points
        Corners in order, either way round: pairs of lengths x and z, or the path of a CSV file of them.
    strand_diameter, strand_edges
        Edges, by number from 1 (edge k runs from point k to the next), that are axes of strands of that diameter.
    move
        The number of an edge: also find how far it may move, square to itself, for the limit.
    limit, tape, guard_band, unit
        As for `step_opening`.

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
    from stairguard.rim import openings

    terms = openings.Terms(limit, tape, guard_band, False, move, unit)
    return openings.by_points(points, strand_diameter, strand_edges, terms)


def sides_opening(
    sides: Sequence[object],
    *,
    diagonal: object = None,
    strand_diameter: object = None,
    strand_edges: Sequence[int] = (),
    limit: object = None,
    tape: str | None = None,
    guard_band: object = 1,
    move: int | None = None,
    unit: str = "in",
) -> Opened:
    """Find the largest sphere through a triangle, or through four sides and a diagonal.

    Parameters
    ----------
    sides
        Three lengths, or four in order round the opening; edge k is the k-th.
    diagonal
        With four sides: from the corner where side 1 starts to the one where side 3 starts.
    strand_diameter, strand_edges, limit, tape, guard_band, move, unit
        As for `points_opening`.

    Raises
    ------
    InputError
        One fault for every argument that cannot be used; lengths that make no figure, and by how much.

    Examples
    --------
    >>> sides_opening([5, 5, 6]).sphere
    3.0
    """
    from stairguard.rim import openings

    terms = openings.Terms(limit, tape, guard_band, False, move, unit)
    return openings.by_sides(sides, diagonal, strand_diameter, strand_edges, terms)


def lengths_opening(
    lengths: Rows,
    *,
    strand_diameter: object = None,
    strand_edges: Sequence[int] = (),
    limit: object = None,
    tape: str | None = None,
    guard_band: object = 1,
    move: int | None = None,
    unit: str = "in",
) -> Opened:
    """Find the largest sphere through any figure given by its sides and the diagonals that cut it into triangles.

    Parameters
    ----------
    lengths
        Rows of two corners' names and the length between them, or the path of a CSV file of them: the sides in order
        round the opening, then diagonals that do not cross, three fewer than the sides.
    strand_diameter, strand_edges, limit, tape, guard_band, move, unit
        As for `points_opening`.

    Raises
    ------
    InputError
        One fault for every row that cannot be used; lengths that make no figure, and by how much.

    Examples
    --------
    >>> lengths_opening([("A", "B", 5), ("B", "C", 5), ("C", "A", 6)]).touches
    ('edge 1', 'edge 2', 'edge 3')
    """
    from stairguard.rim import openings

    terms = openings.Terms(limit, tape, guard_band, False, move, unit)
    return openings.by_lengths(lengths, strand_diameter, strand_edges, terms)


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
        Square, centre to centre.
    inverse
        Whether to find the greatest spacing for the limit too.
    limit, tape, guard_band, unit
        As for `step_opening`. A strand's diameter is no tape's to measure: without a +- it is exact.

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
    from stairguard.rim import openings

    return openings.of_strands(spacing, strand_diameter, openings.Terms(limit, tape, guard_band, inverse, None, unit))


def opening_result(opened: Opened) -> dict[str, Any]:
    """Put an opening into plain data, ready for JSON; see `stairguard.views.answers_opening`."""
    from stairguard.views.answers_opening import opening_data

    return opening_data(opened)


def draw_opening(opened: Opened, path: str | Path, *, date: str | None = None) -> Path:
    """Draw an opening into a new file, ending in .svg, .png or .pdf.

    Parameters
    ----------
    opened
        From any of the functions that find one.
    date
        ``YYYY-MM-DD``, for the title block; today if not given.

    Raises
    ------
    InputError
        The date is none.
    OutputError
        Another ending, a file that is there already, or a folder that cannot be written; nothing was written.
    """
    from stairguard.rim.drawing import draw_opening as draw

    return draw(opened, path, date=date)


def opening_report(opened: Opened) -> str:
    """Write an opening in words: the sphere, why it is right, what limits and uncertainty make of it."""
    from stairguard.views.answers_opening import opening_text

    return opening_text(opened)


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

    Raises
    ------
    InputError
        One fault for every argument that cannot be used.

    Examples
    --------
    >>> transition("7.25", "10.5", 35, 36, "top").meets
    Fraction(42, 29)
    """
    from stairguard.solve.transition import transition as solve

    given = {
        "rise": rise,
        "run": run,
        "flight_height": flight_height,
        "landing_height": landing_height,
        "post_at": post_at,
    }
    _, asked, end = read_transition(given, at, unit)
    return solve(
        asked["rise"],
        asked["run"],
        asked["flight_height"],
        asked["landing_height"],
        end,
        asked.get("post_at"),
    )


def strand_give(*, unit: str = "in", compare: Sequence[str] = (), **given: object) -> BayReport:
    """Find the push that opens a gap between two strands, or a strand and a rigid edge, in one bay.

    Parameters
    ----------
    unit
        ``"in"`` or ``"mm"``, of bare lengths and of the answer; forces go with it, lbf or N.
    compare
        The same bay otherwise: ``"spacing=2.5in,bay=36in"``, each beside what was asked.
    given
        By name, as of the command ``give``. Needed: ``diameter``, ``spacing`` (centre to centre, square) or ``edge``
        (from a rigid edge to the strand's centre), ``bay`` (clear, along the strand), ``tension`` (at rest). Of the
        strand: ``run_length``, ``tension_source``, ``construction``, ``material``, ``stiffness``, ``breaking_force``,
        ``weight``, ``lead`` of its tensioner. Of the push: ``sphere``, ``probe``, ``force``, ``friction``, ``at``,
        ``post_stiffness``, ``anchor_stiffness``. A mass: ``hang``, ``sinks``. Upkeep: ``frame``, ``now``, ``coldest``,
        ``warmest``, ``wood``, ``grain``, ``moisture_from``, ``moisture_to``, ``seated``, ``post_width``, ``settling``.

    Raises
    ------
    InputError
        One fault for every value that is unknown, missing or cannot be used.
    JobError
        The tension is the strand's breaking force or more.

    Examples
    --------
    >>> found = strand_give(diameter="1/8in", spacing=3, bay=42, run_length="20ft", tension="200 lbf", sphere="4in")
    >>> round(found.answer.holding.push.held, 2), round(found.answer.holding.push.free, 2)
    (7.66, 6.75)
    """
    from stairguard.rim.give import bay_give

    return bay_give(given, unit, compare)


def guard_give(checked: CheckedLayout, compared: Mapping[str, CheckedLayout] | None = None) -> GuardReport:
    """Find what a whole guard's strands do under its job's push: every opening and bay, loads handed on, upkeep.

    Parameters
    ----------
    checked
        From `lay_out`; its job says the tension, the push and the climate, so far as they are known.
    compared
        The guard otherwise, by what is changed.

    Raises
    ------
    JobError
        The tension is the strand's breaking force or more.
    """
    from stairguard.solve.handed import guard_report, variant

    others = compared or {}
    first = [variant("as asked", checked.layout, checked.passes)] if others else []
    return guard_report(checked.layout, [*first, *(variant(k, o.layout, o.passes) for k, o in others.items())])


def give_report(answer: BayReport | CheckedLayout, guard: GuardReport | None = None) -> str:
    """Write a bay's give, or a checked guard's with its `guard_give`, as a plain page."""
    from stairguard.rim.give import page

    return page(answer, guard)


def give_result(answer: BayReport | CheckedLayout, guard: GuardReport | None = None) -> dict[str, Any]:
    """Put a bay's give, or a checked guard's with its `guard_give`, into plain data, ready for JSON."""
    from stairguard.rim.give import data

    return data(answer, guard)


def write_give(
    answer: BayReport | CheckedLayout,
    folder: str | Path,
    guard: GuardReport | None = None,
    *,
    date: str | None = None,
) -> tuple[Path, ...]:
    """Write page, result and pictures of a give into a new folder, complete or not at all; otherwise as `write`."""
    from stairguard.rim.give import write

    return write(answer, guard, Path(folder), date)


def relation_names() -> tuple[str, ...]:
    """Names of all formulas."""
    from stairguard.relations.engine import names

    return names()


def describe_relation(name: str) -> RelationInfo:
    """Equation, symbols, validity and source of a formula; InputError names the nearest to an unknown one."""
    from stairguard.relations.engine import describe

    return describe(name)


def solve_relation(name: str, find: str, known: Mapping[str, object], *, unit: str = "in") -> Solution:
    """Solve a formula for any one of its symbols.

    Parameters
    ----------
    name
        One of `relation_names`.
    find
        The symbol to solve for.
    known
        A value for every other symbol: lengths, angles in degrees, or plain numbers, as the symbol asks.
    unit
        ``"in"`` or ``"mm"``, of bare lengths and of the answer.

    Raises
    ------
    InputError
        One fault for every symbol that is unknown, missing or out of its domain.
    GeometryError
        No valid value satisfies the formula.

    Examples
    --------
    >>> known = {"rise": "7.5in", "run": 10, "nosing": 0, "sphere": "6in"}
    >>> solve_relation("step-sphere", "lift", known).exact
    '6/5'
    """
    from stairguard.relations.engine import describe, solve

    kinds = {symbol.name: symbol.kind for symbol in describe(name).symbols}
    return solve(name, find, read_known(known, kinds, read_unit(unit)))


def result(checked: CheckedLayout) -> dict[str, Any]:
    """Put a checked layout into plain data, ready for JSON; see `stairguard.views.result`."""
    from stairguard.views.result import result as view

    return view(checked)


def report(checked: CheckedLayout) -> str:
    """Write a checked layout as the plain page a carpenter works from."""
    from stairguard.views.report import report as view

    return view(checked)


def findings_table(found: CheckedLayout | Inspection) -> str:
    """Write what came of every rule on a layout, or in an inspection, as comma-separated values, the gravest first."""
    from stairguard.model.findings import Inspection
    from stairguard.rules.designed import inspect_layout
    from stairguard.views.findings import findings_csv

    return findings_csv(found if isinstance(found, Inspection) else inspect_layout(found))


def inspect(path: str | Path, *, rules: str | None = None) -> Inspection:
    """Hold a guard as measured to the rules.

    Parameters
    ----------
    path
        A job file with ``[[measured]]``, a table a figure taken on the guard; `starter_text` shows the keys.
    rules
        A pack, by name or path, in place of the file's.

    Returns
    -------
    Inspection
        A finding a rule and place, the gravest first, lengths in the file's unit. ``passes``: nothing that binds
        fails, and nothing of it is too close to call.

    Raises
    ------
    JobError, PackError
        The file or the rules cannot be read: one fault a mistake.
    """
    from stairguard.rim.inspecting import inspect as ask

    return ask(path, rules)


def inspection_report(inspection: Inspection) -> str:
    """Write an inspection as a plain page."""
    from stairguard.views.inspection import inspection_text

    return inspection_text(inspection)


def inspection_result(inspection: Inspection) -> dict[str, Any]:
    """Put an inspection into plain data, ready for JSON."""
    from stairguard.views.inspection import inspection_data

    return inspection_data(inspection)


def write_inspection(inspection: Inspection, folder: str | Path) -> tuple[Path, ...]:
    """Write an inspection's page, table and data into a new or empty folder; OutputError where that cannot be done."""
    from stairguard.rim.inspecting import write_inspection as save

    return save(inspection, Path(folder))


def compare_rules(path: str | Path, packs: Sequence[str], *, designed: bool = False) -> RulesCompared:
    """Hold one guard to several packs, and lay it out anew under each.

    Parameters
    ----------
    path
        A job file. With ``[[measured]]`` the guard is taken as measured, and not laid out.
    packs
        Their names or paths.
    designed
        Take the guard as the file's own rules lay it out, though it was measured too.

    Raises
    ------
    JobError, PackError, GeometryError
        As `lay_out` and `inspect`.
    """
    from stairguard.rim.inspecting import compare_rules as ask

    return ask(path, packs, designed)


def write(checked: CheckedLayout, folder: str | Path, *, date: str | None = None) -> tuple[Path, ...]:
    """Write drawings, lists, result and report into a new folder, complete or not at all.

    Parameters
    ----------
    checked
        From `lay_out`.
    folder
        Must not exist, or be empty; the folder it goes into must exist.
    date
        ``YYYY-MM-DD``, for the title block; today if not given. Equal layouts with equal dates give equal
        bytes.

    Returns
    -------
    tuple of Path
        The files, sorted by name.

    Raises
    ------
    InputError
        The date is none.
    OutputError
        The folder is in use or cannot be written; nothing was left behind.
    """
    from stairguard.rim.files import write_layout

    return write_layout(checked, Path(folder), date)
