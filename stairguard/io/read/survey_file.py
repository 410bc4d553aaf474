"""A job file read as an inspector's: the surfaces, and ``[[measured]]``, one table a figure taken on the guard.

What the layout would need besides, rail, strand and post, may stand in the file and is not read here, but for how far
out from the stair's side the strands stand, and how thick they are there.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import sqrt
from typing import Final, NamedTuple, cast

from stairguard.errors import Fault, InputError, JobError, StairguardError
from stairguard.geometry.clearance.outline import Vec
from stairguard.io.parse.plus_minus import read_measured
from stairguard.io.read import opening_arguments
from stairguard.io.read.job_file import read_surfaces
from stairguard.io.read.site_tables import pack_faults, read_place
from stairguard.io.read.toml_file import load
from stairguard.io.read.toml_table import Table
from stairguard.model.asked.asked_opening import Measurement, Opened
from stairguard.model.job import Flight, Job, MeasuredFlight, Sign, Surface
from stairguard.model.measured_guard import LENGTHS, OF_THE_WHOLE, Survey, Taken
from stairguard.model.rules import What
from stairguard.model.soundness.job_bounds import MOST_RISERS
from stairguard.reading import Source
from stairguard.solve.line.surface_line import place
from stairguard.solve.line.surveyed_flight import rises, runs
from stairguard.solve.measured.opening_answer import answer_opening

_MOST_ROWS: Final = 5000
_LONGEST_AT: Final = 100
_MOST_RATIO: Final = 10
_DESIGN: Final = ("rail", "strand", "post", "ends", "stock", "push", "climate")
_WHATS: Final = (*LENGTHS, "opening")
_FORMS: Final = ("value", "lift", "height", "points", "sides", "spacing")
_STEP: Final = ("rise", "run", "nosing", "tread")
_ON_A_TREAD: Final = ("opening", "run")
_SIGNS: Final[dict[str, Sign]] = {
    "rise": "positive",
    "run": "positive",
    "nosing": "nonnegative",
    "tread": "nonnegative",
}
_MAY_BE_NOTHING: Final = ("lowest edge", "drop", "nosing projection", "handrail extension", "member")


def read_survey(path: Source, rules: str | None = None) -> Survey:
    """Read a guard as measured.

    Parameters
    ----------
    path : a job file with ``[[measured]]`` tables
    rules : a pack to take in place of the file's

    Raises
    ------
    JobError
        The file cannot be read, or has unknown, missing or impossible keys: one fault each.
    """
    content = load(path)
    faults: list[Fault] = []
    top = Table(content, "", "mm" if content.get("unit") == "mm" else "in", faults)
    top.field(Job, "unit")
    title = top.field(Job, "title")
    pack = top.field(Job, "rules") if rules is None else rules
    if rules is None and not top.has("rules"):
        top.file(pack_faults("", top.unit))
    mark = top.field(Job, "mark") if top.has("mark") else None
    for key in (*_DESIGN, "rules", "mark"):
        top.known(key)
    site, handrail = read_place(top)
    terms = top.table("inspection", optional=True)
    plus_minus = terms.length("plus_minus", "nonnegative", default=0)
    ratio = terms.number("guard_band", 0, _MOST_RATIO, default=1)
    terms.close()
    surfaces = read_surfaces(top)
    tables = list(top.each("measured", _MOST_ROWS)) if top.has("measured") else []
    before = len(faults)
    rows = [_Row(table, surfaces, plus_minus, _beside(content)).read() for table in tables]
    if len(surfaces) < _count(content.get("surface")):
        # of surfaces that could not be read nothing is known that a figure could be held to
        faults[before:] = [fault for fault in faults[before:] if fault.where.rpartition(".")[2] not in _OF_SURFACES]
    top.known("measured")
    top.close()
    if faults:
        raise JobError(*faults)
    taken = tuple(row for row in rows if row is not None)
    return Survey(
        title=title,
        unit=top.unit,
        rules=pack,
        surfaces=surfaces,
        site=site,
        handrail=handrail,
        taken=taken,
        plus_minus=plus_minus,
        ratio=ratio,
        mark=mark,
    )


class _Beside(NamedTuple):
    """What the file says of strands beside the stair, as it stands there; None where it says nothing."""

    offset: object
    diameter: object


def _beside(content: Mapping[str, object]) -> _Beside:
    post, strand = (one if isinstance(one := content.get(key), Mapping) else {} for key in ("post", "strand"))
    return _Beside(post.get("offset") if post.get("mount") == "side" else None, strand.get("diameter"))


def _count(tables: object) -> int:
    return len(tables) if isinstance(tables, list) else 0


class _Shape(NamedTuple):
    """An opening solved from what was measured of it, with its outline's points and the edges that are strands."""

    opened: Opened | None = None
    points: tuple[Vec, ...] = ()
    strand_edges: frozenset[int] = frozenset()


_OF_SURFACES: Final = frozenset({"surface", "step", *_STEP})
"""Keys whose faults hang on the surface."""
_NO_SHAPE: Final = _Shape()


class _Row:
    """One ``[[measured]]`` table."""

    def __init__(self, table: Table, surfaces: Sequence[Surface], plus_minus: Fraction, beside: _Beside) -> None:
        self.table, self.surfaces, self.plus_minus, self.beside = table, surfaces, plus_minus, beside

    def read(self) -> Taken | None:
        """The figure; None where it cannot be told. Its faults are filed."""
        table = self.table
        what = cast(What, table.choice("what", _WHATS))
        at = table.text("at", _LONGEST_AT, default="")
        station = table.length_if_given("station", "any")
        surface = self._surface(what)
        step = self._step_number(what, surface)
        if step is not None and not at:
            at = f"step {step}"
        low = table.length("from_height", "nonnegative", default=0)
        high = table.length_if_given("to_height")
        if high is not None and high <= low:
            table.refuse("to_height", f"more than from_height ({float(low):.6g})", high)
        reach = table.length_if_given("reach", "nonnegative")
        place = self._place(what, surface)
        shape = _NO_SHAPE
        if what == "opening":
            shape, length = self._opening(surface, step)
        else:
            length = self._length("value", "nonnegative" if what in _MAY_BE_NOTHING else "positive", what)
        table.close()
        if length is None:
            return None
        return Taken(
            what=what,
            length=length,
            surface=surface,
            place=place,
            at=at,
            station=station,
            low=low,
            high=high,
            reach=reach,
            **shape._asdict(),
        )

    def _surface(self, what: str) -> int | None:
        """Index of the surface it was taken on; the figures of a whole guard need none."""
        if not self.table.has("surface") and what in OF_THE_WHOLE:
            self.table.known("surface")
            return None
        return self.table.whole("surface", 1, max(len(self.surfaces), 1)) - 1

    def _step_number(self, what: What, surface: int | None) -> int | None:
        """Which step of its flight it was taken at: a tread, of which there is one less than risers, or a riser."""
        table = self.table
        step = table.whole_if_given("step", 1, MOST_RISERS)
        if step is None or surface is None or not self.surfaces:
            return step
        flight = self._flight(surface)
        if flight is None:
            table.refuse("step", "left out but on a flight", step)
            return None
        risers = flight.risers if isinstance(flight, Flight) else len(flight.nosings)
        most = risers - 1 if what in _ON_A_TREAD else risers
        if step > most >= 1:  # of nosings that were refused there is none
            name = "tread" if what in _ON_A_TREAD else "riser"
            table.refuse("step", f"a {name} of surface {surface + 1}: a whole number from 1 to {most}", step)
        return step if most < 1 else min(step, most)

    def _place(self, what: str, surface: int | None) -> str:
        """Where, in a pack's words, of an opening or a handrail's extension."""
        if what == "opening":
            flight = self._flight(surface)
            closed = self.table.has("lift") and not (flight is not None and flight.open_risers)
            default = "step triangle" if closed else "any"  # without a riser there is no triangle
            return self.table.choice("place", ("any", "step triangle", "open riser"), default=default)
        if what == "handrail extension":
            return self.table.choice("place", ("flight top", "flight bottom", "ramp"))
        self.table.forbid("place", "left out but of an opening or a handrail's extension")
        return ""

    def _length(self, key: str, sign: Sign, name: str) -> Measurement | None:
        """One length with its +-, or the file's."""
        table = self.table
        table.known(key)
        if not table.has(key):
            table.refuse(key, "a length, with or without a +-", None)
            return None
        return self._measured(table.given(key), table.name(key), sign, name)

    def _measured(self, value: object, where: str, sign: Sign, name: str) -> Measurement | None:
        try:
            read = read_measured(value, self.table.unit, where=where, name=name, sign=sign)
        except InputError as error:
            self.table.file(error.faults)
            return None
        return Measurement(name, read.value, self.plus_minus if read.plus_minus is None else read.plus_minus)

    def _opening(self, surface: int | None, step: int | None) -> tuple[_Shape, Measurement | None]:
        """An opening, in the one way in which it is given; of a shape, the sphere stands in for its length."""
        table = self.table
        given = [key for key in _FORMS if table.has(key)]
        for key in (*_FORMS, *_STEP, "offset", "diagonal", "strand_diameter", "strand_edges"):
            table.known(key)
        if len(given) != 1:
            must = "given in one way: value (across), lift, height, points, sides or spacing"
            table.refuse("what", must, " and ".join(given) or None)
            return _NO_SHAPE, None
        if given == ["value"]:
            return _NO_SHAPE, self._length("value", "positive", "opening")
        try:
            shape = self._shape(given[0], surface, step)
        except StairguardError as error:
            table.file(Fault(table.name(fault.where), fault.must, fault.got) for fault in error.faults)
            return _NO_SHAPE, None
        if shape.opened is None:
            return shape, None
        return shape, Measurement("sphere", Fraction(shape.opened.sphere), Fraction(0))

    def _shape(self, form: str, surface: int | None, step: int | None) -> _Shape:
        table = self.table
        terms = opening_arguments.Given(tape="none", unit=table.unit)
        strand = self._pair("strand_diameter", "nonnegative") if table.has("strand_diameter") else None
        numbers = table.given("strand_edges") if table.has("strand_edges") else None
        if form == "lift":
            sizes = self._step(surface, step)
            open_riser = bool(getattr(self._flight(surface), "open_risers", False))
            offset = self._offset()
            sizes["lift"] = self._pair("lift", "nonnegative" if offset is None else "any")
            if offset is not None:
                sizes |= {"offset": offset, "strand_diameter": self._thick(strand)}
            return _Shape(answer_opening(opening_arguments.read_step(sizes, open_riser, terms)))
        if form == "height":
            if not table.has("offset") and self.beside.offset is None:
                must = "stated with a height: how far out from the edge the strand stands, level; 0 where plumb over it"
                table.refuse("offset", must, None)
            out = self._offset() or 0
            edge = opening_arguments.read_edge(self._pair("height", "any"), out, self._thick(strand), terms)
            return _Shape(answer_opening(edge))
        if form == "spacing":
            strands = opening_arguments.read_strands(self._pair("spacing", "positive"), strand, terms)
            return _Shape(answer_opening(strands))
        edges = None if numbers is None else ",".join(map(str, numbers)) if isinstance(numbers, list) else numbers
        if form == "points":
            outline = opening_arguments.read_outline(self._corners(), strand, edges, terms)
        else:
            sides = [self._cell(side) for side in table.items("sides", "a list of three or four lengths")]
            diagonal = self._pair("diagonal", "positive") if table.has("diagonal") else None
            outline = opening_arguments.read_sides(sides, diagonal, strand, edges, terms)
        opened = answer_opening(outline)
        chosen = frozenset(k for k, edge in enumerate(opened.outline.sides, 1) if edge.radius)
        return _Shape(opened, opened.points, chosen)

    def _offset(self) -> object:
        """How far out from the stair's side its strand was measured, or the file has them stand; None: in its plane."""
        if self.table.has("offset"):
            return self._pair("offset", "nonnegative")
        if self.beside.offset is None:
            return None
        offset = self._cell(self.beside.offset, "post.offset", "nonnegative")
        return offset if isinstance(offset, tuple) and offset[0] else None

    def _thick(self, strand: object) -> object:
        """The strand's diameter: its own, or the file's."""
        if strand is not None or self.beside.diameter is None:
            return strand
        return self._cell(self.beside.diameter, "strand.diameter", "positive")

    def _corners(self) -> list[list[object]]:
        """Corner points, each two lengths with their +-, or three."""
        corners = []
        for number, pair in enumerate(self.table.items("points", "a list of [x, z] pairs"), start=1):
            if not isinstance(pair, list) or len(pair) not in (2, 3):
                raise InputError(Fault(f"points[{number}]", "a pair [x, z], or [x, z, y]", pair))
            corners.append([self._cell(value, f"points[{number}]") for value in pair])
        return corners

    def _pair(self, key: str, sign: Sign) -> object:
        return self._cell(self.table.given(key), key, sign)

    def _cell(self, value: object, where: str = "points", sign: Sign = "any") -> object:
        """A length as the pair of itself and its +-, so that the file's stands in where it has none of its own."""
        read = read_measured(value, self.table.unit, where=where, sign=sign)
        return read.value, self.plus_minus if read.plus_minus is None else read.plus_minus

    def _flight(self, surface: int | None) -> Flight | MeasuredFlight | None:
        found = self.surfaces[surface] if surface is not None and surface < len(self.surfaces) else None
        return found if isinstance(found, (Flight, MeasuredFlight)) else None

    def _step(self, surface: int | None, step: int | None) -> dict[str, object]:
        """Rise, run, nosing and tread of the step: the row's own, else the flight's."""
        flight = self._flight(surface)
        sizes: dict[str, object] = {}
        if flight is not None:
            sizes = {"nosing": self._own(flight.nosing), "tread": self._own(flight.tread)}
        if isinstance(flight, Flight):
            sizes |= {"rise": self._own(flight.rise), "run": self._own(flight.run)}
        elif flight is not None and step is not None and step < len(flight.nosings):
            (placed,) = place((flight,)).surfaces
            # each is a difference of two figures
            sizes |= {"rise": self._own(rises(placed)[step], 2), "run": self._own(runs(placed)[step - 1], 2)}
        sizes |= {key: self._pair(key, _SIGNS[key]) for key in _STEP if self.table.has(key)}
        missing = [key for key in ("rise", "run") if key not in sizes]
        if missing:
            must = "given, or surface and step those of a flight that says"
            raise InputError(*(Fault(key, must, "") for key in missing))
        return sizes

    def _own(self, length: Fraction, figures: int = 1) -> tuple[Fraction, Fraction]:
        return length, self.plus_minus * Fraction(sqrt(figures))
