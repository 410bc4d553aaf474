"""Questions read: lengths, angles and words from a caller or a command line, every fault at once."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import TYPE_CHECKING, TypeAlias

from stairguard.errors import Fault, InputError, LengthError
from stairguard.io.parse import numbers
from stairguard.io.parse.exact_lengths import parse_length
from stairguard.io.parse.quantities import parse_angle, parse_force
from stairguard.model.published.known_figure import force_unit

if TYPE_CHECKING:  # the whole job's classes come with it
    from stairguard.model.job import Unit

NamedLengths: TypeAlias = dict[str, Fraction]


def read_unit(value: object) -> Unit:
    """Read the unit in force; InputError for another than ``"in"`` or ``"mm"``."""
    if value == "in":
        return "in"
    if value == "mm":
        return "mm"
    raise InputError(Fault("unit", '"in" or "mm"', numbers.shown(value)))


def read_known(given: Mapping[str, object], kinds: Mapping[str, str], unit: Unit) -> NamedLengths:
    """Read values for a relation's symbols, each as its kind (length, angle or number) asks.

    A number for a symbol that the relation does not have is left for the relation to refuse.

    Raises
    ------
    InputError
        One fault for every value that cannot be read.
    """
    values: NamedLengths = {}
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
