"""Over the edge of a landing, deck or ramp, under a strand that stands out from it: the largest sphere, exactly."""

from __future__ import annotations

from fractions import Fraction

from stairguard.geometry.exact.surd import Surd, sqrt


def edge_sphere(height: Fraction, offset: Fraction, strand_diameter: Fraction, slope: Fraction = Fraction(0)) -> Surd:
    """Diameter of the largest sphere, exactly; any one unit. On an edge with a slope ``height`` is plumb."""
    over = max(height, Fraction(0))
    return sqrt(over * over / (1 + slope * slope) + offset * offset) - strand_diameter / 2
