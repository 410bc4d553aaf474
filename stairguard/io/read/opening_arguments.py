"""Openings asked about, read, one function a way of giving them: every fault in what is given is told at once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Any, Final, Literal

from stairguard.errors import Fault, InputError
from stairguard.io.parse import numbers
from stairguard.io.parse.arguments import read_unit
from stairguard.io.parse.exact_lengths import parse_length
from stairguard.io.parse.plus_minus import DEFAULT_TAPE, TAPES, Read, measurements, read_measured
from stairguard.model.asked.asked_opening import Measurement
from stairguard.model.asked.opening_question import EdgeQuestion, OutlineQuestion, StepQuestion, StrandsQuestion, Terms

if TYPE_CHECKING:
    from stairguard.io.parse.csv_rows import Rows
    from stairguard.model.job import Sign, Unit

_STEP: Final[dict[str, Sign]] = {
    "rise": "positive", "run": "positive", "nosing": "nonnegative", "tread": "nonnegative", "lift": "nonnegative",
}  # fmt: skip
_SIZED: Final = ("rise", "run", "lift", "offset")
_MOST_RATIO: Final = 10
_MOST_STEPS: Final = 10_000
"""Times the rise or the run of a step that another of its lengths may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """What is asked of any opening, as it is given: see `stairguard.step_opening` and those beside it."""

    limit: object = None
    tape: object = None
    guard_band: object = 1
    inverse: bool = False
    move: object = None
    unit: object = "in"


class _Reader:
    """Reads what is given; faults gather until `check`, and stand-ins take the place of what has one."""

    def __init__(self, terms: Given) -> None:
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

    def measured(
        self, reads: Sequence[Read], tape: str | None, binding: bool = True
    ) -> tuple[tuple[Measurement, ...], Terms]:
        """Each length with its +-, and the terms as they are then."""
        made, assumed, uncertain = measurements(reads, tape, self.unit)
        return made, Terms(
            unit=self.unit,
            limit=self.limit,
            ratio=self.ratio,
            inverse=self.terms.inverse,
            assumed=assumed,
            uncertain=uncertain,
            binding=binding,
        )

    def by_usual_tape(self, reads: Sequence[Read]) -> tuple[tuple[Measurement, ...], Terms]:
        """Each length with its +-, by the unit's usual tape unless told, which is then not the asker's own word."""
        own = self.tape is not None or any(read.plus_minus is not None for read in reads)
        return self.measured(reads, self.tape or DEFAULT_TAPE[self.unit], own)

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


def read_step(given: Mapping[str, object], open_riser: bool, terms: Given) -> StepQuestion:
    """Read a step: ``given`` has rise, run and lift, and nosing and tread or None; of a member beside it more.

    That is ``offset`` and ``strand_diameter``: then the lift may be negative.

    Raises
    ------
    InputError
        One fault for every length that cannot be used, or is beyond all proportion to the step.
    """
    reader = _Reader(terms)
    beside = _beside(reader, given)
    signs: dict[str, Sign] = {**_STEP, "lift": "any"} if beside else _STEP
    reads = {key: _step_length(reader, given, key, sign) for key, sign in signs.items()}
    unread = {fault.where for fault in reader.faults}
    for key, bound in (("nosing", "run"), ("tread", "rise")):
        if not unread & {key, bound} and reads[key].value >= reads[bound].value:
            must = f"less than the {bound} ({float(reads[bound].value):.6g} {reader.unit})"
            reader.faults.append(Fault(key, must, numbers.shown(given[key])))
    reader.check()
    reads |= beside
    _proportioned({key: read.value for key, read in reads.items()}, reader.limit, given)
    made, asked = reader.measured(list(reads.values()), reader.tape)
    return StepQuestion(terms=asked, open_riser=open_riser, **dict(zip(reads, made, strict=True)))


def _beside(reader: _Reader, given: Mapping[str, object]) -> dict[str, Read]:
    """Offset and diameter of a member beside the stair, if there is an offset, by the question's names."""
    offset, diameter = given.get("offset"), given.get("strand_diameter")
    if offset is None:
        if diameter is not None:
            must = "left out where no offset is given: the lift is to the member's underside"
            reader.faults.append(Fault("strand_diameter", must, numbers.shown(diameter)))
        return {}
    out = reader.length(offset, "offset", "nonnegative")
    if diameter is None:
        reader.faults.append(Fault("strand_diameter", "given with an offset: the sphere passes behind the member", ""))
        return {}
    thick = reader.length(diameter, "strand_diameter", "positive", name="strand diameter", taped=False)
    return {"offset": out, "diameter": thick} if out.value else {}


def read_edge(height: object, offset: object, strand_diameter: object, terms: Given) -> EdgeQuestion:
    """Read a level edge and the lowest strand along it: ``height`` of its axis square, ``offset`` level.

    Raises
    ------
    InputError
        One fault for every length that cannot be used, or is beyond all proportion to the strand.
    """
    reader = _Reader(terms)
    reads = [
        reader.length(height, "height", "any"),
        reader.length(offset, "offset", "nonnegative"),
        reader.length(strand_diameter, "strand_diameter", "positive", name="strand diameter", taped=False),
    ]
    reader.check()
    (over, out, diameter), asked = reader.measured(reads, reader.tape)
    return EdgeQuestion(terms=asked, height=over, offset=out, diameter=diameter)


def _proportioned(step: Mapping[str, Fraction], limit: Fraction | None, given: Mapping[str, object]) -> None:
    """Refuse lengths beyond all proportion to the step, whose sphere floats could not find."""
    least = min(("rise", "run"), key=lambda key: step[key])
    most = _MOST_STEPS * step[least]
    must = f"no more than {_MOST_STEPS:,} times the {least} ({float(step[least]):.6g})"
    faults = [Fault(key, must, numbers.shown(given[key])) for key in _SIZED if key in step and abs(step[key]) > most]
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


def read_strands(spacing: object, strand_diameter: object, terms: Given) -> StrandsQuestion:
    """Read two parallel strands: ``spacing`` square, centre to centre."""
    reader = _Reader(terms)
    apart = reader.length(spacing, "spacing", "positive")
    strand = reader.length(strand_diameter, "strand_diameter", "positive", name="strand diameter", taped=False)
    reader.check()
    (between, diameter), asked = reader.by_usual_tape([apart, strand])
    return StrandsQuestion(terms=asked, spacing=between, diameter=diameter)


def read_outline(points: Rows, strand_diameter: object, strand_edges: object, terms: Given) -> OutlineQuestion:
    """Read a closed outline by its corner points, x and z of each, and y where they are not all in one plane."""
    from stairguard.io.parse.csv_rows import read_points

    reader = _Reader(terms)
    strands = _strand(reader, strand_diameter, strand_edges)
    move = _edge(reader)
    coordinates: list[tuple[Read, ...]] = []
    try:
        coordinates = read_points(points, reader.unit)
    except InputError as error:
        reader.faults += error.faults
    outs = [row[2] for row in coordinates if len(row) > 2]
    if len({out.value for out in outs}) < 2:
        outs = []  # all in one plane, wherever that is
    elif move is not None:
        reader.faults.append(Fault("move", "left out where points stand in more than one plane", move))
    reader.check()
    made, asked = reader.by_usual_tape([*(read for row in coordinates for read in row[:2]), *outs, *strands.reads])
    count, few = 2 * len(coordinates), 2 * len(coordinates) + len(outs)
    return OutlineQuestion(
        form="points",
        terms=asked,
        corners=tuple(zip(made[:count:2], made[1:count:2], strict=True)),
        outs=tuple(made[count:few]),
        move=move,
        **strands.measured(made[few:]),
    )


def read_sides(
    sides: object, diagonal: object, strand_diameter: object, strand_edges: object, terms: Given
) -> OutlineQuestion:
    """Read a triangle by three sides, or four sides in order and the diagonal from the first corner to the third."""
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
    return _figure("sides", reader, lengths, across, None, _strand(reader, strand_diameter, strand_edges))


def read_lengths(lengths: Rows, strand_diameter: object, strand_edges: object, terms: Given) -> OutlineQuestion:
    """Read any figure by its sides in order and the diagonals that cut it into triangles."""
    from stairguard.io.parse.csv_rows import read_figure

    reader = _Reader(terms)
    sides: list[Read] = []
    diagonals: list[tuple[int, int, Read]] = []
    names: list[str] = []
    try:
        sides, diagonals, names = read_figure(lengths, reader.unit)
    except InputError as error:
        reader.faults += error.faults
    return _figure("lengths", reader, sides, diagonals, names, _strand(reader, strand_diameter, strand_edges))


def _figure(
    form: Literal["sides", "lengths"],
    reader: _Reader,
    sides: Sequence[Read],
    diagonals: Sequence[tuple[int, int, Read]],
    names: Sequence[str] | None,
    strands: _Strands,
) -> OutlineQuestion:
    move = _edge(reader)
    reader.check()
    made, asked = reader.by_usual_tape([*sides, *(read for _, _, read in diagonals), *strands.reads])
    few = len(sides) + len(diagonals)
    across = made[len(sides) : few]
    return OutlineQuestion(
        form=form,
        terms=asked,
        sides=made[: len(sides)],
        diagonals=tuple((i, j, length) for (i, j, _), length in zip(diagonals, across, strict=True)),
        names=None if names is None else tuple(names),
        move=move,
        **strands.measured(made[few:]),
    )


@dataclass(frozen=True, slots=True)
class _Strands:
    """Which edges are strands' axes; the diameter of those that share one, none or one, and each other's by number."""

    shared: tuple[Read, ...] = ()
    edges: frozenset[int] = frozenset()
    own: tuple[tuple[int, Read], ...] = ()

    @property
    def reads(self) -> tuple[Read, ...]:
        """All their diameters, what is shared first."""
        return (*self.shared, *(read for _, read in self.own))

    def measured(self, made: Sequence[Measurement]) -> dict[str, Any]:
        """The question's fields, of the same diameters as measured."""
        few = len(self.shared)
        own = tuple((edge, one) for (edge, _), one in zip(self.own, made[few:], strict=True))
        return {"diameter": made[0] if few else None, "strand_edges": self.edges, "own": own}


def _strand(reader: _Reader, diameter: object, edges: object) -> _Strands:
    """Edges that are strands' axes, by number, ``number:diameter`` where it is not shared, or a mapping of them."""
    pairs = _numbered(edges)
    found = [(_whole(reader, number, "strand_edges"), own) for number, own in pairs]
    bare = [number for number, own in found if own is None]
    if (diameter is None) != (not bare):
        missing = "strand_diameter" if diameter is None else "strand_edges"
        must = "given where the other of diameter and edges is"
        must += ", for those without one of their own" if len(bare) < len(found) else ""
        reader.faults.append(Fault(missing, must, ""))
    twice = sorted({number for number, _ in found if [n for n, _ in found].count(number) > 1})
    if twice and len(bare) < len(found):
        reader.faults.append(Fault("strand_edges", "each edge's number once", twice[0]))
    own = tuple(
        (
            number,
            reader.length(thick, "strand_edges", "positive", name=f"diameter of edge {number}", taped=False),
        )
        for number, thick in found
        if thick is not None
    )
    shared: tuple[Read, ...] = ()
    if diameter is not None:
        shared = (reader.length(diameter, "strand_diameter", "positive", name="strand diameter", taped=False),)
    every = frozenset(number for number, _ in found) if diameter is not None or own else frozenset[int]()
    return _Strands(shared, every, own)


def _numbered(edges: object) -> list[tuple[object, object]]:
    """Each edge as given, with the diameter that is its own, or None."""
    if isinstance(edges, Mapping):
        return list(edges.items())
    given = edges.split(",") if isinstance(edges, str) else list(edges) if isinstance(edges, Sequence) else []
    split = [one.partition(":") if isinstance(one, str) else (one, "", "") for one in given]
    return [(number, thick if colon else None) for number, colon, thick in split]


def _edge(reader: _Reader) -> int | None:
    return None if reader.terms.move is None else _whole(reader, reader.terms.move, "move")


def _whole(reader: _Reader, value: object, where: str) -> int:
    """Read an edge's number; numbers that no outline has are refused where the outline is known."""
    text = str(value).strip()
    if not isinstance(value, bool) and text.isascii() and text.isdigit() and len(text) < 7 and int(text) > 0:
        return int(text)
    reader.faults.append(Fault(where, "an edge's number, from 1", numbers.shown(value)))
    return 1
