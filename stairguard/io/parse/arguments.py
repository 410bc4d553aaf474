"""Questions read: lengths, angles and words from a caller or a command line, every fault at once."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import TYPE_CHECKING, Final, TypeAlias

from stairguard.errors import Fault, InputError, LengthError
from stairguard.io.parse import numbers
from stairguard.io.parse.exact_lengths import Sign, parse_length
from stairguard.io.parse.quantities import parse_angle, parse_force
from stairguard.model.asked.rail_transition import End, TransitionQuestion
from stairguard.model.published.known_figure import force_unit

if TYPE_CHECKING:  # the whole job's classes come with it
    from stairguard.model.job import Unit

Lengths: TypeAlias = dict[str, Fraction]

_TRANSITION: Final[dict[str, Sign]] = {
    "rise": "positive",
    "run": "positive",
    "flight_height": "positive",
    "landing_height": "positive",
    "post_at": "any",
}
_OPTIONAL: Final = ("post_at",)


def read_unit(value: object) -> Unit:
    """Read the unit in force; InputError for another than ``"in"`` or ``"mm"``."""
    if value == "in":
        return "in"
    if value == "mm":
        return "mm"
    raise InputError(Fault("unit", '"in" or "mm"', numbers.shown(value)))


def read_transition(given: Mapping[str, object], at: object, unit: object) -> TransitionQuestion:
    """Read lengths (``rise, run, flight_height, landing_height``, ``post_at`` if given), end and unit.

    Raises
    ------
    InputError
        One fault for every length that is none or not positive, and for another end than top or bottom.
    """
    of, lengths, faults = _lengths(given, _TRANSITION, unit)
    end: End | None = "top" if at == "top" else "bottom" if at == "bottom" else None
    if end is None:
        faults.append(Fault("at", '"top" or "bottom"', numbers.shown(at)))
    if faults or end is None:
        raise InputError(*faults)
    return TransitionQuestion(unit=of, at=end, **lengths)


def read_known(given: Mapping[str, object], kinds: Mapping[str, str], unit: Unit) -> Lengths:
    """Read values for a relation's symbols, each as its kind (length, angle or number) asks.

    A number for a symbol that the relation does not have is left for the relation to refuse.

    Raises
    ------
    InputError
        One fault for every value that cannot be read.
    """
    values: Lengths = {}
    faults: list[Fault] = []
    for key, value in given.items():
        try:
            values[key] = _known(value, kinds.get(key, "number"), unit, key)
        except LengthError as error:
            symbols = f"a symbol of the formula: {', '.join(kinds)}"
            faults += error.faults if key in kinds else [Fault(key, symbols, numbers.shown(value))]
    if faults:
        raise InputError(*faults)
    return values


def _known(value: object, kind: str, unit: Unit, where: str) -> Fraction:
    if kind == "length":
        return parse_length(value, unit, where=where)
    if kind == "angle":
        return parse_angle(value, where=where)
    if kind == "force":
        return parse_force(value, force_unit(unit), where=where)
    number = numbers.from_text(numbers.plain(value) or "") if isinstance(value, str) else numbers.from_number(value)
    if number is not None:
        return number
    raise LengthError(Fault(where, "a number", numbers.shown(value)))


def _lengths(given: Mapping[str, object], keys: Mapping[str, Sign], unit: object) -> tuple[Unit, Lengths, list[Fault]]:
    """Read what can be read; inches stand in for a unit that is none."""
    lengths: Lengths = {}
    faults: list[Fault] = []
    try:
        of = read_unit(unit)
    except InputError as error:
        faults += error.faults
        of = "in"
    for key, sign in keys.items():
        value = given.get(key)
        if value is None and key in _OPTIONAL:
            continue
        try:
            lengths[key] = parse_length(value, of, where=key, sign=sign)
        except LengthError as error:
            faults += error.faults
    return of, lengths, faults
