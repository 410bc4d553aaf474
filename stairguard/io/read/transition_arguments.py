"""A question about the meeting of two rails read: lengths and words from a caller, every fault at once."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Final

from stairguard.errors import Fault, InputError, LengthError
from stairguard.io.parse import numbers
from stairguard.io.parse.arguments import read_unit
from stairguard.io.parse.exact_lengths import parse_length
from stairguard.model.asked.rail_transition import FlightEnd, TransitionQuestion

if TYPE_CHECKING:  # the whole job's classes come with it
    from stairguard.io.parse.arguments import NamedLengths
    from stairguard.model.job import Sign, Unit

_TRANSITION: Final[dict[str, Sign]] = {
    "rise": "positive",
    "run": "positive",
    "flight_height": "positive",
    "landing_height": "positive",
    "post_at": "any",
}
_OPTIONAL: Final = ("post_at",)


def read_transition(given: Mapping[str, object], at: object, unit: object) -> TransitionQuestion:
    """Read lengths (``rise, run, flight_height, landing_height``, ``post_at`` if given), end and unit.

    Raises
    ------
    InputError
        One fault for every length that is none or not positive, and for another end than top or bottom.
    """
    of, lengths, faults = _lengths(given, _TRANSITION, unit)
    end: FlightEnd | None = "top" if at == "top" else "bottom" if at == "bottom" else None
    if end is None:
        faults.append(Fault("at", '"top" or "bottom"', numbers.shown(at)))
    if faults or end is None:
        raise InputError(*faults)
    return TransitionQuestion(unit=of, at=end, **lengths)


def _lengths(
    given: Mapping[str, object], keys: Mapping[str, Sign], unit: object
) -> tuple[Unit, NamedLengths, list[Fault]]:
    """Read what can be read; inches stand in for a unit that is none."""
    lengths: NamedLengths = {}
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
