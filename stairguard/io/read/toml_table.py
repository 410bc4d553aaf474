"""Reading TOML tables key by key: every mistake becomes a fault, none stops the reading."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any, Final

from stairguard.errors import Fault, LengthError, nearest
from stairguard.io.parse.exact_lengths import parse_length
from stairguard.io.parse.numbers import from_number, from_text, plain, shown
from stairguard.io.parse.quantities import (
    bare_temperature,
    parse_angle,
    parse_force,
    parse_mass,
    parse_temperature,
)
from stairguard.io.parse.weights import parse_stiffness, parse_weight
from stairguard.model.job import Sign, Unit
from stairguard.model.published.known_figure import force_unit
from stairguard.model.soundness.job_bounds import BOUNDS, REQUIRED, Bound, FieldKind

_FEW: Final = 6  # of many words to choose from, the nearest is told


def _alike(word: str) -> str:
    return word.strip().replace("_", " ").replace("-", " ")


class Table:
    """One table of a file, read key by key; faults gather in the list its maker gave.

    Every reader gives a stand-in of the right type where it files a fault, so that reading goes on;
    `sound` tells whether what was read may be used. What a key may be is said where it is read, or, of the fields of a
    job's dataclasses, by `stairguard.model.soundness.job_bounds`.
    """

    def __init__(self, content: Mapping[str, object], place: str, unit: Unit, faults: list[Fault]) -> None:
        self._content = content
        self._place = place
        self._faults = faults
        self._before = len(faults)
        self._asked: list[str] = []
        self.unit = unit

    def fields(
        self, kind: type, *, only: Collection[str] = (), but: Collection[str] = (), **defaults: object
    ) -> dict[str, Any]:
        """Read fields of one dataclass of a job, in the order of its bounds: ``only`` some, or all ``but`` some.

        ``defaults`` are in place of the bounds' own.
        """
        names = (name for name in BOUNDS[kind] if name not in but and (not only or name in only))
        return {name: self.field(kind, name, **defaults) for name in names}

    def field(self, kind: type, name: str, **defaults: object) -> Any:  # of the field's own type
        """Read one field of a dataclass of a job, as its bound says."""
        bound = BOUNDS[kind][name]
        key = bound.key or name
        default = defaults.get(name, bound.default)
        if bound.optional and default is REQUIRED and not self.has(key):
            self.known(key)
            return None
        return _READ[bound.kind](self, key, bound, default)

    @property
    def sound(self) -> bool:
        """Whether no fault was filed since this table was opened."""
        return len(self._faults) == self._before

    def name(self, key: str) -> str:
        """Full name of a key, as faults show it."""
        return f"{self._place}.{key}" if self._place else key

    def has(self, key: str) -> bool:
        """Whether the file gives the key."""
        return key in self._content

    def known(self, key: str) -> None:
        """Take note of a key that may be there."""
        self._asked.append(key)

    def forbid(self, key: str, must: str) -> None:
        """Refuse a key that another one rules out."""
        self._asked.append(key)
        if key in self._content:
            self.refuse(key, must, self._content[key])

    def refuse(self, key: str, must: str, got: object) -> None:
        """File a fault; None got is nothing got."""
        self._faults.append(Fault(self.name(key), must, shown(got)))

    def file(self, faults: Iterable[Fault]) -> None:
        """File faults that were found elsewhere."""
        self._faults.extend(faults)

    def file_within(self, faults: Iterable[Fault]) -> None:
        """File faults that name keys of this table."""
        self.file(Fault(self.name(fault.where), fault.must, fault.got) for fault in faults)

    def given(self, key: str) -> object:
        """Value of a key as the file has it, which must be there."""
        return self._content[key]

    def _get(self, key: str, must: str, default: object) -> object:
        """Value of a key, or its default; the missing marker after filing that it is missing."""
        self._asked.append(key)
        if key in self._content:
            return self._content[key]
        if default is REQUIRED:
            self.refuse(key, must, None)
        return default

    def length(self, key: str, sign: Sign = "positive", default: object = REQUIRED) -> Fraction:
        """Read a length in the job's unit; more than zero where nothing else is said."""
        value = self._get(key, "a length", default)
        if value is REQUIRED:
            return Fraction(1)
        return self.as_length(value, self.name(key), sign)

    def length_if_given(self, key: str, sign: Sign = "positive") -> Fraction | None:
        """Read a length that need not be there."""
        if self.has(key):
            return self.length(key, sign)
        self._asked.append(key)
        return None

    def _lengths(self, key: str, bound: Bound) -> tuple[Fraction, ...]:
        """Read a list of lengths that need not be there; an empty one may be."""
        what = f"a list of at most {bound.most:,} lengths"
        values = self.items(key, what, default=())
        if len(values) > bound.most:
            self.refuse(key, what, len(values))
            return ()
        numbered = enumerate(values, start=1)
        return tuple(self.as_length(value, self.name(f"{key}[{number}]"), bound.sign) for number, value in numbered)

    def _if_given(self, key: str, parse: Callable[..., Fraction], *args: object) -> Fraction | None:
        self._asked.append(key)
        if not self.has(key):
            return None
        try:
            return parse(self._content[key], *args, where=self.name(key))
        except LengthError as error:
            self._faults.extend(error.faults)
            return None

    def _weight(self, key: str) -> Fraction | None:
        """Read the weight of a unit of length, in pounds or kilograms."""
        return self._if_given(key, parse_weight, self.unit)

    def as_length(self, value: object, where: str, sign: Sign) -> Fraction:
        """Read a value that is already in hand as a length."""
        try:
            return parse_length(value, self.unit, where=where, sign=sign)
        except LengthError as error:
            self._faults.extend(error.faults)
            return Fraction(1)

    def _angle(self, key: str, bound: Bound, default: object) -> float:
        """Read an angle, degrees."""
        value = self._get(key, "an angle", default)
        try:
            angle = parse_angle(value, where=self.name(key))
        except LengthError as error:
            self._faults.extend(error.faults)
            return 0.0
        most = bound.most
        if abs(angle) > most or (bound.sign == "positive" and angle <= 0):
            bounds = f"from -{most} to {most}" if bound.sign == "any" else f"more than 0 and no more than {most}"
            self.refuse(key, f"an angle in degrees, {bounds}", value)
        return float(angle)

    def force(self, key: str, bound: Bound) -> Fraction | None:
        """Read a force."""
        force = self._if_given(key, parse_force, force_unit(self.unit))
        if force == 0 and bound.sign == "positive":
            self.refuse(key, "a force of more than zero", self._content[key])
            return None
        return self._at_most(key, force, bound, force_unit(self.unit))

    def _stiffness(self, key: str, bound: Bound) -> Fraction | None:
        """Read a force on one unit of length."""
        stiffness = self._if_given(key, parse_stiffness, self.unit)
        return self._at_most(key, stiffness, bound, f"{force_unit(self.unit)}/{self.unit}")

    def _at_most(self, key: str, value: Fraction | None, bound: Bound, unit: str) -> Fraction | None:
        if value is None or value <= bound.most:
            return value
        self.refuse(key, f"no more than {bound.most:,} {unit}", self._content[key])
        return None

    def mass_if_given(self, key: str) -> Fraction | None:
        """Read a mass that need not be there, as the force it weighs."""
        return self._if_given(key, parse_mass, self.unit)

    def _temperature(self, key: str, bound: Bound, default: Any) -> Fraction:
        """Read a temperature as degrees Celsius, as ``default`` is; a bare number is Fahrenheit in an inch job."""
        if default is not REQUIRED and not self.has(key):
            self._asked.append(key)
            return Fraction(default)
        value = self._get(key, "a temperature such as 68 °F or 20 °C", REQUIRED)
        if value is REQUIRED:
            return Fraction(0)
        try:
            degrees = parse_temperature(value, "degC", bare=bare_temperature(self.unit), where=self.name(key))
        except LengthError as error:
            self._faults.extend(error.faults)
            return Fraction(0)
        return self._at_most(key, degrees, bound, "°C") or Fraction(0)

    def number(self, key: str, least: Fraction | int, most: Fraction | int, default: object = REQUIRED) -> Fraction:
        """Read a plain number."""
        must = f"a number from {float(least):.6g} to {float(most):.6g}"
        value = self._get(key, must, default)
        if value is REQUIRED:
            return Fraction(least)
        number = from_text(plain(value) or "") if isinstance(value, str) else from_number(value)
        if number is None or not least <= number <= most:
            self.refuse(key, must, value)
            return Fraction(least)
        return number

    def whole(self, key: str, least: Fraction | int, most: Fraction | int, default: object = REQUIRED) -> int:
        """Read a whole number."""
        must = f"a whole number from {least:,} to {most:,}"
        value = self._get(key, must, default)
        if value is REQUIRED:
            return int(least)
        number = from_number(value)
        if number is None or number.denominator != 1 or not least <= number <= most:
            self.refuse(key, must, value)
            return int(least)
        return int(number)

    def whole_if_given(self, key: str, least: int, most: int) -> int | None:
        """Read a whole number that need not be there."""
        if self.has(key):
            return self.whole(key, least, most)
        self._asked.append(key)
        return None

    def text(self, key: str, longest: Fraction | int, default: object = REQUIRED, must: str | None = None) -> str:
        """Read text; where ``must`` says what it has to be, some must be there."""
        what = must or f"text of at most {longest} characters"
        value = self._get(key, what, default)
        if isinstance(value, str) and len(value) <= longest and (value or must is None):
            return value
        if value is not REQUIRED:
            self.refuse(key, what, value)
        return ""

    def choice(self, key: str, choices: Sequence[str], default: object = REQUIRED) -> str:
        """Read one of a few words; blanks, hyphens and underscores are alike."""
        must = " or ".join(f'"{choice.replace("-", " ")}"' for choice in choices)
        value = self._get(key, must, default)
        found = {_alike(choice): choice for choice in choices}.get(_alike(value)) if isinstance(value, str) else None
        if found is not None:
            return found
        if value is not REQUIRED:
            near = (
                f' (the nearest is "{nearest(value, choices)}")'
                if isinstance(value, str) and len(choices) > _FEW
                else ""
            )
            self.refuse(key, must + near, value)
        return choices[0]

    def flag(self, key: str, default: bool = False) -> bool:
        """Read true or false."""
        value = self._get(key, "true or false", default)
        if isinstance(value, bool):
            return value
        self.refuse(key, "true or false", value)
        return default

    def table(self, key: str, optional: bool = False) -> Table:
        """Open a table within this one; an empty one stands in for what is no table."""
        value = self._get(key, f"a table [{self.name(key)}]", {} if optional else REQUIRED)
        if not isinstance(value, dict):
            if value is not REQUIRED:
                self.refuse(key, f"a table [{self.name(key)}]", value)
            return _Absent({}, self.name(key), self.unit, self._faults)
        return Table(value, self.name(key), self.unit, self._faults)

    def _points(self, key: str, bound: Bound) -> tuple[tuple[Fraction, Fraction], ...]:
        """Read a list of pairs of lengths; none where there is a fault."""
        values = self.items(key, "a list of [station, elevation] pairs")
        if self.sound and not bound.least <= len(values) <= bound.most:
            self.refuse(key, f"from {bound.least} to {bound.most:,} pairs", len(values))
        found = []
        for number, pair in enumerate(values if self.sound else (), start=1):
            place = f"{key}[{number}]"
            if isinstance(pair, list) and len(pair) == 2:
                x, z = (self.as_length(value, self.name(place), "any") for value in pair)
                found.append((x, z))
            else:
                self.refuse(place, "a pair [station, elevation]", pair)
        return tuple(found) if self.sound else ()

    def items(self, key: str, what: str, default: object = REQUIRED) -> Sequence[object]:
        """Read a list."""
        value = self._get(key, what, default)
        if isinstance(value, (list, tuple)):
            return value
        if value is not REQUIRED:
            self.refuse(key, what, value)
        return []

    def each(self, key: str, most: Fraction | int) -> Iterator[Table]:
        """Open the tables of an array one by one; places are counted from 1."""
        what = f"from 1 to {most:,} tables [[{key}]]"
        found = self.items(key, what)
        if self.has(key) and isinstance(self._content[key], list) and not 1 <= len(found) <= most:
            self.refuse(key, what, len(found))
            return
        for number, value in enumerate(found, start=1):
            place = f"{key}[{number}]"
            if isinstance(value, dict):
                yield Table(value, self.name(place), self.unit, self._faults)
            else:
                self.refuse(place, f"a table [[{key}]]", value)
                yield _Absent({}, place, self.unit, self._faults)

    def close(self) -> None:
        """File every key that nobody asked for, with the nearest of those asked for."""
        for key in self._content:
            if key not in self._asked:
                near = nearest(key, self._asked)
                self.refuse(key, f'a known key (the nearest is "{near}")', "an unknown one")


class _Absent(Table):
    """Stands in for a table that is not there: one fault says so, its keys need not."""

    @property
    def sound(self) -> bool:
        return False

    def refuse(self, key: str, must: str, got: object) -> None:
        """File nothing."""


_READ: Final[Mapping[FieldKind, Callable[[Table, str, Bound, Any], object]]] = {
    "length": lambda table, key, bound, default: table.length(key, bound.sign, default),
    "lengths": lambda table, key, bound, _: table._lengths(key, bound),
    "points": lambda table, key, bound, _: table._points(key, bound),
    "angle": lambda table, key, bound, default: table._angle(key, bound, default),
    "force": lambda table, key, bound, _: table.force(key, bound),
    "weight": lambda table, key, *_: table._weight(key),
    "stiffness": lambda table, key, bound, _: table._stiffness(key, bound),
    "temperature": lambda table, key, bound, default: table._temperature(key, bound, default),
    "number": lambda table, key, bound, default: table.number(key, bound.least, bound.most, default),
    "percent": lambda table, key, bound, default: table.number(key, 100 * bound.least, 100 * bound.most, default) / 100,
    "whole": lambda table, key, bound, default: table.whole(key, bound.least, bound.most, default),
    "text": lambda table, key, bound, default: table.text(key, bound.most, default) or (None if bound.optional else ""),
    "flag": lambda table, key, _, default: table.flag(key, default is True),
    "choice": lambda table, key, bound, default: table.choice(key, bound.words, default),
}
"""How a field of a job is read, by what stands in it; parts have readers of their own."""
