"""What Python callers may give of a wrong kind: told as the faults of a file are, not as a TypeError within."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from stairguard.errors import Fault, InputError
from stairguard.io.parse.numbers import shown


def text(value: object, where: str, must: str = "a text") -> str:
    """A text; InputError for anything else."""
    if not isinstance(value, str):
        raise InputError(Fault(where, must, shown(value)))
    return value


def texts(value: object, where: str, must: str = "a list of texts") -> tuple[str, ...]:
    """Texts; InputError for one text alone, whose letters they would be, and for anything else."""
    if isinstance(value, str) or not isinstance(value, Sequence):
        raise InputError(Fault(where, must, shown(value)))
    return tuple(text(one, f"{where} {number}", "a text") for number, one in enumerate(value, 1))


def named(value: object, where: str, must: str = "a dict of values by their names") -> Mapping[str, object]:
    """Values by name; InputError where they are not, or a name is no text."""
    if not isinstance(value, Mapping):
        raise InputError(Fault(where, must, shown(value)))
    return {text(name, where, "named by texts"): one for name, one in value.items()}
