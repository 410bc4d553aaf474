"""Ways to close an opening as measured: solved the other way round, read off the tape, and judged again as made."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final, NamedTuple

from stairguard.errors import GeometryError, OutlineError
from stairguard.geometry.clearance.outline import Vec
from stairguard.geometry.clearance.pockets import compare
from stairguard.geometry.clearance.polygon import Thickness
from stairguard.model.asked.asked_opening import Inverse, Move, Opened, StepMend
from stairguard.model.asked.opening_question import sizes_of
from stairguard.model.fixes import Advice, Fix, Moved, Reshaped, Retaken, TapeMark
from stairguard.model.measured_guard import Taken
from stairguard.model.rules import Rule
from stairguard.rules.fixes.surface_ways import down, up
from stairguard.solve.measured.uncertainty import called
from stairguard.solve.sphere.beside_limits import beside_mends, greatest_lift_beside
from stairguard.solve.sphere.edge_opening import edge_opening, greatest_height, offset_mend
from stairguard.solve.sphere.inverse_opening import edge_move, greatest_lift, moved
from stairguard.solve.sphere.step_opening import step_opening
from stairguard.solve.sphere.step_ways import step_mends
from stairguard.solve.sphere.verdicts import stops

_MOST_MARKS: Final = 64  # how many marks beyond the solved figure one that is sure is looked for
_ROUNDED: Final = Fraction(1, 10**12)  # of a limit: corners moved, and lengths between them, are floats
_SOLID: Final = Fix((), advice=Advice.SOLID_PIECE)
_BOTH: Final = Fix((), advice=Advice.SOLID_PIECE_AND_GAP)
_FILL: Final = Fix((), advice=Advice.FILL_IN)


class ClosingTerms(NamedTuple):
    """What is asked of an opening once it is made smaller: the rule, the tape, and how guard bands are drawn."""

    rule: Rule
    ratio: Fraction
    tape: TapeMark
    band: float


def opening_fixes(row: Taken, index: int, closed: ClosingTerms) -> tuple[Fix, ...]:
    """Ways to close an opening, the figure at ``index`` among those taken, so that its rule is kept."""
    opened = row.opened
    if opened is None:
        return _nearer(row, index, closed)
    if opened.beside is not None:
        # of an outline in two planes what moves is not worked out
        return _nearer(row, index, closed) if opened.form == "points" else _out_or_down(opened, index, closed)
    if opened.form in ("closed step", "open step"):
        return _step(opened, index, closed)
    if opened.form == "strands":
        return _strands(opened, index, closed)
    return _edges(row, opened, index, closed)


def _below(limit: Fraction, mark: Fraction, rule: Rule) -> Fraction:
    """The greatest mark below a limit, or at it where exactly it may pass."""
    first = down(limit, mark)
    return first if first < limit or rule.inclusive else first - mark


def _surely(limit: Fraction, closed: ClosingTerms) -> Fraction | None:
    """The greatest mark below a limit by more than the guard band; None without one, or where nothing is left."""
    if not closed.band:
        return None
    first = down(limit - Fraction(closed.band), closed.tape.mark)
    value = first if float(limit - first) > closed.band else first - closed.tape.mark
    return value if value > 0 else None


def _nearer(row: Taken, index: int, closed: ClosingTerms) -> tuple[Fix, ...]:
    """What is clear across, given as one length."""
    limit = closed.rule.value
    value = _below(limit, closed.tape.mark, closed.rule)
    if value <= 0:
        return (_FILL,)
    sure = _surely(limit, closed)
    nearer = Retaken(
        quantity="opening",
        way="at most",
        rows=(index,),
        now=row.length.value,
        value=value,
        sure=sure,
        tape=closed.tape,
    )
    return (Fix((nearer,)),)


def _strands(opened: Opened, index: int, closed: ClosingTerms) -> tuple[Fix, ...]:
    spacing, strand = opened.measurements
    widest = closed.rule.value + strand.value
    value, sure = _below(widest, closed.tape.mark, closed.rule), _surely(widest, closed)
    if value <= strand.value:
        return (_FILL,)
    made = None if sure is None or sure <= strand.value else (sure,)
    sizes = (("spacing", spacing.value, value),)
    doubtful = made is None and closed.band > 0
    return (Fix((Reshaped(index, sizes, made, doubtful, closed.tape),)),)


# --- under a member, over a step --------------------------------------------------------------------------------------


def _step(opened: Opened, index: int, closed: ClosingTerms) -> tuple[Fix, ...]:
    """A lower member; where none is low enough, one on the nosing line and another step under it."""
    lengths = {m.name: m for m in opened.measurements}
    open_riser = opened.form == "open step"
    step = {name: m.value for name, m in lengths.items()}
    sizes = step["rise"], step["run"], step["nosing"], step["tread"]
    found = greatest_lift(*sizes, open_riser, closed.rule.value).greatest
    if found is not None and found > 0:
        fix = _made(opened, index, closed, "lift", Fraction(found), {})
        if fix is not None:
            return (fix,)
    ways = [
        _made(opened, index, closed, mend.what, Fraction(mend.value), {} if mend.lift is None else {"lift": mend.lift})
        for mend in step_mends(*sizes, open_riser, step["lift"], Fraction(0), closed.rule.value)
        if mend.what != "lift"
    ]
    gap = open_riser and found is None  # it lets the sphere through, whatever is under the member
    return (*(way for way in ways if way is not None), _BOTH if gap else _SOLID)


def _out_or_down(opened: Opened, index: int, closed: ClosingTerms) -> tuple[Fix, ...]:
    """Beside the stair: a lower member, or one nearer to its side."""
    found, mends = _greatest(opened, closed.rule.value)
    within = closed.rule.value - Fraction(closed.band)
    surely = _lengths(*_greatest(opened, within)) if 0 < within < closed.rule.value else {}
    made = [
        _made(opened, index, closed, what, Fraction(most), {}, Fraction(surely.get(what, most)))
        for what, most in _lengths(found, mends).items()
    ]
    fixes = tuple(fix for fix in made if fix is not None)
    return fixes or (_BOTH if found.why == "open between treads" else _SOLID,)


def _lengths(found: Inverse, mends: Sequence[StepMend]) -> dict[str, float]:
    """Each length that may be no more than a figure, by its name."""
    told: dict[str, float] = {mend.what: mend.value for mend in mends}
    return told if isinstance(found.what, Move) or found.greatest is None else {found.what: found.greatest, **told}


def _greatest(opened: Opened, limit: Fraction) -> tuple[Inverse, tuple[StepMend, ...]]:
    """How high and how far out it may be for a limit."""
    sizes = sizes_of(opened.measurements)
    if opened.form == "edge":
        height, offset, diameter = sizes["height"], sizes["offset"], sizes["strand_diameter"]
        return greatest_height(offset, diameter, limit), offset_mend(height, offset, diameter, limit)
    open_riser = opened.form == "open step"
    return greatest_lift_beside(sizes, open_riser, limit), beside_mends(sizes, open_riser, limit)


def _made(
    opened: Opened, index: int, closed: ClosingTerms, what: str, most: Fraction, also: Mapping[str, Fraction],
    sure_from: Fraction | None = None,
) -> Fix | None:  # fmt: skip
    """A length of a step made no more than ``most``: the first mark that keeps the rule, and one that surely does.

    The latter is looked for from there down, or from ``sure_from`` where nothing above that can be sure.
    """
    now = {m.name: m.value for m in opened.measurements}
    verdict = _edge_verdict if opened.form == "edge" else _step_verdict
    below = opened.beside is not None and what != "offset"

    def first(from_: Fraction, *, sure: bool) -> Fraction | None:
        return _first(from_, closed, lambda size: verdict(opened, closed, {**also, what: size}, sure), below=below)

    value = first(most, sure=False)
    if value is None:
        return None
    sure = first(value if sure_from is None else min(value, sure_from), sure=True) if closed.band else None
    sizes = [(what, now[what], value)]
    sizes += [(name, now[name], size) for name, size in also.items()]
    made = None if sure is None else (sure, *also.values())
    doubtful = made is None and closed.band > 0
    return Fix((Reshaped(index, tuple(sizes), made, doubtful, closed.tape),))


def _first(
    most: Fraction, closed: ClosingTerms, keeps: Callable[[Fraction], bool], *, below: bool = False
) -> Fraction | None:
    """The greatest mark from ``most`` down at which a length keeps a rule; None where none of a few dozen does.

    ``below`` says that it may be less than nothing.
    """
    start = down(most, closed.tape.mark)
    tried = (start - marks * closed.tape.mark for marks in range(_MOST_MARKS))
    return next((size for size in tried if (below or size >= 0) and keeps(size)), None)


def _step_verdict(opened: Opened, closed: ClosingTerms, changes: Mapping[str, Fraction], sure: bool) -> bool:
    """Whether a step with other lengths keeps the rule, or surely does."""
    measured = {m.name: replace(m, value=changes.get(m.name, m.value)) for m in opened.measurements}
    step = sizes_of(measured.values())
    if step["rise"] <= step["tread"] or step["run"] <= step["nosing"]:
        return False
    open_riser = opened.form == "open step"
    try:
        answer = step_opening(**step, open_riser=open_riser, limit=closed.rule.value)
    except GeometryError:  # the member leaves nothing open
        return True
    if not sure:
        return bool(answer.passes)
    if answer.beside is not None:
        from stairguard.solve.measured.measured_way import way_uncertainty

        band = way_uncertainty(answer, tuple(measured.values()), open_riser, closed.ratio).guard_band
    else:
        from stairguard.solve.measured.measured_step import step_uncertainty  # numpy: only where a fix has to be sure

        band = step_uncertainty(answer, measured, open_riser, closed.ratio).guard_band
    return called(float(closed.rule.value) - answer.sphere, band, bool(answer.passes)) == "pass"


def _edge_verdict(opened: Opened, closed: ClosingTerms, changes: Mapping[str, Fraction], sure: bool) -> bool:
    """Whether a strand otherwise placed over an edge keeps the rule, or surely does."""
    lengths = tuple(replace(m, value=changes.get(m.name, m.value)) for m in opened.measurements)
    height, offset, diameter = (length.value for length in lengths)
    try:
        answer = edge_opening(height, offset, diameter, closed.rule.value)
    except GeometryError:  # the strand leaves nothing open
        return True
    if not sure:
        return bool(answer.passes)
    from stairguard.solve.measured.measured_way import edge_uncertainty

    band = edge_uncertainty(answer, lengths, closed.ratio).guard_band
    return called(float(closed.rule.value) - answer.sphere, band, bool(answer.passes)) == "pass"


# --- outlines ---------------------------------------------------------------------------------------------------------


def _edges(row: Taken, opened: Opened, index: int, closed: ClosingTerms) -> tuple[Fix, ...]:
    """The edge that has to move in least: a strand where one is there, since those can be moved."""
    strands = sorted(row.strand_edges)
    fixes = [edge_fix(row, opened, index, closed, edge) for edge in strands or range(1, len(row.points) + 1)]
    found = [fix for fix in fixes if fix is not None]
    return (min(found, key=_by),) if found else (_FILL,)


def _by(fix: Fix) -> tuple[Fraction, bool, Fraction]:
    step = next(step for step in fix.steps if isinstance(step, Moved))
    return step.by, step.doubtful, step.sure or step.by


def edge_fix(row: Taken, opened: Opened, index: int, closed: ClosingTerms, edge: int) -> Fix | None:
    """How far one edge has to move in; None where it alone does not close the opening."""
    least = closed.tape.mark  # at the tie, or where only the guard band is left to clear, any move in tells
    if not opened.stops:
        try:
            found = edge_move(row.points, row.strand_edges, _radius(opened), edge, closed.rule.value).greatest
        except GeometryError:  # its neighbours lie in line with it
            return None
        if found is None:
            return None
        least = max(up(-found, closed.tape.mark), closed.tape.mark)
    by = _in(row, opened, closed, edge, least, sure=False)
    if by is None:
        return None
    sure = _in(row, opened, closed, edge, by, sure=True) if closed.band else None
    doubtful = sure is None and closed.band > 0
    moved_in = Moved(
        row=index,
        edge=edge,
        strand=edge in row.strand_edges,
        by=by,
        sure=sure,
        doubtful=doubtful,
        tape=closed.tape,
    )
    return Fix((moved_in,))


def _in(row: Taken, opened: Opened, closed: ClosingTerms, edge: int, least: Fraction, sure: bool) -> Fraction | None:
    """The least move in, by marks, at which an outline keeps the rule, or surely does."""
    for marks in range(_MOST_MARKS):
        by = least + marks * closed.tape.mark
        try:
            points = moved(row.points, row.strand_edges, _radius(opened), edge, -by)
            if _outline_verdict(row, opened, closed, points, sure):
                return by
        except (OutlineError, GeometryError):  # moved across another corner, or nothing is left open
            return None
    return None


def _radius(opened: Opened) -> Thickness:
    """Half a strand's diameter, of an outline with strands for edges; of each where some have their own."""
    if opened.own_diameters:
        return {edge.number: edge.radius for edge in opened.outline.sides if edge.number is not None and edge.radius}
    return max(edge.radius for edge in opened.outline.edges)


def _outline_verdict(row: Taken, opened: Opened, closed: ClosingTerms, points: Sequence[Vec], sure: bool) -> bool:
    """Whether an outline through other corners, measured as this one was, keeps the rule, or surely does."""
    from stairguard.solve.measured.measured_outline import outline_uncertainty
    from stairguard.solve.sphere.outlined import outline_opening

    drawn = _measured(row, opened, points)
    opening = outline_opening(drawn.outline, closed.rule.value, max(drawn.grain, _ROUNDED))
    signs = [compare(drawn.outline, pocket, closed.rule.value) for pocket in opening.pockets]
    passes = stops(closed.rule, max(signs)) and bool(opening.passes or closed.rule.inclusive)
    if not sure:
        return passes
    band = outline_uncertainty(opening, drawn, closed.ratio).guard_band
    return called(float(closed.rule.value) - opening.sphere, band, passes) == "pass"


def _measured(row: Taken, opened: Opened, points: Sequence[Vec]):  # type: ignore[no-untyped-def]  # numpy stays unloaded
    """An outline measured as the row's was: by its corners, or by its sides and the diagonal of four."""
    from stairguard.solve.measured import measured_outline

    thick = next((m for m in opened.measurements if m.name == "strand diameter"), None)
    own = dict(opened.own_diameters)
    taken = [m for m in opened.measurements if m is not thick and m not in own.values()]
    if opened.form == "points":
        flat = [value for point in points for value in (point.x, point.z)]
        if len(points) < len(row.points):  # a side in two pieces is moved as one: the corner within it is gone
            around = zip((row.points[-1], *row.points), row.points, (*row.points[1:], row.points[0]), strict=False)
            turns = [(b.x - a.x) * (c.z - b.z) != (b.z - a.z) * (c.x - b.x) for a, b, c in around]
            taken = [m for k, m in enumerate(taken) if turns[k // 2]]
        made = [replace(m, value=value) for m, value in zip(taken, flat, strict=True)]
        return measured_outline.by_points(list(zip(made[::2], made[1::2], strict=True)), thick, row.strand_edges, own)
    n = len(points)
    chords = [(k, (k + 1) % n) for k in range(n)] + [(0, 2)] * (len(taken) - n)
    lengths = [_apart(points[i], points[j]) for i, j in chords]
    made = [replace(m, value=length) for m, length in zip(taken, lengths, strict=True)]
    across = [(0, 2, m) for m in made[n:]]
    return measured_outline.by_lengths(made[:n], across, None, thick, row.strand_edges, own)


def _apart(a: Vec, b: Vec) -> Fraction:
    return Fraction(math.hypot(float(a.x - b.x), float(a.z - b.z)))
