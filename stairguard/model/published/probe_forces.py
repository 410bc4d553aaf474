"""The forces that publications push a probe with. None of them is the law everywhere: each is a choice to be named."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType
from typing import Final, Literal, TypeAlias

from stairguard.model.job import ProbeKind, Unit
from stairguard.model.published.figure_file import figure, table
from stairguard.model.published.known_figure import MM_PER_INCH, MM_PER_UNIT, NEWTONS_PER_FORCE, Figure, one_of

Standing: TypeAlias = Literal["in force", "proposed"]
"""Whether the publication was adopted: ``proposed`` where that was not seen."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedPush:
    """A force that a publication names, and what it is applied with.

    ``force`` is in lbf or N, ``sphere`` the diameter of the sphere, or of the cylinder a cone ends in, in inches or
    millimetres. ``note`` says what is not in those two.
    """

    title: str
    force: Figure
    probe: ProbeKind
    sphere: Figure
    standing: Standing
    note: str

    def newtons(self) -> Fraction:
        """The force in newtons."""
        return self.force.value * NEWTONS_PER_FORCE["in" if self.force.unit == "lbf" else "mm"]

    def force_in(self, unit: Unit) -> Fraction:
        """The force in lbf or N, by the job's unit; exact."""
        return self.newtons() / NEWTONS_PER_FORCE[unit]

    def sphere_in(self, unit: Unit) -> Fraction:
        """The probe's diameter in the job's unit; exact."""
        mm = self.sphere.value * (MM_PER_INCH if self.sphere.unit == "in" else 1)
        return mm / MM_PER_UNIT[unit]


NAMED_PUSHES: Final[Mapping[str, NamedPush]] = MappingProxyType(
    {
        name: NamedPush(**{**told, "force": figure(told["force"]), "sphere": figure(told["sphere"])})
        for name, told in table("push", "pushes").items()
    }
)


def named_push(name: str) -> NamedPush:
    """One of `NAMED_PUSHES`.

    Raises
    ------
    InputError
        No such name.
    """
    if name not in NAMED_PUSHES:
        raise one_of("push", name, tuple(NAMED_PUSHES))
    return NAMED_PUSHES[name]
