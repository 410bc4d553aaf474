"""How strand is laid up from wires: the figures of each construction, strands by wires."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType
from typing import Final, Literal, TypeAlias

from stairguard.model.job import Construction
from stairguard.model.published.known_figure import Figure

Family: TypeAlias = Literal["stainless", "carbon"]
"""Of wire: what the modulus depends on."""

FILL_1X19: Final = Figure(
    value=Fraction(19, 25),
    unit="",
    status="derived",
    source="19 equal round wires, five across the strand: 19 circles a fifth as wide as its own",
    what="fill of 1x19",
)
"""Part of the circle over a 1x19 strand's wires that is metal."""

_FILL_7X7: Final = Figure(
    value=Fraction(49, 81),
    unit="",
    status="derived",
    source="49 equal round wires, three across each of seven strands, three strands across: nine across the rope",
    what="fill of 7x7",
)
_FILL_7X19: Final = Figure(
    value=Fraction(133, 225),
    unit="",
    status="derived",
    source="133 equal round wires, five across each of seven strands, three strands across: fifteen across the rope",
    what="fill of 7x19",
)

LAY_TAKE_UP_1X19: Final = Figure(
    value=Fraction(3, 100),
    unit="",
    status="assumed",
    source="geometry of the wires' helices gives 2.2 % for a lay of 10 diameters, 3.4 % for 8; between them",
    what="lay take-up of 1x19",
)
"""How much longer a 1x19 strand's wires are than the strand, as a part of it."""

_TWICE_LAID: Final = (
    "geometry of helices twice over, strands in the rope and wires in the strand, gives 3.8 % (7x7) and 4.1 % (7x19) "
    "for lays of 10 diameters, 5.9 and 6.4 % for 8; between them"
)


def _twice_laid(name: Construction) -> Figure:
    return Figure(value=Fraction(5, 100), unit="", status="assumed", source=_TWICE_LAID, what=f"lay take-up of {name}")


_EN_1993: Final = (
    "EN 1993-1-11:2006, Table 3.1, on metallic area; written for diameters from 5 mm; check before relying on it"
)
_EN_12385: Final = "minimum breaking force factor of EN 12385, as remembered; check before relying on it"
_MEMORY_STRETCH: Final = "rule of thumb, as remembered; check before relying on it"


def _modulus(name: Construction, family: Family, gpa: int) -> Figure:
    what = f"effective modulus of {name}, {family} wire"
    return Figure(
        value=Fraction(gpa),
        unit="GPa",
        status="from memory",
        source=_EN_1993,
        what=what,
        low=Fraction(gpa - 10),
        high=Fraction(gpa + 10),
    )


def _settling(name: Construction, low: str, high: str) -> Figure:
    least, most = Fraction(low), Fraction(high)
    return Figure(
        value=(least + most) / 2,
        unit="",
        status="from memory",
        source=_MEMORY_STRETCH,
        what=f"constructional stretch of {name}",
        low=least,
        high=most,
    )


def _factor(name: Construction, value: str) -> Figure:
    return Figure(
        value=Fraction(value), unit="", status="from memory", source=_EN_12385, what=f"breaking force factor of {name}"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class ConstructionFigures:
    """A construction: strands by wires.

    ``fill`` is the metal's part of the circle over the wires; ``lay_take_up`` how much longer wires are than the
    strand; ``settling`` the part of its length by which it stretches once for all under its first loads; ``factor`` K
    of the breaking force d^2 R K, of a wire strength R; ``modulus`` the effective one on metallic area, by
    family of wire.
    """

    fill: Figure
    lay_take_up: Figure
    settling: Figure
    factor: Figure
    modulus: Mapping[Family, Figure]


def _moduli(name: Construction, stainless: int, carbon: int) -> Mapping[Family, Figure]:
    return MappingProxyType(
        {"stainless": _modulus(name, "stainless", stainless), "carbon": _modulus(name, "carbon", carbon)}
    )


CONSTRUCTIONS: Final[Mapping[Construction, ConstructionFigures]] = MappingProxyType(
    {
        "1x19": ConstructionFigures(
            fill=FILL_1X19,
            lay_take_up=LAY_TAKE_UP_1X19,
            settling=_settling("1x19", "0.001", "0.0025"),
            factor=_factor("1x19", "0.525"),
            modulus=_moduli("1x19", 130, 150),
        ),
        "7x7": ConstructionFigures(
            fill=_FILL_7X7,
            lay_take_up=_twice_laid("7x7"),
            settling=_settling("7x7", "0.00125", "0.005"),
            factor=_factor("7x7", "0.359"),
            modulus=_moduli("7x7", 90, 100),
        ),
        "7x19": ConstructionFigures(
            fill=_FILL_7X19,
            lay_take_up=_twice_laid("7x19"),
            settling=_settling("7x19", "0.00125", "0.005"),
            factor=_factor("7x19", "0.332"),
            modulus=_moduli("7x19", 90, 100),
        ),
    }
)
