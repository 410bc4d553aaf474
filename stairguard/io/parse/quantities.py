"""Angles, forces and temperatures, read exactly as lengths are."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

from stairguard.errors import Fault, LengthError
from stairguard.io.parse import numbers
from stairguard.io.parse.exact_lengths import exact_in
from stairguard.model.published.known_figure import GRAVITY, NEWTONS_PER_FORCE, NEWTONS_PER_LBF

if TYPE_CHECKING:  # the whole job's classes come with it
    from stairguard.model.job import Unit
    from stairguard.model.published.known_figure import ForceUnit

TemperatureUnit: TypeAlias = Literal["degF", "degC"]

_NEWTONS: Final = {"lbf": NEWTONS_PER_LBF, "N": Fraction(1)}
_WEIGHT: Final = {"lb": NEWTONS_PER_LBF, "kg": GRAVITY}
"""Newtons, exact: at standard gravity."""

_PINT_FORCE: Final = {"lbf": "force_pound", "N": "newton"}
_PINT_TEMPERATURE: Final = {"degF": "degree_Fahrenheit", "degC": "degree_Celsius"}
_TEMPERATURE: Final = {
    "degF": "degF", "°F": "degF", "F": "degF", "degC": "degC", "°C": "degC", "C": "degC",
}  # fmt: skip


def parse_angle(value: object, *, where: str = "angle") -> Fraction:
    """Read an angle.

    Parameters
    ----------
    value
        Text (``32.5``, ``32-1/2 deg``, ``32.5°``), a number of degrees or a pint quantity.
    where
        The argument to name when the value is refused.

    Returns
    -------
    Fraction
        Degrees, exact.

    Raises
    ------
    LengthError
        No angle, or more than a full turn.

    Examples
    --------
    >>> parse_angle("32-1/2°")
    Fraction(65, 2)
    """
    found = _split(value, ("°", "degrees", "deg", ""), "degree")
    if found is None or abs(found[0]) > 360:
        raise LengthError(Fault(where, "an angle in degrees, no more than a full turn", numbers.shown(value)))
    return found[0]


def parse_force(value: object, unit: ForceUnit, *, where: str = "force") -> Fraction:
    """Read a force.

    Parameters
    ----------
    value
        Text (``200 lbf``, ``890 N``), a number in ``unit`` or a pint quantity; not negative.
    unit
        ``"lbf"`` or ``"N"``, of a bare number and of the answer.
    where
        The argument to name when the value is refused.

    Returns
    -------
    Fraction
        In ``unit``, exact.

    Raises
    ------
    LengthError
        No force, or a negative one; or another unit.

    Examples
    --------
    >>> parse_force("4448.2216152605 N", "lbf")
    Fraction(1000, 1)
    """
    if unit not in ("lbf", "N"):
        raise LengthError(Fault("unit", '"lbf" or "N"', numbers.shown(unit)))
    found = _split(value, ("lbf", "N", ""), _PINT_FORCE[unit])
    if found is None or found[0] < 0:
        raise LengthError(Fault(where, "a force such as 200 lbf or 890 N, not negative", numbers.shown(value)))
    force = found[0] * _NEWTONS[found[1] or unit] / _NEWTONS[unit]
    if 0 < force < numbers.SMALLEST:
        raise LengthError(Fault(where, f"zero, or at least {float(numbers.SMALLEST):.0e} {unit}", numbers.shown(value)))
    return force


def bare_temperature(unit: Unit) -> TemperatureUnit:
    """Give the unit of bare temperatures where lengths are in ``unit``."""
    return "degF" if unit == "in" else "degC"


def parse_temperature(
    value: object, unit: TemperatureUnit, *, bare: TemperatureUnit | None = None, where: str = "temperature"
) -> Fraction:
    """Read a temperature.

    Parameters
    ----------
    value
        Text (``68 °F``, ``20 degC``), a number or a pint quantity.
    unit
        ``"degF"`` or ``"degC"``, of the answer.
    bare
        The unit of a bare number; ``unit`` if not given.
    where
        The argument to name when the value is refused.

    Returns
    -------
    Fraction
        In ``unit``, exact.

    Raises
    ------
    LengthError
        No temperature, or one below absolute zero; or another unit.

    Examples
    --------
    >>> parse_temperature("20 degC", "degF")
    Fraction(68, 1)
    """
    for name, one in (("unit", unit), ("bare", bare or unit)):
        if one not in ("degF", "degC"):
            raise LengthError(Fault(name, '"degF" or "degC"', numbers.shown(one)))
    found = _split(value, (*_TEMPERATURE, ""), _PINT_TEMPERATURE[unit])
    if found is not None:
        quantity = hasattr(value, "to") and hasattr(value, "magnitude")
        celsius = _to_celsius(found[0], _TEMPERATURE.get(found[1], unit if quantity else bare or unit))
        if celsius >= Fraction("-273.15"):
            return celsius if unit == "degC" else celsius * 9 / 5 + 32
    must = "a temperature such as 68 °F or 20 °C, not below absolute zero"
    raise LengthError(Fault(where, must, numbers.shown(value)))


def parse_mass(value: object, unit: Unit, *, where: str = "mass") -> Fraction:
    """Read a mass and give its weight as a force in the unit that goes with ``unit``, at standard gravity.

    Text (``2 kg``, ``4.4 lb``), a number (pounds with inches, kilograms with millimetres) or a pint quantity.

    Raises
    ------
    LengthError
        No mass, or none at all.

    Examples
    --------
    >>> float(parse_mass("2 kg", "mm"))
    19.6133
    """
    bare = "lb" if unit == "in" else "kg"
    found = _split(value, ("lb", "kg", ""), {"lb": "pound", "kg": "kilogram"}[bare])
    if found is None or found[0] <= 0:
        raise LengthError(Fault(where, "a mass such as 2 kg or 5 lb, more than zero", numbers.shown(value)))
    mass, word = found
    return mass * _WEIGHT[word or bare] / NEWTONS_PER_FORCE[unit]


def _to_celsius(value: Fraction, unit: str) -> Fraction:
    return value if unit == "degC" else (value - 32) * 5 / 9


def _split(value: object, units: tuple[str, ...], pint_unit: str) -> tuple[Fraction, str] | None:
    """Split a value into number and unit word; no word for numbers and quantities (in ``pint_unit``)."""
    if isinstance(value, str):
        words = "|".join(map(re.escape, units))
        match = re.fullmatch(rf"([+-]?\s*{numbers.NUMBER})\s*({words})", numbers.plain(value) or "", re.ASCII)
        number = numbers.from_text(match[1]) if match else None
        return None if match is None or number is None else (number, match[2])
    quantity = hasattr(value, "to") and hasattr(value, "magnitude")
    number = exact_in(value, pint_unit) if quantity else numbers.from_number(value)
    return None if number is None else (number, "")
