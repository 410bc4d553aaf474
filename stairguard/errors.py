"""Every error stairguard raises on purpose.

::

    StairguardError
    ├── InputError            what was given is wrong; holds one Fault a mistake
    │   ├── LengthError       a length, angle or force that cannot be read
    │   ├── JobError          a job file: unknown, missing, contradictory, impossible keys
    │   ├── PackError         a rule pack
    │   └── OutlineError      an opening's outline
    ├── GeometryError         the input is sound but no such figure exists
    └── OutputError           results cannot be written where they were asked for

The text of each is built from its fields: where, what it must be, what was got.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

_LONGEST_GOT = 60


@dataclass(frozen=True, slots=True)
class Fault:
    """One mistake: the key, option or place it is in, what must be there, what was found."""

    where: str
    must: str
    got: object

    def __str__(self) -> str:
        got = " ".join(str(self.got).split())
        if len(got) > _LONGEST_GOT:
            got = got[: _LONGEST_GOT - 1] + "…"
        return f"{self.where}: must be {self.must}, got {got or 'nothing'}"


def nearest(word: str, known: Sequence[str]) -> str | None:
    """Find the known word most like a mistyped one, however unlike; None where nothing is known."""
    from difflib import get_close_matches  # only a fault pays for it

    close = get_close_matches(word[:_LONGEST_GOT], known, n=1, cutoff=0.0)
    return close[0] if close else None


class StairguardError(Exception):
    """Base of every error raised on purpose; ``faults`` holds one entry per line to show."""

    def __init__(self, *faults: Fault) -> None:
        self.faults = faults
        super().__init__(*faults)

    def __str__(self) -> str:
        return "\n".join(map(str, self.faults))


class InputError(StairguardError):
    """What was given cannot be used as it stands."""


class LengthError(InputError):
    """A length, angle, force or temperature that cannot be read."""


class JobError(InputError):
    """A job file with unknown, missing, contradictory or impossible keys."""


class PackError(InputError):
    """A rule pack that cannot be found or breaks its schema."""


class OutlineError(InputError):
    """An opening's outline that does not bound a region."""


class GeometryError(StairguardError):
    """The input is sound but no such figure exists."""


class OutputError(StairguardError):
    """Results cannot be written where they were asked for; nothing was written."""
