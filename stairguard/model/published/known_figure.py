"""A figure from outside: value, unit, how it is known and where it is from; and the units such figures come in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

from stairguard.errors import Fault, InputError, nearest

if TYPE_CHECKING:  # the whole job's classes come with it
    from stairguard.model.job import Unit

ForceUnit: TypeAlias = Literal["lbf", "N"]
FigureStatus: TypeAlias = Literal["read", "secondary", "from memory", "derived", "assumed", "given"]
"""``secondary`` was read in a page that quotes the source; ``given`` is the user's own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One figure: its ``value``, the ``unit`` as text, how it is known, its ``source``, and ``what`` it is.

    Behind a semicolon a source has the address where it was read.
    ``low`` and ``high`` are the bounds it is known to lie between, where the source has them; the ``value`` is then
    one of them or their middle.
    """

    value: Fraction
    unit: str
    status: FigureStatus
    source: str
    what: str = ""
    low: Fraction | None = None
    high: Fraction | None = None

    @property
    def cited(self) -> str:
        """The source without its address."""
        return self.source.partition(";")[0]

    @property
    def least(self) -> Fraction:
        """The lower bound, or the value where none is known."""
        return self.value if self.low is None else self.low

    @property
    def most(self) -> Fraction:
        """The upper bound, or the value where none is known."""
        return self.value if self.high is None else self.high


# Exact by definition: the international inch and avoirdupois pound of 1959, the standard gravity of 1901.
MM_PER_INCH: Final = Fraction("25.4")
MM_PER_UNIT: Final[dict[Unit, Fraction]] = {"in": MM_PER_INCH, "mm": Fraction(1)}
KG_PER_LB: Final = Fraction("0.45359237")
GRAVITY: Final = Fraction("9.80665")
"""Standard gravity, m/s2: newtons that one kilogram weighs."""
NEWTONS_PER_LBF: Final = KG_PER_LB * GRAVITY
NEWTONS_PER_FORCE: Final[dict[Unit, Fraction]] = {"in": NEWTONS_PER_LBF, "mm": Fraction(1)}
"""By the job's unit: newtons in the unit of force that goes with it, lbf or N."""
FORCE_PER_MASS: Final[dict[Unit, Fraction]] = {"in": Fraction(1), "mm": GRAVITY}
"""By the job's unit: what a pound or a kilogram weighs; a pound weighs a pound's force by definition."""


def force_unit(unit: Unit) -> ForceUnit:
    """Give the unit of force that goes with a unit of length."""
    return "lbf" if unit == "in" else "N"


def kind_unit(kind: Literal["length", "angle", "force", "number"], unit: Unit) -> str:
    """Give the unit of a quantity of some kind, with a unit of length; "" of a plain number."""
    return {"length": unit, "angle": "deg", "force": force_unit(unit), "number": ""}[kind]


def one_of(where: str, got: object, known: Sequence[str]) -> InputError:
    """Say which words there are, and the one most like what was got."""
    return InputError(Fault(where, f'one of {", ".join(known)} (the nearest is "{nearest(str(got), known)}")', got))
