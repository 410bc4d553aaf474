"""Figures of materials, each with where it is from and how surely it is known."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal

from stairguard.model.job import Unit

__all__ = ["DENSITY_316", "FILL_1X19", "LAY_TAKE_UP_1X19", "Figure", "density"]


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure: its ``value``, the ``unit`` as text, how it is known, and its ``source``."""

    value: Fraction
    unit: str
    status: Literal["derived", "read", "from memory", "assumed"]
    source: str


FILL_1X19: Final = Figure(
    Fraction(19, 25),
    "",
    "derived",
    "19 equal round wires, five across the strand: 19 circles a fifth as wide as its own",
)
"""Part of the circle over a 1x19 strand's wires that is metal."""

LAY_TAKE_UP_1X19: Final = Figure(
    Fraction(3, 100), "", "assumed",
    "geometry of the wires' helices gives 2.2 % for a lay of 10 diameters, 3.4 % for 8; between them",
)  # fmt: skip
"""How much longer a 1x19 strand's wires are than the strand, as a part of it."""

DENSITY_316: Final = Figure(
    Fraction(798, 100),
    "g/cm3",
    "from memory",
    "handbook figure of type 316 stainless steel; check before relying on it",
)
"""Density of the strand's wire."""

# Both exact by definition: the international inch, and the avoirdupois pound of 1959.
_CM_PER_INCH: Final = Fraction(254, 100)
_G_PER_POUND: Final = Fraction(45359237, 100000)
_FROM_G_PER_CM3: Final[Mapping[Unit, Fraction]] = {
    "mm": Fraction(1, 10**6),
    "in": _CM_PER_INCH**3 / _G_PER_POUND,
}


def density(figure: Figure, unit: Unit) -> Fraction:
    """Return a density kept in g/cm3 as pounds a cubic inch or kilograms a cubic millimetre, by the job's unit."""
    return figure.value * _FROM_G_PER_CM3[unit]
