"""Measured lengths: a length with the +- within which the true one lies, read exactly."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from stairguard.errors import Fault, LengthError
from stairguard.io.parse import numbers
from stairguard.io.parse.exact_lengths import parse_length
from stairguard.model.asked.asked_opening import Measurement

if TYPE_CHECKING:
    from stairguard.model.job import Sign, Unit

TAPES: Final = ("us", "eu-1", "eu-2", "eu-3")
DEFAULT_TAPE: Final[dict[Unit, str]] = {"in": "us", "mm": "eu-2"}
"""The tape taken where only some lengths carry a +-."""

_SPLIT: Final = re.compile(r"(?<=\S)\s*(?:±|\+\s*/?\s*[-\u2212\u2013])\s*")
_BARE: Final = re.compile(rf"\s*[+-]?\s*{numbers.NUMBER}\s*", re.ASCII)
_OWN: Final[dict[Unit, re.Pattern[str]]] = {
    "in": re.compile(r".*(?:in|inch|inches|\")\s*", re.IGNORECASE),
    "mm": re.compile(r".*mm\s*", re.IGNORECASE),
}


@dataclass(frozen=True, slots=True)
class Read:
    """A length as given. ``plus_minus`` is None where none was; ``taped`` if a tape's error may stand in for it."""

    name: str
    value: Fraction
    plus_minus: Fraction | None
    taped: bool


def read_measured(
    value: object, unit: Unit, *, where: str, name: str = "", sign: Sign = "any", taped: bool = True
) -> Read:
    """Read a length that may carry a +-: ``7-3/4in +- 1/32in``, ``194 ± 1``, or a pair of lengths.

    Parameters
    ----------
    value : as `parse_length` reads, with ``+-``, ``+/-`` or ``±`` and another after it; or a pair (value, plus minus)
    unit : of bare numbers and of the answer
    where, sign : as for `parse_length`
    name : of the measurement; else ``where``
    taped : whether it is measured with a tape (a strand's diameter is not)

    Raises
    ------
    LengthError
        No length, a negative +-, or a unit on only one of the two, where that leaves the other's in doubt.
    """
    middle, spread = _parts(value)
    if isinstance(middle, str) and isinstance(spread, str):
        _agree(middle, spread, unit, where)
    length = parse_length(middle, unit, where=where, sign=sign)
    plus_minus = None if spread is None else parse_length(spread, unit, where=f"{where}, +-", sign="nonnegative")
    return Read(name or where, length, plus_minus, taped)


def _parts(value: object) -> tuple[object, object]:
    if isinstance(value, tuple) and len(value) == 2:
        return value
    if isinstance(value, str) and len(value) < 200:
        middle, *spread = _SPLIT.split(value, maxsplit=1)
        return middle, spread[0] if spread else None
    return value, None


def _agree(middle: str, spread: str, unit: Unit, where: str) -> None:
    """Refuse a unit on one of the two unless it is the one in force: the other's would be a guess."""
    bare = [_BARE.fullmatch(numbers.plain(text) or "") is not None for text in (middle, spread)]
    told = spread if bare[0] else middle
    if bare[0] != bare[1] and not _OWN[unit].fullmatch(numbers.plain(told) or ""):
        raise LengthError(Fault(where, "with a unit on both sides of +-, or on neither", f"{middle} +- {spread}"))


def measurements(reads: Sequence[Read], tape: str | None, unit: Unit) -> tuple[tuple[Measurement, ...], str, bool]:
    """Give each length its +-: its own, else the tape's, else none.

    Parameters
    ----------
    tape : one of `TAPES`, ``"none"``, or None: the unit's default tape if any length has a +-

    Returns
    -------
    tuple
        The measurements; words on what stood in for a +- not given; whether anything is uncertain or said not to be.

    Raises
    ------
    LengthError
        A length longer than the tape's standard knows.
    """
    given = any(read.plus_minus is not None for read in reads)
    name = tape if tape is not None else DEFAULT_TAPE[unit] if given else "none"
    if name == "none":
        made = tuple(Measurement(r.name, r.value, r.plus_minus or Fraction(0)) for r in reads)
        return made, "Lengths without a +- are taken as exact.", given
    from stairguard.io.parse.tapes import read_tape

    chosen = read_tape(name, unit)
    made_of, faults = [], []
    for read in reads:
        plus_minus = read.plus_minus
        if plus_minus is None:
            plus_minus = chosen.plus_minus(read.value) if read.taped else Fraction(0)
        if plus_minus is None:
            faults.append(
                Fault(read.name, f"within the lengths of {chosen.title}, or with a +- of its own", read.value)
            )
            continue
        made_of.append(Measurement(read.name, read.value, plus_minus))
    if faults:
        raise LengthError(*faults)
    words = (
        f"Lengths without a +- have that of a tape: {chosen.title} ({chosen.status}); {chosen.note}. "
        "Reading the tape and finding the edge add to it: give a +- of your own where they matter."
    )
    if any(not read.taped and read.plus_minus is None for read in reads):
        words += " A strand's diameter without a +- is taken as exact: no tape is held to it."
    return tuple(made_of), words, True
