"""What strand is made of, and the stiffness, weight and strength that its construction and material give it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from stairguard.errors import Fault, InputError
from stairguard.model.job import Construction, StrandMaterial, Unit
from stairguard.model.published.constructions import CONSTRUCTIONS, ConstructionFigures, Family
from stairguard.model.published.figure_file import figures, table
from stairguard.model.published.known_figure import (
    FORCE_PER_MASS,
    KG_PER_LB,
    MM_PER_INCH,
    MM_PER_UNIT,
    NEWTONS_PER_FORCE,
    NEWTONS_PER_LBF,
    Figure,
    force_unit,
    one_of,
)
from stairguard.relations.printed import scalars


@dataclass(frozen=True, slots=True)
class MaterialFigures:
    """A wire's material: density in g/cm3, expansion in millionths per kelvin, wire strength in N/mm2."""

    family: Family
    density: Figure
    expansion: Figure
    wire_strength: Figure


_FAMILIES: Final[Mapping[StrandMaterial, Family]] = {"316": "stainless", "304": "stainless", "galvanized": "carbon"}


def _materials() -> Iterator[tuple[StrandMaterial, MaterialFigures]]:
    density, expansion = figures(table("strand", "density")), figures(table("strand", "strand_expansion"))
    strength = figures(table("strand", "wire_strength"))
    for name, family in _FAMILIES.items():
        yield name, MaterialFigures(family, density[name], expansion[name], strength[name])


MATERIALS: Final[Mapping[StrandMaterial, MaterialFigures]] = MappingProxyType(dict(_materials()))

_TABLED: Final = {
    (construction, material): figures(told)
    for construction, materials in table("strand", "breaking_force").items()
    for material, told in materials.items()
}
"""Breaking forces that a specification has, by the diameter as a fraction of an inch."""

_FROM_G_PER_CM3: Final[Mapping[Unit, Fraction]] = {
    "mm": Fraction(1, 10**6),
    "in": MM_PER_INCH**3 / 10**6 / KG_PER_LB,
}
_FORCE_PER_AREA: Final[Mapping[Unit, Fraction]] = {"mm": Fraction(1), "in": MM_PER_INCH**2 / NEWTONS_PER_LBF}
"""Of one N/mm2, in the unit of force over the square of that of length."""


@dataclass(frozen=True, slots=True)
class Basis:
    """The figures that each property of a strand rests on."""

    stiffness: tuple[Figure, ...]
    breaking: tuple[Figure, ...]
    weight: tuple[Figure, ...]
    expansion: tuple[Figure, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StrandSteel:
    """A strand as statics needs it, in inches and lbf or millimetres and N, by ``unit``.

    ``area`` is of the wires' metal; ``stiffness`` is EA, a force, with the bounds that the modulus has; ``breaking`` is
    the minimum breaking force; ``weight`` is what one unit of length weighs at standard gravity, a force; ``expansion``
    is the part of its length by which it grows per kelvin. All but the diameter are floats.
    """

    diameter: Fraction
    construction: Construction
    material: StrandMaterial
    unit: Unit
    area: float
    stiffness: float
    stiffness_low: float
    stiffness_high: float
    breaking: float
    weight: float
    expansion: float
    basis: Basis

    @property
    def figures(self) -> tuple[Figure, ...]:
        """Every figure that it rests on, each once."""
        basis = self.basis
        return tuple(dict.fromkeys((*basis.stiffness, *basis.breaking, *basis.weight, *basis.expansion)))

    @property
    def remembered(self) -> tuple[str, ...]:
        """What of them is from memory, each once."""
        return tuple(dict.fromkeys(figure.what for figure in self.figures if figure.status == "from memory"))


def strand_steel(
    construction: Construction | str, material: StrandMaterial | str, diameter: Fraction, unit: Unit
) -> StrandSteel:
    """Stiffness, strength, weight and expansion of a strand from its construction, material and nominal diameter.

    Parameters
    ----------
    construction : ``"1x19"``, ``"7x7"`` or ``"7x19"``
    material : ``"316"``, ``"304"`` or ``"galvanized"``
    diameter : over the outer wires, in ``unit``
    unit : the job's; forces are lbf with ``"in"``, N with ``"mm"``

    Raises
    ------
    InputError
        No such construction or material, or a diameter that is not more than zero: a fault for the first of them.

    Notes
    -----
    Area and mass by the relations ``strand-area`` and ``strand-mass``; EA is the modulus times that area. Real
    strand is a little thicker than nominal, so it is somewhat heavier than this.
    """
    construction, make = _construction(construction)
    material, metal = _material(material)
    breaking, strength = breaking_force(construction, material, diameter, unit)
    area = scalars.strand_area(float(diameter), float(make.fill.value))
    modulus = make.modulus[metal.family]
    per_gpa = area * float(_FORCE_PER_AREA[unit] * 1000)
    mass = scalars.strand_mass(area, float(density(metal.density, unit)), float(make.lay_take_up.value))
    return StrandSteel(
        diameter=diameter,
        construction=construction,
        material=material,
        unit=unit,
        area=area,
        stiffness=float(modulus.value) * per_gpa,
        stiffness_low=float(modulus.least) * per_gpa,
        stiffness_high=float(modulus.most) * per_gpa,
        breaking=float(breaking),
        weight=mass * float(FORCE_PER_MASS[unit]),
        expansion=float(metal.expansion.value / 10**6),
        basis=Basis((make.fill, modulus), strength, (make.fill, make.lay_take_up, metal.density), (metal.expansion,)),
    )


def breaking_force(
    construction: Construction | str, material: StrandMaterial | str, diameter: Fraction, unit: Unit
) -> tuple[Fraction, tuple[Figure, ...]]:
    """Minimum breaking force of a strand, lbf or N by ``unit``, and the figures it rests on.

    A specification's own figure where there is one for that diameter, else d^2 R K (EN 12385), with d in mm.

    Raises
    ------
    InputError
        As `strand_steel`.
    """
    _, make = _construction(construction)
    _, metal = _material(material)
    if not diameter > 0:
        raise InputError(Fault("diameter", "more than zero", diameter))
    mm = diameter * MM_PER_UNIT[unit]
    tabled = _TABLED.get((construction, material), {}).get(str(mm / MM_PER_INCH))
    if tabled is not None:
        return tabled.value * NEWTONS_PER_LBF / NEWTONS_PER_FORCE[unit], (tabled,)
    newtons = mm**2 * metal.wire_strength.value * make.factor.value
    return newtons / NEWTONS_PER_FORCE[unit], (metal.wire_strength, make.factor)


def with_given(
    steel: StrandSteel,
    *,
    stiffness: Fraction | None = None,
    breaking: Fraction | None = None,
    weight: Fraction | None = None,
    expansion: Fraction | None = None,
) -> StrandSteel:
    """A strand with the user's own figures in place of those that are not None, in the units of `StrandSteel`.

    The stiffness then has no bounds of its own, and the basis of each says that it was given.
    """
    force = force_unit(steel.unit)
    if stiffness is not None:
        ea = float(stiffness)
        basis = replace(steel.basis, stiffness=(_given(stiffness, force, "stiffness EA of the strand"),))
        steel = replace(steel, stiffness=ea, stiffness_low=ea, stiffness_high=ea, basis=basis)
    if breaking is not None:
        basis = replace(steel.basis, breaking=(_given(breaking, force, "breaking force of the strand"),))
        steel = replace(steel, breaking=float(breaking), basis=basis)
    if weight is not None:
        basis = replace(steel.basis, weight=(_given(weight, f"{force}/{steel.unit}", "weight of the strand"),))
        steel = replace(steel, weight=float(weight), basis=basis)
    if expansion is not None:
        basis = replace(steel.basis, expansion=(_given(expansion, "1/K", "thermal expansion of the strand"),))
        steel = replace(steel, expansion=float(expansion), basis=basis)
    return steel


def density(figure: Figure, unit: Unit) -> Fraction:
    """Return a density kept in g/cm3 as pounds a cubic inch or kilograms a cubic millimetre, by the job's unit."""
    return figure.value * _FROM_G_PER_CM3[unit]


def _construction(name: str) -> tuple[Construction, ConstructionFigures]:
    for known, made in CONSTRUCTIONS.items():
        if known == name:
            return known, made
    raise one_of("construction", name, tuple(CONSTRUCTIONS))


def _material(name: str) -> tuple[StrandMaterial, MaterialFigures]:
    for known, metal in MATERIALS.items():
        if known == name:
            return known, metal
    raise one_of("material", name, tuple(MATERIALS))


def _given(value: Fraction, unit: str, what: str) -> Figure:
    return Figure(value=value, unit=unit, status="given", source="the job's own figure", what=what)
