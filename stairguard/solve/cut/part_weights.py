"""What the parts weigh, in pounds where the job is in inches, in kilograms where it is in millimetres."""

from __future__ import annotations

from fractions import Fraction

from stairguard.model.job import Unit
from stairguard.model.published.constructions import CONSTRUCTIONS
from stairguard.model.published.strand_materials import MATERIALS, density
from stairguard.relations.printed import scalars


def strand_weight(diameter: Fraction | float, length: float, unit: Unit) -> float:
    """Weight of 1x19 strand of type 316 steel, its fittings not counted.

    Parameters
    ----------
    diameter, length : of the strand, in the job's unit
    unit : the job's

    Returns
    -------
    float
        Pounds or kilograms. The wires' metal by the relations ``strand-area`` and ``strand-mass``, with the figures of
        `model.published`; real strand is a little thicker than its nominal diameter, so expect a few per cent more.
    """
    made, metal = CONSTRUCTIONS["1x19"], MATERIALS["316"]
    area = scalars.strand_area(float(diameter), float(made.fill.value))
    return length * scalars.strand_mass(area, float(density(metal.density, unit)), float(made.lay_take_up.value))


def weight(of_unit: Fraction | None, length: float) -> float | None:
    """Weight of a length, given that of one unit of it; None where that is not known."""
    return None if of_unit is None else float(of_unit) * length
