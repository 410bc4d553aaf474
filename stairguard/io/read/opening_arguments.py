"""Openings asked about, one function a way of giving them: read everything, solve, judge.

Every fault in what is given is told at once. Nothing of uncertainty is loaded for a plain question.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from stairguard.errors import Fault, InputError
from stairguard.io.parse import numbers
from stairguard.io.parse.arguments import read_unit
from stairguard.io.parse.exact_lengths import Sign, parse_length
from stairguard.io.parse.plus_minus import DEFAULT_TAPE, TAPES, Read, measurements, read_measured
from stairguard.model.asked_opening import Form, Inverse, Measurement, Opened, StepMend

if TYPE_CHECKING:
    from stairguard.io.parse.csv_rows import Rows
    from stairguard.model.job import Unit
    from stairguard.solve.measured.measured_outline import Measured

__all__ = ["Terms", "by_lengths", "by_points", "by_sides", "of_step", "of_strands"]

_STEP: Final[dict[str, Sign]] = {
    "rise": "positive", "run": "positive", "nosing": "nonnegative", "tread": "nonnegative", "lift": "nonnegative",
}  # fmt: skip
_MOST_RATIO: Final = 10
_MOST_STEPS: Final = 10_000
"""Times the rise or the run of a step that another of its lengths may be."""


@dataclass(frozen=True, slots=True)
class Terms:
    """What is asked of any opening, as given: see `stairguard`."""

    limit: object = None
    tape: object = None
    guard_band: object = 1
    inverse: bool = False
    move: object = None
    unit: object = "in"


class _Reader:
    """Reads what is given; faults gather until `check`, and stand-ins take the place of what has one."""

    def __init__(self, terms: Terms) -> None:
        self.faults: list[Fault] = []
        self.unit: Unit = "in"  # stands in for another one
        try:
            self.unit = read_unit(terms.unit)
        except InputError as error:
            self.faults += error.faults
        self.terms = terms
        self.limit: Fraction | None = None
        self.tape: str | None = None
        self.ratio = Fraction(1)
        self.binding = True

    def length(self, value: object, where: str, sign: Sign, *, name: str = "", taped: bool = True) -> Read:
        """Read a length that may carry a +-."""
        try:
            return read_measured(value, self.unit, where=where, name=name, sign=sign, taped=taped)
        except InputError as error:
            self.faults += error.faults
            return Read(name or where, Fraction(1), None, taped)

    def check(self) -> None:
        """Read the terms and raise InputError for all that was refused."""
        terms = self.terms
        if terms.limit is not None:
            self.limit = self._limit(terms.limit)
        if terms.tape is not None:
            self.tape = str(terms.tape)
            if self.tape not in (*TAPES, "none"):
                self.faults.append(Fault("tape", f"one of {', '.join(TAPES)} or none", numbers.shown(terms.tape)))
        self.ratio = self._ratio(terms.guard_band)
        if terms.move is not None and terms.limit is None:
            self.faults.append(Fault("limit", "given with --move: the sphere to be stopped", ""))
        if self.faults:
            raise InputError(*self.faults)

    def _limit(self, value: object) -> Fraction | None:
        try:
            return parse_length(value, self.unit, where="limit", sign="positive")
        except InputError as error:
            with_spread = isinstance(value, str) and "±" in value.replace("+-", "±").replace("+/-", "±")
            exact_one = Fault("limit", "without a +-: the sphere to be stopped is exact", numbers.shown(value))
            self.faults += [exact_one] if with_spread else error.faults
            return None

    def _ratio(self, value: object) -> Fraction:
        text = numbers.plain(value) if isinstance(value, str) else None
        ratio = numbers.from_text(text or "") if isinstance(value, str) else numbers.from_number(value)
        if ratio is not None and 0 <= ratio <= _MOST_RATIO:
            return ratio
        must = f"the ratio of guard band to twice the standard uncertainty, 0 to {_MOST_RATIO}"
        self.faults.append(Fault("guard_band", must, numbers.shown(value)))
        return Fraction(1)


def of_step(given: Mapping[str, object], open_riser: bool, terms: Terms) -> Opened:
    """The step triangle: ``given`` has rise, run and lift, and nosing and tread or None."""
    from stairguard.solve.sphere.step_opening import step_opening
    from stairguard.solve.sphere.step_outline import step_figure

    reader = _Reader(terms)
    reads = {key: _step_length(reader, given, key, sign) for key, sign in _STEP.items()}
    unread = {fault.where for fault in reader.faults}
    for key, bound in (("nosing", "run"), ("tread", "rise")):
        if not unread & {key, bound} and reads[key].value >= reads[bound].value:
            must = f"less than the {bound} ({float(reads[bound].value):.6g} {reader.unit})"
            reader.faults.append(Fault(key, must, numbers.shown(given[key])))
    reader.check()
    step = {key: read.value for key, read in reads.items()}
    _proportioned(step, reader.limit, given)
    sizes = (step["rise"], step["run"], step["nosing"], step["tread"])
    answer = step_opening(*sizes, step["lift"], open_riser, reader.limit)
    measured, assumed, uncertain = measurements(list(reads.values()), reader.tape, reader.unit)
    uncertainty = None
    if uncertain:
        from stairguard.solve.measured.measured_step import step_uncertainty
        from stairguard.solve.measured.uncertainty import FINEST_READING

        uncertainty = step_uncertainty(
            answer, {m.name: m for m in measured}, open_riser, reader.ratio, FINEST_READING[reader.unit]
        )
    outline, pocket = step_figure(step, open_riser)
    inverse: Inverse | None = None
    mends: tuple[StepMend, ...] = ()
    if terms.inverse and reader.limit is not None:
        from stairguard.solve.sphere.inverse_opening import greatest_lift

        inverse = greatest_lift(*sizes, open_riser, reader.limit)
        if answer.passes is False and (inverse.greatest or 0) <= 0:  # there is no such lift over the treads
            from stairguard.solve.sphere.step_ways import step_mends

            mends = step_mends(*sizes, open_riser, step["lift"], Fraction(0), reader.limit)
    opened = Opened(
        "open step" if open_riser else "closed step",
        reader.unit,
        answer.sphere,
        answer.touches,
        answer.contacts,
        answer.centre,
        answer.limit,
        answer.passes,
        outline,
        (pocket,),
        measured,
        assumed,
        uncertainty,
        inverse,
        mends=mends,
    )
    return _with_fixes(opened, reader)


def _proportioned(step: Mapping[str, Fraction], limit: Fraction | None, given: Mapping[str, object]) -> None:
    """Refuse lengths beyond all proportion to the step, whose sphere floats could not find."""
    least = min(("rise", "run"), key=lambda key: step[key])
    most = _MOST_STEPS * step[least]
    must = f"no more than {_MOST_STEPS:,} times the {least} ({float(step[least]):.6g})"
    faults = [Fault(key, must, numbers.shown(given[key])) for key in ("rise", "run", "lift") if step[key] > most]
    if limit is not None and limit > most:
        faults.append(Fault("limit", must, float(limit)))
    if faults:
        raise InputError(*faults)


def _step_length(reader: _Reader, given: Mapping[str, object], key: str, sign: Sign) -> Read:
    """One length of a step. No nosing or tread at all is no measurement: nothing about it is uncertain."""
    value = given.get(key)
    absent = value is None and key in ("nosing", "tread")
    read = reader.length(0 if absent else value, key, sign)
    return Read(key, read.value, read.plus_minus, read.value > 0 or key == "lift")


def by_points(points: Rows, strand_diameter: object, strand_edges: object, terms: Terms) -> Opened:
    """A closed outline by its corner points."""
    from stairguard.io.parse.csv_rows import read_points
    from stairguard.solve.measured import measured_outline

    reader = _Reader(terms)
    strand, edges = _strand(reader, strand_diameter, strand_edges)
    move = _edge(reader)
    coordinates = []
    try:
        coordinates = read_points(points, reader.unit)
    except InputError as error:
        reader.faults += error.faults
    reader.check()
    flat = [read for pair in coordinates for read in pair]
    made, thick, assumed, uncertain = _made(reader, flat, strand)
    drawn = measured_outline.by_points(list(zip(made[::2], made[1::2], strict=True)), thick, edges)
    return _outline("points", reader, drawn, edges, thick, assumed, uncertain, move)


def by_sides(sides: object, diagonal: object, strand_diameter: object, strand_edges: object, terms: Terms) -> Opened:
    """A triangle by three sides, or four sides in order and the diagonal from the first corner to the third."""
    reader = _Reader(terms)
    given = sides.split(",") if isinstance(sides, str) else list(sides) if isinstance(sides, Sequence) else [sides]
    lengths = [reader.length(side, "sides", "positive", name=f"side {k}") for k, side in enumerate(given, 1)]
    across = []
    if diagonal is not None:
        across = [(0, 2, reader.length(diagonal, "diagonal", "positive", name="diagonal"))]
    if len(given) not in (3, 4):
        reader.faults.append(
            Fault("sides", "three, or four with a diagonal (more go in a table of lengths)", len(given))
        )
    elif len(given) - 3 != len(across):
        must = (
            "given with four sides: from the first corner to the third"
            if len(given) == 4
            else "left out with three sides"
        )
        reader.faults.append(Fault("diagonal", must, numbers.shown(diagonal)))
    return _figure("sides", reader, lengths, across, None, strand_diameter, strand_edges)


def by_lengths(lengths: Rows, strand_diameter: object, strand_edges: object, terms: Terms) -> Opened:
    """Any figure by its sides in order and the diagonals that cut it into triangles."""
    from stairguard.io.parse.csv_rows import read_figure

    reader = _Reader(terms)
    sides: list[Read] = []
    diagonals: list[tuple[int, int, Read]] = []
    names: list[str] = []
    try:
        sides, diagonals, names = read_figure(lengths, reader.unit)
    except InputError as error:
        reader.faults += error.faults
    return _figure("lengths", reader, sides, diagonals, names, strand_diameter, strand_edges)


def of_strands(spacing: object, strand_diameter: object, terms: Terms) -> Opened:
    """Two parallel strands: ``spacing`` square, centre to centre."""
    from stairguard.solve.sphere.outlined import between_strands

    reader = _Reader(terms)
    apart = reader.length(spacing, "spacing", "positive")
    strand = reader.length(strand_diameter, "strand_diameter", "positive", name="strand diameter", taped=False)
    reader.check()
    opening = between_strands(apart.value, strand.value, reader.limit)
    made, thick, assumed, uncertain = _made(reader, [apart], strand)
    inverse = None
    if reader.terms.inverse and reader.limit is not None:
        from stairguard.solve.sphere.inverse_opening import greatest_spacing

        inverse = greatest_spacing(strand.value, reader.limit)
    uncertainty = None
    if uncertain and thick is not None:
        from stairguard.solve.measured.measured_outline import by_strands, outline_uncertainty
        from stairguard.solve.measured.uncertainty import FINEST_READING

        drawn = by_strands(opening, made[0], thick)
        uncertainty = outline_uncertainty(opening, drawn, reader.ratio, FINEST_READING[reader.unit])
    pocket = opening.pockets[0]
    opened = Opened(
        "strands", reader.unit, opening.sphere, opening.outline.names(pocket.sites), pocket.contacts, pocket.centre,
        opening.limit, opening.passes, opening.outline, opening.pockets, (*made, *((thick,) if thick else ())), assumed,
        uncertainty, inverse, binding=reader.binding,
    )  # fmt: skip
    return _with_fixes(opened, reader)


def _figure(
    form: Form,
    reader: _Reader,
    sides: Sequence[Read],
    diagonals: Sequence[tuple[int, int, Read]],
    names: Sequence[str] | None,
    strand_diameter: object,
    strand_edges: object,
) -> Opened:
    from stairguard.solve.measured import measured_outline

    strand, edges = _strand(reader, strand_diameter, strand_edges)
    move = _edge(reader)
    reader.check()
    made, thick, assumed, uncertain = _made(reader, [*sides, *(read for _, _, read in diagonals)], strand)
    across = [(i, j, m) for (i, j, _), m in zip(diagonals, made[len(sides) :], strict=True)]
    drawn = measured_outline.by_lengths(made[: len(sides)], across, names, thick, edges)
    return _outline(form, reader, drawn, edges, thick, assumed, uncertain, move)


def _outline(
    form: Form,
    reader: _Reader,
    drawn: Measured,
    edges: frozenset[int],
    strand: Measurement | None,
    assumed: str,
    uncertain: bool,
    move: int | None,
) -> Opened:
    from stairguard.solve.measured.measured_outline import outline_uncertainty
    from stairguard.solve.measured.uncertainty import FINEST_READING
    from stairguard.solve.sphere.outlined import outline_opening

    opening = outline_opening(drawn.outline, reader.limit, drawn.grain)
    inverse: Inverse | None = None
    if move is not None and reader.limit is not None:
        from stairguard.solve.sphere.inverse_opening import edge_move

        inverse = edge_move(drawn.points, edges, strand.value / 2 if strand else Fraction(0), move, reader.limit)
    first = opening.pockets[0]
    uncertainty = outline_uncertainty(opening, drawn, reader.ratio, FINEST_READING[reader.unit]) if uncertain else None
    opened = Opened(
        form, reader.unit, opening.sphere, opening.outline.names(first.sites), first.contacts, first.centre,
        opening.limit, opening.passes, opening.outline, opening.pockets, drawn.measurements, assumed,
        uncertainty, inverse, drawn.points, reader.binding,
    )  # fmt: skip
    return _with_fixes(opened, reader, edges, move)


def _with_fixes(
    opened: Opened, reader: _Reader, edges: frozenset[int] = frozenset(), move: int | None = None
) -> Opened:
    """With what would make it comply, where it does not and the other way round is asked for."""
    if not reader.terms.inverse or opened.outcome in (None, "complies"):
        return opened
    from stairguard.rules.fixes.asked_ways import opened_fixes

    return replace(opened, fixes=opened_fixes(opened, edges, reader.ratio, move))


def _made(
    reader: _Reader, reads: Sequence[Read], strand: Read | None
) -> tuple[tuple[Measurement, ...], Measurement | None, str, bool]:
    """Measurements of the lengths, by the unit's usual tape unless told, and of the strand, no tape's to measure."""
    tape = reader.tape or DEFAULT_TAPE[reader.unit]
    own = any(read.plus_minus is not None for read in (*reads, *((strand,) if strand else ())))
    reader.binding = own or reader.tape is not None
    made, assumed, uncertain = measurements([*reads, *((strand,) if strand else ())], tape, reader.unit)
    return (made[:-1], made[-1], assumed, uncertain) if strand else (made, None, assumed, uncertain)


def _strand(reader: _Reader, diameter: object, edges: object) -> tuple[Read | None, frozenset[int]]:
    """Diameter and numbers of the edges that are strands' axes; both or neither."""
    given = edges.split(",") if isinstance(edges, str) else list(edges) if isinstance(edges, Sequence) else []
    numbers = [_whole(reader, number, "strand_edges") for number in given]
    if (diameter is None) != (not given):
        missing = "strand_diameter" if diameter is None else "strand_edges"
        reader.faults.append(Fault(missing, "given where the other of diameter and edges is", ""))
    if diameter is None:
        return None, frozenset()
    strand = reader.length(diameter, "strand_diameter", "positive", name="strand diameter", taped=False)
    return strand, frozenset(numbers)


def _edge(reader: _Reader) -> int | None:
    return None if reader.terms.move is None else _whole(reader, reader.terms.move, "move")


def _whole(reader: _Reader, value: object, where: str) -> int:
    """Read an edge's number; numbers that no outline has are refused where the outline is known."""
    text = str(value).strip()
    if not isinstance(value, bool) and text.isascii() and text.isdigit() and len(text) < 7 and int(text) > 0:
        return int(text)
    reader.faults.append(Fault(where, "an edge's number, from 1", numbers.shown(value)))
    return 1
