"""Reading TOML tables key by key: every mistake becomes a fault, none stops the reading."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any, Final, TypeVar

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
from stairguard.model.soundness.job_bounds import (
    Angle,
    Bound,
    Choice,
    Force,
    FreeText,
    Length,
    Lengths,
    Number,
    Parts,
    Points,
    Stiffness,
    Temperature,
    Whole,
    by_key,
)

_MISSING: Final = object()
_FEW: Final = 6  # of many words to choose from, the nearest is told
_Kind = TypeVar("_Kind", bound=Bound)


def _alike(word: str) -> str:
    return word.strip().replace("_", " ").replace("-", " ")


class Table:
    """One table of a file, read key by key; faults gather in the list its maker gave.

    Every reader gives a stand-in of the right type where it files a fault, so that reading goes on;
    `sound` tells whether what was read may be used. What a key may be is said where it is read, or by `go_by`.
    """

    def __init__(self, content: Mapping[str, object], place: str, unit: Unit, faults: list[Fault]) -> None:
        self._content = content
        self._place = place
        self._faults = faults
        self._before = len(faults)
        self._asked: list[str] = []
        self._bounds: Mapping[str, Bound] = {}
        self.unit = unit

    def go_by(self, kind: type) -> None:
        """Hold the keys to the bounds of one dataclass of a job from here on."""
        self._bounds = by_key(kind)

    def bound(self, key: str, kind: type[_Kind]) -> _Kind:
        """The bound on a key, which has to be of this kind."""
        found = self._bounds[key]
        assert isinstance(found, kind), key
        return found

    def _sign(self, key: str, sign: Sign | None) -> Sign:
        if sign is not None:
            return sign
        return self.bound(key, Length).sign if key in self._bounds else "positive"

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
        if default is _MISSING:
            self.refuse(key, must, None)
        return default

    def length(self, key: str, sign: Sign | None = None, default: object = _MISSING) -> Fraction:
        """Read a length in the job's unit; more than zero where nothing else is said."""
        value = self._get(key, "a length", default)
        if value is _MISSING:
            return Fraction(1)
        return self.as_length(value, self.name(key), self._sign(key, sign))

    def length_if_given(self, key: str, sign: Sign | None = None) -> Fraction | None:
        """Read a length that need not be there."""
        if self.has(key):
            return self.length(key, sign)
        self._asked.append(key)
        return None

    def lengths(self, key: str) -> tuple[Fraction, ...]:
        """Read a list of lengths that need not be there; an empty one may be."""
        bound = self.bound(key, Lengths)
        most, what = bound.most, f"a list of at most {bound.most:,} lengths"
        values = self.items(key, what, default=())
        if len(values) > most:
            self.refuse(key, what, len(values))
            return ()
        numbered = enumerate(values, start=1)
        return tuple(self.as_length(value, self.name(f"{key}[{number}]"), bound.sign) for number, value in numbered)

    def lengths_if_given(self, key: str) -> tuple[Fraction, ...] | None:
        """Read a list of lengths, None where there is none, which is not an empty one."""
        self._asked.append(key)
        return self.lengths(key) if self.has(key) else None

    def _if_given(self, key: str, parse: Callable[..., Fraction], *args: object) -> Fraction | None:
        self._asked.append(key)
        if not self.has(key):
            return None
        try:
            return parse(self._content[key], *args, where=self.name(key))
        except LengthError as error:
            self._faults.extend(error.faults)
            return None

    def weight_if_given(self, key: str) -> Fraction | None:
        """Read the weight of a unit of length that need not be there, in pounds or kilograms."""
        return self._if_given(key, parse_weight, self.unit)

    def as_length(self, value: object, where: str, sign: Sign) -> Fraction:
        """Read a value that is already in hand as a length."""
        try:
            return parse_length(value, self.unit, where=where, sign=sign)
        except LengthError as error:
            self._faults.extend(error.faults)
            return Fraction(1)

    def angle(self, key: str, default: int) -> float:
        """Read an angle, degrees."""
        value = self._get(key, "an angle", default)
        most, sign = self.bound(key, Angle).most, self.bound(key, Angle).sign
        try:
            angle = parse_angle(value, where=self.name(key))
        except LengthError as error:
            self._faults.extend(error.faults)
            return 0.0
        if abs(angle) > most or (sign == "positive" and angle <= 0):
            bounds = f"from -{most} to {most}" if sign == "any" else f"more than 0 and no more than {most}"
            self.refuse(key, f"an angle in degrees, {bounds}", value)
        return float(angle)

    def force_if_given(self, key: str, sign: Sign | None = None) -> Fraction | None:
        """Read a force that need not be there."""
        force, bound = self._if_given(key, parse_force, force_unit(self.unit)), self.bound(key, Force)
        if force == 0 and (sign or bound.sign) == "positive":
            self.refuse(key, "a force of more than zero", self._content[key])
            return None
        return self._at_most(key, force, bound.most, force_unit(self.unit))

    def _at_most(self, key: str, value: Fraction | None, most: int, unit: str) -> Fraction | None:
        if value is None or value <= most:
            return value
        self.refuse(key, f"no more than {most:,} {unit}", self._content[key])
        return None

    def stiffness_if_given(self, key: str) -> Fraction | None:
        """Read a force on one unit of length that need not be there."""
        stiffness = self._if_given(key, parse_stiffness, self.unit)
        return self._at_most(key, stiffness, self.bound(key, Stiffness).most, f"{force_unit(self.unit)}/{self.unit}")

    def mass_if_given(self, key: str) -> Fraction | None:
        """Read a mass that need not be there, as the force it weighs."""
        return self._if_given(key, parse_mass, self.unit)

    def temperature(self, key: str, default: Fraction | None = None) -> Fraction:
        """Read a temperature as degrees Celsius, as ``default`` is; a bare number is Fahrenheit in an inch job."""
        if default is not None and not self.has(key):
            self._asked.append(key)
            return default
        value = self._get(key, "a temperature such as 68 °F or 20 °C", _MISSING)
        if value is _MISSING:
            return Fraction(0)
        try:
            degrees = parse_temperature(value, "degC", bare=bare_temperature(self.unit), where=self.name(key))
        except LengthError as error:
            self._faults.extend(error.faults)
            return Fraction(0)
        return self._at_most(key, degrees, self.bound(key, Temperature).most, "°C") or Fraction(0)

    def percent(self, key: str, default: object = _MISSING) -> Fraction:
        """Read a share of one, given in percent."""
        bound = self.bound(key, Number)
        return self._number(key, 100 * bound.least, 100 * bound.most, default) / 100

    def number(self, key: str, default: object = _MISSING, bound: Number | None = None) -> Fraction:
        """Read a plain number."""
        bound = bound or self.bound(key, Number)
        return self._number(key, bound.least, bound.most, default)

    def _number(self, key: str, least: Fraction, most: Fraction, default: object) -> Fraction:
        must = f"a number from {float(least):.6g} to {float(most):.6g}"
        value = self._get(key, must, default)
        if value is _MISSING:
            return least
        number = from_text(plain(value) or "") if isinstance(value, str) else from_number(value)
        if number is None or not least <= number <= most:
            self.refuse(key, must, value)
            return least
        return number

    def whole(self, key: str, default: object = _MISSING, bound: Whole | None = None) -> int:
        """Read a whole number."""
        bound = bound or self.bound(key, Whole)
        least, most = bound.least, bound.most
        must = f"a whole number from {least:,} to {most:,}"
        value = self._get(key, must, default)
        if value is _MISSING:
            return least
        number = from_number(value)
        if number is None or number.denominator != 1 or not least <= number <= most:
            self.refuse(key, must, value)
            return least
        return int(number)

    def whole_if_given(self, key: str, bound: Whole | None = None) -> int | None:
        """Read a whole number that need not be there."""
        if self.has(key):
            return self.whole(key, bound=bound)
        self._asked.append(key)
        return None

    def text(self, key: str, default: object = _MISSING, must: str | None = None, bound: FreeText | None = None) -> str:
        """Read text; where ``must`` says what it has to be, some must be there."""
        longest = (bound or self.bound(key, FreeText)).longest
        what = must or f"text of at most {longest} characters"
        value = self._get(key, what, default)
        if isinstance(value, str) and len(value) <= longest and (value or must is None):
            return value
        if value is not _MISSING:
            self.refuse(key, what, value)
        return ""

    def word(self, key: str, default: object = _MISSING) -> Any:  # of the field's own literal type
        """Read one of the words that the bound on a key allows."""
        return self.choice(key, self.bound(key, Choice).words, default)

    def choice(self, key: str, choices: Sequence[str], default: object = _MISSING) -> str:
        """Read one of a few words; blanks, hyphens and underscores are alike."""
        must = " or ".join(f'"{choice.replace("-", " ")}"' for choice in choices)
        value = self._get(key, must, default)
        found = {_alike(choice): choice for choice in choices}.get(_alike(value)) if isinstance(value, str) else None
        if found is not None:
            return found
        if value is not _MISSING:
            near = (
                f' (the nearest is "{nearest(value, choices)}")'
                if isinstance(value, str) and len(choices) > _FEW
                else ""
            )
            self.refuse(key, must + near, value)
        return choices[0]

    def flag(self, key: str, default: bool) -> bool:
        """Read true or false."""
        value = self._get(key, "true or false", default)
        if isinstance(value, bool):
            return value
        self.refuse(key, "true or false", value)
        return default

    def flag_if_given(self, key: str) -> bool | None:
        """Read true or false that need not be there."""
        if self.has(key):
            return self.flag(key, default=False)
        self._asked.append(key)
        return None

    def table(self, key: str, optional: bool = False) -> Table:
        """Open a table within this one; an empty one stands in for what is no table."""
        value = self._get(key, f"a table [{self.name(key)}]", {} if optional else _MISSING)
        if not isinstance(value, dict):
            if value is not _MISSING:
                self.refuse(key, f"a table [{self.name(key)}]", value)
            return _Absent({}, self.name(key), self.unit, self._faults)
        return Table(value, self.name(key), self.unit, self._faults)

    def points(self, key: str) -> tuple[tuple[Fraction, Fraction], ...]:
        """Read a list of pairs of lengths; none where there is a fault."""
        bound = self.bound(key, Points)
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

    def items(self, key: str, what: str, default: object = _MISSING) -> Sequence[object]:
        """Read a list."""
        value = self._get(key, what, default)
        if isinstance(value, (list, tuple)):
            return value
        if value is not _MISSING:
            self.refuse(key, what, value)
        return []

    def each(self, key: str, most: int | None = None) -> Iterator[Table]:
        """Open the tables of an array one by one; places are counted from 1."""
        most = self.bound(key, Parts).most if most is None else most
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
